"""Which windows come first, and the card: exact constructed cases."""

from __future__ import annotations

import numpy as np

from loftwright.cloth import tucking
from loftwright.cloth.fold_ways import Ways
from loftwright.cloth.trapped_air import Opened
from loftwright.cloth.tucking import Pane

CLEAR = Pane("clear window", "rear wall", 0.3, 0.7, 0.03, True)
FIXED = Pane("fixed window", "left wall", 0.4, 0.6, 0.05, False)
MESH = Pane("mesh", "right wall", 0.3, 0.7, 0.0, True)
HIGH = Pane("high window", "front wall", 0.55, 0.9, 0.02, True)
LOW_MESH = Pane("low mesh", "front wall", 0.1, 0.4, 0.0, True)


def test_one_fold_creases_any_window_in_the_middle() -> None:
    """A gap of 60 mm bends the sheet to 60 / 2.396 = 25 mm."""
    found = tucking.windows_first((MESH, HIGH, LOW_MESH, CLEAR, FIXED), 1, 0.06)
    assert [one.pane.name for one in found] == ["fixed window", "clear window", "high window", "mesh"]
    assert [one.must for one in found] == [True, True, False, False]
    assert "cannot be rolled up" in found[0].why
    assert "creased to 25 mm, least 30 mm: roll it up" in found[1].why


def test_a_higher_gap_spares_the_sheet_and_two_folds_crease_the_high_one() -> None:
    assert not tucking.windows_first((CLEAR,), 1, 0.08)[0].must
    assert tucking.windows_first((HIGH,), 2, 0.04)[0].must


def test_the_card_has_its_steps_in_order() -> None:
    windows = tucking.windows_first((CLEAR,), 1, 0.06)
    opened = Opened("the sliding door", np.array(0.3), np.array(2.0), np.array(True))
    card = tucking.tucking_card(windows, (Ways("mid rear", ()),), opened, 8.0, fan=True, lining_comes_down=True)
    assert len(card) == 9
    assert card[0].startswith("Nobody")
    assert card[1].startswith("Take the insulated lining down")
    assert card[2].startswith("rear wall, clear window")
    assert "the sliding door" in card[3]
    assert "vent" in card[4]
    assert card[5].startswith("mid rear: push the middle")
    assert "8 seconds" in card[6]
    assert all(step.endswith(".") for step in card)


def test_a_plain_card_is_short() -> None:
    assert len(tucking.tucking_card((), (), None, 5.0)) == 4
