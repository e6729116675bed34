"""What lifts it: springs searched, shown as the terminal says them, and fitted into the file.

Exact constructed cases. The search itself runs in its own process in one test, and beside the page in the others;
what its answers are worth is tested elsewhere.
"""

from __future__ import annotations

import asyncio
import re
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from loftwright.answers import board_choice, hand_springs
from loftwright.answers import choose as choosing
from loftwright.answers.board_choice import Asked, BoardChoice
from loftwright.answers.choose_search import QUICK, Work
from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.cli.main import run
from loftwright.core.choice_views import Advice, ChoicePage
from loftwright.core.errors import Fault, ProjectFault
from loftwright.documents.choice_text import choice_text
from loftwright.documents.plain_text import Look
from loftwright.project.demos import demo_text
from loftwright.project.file import edit, read
from loftwright.project.spring_list import own_list

JSON = {"Accept": "application/json"}
SEARCH = {"list": "own", "draws": "100"}


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(choosing, "MIDDLE", QUICK)
    monkeypatch.setattr(choosing, "FINALISTS", 6)


def put(folder: Path) -> Path:
    """Put a project with a list of a few springs of its own into a folder."""
    lines = own_list().splitlines()
    few = [line for line in lines if re.match(r"(12/26-240|12/26-260|10/22-340)-", line)]
    (folder / "few.csv").write_text("\n".join([lines[0], *few]) + "\n", encoding="utf-8")
    path = folder / "roof.toml"
    path.write_text(demo_text("fennimoor"), encoding="utf-8")
    edit(path, {"choice.catalogue": "few.csv"})
    return path


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> BoardChoice:
    """Return what one search found."""
    folder = tmp_path_factory.mktemp("searched")
    path = put(folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choosing, "MIDDLE", QUICK)
        patch.setattr(choosing, "FINALISTS", 6)
        return board_choice.springs_for(read(path), Asked("own", folder / "few.csv", 100), Work())


class Board:
    """A board whose searches give what is put here, when it is let go."""

    def __init__(self, desk: Desk, client: TestClient, answers: BoardChoice) -> None:
        self.desk, self.client = desk, client
        self.answers: BoardChoice | Exception = answers
        self.go = threading.Event()
        self.go.set()
        self.tell: Callable[[float, str], None] | None = None
        self.asked: list[Asked] = []

    async def follow(self, hear: Callable[[float, str], None], work: object, *given: Any) -> BoardChoice:
        """Stand in for the process."""
        self.tell = hear
        self.asked.append(given[1])
        hear(0.25, "moving brackets in 64 roofs")
        while not self.go.is_set():
            await asyncio.sleep(0.005)
        if isinstance(self.answers, Exception):
            raise self.answers
        return self.answers

    def do(self, action: str, **fields: str) -> dict[str, Any]:
        """Do something as the page's script does."""
        answer: dict[str, Any] = self.client.post(f"/do/{action}", data=fields, headers=JSON).json()
        return answer

    def search(self) -> None:
        """Search to the end."""
        assert self.do("search-springs", **SEARCH)["ok"]
        self.ended()

    def ended(self) -> None:
        """Wait until the search has ended."""
        until = time.monotonic() + 60
        while self.desk.kept["springs"].running:
            assert time.monotonic() < until
            time.sleep(0.005)

    def page(self) -> str:
        """Return the page as it is now, entities resolved."""
        answer = self.client.get("/lifts")
        assert answer.status_code == 200
        return unescape(answer.text)

    def fit(self, which: str) -> dict[str, Any]:
        """Press the button that fits springs of the newest result."""
        return self.do("fit-springs", found=self.desk.kept["springs"].made.number, which=which)

    @property
    def text(self) -> str:
        """The project file."""
        return self.desk.open.path.read_text(encoding="utf-8")


@pytest.fixture
def board(tmp_path: Path, found: BoardChoice, monkeypatch: pytest.MonkeyPatch) -> Iterator[Board]:
    desk = Desk(tmp_path, put(tmp_path))
    with TestClient(build(desk)) as client:
        made = Board(desk, client, found)
        monkeypatch.setattr(desk.long, "follow", made.follow)
        yield made


def words(text: str) -> str:
    """Return the words of a page or of the terminal, spaces evened."""
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def test_before_a_search_it_offers_the_lists_and_takes_care(board: Board) -> None:
    page = board.page()
    assert re.search(r'value="own"[^>]* checked', page)
    assert 'value="along"' in page
    assert 'value="at hand"' in page
    assert 'value="400"' in page
    assert "Never move, fit or take off a spring unless the shell is propped and two people are there" in page
    assert "What was found" not in page


def test_the_page_says_what_the_terminal_says(board: Board, found: BoardChoice) -> None:
    board.search()
    page = words(board.page())
    asked: ChoicePage = found.page
    # Each line of the terminal, unwrapped; headings stand alone there, facts in columns.
    said = choice_text(asked, Look(width=10_000))
    lines = [line.strip(" -") for line in said.splitlines()]
    sentences = [line for line in lines if line.endswith(".") and not re.match(r"\d\. ", line)]
    assert len(sentences) > 10
    assert [line for line in sentences if " ".join(line.split()) not in page] == []
    for fact in (*asked.best.facts, *(fact for other in asked.others for fact in other.facts)) if asked.best else ():
        assert fact.value in page
    assert page.index("Measure first") < page.index(f"Springs: {asked.best.name if asked.best else ''}")


@pytest.mark.slow
def test_fitting_writes_what_choose_write_does(board: Board, tmp_path: Path) -> None:
    (tmp_path / "other").mkdir()
    other = put(tmp_path / "other")
    assert board.text == other.read_text(encoding="utf-8")
    board.search()
    before = board.text
    assert run(["choose", str(other), "--draws", "100", "--write"]) == 0
    assert board.fit("best")["ok"]
    assert board.text != before
    assert board.text == other.read_text(encoding="utf-8")
    page = board.page()
    assert "In the file now." in page
    assert "search again" not in page
    # One step takes all of it back.
    assert "springs fitted" in board.desk.open.undoable
    assert board.do("undo")["ok"]
    assert board.text == before


def test_another_choice_is_fitted_in_its_own_place_without_holes(board: Board, found: BoardChoice) -> None:
    board.search()
    assert found.page.others
    other = found.page.others[0]
    assert board.fit("0")["ok"]
    spring = board.desk.project.spring[0]
    assert spring.name == other.name
    assert (spring.feet, spring.heads) == ((), ())
    foot = next(fact.value for fact in other.facts if fact.label == "Foot")
    assert foot.startswith(f"{1000 * spring.foot.x.nominal:.0f} mm")
    # They stand for springs that were changed meanwhile as well: all that is said of them is written.
    before = board.text
    assert board.do("change", **{"spring.0.force": "444 N", "spring.0.stroke": "200 mm"})["ok"]
    assert board.fit("0")["ok"]
    assert board.text == before


def test_springs_alone_are_fitted_without_their_row(board: Board, found: BoardChoice) -> None:
    board.search()
    assert found.alone is not None
    assert board.fit("alone")["ok"]
    assert not any(path.startswith(("spring.0.feet", "spring.0.heads")) for path in found.alone.changes)
    assert not board.desk.project.spring[0].feet


def test_only_one_row_of_holes_is_written(board: Board) -> None:
    board.search()
    assert board.fit("best")["ok"]
    after = board.text
    refused = board.fit("0")
    assert not refused["ok"]
    assert "row of holes" in refused["said"]
    assert board.text == after
    assert board.do("undo")["ok"]
    assert board.fit("0")["ok"]


def test_a_change_of_the_roof_makes_the_answer_one_of_before(board: Board) -> None:
    board.search()
    assert board.do("change", **{"shell.mass": "75 kg, measured"})["ok"]
    page = board.page()
    assert "This is of the roof before your last change: search again." in page
    assert "What was found" in page
    assert 'id="fit-best"' not in page
    before = board.text
    refused = board.fit("best")
    assert not refused["ok"]
    assert "search again" in refused["said"]
    assert board.text == before
    board.do("undo")
    assert "before your last change" not in board.page()
    assert board.fit("best")["ok"]


@pytest.mark.parametrize(
    ("changes", "still"),
    [
        ({"name": "another name"}, True),
        ({"spring.0.force": "700 N"}, True),
        ({"spring.0.bracket_limit": "900 N"}, False),
        ({"temperatures.sun": "70 C"}, False),
        ({"requirements.prop_fitted": "false"}, False),
        ({"zone.0.place": "700 mm"}, False),
    ],
)
def test_what_makes_it_one_of_before(board: Board, changes: dict[str, str], still: bool) -> None:
    board.search()
    before = board.text
    answer = board.do("change", **changes)
    assert answer["ok"], answer["said"]
    assert board.text != before
    assert ("before your last change" not in board.page()) is still


def test_springs_that_only_move_are_not_written_over_others(board: Board, found: BoardChoice) -> None:
    own = [key for key, one in board_choice.fittings(found).items() if one.own]
    board.search()
    assert own, "the file's own springs are among the answers of this case"
    assert board.do("change", **{"spring.0.force": "700 N"})["ok"]
    refused = board.fit(own[0])
    assert not refused["ok"]
    assert "not those of the search any more" in refused["said"]


def test_while_one_search_runs_no_other_begins(board: Board, found: BoardChoice) -> None:
    board.go.clear()
    assert board.do("search-springs", **SEARCH)["ok"]
    page = board.page()
    assert re.search(r'<progress[^>]* value="25"', page)
    assert "Moving brackets in 64 roofs." in page
    again = board.do("search-springs", **SEARCH)
    assert not again["ok"]
    assert "under way" in again["said"]
    # The board is alive meanwhile.
    assert board.client.get("/").status_code == 200
    assert board.do("change", name="renamed meanwhile")["ok"]
    board.go.set()
    board.ended()
    assert len(board.asked) == 1
    assert "What was found" in board.page()


def test_stop_asks_the_process_to_end(board: Board, monkeypatch: pytest.MonkeyPatch) -> None:
    assert not board.do("stop-springs")["ok"]
    monkeypatch.setattr(board.desk.long, "stop", board.go.set)
    board.go.clear()
    board.do("search-springs", **SEARCH)
    assert board.do("stop-springs")["ok"]
    board.ended()
    assert not board.do("stop-springs")["ok"]


def test_a_search_that_still_waits_is_taken_back(board: Board, monkeypatch: pytest.MonkeyPatch) -> None:
    async def waits(*given: object) -> None:
        await asyncio.sleep(60)

    monkeypatch.setattr(board.desk.long, "follow", waits)
    monkeypatch.setattr(type(board.desk.long), "busy", property(lambda _: True))
    assert board.do("search-springs", **SEARCH)["ok"]
    assert "Waiting until other long work has ended" in board.page()
    assert board.do("stop-springs")["ok"]
    board.ended()
    assert "stopped before it began" in board.page()


def test_progress_goes_to_the_tabs_of_this_page_alone(board: Board) -> None:
    board.go.clear()
    with board.client.websocket_connect("/live") as lifts, board.client.websocket_connect("/live") as proof:
        lifts.send_json({"t": "hello", "page": "/lifts", "query": {}})
        proof.send_json({"t": "hello", "page": "/have", "query": {}})
        for tab in (lifts, proof):
            while tab.receive_json()["t"] != "parts":
                pass
            assert tab.receive_json()["t"] == "parts"
        version = board.desk.version
        board.do("search-springs", **SEARCH)
        first = lifts.receive_json()
        assert "<progress" in first["parts"]["searching"]
        assert "choice" not in first["parts"]
        # Much is told at once; little is sent.
        loop_told = board.tell
        assert loop_told is not None
        for share in range(30, 80):
            loop_told(share / 100, "moving brackets in 100 roofs")
        told = lifts.receive_json()["parts"]
        assert 'value="79"' in told["searching"]
        board.go.set()
        board.ended()
        last = lifts.receive_json()["parts"]
        assert "What was found" in last["choice"]
        assert "The search is done." in last["searchsaid"]
        assert board.desk.version == version
        # The next thing that the other tab hears of is a change of the project.
        board.do("change", name="renamed")
        heard = proof.receive_json()
        assert heard["version"] > version


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"list": "own", "draws": "many"}, "How many roofs"),
        ({"list": "own", "draws": "99"}, "from 100 to 5000"),
        ({"list": "own", "draws": "5001"}, "from 100 to 5000"),
        ({"list": "nobody's", "draws": "100"}, "Which springs"),
    ],
)
def test_what_cannot_be_searched_is_said_beside_the_form(board: Board, fields: dict[str, str], said: str) -> None:
    answer = board.do("search-springs", **fields)
    assert not answer["ok"]
    assert said in answer["said"]
    assert re.search(rf'data-where="{answer["faults"][0]["where"]}"', board.page())
    assert board.asked == []


def test_a_list_that_is_gone_and_no_springs_at_hand_are_said(board: Board, tmp_path: Path) -> None:
    there = read(board.desk.open.path)
    (tmp_path / "few.csv").unlink()
    answer = board.do("search-springs", **SEARCH)
    assert not answer["ok"]
    assert "few.csv" in answer["said"]
    project = there.model_copy(update={"at_hand": ()})
    with pytest.raises(ProjectFault, match="at_hand"):
        board_choice.asked(project, tmp_path, "at hand", "100")
    nameless = project.model_copy(update={"choice": project.choice.model_copy(update={"catalogue": None})})
    with pytest.raises(ProjectFault, match="names no list of its own"):
        board_choice.asked(nameless, tmp_path, "own", "100")
    with pytest.raises(ProjectFault, match="No place for brackets"):
        board_choice.asked(project.model_copy(update={"zone": (), "spring": ()}), tmp_path, "along", "100")


def test_a_fault_in_the_list_is_a_sentence_and_the_last_answer_stays(board: Board) -> None:
    board.search()
    board.answers = ProjectFault(
        [Fault("spring list few.csv, row 3, stroke", "empty", "it needs a number", "write it")]
    )
    board.search()
    page = board.page()
    assert "spring list few.csv, row 3, stroke is empty: it needs a number; write it." in page
    assert "What was found" in page
    assert board.fit("best")["ok"]


def test_buttons_of_an_older_answer_do_nothing(board: Board) -> None:
    board.search()
    old = board.desk.kept["springs"].made.number
    board.search()
    before = board.text
    refused = board.do("fit-springs", found=old, which="best")
    assert not refused["ok"]
    assert "newest" in refused["said"]
    assert board.text == before
    assert not board.do("fit-springs", found=board.desk.kept["springs"].made.number, which="7")["ok"]


def test_an_answer_belongs_to_its_file(board: Board, tmp_path: Path) -> None:
    board.search()
    (tmp_path / "second.toml").write_text(demo_text("quellmere"), encoding="utf-8")
    assert board.do("open", file="second.toml")["ok"]
    page = board.page()
    assert "What was found" not in page
    assert "None are written down" in page


def test_without_zones_it_says_where_brackets_may_move(tmp_path: Path) -> None:
    path = put(tmp_path)
    project = read(path)
    assert board_choice.places_said(project) == ()
    (said,) = board_choice.places_said(project.model_copy(update={"zone": ()}))
    assert "No [[zone]] is written: brackets may move 100 mm along" in said


def test_it_works_without_a_script(board: Board) -> None:
    answer = board.client.post("/do/search-springs", data={**SEARCH, "back": "/lifts"}, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/lifts")
    board.ended()
    assert "What was found" in board.page()


def test_springs_without_a_label_bring_the_test_at_home(tmp_path: Path) -> None:
    path = put(tmp_path)
    project = read(path)
    spring = project.at_hand[0]
    assert not hand_springs.hand_springs(project).unknown
    unlabelled = project.model_copy(update={"at_hand": (spring.model_copy(update={"home_test": None}),)})
    hand = hand_springs.hand_springs(unlabelled)
    assert hand.unknown is (spring.force.provenance == "unknown")
    assert "scales" in " ".join(hand.test)
    assert "Never open" in " ".join(hand.cautions)


# --- the process itself ------------------------------------------------------------------------------


def test_the_process_tells_how_far_it_is_and_stops_with_the_best_so_far(tmp_path: Path) -> None:
    desk = Desk(tmp_path, put(tmp_path))
    with TestClient(build(desk)) as client:

        def search() -> Any:
            assert client.post("/do/search-springs", data=SEARCH, headers=JSON).json()["ok"]
            return desk.kept["springs"]

        now = search()
        heard: set[str] = set()
        until = time.monotonic() + 120
        while now.running:
            assert time.monotonic() < until
            heard.add(now.step)
            if "judging the best by every rule" in heard and not now.stopping:
                assert client.post("/do/stop-springs", data={}, headers=JSON).json()["ok"]
            time.sleep(0.002)
        assert "drawing roofs" in heard
        assert now.wrong == ()
        assert now.made is not None
        assert now.made.choice.stopped
        assert now.made.choice.page.best is not None
        page = unescape(client.get("/lifts").text)
        assert "this is the best so far" in page

        # A list that cannot be read is refused in the process, and its sentence comes back.
        (tmp_path / "few.csv").write_text("name,stroke_mm\na,200\n", encoding="utf-8")
        again = search()
        while again.running:
            assert time.monotonic() < until
            time.sleep(0.002)
        assert "without rod, tube, extended, force" in again.wrong[0]
        assert again.made is now.made


def test_what_refuses_every_choice_is_said_once(board: Board, found: BoardChoice) -> None:
    fault = Fault(
        "Fit this", "2 kinds of springs", "the choice is of one kind", "take all but one [[spring]] out first"
    )
    others = tuple(replace(one, refused=(fault,)) for one in found.others)
    assert others
    board.answers = replace(found, others=others)
    board.search()
    page = board.page()
    assert page.count(fault.sentence()) == 1
    assert page.count("Not fitted: see above") == len(others)
    assert 'id="not-fitted"' in page


def test_springs_that_seldom_work_are_not_offered_and_it_is_said_once(board: Board, found: BoardChoice) -> None:
    few, fewer = (
        Fault("Not offered for fitting", "", f"these work in {n} of 100 roofs", "look at what is in the way")
        for n in (2, 1)
    )
    others = tuple(replace(one, refused=(fewer,)) for one in found.others)
    assert others
    assert found.best is not None
    prop = Advice("fit a prop", 80, "Fit a prop: 80 of 100", ("requirements.prop_fitted",))
    page = replace(found.page, advice=(prop,))
    board.answers = replace(found, page=page, best=replace(found.best, refused=(few,)), others=others, prop_needed=True)
    board.search()
    shown = board.page()
    assert few.sentence() in shown
    assert fewer.sentence() not in shown
    assert "asked for" not in shown[shown.index('id="not-fitted"') :].split("</div>")[0]
    # The subtitle's link and the advice's.
    assert shown.count('href="/lifts#requirements.prop_fitted"') >= 2


def test_nothing_is_refused_above_where_all_can_be_fitted(board: Board) -> None:
    board.search()
    assert "not-fitted" not in board.page()
