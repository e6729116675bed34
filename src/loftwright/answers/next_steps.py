"""What to measure or change next."""

from __future__ import annotations

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.core.checks import Check, Outcome, Verdict
from loftwright.core.views import DoNext
from loftwright.reference.measuring import measurement


def do_next(outcome: Outcome[RoofNumbers]) -> tuple[DoNext, ...]:
    """Return what to measure or change next: inputs that open verdicts hang on, most verdicts a minute first."""
    waits: dict[str, list[Check]] = {}
    for check in outcome.checks:
        if check.verdict is Verdict.NOT_KNOWN:
            waits.setdefault(check.inputs[0] if check.inputs else check.rule.id, []).append(check)
    found = []
    for path, checks in waits.items():
        known = measurement(path)
        why = "settles: " + "; ".join(c.rule.title[0].lower() + c.rule.title[1:] for c in checks[:3])
        if len(checks) > 3:
            why += f" and {len(checks) - 3} more"
        if known is None:
            found.append((0.0, DoNext(f"Find out: {checks[0].unknown}", None, "", why)))
        else:
            found.append((len(checks) / known.minutes, DoNext(known.title, known.minutes, known.how, why)))
    merged: dict[str, tuple[float, DoNext]] = {}
    for rank, task in found:
        seen = merged.get(task.title)
        merged[task.title] = (rank, task) if seen is None else (seen[0] + rank, seen[1])
    ordered = sorted(merged.values(), key=lambda pair: (-pair[0], pair[1].title))
    fails = [
        DoNext(check.rule.remedy, None, "", f"as planned: {check.rule.title[0].lower()}{check.rule.title[1:]}")
        for check in outcome.checks
        if check.verdict is Verdict.FAILS
    ]
    return (*fails[:2], *(task for _, task in ordered))
