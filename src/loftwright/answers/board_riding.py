"""All that the drawing board shows of the fit-out, ready to be sent between processes.

What computes is imported where it is asked: the board's own process only carries and writes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.answers.decisions import decisions, link_of
from loftwright.core.board_views import Decision
from loftwright.core.checks import Check, Verdict
from loftwright.core.field_views import Link
from loftwright.core.fitting_pages import FittingPage, SunChart
from loftwright.core.views import CheckRow
from loftwright.core.wording import Wording
from loftwright.project.model import Project
from loftwright.reference.cautions import FITTING

CAUTIONS: Final = FITTING
"""Said also before the fit-out is judged."""


@dataclass(frozen=True, slots=True)
class BoardRiding:
    """The fit-out of one roof judged: its page, how the decisions stand, what does not hold.

    `links` say where each judgement leads, as long as `page.rows`.
    """

    page: FittingPage
    decisions: tuple[Decision, ...]
    links: tuple[Link, ...]
    open_checks: tuple[Check, ...]

    @property
    def rows(self) -> tuple[tuple[CheckRow, Link], ...]:
        """The judgements, each with where it leads."""
        return tuple(zip(self.page.rows, self.links, strict=True))


def board_riding(project: Project) -> BoardRiding:
    """Return all that is judged of a project's fit-out.

    Errors: ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    from loftwright.answers.fitted_roof import fitted_roof
    from loftwright.answers.fitting_view import fitting_page

    outcome = fitted_roof(project)
    return BoardRiding(
        fitting_page(outcome),
        decisions(outcome.checks),
        tuple(link_of(project, check) for check in outcome.checks),
        tuple(check for check in outcome.checks if check.verdict is not Verdict.HOLDS),
    )


def headings_table(sun: SunChart | None) -> dict[str, object] | None:
    """Return what every heading gives in the dark months as texts, for looking it up; None without a panel.

    `share` is each of these over the largest number shown [1], raised, flat and used.
    """
    if sun is None or not sun.headings:
        return None
    say = Wording()
    most = max(*sun.by_heading, *sun.by_heading_flat, sun.use, 1.0)
    pairs = tuple(zip(sun.headings, sun.by_heading, sun.by_heading_flat, strict=True))
    return {
        "best": sun.best,
        "use": say.whole(sun.use, "W h"),
        "use_share": round(sun.use / most, 4),
        "headings": [
            {
                "name": name,
                "raised": say.whole(raised, "W h"),
                "flat": say.whole(flat, "W h"),
                "shares": [round(raised / most, 4), round(flat / most, 4)],
                "enough": [raised >= sun.use, flat >= sun.use],
            }
            for name, raised, flat in pairs
        ],
    }
