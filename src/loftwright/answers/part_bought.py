"""The list of parts as a spreadsheet hands it back: what of it goes into the file's [[bought]].

Cells that are empty, and columns that are not there, leave the file as it is. A cell that says what the list says
already changes nothing: an uncertain price stays as it was written. A part that the design does not know becomes the
builder's own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from loftwright.answers.part_lines import KEY, key_word
from loftwright.answers.part_list import UNIT_NOTE, PartsFound
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.fitting_views import PartRow
from loftwright.project.changing import Changes
from loftwright.project.keys import members
from loftwright.project.model import Project, key_of
from loftwright.project.parts_cells import PartsLine, parts_lines
from loftwright.project.parts_table import read_parts
from loftwright.project.reading import LONGEST_TEXT, quoted

SAME: Final = 1e-6
"""Numbers that differ by less than this share are one number [1]: a list holds six decimals."""
AMOUNTS: Final = {"bought": "ordered", "have": "have"}
"""Columns of the list by keys of [[bought]]."""


@dataclass(frozen=True, slots=True)
class ReadBack:
    """What a list changes: `changes` of the file, how many parts that are `known` and `own` ones, what is `said`."""

    changes: Changes
    known: int
    own: int
    said: tuple[str, ...]


def read_back(path: Path, found: PartsFound) -> ReadBack:
    """Return what the list at `path` changes in the file of the project; nothing is written.

    Errors: ProjectFault that lists everything wrong with the list, each with its line.
    """
    known = {row.id: row for row in found.rows[: len(found.lines)]}
    table = read_parts(path, known)
    lines = parts_lines(path)
    by_name = {row.name: row for row in known.values()}
    rows = list(table.rows)
    own = []
    for row in table.own:
        # A list without ids names the design's parts.
        like = by_name.get(row.id)
        if like is None:
            own.append(row)
        else:
            rows.append(replace(row, id=like.id, name=like.name, quantity=like.quantity, unit=like.unit))
            lines[like.id] = lines[row.id]
    _check(path, found.project, [*rows, *own], lines)
    changed = _Changed(found, lines)
    for row in rows:
        changed.known(row, known[row.id])
    for row in own:
        changed.own(row)
    changed.check(path)
    return ReadBack(changed.changes, changed.parts, changed.owned, table.said)


def _check(path: Path, project: Project, rows: Sequence[PartRow], lines: Mapping[str, PartsLine]) -> None:
    """Refuse what the file cannot hold, each fault with its line. Errors: ProjectFault."""
    faults = []
    for row in rows:
        line = lines[row.id]
        where = f"parts list {path.name}, line {line.number}"
        numbers = {"price": row.price[1] if row.price else 0.0, "bought": row.bought, "have": row.have}
        if "quantity" in line.cells:
            numbers["quantity"] = row.quantity
        for column, value in numbers.items():
            key = {"price": "price", "quantity": "count"}.get(column) or AMOUNTS[column]
            most = key_of(f"bought.0.{key}").high
            if column in line.cells and value > most:
                allowed = f"it must be {most:.0f} at most"
                faults.append(Fault(f"{where}, {column}", quoted(line.cells[column]), allowed, "correct it"))
        for column in ("name", "note"):
            text = line.cells.get(column, "")
            if len(text) > LONGEST_TEXT - len(UNIT_NOTE) - 8 or (text and not text.isprintable()):
                allowed = f"it must be one line of at most {LONGEST_TEXT - len(UNIT_NOTE) - 8} letters"
                faults.append(Fault(f"{where}, {column}", quoted(text[:40]), allowed, "shorten it"))
    if faults:
        raise ProjectFault(faults)


class _Changed:
    """The changes as they come."""

    def __init__(self, found: PartsFound, lines: Mapping[str, PartsLine]) -> None:
        self.found, self.lines = found, lines
        self.entries = dict(found.entries)
        self.last: dict[int, str] = {}
        self.changes: dict[str, str | int | bool | None] = {}
        self.parts = self.owned = 0

    def check(self, path: Path) -> None:
        """Refuse more parts than the file holds. Errors: ProjectFault."""
        most = next(member.most for member in members(Project) if member.key == "bought")
        if len(self.entries) > most:
            first = min((number for number in self.last if number >= most), default=most)
            where = f"parts list {path.name}, line {self.lines[self.last[first]].number}"
            allowed = f"a file holds {most} [[bought]] at most"
            raise ProjectFault([Fault(where, f"part {len(self.entries)}", allowed, "leave out what you do not need")])

    def put(self, id_: str, word: str, values: Mapping[str, str]) -> None:
        """Change keys of the entry of a part, which is made where there is none."""
        if not values:
            return
        number = self.entries.get(word)
        if number is None:
            number = self.entries[word] = len(self.entries)
            self.last[number] = id_
            self.changes[f"bought.{number}.part"] = word
        self.changes |= {f"bought.{number}.{key}": value for key, value in values.items()}

    def known(self, row: PartRow, now: PartRow) -> None:
        """Add what a line says of a part of the design."""
        values = self.differing(row, now)
        self.parts += bool(values)
        self.put(row.id, row.id, values)

    def own(self, row: PartRow) -> None:
        """Add what a line says of a part of the builder's own."""
        line = self.lines[row.id]
        now = next((one for one in self.found.own if row.id in (one.id, one.name)), None)
        if now is not None:
            values = self.differing(row, now)
            if "name" in line.cells and row.name not in (now.name, now.id):
                values["name"] = row.name
            if "quantity" in line.cells and not _same(row.quantity, now.quantity):
                values["count"] = _text(row.quantity)
            unit = row.unit if "unit" in line.cells else now.unit
            note = row.note if "note" in line.cells else now.note
            if (unit, note) != (now.unit, now.note):
                values["note"] = _note(unit, note)
            word = now.id
        else:
            fits = KEY.fullmatch(row.id) is not None and len(row.id) <= LONGEST_TEXT
            word = row.id if fits else key_word(row.id, (*self.entries, *(one.id for one in self.found.rows)))
            values = {"name": row.name} if row.name != word else {}
            values["count"] = _text(row.quantity if "quantity" in line.cells else max(1.0, row.bought, row.have))
            values |= self.differing(row, PartRow(word, row.name, 0.0, row.unit))
            if note := _note(row.unit, row.note):
                values["note"] = note
        self.owned += bool(values)
        self.put(row.id, word, values)

    def differing(self, row: PartRow, now: PartRow) -> dict[str, str]:
        """Return what filled cells of a line say otherwise than the list does now."""
        cells, values = self.lines[row.id].cells, {}
        if "price" in cells and row.price is not None:
            alike = now.price is not None and all(_same(*ends) for ends in zip(row.price, now.price, strict=True))
            if not alike:
                values["price"] = " .. ".join(dict.fromkeys(_text(end) for end in row.price))
        for column, key in AMOUNTS.items():
            given, before = getattr(row, column), getattr(now, column)
            if column in cells and not _same(given, before):
                values[key] = _text(given)
        if "note" in cells and row.note != now.note:
            values["note"] = row.note
        return values


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME * max(1.0, abs(one), abs(other))


def _text(value: float) -> str:
    return f"{value:.6f}".rstrip("0").rstrip(".") or "0"


def _note(unit: str, note: str) -> str:
    """Return a note with the unit of a part that is not counted in pieces in front."""
    if unit == "pieces":
        return note
    return "; ".join(text for text in (f"{UNIT_NOTE}{unit}", note) if text)
