"""Warmth of the walls: layers in series after ISO 6946 (surfaces 0.13 and 0.04, read in public reproductions)."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from loftwright.answers.judging import decide
from loftwright.answers.pieces_written import TRIM
from loftwright.answers.wall_warmth_view import warmth_section
from loftwright.answers.walled_warmth import BARE, CLEAR, NO_LAYER, OPEN, SINGLE, WARM, WarmthFound, the_warmth
from loftwright.cloth.pieces import before_shrinking_piece
from loftwright.cloth.warm_rules import DRIPS, HEATER
from loftwright.core.checks import Verdict
from loftwright.core.pattern import Contour, PatternPiece
from loftwright.core.wording import Wording
from loftwright.project.model import Project
from tests.unit.answers.cloth_pieces import (
    CANVAS,
    FLEECE,
    WINDOW,
    box,
    drawn_basis,
    found_pieces,
    nominal_basis,
    piece,
    roof,
    walls_of,
)

WALLS = 2 * (1.20 + 2.00) * 0.50
"""Area of the four walls inside their stitch lines [m2]."""
NIGHT = '[warmth]\ninside = "15 C"\noutside = "5 C"\nhumidity = "{humidity} %"\n'
SURFACES = 0.13 + 0.04


def warmth_of(project: Project, *pieces: PatternPiece) -> WarmthFound:
    """Return the answer for the planned roof."""
    return the_warmth(nominal_basis(project), found_pieces(*pieces))


def night(more: str, humidity: float = 70.0) -> Project:
    return roof(more + NIGHT.format(humidity=humidity))


def test_single_cloth() -> None:
    """0.6 mm of 0.06 W/(m K): R = 0.17 + 0.01 = 0.18; 3.2 m2 and 10 K lose 178 W (computed here)."""
    found = warmth_of(night(CANVAS), *walls_of("canvas"))
    (part,) = found.parts
    assert part.name == SINGLE
    assert part.area[0] == pytest.approx(WALLS)
    assert part.transmits[0] == pytest.approx(1.0 / (SURFACES + 0.01))
    assert found.all_lost[0] == pytest.approx(WALLS * 10.0 / 0.18)
    # The face is 10 K times 0.13 / 0.18 colder than the air.
    assert found.faces[0][0] == pytest.approx(288.15 - 10.0 * 0.13 / 0.18)


def test_insulation_where_it_is() -> None:
    """Fleece of 8 mm, 0.04 W/(m K): 0.2 m2 K/W more, over its own area alone."""
    fleece = piece("I1", "fleece", 1.54, 0.54)
    found = warmth_of(night(CANVAS + FLEECE), *walls_of("canvas"), fleece)
    by_name = {part.name: part for part in found.parts}
    assert by_name.keys() == {WARM, BARE}
    assert by_name[WARM].area[0] == pytest.approx(1.50 * 0.50)
    assert by_name[BARE].area[0] == pytest.approx(WALLS - 0.75)
    assert by_name[WARM].transmits[0] == pytest.approx(1.0 / (SURFACES + 0.01 + 0.2))
    assert by_name[BARE].transmits[0] == pytest.approx(1.0 / (SURFACES + 0.01))
    lost = 10.0 * (0.75 / 0.38 + (WALLS - 0.75) / 0.18)
    assert found.all_lost[0] == pytest.approx(lost)


def test_insulation_all_over_leaves_no_bare_wall() -> None:
    found = warmth_of(night(CANVAS + FLEECE), *walls_of("canvas"), *walls_of("fleece", "I"))
    assert [part.name for part in found.parts] == [WARM]


def test_areas_are_those_of_the_finished_walls() -> None:
    """Pieces are cut larger by 1 / (1 - s); what hangs in the night has shrunk to 3.2 m2 of wall, 0.75 m2 of fleece.

    A window takes 0.3 m by 0.2 m of the fleece, and another, past its edge, the 0.1 m by 0.2 m that lie on it.
    """
    shrunk = CANVAS.replace('along = "0', 'along = "3').replace('across = "0', 'across = "2')
    cloths = (shrunk, FLEECE.replace('along = "0', 'along = "5'))
    cut = [before_shrinking_piece(one, 0.03, 0.02) for one in walls_of("canvas")]
    trimmed = Contour("mark", ((1.42, 0.1, 0), (1.72, 0.1, 0), (1.72, 0.3, 0), (1.42, 0.3, 0)), True, f"w: {TRIM}")
    whole = piece("I1", "fleece", 1.54, 0.54)
    holed = piece("I1", "fleece", 1.54, 0.54, moved(box(0.3, 0.2), 0.5, 0.1))
    both = replace(holed, contours=(*holed.contours, trimmed))
    for fleece, warm in ((whole, 0.75), (holed, 0.75 - 0.06), (both, 0.75 - 0.06 - 0.02)):
        found = warmth_of(night("".join(cloths)), *cut, before_shrinking_piece(fleece, 0.05, 0.0))
        by_name = {part.name: part for part in found.parts}
        assert by_name[WARM].area[0] == pytest.approx(warm)
        assert by_name[BARE].area[0] == pytest.approx(WALLS - warm)
    assert any("clear sky" in sentence for sentence in found.said)


def moved(contour: Contour, x: float, y: float) -> Contour:
    return replace(contour, vertices=tuple((a + x, b + y, bulge) for a, b, bulge in contour.vertices))


def test_clear_windows() -> None:
    """0.8 mm of clear sheet, 0.17 W/(m K) (typical, from memory), 0.5 m by 0.2 m off the wall."""
    found = warmth_of(night(CANVAS + WINDOW), *walls_of("canvas"))
    by_name = {part.name: part for part in found.parts}
    assert by_name[CLEAR].area[0] == pytest.approx(0.1)
    assert by_name[SINGLE].area[0] == pytest.approx(WALLS - 0.1)
    assert by_name[CLEAR].transmits[0] == pytest.approx(1.0 / (SURFACES + 0.0008 / 0.17))
    curtain = warmth_of(night(f"{CANVAS}{WINDOW}clear = false\n"), *walls_of("canvas"))
    shut = {part.name: part for part in curtain.parts}[OPEN]
    assert shut.transmits[0] == pytest.approx(1.0 / (SURFACES + 0.01))


def _drips(found: WarmthFound) -> dict[str, Verdict]:
    verdicts = {}
    for one in found.judged:
        if one.rule is DRIPS:
            assert one.value is not None
            assert one.limit is not None
            verdicts[one.which] = DRIPS.judge(float(one.value[0]), float(one.limit[0])).verdict
    return verdicts


def test_water_settles_on_cold_cloth() -> None:
    """15 C and 60 %: dew point 7.3 C by Magnus. Single cloth is at 7.8 C, dry; at 70 % (9.6 C) it drips."""
    assert _drips(warmth_of(night(CANVAS, 60.0), *walls_of("canvas"))) == {SINGLE: Verdict.HOLDS}
    wet = warmth_of(night(CANVAS, 70.0), *walls_of("canvas"))
    assert wet.dew[0] - 273.15 == pytest.approx(9.6, abs=0.05)
    assert wet.faces[0][0] - 273.15 == pytest.approx(7.78, abs=0.01)
    assert _drips(wet) == {SINGLE: Verdict.FAILS}
    warm = warmth_of(night(CANVAS + FLEECE, 70.0), *walls_of("canvas"), *walls_of("fleece", "I"))
    assert _drips(warm) == {WARM: Verdict.HOLDS}


def test_no_heater_in_the_file() -> None:
    assert [one for one in warmth_of(night(CANVAS), *walls_of("canvas")).judged if one.rule is HEATER] == []


def test_without_layers_it_is_not_known_yet() -> None:
    found = warmth_of(night(""), *walls_of("cloth"))
    assert NO_LAYER in found.said
    (drips,) = (one for one in found.judged if one.rule is DRIPS)
    assert (drips.value, drips.missing) == (None, "layer")
    assert found.all_lost[0] == pytest.approx(WALLS * 10.0 / 0.18)


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_what_is_shown(units: Any) -> None:
    project = roof(CANVAS.replace('"0.6 mm"', '"0.5 .. 0.8 mm, assumed"') + NIGHT.format(humidity="70"))
    pieces = found_pieces(*walls_of("canvas"))
    base, drawn = drawn_basis(project, lambda one: the_warmth(one, pieces))
    found = the_warmth(base, pieces)
    assert {"layer.0.thickness", "layer.0.conductivity", "warmth.inside", "warmth.outside", "warmth.humidity"} <= (
        drawn.columns.keys()
    )
    assert np.isfinite(found.all_lost).all()
    checks = tuple(decide(one, drawn, base.roof.possible) for one in found.judged)
    walls: Any = SimpleNamespace(project=project, rows=drawn, found=SimpleNamespace(warmth=found))
    say = Wording(units)
    section = warmth_section(walls, checks, say)
    assert section.says.startswith("The walls get wet inside: water settles on the inside of the wall on a cold night")
    inside, outside = ("15 °C", "5 °C") if units == "metric" else ("59 °F", "41 °F")
    assert f"with {inside} inside and {outside} outside" in section.says
    assert len(section.rows) == 1
    # 70 % at 15 C: 9.6 C or 49 F.
    dew = next(fact.value for fact in section.facts if fact.label.startswith("Dew point"))
    assert dew == ("10 °C" if units == "metric" else "49 °F")


def test_no_area_loses_nothing() -> None:
    found = warmth_of(night(CANVAS))
    assert found.all_lost[0] == 0.0
