"""Every number in the book comes from a key of the file, an answer or a source: nothing is written by the papers."""

from __future__ import annotations

import ast
import io
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, Final

import pypdf
import pytest

from loftwright.core.book_views import RestPage, RestSheet
from loftwright.documents import book as printed
from loftwright.documents.book import book_pdf
from loftwright.project.file import loads
from loftwright.project.schema import json_schema
from tests.unit.answers.fitted_cases import text
from tests.unit.documents import sample_book, sample_rest

ROOM = Path(printed.__file__).parent
SCREENS: Final = {
    "roof_html.py": "a page for browsers: sizes of its style sheet",
    "board_picture.py": "places in drawings for the board",
    "pens.py": "colours",
    "plain_text.py": "colours of a terminal",
    "wall_board.py": "steps of the board's slider",
}
ALLOWED: Final = (
    (r"#[0-9a-f]{6}", "a colour"),
    (r"utf-8|a4|\\u\{[0-9a-f]+\}", "a name: coding, paper, a blank"),
    (r"\[\^A-Za-z0-9-\]\+| \\\(.*a-z0-9_.*\\\)", "a pattern to look for"),
    (r"-?0?\.?0", "nought: what is compared or cut off"),
    (r".*\bof 100\b.*", "odds are told of a hundred"),
    (r".*\bat 100 %.*", "printing at full size"),
    (r"[1-4]\. .*", "a step's number"),
    (r"1st|2nd|3rd", "a trial's number"),
    (r"\d{1,2}|\d\d, \d\d|100|spring\.0\.", "a line's number on a sheet, or how open to read: to be filled in"),
    (r".*\bF1\b.*", "the names F1 to F4 of a spring's forces"),
    (r"9\.81 N|4\.45 N", "one kilogram and one pound in newtons: definitions"),
    (r"2 mm|1/16 in", "judgement: how well two diagonals by tape agree"),
    (r"Learnt; ranges hold 19 of 20", "odds of the ranges that were learnt"),
)
"""Texts of the papers with a digit, and why they may have one."""
PLAIN: Final[tuple[RestSheet, ...]] = (
    "shopping", "tasks", "go", "way-back", "first-lift", "service", "dash", "folder", "faults",
)  # fmt: skip
"""Sheets without a drawing: all that is printed on them is text."""
NUMBER: Final = re.compile(r"\d+(?:[.,/]\d+)*")
STEPS: Final = 20
"""Lines are numbered up to this."""


def texts_of(module: Path) -> Iterator[str]:
    """Yield the texts of a module that are not its documentation or the form of a number."""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    spared = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
            spared |= {id(part) for part in ast.walk(node.format_spec)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in spared:
            yield node.value


def texts_in(template: Path) -> Iterator[str]:
    """Yield what stands in quotes in a template, and words in brackets without calls."""
    for line in template.read_text(encoding="utf-8").splitlines():
        code = re.sub(r"//.*", "", line)
        yield from re.findall(r'"([^"]*)"', code)
        unquoted = re.sub(r'"[^"]*"', "", code)
        for words in re.findall(r"\[([^\[\]{}]*)\]", unquoted):
            yield re.sub(r"#[a-z.-]+(\([^()]*(\([^()]*\))?[^()]*\))?", "", words)


def unexplained(found: Iterator[str]) -> list[str]:
    """Return texts with a digit that no reason allows."""
    return [one for one in found if re.search(r"\d", one) and not any(re.fullmatch(p, one, re.S) for p, _ in ALLOWED)]


@pytest.mark.parametrize("module", sorted(ROOM.glob("*.py")), ids=lambda path: path.name)
def test_papers_write_no_number_of_their_own(module: Path) -> None:
    if module.name not in SCREENS:
        assert unexplained(texts_of(module)) == []


@pytest.mark.parametrize("template", sorted((ROOM / "templates").glob("*.typ")), ids=lambda path: path.name)
def test_templates_write_no_number_of_their_own(template: Path) -> None:
    assert unexplained(texts_in(template)) == []


def test_the_scan_finds_a_number_that_is_written(tmp_path: Path) -> None:
    module, template = tmp_path / "sheet.py", tmp_path / "sheet.typ"
    module.write_text('"""9 is documentation."""\nSAID = f"Tighten to 12 N m, {9:.2f}."\n')
    template.write_text('#let a = { v(2mm); text(size: 9pt, "wait 24 h"); [ at 7 bar #h(3mm)] }\n')
    assert unexplained(texts_of(module)) == ["Tighten to 12 N m, "]
    assert unexplained(texts_in(template)) == ["wait 24 h", " at 7 bar "]


# --- what is printed stands in the answers' views ---------------------------------------------------


@pytest.fixture(scope="module")
def rest() -> RestPage:
    return sample_rest.rest()


def said(value: Any) -> Iterator[str]:
    """Yield every text of a view, days as they are written."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, date):
        yield f"{value.day} {value.year}"
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from said(getattr(value, field.name))
    elif isinstance(value, tuple):
        for one in value:
            yield from said(one)


@pytest.mark.parametrize("sheet", PLAIN)
def test_every_printed_number_stands_in_the_answer(rest: RestPage, sheet: RestSheet) -> None:
    page = replace(sample_book.book(), name="Roof", rest=rest)
    reader = pypdf.PdfReader(io.BytesIO(book_pdf(page, only=sheet).data))
    on_paper = {token for leaf in reader.pages for token in NUMBER.findall(leaf.extract_text())}
    known = {token for one in (*said(rest), page.made_with) for token in NUMBER.findall(one)}
    known |= {str(k) for k in range(1, STEPS + 1)}
    assert len(on_paper) > 3
    assert sorted(on_paper - known) == []


def test_every_row_says_where_it_comes_from(rest: RestPage) -> None:
    for page in (rest.fitting, rest.parts, rest.work):
        assert page.rows
        for row in page.rows:
            assert row.source, row.title
    for row in rest.hand_over.judged:
        assert row.source, row.title
    assert all(line.source for line in rest.parts.lines)
    assert all(bars.source for bars in rest.parts.bars)
    assert all(text for text in (rest.fitting.provenance, rest.parts.provenance, rest.hand_over.provenance))
    assert rest.hand_over.sources


def test_parts_come_from_keys_or_answers(rest: RestPage) -> None:
    """The first word of where a part comes from is a section of the file or an answer that has a command."""
    sections = set(json_schema()["properties"])
    answers = {"hold", "walls", "fitout", "choose", "frame", "book", "check", "plan", "common practice"}
    strange = {
        line.id: line.source
        for line in rest.parts.lines
        for one in line.source.split("; ")
        if one.partition(".")[0] not in sections | answers
    }
    assert strange == {}


def test_what_is_offered_to_the_file_is_a_key_of_it(rest: RestPage) -> None:
    file = loads(text())
    assert rest.fitting.offered
    for one in rest.fitting.offered:
        section = one.path.partition(".")[0]
        assert hasattr(file, section), one.path
