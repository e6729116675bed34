"""Yes, probably, no, and which trouble comes first: both sides of every boundary, on judgements written by hand."""

from __future__ import annotations

import pytest

from loftwright.core.checks import Check, Rule, Source, Verdict
from loftwright.plan.scout import LEAST_FLOOR, ROOM, STAND
from loftwright.plan.worth import (
    BY_HAND,
    FOUR_PEOPLE,
    HOPELESS,
    LIFT_ON,
    Worth,
    is_hopeless,
    likeliest,
    reasons,
    trouble_share,
    worth_starting,
)

OTHER = Rule(
    "X-1",
    "Something else",
    "Something right",
    "m",
    "at least",
    "A reason.",
    "A remedy.",
    Source("judgement", "", "judgement"),
)
VITAL, ESSENTIAL = (STAND, ROOM), (LIFT_ON,)
STANDS = STAND.judge(2.0, 1.8, holding=1.0)
ROOMY = ROOM.judge(1.0, LEAST_FLOOR, holding=1.0)
LIGHT = LIFT_ON.judge(40.0, FOUR_PEOPLE, holding=1.0)


def worth(*checks: Check) -> Worth:
    return worth_starting(checks, VITAL, ESSENTIAL)


def test_yes_when_everything_vital_and_essential_holds() -> None:
    assert worth(STANDS, ROOMY, LIGHT) is Worth.YES
    assert reasons((STANDS, ROOMY, LIGHT), VITAL, ESSENTIAL) == ()


@pytest.mark.parametrize(
    "check",
    [
        LIFT_ON.judge(120.0, FOUR_PEOPLE, holding=0.0),
        LIFT_ON.not_known("weigh it", value=45.0, limit=FOUR_PEOPLE, holding=0.6),
        LIFT_ON.not_known("weigh it"),
        STAND.not_known("measure the height inside", value=1.9, limit=1.8, holding=0.6),
    ],
)
def test_probably_when_something_essential_is_open_or_can_be_mended(check: Check) -> None:
    rest = [c for c in (STANDS, ROOMY, LIGHT) if c.rule is not check.rule]
    assert worth(check, *rest) is Worth.PROBABLY
    assert reasons((check, *rest), VITAL, ESSENTIAL) == (check,)


def test_a_failure_of_anything_else_is_no_reason_against_starting() -> None:
    assert worth(STANDS, ROOMY, LIGHT, OTHER.judge(-1.0, 0.0, holding=0.0)) is Worth.YES


@pytest.mark.parametrize("rule", VITAL)
@pytest.mark.parametrize(("holding", "said"), [(0.0, Worth.NO), (0.2, Worth.NO), (0.21, Worth.PROBABLY)])
def test_no_needs_four_roofs_of_five(rule: Rule, holding: float, said: Worth) -> None:
    failing = rule.judge(0.3, 0.5, holding=holding)
    assert is_hopeless(failing) is (said is Worth.NO)
    assert worth(failing, *(c for c in (STANDS, ROOMY, LIGHT) if c.rule is not rule)) is said
    assert HOPELESS == 0.8


@pytest.mark.parametrize(("value", "said"), [(0.49, Worth.NO), (0.51, Worth.PROBABLY)])
def test_no_needs_the_nominal_roof_to_fail_too(value: float, said: Worth) -> None:
    assert worth(ROOM.not_known("measure", value=value, limit=0.5, holding=0.1), STANDS, LIGHT) is said


def test_an_essential_failure_alone_is_never_a_no() -> None:
    assert worth(STANDS, ROOMY, LIFT_ON.judge(500.0, FOUR_PEOPLE, holding=0.0)) is Worth.PROBABLY


def test_a_no_names_the_hopeless_alone() -> None:
    low, heavy = STAND.judge(1.5, 1.8, holding=0.0), LIFT_ON.judge(120.0, FOUR_PEOPLE, holding=0.0)
    assert reasons((heavy, low, ROOMY), VITAL, ESSENTIAL) == (low,)


@pytest.mark.parametrize(
    ("check", "share"),
    [
        (OTHER.judge(1.0, 0.0, holding=0.75), 0.25),
        (OTHER.judge(1.0, 0.0), 0.0),
        (OTHER.judge(-1.0, 0.0), 1.0),
        (OTHER.not_known("measure"), 0.5),
    ],
)
def test_share_of_roofs_in_trouble(check: Check, share: float) -> None:
    assert trouble_share(check) == share


def test_the_likeliest_trouble_comes_first() -> None:
    sure = OTHER.judge(-1.0, 0.0, holding=0.0)
    open_ = BY_HAND.not_known("measure")
    rare = STAND.judge(2.0, 1.8, holding=0.9)
    never = ROOM.judge(1.0, 0.5, holding=1.0)
    assert likeliest((never, rare, open_, sure), ESSENTIAL) == (sure, open_, rare)


def test_between_equals_the_essential_one_and_then_the_least_margin() -> None:
    heavy = LIFT_ON.judge(102.0, FOUR_PEOPLE, holding=0.0)
    worse = BY_HAND.judge(300.0, 100.0, holding=0.0)
    slight = OTHER.judge(0.9, 1.0, holding=0.0)
    assert likeliest((slight, worse, heavy), ESSENTIAL) == (heavy, worse, slight)
    tight, wide = STAND.judge(1.81, 1.8, holding=1.0), ROOM.judge(1.0, 0.5, holding=1.0)
    assert likeliest((wide, tight), ESSENTIAL) == (tight, wide)


def test_one_rule_is_named_once() -> None:
    left, right = (OTHER.judge(v, 0.0, holding=0.0, part=p) for v, p in ((-1.0, "left"), (-2.0, "right")))
    found = likeliest((left, right, LIGHT), ESSENTIAL)
    assert [c.rule.id for c in found] == ["X-1", "PLAN-103"]


@pytest.mark.parametrize(("push", "verdict"), [(140.0, Verdict.HOLDS), (150.0, Verdict.FAILS)])
def test_both_sides_of_opening_by_hand(push: float, verdict: Verdict) -> None:
    assert BY_HAND.judge(push, 147.0).verdict is verdict


@pytest.mark.parametrize(("mass", "verdict"), [(99.9, Verdict.HOLDS), (100.1, Verdict.FAILS)])
def test_both_sides_of_lifting_on(mass: float, verdict: Verdict) -> None:
    assert LIFT_ON.judge(mass, FOUR_PEOPLE).verdict is verdict
