"""The list before the cut: what stops, what is a wish, what is known and what is there."""

from __future__ import annotations

from datetime import date

from loftwright.core.checks import Check, Rule, Source, Verdict
from loftwright.core.judged import Judged
from loftwright.core.uncertain import Provenance
from loftwright.core.work import Done, GoNoGo
from loftwright.plan.go_no_go import Part, before_first_road, go_no_go
from loftwright.plan.standard_tasks import Roof, before_the_cut, standard_tasks
from loftwright.plan.work_rules import judge_ready

DAY = date(2026, 3, 2)
BEFORE = before_the_cut(standard_tasks(Roof()))
DONE = {task.id: Done(1.0, DAY) for task in BEFORE}
RING = Part("ring", "in the garage")
KNOWN = {"cut.length": Provenance.MEASURED, "shell.mass": Provenance.ASSUMED, "roof.bow": Provenance.UNKNOWN}


def rule(name: str) -> Rule:
    return Rule(
        name, "It breaks", "It holds", "N", "at most", "Why.", "Make it stronger.", Source("judgement", "", "judgement")
    )


def ready(found: GoNoGo) -> Check:
    judged: Judged = judge_ready(found)
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value[0]), float(judged.limit[0]))


def test_all_ready_is_a_go() -> None:
    held = rule("HOLD-701").judge(1.0, 2.0, inputs=("cut.length",))
    found = go_no_go([held], KNOWN, [RING], BEFORE, DONE)
    assert found.go
    assert (found.unmet, found.on_assumption) == (0, 0)
    assert all(row.stop and not row.do for row in found.rows)
    assert [row.basis for row in found.rows if row.what == "It holds"] == ["measured"]
    assert ready(found).verdict is Verdict.HOLDS


def test_a_hard_stop_that_fails_or_is_not_known_is_a_no_go() -> None:
    fails = rule("HOLD-701").judge(3.0, 2.0)
    waits = rule("RING-1003").not_known("the height of the bows", inputs=("roof.bow",))
    found = go_no_go([waits, fails], KNOWN, [RING], BEFORE, DONE)
    assert not found.go
    assert found.unmet == 2
    assert [row.verdict for row in found.rows[:2]] == [Verdict.FAILS, Verdict.NOT_KNOWN]
    assert found.rows[0].do == "Make it stronger."
    assert found.rows[1].do == "Measure: the height of the bows."
    assert found.rows[1].basis == "not known"
    assert ready(found).verdict is Verdict.FAILS


def test_wishes_do_not_stop_the_cut_and_stand_last() -> None:
    wish = rule("LIFT-205").judge(3.0, 2.0)
    found = go_no_go([wish], KNOWN, [RING, Part("curtain", "not ordered", on_the_day=False)], BEFORE, DONE)
    assert found.go
    assert [row.stop for row in found.rows] == [True] * (len(BEFORE) + 1) + [False, False]


def test_a_roof_that_falls_when_a_spring_fails_stops_although_feel_does_not() -> None:
    falls = rule("LIFT-214").judge(3.0, 2.0)
    assert not go_no_go([falls], KNOWN, [RING], BEFORE, DONE).go


def test_what_holds_on_an_assumption_is_met_but_named() -> None:
    held = rule("ROAD-901").judge(1.0, 2.0, inputs=("shell.mass", "cut.length"))
    found = go_no_go([held], KNOWN, [RING], BEFORE, DONE)
    assert found.go
    assert found.on_assumption == 1
    row = next(row for row in found.rows if row.rests_on)
    assert (row.basis, row.rests_on) == ("only assumed", ("shell.mass",))
    assert "measure" in row.do


def test_ordered_is_not_there() -> None:
    for status, words in (("only ordered", "Wait until"), ("not ordered", "Order it"), ("", "Find out")):
        found = go_no_go([], {}, [Part("ring", status)], BEFORE, DONE)  # type: ignore[arg-type]
        assert not found.go
        assert found.rows[0].do.startswith(words)


def test_a_task_not_ticked_off_stops() -> None:
    found = go_no_go([], {}, [RING], BEFORE, {k: v for k, v in DONE.items() if k != "isolate-battery"})
    assert not found.go
    assert [row.what for row in found.rows if row.verdict is Verdict.FAILS] == ["Isolate the battery"]
    assert found.rows[0].do.startswith("Minus first")


def test_rules_on_the_plan_itself_are_left_out() -> None:
    found = go_no_go([rule("PLAN-2701").judge(3.0, 2.0)], {}, [RING], BEFORE, DONE)
    assert found.go


def test_too_few_helpers_and_a_ring_on_another_day_stop_the_cut() -> None:
    for name in ("PLAN-2704", "PLAN-2705"):
        assert not go_no_go([rule(name).judge(3.0, 2.0)], {}, [RING], BEFORE, DONE).go
        assert go_no_go([rule(name).judge(1.0, 2.0)], {}, [RING], BEFORE, DONE).go


def test_what_must_hold_before_the_first_fast_road() -> None:
    checks = [rule(name).judge(3.0, 2.0) for name in ("ROAD-903", "SUN-2302", "WIRE-2402", "SUN-2301", "LIFT-205")]
    held = [rule("ROAD-901").judge(1.0, 2.0), rule("ROAD-903").judge(4.0, 2.0)]
    assert [check.rule.id for check in before_first_road([*checks, *held])] == ["ROAD-903", "SUN-2302", "WIRE-2402"]
