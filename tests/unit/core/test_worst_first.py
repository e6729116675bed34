"""The order in which judgements are listed."""

from __future__ import annotations

from loftwright.core.checks import Check, Rule, Source, Verdict, worst_first

RULE = Rule("T-1", "bad", "good", "m", "at least", "Why.", "What.", Source("judgement", "", "judgement"))


def test_failures_first_and_the_nearest_to_failing_before_others() -> None:
    far, near, bad = RULE.judge(2.0, 1.0, part="far"), RULE.judge(1.1, 1.0, part="near"), RULE.judge(0.5, 1.0)
    unknown = RULE.not_known("it", value=0.9, limit=1.0)
    assert worst_first((far, near, unknown, bad)) == (bad, unknown, near, far)


def parts(*checks: Check) -> list[str]:
    return [check.part for check in worst_first(checks)]


def test_against_a_limit_of_nought_the_share_that_holds_tells() -> None:
    # Reckoned by hand: 2 x 0.565 - 1 = 0.13, between relative margins of 1 / 11 and 1 / 2.
    slim = RULE.judge(0.0007, 0.0, part="slim", holding=0.565)
    assert slim.verdict is Verdict.HOLDS
    near, far = RULE.judge(1.1, 1.0, part="near"), RULE.judge(2.0, 1.0, part="far")
    assert parts(far, slim, near) == ["near", "slim", "far"]
    # Of two that fail, the one that more roofs fail comes first; without draws it is as before.
    often, seldom = (RULE.judge(-0.001, 0.0, part=f"{h}", holding=h) for h in (0.1, 0.4))
    assert parts(seldom, often) == ["0.1", "0.4"]
    assert parts(far, RULE.judge(0.0007, 0.0, part="not drawn")) == ["far", "not drawn"]
