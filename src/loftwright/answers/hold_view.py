"""Fit and strength of one roof as one page that is ready to show."""

from __future__ import annotations

from typing import Final

from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_before import before_the_cut
from loftwright.answers.hold_cut_view import bar_words, corner_templates, cut_plan, ring_pieces, stock_table
from loftwright.answers.hold_fit_view import fit_section, gap_chart, packer_templates
from loftwright.answers.hold_joints_view import hole_schedule, joints_section
from loftwright.answers.hold_opening_view import opening_section
from loftwright.answers.hold_road_view import enough_up_to, road_section, van_section
from loftwright.answers.hold_wind_play import wind_play
from loftwright.answers.hold_wind_view import wind_card, wind_section
from loftwright.answers.views import check_row, provenance_of, wording
from loftwright.core.checks import Outcome
from loftwright.core.hold_views import HoldPage
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution
from loftwright.core.wording import Wording
from loftwright.reference.cautions import STRENGTH

KINDS: Final = {
    "hinge": "hinged",
    "four-bar": "on four-bar arms",
    "parallel arms": "on parallel arms",
    "scissor": "on crossing arms",
    "guides": "in straight guides",
}


def _subtitle(held: HeldNumbers, say: Wording) -> str:
    link, plan, brace = held.project.linkage, held.found.opening.cut.plan, held.project.brace
    hole = f"hole of {say.length(plan.length)} x {say.length(plan.width)}"
    steadied = f"brace: {brace.kind}" if brace is not None else "no brace"
    ring = bar_words(held.found.opening.ring.bar, say)
    return f"{KINDS[link.kind]} at the {link.end}; {hole}, ring of {ring}; {steadied}"


def hold_page(outcome: Outcome[HeldNumbers]) -> HoldPage:
    """Return everything said about fit and strength of one roof on one page."""
    held, checks = outcome.numbers, outcome.checks
    project = held.project
    say = wording(project)
    return HoldPage(
        name=project.name,
        subtitle=_subtitle(held, say),
        sections=(
            fit_section(held, checks, say),
            wind_section(held, checks, say),
            road_section(held, checks, say),
            opening_section(held, checks, say),
            joints_section(held, checks, say),
            van_section(held, checks, say),
        ),
        rows=tuple(check_row(check, say) for check in checks),
        gap=gap_chart(held, say),
        packers=packer_templates(held, say),
        wind=wind_play(held, say),
        plan=cut_plan(held, say),
        corners=corner_templates(held, say),
        ring_pieces=ring_pieces(held, say),
        stock=stock_table(held, say),
        holes=hole_schedule(held, say),
        before_the_cut=before_the_cut(held, checks),
        wind_card=wind_card(held, enough_up_to(held), say),
        cautions=tuple(Caution(text) for text in STRENGTH),
        assumptions=outcome.assumptions,
        provenance=provenance_of(held.rows),
        units=project.settings.units,
        made_with=MADE_WITH,
        words=project.settings.words,
    )
