"""All that the drawing board shows of one roof beside the drawing, ready to be sent between processes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from loftwright.answers.decisions import decisions, key_behind, link_at, link_of, page_of_rule
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.odds_words import BY_COMMAND
from loftwright.answers.views import roof_page
from loftwright.core.board_views import Decision
from loftwright.core.checks import Check, Verdict
from loftwright.core.field_views import Link
from loftwright.core.views import CheckRow, DoNext, RoofPage
from loftwright.project.model import Project
from loftwright.reference.field_words import label_of
from loftwright.reference.measuring import MEASUREMENTS


@dataclass(frozen=True, slots=True)
class BoardHome:
    """One roof judged: its page, how each decision stands, and what does not hold.

    `choose`: whether what comes next is to look for springs. `links` say where each judgement leads and `on_page` on
    which page it is counted, both as long as `page.rows`. `steps`: what to do next, and where it is written down.
    """

    page: RoofPage
    choose: bool
    decisions: tuple[Decision, ...]
    links: tuple[Link, ...]
    on_page: tuple[str, ...]
    open_checks: tuple[Check, ...]
    steps: tuple[tuple[DoNext, Link | None], ...]

    @property
    def pairs(self) -> tuple[tuple[CheckRow, Link], ...]:
        """Each judgement as people read it with where it leads."""
        return tuple(zip(self.page.rows, self.links, strict=True))


def board_home(project: Project) -> BoardHome:
    """Return all that is judged of a project.

    Errors: ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    outcome = judged_roof(project)
    page = roof_page(outcome)
    return BoardHome(
        replace(page, next_best=page.next_best.replace(f" {BY_COMMAND}", "")),
        BY_COMMAND in page.next_best,
        decisions(outcome.checks),
        tuple(link_of(project, check) for check in outcome.checks),
        tuple(page_of_rule(check.rule.id) for check in outcome.checks),
        tuple(check for check in outcome.checks if check.verdict is not Verdict.HOLDS),
        steps_of(project, page),
    )


def steps_of(project: Project, page: RoofPage) -> tuple[tuple[DoNext, Link | None], ...]:
    """Return what to do next, each with where what was found is written down, where that is one of the file's keys."""
    places: dict[str, str] = {}
    for path, known in MEASUREMENTS.items():
        section, _, key = path.partition(".")
        entries = getattr(project, section)
        if isinstance(entries, tuple):
            # What is said of a list is written down in its first entry.
            path = f"{section}.0.{key}" if entries else ""
        if path:
            places.setdefault(known.title, key_behind(path))
    return tuple(
        (step, link_at(project, places[step.title]) if step.title in places else None) for step in page.do_next
    )


def change_words(paths: Sequence[str]) -> str:
    """Return in a few words what a change of these keys is about.

    >>> change_words(["shell.mass"]), change_words(["shell.mass", "shell.length"])
    ('weight of the bare shell', 'weight of the bare shell and 1 more')
    """
    try:
        label = label_of(paths[0])
    except LookupError:
        # No value of the file: the file refuses it by its path.
        label = paths[0] or "a value"
    first = f"{label[0].lower()}{label[1:]}"
    return first if len(paths) == 1 else f"{first} and {len(paths) - 1} more"
