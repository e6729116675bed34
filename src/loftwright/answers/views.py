"""From results to one page of rows that are ready to show."""

from __future__ import annotations

from loftwright.answers.chart_view import force_chart
from loftwright.answers.draws import Rows
from loftwright.answers.facts import facts
from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.next_steps import do_next, open_steps
from loftwright.answers.odds_words import next_best, odds_line, odds_note, settle
from loftwright.answers.side_view import pose_table, scene
from loftwright.core.checks import Check, Outcome, Tally, tally_of
from loftwright.core.uncertain import Provenance
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, CheckRow, RoofPage
from loftwright.core.wording import Wording
from loftwright.project.model import Project
from loftwright.reference.cautions import ALWAYS, WOUND


def wording(project: Project) -> Wording:
    """Return the wording in the project's units."""
    return Wording(project.settings.units)


def check_row(check: Check, say: Wording) -> CheckRow:
    """Return one judgement as people read it."""
    rule = check.rule
    told = rule.unit != "yes or no"
    value, limit = say.rule_pair(check.value, check.limit, rule.unit)
    margin = ""
    if told and check.margin is not None and check.value is not None and check.limit is not None:
        margin = say.rule_margin(check.margin, check.value, check.limit, rule.unit)
    basis = check.basis if check.unknown is None else f"{settle(check.unknown)}; {check.basis}"
    return CheckRow(
        id=rule.id,
        title=check.words,
        verdict=check.verdict,
        # Where the title says yes or no, figures would only hide it.
        value=value if told and check.value is not None else "",
        limit=f"{rule.sense} {limit}" if told and check.limit is not None else "",
        margin=margin,
        basis=basis,
        reason=rule.reason,
        remedy=rule.remedy,
        source=rule.source.text(),
        inputs=check.inputs,
    )


def provenance_note(rows: Rows) -> str:
    """Return how much of what an answer used is measured."""
    used = [rows.inputs[path].value.provenance for path in rows.columns]
    count = {p: used.count(p) for p in Provenance}
    firm = count[Provenance.MEASURED] + count[Provenance.LABEL]
    return (
        f"Of {len(used)} inputs, {firm} are measured or from a label, {count[Provenance.GIVEN]} are your decisions, "
        f"{count[Provenance.SUGGESTED]} are suggested by the program, "
        f"{count[Provenance.ASSUMED]} are assumed and {count[Provenance.UNKNOWN]} are unknown."
    )


def provenance_of(rows: Rows) -> str:
    """Return how much of what an answer used is measured, and on how many drawn roofs it was judged."""
    return f"{provenance_note(rows)} Judged on {rows.draws.stop - rows.draws.start} roofs drawn from them."


def cautions_of(project: Project) -> tuple[str, ...]:
    """Return the standing cautions, and what the roof's own parts add."""
    return (WOUND, *ALWAYS) if project.coil or project.torsion or project.cord else ALWAYS


def tally(outcome: Outcome[RoofNumbers]) -> Tally:
    """Count the verdicts."""
    return tally_of(check.verdict for check in outcome.checks)


def roof_page(outcome: Outcome[RoofNumbers]) -> RoofPage:
    """Return everything said about one roof on one page."""
    found = outcome.numbers
    project = found.project
    say = wording(project)
    kinds = {"hinge": "hinged", "four-bar": "on four-bar arms", "parallel arms": "on parallel arms"} | {
        "scissor": "on crossing arms",
        "guides": "in straight guides",
    }
    return RoofPage(
        name=project.name,
        subtitle=f"{kinds[project.linkage.kind]} at the {project.linkage.end}; {tally(outcome).text()}",
        odds=odds_line(found),
        odds_note=odds_note(found),
        next_best=next_best(found, say, open_steps(outcome)),
        facts=facts(outcome, say),
        rows=tuple(check_row(check, say) for check in outcome.checks),
        chart=force_chart(found, say),
        scene=scene(found),
        poses=pose_table(found),
        do_next=do_next(outcome, say),
        cautions=tuple(Caution(text) for text in cautions_of(project)),
        assumptions=outcome.assumptions,
        units=project.settings.units,
        provenance=provenance_note(found.rows),
        made_with=MADE_WITH,
        words=project.settings.words,
    )
