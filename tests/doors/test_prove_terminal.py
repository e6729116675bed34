"""The command that holds the built roof against its plan, as a person or a script meets it. Exact constructed cases."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from loftwright.answers import moved_roof, proof, proof_holes
from loftwright.cli.main import run
from loftwright.project.demos import demo_text

Capture = pytest.CaptureFixture[str]

READINGS = """
[[reading]]
how_open = "20 %"
way = "push up"
force = "{} kg +- 0.5 kg, measured"
scale = "luggage scale"
temperature = "15 C"

[[reading]]
how_open = "90 %"
way = "pull down"
force = "{} kg +- 0.5 kg, measured"
temperature = "15 C"

[[tape]]
step = "springs"
what = "spring length"
how_open = "0 %"
reads = "{} mm"
"""


@pytest.fixture(autouse=True)
def _plain_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("NO_COLOR", "1")
    # The row of holes is looked for elsewhere: it takes longer than all the rest.
    monkeypatch.setattr(proof_holes, "own_row", lambda project: None)
    monkeypatch.setattr(proof, "DRAWS", 300)
    monkeypatch.setattr(moved_roof, "LOOKED_IN", 60)


def write(folder: Path, *figures: float) -> Path:
    """Return a file of a demo without readings of its own, with these."""
    text = re.sub(r"^\[\[(?:reading|tape)\]\]\n(?:(?!\[).*\n?)*", "", demo_text("ottergate"), flags=re.MULTILINE)
    path = folder / "built.toml"
    path.write_text(text + READINGS.format(*figures), encoding="utf-8")
    return path


def flat(text: str) -> str:
    return " ".join(text.split())


def keys_of(part: Any, at: str = "") -> Iterator[str]:
    if isinstance(part, dict):
        for key, value in part.items():
            yield f"{at}{key}"
            yield from keys_of(value, f"{at}{key}.")
    elif isinstance(part, list):
        for value in part:
            yield from keys_of(value, at)


@pytest.fixture(scope="module")
def expected(tmp_path_factory: pytest.TempPathFactory) -> tuple[float, float, float]:
    """Return what scale [kg] and tape [mm] should read on the demo: the numbers of the command itself, fed back."""
    from loftwright.answers.proof_view import proven
    from loftwright.core.units import STANDARD_GRAVITY
    from loftwright.project.file import read

    found = proven(read(write(tmp_path_factory.mktemp("first"), 5.0, 15.0, 400.0)))
    push, pull = (round(float(f) / STANDARD_GRAVITY, 2) for f in found.proof.force_before.mean(axis=0))
    (length,) = (one.expected.length for one in found.tape.taken)
    return push, pull, round(1000 * length, 1)


def test_readings_that_agree(tmp_path: Path, capsys: Capture, expected: tuple[float, float, float]) -> None:
    path, picture = write(tmp_path, *expected), tmp_path / "readings.svg"
    assert run(["prove", str(path), "--svg", str(picture)]) == 0
    out, err = capsys.readouterr()
    said = flat(out)
    assert "The readings agree with what was known of this roof." in said
    assert "2 readings, they agree; 1 tape reading" in said
    assert "The tape agrees" in said
    assert "Learnt" in said
    assert "STRANGE" not in said
    assert "in line with the rods" in said
    assert "Fit the prop" in said
    assert max(len(line) for line in out.splitlines()) <= 80
    assert str(picture) in err
    root = ET.fromstring(picture.read_text(encoding="utf-8"))
    assert root.tag.endswith("svg")
    assert "measured" in "".join(root.itertext())


def test_drag_and_a_bracket_that_is_off(tmp_path: Path, capsys: Capture, expected: tuple[float, float, float]) -> None:
    push, pull, length = expected
    path = write(tmp_path, round(push + 6.0, 2), round(pull + 6.0, 2), length + 25.0)
    assert run(["prove", str(path), "--brief"]) == 0
    said = flat(capsys.readouterr().out)
    assert "The readings contradict what was known" in said
    assert "Something drags" in said
    assert "STRANGE" in said
    assert "Nothing is learnt" in said
    assert "1 of 1 tape readings miss" in said
    assert "print again" in said
    assert "in line with the rods" in said
    assert "Never open, heat or drill" not in said


def test_json_is_documented_and_nothing_more(
    root: Path, tmp_path: Path, capsys: Capture, expected: tuple[float, float, float]
) -> None:
    push, pull, length = expected
    path = write(tmp_path, push, round(pull + 1.0, 2), length + 25.0)
    other = '[[reading]]\nhow_open = "60 %"\nway = "pull down"\nforce = "7 kg"\nhead = ["{} mm", "{} mm"]\n'
    from loftwright.project.demos import demo

    head = demo("ottergate").spring[0].head
    places = (1000 * head.x.nominal + 30, 1000 * head.z.nominal)
    path.write_text(path.read_text(encoding="utf-8") + other.format(*places), encoding="utf-8")
    assert run(["prove", str(path), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["format"] == 1
    # Moves are named once nothing contradicts.
    clear = write(tmp_path, push, pull, length)
    assert run(["prove", str(clear), "--json"]) == 0
    agreed = json.loads(capsys.readouterr().out)
    assert said["moves"] == []
    assert "stay" in [one["kind"] for one in agreed["moves"]]
    found = (set(keys_of(said)) | set(keys_of(agreed))) - {"format", "made_with"}
    found = {key for key in found if key.split(".")[0] != "project"}
    page = (root / "docs" / "reference" / "json-readings.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (`.*?) \|", page, re.MULTILINE)
    named = {key for row in rows for key in re.findall(r"`([\w.]+)`", row)}
    assert found == named
    assert len(said["readings"]) == 3
    assert len(said["holes"]) == 2


def test_what_cannot_be_drawn_or_read_is_refused(tmp_path: Path, capsys: Capture) -> None:
    bare = write(tmp_path, 5.0, 15.0, 400.0)
    text = bare.read_text(encoding="utf-8")
    bare.write_text(text[: text.index("[[reading]]")], encoding="utf-8")
    assert run(["prove", str(bare), "--svg", str(tmp_path / "none.svg")]) == 2
    assert "[[reading]]" in capsys.readouterr().err
    assert not (tmp_path / "none.svg").exists()
    assert run(["prove"]) == 2
    assert "name one file" in flat(capsys.readouterr().err)
    assert run(["prove", "--help"]) == 0
    assert "loftwright prove my-roof.toml" in capsys.readouterr().out


def test_without_readings_it_says_what_to_expect(tmp_path: Path, capsys: Capture) -> None:
    bare = write(tmp_path, 5.0, 15.0, 400.0)
    text = bare.read_text(encoding="utf-8")
    bare.write_text(text[: text.index("[[reading]]")], encoding="utf-8")
    assert run(["prove", str(bare)]) == 0
    said = flat(capsys.readouterr().out)
    assert "No readings yet" in said
    assert "After the springs: spring length, closed" in said
