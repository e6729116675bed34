"""The parts list out to a spreadsheet and back: round trips, formulas, and one sentence for every mistake."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.core.fitting_views import PartRow
from loftwright.project.parts_table import (
    COLUMNS,
    MOST_BYTES,
    MOST_ROWS,
    Decimal,
    PartsTable,
    harmless,
    parts_bytes,
    parts_from,
    parts_text,
    plain,
    read_parts,
)

ROWS = (
    PartRow("seal", "rim seal, hollow", 8.0, "m", (3.5, 4.25), 5.0, 2.5, 'shop said "Tuesday"'),
    PartRow("bolts", "bolt M6 x 25", 17.0, "pieces", (0.35, 0.35), 17.0, 17.0, "- left side\n- right side"),
    PartRow("resin", "polyester resin", 5.125, "kg", None, note="=cmd|' /C calc'!A0"),
)
KNOWN = {row.id: row for row in ROWS}
HEAD = ",".join(COLUMNS)
FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "\u00a0=1", "＝1+1", "'=1", "''x", "'plain")


def faults_of(text: str) -> list[str]:
    with pytest.raises(ProjectFault) as caught:
        parts_from(text, "parts list mine.csv", KNOWN)
    return [fault.sentence().removeprefix("parts list mine.csv, ") for fault in caught.value.faults]


def table_of(*lines: str, head: str = HEAD) -> PartsTable:
    return parts_from("\n".join([head, *lines]), "parts list mine.csv", KNOWN)


# --- out and back -----------------------------------------------------------------------------------


@pytest.mark.parametrize("decimal", ["point", "comma"])
@pytest.mark.parametrize("mark", [True, False])
def test_what_is_written_is_read_again(tmp_path: Path, decimal: Decimal, mark: bool) -> None:
    path = tmp_path / "parts.csv"
    path.write_bytes(parts_bytes(ROWS, decimal=decimal, mark=mark))
    assert path.read_bytes().startswith(b"\xef\xbb\xbf") == mark
    assert read_parts(path, KNOWN) == PartsTable(ROWS, (), ())
    # Read without the design, all are the builder's own.
    assert read_parts(path, {}).own == ROWS


def test_decimal_commas_go_with_semicolons() -> None:
    line = parts_text(ROWS[:1], decimal="comma").splitlines()[1]
    assert line == 'seal;rim seal, hollow;8;m;3,5 .. 4,25;5;2,5;"shop said ""Tuesday"""'


def test_columns_in_any_order_and_further_ones() -> None:
    found = table_of("12.50,green,yes,seal", head="Price,colour,BOUGHT,id")
    assert found.rows == (PartRow("seal", "rim seal, hollow", 8.0, "m", (12.5, 12.5), 8.0, 0.0, ""),)


def test_all_and_nothing_in_words() -> None:
    found = table_of("bolts,,,,,yes,x,", "resin,,,,,no,None,")
    assert [(row.bought, row.have) for row in found.rows] == [(17.0, 17.0), (0.0, 0.0)]


def test_unknown_parts_are_the_builders_own() -> None:
    found = table_of("tarp,tarpaulin,2,piece,30,1,,", ",string,1,m,,,,", "seal,,,,,,,")
    assert found.own == (
        PartRow("tarp", "tarpaulin", 2.0, "pieces", (30.0, 30.0), 1.0),
        PartRow("string", "string", 1.0, "m"),
    )
    assert [row.id for row in found.rows] == ["seal"]


def test_the_designs_quantity_stands_and_that_is_said() -> None:
    found = table_of("seal,other name,9.5,m,,,,")
    assert (found.rows[0].quantity, found.rows[0].name) == (8.0, "rim seal, hollow")
    assert found.said == ("rim seal, hollow: the design needs 8 m now; the list had 9.5.",)


def test_empty_lines_and_an_empty_list() -> None:
    assert table_of("", ",,,,,,,") == PartsTable((), (), ())


# --- formulas ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", FORMULAS)
def test_no_cell_begins_a_formula(text: str) -> None:
    """What begins a formula: public advice on formulas in CSV (read in several public pages)."""
    row = PartRow(f"{text}id", f"{text}name", 1.0, "pieces", note=text)
    cells = next(iter(csv.reader(io.StringIO(parts_text([row]).split("\r\n", 1)[1], newline=""))))
    for cell in cells:
        assert not cell.lstrip(" \u00a0").startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"))
    assert plain(harmless(text)) == text
    assert plain(harmless(harmless(text))) == harmless(text)


@pytest.mark.parametrize("cell", ["=A1*2", "+SUM(B2)", "@x", "-HYPERLINK(1)", "'=A1"])
@pytest.mark.parametrize("column", ["quantity", "price", "bought", "have"])
def test_a_formula_is_no_number(cell: str, column: str) -> None:
    line = ",".join(["tarp", *(cell if name == column else "" for name in COLUMNS[1:])])
    (said,) = faults_of(f"{HEAD}\n{line}")
    assert said.startswith(f'line 2, {column} is "{cell}": formulas are not worked out here; write ')


def test_a_formula_in_a_note_is_kept_as_text_and_written_harmless() -> None:
    found = table_of("seal,,,,,,,=1+1")
    assert found.rows[0].note == "=1+1"
    assert parts_text(found.rows).rstrip().endswith(",'=1+1")


# --- mistakes ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("seal,,-2,,,,,", 'line 2, quantity is "-2": it must not be below nought; write a number such as 2.5.'),
        ("seal,,two,,,,,", 'line 2, quantity is "two": it must be a plain number of 0 or more; write a number'),
        ("seal,,,,,some,,", 'line 2, bought is "some": it must be a plain number of 0 or more; write a number such as'),
        ("seal,,,,EUR 5,,,", 'line 2, price is "EUR 5": it must be a number or a range, without currency; write 12.50'),
        ("seal,,,,5-7,,,", 'line 2, price is "5-7": it must be a number or a range'),
        ("seal,,,,9 .. 7,,,", 'line 2, price is "9 .. 7": the lower price comes first; turn it round.'),
        ('seal,,,,"1,500",,,', 'line 2, price is "1,500": it has what looks like a thousands mark'),
        ("seal,,,feet,,,,", 'line 2, unit is "feet": must be one of pieces, m, m2, kg, l; '),
        (",,3,m,,,,", "line 2 is without id and name: a part needs a name; write one."),
        ("seal,,,,12,50,,,", "line 2 is 9 cells long: the first line has 8; check its commas and quotation marks"),
        (f"seal,,,,,,,{'x' * 501}", "line 2, note is 501 letters long: at most 500 letters are read; shorten it."),
    ],
)
def test_each_mistake_in_one_sentence(line: str, said: str) -> None:
    (found,) = faults_of(f"{HEAD}\n{line}")
    assert found.startswith(said)
    assert found.endswith(".")


def test_all_mistakes_are_listed_with_their_lines() -> None:
    found = faults_of(f'{HEAD}\nbolts,,,,x,,,"two\nlines"\nbolts,,,,,,,\nseal,,,,y,,,')
    # A cell may run over two lines: the number is that of its last.
    assert [said.split(" is ")[0] for said in found] == ["line 3, price", "line 4", "line 5, price"]
    assert found[1] == 'line 4 is "bolts": line 3 is this part already; put both in one line.'


def test_a_thousands_mark_between_semicolons() -> None:
    head = HEAD.replace(",", ";")
    (said,) = faults_of(f"{head}\nseal;;;;1.500;;;")
    assert said.endswith("write 1500 or 1.5, whichever you mean.")
    assert parts_from(f"{head}\nseal;;;;1,500;;;", "x", KNOWN).rows[0].price == (1.5, 1.5)


def test_what_is_no_list() -> None:
    assert faults_of("colour,size\nred,2")[0].startswith("line 1 is without id and name")
    assert faults_of("")[0].startswith("line 1 is without id and name")
    assert faults_of("id,id,name\na,b,c")[0] == "line 1, id is there twice: one column holds it; delete one."
    assert "it is not CSV" in faults_of(f'{HEAD}\nseal,"open')[0]
    many = "\n".join(f"p{i},,,,,,," for i in range(MOST_ROWS + 1))
    assert "at most 2000 are read" in faults_of(f"{HEAD}\n{many}")[0]


def test_files_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_bytes("id\nB\xfcgel".encode("latin-1"))
    with pytest.raises(ProjectFault, match="not UTF-8 text"):
        read_parts(path, {})
    path.write_bytes(b"x" * (MOST_BYTES + 1))
    with pytest.raises(ProjectFault, match="larger than 1 MB"):
        read_parts(path, {})
