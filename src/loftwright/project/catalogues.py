"""Tables that a builder may edit: the prices."""

from __future__ import annotations

import csv
import io
import math
import re
from importlib import resources
from pathlib import Path

from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import get
from loftwright.plan.cost import Price

COLUMNS = ("part", "unit", "low", "high", "currency", "dated", "basis")
MOST_BYTES = 1_000_000
"""A longer price table is refused unread."""


def _number(text: str) -> float | None:
    """Return a price, or None; a comma may stand for the decimal point."""
    if not re.fullmatch(r"[+-]?\d+(?:[.,]\d+)?", text):
        return None
    value = float(text.replace(",", "."))
    return value if math.isfinite(value) else None


def _text(path: Path | None) -> str:
    if path is None:
        return resources.files("loftwright.reference").joinpath("prices.csv").read_text(encoding="utf-8")
    try:
        return get(path, MOST_BYTES, "a price table").decode("utf-8-sig")
    except UnicodeDecodeError:
        where = f"price table {path.name}"
        raise ProjectFault([Fault(where, "", "it is not UTF-8 text", "save it as CSV in UTF-8")]) from None


def _row(where: str, row: dict[str, str], faults: list[Fault]) -> Price | None:
    """Return the price of one line, or None after listing everything that is wrong with it."""
    before = len(faults)
    for key in ("part", "unit"):
        if not row[key]:
            faults.append(Fault(f"{where}, {key}", "empty", "it needs a word", f"write the {key}"))
    ends: dict[str, float] = {}
    for key in ("low", "high"):
        value = _number(row[key])
        if value is None:
            given = f'"{row[key]}"' if row[key] else "empty"
            faults.append(Fault(f"{where}, {key}", given, "it must be a plain number", "write a price such as 12.50"))
        elif value < 0:
            faults.append(Fault(f"{where}, {key}", row[key], "a price is not negative", "write a price of 0 or more"))
        else:
            ends[key] = value
    if len(ends) == 2 and ends["low"] > ends["high"]:
        allowed = f"it must not be above high, {row['high']}"
        faults.append(Fault(f"{where}, low", row["low"], allowed, "swap the two or correct one"))
    if not re.fullmatch(r"[A-Z]{3}", row["currency"]):
        given = f'"{row["currency"]}"' if row["currency"] else "empty"
        faults.append(Fault(f"{where}, currency", given, "it must be three capital letters", "write it as EUR"))
    if not re.fullmatch(r"\d{4}-(?:0[1-9]|1[0-2])", row["dated"]):
        given = f'"{row["dated"]}"' if row["dated"] else "empty"
        faults.append(Fault(f"{where}, dated", given, "it must be year and month", "write it as 2026-11"))
    if len(faults) > before:
        return None
    return Price(row["part"], row["unit"], ends["low"], ends["high"], row["currency"], row["dated"], row["basis"])


def read_prices(path: Path | None = None) -> dict[str, Price]:
    """Return the prices by part: from `path`, or the table that comes along.

    The table is CSV with commas or semicolons, in UTF-8, with the columns part, unit, low, high, currency,
    dated (year-month) and basis. Columns beyond these are left alone.

    Errors: ProjectFault that lists everything wrong with the table.
    """
    text = _text(path)
    name = "price table" if path is None else f"price table {path.name}"
    first = text.split("\n", 1)[0]
    delimiter = ";" if first.count(";") > first.count(",") else ","
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
    except csv.Error as error:
        raise ProjectFault([Fault(name, "", f"it is not CSV ({error})", "check its quotation marks")]) from None
    header = [cell.strip().casefold() for cell in lines[0]] if lines else []
    missing = [column for column in COLUMNS if column not in header]
    if missing:
        allowed = f"it must have the columns {', '.join(COLUMNS)}"
        raise ProjectFault([Fault(name, f"without {', '.join(missing)}", allowed, "name them in its first line")])
    faults: list[Fault] = []
    prices: dict[str, Price] = {}
    seen: dict[str, int] = {}
    for number, cells in enumerate(lines[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        where = f"{name}, row {number}"
        if len(cells) != len(header):
            given = f"{len(cells)} cells long"
            faults.append(Fault(where, given, f"the first line has {len(header)}", "check its commas and quotes"))
            continue
        row = {column: cells[header.index(column)].strip() for column in COLUMNS}
        if row["part"] in seen:
            given, allowed = f'"{row["part"]}"', f"row {seen[row['part']]} already prices it"
            faults.append(Fault(f"{where}, part", given, allowed, "delete one of the two"))
        elif row["part"]:
            seen[row["part"]] = number
        price = _row(where, row, faults)
        if price is not None:
            prices[price.part] = price
    if not prices and not faults:
        faults.append(Fault(name, "empty", "it must price at least one part", "add a line below the first"))
    if len({price.currency for price in prices.values()}) > 1:
        given = " and ".join(sorted({price.currency for price in prices.values()}))
        faults.append(Fault(f"{name}, currency", given, "all prices must be in one currency", "convert them to one"))
    if faults:
        raise ProjectFault(faults)
    return prices
