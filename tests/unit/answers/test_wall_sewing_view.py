"""Sewing and windows as they are shown: constructed cases, computed here from first principles."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.answers.views import wording
from loftwright.answers.wall_sewing_view import sewing_bill, sewing_section, sewing_steps, trial, work_of
from loftwright.answers.wall_windows_view import windows_section
from loftwright.core.checks import Verdict
from loftwright.core.wording import Wording
from loftwright.reference.sewing import STAPLE_PITCH
from tests.unit.answers.wall_cases import BOUND, FULL, INSULATED, judged

SAY = Wording()


def test_section_tells_every_edge_and_seam() -> None:
    walls, checks = judged(FULL)
    section = sewing_section(walls, checks, SAY)
    assert section.part == "sewing"
    edges, seams, marks = section.grids
    assert ("W1 to W4", "lower edge", "drip hem", "55 mm") in edges.rows
    assert [row[0] for row in seams.rows] == ["S1", "S2", "S3", "S4"]
    assert {row[0] for row in marks.rows} == {"W1", "W2", "W3", "W4"}
    assert {row.id for row in section.rows} == {"SEW-1501"}
    assert not any("crease" in one for one in section.said)


def test_match_marks_are_whole_spacings_from_the_rear_middle() -> None:
    """Mark k stands at k times 300 mm along either line, less its length once round (exact)."""
    walls, checks = judged(FULL)
    marks = sewing_section(walls, checks, SAY).grids[2]
    around = float(walls.found.lines.lower.row(0).perimeter)
    whole = [(int(sign), ring) for _, sign, ring, _shell in marks.rows if sign != "*" and ring != "none"]
    assert len(whole) == 19
    for sign, ring in whole:
        assert ring == SAY.length((0.3 * sign) % around)


def test_bill_counts_staples_and_tape() -> None:
    walls, _ = judged(FULL)
    rows = {row[0]: row[1] for row in sewing_bill(walls, SAY).rows}
    found = walls.found.pieces
    least, most = (
        sum(math.ceil(length / pitch) + 1 for length in (found.lower_edge, found.upper_edge))
        for pitch in (STAPLE_PITCH[1], STAPLE_PITCH[0])
    )
    assert rows["Staples"] == f"{least} to {most}"
    # Zip on three sides: both uprights, the lower side and both lower and upper corners' arcs, and 50 mm of lap.
    w, h, r = 0.56, 0.26, 0.07
    three = 2 * (w + h) - (8 - 2 * math.pi) * r - (w - 2 * r) + 0.05
    other = 2 * (w + h - 0.05) - (8 - 2 * math.pi) * r - (w - 2 * r) + 0.05
    assert rows["Zip for windows"] == SAY.length(three + other)
    assert rows["Clear sheet"] == SAY.area(0.53 * 0.23 + 0.53 * 0.18)
    assert rows["Cords"] == str(math.ceil(found.lower_edge / 0.5))


def test_bill_of_a_bound_wall_has_no_staples() -> None:
    walls, _ = judged(BOUND)
    rows = {row[0]: row[1] for row in sewing_bill(walls, SAY).rows}
    assert "Staples" not in rows
    assert rows["Binding"] == SAY.length(walls.found.pieces.lower_edge)
    assert rows["Welt track and cord"] == SAY.length(walls.found.pieces.upper_edge)


def test_steps_begin_with_a_strip_and_end_at_the_van() -> None:
    walls, _ = judged(FULL)
    steps = sewing_steps(walls, SAY)
    assert "test strip" in steps[0]
    assert "match marks" in steps[-1]
    windows, seams = (next(k for k, step in enumerate(steps) if text in step) for text in ("rear window", "seam S1"))
    assert windows < seams
    assert "3.6 to 5.1 mm" in steps[1]
    assert not any(" mm" in step for step in sewing_steps(walls, Wording("imperial")))


def test_insulation_without_a_lining_hangs_by_itself() -> None:
    walls, _ = judged(INSULATED)
    assert work_of(walls).insulation
    assert not work_of(walls).lining
    assert not any("lining's wrong side" in step for step in sewing_steps(walls, SAY))


def test_trial_takes_the_least_sure_panel_and_gives_its_diagonals() -> None:
    walls, _ = judged(FULL)
    lines = trial(walls, SAY)
    panels = walls.found.panels.panels
    first = max(panels, key=lambda panel: panel.error or 0.0)
    assert first.name in lines[0]
    low, high = first.flat.lower[0], first.flat.upper[0]
    assert SAY.length(float(np.hypot(*(high[-1] - low[0])))) in lines[2]
    # In a straight line through the air the corners are never further apart than over the cloth.
    assert np.linalg.norm(first.upper[-1] - first.lower[0]) <= np.hypot(*(high[-1] - low[0])) + 1e-9
    assert any("Lay a tape round both lines" in line for line in lines)


def test_windows_are_told_with_their_distances() -> None:
    walls, checks = judged(FULL)
    section = windows_section(walls, checks, SAY)
    assert section.part == "windows"
    assert [grid.title for grid in section.grids][1:] == ["Layers of the rear window", "Layers of the left window"]
    assert section.grids[0].rows[0][1] == "W1 rear wall"
    assert section.tally.fails == sum(check.verdict is Verdict.FAILS for check in checks if "WINDOW" in check.rule.id)


@pytest.mark.parametrize("text", [BOUND, INSULATED])
def test_no_window_is_said(text: str) -> None:
    walls, checks = judged(text)
    section = windows_section(walls, checks, wording(walls.project))
    assert section.says == "No [[window]] is written: the walls are whole."
    assert section.grids == ()
    assert sewing_section(walls, checks, SAY).says
