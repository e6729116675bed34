"""Papers through the application: the same that the terminal writes, named safely, refused in one sentence."""

from __future__ import annotations

import io
import re
import time
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from urllib.parse import unquote

import pypdf
import pytest
from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.papers import file_header
from loftwright.cli.main import run
from loftwright.project.demos import demo_text
from loftwright.project.file import edit
from loftwright.project.spring_list import own_list

SIDE = (Path(__file__).parents[2] / "roofs" / "side_hinge.toml").read_text(encoding="utf-8")
SHEETS = ("drilling", "request", "steps", "frame", "home-test", "readings")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("papers")
    (made / "roof.toml").write_text(demo_text("fennimoor"), encoding="utf-8")
    return made


@pytest.fixture(scope="module")
def client(folder: Path) -> Iterator[TestClient]:
    with TestClient(build(Desk(folder, folder / "roof.toml")), follow_redirects=False) as made:
        yield made


def pages(data: bytes) -> int:
    assert data.startswith(b"%PDF")
    return len(pypdf.PdfReader(io.BytesIO(data)).pages)


def written(folder: Path, name: str, *args: str) -> bytes:
    """Return what the terminal writes."""
    target = folder / name
    assert run([*args, str(target)]) == 0
    return target.read_bytes()


def test_the_page_says_of_each_paper_what_it_is_for(client: TestClient) -> None:
    page = client.get("/papers")
    assert page.status_code == 200
    for path in ("measuring-sheet.pdf", "roof.pdf", "roof.html", "book.pdf?springs=planned&amp;paper=a4&amp;frame=low"):
        assert f'href="/papers/{path}"' in page.text
    for sheet in SHEETS:
        assert f'href="/papers/sheet/{sheet}.pdf' in page.text
    # The tuning card waits for a search.
    assert "/papers/sheet/card.pdf" not in page.text
    assert "Print at 100 %" in page.text


@pytest.mark.slow
def test_every_paper_that_the_page_offers_can_be_had(client: TestClient) -> None:
    found = re.findall(r'href="(/papers/[^"]+)"', client.get("/papers").text)
    assert len(found) >= 10
    for href in found:
        answer = client.get(unescape(href))
        assert answer.status_code == 200, href
        assert answer.headers["content-disposition"].split(";")[0] == (
            "attachment" if href.endswith((".html", ".dxf", ".zip")) else "inline"
        )


def test_the_measuring_sheet_is_the_terminals(client: TestClient, folder: Path) -> None:
    answer = client.get("/papers/measuring-sheet.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content == written(folder, "m.pdf", "sheet", str(folder / "roof.toml"), "--pdf")
    blank = client.get("/papers/measuring-sheet.pdf?blank=yes&units=imperial")
    assert blank.content == written(folder, "b.pdf", "sheet", "--units", "imperial", "--pdf")


def test_the_roof_on_one_page_is_the_terminals(client: TestClient, folder: Path) -> None:
    check = ("check", str(folder / "roof.toml"))
    assert client.get("/papers/roof.pdf").content == written(folder, "r.pdf", *check, "--pdf")
    html = client.get("/papers/roof.html")
    assert html.content == written(folder, "r.html", *check, "--html")
    assert html.headers["content-disposition"].startswith('attachment; filename="roof-roof.html"')


def test_the_book_as_planned_is_the_terminals(client: TestClient, folder: Path) -> None:
    book = ("book", str(folder / "roof.toml"), "--as-planned")
    made = client.get("/papers/book.pdf?paper=letter&frame=true")
    assert made.content == written(folder, "k.pdf", *book, "--paper", "letter", "--frame-height", "true", "--pdf")
    assert pages(made.content) > 10
    assert made.headers["content-disposition"].startswith('inline; filename="roof-book.pdf"')


@pytest.mark.parametrize("sheet", SHEETS)
def test_single_sheets_are_the_terminals(client: TestClient, folder: Path, sheet: str) -> None:
    book = ("book", str(folder / "roof.toml"), "--as-planned", "--only", sheet)
    made = client.get(f"/papers/sheet/{sheet}.pdf?paper=a4")
    assert made.content == written(folder, f"{sheet}.pdf", *book, "--pdf")


def test_the_sheet_for_readings_is_that_of_the_book(client: TestClient) -> None:
    made = client.get("/papers/sheet/readings.pdf").content
    assert pages(made) <= 2
    assert "Readings on the built roof" in pypdf.PdfReader(io.BytesIO(made)).pages[0].extract_text()


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("sheet/nothing.pdf", "nothing"),
        ("sheet/card.pdf", "tuning card"),
        ("book.pdf?paper=a9", "a9"),
        ("book.pdf?frame=high", "high"),
        ("book.pdf?springs=good", "good"),
        ("book.pdf?springs=searched", "search for springs"),
        ("measuring-sheet.pdf?blank=yes&units=cubits", "cubits"),
        ("sheet/%3Cb%3E.pdf", "&lt;b&gt;"),
    ],
)
def test_what_cannot_be_made_is_a_page_with_one_sentence(client: TestClient, path: str, words: str) -> None:
    answer = client.get(f"/papers/{path}")
    assert answer.status_code == 422
    assert "This paper cannot be made" in answer.text
    assert words in answer.text
    assert answer.text.count("<p>") == 2
    assert "--only" not in answer.text


def test_a_choice_that_is_none_leaves_the_page_alive(client: TestClient) -> None:
    page = client.get("/papers?paper=a9&springs=x")
    assert page.status_code == 200
    assert 'class="fault"' in page.text


def test_without_a_project_the_measuring_sheet_comes_blank(tmp_path: Path) -> None:
    with TestClient(build(Desk(tmp_path)), follow_redirects=False) as client:
        page = client.get("/papers")
        assert page.status_code == 200
        assert "/papers/measuring-sheet.pdf" in page.text
        blank = client.get("/papers/measuring-sheet.pdf")
        assert blank.content == written(tmp_path, "b.pdf", "sheet", "--pdf")
        assert blank.headers["content-disposition"].startswith('inline; filename="measuring-sheet.pdf"')
        for path in ("roof.pdf", "roof.html", "book.pdf", "sheet/steps.pdf"):
            answer = client.get(f"/papers/{path}")
            assert answer.status_code == 422
            assert "no file is open yet" in answer.text


def test_a_roof_hinged_at_a_side_says_which_papers_it_has_none_of(tmp_path: Path) -> None:
    file = tmp_path / "side.toml"
    file.write_text(SIDE, encoding="utf-8")
    with TestClient(build(Desk(tmp_path, file)), follow_redirects=False) as client:
        for path in ("measuring-sheet.pdf", "book.pdf", "sheet/drilling.pdf"):
            answer = client.get(f"/papers/{path}")
            assert answer.status_code == 422, path
            assert "hinged at a side" in answer.text
        assert client.get("/papers/roof.pdf").content.startswith(b"%PDF")


# --- with the springs of a search ------------------------------------------------------------------


@pytest.mark.slow
def test_a_search_gives_the_book_of_the_terminal_with_its_card(tmp_path: Path) -> None:
    folder, roof = tmp_path, tmp_path / "roof.toml"
    roof.write_text(demo_text("fennimoor"), encoding="utf-8")
    # Few springs, holes and forces: the way is the same, and the search takes less.
    heading, *lines = own_list().splitlines(keepends=True)
    (folder / "few.csv").write_text("".join([heading, *lines[::20]]), encoding="utf-8")
    edit(roof, {"choice.catalogue": "few.csv", "choice.holes": 2, "choice.ratings": 2})
    with TestClient(build(Desk(folder, roof)), follow_redirects=False) as client:
        assert client.post("/do/papers-search", headers={"accept": "application/json"}).json()["ok"]
        page = client.get("/papers?springs=searched").text
        assert "Stop with the best so far" in page
        # While it searches, papers as planned still come.
        assert client.get("/papers/sheet/steps.pdf").content.startswith(b"%PDF")
        end = time.monotonic() + 120
        while "Stop with the best so far" in page and time.monotonic() < end:
            time.sleep(0.3)
            page = client.get("/papers?springs=searched").text
        assert "/papers/sheet/card.pdf" in page
        made = client.get("/papers/book.pdf?springs=searched").content
        card = client.get("/papers/sheet/card.pdf?springs=searched").content
        assert pages(card) == 1
        assert made == written(folder, "s.pdf", "book", str(roof), "--pdf")
        # A change of the roof makes the search one of before.
        client.post("/do/change", data={"shell.mass": "70 kg"}, headers={"accept": "application/json"})
        assert client.get("/papers/book.pdf?springs=searched").status_code == 422
        assert "before your last change" in client.get("/papers?springs=searched").text
        client.post("/do/undo", headers={"accept": "application/json"})
        assert client.get("/papers/book.pdf?springs=searched").status_code == 200


# --- names of files --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("roof-book.pdf", "roof-book.pdf"),
        ("Дом-book.pdf", "book.pdf"),
        ('a"; x=".pdf', "a-x-.pdf"),
        ("größe\r\nX: y.pdf", "gre-X-y.pdf"),
        ("車", "paper"),
    ],
)
def test_names_of_files_are_safe_in_a_header(name: str, plain: str) -> None:
    header = file_header(name, inline=False)
    assert header.isascii()
    assert header.isprintable()
    way, first, second = header.split("; ")
    assert (way, first) == ("attachment", f'filename="{plain}"')
    assert unquote(second.removeprefix("filename*=UTF-8''")) == name
