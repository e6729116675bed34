"""What stands in the cells of a parts list, line by line: to tell an empty cell from one that says nought."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from loftwright.core.writing import get
from loftwright.project.parts_table import COLUMNS, MOST_BYTES, plain


@dataclass(frozen=True, slots=True)
class PartsLine:
    """One line of a list: its number, and the cells that say something, by their columns."""

    number: int
    cells: Mapping[str, str]


def parts_lines(path: Path) -> dict[str, PartsLine]:
    """Return the lines of a list by id, or by name where there is none; `parts_table.read_parts` has found no fault."""
    text = get(path, MOST_BYTES, "a list of parts").decode("utf-8-sig")
    first, _, _ = text.partition("\n")
    delimiter = ";" if first.count(";") > first.count(",") else ","
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    header = [plain(cell.strip()).casefold() for cell in next(reader)]
    found = {}
    for cells in reader:
        row = {
            column: plain(cell.strip(" \u00a0"))
            for column, cell in zip(header, cells, strict=False)
            if column in COLUMNS and cell.strip()
        }
        key = row.get("id") or row.get("name")
        if key:
            found[key] = PartsLine(reader.line_num, row)
    return found
