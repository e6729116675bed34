"""The first questions through the application: answers at once, one sentence for each mistake, a new file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.project.demos import DEMOS, demo_text
from loftwright.project.file import read

JSON = {"accept": "application/json"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "roofs"
    made.mkdir()
    return made


@pytest.fixture
def desk(folder: Path) -> Desk:
    return Desk(folder)


@pytest.fixture
def client(desk: Desk) -> Iterator[TestClient]:
    with TestClient(build(desk), follow_redirects=False) as made:
        yield made


def do(client: TestClient, action: str, **fields: str) -> dict[str, Any]:
    answer: dict[str, Any] = client.post(f"/do/{action}", data=fields, headers=JSON).json()
    return answer


def look(client: TestClient, **fields: str) -> dict[str, Any]:
    answer: dict[str, Any] = client.post("/start/look", data=fields, headers=JSON).json()
    return answer


def text_of(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def test_without_a_project_every_page_leads_to_the_questions(client: TestClient) -> None:
    answer = client.get("/")
    assert (answer.status_code, answer.headers["location"]) == (303, "/start")
    page = client.get("/start")
    assert page.status_code == 200
    assert page.text.count('name="lifts"') == 6
    assert page.text.count("way-sign") == 6
    assert 'value="my roof"' in page.text
    # The policy of the board lets neither styles nor handlers stand in a tag.
    assert not re.search(r"<[^>]+\s(?:style|on\w+)=", page.text)


def test_what_the_answers_come_to(client: TestClient) -> None:
    found = look(client, lifts="hinge rear", opening_length="2.1 m", shell_mass="62", width="600")
    assert found["ok"]
    assert found["faults"] == {}
    assert found["taken"] == {"shell_mass": "62 kg"}
    said = text_of(found["parts"]["start_look"])
    for words in ("Worth carrying on?", "Headroom won", "Floor to stand on", "Weight", "EUR", "Likeliest troubles"):
        assert words in said
    assert "<svg" in found["parts"]["start_look"]
    assert found["parts"]["start_look"].count('class="verdict"') == 3
    assert "Headroom won" in text_of(found["parts"]["start_short"])


def test_the_units_change_every_figure(client: TestClient) -> None:
    said = text_of(look(client, units="imperial")["parts"]["start_look"])
    assert " ft" in said
    assert " lb" in said
    assert not re.search(r"\d (?:m|mm|kg)\b", said)


def test_a_bad_number_has_its_sentence_beside_it(client: TestClient) -> None:
    found = look(client, opening_length="long", opening_width="1.2 m", person_height="9 m")
    assert set(found["faults"]) == {"opening_length", "person_height"}
    assert "long" in found["faults"]["opening_length"]
    assert "Headroom won" in text_of(found["parts"]["start_look"])


def test_what_is_typed_never_becomes_markup(client: TestClient) -> None:
    nasty = "<img src=x onerror=alert(1)>"
    page = client.get("/start", params={"opening_length": nasty, "name": nasty, "lifts": nasty})
    assert page.status_code == 200
    assert "<img" not in page.text


def test_without_script_the_address_holds_the_answers(client: TestClient) -> None:
    page = client.get("/start", params={"lifts": "scissor", "opening_length": "1.9 m", "opening_width": "wide"})
    assert 'value="1.9 m"' in page.text
    assert re.search(r'value="scissor" checked', page.text)
    assert "Worth carrying on?" in page.text
    assert "Width of the opening is &#34;wide&#34;" in page.text


def test_begin_with_no_answer_at_all(client: TestClient, folder: Path, desk: Desk) -> None:
    assert do(client, "begin", name="my roof") == {
        "ok": True,
        "said": "Written: my-roof.toml.",
        "faults": [],
        "go": "/",
    }
    project = read(folder / "my-roof.toml")
    assert project.name == "my roof"
    assert project.linkage.kind == "hinge"
    assert desk.open.path == (folder / "my-roof.toml").resolve()
    assert client.get("/").status_code == 200


def test_begin_writes_the_answers(client: TestClient, folder: Path) -> None:
    said = do(
        client, "begin", name="Barn find", lifts="level arms", opening_length="7", shell_mass="140 lb", units="imperial"
    )
    assert said["ok"]
    project = read(folder / "barn-find.toml")
    assert project.linkage.kind == "parallel arms"
    assert project.settings.units == "imperial"
    assert project.opening.length.nominal == pytest.approx(7 * 0.3048)
    assert project.shell.mass is not None
    assert project.shell.mass.nominal == pytest.approx(140 * 0.45359237)


def test_a_plain_form_leads_to_the_drawing_board(client: TestClient, folder: Path) -> None:
    answer = client.post("/do/begin", data={"name": "plain", "back": "/start"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    assert (folder / "plain.toml").is_file()


@pytest.mark.parametrize(
    "name", ["../x", "a/b", "a\\b", "", "  ", "con", "x" * 300, ".hidden", "..", "!!!", "a\nb", "/etc/x", "C:\\x"]
)
def test_a_name_that_cannot_be_is_one_sentence(client: TestClient, folder: Path, name: str) -> None:
    before = sorted(folder.parent.rglob("*"))
    said = do(client, "begin", name=name)
    assert not said["ok"]
    ((fault),) = said["faults"]
    assert fault["where"] == "name"
    assert fault["said"] == said["said"]
    assert fault["said"].endswith(".")
    assert sorted(folder.parent.rglob("*")) == before


def test_other_alphabets_make_a_file(client: TestClient, folder: Path) -> None:
    assert do(client, "begin", name="Дом на колёсах")["ok"]
    (made,) = folder.glob("*.toml")
    assert read(made).name == "Дом на колёсах"


def test_no_file_is_written_over(client: TestClient, folder: Path) -> None:
    there = folder / "my-roof.toml"
    there.write_text("not ours\n", encoding="utf-8")
    said = do(client, "begin", name="My Roof")
    assert not said["ok"]
    assert "there already" in said["said"]
    assert there.read_text(encoding="utf-8") == "not ours\n"
    # The name that is offered is of no file that is there.
    assert 'value="my roof 2"' in client.get("/start").text


def test_no_link_is_written_through(client: TestClient, folder: Path) -> None:
    outside = folder.parent / "outside.toml"
    (folder / "my-roof.toml").symlink_to(outside)
    assert not do(client, "begin", name="my roof")["ok"]
    assert not outside.exists()


def test_bad_numbers_keep_the_file_unwritten(client: TestClient, folder: Path) -> None:
    said = do(client, "begin", name="x", opening_length="2 kg", floor_to_roof="deep")
    assert not said["ok"]
    assert [fault["where"] for fault in said["faults"]] == ["opening_length", "floor_to_roof"]
    assert not list(folder.iterdir())


def test_the_file_that_was_named_at_the_start_is_the_one_that_is_made(folder: Path) -> None:
    with TestClient(build(Desk(folder, folder / "Camp.toml")), follow_redirects=False) as client:
        assert "Camp.toml" in client.get("/start").text
        assert do(client, "begin", name="Summer camp")["said"] == "Written: Camp.toml."
        assert read(folder / "Camp.toml").name == "Summer camp"
        # The next one is called as it is named.
        assert do(client, "begin", name="Second")["said"] == "Written: second.toml."


def test_a_folder_that_cannot_be_written_to_is_one_sentence(
    client: TestClient, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path, text: str) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("loftwright.board.pages.start.write_new", full)
    said = do(client, "begin", name="x")
    assert not said["ok"]
    assert "No space left on device" in said["said"]


def test_a_folder_that_went_away_is_one_sentence(client: TestClient, folder: Path) -> None:
    folder.rmdir()
    assert client.get("/start").status_code == 200
    said = do(client, "begin", name="x")
    assert not said["ok"]
    assert len(said["faults"]) == 1


# --- other projects --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_a_made_up_roof_is_a_copy_in_the_folder(client: TestClient, folder: Path, desk: Desk, name: str) -> None:
    assert do(client, "demo", demo=name)["go"] == "/"
    target = folder / f"{name}.toml"
    assert target.read_text(encoding="utf-8") == demo_text(name)
    assert desk.open.path == target.resolve()


def test_a_copy_that_was_changed_is_opened_as_it_is(client: TestClient, folder: Path, desk: Desk) -> None:
    changed = demo_text("fennimoor").replace('name = "Fennimoor"', 'name = "Mine"')
    assert changed != demo_text("fennimoor")
    (folder / "fennimoor.toml").write_text(changed, encoding="utf-8")
    assert do(client, "demo", demo="fennimoor")["ok"]
    assert desk.project.name == "Mine"
    assert (folder / "fennimoor.toml").read_text(encoding="utf-8") == changed


@pytest.mark.parametrize("name", ["nowhere", "../fennimoor", ""])
def test_a_roof_that_is_none_is_one_sentence(client: TestClient, folder: Path, name: str) -> None:
    said = do(client, "demo", demo=name)
    assert not said["ok"]
    assert len(said["faults"]) == 1
    assert not list(folder.iterdir())


def test_projects_of_the_folder_are_listed_to_open(client: TestClient, folder: Path, desk: Desk) -> None:
    (folder / "one.toml").write_text(demo_text("quellmere"), encoding="utf-8")
    (folder / "two.toml").write_text(demo_text("ottergate"), encoding="utf-8")
    (folder / "settings.toml").write_text('colour = "red"\n', encoding="utf-8")
    page = client.get("/start").text
    assert "Open one.toml" in page
    assert "Open two.toml" in page
    assert "settings.toml" not in page
    assert do(client, "open", file="two.toml")["ok"]
    assert desk.project.name == read(folder / "two.toml").name
    page = client.get("/start").text
    assert "Open two.toml" not in page
    assert "Open now" in page


@pytest.mark.parametrize("file", ["../outside.toml", "/etc/passwd", "nothing.toml", "sub/x.toml"])
def test_only_files_of_the_folder_are_opened(client: TestClient, folder: Path, file: str) -> None:
    (folder.parent / "outside.toml").write_text(demo_text("quellmere"), encoding="utf-8")
    (folder / "sub").mkdir()
    (folder / "sub" / "x.toml").write_text(demo_text("quellmere"), encoding="utf-8")
    said = do(client, "open", file=file)
    assert not said["ok"]
    assert len(said["faults"]) == 1
