"""What the page of the proof shows: readings against the plan, and the forms in which they are changed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from loftwright.answers.fields import fieldsets
from loftwright.answers.proof_holes import own_row
from loftwright.answers.proof_view import proof_page, proven
from loftwright.core.checks import Verdict
from loftwright.core.choice_views import ProofPage
from loftwright.core.field_views import Field
from loftwright.project.model import Project
from loftwright.project.possible_choice import catalogue_path
from loftwright.project.reading import place
from loftwright.project.spring_list import read_springs


@dataclass(frozen=True, slots=True)
class Asked:
    """One field of an entry, and `where` a fault of the file names it."""

    field: Field
    where: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One reading of the file as a form: its path, what it is called, its fields, and those that are seldom wanted."""

    path: str
    fields: tuple[Asked, ...]
    seldom: tuple[Asked, ...]


@dataclass(frozen=True, slots=True)
class BoardProof:
    """Everything said about the readings of one project; `sign` and `said`: whether they agree, in a word."""

    page: ProofPage
    sign: Verdict
    said: str


def board_proof(project: Project, folder: Path) -> BoardProof:
    """Return what the readings of a project say, as `prove` says it; `folder` is where its own list of springs lies.

    Errors: ProjectFault, CannotAssemble.
    """
    listed = read_springs(catalogue_path(project, folder)) if project.reading else None
    page = proof_page(proven(project, own_row(project), listed))
    if not page.rows:
        return BoardProof(page, Verdict.NOT_KNOWN, "No readings yet")
    if page.cleared and not any(row.strange for row in page.rows):
        return BoardProof(page, Verdict.HOLDS, "The readings agree")
    return BoardProof(page, Verdict.FAILS, "The readings contradict")


def entries(project: Project, file_text: str) -> tuple[Entry, ...]:
    """Return every reading of scale and tape that stands in the file, as forms; `file_text` is that of the project."""
    found = []
    for one in fieldsets(project, file_text, "/proof"):
        section, _, number = one.path.partition(".")
        if number.isdecimal():
            asked = [Asked(field, _where(section, int(number), field.path)) for field in one.fields]
            # What a builder wrote stays in sight.
            plain = tuple(a for a in asked if a.field.given or not a.field.advanced)
            found.append(Entry(one.path, plain, tuple(a for a in asked if a not in plain)))
    return tuple(found)


def _where(section: str, number: int, path: str) -> str:
    return place(section, number, *path.split(".")[2:])
