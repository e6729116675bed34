"""What is said at the hand-over as plain text, fitted to a width."""

from __future__ import annotations

from loftwright.core.work_pages import CARDS, Card, FaultEntry, HandOverPage
from loftwright.documents.plain_text import Look, as_text, caution_lines, fact_lines, grid_lines, heading, points

TITLES: dict[Card, str] = {
    "commissioning": "Commissioning: first lift and first road",
    "service": "Service card",
    "driver": "Driver's card",
    "inspector": "For the inspector",
    "faults": "Fault finding by symptom",
}


def handover_text(page: HandOverPage, look: Look, card: Card | None = None) -> str:
    """Return what `handover` says: one card, or all of them."""
    made = {"commissioning": _commissioning, "service": _service, "driver": _driver, "inspector": _inspector}
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    for one in CARDS:
        if card in (None, one):
            lines += heading(look, TITLES[one])
            lines += _faults(page.faults, look) if one == "faults" else made[one](page, look)
    lines += caution_lines(page.cautions, look)
    return as_text([*lines, "", *points(page.said, look), *look.wrapped(page.provenance)])


def _commissioning(page: HandOverPage, look: Look) -> list[str]:
    lines: list[str] = []
    for number, step in enumerate(page.commissioning, 1):
        lines += ["", *look.wrapped(f"{number}. {step.title} ({step.people})")]
        lines += points(step.do, look)
        for text in step.expect:
            lines += look.wrapped(f"Expect: {text}", 2)
        lines += look.wrapped(f"Stop if {step.stop_if}.", 2)
    return [*lines, *grid_lines(page.readings, look)]


def _service(page: HandOverPage, look: Look) -> list[str]:
    lines: list[str] = []
    when = ""
    for row in page.service:
        if row.when != when:
            when = row.when
            lines += ["", when]
        said = f"- {row.what}: {row.how}"
        lines += look.wrapped(f"{said} This roof: {row.figure}." if row.figure else said, 2, 0)
    return [*lines, *grid_lines(page.torques, look)]


def _driver(page: HandOverPage, look: Look) -> list[str]:
    return points(page.driver, look)


def _inspector(page: HandOverPage, look: Look) -> list[str]:
    lines = fact_lines(page.dossier, look)
    lines += grid_lines(page.masses, look)
    lines += heading(look, "What goes into the folder")
    for name, shows, command in page.sheets.rows:
        lines += look.wrapped(f"- {name}: {shows}" + (f" ({command})" if command else ""), 2, 0)
    lines += heading(look, "Judgements, worst first")
    for row in page.judged:
        figures = "; ".join(text for text in (row.value, row.limit) if text)
        lines += look.wrapped(
            f"{look.verdict(row.verdict)}{row.title}{f': {figures}' if figures else ''} ({row.id})", 11, 0
        )
    lines += heading(look, "What is not assessed") + points(page.not_assessed, look)
    return [*lines, *heading(look, "Sources"), *points(page.sources, look)]


def _faults(faults: tuple[FaultEntry, ...], look: Look) -> list[str]:
    lines: list[str] = []
    where = ""
    for fault in faults:
        if fault.where != where:
            where = fault.where
            lines += ["", look.bold(where)]
        lines += ["", *look.wrapped(f"{fault.symptom}.")]
        lines += look.wrapped(f"Take care: {fault.care}", 2) if fault.care else []
        for number, cause in enumerate(fault.causes, 1):
            lines += look.wrapped(f"{number}. {cause.cause}. Measure: {cause.measure}.", 5, 2)
            own = f"This roof: {cause.own}. " if cause.own else "Not judged on this roof. "
            lines += look.wrapped(f"{own}See {cause.help.title} on the board; {cause.help.command}; {cause.rule}.", 5)
    return lines
