"""What the process for long work does: each function asks the answers and says how far they are."""

from __future__ import annotations

from loftwright.answers.board_choice import Asked, BoardChoice, springs_for
from loftwright.answers.book import BookChoice
from loftwright.answers.choose_search import Work
from loftwright.board import jobs
from loftwright.core.book_views import HoldSheet, Paper, Sheet
from loftwright.core.choices import Units
from loftwright.project.model import Project


def springs(project: Project, asked: Asked) -> BoardChoice:
    """Search springs for a project. Errors: ProjectFault."""
    return springs_for(project, asked, Work(None, jobs.tell, jobs.stopped))


# --- papers ------------------------------------------------------------------------------------------


def measuring_sheet(project: Project | None, units: Units) -> bytes:
    """Return the measuring sheet of a project, or a blank one. Errors: ProjectFault for a roof hinged at a side."""
    from loftwright.answers.sheet import blank_page, sheet_page
    from loftwright.documents.measuring_sheet import measuring_sheet_pdf

    return measuring_sheet_pdf(blank_page(units) if project is None else sheet_page(project))


def roof_sheet(project: Project) -> bytes:
    """Return the one-page PDF about the roof. Errors: ProjectFault or CannotAssemble."""
    from loftwright.answers.judged_roof import judged_roof
    from loftwright.answers.views import roof_page
    from loftwright.documents.roof_sheet import roof_sheet_pdf

    return roof_sheet_pdf(roof_page(judged_roof(project)))


def roof_file(project: Project) -> bytes:
    """Return the self-contained page about the roof. Errors: ProjectFault or CannotAssemble."""
    from loftwright.answers.judged_roof import judged_roof
    from loftwright.answers.views import roof_page
    from loftwright.documents.roof_html import roof_html

    return roof_html(roof_page(judged_roof(project))).encode("utf-8")


def book(project: Project, choice: BookChoice | None, only: Sheet | None, paper: Paper | None, height: str) -> bytes:
    """Return the build book or one of its sheets, with the springs of a search where there is one.

    Errors: ProjectFault or CannotAssemble.
    """
    from loftwright.answers.book import book_page, height_of, proof_of
    from loftwright.documents.book import book_pdf

    proof = proof_of(project, choice) if only in (None, "readings") else None
    page = book_page(project, chosen=choice, proof=proof, height=height_of(height), hold=only is None)
    return book_pdf(page, paper=paper, only=only).data


def hold(project: Project, only: HoldSheet | None, paper: Paper | None) -> bytes:
    """Return the sheets on fit and strength, or one of them. Errors: ProjectFault or CannotAssemble."""
    from loftwright.answers.held_roof import held_roof
    from loftwright.answers.hold_view import hold_page
    from loftwright.documents.hold_book import hold_pdf

    return hold_pdf(hold_page(held_roof(project)), paper=paper, only=only).data
