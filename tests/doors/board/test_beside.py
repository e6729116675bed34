"""The page with two designs side by side, as a fast simulated user sees it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.project.demos import demo_text
from loftwright.project.file import read

JSON = {"accept": "application/json"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("fennimoor", "ottergate"):
        (tmp_path / f"{name}.toml").write_text(demo_text(name), encoding="utf-8")
    return tmp_path


@pytest.fixture
def client(folder: Path) -> Iterator[TestClient]:
    with TestClient(build(Desk(folder, folder / "fennimoor.toml"))) as found:
        yield found


def shown(client: TestClient, wanted: str, words: str) -> str:
    """Return the page once it shows some words."""
    for _ in range(100):
        text = client.get("/beside", params={"with": wanted}).text
        if words in text:
            return text
        time.sleep(0.1)
    raise AssertionError(f"{words} never came")


def do(client: TestClient, action: str, **fields: str) -> dict[str, object]:
    return dict(client.post(f"/do/{action}", data=fields, headers=JSON).json())


def stamp_in(text: str) -> str:
    return text.split('name="stamp" value="')[1].split('"')[0]


def test_another_file_is_put_beside(client: TestClient) -> None:
    first = client.get("/beside").text
    assert 'value="file:ottergate.toml"' in first
    assert "Key figures" not in first
    text = shown(client, "file:ottergate.toml", "Key figures")
    assert text.count('data-design="') == 2
    # Ids of the two drawings do not clash.
    ids = [part.split('"')[0] for part in text.split(' id="')[1:]]
    assert len(ids) == len(set(ids))
    assert "What is judged otherwise, worst first" in text
    assert "Take care" in text


def test_a_value_is_taken_over_and_brought_back(client: TestClient, folder: Path) -> None:
    text = shown(client, "file:ottergate.toml", "Key figures")
    other = {"with": "file:ottergate.toml", "stamp": stamp_in(text)}
    answer = do(client, "beside-take", path="spring.0.force", what="force", **other)
    assert answer["ok"]
    ours, theirs = (read(folder / f"{name}.toml").spring[0] for name in ("fennimoor", "ottergate"))
    assert ours.force == theirs.force
    assert do(client, "undo")["ok"]
    assert (folder / "fennimoor.toml").read_text(encoding="utf-8") == demo_text("fennimoor")


def test_the_whole_other_design_is_taken_over_under_the_own_name(client: TestClient, folder: Path) -> None:
    text = shown(client, "file:ottergate.toml", "Key figures")
    answer = do(client, "beside-take-all", **{"with": "file:ottergate.toml", "stamp": stamp_in(text)})
    assert answer["ok"]
    now = read(folder / "fennimoor.toml")
    assert now.linkage == read(folder / "ottergate.toml").linkage
    assert now.name == "Fennimoor"
    shown(client, "file:ottergate.toml", "No value differs.")
    assert do(client, "undo")["ok"]
    assert (folder / "fennimoor.toml").read_text(encoding="utf-8") == demo_text("fennimoor")


def test_an_earlier_version_is_put_beside(client: TestClient, folder: Path) -> None:
    assert do(client, "change", **{"spring.0.force": "820 N, label", "what": "spring changed"})["ok"]
    assert do(client, "change", **{"shell.mass": "50 kg", "what": "shell weighed"})["ok"]
    text = client.get("/beside").text
    assert "as it was before: shell weighed" in text
    assert "as it was opened" in text
    key = text.split("as it was before: shell weighed")[0].rsplit('value="', 1)[1].split('"')[0]
    page = shown(client, key, "Key figures")
    assert 'id="take-shell.mass"' in page
    assert 'id="take-spring.0.force"' not in page
    assert do(client, "beside-take-all", **{"with": key, "stamp": stamp_in(page)})["ok"]
    shell = read(folder / "fennimoor.toml").shell
    assert shell.mass is not None
    assert shell.mass.nominal != 50.0


def test_what_is_gone_or_changed_is_refused(client: TestClient, folder: Path) -> None:
    text = shown(client, "file:ottergate.toml", "Key figures")
    other = {"with": "file:ottergate.toml", "stamp": stamp_in(text)}
    (folder / "ottergate.toml").write_text(demo_text("ottergate") + "# later\n", encoding="utf-8")
    assert not do(client, "beside-take", path="spring.0.force", what="force", **other)["ok"]
    assert not do(client, "beside-take-all", **other)["ok"]
    for wanted in ("file:none.toml", "file:../x.toml", "step:0", "nonsense"):
        assert 'class="fault"' in client.get("/beside", params={"with": wanted}).text
        assert not do(client, "beside-take-all", **{"with": wanted, "stamp": ""})["ok"]
    assert (folder / "fennimoor.toml").read_text(encoding="utf-8") == demo_text("fennimoor")


def test_a_value_that_alone_cannot_stand_is_refused_in_words(client: TestClient, folder: Path) -> None:
    text = shown(client, "file:ottergate.toml", "Key figures")
    other = {"with": "file:ottergate.toml", "stamp": stamp_in(text)}
    answer = do(client, "beside-take", path="linkage.kind", what="kind", **other)
    assert not answer["ok"]
    assert "arms need all four pivots" in str(answer["said"])
    assert (folder / "fennimoor.toml").read_text(encoding="utf-8") == demo_text("fennimoor")


def test_a_copy_is_kept_and_never_written_over(client: TestClient, folder: Path) -> None:
    answer = do(client, "beside-copy", name="Softer springs")
    assert answer["ok"]
    assert answer["go"] == "/beside?with=file%3Asofter-springs.toml"
    assert read(folder / "softer-springs.toml").name == "Softer springs"
    shown(client, "file:softer-springs.toml", "No value differs.")
    before = (folder / "softer-springs.toml").read_bytes()
    assert do(client, "change", **{"spring.0.force": "700 N, label"})["ok"]
    again = do(client, "beside-copy", name="Softer springs")
    assert not again["ok"]
    assert [fault["where"] for fault in again["faults"]] == ["name"]
    assert (folder / "softer-springs.toml").read_bytes() == before
    assert "700 N, label" in shown(client, "file:softer-springs.toml", "700 N, label")


def test_another_way_of_moving_is_one_change(client: TestClient, folder: Path) -> None:
    page = client.get("/moves").text
    assert "Now: Hinged at the front" in page
    answer = do(client, "motion", wanted="four-bar")
    assert answer["ok"]
    assert "Suggested: four pivots" in str(answer["said"])
    assert read(folder / "fennimoor.toml").linkage.kind == "four-bar"
    assert "Now: Two unlike lifting arms" in client.get("/moves").text
    assert do(client, "undo")["ok"]
    assert (folder / "fennimoor.toml").read_text(encoding="utf-8") == demo_text("fennimoor")
    assert not do(client, "motion", wanted="hinge front")["ok"]
