"""Cards of the hand-over: first lift, service by season, the driver's card, the inspector's folder, fault finding."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from itertools import groupby
from typing import Any, Final

from loftwright.core.checks import Verdict
from loftwright.core.work_pages import FaultCause, FaultEntry, HandOverPage
from loftwright.documents.chapters import Chapter
from loftwright.documents.hold_pieces import closest, grid_of
from loftwright.documents.roof_sheet import sentence

FIRST_LIFT: Final = "Commissioning: first lift and first road"
SERVICE: Final = "Service card"
DASH: Final = "Driver's card"
FOLDER: Final = "The inspector's folder"
FAULTS: Final = "When something is wrong"


def commissioning(page: HandOverPage) -> Chapter:
    """Return first lift, readings, latches, water and first fast road, step by step."""
    return {
        "kind": "first-lift",
        "title": FIRST_LIFT,
        "steps": [
            {
                "title": step.title,
                "people": step.people,
                "do": list(step.do),
                "expect": list(step.expect),
                "stop": sentence(step.stop_if),
            }
            for step in page.commissioning
        ],
        "readings": grid_of(page.readings),
        "provenance": page.provenance,
        "cautions": [caution.text for caution in page.cautions],
    }


def service(page: HandOverPage) -> Chapter:
    """Return what is looked after in each season, with boxes for some years, and the bolts."""
    seasons = [
        {
            "when": when,
            "rows": [{"what": row.what, "how": row.how, "figure": row.figure} for row in rows],
        }
        for when, rows in groupby(page.service, key=lambda row: row.when)
    ]
    return {
        "kind": "service",
        "title": SERVICE,
        "seasons": seasons,
        "torques": grid_of(page.torques),
        "provenance": page.provenance,
        "cautions": [caution.text for caution in page.cautions],
    }


def dash(page: HandOverPage) -> Chapter:
    """Return the card to cut out and hang on the dash: the height in large figures, then what to look at."""
    first, *rest = page.driver
    label, _, figure = first.partition(": ")
    return {
        "kind": "dash",
        "title": DASH,
        "label": label,
        "figure": figure or first,
        "gust": rest[0] if rest else "",
        "lines": [sentence(line) for line in rest[1:]],
    }


def folder(page: HandOverPage) -> Chapter:
    """Return what the inspector is given: figures, masses, judgements asked for first, and the list of sheets."""
    return {
        "kind": "folder",
        "title": FOLDER,
        "facts": [asdict(fact) for fact in page.dossier],
        "masses": grid_of(page.masses),
        "rows": closest(page.judged),
        "sheets": [list(row) for row in page.sheets.rows],
        "missing": list(page.not_assessed),
        "sources": list(page.sources),
        "said": list(page.said),
        "provenance": page.provenance,
    }


def _own(cause: FaultCause) -> str:
    return sentence(cause.own) if cause.own else ""


def _fault(fault: FaultEntry) -> dict[str, Any]:
    return {
        "symptom": sentence(fault.symptom).rstrip("."),
        "care": fault.care,
        "causes": [
            {
                "cause": cause.cause,
                "measure": sentence(cause.measure),
                "own": _own(cause),
                "verdict": "" if cause.verdict is None else cause.verdict.value,
                "bold": cause.verdict in (Verdict.FAILS, Verdict.NOT_KNOWN),
                "see": f"{cause.help.sheet} ({cause.help.command})",
            }
            for cause in fault.causes
        ],
    }


def _places(faults: Iterable[FaultEntry]) -> list[dict[str, Any]]:
    return [
        {"where": where, "faults": [_fault(one) for one in group]}
        for where, group in groupby(faults, key=lambda fault: fault.where)
    ]


def faults(page: HandOverPage) -> Chapter:
    """Return symptoms with their causes in the order in which to look, each with this roof's own figure."""
    return {
        "kind": "faults",
        "title": FAULTS,
        "places": _places(page.faults),
        "cautions": [caution.text for caution in page.cautions],
    }
