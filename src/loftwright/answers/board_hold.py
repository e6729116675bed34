"""All that the drawing board shows of fit and strength, ready to be sent between processes."""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.answers.decisions import decisions, link_of, page_of_rule
from loftwright.answers.held_roof import held_roof
from loftwright.answers.hold_view import hold_page
from loftwright.core.board_views import Decision
from loftwright.core.checks import Check, Verdict
from loftwright.core.field_views import Link
from loftwright.core.hold_views import HoldPage
from loftwright.core.views import CheckRow
from loftwright.project.model import Project


@dataclass(frozen=True, slots=True)
class BoardHold:
    """Fit and strength of one roof judged: its page, how each decision stands, and what does not hold.

    `links` say where each judgement leads and `on_page` on which page it is counted, both as long as `page.rows`.
    """

    page: HoldPage
    decisions: tuple[Decision, ...]
    links: tuple[Link, ...]
    on_page: tuple[str, ...]
    open_checks: tuple[Check, ...]

    def rows_on(self, path: str) -> tuple[tuple[CheckRow, Link], ...]:
        """Return the judgements that are counted on a page, each with where it leads."""
        every = zip(self.page.rows, self.links, self.on_page, strict=True)
        return tuple((row, link) for row, link, page in every if page == path)


def board_hold(project: Project) -> BoardHold:
    """Return all that is judged of a project's fit and strength.

    Errors: ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    outcome = held_roof(project)
    return BoardHold(
        hold_page(outcome),
        decisions(outcome.checks),
        tuple(link_of(project, check) for check in outcome.checks),
        tuple(page_of_rule(check.rule.id) for check in outcome.checks),
        tuple(check for check in outcome.checks if check.verdict is not Verdict.HOLDS),
    )
