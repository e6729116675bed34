"""What to measure or change next."""

from __future__ import annotations

from dataclasses import replace

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.odds_words import better_force, gain_steps
from loftwright.core.checks import Check, Outcome, Verdict
from loftwright.core.views import DoNext
from loftwright.core.wording import Wording
from loftwright.reference.measuring import measurement


def do_next(outcome: Outcome[RoofNumbers], say: Wording) -> tuple[DoNext, ...]:
    """Return what to measure or change next.

    What adds most to the odds per minute stands first, then what fails as planned, then inputs that open verdicts hang
    on, most verdicts a minute first.
    """
    force = better_force(outcome.numbers, say)
    first = (*(() if force is None else (force,)), *gain_steps(outcome.numbers))
    later = open_steps(outcome)
    known = {task.title: task.why for task in later}
    joined = tuple(
        replace(task, why=f"{task.why}; {known[task.title]}") if task.title in known else task for task in first
    )
    said = {task.title for task in first}
    return (*joined, *(task for task in later if task.title not in said))


def open_steps(outcome: Outcome[RoofNumbers]) -> tuple[DoNext, ...]:
    """Return what fails as planned, then inputs that open verdicts hang on, most verdicts a minute first."""
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
