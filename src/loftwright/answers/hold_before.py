"""What must hold before the saw comes out: the look behind the lining, and all that is judged of the roof."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from loftwright.answers.held_opening import MustHold
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_said import capital, lower, of_part
from loftwright.answers.odds_words import measurable, settle
from loftwright.core.checks import Check, Verdict, tally_of
from loftwright.core.hold_views import HOLD_PARTS, GoNoGo, HoldPart
from loftwright.project.plane import CROSSWISE
from loftwright.reference.field_words import label_of

WHAT: Final[dict[HoldPart, str]] = {
    "fit": "The shell sits on the roof",
    "wind": "Raised, it stands the gust that you want",
    "road": "Closed, it holds on the road",
    "opening": "The ring does what the roof's skin did",
    "joints": "Bolts, rivets and sheet hold",
    "van": "The van carries it",
}
ORDER: Final = (Verdict.FAILS, Verdict.NOT_KNOWN, Verdict.HOLDS)
AT_ONCE: Final = "Decide on it, and write it into the file."


def before_the_cut(held: HeldNumbers, checks: tuple[Check, ...]) -> tuple[GoNoGo, ...]:
    """Return the list before the cut, worst first: what is looked for on the body, then each question judged."""
    found = [_looked(held, one, checks) for one in held.found.opening.must_hold]
    found += [_judged(part, of_part(checks, part)) for part in HOLD_PARTS]
    return tuple(sorted(found, key=lambda one: ORDER.index(one.verdict)))


def _worst(checks: Iterable[Check]) -> Check | None:
    """Return the worst judgement, leaving out what nobody can settle: that stops no saw, its remedy is done anyway."""
    return min(
        (check for check in checks if not _unpublished(check)), key=lambda c: ORDER.index(c.verdict), default=None
    )


def _unpublished(check: Check) -> bool:
    """Whether a judgement waits for what nobody has published, not for a measurement."""
    return check.verdict is Verdict.NOT_KNOWN and not measurable(check.unknown or "")


def _to_do(check: Check) -> str:
    """Return what to do about a judgement that does not hold."""
    if check.verdict is Verdict.FAILS:
        return f"{capital(check.words)}: {lower(check.rule.remedy)}"
    if check.unknown:
        return f"{capital(settle(check.unknown))}."
    return check.rule.remedy


def _looked(held: HeldNumbers, must: MustHold, checks: tuple[Check, ...]) -> GoNoGo:
    mine = [
        check
        for check in checks
        for rule, part in must.rules
        if check.rule.id == rule and (not part or check.part == part)
    ]
    worst = _worst(mine)
    verdict = Verdict.HOLDS if worst is None else worst.verdict
    if verdict is not Verdict.FAILS and must.state in ("not looked", "only assumed"):
        verdict = Verdict.NOT_KNOWN
    if verdict is Verdict.HOLDS:
        return GoNoGo(must.what, verdict, must.state, "")
    if worst is not None and worst.verdict is verdict:
        claimed = must.state in ("decided", "measured") and verdict is Verdict.FAILS
        return GoNoGo(must.what, verdict, f"{must.state}, but not so" if claimed else must.state, _to_do(worst))
    across = held.found.basis.plane is CROSSWISE
    names = ", ".join(lower(label_of(key, across=across)) for key in must.keys)
    return GoNoGo(must.what, verdict, must.state, f"Measure or look: {names}." if names else AT_ONCE)


def _judged(part: HoldPart, mine: tuple[Check, ...]) -> GoNoGo:
    worst = _worst(mine)
    if worst is None:
        return GoNoGo(WHAT[part], Verdict.NOT_KNOWN, "nothing is judged yet", AT_ONCE)
    state = tally_of(check.verdict for check in mine).text()
    if worst.verdict is not Verdict.HOLDS:
        return GoNoGo(WHAT[part], worst.verdict, state, _to_do(worst))
    advised = dict.fromkeys(
        f"{capital(check.unknown or '')}: {lower(check.rule.remedy)}" for check in mine if _unpublished(check)
    )
    return GoNoGo(WHAT[part], Verdict.HOLDS, state, " ".join(advised))
