"""All that the drawing board shows of the parts, ready to be sent between processes, and what its forms write.

What computes is imported where it is asked: the board's own process only carries and writes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Final, Literal

from loftwright.answers.decisions import decisions, link_of
from loftwright.core.board_views import Decision
from loftwright.core.checks import Check, Verdict
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.field_views import Link
from loftwright.core.parts_pages import PartsPage, PartText
from loftwright.core.views import CheckRow
from loftwright.project.changing import Changes
from loftwright.project.model import Project
from loftwright.project.typed import Value
from loftwright.project.written import WAS_FIELD, changed, written

if TYPE_CHECKING:
    from loftwright.answers.part_list import PartsFound

CELLS: Final = ("price", "ordered", "have")
"""Keys of [[bought]] that are filled in beside each part."""
Decimal = Literal["point", "comma"]
LONGEST_NAME: Final = 80
"""So many letters of a list's own name stand in messages."""


@dataclass(frozen=True, slots=True)
class BoardParts:
    """The parts of one roof: their page, how the decisions stand, what does not hold.

    `links` say where each judgement leads, as long as `page.rows`. `whole` is all of each part by its id, as the file
    takes it.
    """

    page: PartsPage
    decisions: tuple[Decision, ...]
    links: tuple[Link, ...]
    open_checks: tuple[Check, ...]
    whole: Mapping[str, str]

    @property
    def rows(self) -> tuple[tuple[CheckRow, Link], ...]:
        """The judgements, each with where it leads."""
        return tuple(zip(self.page.rows, self.links, strict=True))


def _found(project: Project, path: Path) -> tuple[PartsFound, tuple[Check, ...], PartsPage]:
    from loftwright.answers.kept_reading import kept_walls
    from loftwright.answers.part_list import part_list
    from loftwright.answers.parts_view import parts_page

    outcome = part_list(project, kept_walls(path, project))
    return outcome.numbers, outcome.checks, parts_page(outcome)


def board_parts(project: Project, path: Path) -> BoardParts:
    """Return all that is said of a project's parts, with the slow answers that are kept beside its file.

    Errors: ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    found, checks, page = _found(project, path)
    return BoardParts(
        page,
        decisions(checks),
        tuple(link_of(project, check) for check in checks),
        tuple(check for check in checks if check.verdict is not Verdict.HOLDS),
        {row.id: _number(row.quantity) for row in found.rows},
    )


def _number(value: float) -> str:
    return f"{value:.6f}".rstrip("0").rstrip(".") or "0"


# --- what is filled in beside a part -------------------------------------------------------------------


def entries_of(project: Project) -> dict[str, int]:
    """Return which entry of the file speaks of each part, by the part's id."""
    return {one.part: number for number, one in enumerate(project.bought)}


def cells_of(project: Project, text: str) -> dict[str, dict[str, str]]:
    """Return what the text of a file says in the cells beside each part that it speaks of, by the part's id."""
    there = written(text)
    return {
        part: {key: there.text(f"bought.{number}.{key}") or "" for key in CELLS}
        for part, number in entries_of(project).items()
    }


def part_changes(project: Project, text: str, part: str, form: Mapping[str, str]) -> dict[str, Value | None]:
    """Return what the cells of a part change in the file; an entry is made where there is none.

    `form` holds texts by `CELLS`, with what each showed under its name with `WAS_FIELD` behind it where it says so.
    Errors: ProjectFault where another value than the one shown stands there by now.
    """
    number = entries_of(project).get(part)
    at = len(project.bought) if number is None else number
    named = {
        f"bought.{at}.{key}{end}": form[f"{key}{end}"]
        for key in CELLS
        for end in ("", WAS_FIELD)
        if f"{key}{end}" in form
    }
    changes = changed(text, named)
    if number is None and changes:
        return {f"bought.{at}.part": part, **changes}
    return changes


def cell_of(place: str) -> str:
    """Return which cell a fault of the file speaks of by its place, the place itself where it is none of them.

    >>> cell_of("[[bought]] 3 price"), cell_of("[plan] budget")
    ('price', '[plan] budget')
    """
    return next((key for key in CELLS if place.startswith("[[bought]]") and place.endswith(f" {key}")), place)


# --- the list as the page shows it ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Line:
    """One part with its cells as the file has them, and which of "ordered" and "have" are all of it."""

    text: PartText
    cells: Mapping[str, str]
    all_ordered: bool
    all_here: bool


@dataclass(frozen=True, slots=True)
class Group:
    """One group with how many of its parts are there; `key` names it for the page."""

    key: str
    title: str
    planned: str
    lines: tuple[Line, ...]
    here: int
    opened: bool = False


def shown_groups(page: PartsPage, cells: Mapping[str, Mapping[str, str]]) -> tuple[Group, ...]:
    """Return the groups of the list with what the file says beside each part, by the part's id."""
    none = dict.fromkeys(CELLS, "")
    groups = []
    for number, group in enumerate(page.groups):
        lines = tuple(
            Line(
                one,
                cells.get(one.id, none),
                one.status in ("in the garage", "only ordered"),
                one.status == "in the garage",
            )
            for one in group.lines
        )
        title = f"{group.title[:1].upper()}{group.title[1:]}"
        groups.append(Group(f"g{number}", title, group.planned, lines, sum(line.all_here for line in lines)))
    # Where something is missing is shown first; where nothing is, the beginning.
    first = next((k for k, group in enumerate(groups) if group.here < len(group.lines)), 0)
    return tuple(replace(group, opened=k == first) for k, group in enumerate(groups))


# --- the list as a spreadsheet has it ------------------------------------------------------------------


def parts_file(project: Project, path: Path, decimal: Decimal) -> bytes:
    """Return the list for a spreadsheet. Errors: ProjectFault or CannotAssemble."""
    from loftwright.project.parts_table import parts_bytes

    return parts_bytes(_found(project, path)[0].rows, decimal=decimal)


@dataclass(frozen=True, slots=True)
class ListRead:
    """What a list changes in the file: how many parts of the design and of the builder's own, and what is said."""

    changes: Changes
    known: int
    own: int
    said: tuple[str, ...]


def list_read(project: Project, path: Path, name: str, text: str) -> ListRead:
    """Return what a list changes that was given as `text`; `name` is what messages call it. Nothing is written.

    Errors: ProjectFault that lists everything wrong with the list, each with its line.
    """
    from loftwright.answers.part_bought import read_back

    found = _found(project, path)[0]
    with TemporaryDirectory() as folder:
        file = Path(folder) / list_name(name)
        try:
            file.write_bytes(text.encode("utf-8"))
        except UnicodeEncodeError:
            raise ProjectFault([Fault(f"parts list {file.name}", "", "it is not text", "save it as CSV")]) from None
        back = read_back(file, found)
    return ListRead(back.changes, back.known, back.own, back.said)


def list_name(name: str) -> str:
    """Return what a list is called, as a file's name: letters, digits and few marks only.

    >>> list_name("My parts (2).csv"), list_name("../x"), list_name("")
    ('My parts (2).csv', 'x', 'list.csv')
    """
    last = name.replace("\\", "/").rpartition("/")[2]
    plain = "".join(c for c in last if c.isascii() and (c.isalnum() or c in " .-_()")).strip(" .")
    return plain[-LONGEST_NAME:].strip(" .") or "list.csv"
