"""What the process for long work does: each function asks the answers and says how far they are."""

from __future__ import annotations

from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import Literal
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from loftwright.answers.board_choice import Asked, BoardChoice, springs_for
from loftwright.answers.book import BookChoice
from loftwright.answers.choose_search import Work
from loftwright.board import jobs
from loftwright.core.book_views import REST_SHEETS, BookSheet, HoldSheet, Paper, WallSheet
from loftwright.core.choices import Units
from loftwright.core.wall_views import WallPage
from loftwright.project.model import Project

PatternKind = Literal["tiles", "long", "dxf", "svg"]
"""How patterns are sent: on sheets to be taped together, on one long page, or as drawings."""


def springs(project: Project, asked: Asked) -> BoardChoice:
    """Search springs for a project. Errors: ProjectFault."""
    return springs_for(project, asked, Work(None, jobs.tell, jobs.stopped))


def walls(project: Project, path: Path, fold: bool, lay: bool) -> bool:
    """Work out the slow answers on the walls that are asked for and keep them; return whether they came to their end.

    Errors: ProjectFault or CannotAssemble.
    """
    from loftwright.answers.kept_reading import kept_now

    return kept_now(project, path, fold=fold, lay=lay, tell=jobs.tell, stopped=jobs.stopped)[1]


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


def book(
    project: Project, path: Path, choice: BookChoice | None, only: BookSheet | None, paper: Paper | None, height: str
) -> bytes:
    """Return the build book or one of its sheets, with the springs of a search where there is one.

    Errors: ProjectFault or CannotAssemble.
    """
    from loftwright.answers.book import book_page, height_of, proof_of
    from loftwright.answers.kept_reading import kept_walls
    from loftwright.answers.kept_walls import NOTHING_KEPT
    from loftwright.documents.book import book_pdf

    proof = proof_of(project, choice) if only in (None, "readings") else None
    whole = only is None
    page = book_page(
        project,
        chosen=choice,
        proof=proof,
        height=height_of(height),
        hold=whole,
        walls=whole,
        rest=whole or only in REST_SHEETS,
        kept=kept_walls(path, project) if whole or only in REST_SHEETS else NOTHING_KEPT,
    )
    return book_pdf(page, paper=paper, only=only).data


def hold(project: Project, only: HoldSheet | None, paper: Paper | None) -> bytes:
    """Return the sheets on fit and strength, or one of them. Errors: ProjectFault or CannotAssemble."""
    from loftwright.answers.held_roof import held_roof
    from loftwright.answers.hold_view import hold_page
    from loftwright.documents.hold_book import hold_pdf

    return hold_pdf(hold_page(held_roof(project)), paper=paper, only=only).data


def wall_sheets(project: Project, path: Path, only: WallSheet | None, paper: Paper | None) -> bytes:
    """Return the sheets on the walls, or one of them. Errors: ProjectFault or CannotAssemble."""
    from loftwright.documents.wall_book import wall_pdf

    return wall_pdf(_wall_page(project, path), only=only, paper=paper).data


def patterns(project: Project, path: Path, kind: PatternKind, paper: Paper | None) -> bytes:
    """Return the patterns at full size, in one of the ways in which they are sent.

    Errors: ProjectFault or CannotAssemble.
    """
    from loftwright.documents import wall_patterns
    from loftwright.documents.chapters import paper_for

    page = _wall_page(project, path)
    match kind:
        case "tiles":
            return wall_patterns.tiles_pdf(page, paper or paper_for(page.units))
        case "long":
            return wall_patterns.long_pdf(page)
        case "dxf":
            return wall_patterns.dxf(page)
        case "svg":
            return zipped(wall_patterns.svgs(page))


def zipped(files: Mapping[str, bytes]) -> bytes:
    """Return files by their names as one archive, the same for the same files."""
    made = BytesIO()
    with ZipFile(made, "w", ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(ZipInfo(name), data, ZIP_DEFLATED)
    return made.getvalue()


def _wall_page(project: Project, path: Path) -> WallPage:
    from loftwright.answers.kept_reading import kept_walls
    from loftwright.answers.wall_view import wall_page
    from loftwright.answers.walled_roof import walled_roof

    return wall_page(walled_roof(project, kept_walls(path, project)))
