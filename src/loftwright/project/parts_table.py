"""The parts list as CSV, out to a spreadsheet and back.

One part a line. The first line names the columns: id, name, quantity, unit, price, bought, have, note, in any order;
id or name must be there, further columns are left alone. In UTF-8, with commas or semicolons, points or decimal commas.
A price is of one unit: "12.50" or a range "10 .. 15". `bought` and `have` are amounts, or "yes" for all of it.

A cell that a spreadsheet would take for a formula gets an apostrophe in front when it is written and loses it when it
is read; where a number is wanted a formula is refused.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, Literal

from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.fitting_views import UNITS, PartRow, PartUnit
from loftwright.core.writing import get
from loftwright.project.reading import nearest, quoted

COLUMNS: Final = ("id", "name", "quantity", "unit", "price", "bought", "have", "note")
MOST_ROWS: Final = 2000
"""A longer list is refused."""
MOST_BYTES: Final = 1_000_000
"""A larger file is refused unread."""
MOST_LETTERS: Final = 500
"""A cell longer than this is refused."""

FORMULA: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠")
"""What a cell must not begin with, blanks left out; kind: common practice, public advice on formulas in CSV."""
YES: Final = ("yes", "y", "x", "all", "true", "ja", "oui", "si")
NO: Final = ("", "no", "n", "none", "false", "nein", "non")
_NUMBER: Final = r"\d{1,9}(?:[.,]\d{1,6})?"
_UNIT_WORDS: Final[dict[str, PartUnit]] = {
    **{unit: unit for unit in UNITS},
    "piece": "pieces",
    "pcs": "pieces",
    "m²": "m2",
    "litre": "l",
    "litres": "l",
}

Decimal = Literal["point", "comma"]


@dataclass(frozen=True, slots=True)
class PartsTable:
    """What a list says: `rows` of the design's parts, `own` parts that only the builder knows, what was `said`."""

    rows: tuple[PartRow, ...]
    own: tuple[PartRow, ...]
    said: tuple[str, ...]


def harmless(text: str) -> str:
    """Return a cell that no spreadsheet takes for a formula.

    >>> harmless("=1+1"), harmless("hinge"), harmless("'tis")
    ("'=1+1", 'hinge', "''tis")
    """
    return f"'{text}" if _dangerous(text) or text.startswith("'") else text


def plain(text: str) -> str:
    """Return a cell as it was before `harmless`.

    >>> plain("'=1+1"), plain("''tis"), plain("'tis")
    ('=1+1', "'tis", "'tis")
    """
    rest = text[1:]
    return rest if text.startswith("'") and (_dangerous(rest) or rest.startswith("'")) else text


def _dangerous(text: str) -> bool:
    return text.lstrip(" \u00a0\ufeff").startswith(FORMULA) or text.startswith(FORMULA)


def parts_text(rows: Sequence[PartRow], *, decimal: Decimal = "point") -> str:
    """Return the list as CSV text: commas between cells, or semicolons with decimal commas."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";" if decimal == "comma" else ",", lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in rows:
        texts = [harmless(text) for text in (row.id, row.name)]
        price = "" if row.price is None else _range(row.price, decimal)
        amounts = [_number(value, decimal) for value in (row.quantity, row.bought, row.have)]
        writer.writerow([*texts, amounts[0], row.unit, price, *amounts[1:], harmless(row.note)])
    return out.getvalue()


def parts_bytes(rows: Sequence[PartRow], *, decimal: Decimal = "point", mark: bool = True) -> bytes:
    """Return the list as a file in UTF-8; `mark` puts a byte order mark in front, by which spreadsheets know it."""
    return parts_text(rows, decimal=decimal).encode("utf-8-sig" if mark else "utf-8")


def _number(value: float, decimal: Decimal) -> str:
    text = f"{value:.6f}".rstrip("0").rstrip(".") or "0"
    return text.replace(".", ",") if decimal == "comma" else text


def _range(price: tuple[float, float], decimal: Decimal) -> str:
    low, high = (_number(end, decimal) for end in price)
    return low if low == high else f"{low} .. {high}"


def read_parts(path: Path, known: Mapping[str, PartRow]) -> PartsTable:
    """Return the list in the file `path`; see `parts_from`. Errors: ProjectFault."""
    data = get(path, MOST_BYTES, "a list of parts")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        where = f"parts list {path.name}"
        raise ProjectFault([Fault(where, "", "it is not UTF-8 text", "save it as CSV in UTF-8")]) from None
    return parts_from(text, f"parts list {path.name}", known)


def parts_from(text: str, name: str, known: Mapping[str, PartRow]) -> PartsTable:
    """Return the list given as text; `name` is what messages call it, `known` holds the design's parts by id.

    Of a known part the name, quantity and unit of the design stand; price, bought, have and note are the builder's.
    A part with an id that is not known, or with a name alone, is kept as the builder's own.
    Errors: ProjectFault that lists everything wrong with the list.
    """
    text = text.removeprefix("\ufeff")
    first, _, _ = text.partition("\n")
    delimiter = ";" if first.count(";") > first.count(",") else ","
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    lines: list[tuple[int, list[str]]] = []
    try:
        for cells in reader:
            lines.append((reader.line_num, cells))
    except csv.Error as error:
        where = f"{name}, line {reader.line_num}"
        raise ProjectFault([Fault(where, "", f"it is not CSV ({error})", "check its quotation marks")]) from None
    table = _Table(name, known, "." if delimiter == ";" else ",")
    table.columns(lines[0][1] if lines else [])
    if table.faults:
        raise ProjectFault(table.faults)
    rows = [(number, cells) for number, cells in lines[1:] if any(cell.strip() for cell in cells)]
    if len(rows) > MOST_ROWS:
        raise ProjectFault([Fault(name, f"{len(rows)} parts long", f"at most {MOST_ROWS} are read", "shorten it")])
    for number, cells in rows:
        table.row(number, cells)
    if table.faults:
        raise ProjectFault(table.faults)
    return PartsTable(tuple(table.rows), tuple(table.own), tuple(table.said))


@dataclass(slots=True)
class _Table:
    """One list while it is read: its columns, parts and faults."""

    name: str
    known: Mapping[str, PartRow]
    doubtful: str
    """What may be a thousands mark here: the mark that is not the decimal mark of such a list."""
    faults: list[Fault] = field(default_factory=list)
    places: dict[str, int] = field(default_factory=dict)
    width: int = 0
    rows: list[PartRow] = field(default_factory=list)
    own: list[PartRow] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    seen: dict[str, int] = field(default_factory=dict)

    def columns(self, header: Sequence[str]) -> None:
        """Find the columns that the first line names."""
        self.width = len(header)
        for place, cell in enumerate(header):
            word = plain(cell.strip()).casefold()
            if word not in COLUMNS:
                continue
            if word in self.places:
                where = f"{self.name}, line 1, {word}"
                self.faults.append(Fault(where, "there twice", "one column holds it", "delete one"))
            self.places[word] = place
        if "id" not in self.places and "name" not in self.places:
            allowed = f"its first line must name columns such as {', '.join(COLUMNS)}"
            self.faults.append(Fault(f"{self.name}, line 1", "without id and name", allowed, "write it again"))

    def row(self, number: int, cells: Sequence[str]) -> None:
        """Read one line: a part, or its faults."""
        where = f"{self.name}, line {number}"
        if len(cells) != self.width:
            do = "check its commas and quotation marks, or separate cells by semicolons"
            given = f"{len(cells)} cells long"
            self.faults.append(Fault(where, given, f"the first line has {self.width}", do))
            return
        row = {column: cells[place].strip(" \u00a0") for column, place in self.places.items()}
        before = len(self.faults)
        for column, cell in row.items():
            if len(cell) > MOST_LETTERS:
                allowed = f"at most {MOST_LETTERS} letters are read"
                self.faults.append(Fault(f"{where}, {column}", f"{len(cell)} letters long", allowed, "shorten it"))
        id_, name = plain(row.get("id", "")), plain(row.get("name", ""))
        key = id_ or name
        self.named(where, key, number)
        known = self.known.get(id_)
        quantity = self.amount(f"{where}, quantity", row.get("quantity", ""), None, 0.0)
        whole = known.quantity if known else quantity
        unit = self.unit(f"{where}, unit", row.get("unit", ""))
        price = self.price(f"{where}, price", row.get("price", ""))
        bought = self.amount(f"{where}, bought", row.get("bought", ""), whole, 0.0)
        have = self.amount(f"{where}, have", row.get("have", ""), whole, 0.0)
        if len(self.faults) > before:
            return
        note = plain(row.get("note", ""))
        if known is None:
            self.own.append(PartRow(key, name or key, quantity, unit, price, bought, have, note))
            return
        if row.get("quantity") and abs(quantity - known.quantity) > 1e-6 * max(1.0, known.quantity):
            kept = f"{_number(known.quantity, 'point')} {known.unit}"
            self.said.append(f"{known.name}: the design needs {kept} now; the list had {row['quantity']}.")
        self.rows.append(PartRow(id_, known.name, known.quantity, known.unit, price, bought, have, note))

    def named(self, where: str, key: str, number: int) -> None:
        """List the fault of a part without a name or there already."""
        if not key:
            self.faults.append(Fault(where, "without id and name", "a part needs a name", "write one"))
        elif key in self.seen:
            allowed = f"line {self.seen[key]} is this part already"
            self.faults.append(Fault(where, quoted(key), allowed, "put both in one line"))
        self.seen.setdefault(key, number)

    def refused(self, where: str, text: str, allowed: str, do: str) -> None:
        """List a cell that cannot be read; a formula is called one."""
        if _dangerous(plain(text)):
            formula = plain(text)[:1] not in "-" or re.search(r"[A-Za-z(]", text)
            allowed = "formulas are not worked out here" if formula else "it must not be below nought"
        self.faults.append(Fault(where, quoted(text), allowed, do))

    def amount(self, where: str, text: str, whole: float | None, empty: float) -> float:
        """Return an amount; "yes" stands for the `whole` where there is one."""
        word = text.casefold()
        if not text:
            return empty
        if whole is not None and (word in YES or word in NO):
            return whole if word in YES else 0.0
        if re.fullmatch(_NUMBER, text):
            self.doubted(where, text, text)
            return float(text.replace(",", "."))
        also = ' or "yes"' if whole is not None else ""
        self.refused(where, text, "it must be a plain number of 0 or more", f"write a number such as 2.5{also}")
        return empty

    def doubted(self, where: str, text: str, number: str) -> None:
        """List a number that can be read two ways: 1,500 between commas, 1.500 between semicolons."""
        if re.fullmatch(rf"[1-9]\d{{0,2}}\{self.doubtful}\d{{3}}", number):
            two = number.replace(self.doubtful, ""), number.replace(self.doubtful, ".").rstrip("0").rstrip(".")
            allowed = "it has what looks like a thousands mark, and these are not used"
            self.faults.append(Fault(where, quoted(text), allowed, f"write {two[0]} or {two[1]}, whichever you mean"))

    def unit(self, where: str, text: str) -> PartUnit:
        """Return the unit; pieces where none is written."""
        found = _UNIT_WORDS.get(text.casefold() or "pieces")
        if found is None:
            near = nearest(text, UNITS)
            do = f'write "{near}"' if near else "write one of them"
            self.faults.append(Fault(where, quoted(text), f"must be one of {', '.join(UNITS)}", do))
            return "pieces"
        return found

    def price(self, where: str, text: str) -> tuple[float, float] | None:
        """Return the price of one unit as a range, None where there is none."""
        if not text:
            return None
        ends = re.fullmatch(rf"({_NUMBER})(?:\s*(?:\.\.|…)\s*({_NUMBER}))?", text)
        if ends is None:
            self.refused(where, text, "it must be a number or a range, without currency", "write 12.50 or 10 .. 15")
            return None
        for end in ends.groups():
            self.doubted(where, text, end or "")
        low, high = (float((end or ends[1]).replace(",", ".")) for end in ends.groups())
        if high < low:
            self.faults.append(Fault(where, quoted(text), "the lower price comes first", "turn it round"))
        return low, high
