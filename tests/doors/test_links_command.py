"""The command `links` as a person meets it: answers, picture, writing into the file, refusals."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from loftwright.cli.main import run
from loftwright.project.demos import demo_text
from loftwright.project.file import read

LINKS = """
# arms from a scrapped lid
[links]
arm_a_length = "380 mm, measured"
arm_b_length = "330 mm, measured"
rise = "700 mm"
tilt = "5 .. 20 deg"
"""


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    path = tmp_path / "roof.toml"
    path.write_text(demo_text("fennimoor") + LINKS, encoding="utf-8")
    return path


def test_picture_json_and_writing(roof: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = roof.with_suffix(".svg")
    assert run(["links", str(roof), "--json", "--svg", str(picture), "--write", "2"]) == 0
    out, err = capsys.readouterr()
    second = json.loads(out)["answers"][1]
    ET.fromstring(picture.read_text(encoding="utf-8"))
    assert "way 2 into [linkage]" in err
    project = read(roof)
    assert project.linkage.kind == "four-bar"
    assert project.linkage.hinge is None
    assert project.linkage.arm_b_shell is not None
    assert project.linkage.arm_b_shell.x.nominal == pytest.approx(second["arm_b_shell_m"][0], abs=2.6e-4)
    assert project.linkage.opens.nominal == pytest.approx(second["opens_rad"], abs=1e-5)
    text = roof.read_text(encoding="utf-8")
    assert "# arms from a scrapped lid" in text
    assert roof.with_name("roof.toml.previous").read_text(encoding="utf-8") == demo_text("fennimoor") + LINKS


def test_text(roof: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["links", str(roof)]) == 0
    out, _ = capsys.readouterr()
    assert "ways to bolt the arms at hand" in out
    assert "Take care" in out


def test_refusals_leave_the_file_alone(roof: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = roof.read_bytes()
    assert run(["links", str(roof), "--write", "40"]) == 2
    assert run(["links", "--demo", "fennimoor"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "choose one that is listed" in err
    assert "add [links]" in err
    assert roof.read_bytes() == before
