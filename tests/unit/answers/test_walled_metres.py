"""Metres of cloth from pieces of known size: areas, lengths, weights and prices computed here."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from loftwright.answers.cloth_weight import apart
from loftwright.answers.draws import Rows
from loftwright.answers.judging import decide
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.laying_job import job_of
from loftwright.answers.roll_rows import cut_area, in_rows, stitched_area
from loftwright.answers.wall_metres_view import FRESH, NO_PRICE, QUICK, STALE, cloth_rows, metres_section, roll_needs
from loftwright.answers.walled_metres import (
    IN_HALVES,
    NO_LAYER,
    MetresFound,
    the_metres,
)
from loftwright.cloth.laying import lay
from loftwright.cloth.laying_shapes import RollPiece
from loftwright.cloth.roll_rules import LEFT_OVER, WIDE
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.pattern import PatternPiece
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

WALLS = 2 * (1.24 + 2.04) * 0.54
"""Area of the four walls as cut [m2]."""


def metres_of(project: Project, *pieces: PatternPiece, kept: KeptWalls = NOTHING_KEPT) -> MetresFound:
    """Return the answer for the planned roof."""
    return the_metres(nominal_basis(project), found_pieces(*pieces), kept)


def checks_of(found: MetresFound, rule: Rule) -> list[Check]:
    checks = []
    for one in found.judged:
        if one.rule is rule:
            assert one.value is not None
            assert one.limit is not None
            checks.append(rule.judge(float(np.ravel(one.value)[0]), float(np.ravel(one.limit)[0]), part=one.which))
    return checks


def test_areas_of_a_piece() -> None:
    """2 m x 1 m with a hole of 0.5 m x 0.2 m; 20 mm of allowance all round."""
    one = piece("W1", "canvas", 2.0, 1.0, box(0.5, 0.2))
    assert cut_area(one) == pytest.approx(2.0 - 0.1)
    assert stitched_area(one) == pytest.approx(1.96 * 0.96)


def test_what_is_bought() -> None:
    """Two side by side on 1.50 m: at least the area over the width; and no more than two lengths of the sides."""
    (roll,) = metres_of(roof(f'{CANVAS}price = "20"\n'), *walls_of("canvas")).rolls
    assert WALLS / 1.50 <= roll.layout.length <= 2 * 2.04 + 0.01
    # 50 mm for the ends and 500 mm spare, in steps of 100 mm.
    bought = np.ceil((roll.layout.length + 0.55) * 10) / 10
    assert roll.buy[0] == pytest.approx(bought)
    assert roll.metres.buy == pytest.approx(bought)
    assert roll.price is not None
    assert roll.price[0] == pytest.approx(20.0 * bought)
    assert roll.metres.waste == pytest.approx(1.0 - WALLS / (bought * 1.53))
    assert roll.net == pytest.approx(2 * (1.20 + 2.00) * 0.50)


def test_weight_of_the_cloth() -> None:
    """400 g/m2 of canvas with a hole, 200 g/m2 of fleece, clear sheet of 0.8 mm and 1250 kg/m3 (computed here)."""
    project = roof(CANVAS + FLEECE + WINDOW)
    canvas = (piece("W1", "canvas", 2.0, 0.5, box(0.48, 0.18)), piece("W2", "canvas", 2.0, 0.5))
    found = metres_of(project, *canvas, piece("I1", "fleece", 1.8, 0.4), piece("C1", "clear sheet", 0.53, 0.23))
    assert found.mass is not None
    weight = 0.4 * (2 * 1.0 - 0.48 * 0.18) + 0.2 * 1.8 * 0.4 + 0.53 * 0.23 * 0.0008 * 1250.0
    assert found.mass[0] == pytest.approx(weight)


def test_what_of_it_moves_with_the_roof() -> None:
    """Fleece that is taken down first, 0.144 kg, stays out; a curtain of 0.4 by 0.5 m is in it with 150 to 350 g/m2."""
    fleece, curtain = piece("I1", "fleece", 1.8, 0.4), piece("C1", "curtain", 0.4, 0.5)
    for gone, kept_in in (("", 0.144), ("removable = true\n", 0.0)):
        found = metres_of(roof(CANVAS + FLEECE + gone), *walls_of("canvas"), fleece, curtain)
        assert found.mass is not None
        assert found.moving is not None
        assert found.mass[0] == pytest.approx(0.4 * WALLS + 0.144)
        moves = [float(one[0]) for one in found.moving]
        assert moves == pytest.approx([0.4 * WALLS + kept_in + 0.2 * each for each in (0.15, 0.35)])


@pytest.mark.parametrize("word", ["measured", "assumed"])
def test_a_measured_weight_is_not_to_be_replaced(word: str) -> None:
    layers = CANVAS + FLEECE + "removable = true\n"
    project = roof(f'{layers}[forces]\ncloth_mass = "3.2 kg, {word}"\n')
    fleece, clear = piece("I1", "fleece", 1.8, 0.4), piece("F1", "clear sheet", 0.53, 0.23)
    found = metres_of(
        roof(f'{layers}{WINDOW}[forces]\ncloth_mass = "3.2 kg, {word}"\n'), *walls_of("canvas"), fleece, clear
    )
    (told,) = (sentence for sentence in found.said if "cloth_mass" in sentence)
    # 1.42 kg of canvas and 0.12 kg of sheet are reckoned to move; the parts that explain the rest are named.
    assert "reckoned as 1.5 kg" in told
    assert "0.14 kg of fleece, which is taken down first, left out" in told
    assert "0.12 kg of clear sheet in it" in told
    assert ("The measured one counts and stays" in told) is (word == "measured")
    assert ("Write what it comes to here" in told) is (word == "assumed")
    assert project.forces.cloth_mass.nominal == pytest.approx(3.2)


@pytest.mark.parametrize(("said", "differs"), [("2.7 .. 2.9 kg, assumed", False), ("6 kg, measured", True)])
def test_weight_against_the_file(said: str, differs: bool) -> None:
    """Four walls of 3.54 m2 at 400 g/m2, twice for the lining: 2.83 kg."""
    lining = CANVAS.replace('"canvas"', '"lining"').replace('"outer"', '"lining"')
    project = roof(f'{CANVAS}{lining}[forces]\ncloth_mass = "{said}"\n')
    found = metres_of(project, *walls_of("canvas"), *walls_of("lining", "L"))
    assert found.mass is not None
    assert found.mass[0] == pytest.approx(2 * 0.4 * WALLS)
    low, high = project.forces.cloth_mass.low, project.forces.cloth_mass.high
    assert apart((found.mass, found.mass), np.array([low, high])) is differs
    both = found_pieces(*walls_of("canvas"), *walls_of("lining", "L"))
    base, drawn = drawn_basis(project, lambda one: the_metres(one, both, NOTHING_KEPT))
    many = the_metres(base, both, NOTHING_KEPT)
    assert any("cloth_mass" in sentence for sentence in many.said) is differs
    note = next(fact.note for fact in metres_section(_walls(project, many, drawn), (), Wording()).facts[-1:])
    assert ("which differs" in note) is differs


def test_pieces_against_the_roll() -> None:
    fits, wide = (
        metres_of(roof(f'{CANVAS}grain = "{grain}"\n'), *walls_of("canvas"))
        for grain in ("along the wall", "up the wall")
    )
    assert {check.verdict for check in checks_of(fits, WIDE)} == {Verdict.HOLDS}
    assert {check.part: check.verdict for check in checks_of(wide, WIDE)} == {
        "canvas, W2": Verdict.FAILS,
        "canvas, W4": Verdict.FAILS,
    }
    # Joined out of parts, they can be laid all the same, and it is said.
    assert wide.rolls[0].layout.area > fits.rolls[0].layout.area
    assert any("W2, W4" in sentence for sentence in wide.said)


def test_what_is_left_over() -> None:
    """Walls 0.54 m high lie two abreast on 1.50 m; ones of 0.80 m leave nearly half of it."""
    used = metres_of(roof(), *walls_of("canvas"))
    left = metres_of(roof(), *(piece(f"W{k}", "canvas", 2.0, 0.76) for k in range(4)))
    assert checks_of(used, LEFT_OVER)[0].verdict is Verdict.HOLDS
    assert checks_of(left, LEFT_OVER)[0].verdict is Verdict.FAILS


def test_other_ways_of_cutting() -> None:
    (roll,) = metres_of(roof(), *walls_of("canvas")).rolls
    names = [one.name for one in roll.others]
    assert names[0] == "wall length along the roll"
    assert IN_HALVES in names
    assert roll.others[0].saved == 0.0
    # 1.53 m, then the next usual rolls: 63 and 72 inches (1600 and 1829 mm), less both selvedges.
    assert [one.width for one in roll.others[-2:]] == pytest.approx([63 * 0.0254 - 0.03, 72 * 0.0254 - 0.03])
    halved = metres_of(roof(f"{CANVAS}[walls]\nsplit_sides = true\n"), *walls_of("canvas")).rolls[0]
    assert IN_HALVES not in [one.name for one in halved.others]


def _kept(project: Project, freshness: Any) -> KeptWalls:
    (roll,) = job_of(project, walls_of("canvas")).rolls
    return KeptWalls(laid=(lay(roll[2], roll[1], library=False, material="canvas"),), laid_is=freshness)


@pytest.mark.parametrize(
    ("freshness", "counts", "note"), [("fresh", True, FRESH), ("stale", False, STALE), ("none", False, QUICK)]
)
def test_a_kept_layout_counts_while_it_is_fresh(freshness: Any, counts: bool, note: str) -> None:
    project = roof()
    kept = NOTHING_KEPT if freshness == "none" else _kept(project, freshness)
    found = metres_of(project, *walls_of("canvas"), kept=kept)
    (roll,) = found.rolls
    assert roll.freshness == freshness
    assert (roll.layout is roll.kept) is counts
    (need,) = roll_needs(_walls(project, found), Wording())
    assert (need.freshness, need.note) == (freshness, note)
    assert need.layout is (roll.quick if freshness == "none" else roll.kept)
    assert roll.metres.laid == roll.layout.length


def test_a_layout_of_other_pieces_is_stale_whatever_it_says() -> None:
    project = roof()
    others = tuple(piece(f"W{k + 1}", "canvas", 1.9, 0.54) for k in range(4))
    (roll,) = metres_of(project, *others, kept=_kept(project, "fresh")).rolls
    assert roll.freshness == "stale"
    assert roll.layout is roll.quick


def test_rectangles_in_rows() -> None:
    """Three of 0.6 x 0.3 m across 1.37 m: their long sides across, two in the first row: 2 x 0.3 m and the cut."""
    one = RollPiece("C1", ((0.0, 0.0), (0.6, 0.0), (0.6, 0.3), (0.0, 0.3)), 3, "quarter")
    layout = in_rows((one,), 1.37, "clear sheet")
    assert layout.length == pytest.approx(0.602)
    assert layout.area == pytest.approx(3 * 0.18)
    # One longer than the roll is wide lies along it.
    long = RollPiece("C2", ((0.0, 0.0), (2.0, 0.0), (2.0, 0.3), (0.0, 0.3)))
    assert in_rows((long,), 1.37, "clear sheet").length == pytest.approx(2.0)


def test_without_layers_it_is_not_known_yet() -> None:
    found = metres_of(roof(""), *walls_of("cloth"))
    assert NO_LAYER in found.said
    assert found.mass is None
    (judged,) = found.judged
    assert (judged.rule, judged.value, judged.missing) == (WIDE, None, "layer")
    assert found.rolls[0].buy[0] > WALLS / 1.5


def test_no_pieces_no_cloth() -> None:
    found = metres_of(roof())
    assert found.rolls == ()
    assert found.price is None


def test_a_crossing_cut_line_does_not_stop_it() -> None:
    """A bow tie can be laid as the rectangle round it."""
    bow = piece("W1", "canvas", 1.0, 0.5)
    corners = ((0.0, 0.0, 0.0), (1.0, 0.5, 0.0), (1.0, 0.0, 0.0), (0.0, 0.5, 0.0))
    tied = PatternPiece("W1", "bow tie", "canvas", 1, "", (type(bow.contours[0])("cut", corners),))
    (roll,) = metres_of(roof(), tied).rolls
    assert roll.layout.length == pytest.approx(1.0)


def _walls(project: Project, found: MetresFound, drawn: Rows | None = None) -> Any:
    """Return what a view reads; without draws the planned row alone."""
    rows = SimpleNamespace(draws=slice(1, 1)) if drawn is None else drawn
    return SimpleNamespace(project=project, rows=rows, found=SimpleNamespace(metres=found))


OPEN_ROLL = CANVAS.replace('"1.53 m"', '"1.40 .. 1.60 m, assumed"') + 'price = "18 .. 24, assumed"\n'


def test_every_row_counts() -> None:
    project = roof(f'{OPEN_ROLL}{WINDOW}[sewing]\nspare = "0.3 .. 0.6 m, assumed"\n')
    pieces = found_pieces(*walls_of("canvas"), piece("C1", "clear sheet", 0.53, 0.23))
    base, drawn = drawn_basis(project, lambda one: the_metres(one, pieces, NOTHING_KEPT))
    found = the_metres(base, pieces, NOTHING_KEPT)
    keys = {f"layer.0.{key}" for key in ("roll_width", "price")} | {"sewing.spare"}
    assert keys <= drawn.alone.keys()
    assert {"layer.0.selvedge", "layer.0.mass", "window.0.film", "forces.cloth_mass"} <= drawn.columns.keys()
    (roll,) = found.rolls
    assert roll.price is not None
    assert found.price is not None
    assert len({*found.price}) > 20
    checks = tuple(decide(one, drawn, base.roof.possible) for one in found.judged)
    section = metres_section(_walls(project, found, drawn), checks, Wording())
    assert section.says.startswith("The pieces fit their rolls: buy ")
    assert " to " in next(fact.value for fact in section.facts if fact.label == "Price of the cloth")
    assert section.facts[-1].label == "Weight of the cloth"
    assert {row[0] for row in section.grids[0].rows} == {"canvas", "clear sheet"}


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_what_is_shown(units: Any) -> None:
    project = roof()
    found = metres_of(project, *walls_of("canvas"), piece("C1", "clear sheet", 0.53, 0.23))
    walls, say = _walls(project, found), Wording(units)
    needs = roll_needs(walls, say)
    assert [need.layout.material for need in needs] == ["canvas", "clear sheet"]
    assert {need.price for need in needs} == {NO_PRICE}
    assert needs[0].buy == f"{say.length(found.rolls[0].metres.buy)} of a roll {say.length(1.53)} wide"
    assert [row[:2] for row in cloth_rows(walls, say)] == [
        ("Canvas", say.length(found.rolls[0].metres.buy)),
    ]
    wider = metres_section(walls, (), say).grids[1].rows[-1]
    assert wider[1] == f"a roll {say.length(72 * 0.0254)} wide"


def test_a_failing_roll_is_said_first() -> None:
    project = roof(f'{CANVAS}grain = "up the wall"\n')
    found = metres_of(project, *walls_of("canvas"))
    checks = tuple(sorted(checks_of(found, WIDE), key=lambda check: check.verdict is not Verdict.FAILS))
    section = metres_section(_walls(project, found), checks, Wording())
    assert section.says.startswith("The pieces do not fit their rolls well: a piece is wider than the roll")
    assert "joined out of parts: W2, W4" in roll_needs(_walls(project, found), Wording())[0].note
