"""Lists of gas springs that a builder may edit: a supplier's as CSV, or the invented one that comes along.

One spring a line, in UTF-8, with commas or semicolons. The first line names the columns, each with its unit
("stroke_mm", "stroke_in", "force_n", "force_kg", "force_lb", "tolerance_percent"); a column without one has units in
its cells ("300 mm"). Needed are name, rod, tube, stroke, extended and force; force_is, ratio, friction, friction_is,
tolerance, end_limit, price and currency may be left out or empty. Columns beyond these are left alone. Cells read
as in the project file: "1,3", "1.30 +- 0.02", "1.2 .. 1.4" and "unknown" are legal.
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, get_args

import numpy as np

from loftwright.core.amounts import QuantityError
from loftwright.core.choices import ForceIs, FrictionIs
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.quantities import parse
from loftwright.core.uncertain import Uncertain, normal
from loftwright.core.units import Dimension
from loftwright.core.writing import get
from loftwright.project.choice_sections import AtHand
from loftwright.project.keys import Key, members
from loftwright.project.possible_springs import gas_spring_faults
from loftwright.project.reading import nearest, quoted, say
from loftwright.project.spring_doubt import settled
from loftwright.project.stock import AS_MANY_AS_WANTED, Listed, entries_of
from loftwright.reference.spring_grid import CURRENCY, grid

MOST_ROWS = 5000
"""A list with more springs is refused."""
MOST_BYTES = 2_000_000
"""A longer list is refused unread."""

QUANTITIES = {
    "rod": "rod_diameter",
    "tube": "tube_diameter",
    "stroke": "stroke",
    "extended": "extended_length",
    "force": "force",
    "ratio": "ratio",
    "friction": "friction",
    "tolerance": "tolerance",
    "end_limit": "end_limit",
}
"""Columns that hold quantities, and what `[[at_hand]]` calls them."""

WORDS: dict[str, tuple[str, ...]] = {"force_is": get_args(ForceIs), "friction_is": get_args(FrictionIs)}
NEEDED = ("name", "rod", "tube", "stroke", "extended", "force")

UNITS: dict[Dimension, tuple[str, ...]] = {
    Dimension.LENGTH: ("mm", "cm", "m", "in"),
    Dimension.FORCE: ("N", "kg", "lb"),
    Dimension.PERCENT: ("percent",),
    Dimension.PLAIN: (),
}

HEADER = (
    "name",
    "rod_mm",
    "tube_mm",
    "stroke_mm",
    "extended_mm",
    "force_n",
    "force_is",
    "ratio",
    "friction_n",
    "friction_is",
    "tolerance_percent",
    "end_limit_n",
    "price",
    "currency",
    "basis",
)
"""First line of the list that comes along."""

RATIO_DOUBT, LENGTH_DOUBT, FRICTION_DOUBT = 0.03, 0.002, 0.3
"""How far a delivered spring may lie from a plain number of a list (two standard deviations): ratio [1], length
between the ends [m], friction as a share [1]. Kind: common practice, no source."""

_KEYS: dict[str, Key] = {m.key: m.about for m in members(AtHand) if isinstance(m.about, Key)}
_LATER = {"extended_length": "extended", "rod_diameter": "rod", "friction": "friction"}


def read_springs(path: Path | None = None) -> Listed:
    """Return the springs of a list: from the file `path`, or the invented list that comes along.

    Forces [N] and lengths [m]; ratio, length and friction written as plain numbers carry the doubt of a list.
    Errors: ProjectFault that lists everything wrong with the list.
    """
    return _own() if path is None else springs_from(_text(path), f"spring list {path.name}")


@cache
def _own() -> Listed:
    found = springs_from(own_list(), "the list that comes along")
    said = "The list of springs is the invented one that comes along, in common sizes; no supplier stands behind it."
    return replace(found, said=(said, *found.said))


def own_list() -> str:
    """Return the invented list as CSV text, to be copied and edited."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(HEADER)
    for one in grid():
        lengths = (f"{1e3 * value:g}" for value in (one.rod, one.tube, one.stroke, one.extended))
        row = [one.name, *lengths, f"{one.force:g}", "F1", f"{one.ratio:.2f}", f"{one.loop:g}", "full loop", "5"]
        writer.writerow([*row, f"{one.end_limit:g}", f"{one.price:.2f}", CURRENCY, "invented"])
    return out.getvalue()


def springs_from(text: str, name: str) -> Listed:
    """Return the springs of a list given as text; `name` is what messages call it. Forces [N], lengths [m].

    Errors: ProjectFault that lists everything wrong with the list.
    """
    first, _, _ = text.partition("\n")
    delimiter = ";" if first.count(";") > first.count(",") else ","
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
    except csv.Error as error:
        raise ProjectFault([Fault(name, "", f"it is not CSV ({error})", "check its quotation marks")]) from None
    table = _Table(name)
    table.columns(lines[0] if lines else [])
    if table.faults:
        raise ProjectFault(table.faults)
    rows = [(number, cells) for number, cells in enumerate(lines[1:], start=2) if any(cell.strip() for cell in cells)]
    if len(rows) > MOST_ROWS:
        do = "keep the springs that you could get"
        raise ProjectFault([Fault(name, f"{len(rows)} springs long", f"at most {MOST_ROWS} are read", do)])
    if not rows:
        raise ProjectFault([Fault(name, "empty", "it must list at least one spring", "add a line below the first")])
    for number, cells in rows:
        table.row(number, cells)
    if len(table.currencies) > 1:
        given = " and ".join(sorted(table.currencies))
        table.faults.append(
            Fault(f"{name}, currency", given, "all prices must be in one currency", "convert them to one")
        )
    if table.faults:
        raise ProjectFault(table.faults)
    found = entries_of(table.springs)
    entries = replace(found.entries, price=np.array(table.prices))
    return Listed(entries, found.pieces, next(iter(table.currencies), ""), (*table.said(), *found.said))


def _text(path: Path) -> str:
    try:
        return get(path, MOST_BYTES, "a list of springs").decode("utf-8-sig")
    except UnicodeDecodeError:
        where = f"spring list {path.name}"
        raise ProjectFault([Fault(where, "", "it is not UTF-8 text", "save it as CSV in UTF-8")]) from None


@lru_cache(maxsize=8192)
def _cell(text: str, unit: str, column: str) -> Uncertain:
    """Return what a cell says; the same numbers stand in many lines. Raises QuantityError."""
    key = _KEYS[QUANTITIES[column]]
    if unit and re.search(r"\d\s*$", text):
        text = f"{text} {unit}"
    elif unit:
        # A word after the comma follows the unit.
        text = re.sub(r"(\d)\s*,\s*([a-z]+)$", rf"\1 {unit}, \2", text)
    value = parse(text, key.dimension, unknown=key.unknown)
    if value.shape == "exact" and column in ("ratio", "extended", "friction"):
        doubts = {"ratio": RATIO_DOUBT, "extended": LENGTH_DOUBT, "friction": FRICTION_DOUBT * value.nominal}
        value = normal(value.nominal, doubts[column], value.provenance)
    return value


@dataclass(slots=True)
class _Table:
    """One list while it is read: its columns, springs and faults."""

    name: str
    faults: list[Fault] = field(default_factory=list)
    places: dict[str, int] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    width: int = 0
    springs: list[AtHand] = field(default_factory=list)
    prices: list[float] = field(default_factory=list)
    currencies: set[str] = field(default_factory=set)
    seen: dict[str, int] = field(default_factory=dict)

    def columns(self, header: Sequence[str]) -> None:
        """Find the columns that the first line names."""
        self.width = len(header)
        for place, cell in enumerate(header):
            found = self.column(cell.strip())
            if found is None:
                continue
            if found in self.places:
                self.faults.append(Fault(f"{self.name}, {found}", "there twice", "one column holds it", "delete one"))
            self.places[found] = place
        missing = [column for column in NEEDED if column not in self.places]
        if missing and not self.faults:
            allowed = f"it must have the columns {', '.join(NEEDED)}, with a unit as in stroke_mm"
            self.faults.append(
                Fault(self.name, f"without {', '.join(missing)}", allowed, "name them in its first line")
            )

    def column(self, heading: str) -> str | None:
        """Return which column a heading names, None for one that is left alone."""
        word = heading.casefold()
        if word in ("name", "price", "currency", *QUANTITIES, *WORDS):
            return word
        stem, _, unit = word.rpartition("_")
        if stem not in QUANTITIES:
            return None
        dimension = _KEYS[QUANTITIES[stem]].dimension
        known = next((one for one in UNITS[dimension] if one.casefold() == unit), None)
        if known is None:
            allowed = ", ".join(f"{stem}_{one.casefold()}" for one in UNITS[dimension]) or stem
            self.faults.append(
                Fault(f"{self.name}, {quoted(heading)}", "not a known column", f"known: {allowed}", "correct it")
            )
            return None
        self.units[stem] = "%" if known == "percent" else known
        return stem

    def row(self, number: int, cells: Sequence[str]) -> None:
        """Read one line: a spring, or its faults."""
        where = f"{self.name}, row {number}"
        if len(cells) != self.width:
            given = f"{len(cells)} cells long"
            self.faults.append(Fault(where, given, f"the first line has {self.width}", "check its commas and quotes"))
            return
        row = {column: cells[place].strip() for column, place in self.places.items()}
        before = len(self.faults)
        self.named(where, row["name"], number)
        values: dict[str, Any] = {"name": row["name"], "pieces": AS_MANY_AS_WANTED}
        for column, key in QUANTITIES.items():
            values[key] = self.quantity(f"{where}, {column}", row.get(column, ""), column)
        for column, words in WORDS.items():
            values[column] = self.word(f"{where}, {column}", row.get(column, ""), words)
        price = self.price(where, row)
        if len(self.faults) > before:
            return
        unknown = {column: values[column] == "unknown" for column in WORDS}
        if unknown["force_is"]:
            values["force_is"] = "middle"
        if unknown["friction_is"]:
            values["friction_is"] = "full loop"
        spring = AtHand(**values)
        if any(unknown.values()):
            spring, _ = settled(
                spring, where, "metric", which_force=unknown["force_is"], which_friction=unknown["friction_is"]
            )
        for fault in gas_spring_faults("metric", "spring", spring):
            column = _LATER[fault.where.split()[-1]]
            self.faults.append(Fault(f"{where}, {column}", fault.given, fault.allowed, fault.do))
        self.springs.append(spring)
        self.prices.append(price)

    def named(self, where: str, name: str, number: int) -> None:
        """List the fault of a name that is missing or there already."""
        if not name:
            self.faults.append(Fault(f"{where}, name", "empty", "it needs a word", "write the name"))
        elif name in self.seen:
            allowed = f"row {self.seen[name]} has this name already"
            self.faults.append(Fault(f"{where}, name", quoted(name), allowed, "give each spring its own name"))
        self.seen.setdefault(name, number)

    def quantity(self, where: str, text: str, column: str) -> Uncertain | None:
        """Return the quantity of a cell; an empty one that is not needed stands for unknown."""
        key = _KEYS[QUANTITIES[column]]
        if not text and column not in NEEDED:
            text = "unknown"
        try:
            value = _cell(text, self.units.get(column, ""), column)
        except QuantityError as error:
            self.faults.append(error.fault(where))
            return None
        if column in NEEDED and value.provenance.value == "unknown":
            self.faults.append(Fault(where, quoted(text), "a list says how large it is", "write the number"))
        elif not key.low - 1e-9 <= value.nominal <= key.high + 1e-9:
            least, most = (say(end, key.dimension, "metric") for end in (key.low, key.high))
            do = "check the number and the column's unit"
            self.faults.append(Fault(where, quoted(text), f"must lie within {least} to {most}", do))
        return value

    def word(self, where: str, text: str, words: tuple[str, ...]) -> str | None:
        """Return the word of a cell as the project file knows it."""
        if not text:
            return words[0]
        found = next((word for word in (*words, "unknown") if word.casefold() == text.casefold()), None)
        if found is None:
            near = nearest(text, [word.casefold() for word in words])
            do = f'write "{next(w for w in words if w.casefold() == near)}"' if near else 'write one or "unknown"'
            allowed = "must be one of " + ", ".join(f'"{word}"' for word in words)
            self.faults.append(Fault(where, quoted(text), allowed, do))
        return found

    def price(self, where: str, row: Mapping[str, str]) -> float:
        """Return the price of one spring, not a number where there is none."""
        text, currency = row.get("price", ""), row.get("currency", "")
        if not text:
            return math.nan
        if not re.fullmatch(r"\d{1,9}(?:[.,]\d{1,4})?", text):
            allowed = "it must be a plain number of 0 or more"
            self.faults.append(Fault(f"{where}, price", quoted(text), allowed, "write a price such as 12.50"))
        if re.fullmatch(r"[A-Z]{3}", currency):
            self.currencies.add(currency)
        else:
            given = quoted(currency) if currency else "empty"
            allowed = "a price needs three capital letters"
            self.faults.append(Fault(f"{where}, currency", given, allowed, "write it as EUR"))
        try:
            return float(text.replace(",", "."))
        except ValueError:
            return math.nan

    def said(self) -> tuple[str, ...]:
        """Return in sentences what was taken where the list says nothing."""
        columns = ("ratio", "friction", "tolerance", "end_limit")
        missing = [column for column in columns if column not in self.places]
        if not missing:
            return ()
        return (f"{self.name[0].upper()}{self.name[1:]} leaves out {', '.join(missing)}: the usual ranges are taken.",)
