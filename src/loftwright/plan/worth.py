"""Worth starting? What a "yes", a "probably" and a "no" mean, and which troubles are the likeliest.

A "no" is said only where the builder cannot mend it later: of headroom and floor. Springs, latches and props
can be changed on paper at no cost, so that their failures are troubles and no reason against starting.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from enum import StrEnum
from typing import Final

from loftwright.core.checks import Check, Rule, Source, Verdict

HOPELESS: Final = 0.8
"""Share of the drawn roofs that must fail, beside the nominal one, for a plain no. Judgement."""
FOUR_PEOPLE: Final = 100.0
"""Mass [kg] that four people, one at each corner, bring from a bench onto a roof: 25 kg each. Judgement."""
AS_LIKELY_AS_NOT: Final = 0.5

LIFT_ON: Final = Rule(
    "PLAN-103",
    "Four people cannot lift the shell onto the roof",
    "Four people can lift the shell onto the roof",
    "kg",
    "at most",
    "The finished shell goes up and down several times while hinges, seal and springs are fitted.",
    "Use a hoist, lift it before panel and lining are on, or build it lighter.",
    Source("judgement", "25 kg for each of four people, one at each corner", "judgement"),
)
BY_HAND: Final = Rule(
    "PLAN-104",
    "The roof is too heavy to open without springs",
    "The roof can be opened without springs",
    "hand N",
    "at most",
    "No springs are in the file yet, so that the hand carries all of it.",
    "Choose springs and their places; until then how it will feel is not judged.",
    Source("derivation", "virtual work, docs/theory.md; limit by judgement", "derivation"),
)


class Worth(StrEnum):
    """Whether a roof is worth starting."""

    YES = "yes"
    PROBABLY = "probably"
    NO = "no"


def trouble_share(check: Check) -> float:
    """Return how likely the trouble that a check names is [1], 0 .. 1: the share of the drawn roofs that fail.

    Without draws the verdict decides; what cannot be judged at all counts as likely as not.
    """
    if check.holding is not None:
        return 1.0 - check.holding
    return {Verdict.FAILS: 1.0, Verdict.NOT_KNOWN: AS_LIKELY_AS_NOT, Verdict.HOLDS: 0.0}[check.verdict]


def is_hopeless(check: Check) -> bool:
    """Whether a check fails for the nominal roof and for at least `HOPELESS` of the drawn ones."""
    margin = check.margin
    return margin is not None and margin < 0 and trouble_share(check) >= HOPELESS


def worth_starting(checks: Iterable[Check], vital: Collection[Rule], essential: Collection[Rule]) -> Worth:
    """Return whether a roof is worth starting.

    no: a check of a vital rule is hopeless. yes: every check of a vital or essential rule holds.
    probably: one of them is not known yet, or fails in a way that can still be mended.

    `vital`: rules of headroom and floor. `essential`: further rules that no spring, latch or prop can mend.
    """
    against = reasons(checks, vital, essential)
    if any(check.rule in vital and is_hopeless(check) for check in against):
        return Worth.NO
    return Worth.PROBABLY if against else Worth.YES


def reasons(checks: Iterable[Check], vital: Collection[Rule], essential: Collection[Rule]) -> tuple[Check, ...]:
    """Return the checks that stand against a plain yes, the strongest first; nothing when it is a yes.

    Where a vital check is hopeless, those alone are returned.
    """
    against = [c for c in checks if c.rule in (*vital, *essential) and c.verdict is not Verdict.HOLDS]
    hopeless = [c for c in against if c.rule in vital and is_hopeless(c)]
    return tuple(sorted(hopeless or against, key=lambda check: _rank(check, essential)))


def likeliest(checks: Iterable[Check], essential: Collection[Rule], count: int = 3) -> tuple[Check, ...]:
    """Return the `count` likeliest troubles [1]: the greatest share of failing roofs, then the least margin.

    Of several parts judged by one rule the worst alone is named. Between equals an essential rule goes first.
    """
    found: dict[str, Check] = {}
    for check in sorted(checks, key=lambda check: _rank(check, essential)):
        found.setdefault(check.rule.id, check)
    return tuple(found.values())[:count]


def _rank(check: Check, first: Collection[Rule]) -> tuple[float, bool, float, str, str]:
    margin = 0.0 if check.relative_margin is None else check.relative_margin
    return -trouble_share(check), check.rule not in first, margin, check.rule.id, check.part
