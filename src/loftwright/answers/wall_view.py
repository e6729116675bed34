"""The cloth walls of one roof as one page that is ready to show."""

from __future__ import annotations

from dataclasses import replace

from loftwright.answers.hold_view import KINDS
from loftwright.answers.views import check_row, provenance_of, wording
from loftwright.answers.wall_fold_view import fold_note, fold_places, fold_section, tucking
from loftwright.answers.wall_metres_view import cloth_rows, metres_section, roll_needs
from loftwright.answers.wall_sewing_view import sewing_bill, sewing_section, sewing_steps, trial
from loftwright.answers.wall_shape_view import rulings, shape_section, space_lines, strip
from loftwright.answers.wall_warmth_view import warmth_section
from loftwright.answers.wall_water_view import edges_of, water_section
from loftwright.answers.wall_windows_view import windows_section
from loftwright.answers.walled_roof import WallNumbers
from loftwright.core.checks import Outcome
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution
from loftwright.core.wall_views import WallPage
from loftwright.core.wording import Wording
from loftwright.reference.cautions import WALLS


def _subtitle(walls: WallNumbers, say: Wording) -> str:
    link, outer = walls.project.linkage, next((one for one in walls.project.layer if one.role == "outer"), None)
    cloth = "no cloth chosen yet" if outer is None else f"outer cloth: {outer.name}"
    around = say.length(float(walls.found.lines.lower.perimeter[0]))
    return f"{KINDS[link.kind]} at the {link.end}; lower line {around} round; {cloth}"


def wall_page(outcome: Outcome[WallNumbers]) -> WallPage:
    """Return everything said about the cloth walls of one roof on one page."""
    walls, checks = outcome.numbers, outcome.checks
    project = walls.project
    say = wording(project)
    lower, upper = space_lines(walls)
    bill = sewing_bill(walls, say)
    return WallPage(
        name=project.name,
        subtitle=_subtitle(walls, say),
        sections=(
            shape_section(walls, checks, say),
            water_section(walls, checks, say),
            sewing_section(walls, checks, say),
            windows_section(walls, checks, say),
            metres_section(walls, checks, say),
            warmth_section(walls, checks, say),
            fold_section(walls, checks, say),
        ),
        rows=tuple(check_row(check, say) for check in checks),
        strip=strip(walls, say),
        lower=lower,
        upper=upper,
        rulings=rulings(walls),
        pieces=walls.found.pieces.pieces,
        rolls=roll_needs(walls, say),
        water=edges_of(walls, say),
        sewing=sewing_steps(walls, say),
        bill=replace(bill, rows=(*cloth_rows(walls, say), *bill.rows)),
        places=fold_places(walls, say),
        fold=walls.kept.fold_is,
        fold_note=fold_note(walls, say),
        tucking=tucking(walls, say),
        trial=trial(walls, say),
        cautions=tuple(Caution(text) for text in WALLS),
        assumptions=outcome.assumptions,
        provenance=provenance_of(walls.rows),
        units=project.settings.units,
        made_with=MADE_WITH,
        words=project.settings.words,
    )
