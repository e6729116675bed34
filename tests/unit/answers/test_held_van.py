"""What the roof adds to the van, and what lies on the closed roof."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest

from loftwright.answers.draws import Nominal
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.held_van import VanFound, carried
from loftwright.answers.judged_roof import inputs_of
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.project.demos import DEMOS, demo_text
from loftwright.project.file import loads
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.strength.on_van_rules import (
    FOOT_CRACKS,
    FOOT_SAGS,
    FOOTING_LOST,
    GROSS,
    ROOF_LOAD,
    SNOW_CRACKS,
    TOO_HIGH,
)

TEXT = """
format = 1
name = "plain"
[opening]
length = "2 m"
width = "1.2 m"
[shell]
length = "2.1 m"
width = "1.3 m"
height_rear = "200 mm"
height_middle = "250 mm"
height_front = "150 mm"
overhang_rear = "50 mm"
rim_height = "10 mm"
mass = "50 kg"
centre = "1 m"
centre_height = "0.1 m"
made_of = "{made_of}"
[linkage]
kind = "hinge"
end = "front"
opens = "30 deg"
hinge = ["2 m", "30 mm"]
[forces]
cloth_mass = "4 kg"
[body]
height = "2 m"
mass = "2000 kg"
centre_height = "0.75 m"
track = "1.6 m"
snow = "{snow}"
{more}
"""


@dataclass(frozen=True)
class Ring:
    """The two masses that the opening gives [kg]."""

    ring_mass: Array
    cut_mass: Array


@cache
def base_of(text: str) -> Basis:
    project = loads(text)
    return basis(project, Nominal(inputs_of(project)))[0]


def van(*, made_of: str = "foam-plywood", snow: str = "100 mm", more: str = "", text: str = "") -> VanFound:
    written = text or TEXT.format(made_of=made_of, snow=snow, more=more)
    return carried(base_of(written), Ring(np.array([6.0]), np.array([15.0])))


def one(found: VanFound, rule: Rule) -> Judged:
    return next(each for each in found.judged if each.rule is rule)


def check(each: Judged) -> Check:
    assert each.value is not None
    assert each.limit is not None
    return each.rule.judge(float(each.value[0]), float(each.limit[0]))


def test_masses_and_heights_add_up() -> None:
    # Exact: shell at 2.1 m, cloth at the rim, ring and cut sheet at the roof.
    found = van()
    moment = 50 * 2.1 + 4 * 2.01 + (6 - 15) * 2.0
    assert found.added == pytest.approx(45.0)
    assert found.added_height == pytest.approx(moment / 45.0)
    after = (2000 * 0.75 + moment) / 2045
    assert found.after == pytest.approx(after)
    assert found.footing_before == pytest.approx(1.6 / 1.5)
    assert found.footing_after == pytest.approx(1.6 / (2 * after))
    assert found.height == pytest.approx(2.26)
    # Two centimetres for tape and tyres, up to the next five.
    assert found.sign == pytest.approx(2.3)
    written = TEXT.format(made_of="foam-plywood", snow="100 mm", more="")
    flush = van(text=written.replace('[body]\nheight = "2 m"', '[body]\nheight = "2.04 m"'))
    assert (float(flush.height[0]), float(flush.sign[0])) == pytest.approx((2.30, 2.35))
    assert found.sign == pytest.approx(2.30)


def test_what_stands_on_top_counts_for_the_height() -> None:
    vent = '[[item]]\nname = "vent"\nmass = "2 kg"\nx = "1 m"\nz = "300 mm"'
    assert van(more=vent).height == pytest.approx(2.26 + 2 * 0.04)


def test_a_panel_stands_on_its_gap_and_frame() -> None:
    """By hand: 2 m and 0.26 m of shell under it, 25 mm of gap, 35 mm of frame; bonded flat it adds next to nothing."""
    panel = '[panel]\npower = "100"\nuse = "100"\nlength = "1 m"\nwidth = "0.6 m"\ngap = "{}"\n'
    written = '[[item]]\nname = "sun"\nkind = "panel"\nmass = "5 kg"\nx = "1 m"\nz = "{}"\n'
    assert van(more=panel.format("25 mm")).height == pytest.approx(2.32)
    assert van(more=panel.format("0 mm")).height == pytest.approx(2.26)
    # Its middle lies at 260 + 25 + 17.5 mm: another height in the file is told, and the higher one taken.
    for z, high, told in (("302 mm", 2.32, False), ("265 mm", 2.32, True), ("0.40 m", 2.4175, True)):
        found = van(more=written.format(z) + panel.format("25 mm"))
        assert found.height == pytest.approx(high, abs=1e-9)
        assert any("correct one of them" in line for line in found.said) is told


def test_each_rule_on_both_sides() -> None:
    light, heavy = van(more='roof_load = "100 kg"'), van(more='roof_load = "30 kg"')
    assert [check(one(found, ROOF_LOAD)).verdict for found in (light, heavy)] == [Verdict.HOLDS, Verdict.FAILS]
    low, high = van(more='height_limit = "2.5 m"'), van(more='height_limit = "2.2 m"')
    assert [check(one(found, TOO_HIGH)).verdict for found in (low, high)] == [Verdict.HOLDS, Verdict.FAILS]
    solar = '[[item]]\nname = "panels"\nmass = "80 kg"\nx = "1 m"\nz = "260 mm"\n'
    assert check(one(van(), FOOTING_LOST)).verdict is Verdict.HOLDS
    assert check(one(van(more=solar + solar), FOOTING_LOST)).verdict is Verdict.FAILS
    for rule in (FOOT_CRACKS, FOOT_SAGS):
        assert check(one(van(), rule)).verdict is Verdict.HOLDS
        assert check(one(van(made_of="aluminium-skin"), rule)).verdict is Verdict.FAILS
    assert check(one(van(), SNOW_CRACKS)).verdict is Verdict.HOLDS
    assert check(one(van(snow="0.8 m", made_of="plywood"), SNOW_CRACKS)).verdict is Verdict.HOLDS
    assert check(one(van(snow="0.9 m", made_of="aluminium-skin"), SNOW_CRACKS)).verdict is Verdict.FAILS


def test_the_papers_that_are_missing_are_asked_for() -> None:
    found = van()
    for rule, key in ((ROOF_LOAD, "body.roof_load"), (TOO_HIGH, "body.height_limit")):
        assert (one(found, rule).limit, one(found, rule).missing) == (None, key)


def test_nobody_stands_on_a_roof_that_is_not_walked_on() -> None:
    found = van(more="walked_on = false")
    assert {FOOT_CRACKS, FOOT_SAGS}.isdisjoint({each.rule for each in found.judged})
    unknown = van(made_of="unknown")
    assert one(unknown, SNOW_CRACKS).value is None
    assert "made_of" in one(unknown, SNOW_CRACKS).unknown


def test_the_stops_carry_all_of_the_snow() -> None:
    found = van()
    assert found.top_loads is not None
    # Wet snow of 4 kN/m3, EN 1991-1-3, Annex E (read in a public reproduction).
    assert found.top_loads.stops_snow.sum() == pytest.approx(0.1 * 2.1 * 1.3 * 4000.0)
    assert found.top_loads.stops_foot.sum() == pytest.approx(1000.0)
    assert found.top_loads.stops_foot.shape == (1, len(found.stops.x))


@pytest.mark.parametrize(
    "text",
    [
        *(demo_text(name) for name in DEMOS),
        *(new_project(FiveAnswers(kind)) for kind in ("hinge rear", "arms", "level arms", "scissor")),
    ],
)
def test_every_kind_has_finite_numbers(text: str) -> None:
    found = van(text=text)
    for each in found.judged:
        for value in (each.value, each.limit):
            assert value is None or (value.shape == (1,) and np.isfinite(value).all())
    assert found.footing_after < found.footing_before or found.added < 0
    assert found.whole - found.bare == pytest.approx(found.added)
    assert found.added * STANDARD_GRAVITY < 5000.0


def test_the_plate_is_judged_when_it_is_written() -> None:
    # The van of 2000 kg gains 45 kg.
    enough, short = (van(snow=f'100 mm"\ngross_mass = "{kg} kg') for kg in (2046, 2044))
    assert check(one(enough, GROSS)).verdict is Verdict.HOLDS
    assert check(one(short, GROSS)).verdict is Verdict.FAILS
    assert one(short, GROSS).value == pytest.approx(2045.0)
    assert GROSS not in {each.rule for each in van().judged}
