"""Masses, footing, height and loads on the closed roof: every rule on both sides of its limit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.judged import Judged
from loftwright.strength import on_van_rules as rules
from loftwright.strength.on_van import (
    Lump,
    Stops,
    both,
    fits_under,
    footing_lost,
    overall_height,
    static_stability_factor,
    stop_loads,
    together,
)
from loftwright.strength.plate_support import FOOT, sandwich_field, solid_field

ROWS = 2


def rows(value: float) -> np.ndarray:
    return np.full(ROWS, value)


def lump(mass: float, height: float, back: float) -> Lump:
    return Lump(rows(mass), rows(height), rows(back))


def on_van() -> rules.OnVan:
    return rules.OnVan(
        van=lump(2160.0, 0.85, 1.5),
        added=lump(90.0, 2.1, 2.2),
        on_roof=rows(90.0),
        roof_load=rows(150.0),
        gross=rows(3000.0),
        most_lost=rows(0.1),
        height=rows(2.4),
        height_limit=rows(2.5),
    )


def one(found: tuple[Judged, ...], rule: Rule, which: str = "") -> Judged:
    return next(each for each in found if each.rule is rule and which in each.which)


def check(found: Judged) -> Check:
    assert found.value is not None
    assert found.limit is not None
    assert found.value.shape == found.limit.shape == (ROWS,)
    return found.rule.judge(float(found.value[0]), float(found.limit[0]))


@pytest.mark.parametrize(
    ("rule", "which", "bad"),
    [
        (rules.ROOF_LOAD, "", replace(on_van(), on_roof=rows(160.0))),
        (rules.GROSS, "whole", replace(on_van(), added=lump(900.0, 0.9, 1.5))),
        (rules.FOOTING_LOST, "", replace(on_van(), added=lump(250.0, 2.2, 2.0))),
        (rules.TOO_HIGH, "", replace(on_van(), height=rows(2.6))),
    ],
)
def test_each_rule_on_the_van(rule: Rule, which: str, bad: rules.OnVan) -> None:
    assert check(one(rules.judge_on_van(on_van()), rule, which)).verdict is Verdict.HOLDS
    assert check(one(rules.judge_on_van(bad), rule, which)).verdict is Verdict.FAILS


def test_what_is_not_given_is_to_be_found_out() -> None:
    found = rules.judge_on_van(replace(on_van(), roof_load=None, height_limit=None, gross=None))
    assert one(found, rules.ROOF_LOAD).missing == "roof_load"
    assert one(found, rules.TOO_HIGH).limit is None
    assert rules.GROSS not in {each.rule for each in found}


def top(**changes: float) -> rules.OnTop:
    values = {"force": FOOT[0], "side": FOOT[1], "foot_x": 0.3, "foot_y": 0.4}
    values |= {"depth": 0.2, "weight": 2000.0, "area": 3.36, "x": 1.1, "y": 0.0}
    return rules.OnTop(**{name: rows(value) for name, value in (values | changes).items()})


STOPS = Stops((0.0, 0.0, 2.2, 2.2), (-0.6, 0.6, -0.6, 0.6))
LIMITS = rules.TopLimits(strength=rows(120e6), safety=rows(2.0), sag=rows(0.02))


def test_each_rule_on_the_closed_roof() -> None:
    strong = sandwich_field(rows(0.4), rows(0.7), rows(0.01), rows(0.002), rows(8e9))
    weak = solid_field(rows(0.4), rows(0.7), rows(0.003), rows(8e9))
    good = rules.judge_top(rules.top_loads(strong, STOPS, top()), LIMITS)
    bad = rules.judge_top(rules.top_loads(weak, STOPS, top(depth=2.0, weight=4000.0, foot_x=0.0, foot_y=0.6)), LIMITS)
    assert len(good) == len(bad) == 3
    for each in good:
        assert check(each).verdict is Verdict.HOLDS
    for each in bad:
        assert check(each).verdict is Verdict.FAILS


def test_an_unknown_laminate_is_to_be_measured() -> None:
    field = solid_field(rows(0.4), rows(0.7), rows(0.003), rows(8e9))
    found = rules.judge_top(rules.top_loads(field, STOPS, top()), replace(LIMITS, strength=None))
    assert one(found, rules.FOOT_CRACKS).missing == "skin_strength"


def test_masses_taken_together() -> None:
    # Exact: 60 kg at 2 m and 20 kg at 1.6 m less 10 kg at 1.9 m.
    found = together([60.0, 20.0, -10.0], [2.0, 1.6, 1.9], [2.0, 2.0, 2.0])
    assert float(found.mass) == 70.0
    assert float(found.height) == pytest.approx(133.0 / 70.0)
    assert float(found.back) == pytest.approx(2.0)


def test_the_footing_is_the_loss_of_the_factor() -> None:
    van, added = lump(2000.0, 0.8, 1.5), lump(100.0, 2.2, 2.0)
    before = static_stability_factor(1.6, van.height)
    after = static_stability_factor(1.6, both(van, added).height)
    assert footing_lost(van, added) == pytest.approx(1 - after / before)


def test_stops_carry_it_all() -> None:
    shares = stop_loads(STOPS, rows(80.0 * 9.80665), rows(0.3), rows(0.1))
    assert shares.sum(axis=-1) == pytest.approx(80.0 * 9.80665)
    assert shares @ np.array(STOPS.x) == pytest.approx(80.0 * 9.80665 * 0.3)


def test_heights() -> None:
    assert float(overall_height(2.0, 0.3, 0.05)) == pytest.approx(2.35)
    fits = {clearance.height: under for clearance, under in fits_under(2.35)}
    assert fits == {1.9: False, 2.0: False, 2.1: False, 2.2: False, 2.49: True, 4.0: True}
