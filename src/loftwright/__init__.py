"""Loftwright: answers for people who build a lifting roof for their own van.

Everything here is loaded when it is first used, so that importing the package costs nothing.
"""

from __future__ import annotations

import importlib as _importlib
import typing as _typing

if _typing.TYPE_CHECKING:
    from loftwright.answers.held_roof import held_roof
    from loftwright.answers.judged_roof import judged_roof
    from loftwright.answers.numbers import results
    from loftwright.answers.scout import scout
    from loftwright.answers.views import roof_page
    from loftwright.core.checks import Check, Outcome, Verdict
    from loftwright.core.errors import LoftwrightError, ProjectFault
    from loftwright.documents.roof_html import roof_html
    from loftwright.documents.roof_sheet import roof_sheet_pdf
    from loftwright.project.catalogues import read_prices
    from loftwright.project.demos import demo
    from loftwright.project.file import edit, loads, read
    from loftwright.project.model import Project
    from loftwright.project.newfile import FiveAnswers, new_project

__all__ = [
    "Check",
    "FiveAnswers",
    "LoftwrightError",
    "Outcome",
    "Project",
    "ProjectFault",
    "Verdict",
    "demo",
    "edit",
    "held_roof",
    "judged_roof",
    "loads",
    "new_project",
    "read",
    "read_prices",
    "results",
    "roof_html",
    "roof_page",
    "roof_sheet_pdf",
    "scout",
]

_HOMES = {
    "Check": "core.checks",
    "FiveAnswers": "project.newfile",
    "LoftwrightError": "core.errors",
    "Outcome": "core.checks",
    "Project": "project.model",
    "ProjectFault": "core.errors",
    "Verdict": "core.checks",
    "demo": "project.demos",
    "edit": "project.file",
    "held_roof": "answers.held_roof",
    "judged_roof": "answers.judged_roof",
    "loads": "project.file",
    "new_project": "project.newfile",
    "read": "project.file",
    "read_prices": "project.catalogues",
    "results": "answers.numbers",
    "roof_html": "documents.roof_html",
    "roof_page": "answers.views",
    "roof_sheet_pdf": "documents.roof_sheet",
    "scout": "answers.scout",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(_importlib.import_module(f"{__name__}.{_HOMES[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
