"""The fit-out of one roof as one page that is ready to show."""

from __future__ import annotations

from loftwright.answers.fitted_roof import FittedNumbers
from loftwright.answers.fitting_lift_view import lift_drawn, lift_section, lining_section
from loftwright.answers.fitting_panel_view import loop_drawn, panel_section, sun_chart, wire_drawn
from loftwright.answers.fitting_seal_view import seal_drawn, seal_section
from loftwright.answers.fitting_standing_view import room_map, standing_section
from loftwright.answers.hold_view import KINDS
from loftwright.answers.taken_fit import taken_fit
from loftwright.answers.views import check_row, provenance_of, wording
from loftwright.core.checks import Outcome
from loftwright.core.fitting_pages import FittingPage
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution
from loftwright.core.wording import Wording
from loftwright.reference.cautions import FITTING


def _subtitle(fitted: FittedNumbers, say: Wording) -> str:
    project, found = fitted.project, fitted.found
    link = project.linkage
    rides = [name for name, there in (("panel", found.panel), ("powered lift", found.lift.lift)) if there is not None]
    rides += ["lining"] if found.lining is not None else []
    with_it = f"with {', '.join(rides)}" if rides else "nothing rides on it yet"
    seal = say.length(float(found.seal.length[0]))
    return f"{KINDS[link.kind]} at the {link.end}; seal {seal} round; {with_it}"


def fitting_page(outcome: Outcome[FittedNumbers]) -> FittingPage:
    """Return everything said about the fit-out of one roof on one page."""
    fitted, checks = outcome.numbers, outcome.checks
    project = fitted.project
    say = wording(project)
    return FittingPage(
        name=project.name,
        subtitle=_subtitle(fitted, say),
        sections=(
            seal_section(fitted, checks, say),
            standing_section(fitted, checks, say),
            panel_section(fitted, checks, say),
            lift_section(fitted, checks, say),
            lining_section(fitted, checks, say),
        ),
        rows=tuple(check_row(check, say) for check in checks),
        seal=seal_drawn(fitted, say),
        room=room_map(fitted, say),
        sun=sun_chart(fitted, say),
        loop=loop_drawn(fitted, say),
        wire=wire_drawn(fitted, say),
        lift=lift_drawn(fitted),
        offered=taken_fit(fitted),
        cautions=tuple(Caution(text) for text in FITTING),
        assumptions=outcome.assumptions,
        provenance=provenance_of(fitted.rows),
        units=project.settings.units,
        made_with=MADE_WITH,
        words=project.settings.words,
    )
