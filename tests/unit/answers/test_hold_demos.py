"""The demos show each kind of answer on fit and strength: what holds, what fails, what nobody knows yet.

Exact constructed cases: the builders of the demos are invented so that each kind occurs.
"""

from __future__ import annotations

from collections import Counter

import pytest

from loftwright.answers.held_roof import held_roof
from loftwright.answers.hold_said import of_part
from loftwright.core.checks import Check, Verdict
from loftwright.core.hold_views import HoldPart
from loftwright.project.demos import DEMOS, demo

PARTS: tuple[HoldPart, ...] = ("fit", "wind", "road", "opening", "joints")


@pytest.fixture(scope="module")
def checks() -> dict[str, tuple[Check, ...]]:
    return {name: held_roof(demo(name)).checks for name in DEMOS}


def kinds(checks: tuple[Check, ...]) -> Counter[Verdict]:
    return Counter(check.verdict for check in checks)


@pytest.mark.parametrize("part", PARTS)
def test_each_kind_of_verdict_occurs_in_each_part(part: HoldPart, checks: dict[str, tuple[Check, ...]]) -> None:
    found = sum((kinds(of_part(checks[name], part)) for name in DEMOS), Counter[Verdict]())
    assert set(found) == {Verdict.HOLDS, Verdict.FAILS, Verdict.NOT_KNOWN}


def test_a_careful_builder_has_nearly_all_of_it_right(checks: dict[str, tuple[Check, ...]]) -> None:
    found = kinds(checks["fennimoor"])
    assert 1 <= found[Verdict.FAILS] <= 3
    assert 1 <= found[Verdict.NOT_KNOWN] <= 8
    assert found[Verdict.HOLDS] > 100
    assert set(kinds(of_part(checks["fennimoor"], "fit"))) == {Verdict.HOLDS}
    assert kinds(of_part(checks["fennimoor"], "wind"))[Verdict.FAILS] == 0


def test_an_impatient_builder_must_not_saw_yet(checks: dict[str, tuple[Check, ...]]) -> None:
    fails = {check.rule.id for check in checks["ottergate"] if check.verdict is Verdict.FAILS}
    for part in PARTS:
        assert kinds(of_part(checks["ottergate"], part))[Verdict.FAILS] >= 2
    # Square corners, latches, staples, bolt heads in bare sheet, a seal that does not touch.
    assert fails >= {"CUT-1101", "ROAD-901", "WIND-603", "JOINT-1205", "FIT-502"}


def test_where_little_is_measured_more_is_unknown_than_fails(checks: dict[str, tuple[Check, ...]]) -> None:
    found = kinds(checks["quellmere"])
    assert found[Verdict.NOT_KNOWN] > 5 * found[Verdict.FAILS]
    asked = {check.unknown for check in checks["quellmere"] if check.verdict is Verdict.NOT_KNOWN}
    assert len(asked) >= 15


def test_one_roof_holds_in_the_wind_and_not_on_the_road(checks: dict[str, tuple[Check, ...]]) -> None:
    mine = checks["larkenmoor"]
    assert kinds(of_part(mine, "wind"))[Verdict.FAILS] == 0
    assert 1 <= kinds(of_part(mine, "road"))[Verdict.FAILS] <= 2
