"""Fault finding by symptom: causes in the order in which to look, and what the answers say of this very roof."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from loftwright.answers.decisions import DECISIONS, FIT, JOINTS, LIFTS, OPENING, RIDING, WALLS, WIND, page_of_rule
from loftwright.answers.hold_said import lower
from loftwright.answers.views import check_row
from loftwright.core.checks import Check, Verdict, worst_first
from loftwright.core.wording import Wording
from loftwright.core.work_pages import FaultCause, FaultEntry, HelpPage
from loftwright.project.model import Project
from loftwright.reference.hand_over import SYMPTOMS, UNHOOK, Cause, Needs

COMMANDS: Final = {
    **dict.fromkeys((FIT, WIND, OPENING, JOINTS), ("strength", "loftwright hold")),
    WALLS: ("walls", "loftwright walls"),
    RIDING: ("fit-out", "loftwright fitout"),
    LIFTS: ("force card", "loftwright forces"),
}
"""Sheet and command that explain what a page of the board decides; verdicts on movement stand in `check`."""
TITLES: Final = {page.path: page.title for page in DECISIONS}


def has(project: Project) -> frozenset[Needs]:
    """Return what a roof has, as far as its faults and its service hang on it."""
    found: list[tuple[Needs, bool]] = [
        ("springs", bool(project.spring or project.coil or project.torsion or project.cord)),
        ("hinge", project.linkage.kind == "hinge"),
        ("guides", project.linkage.kind == "guides"),
        ("arms", project.linkage.kind not in ("hinge", "guides")),
        ("brace", project.brace is not None),
        ("panel", project.panel is not None),
        ("lift", project.lift is not None),
        ("lining", project.lining is not None),
        ("windows", bool(project.window)),
    ]
    return frozenset(name for name, there in found if there)


def help_of_rule(rule: str) -> HelpPage:
    """Return where a rule is decided and explained, by its id."""
    path = page_of_rule(rule)
    sheet, command = COMMANDS.get(path, ("verdicts", "loftwright check"))
    return HelpPage(TITLES[path], path, sheet, command)


def _own(checks: Iterable[Check], rule: str, say: Wording) -> tuple[str, Verdict | None]:
    """Return what is said of this roof under a rule, the worst of its judgements, with value and limit."""
    mine = worst_first(tuple(check for check in checks if check.rule.id == rule))
    if not mine:
        return "", None
    row = check_row(mine[0], say)
    figures = ", ".join(text for text in (row.value, row.limit) if text)
    if mine[0].verdict is Verdict.NOT_KNOWN:
        figures = "; ".join(text for text in (figures, "not known yet") if text)
    return f"{lower(row.title)}{f': {figures}' if figures else ''}", row.verdict


def _cause(cause: Cause, checks: tuple[Check, ...], say: Wording) -> FaultCause:
    own, verdict = _own(checks, cause.rule, say)
    return FaultCause(cause.cause, cause.measure, own, verdict, cause.rule, help_of_rule(cause.rule))


def fault_entries(
    project: Project, checks: tuple[Check, ...], say: Wording, unhook: str = UNHOOK
) -> tuple[FaultEntry, ...]:
    """Return the symptoms that this roof can have, each with its causes; `checks` are all judgements there are.

    `unhook` is how a spring is taken off, said wherever one must be.
    """
    there = has(project)
    found = []
    for one in SYMPTOMS:
        if one.needs is not None and one.needs not in there:
            continue
        causes = tuple(
            _cause(cause, checks, say) for cause in one.causes if cause.needs is None or cause.needs in there
        )
        if causes:
            off = "springs" in there and any(cause.unhooks for cause in one.causes)
            care = " ".join(text for text in (one.care, unhook if off else "") if text)
            found.append(FaultEntry(one.id, one.symptom, one.where, causes, care))
    return tuple(found)
