"""The terminal as a person or a script meets it: answers, refusals, exit codes, papers, pipes and colours.

Exact constructed cases. What the answers are worth is tested elsewhere; here they must arrive whole.
"""

from __future__ import annotations

import io
import json
import os
import re
import shlex
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
from pathlib import Path
from types import ModuleType
from typing import Any

import jsonschema
import pypdf
import pytest

from loftwright.answers import judged_roof as answering
from loftwright.answers.views import tally
from loftwright.cli import demonstrating, main, talk
from loftwright.cli.main import run
from loftwright.core.checks import Verdict
from loftwright.core.version import MADE_WITH
from loftwright.documents import roof_sheet
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import read
from loftwright.reference.cautions import ALWAYS

PROGRAM = (sys.executable, "-c", "from loftwright.cli.main import app_main; app_main()")
COMMANDS = (
    "board",
    "book",
    "check",
    "choose",
    "demo",
    "fitout",
    "forces",
    "handover",
    "hold",
    "links",
    "new",
    "parts",
    "plan",
    "prove",
    "schema",
    "scout",
    "set",
    "sheet",
    "springs",
    "walls",
)
ESCAPE = "\x1b"

Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def _plain_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("NO_COLOR", raising=False)


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    """Return the path of a project file."""
    path = tmp_path / "roof.toml"
    path.write_text(demo_text("fennimoor"), encoding="utf-8")
    return path


def flat(text: str) -> str:
    return " ".join(text.split())


def numbers(capture: Capture) -> dict[str, Any]:
    def refuse(name: str) -> Any:
        raise AssertionError(f"{name} is no JSON")

    out, _ = capture.readouterr()
    found: dict[str, Any] = json.loads(out, parse_constant=refuse)
    return found


def refused(capture: Capture) -> str:
    """Return what was said on standard error, where nothing stands on standard output."""
    out, err = capture.readouterr()
    assert out == ""
    assert "Traceback" not in err
    return err


# --- help and usage --------------------------------------------------------------------------------


@pytest.mark.parametrize("command", COMMANDS)
def test_help_has_examples(command: str, capsys: Capture) -> None:
    assert run([command, "--help"]) == 0
    out = capsys.readouterr().out
    assert "Examples:" in out
    assert f"  loftwright {command}" in out


def test_commands_are_these(generator: ModuleType) -> None:
    assert tuple(generator.commands()) == COMMANDS


@pytest.mark.parametrize("arguments", [[], ["--help"]])
def test_without_a_command_it_explains_itself(arguments: list[str], capsys: Capture) -> None:
    assert run(arguments) == 0
    out = capsys.readouterr().out
    assert all(re.search(rf"^  {command}\b", out, re.MULTILINE) for command in COMMANDS)
    assert "Exit codes" in out


def test_version(capsys: Capture) -> None:
    assert run(["--version"]) == 0
    assert capsys.readouterr().out == f"{MADE_WITH}\n"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["chek"], "No such command 'chek'. Did you mean 'check'"),
        (["check", "--breif"], "No such option: --breif"),
        (["check", "a.toml", "b.toml"], "Got unexpected extra argument"),
        (["forces", "--every", "0"], "--every"),
        (["forces", "--every", "often"], "--every"),
        (["set"], "Missing argument"),
        (["new"], "Missing argument"),
    ],
)
def test_wrong_usage(arguments: list[str], said: str, capsys: Capture) -> None:
    assert run(arguments) == 2
    err = refused(capsys)
    assert said in err
    assert err.splitlines()[-1].startswith("Try: loftwright")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["check"], "The project is missing: name one file, or one demo with --demo; loftwright new makes a file."),
        (
            ["check", "x.toml", "--demo", "fennimoor"],
            "The project is named twice: name one file, or one demo with --demo; loftwright new makes a file.",
        ),
        (
            ["check", "x.toml"],
            "x.toml is not there: a project file is wanted; check its name or make one with new.",
        ),
        (["check", "--demo", "fenimoor"], 'demo is "fenimoor": the nearest is "fennimoor"; choose one of these.'),
        (
            ["check", "--demo", "fennimoor", "--pdf", "no/where.pdf"],
            "no/where.pdf is in a folder that is not there: it cannot be written; make it first.",
        ),
        (["check", "--demo", "fennimoor", "--html", "."], ". is a folder: a file name is wanted; add a name to it."),
        (
            ["check", "--demo", "fennimoor", "--html", "a", "--pdf", "./a"],
            "a is named twice: each paper needs its own file; choose another name.",
        ),
        (
            ["scout", "--at-hand", "hinge"],
            'what is at hand is "hinge": one of "shell", "hinges", "springs"; write "hinges".',
        ),
        (["scout", "--units", "feet"], 'units is "feet": one of "metric", "imperial"; choose one of them.'),
        (
            ["scout", "--demo", "fennimoor", "--length", "2 m"],
            "opening length is given beside a project: the project holds it already; leave one out.",
        ),
        (["set", "x.toml", "length"], 'A change is "length": it reads KEY=VALUE; write it as shell.mass="62 kg".'),
        (
            ["set", "x.toml", "name=a", "name=b"],
            "name is changed twice: one value can stand there; leave one of the two out.",
        ),
        (
            ["demo", "--name", "heron"],
            'demo is "heron": there are fennimoor, ottergate, quellmere, larkenmoor; choose one of these.',
        ),
    ],
)
def test_requests_at_fault(
    arguments: list[str], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(arguments) == 2
    assert said in refused(capsys).splitlines()
    assert list(tmp_path.iterdir()) == []


def test_every_fault_is_said(roof: Path, capsys: Capture) -> None:
    text = roof.read_text(encoding="utf-8")
    roof.write_text(text.replace('"2.12 m"', '"2120"').replace("fully", ""), encoding="utf-8")
    with roof.open("a", encoding="utf-8") as file:
        file.write("\n[colour]\nshade = 3\n")
    assert run(["check", str(roof), "--pdf", str(roof.parent / "a.pdf")]) == 2
    lines = refused(capsys).splitlines()
    assert lines[0] == "roof.toml cannot be used as it stands (2 faults):"
    assert len(lines) == 3
    assert [path.name for path in roof.parent.iterdir()] == ["roof.toml"]


# --- check -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_check_says_everything(name: str, capsys: Capture) -> None:
    outcome = answering.judged_roof(demo(name))
    assert run(["check", "--demo", name]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert max(len(line) for line in out.splitlines()) <= 80
    assert ESCAPE not in out
    words = {Verdict.FAILS: "FAILS", Verdict.NOT_KNOWN: "NOT KNOWN", Verdict.HOLDS: "holds"}
    said = re.findall(r"^(FAILS|NOT KNOWN|holds) ", out, re.MULTILINE)
    assert said == [words[check.verdict] for check in outcome.checks]
    whole = flat(out)
    for check in outcome.checks:
        assert (check.rule.promise if check.verdict is Verdict.HOLDS else check.rule.title) in whole
        assert check.rule.id in whole
        if check.verdict is not Verdict.HOLDS:
            assert flat(check.rule.remedy) in whole
    assert all(flat(text) in whole for text in ALWAYS)
    count = tally(outcome)
    fail, hold = ("fails" if count.fails == 1 else "fail"), ("holds" if count.holds == 1 else "hold")
    assert f"{count.fails} {fail}, {count.not_known} not known yet, {count.holds} {hold}." in whole


def test_brief_is_shorter_and_keeps_the_cautions(capsys: Capture) -> None:
    run(["check", "--demo", "fennimoor"])
    whole = capsys.readouterr().out
    run(["check", "--demo", "fennimoor", "--brief"])
    brief = capsys.readouterr().out
    assert len(brief.splitlines()) < 0.8 * len(whole.splitlines())
    assert "Source:" in whole
    assert "Source:" not in brief
    assert "Why:" not in brief
    assert all(flat(text) in flat(brief) for text in ALWAYS)


@pytest.mark.parametrize("columns", [50, 64, 100])
@pytest.mark.parametrize("command", ["check", "forces", "scout"])
def test_text_fits_the_terminal(command: str, columns: int, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert run([command, "--demo", "ottergate"]) == 0
    assert max(len(line) for line in capsys.readouterr().out.splitlines()) <= columns


def with_force(path: Path, force: str) -> None:
    text = path.read_text(encoding="utf-8")
    path.write_text(re.sub(r'^force = ".*?"', f'force = "{force}"', text, flags=re.MULTILINE), encoding="utf-8")


def test_strict_ends_with_one_only_for_a_failure(roof: Path, capsys: Capture) -> None:
    with_force(roof, "120 N")
    assert run(["check", str(roof)]) == 0
    assert run(["check", str(roof), "--strict"]) == 1
    assert run(["check", str(roof), "--strict", "--json"]) == 1
    capsys.readouterr()
    fails = {name: tally(answering.judged_roof(demo(name))).fails for name in DEMOS}
    for name, count in fails.items():
        assert run(["check", "--demo", name, "--strict"]) == (1 if count else 0)


def test_papers_of_a_check(roof: Path, capsys: Capture) -> None:
    pdf, html = roof.parent / "a.pdf", roof.parent / "a.html"
    assert run(["check", str(roof), "--pdf", str(pdf), "--html", str(html)]) == 0
    out, err = capsys.readouterr()
    assert "Verdicts, worst first" in out
    assert err.splitlines() == [f"Written: {pdf}", f"Written: {html}"]
    assert len(pypdf.PdfReader(pdf).pages) == 1
    assert html.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert sorted(path.name for path in roof.parent.iterdir()) == ["a.html", "a.pdf", "roof.toml"]


def test_a_project_is_never_written_over(roof: Path, capsys: Capture) -> None:
    before = roof.read_bytes()
    assert run(["check", str(roof), "--pdf", str(roof)]) == 2
    assert "it must not be written over" in refused(capsys)
    assert run(["sheet", str(roof), "--pdf", str(roof)]) == 2
    assert roof.read_bytes() == before


def test_no_paper_is_written_when_one_cannot_be_made(
    roof: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    def broken(page: object) -> bytes:
        raise ValueError("no ink")

    monkeypatch.setattr(roof_sheet, "roof_sheet_pdf", broken)
    assert run(["check", str(roof), "--html", str(roof.parent / "a.html"), "--pdf", str(roof.parent / "a.pdf")]) == 70
    refused(capsys)
    assert [path.name for path in roof.parent.iterdir()] == ["roof.toml"]


# --- JSON ------------------------------------------------------------------------------------------


def keys_of(value: Any, path: str = "") -> set[str]:
    if isinstance(value, dict):
        return {f"{path}.{key}".lstrip(".") for key in value} | set().union(
            *(keys_of(part, f"{path}.{key}") for key, part in value.items())
        )
    if isinstance(value, list):
        return set().union(*(keys_of(part, path) for part in value), set())
    return set()


LIFTED = """
[[torsion]]
moment = "20 N m"
per_degree = "0.3 N m"

[links]
arm_a_length = "380 mm"
arm_b_length = "330 mm"
rise = "700 mm"
tilt = "5 .. 20 deg"
"""

BANDS = re.compile(r"^scouting\.\w+\.(nominal|low|high)$")


def test_json_is_documented_and_nothing_more(root: Path, tmp_path: Path, capsys: Capture) -> None:
    found: set[str] = set()
    pdf, new = str(tmp_path / "sheet.pdf"), str(tmp_path / "new.toml")
    for name in DEMOS:
        for command in (["check"], ["forces"], ["scout", "--at-hand", "shell"], ["sheet", "--pdf", pdf]):
            assert run([*command, "--demo", name, "--json"]) == 0
            said = numbers(capsys)
            assert said["format"] == 1
            assert said["made_with"] == MADE_WITH
            assert said["project"]["name"] == demo(name).name
            found |= keys_of(said)
    assert run(["new", new, "--demo", "ottergate", "--json"]) == 0
    found |= keys_of(numbers(capsys))
    assert run(["set", new, "shell.mass=40 kg", "--json"]) == 0
    found |= keys_of(numbers(capsys))
    roof = tmp_path / "lifted.toml"
    roof.write_text(demo_text("fennimoor") + LIFTED, encoding="utf-8")
    for command in ("forces", "links"):
        assert run([command, str(roof), "--json"]) == 0
        found |= keys_of(numbers(capsys))
    page = (root / "docs" / "reference" / "json.md").read_text(encoding="utf-8")
    named = {
        key for row in re.findall(r"^\| (`.*?) \|", page, re.MULTILINE) for key in re.findall(r"`([\w.]+)`", row)
    } - set(COMMANDS)
    found = {key for key in found if not BANDS.match(key)}
    parents = {key.rpartition(".")[0] for key in named}
    assert found - named - parents == set()
    assert named - found == set()


@pytest.mark.parametrize("name", DEMOS)
def test_json_of_a_check_agrees_with_itself(name: str, capsys: Capture) -> None:
    assert run(["check", "--demo", name, "--json"]) == 0
    said = numbers(capsys)
    for check in said["checks"]:
        if check["value"] is not None and check["limit"] is not None:
            way = 1 if check["sense"] == "at least" else -1
            assert check["margin"] == pytest.approx(
                way * (check["value"] - check["limit"]), rel=1e-6, abs=1e-7 * max(1, abs(check["value"]))
            )
        if check["verdict"] != "not known yet":
            assert (check["margin"] >= 0) == (check["verdict"] == "holds")
    counted = [c["verdict"] for c in said["checks"]]
    assert said["tally"] == {
        "fails": counted.count("fails"),
        "not_known": counted.count("not known yet"),
        "holds": counted.count("holds"),
    }


@pytest.mark.parametrize("name", DEMOS)
def test_json_of_the_forces_agrees_with_itself(name: str, capsys: Capture) -> None:
    assert run(["forces", "--demo", name, "--json"]) == 0
    said = numbers(capsys)
    fraction = said["travel"]["fraction"]
    assert fraction[0] == 0
    assert fraction[-1] == 1
    for state in said["forces"]:
        series = [value for value in state.values() if isinstance(value, list)]
        assert {len(values) for values in series} == {len(fraction)}
        for share, push, pull, goes in zip(
            fraction, state["push_up_n"], state["pull_down_n"], state["let_go"], strict=True
        ):
            # The cloth pulls tight only near open, and then by hand.
            if share < 0.8 and min(abs(push), abs(pull)) > 1e-6:
                assert goes == (1 if push < 0 else -1 if pull < 0 else 0)
    for spring in said["springs"]:
        total = [a + b for a, b in zip(spring["length_m"], spring["pushed_in_m"], strict=True)]
        assert total == pytest.approx([total[0]] * len(total), abs=1e-7)


# --- forces ----------------------------------------------------------------------------------------


def test_forces_table(roof: Path, capsys: Capture) -> None:
    svg = roof.parent / "curves.svg"
    assert run(["forces", str(roof), "--every", "20", "--svg", str(svg)]) == 0
    out = capsys.readouterr().out
    first = out.split("Pull needed")[0]
    shown = re.findall(r"^([\d.]+) % ", first, re.MULTILINE)
    assert set(shown) >= {"0", "20", "40", "60", "80", "100"}
    assert len(shown) in (7, 8)
    assert "What it does when let go" in out
    assert ET.fromstring(svg.read_text(encoding="utf-8")).tag.endswith("svg")


def test_the_table_shows_the_highest_push(capsys: Capture) -> None:
    felt = answering.judged_roof(demo("fennimoor")).numbers.felt
    from loftwright.core.wording import Wording
    from loftwright.mechanics.feel import state

    most = float(felt.push_up[state("cold", "aged"), 0].max())
    run(["forces", "--demo", "fennimoor", "--every", "50"])
    first = capsys.readouterr().out.split("Pull needed")[0]
    column = [line.split()[4] for line in first.splitlines() if re.match(r"[\d.]+ %", line)]
    assert Wording().force_hand(most).split()[0] in column


# --- scout, new, set, sheet, schema, demo ----------------------------------------------------------


def test_scout_from_answers(capsys: Capture) -> None:
    given = ["--lifts", "hinge rear", "--length", "2.1 m", "--width", "don't know", "--person", "5 ft 9 in"]
    assert run(["scout", *given]) == 0
    out, err = capsys.readouterr()
    assert re.search(r"Worth starting\? (Yes|Probably|No)\n", out)
    assert all(flat(text) in flat(out) for text in ALWAYS)
    assert err == "Taken as not known: floor to roof.\n"


def test_scout_counts_what_is_at_hand(capsys: Capture) -> None:
    cost = []
    for given in ([], ["--at-hand", "shell"], ["--at-hand", "shell,springs"]):
        assert run(["scout", "--demo", "quellmere", "--json", *given]) == 0
        cost.append(numbers(capsys)["cost"]["high"])
    assert cost[0] > cost[1] > cost[2] > 0


def test_answers_at_fault_are_all_said(capsys: Capture) -> None:
    assert run(["scout", "--lifts", "sideways", "--length", "2.1", "--width", "900 m"]) == 2
    assert len(refused(capsys).splitlines()) == 4


def test_new_writes_a_file_that_can_be_answered(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "mine.toml"
    assert run(["new", str(path), "--lifts", "arms", "--length", "1.9 m", "--units", "imperial"]) == 0
    assert capsys.readouterr().out == f"Written: {path}\n"
    project = read(path)
    assert (project.name, project.settings.units, project.linkage.kind) == ("mine", "imperial", "four-bar")
    assert run(["check", str(path), "--brief"]) == 0


def test_new_leaves_a_file_alone(roof: Path, capsys: Capture) -> None:
    before = roof.read_bytes()
    assert run(["new", str(roof), "--demo", "ottergate"]) == 2
    assert refused(capsys) == (
        f"{roof} is there already: nothing was written over; "
        "choose another name, or add --force to keep it as roof.toml.previous.\n"
    )
    assert roof.read_bytes() == before
    assert run(["new", str(roof), "--demo", "ottergate", "--force"]) == 0
    assert roof.with_name("roof.toml.previous").read_bytes() == before
    assert read(roof).name == demo("ottergate").name


def test_new_asks_a_person(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    monkeypatch.setattr(talk, "asks_back", lambda: True)
    monkeypatch.setattr(sys, "stdin", io.StringIO("hinge front\n2 parsec\n2.05 m\n\n1.4 m\n1.8 m\n"))
    path = tmp_path / "asked.toml"
    assert run(["new", str(path)]) == 0
    err = capsys.readouterr().err
    assert 'opening length is "2 parsec"' in err
    project = read(path)
    assert project.opening.length.nominal == pytest.approx(2.05)
    assert project.opening.width.provenance == "unknown"
    assert project.person.height.nominal == pytest.approx(1.8)


def test_a_question_mark_is_answered_with_what_can_be_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.setattr(talk, "asks_back", lambda: True)
    monkeypatch.setattr(sys, "stdin", io.StringIO("?\narms\n?\n2.05 m\n\n\n\n"))
    path = tmp_path / "asked.toml"
    assert run(["new", str(path)]) == 0
    err = capsys.readouterr().err
    assert err.count("Which end stays low (hinged), or arms?") == 2
    assert all(f'"{word}"' in err for word in ("hinge front", "hinge rear", "arms", "level arms", "scissor"))
    assert "Along the van, where the roof is cut" in err
    assert read(path).opening.length.nominal == pytest.approx(2.05)
    assert run(["new", str(tmp_path / "other.toml"), "--lifts", "?"]) == 2
    assert '"hinge front", "hinge rear", "arms", "level arms", "scissor"' in capsys.readouterr().err


def test_new_on_a_folder_says_so(tmp_path: Path, capsys: Capture) -> None:
    assert run(["new", str(tmp_path), "--demo", "fennimoor"]) == 2
    assert f"{tmp_path} is a folder" in capsys.readouterr().err


def test_new_stops_when_the_person_leaves(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    monkeypatch.setattr(talk, "asks_back", lambda: True)
    monkeypatch.setattr(sys, "stdin", io.StringIO("hinge front\n"))
    assert run(["new", str(tmp_path / "asked.toml")]) == 130
    assert capsys.readouterr().err.endswith("Stopped.\n")
    assert list(tmp_path.iterdir()) == []


def test_set_changes_keys_and_nothing_else(roof: Path, capsys: Capture) -> None:
    before = roof.read_text(encoding="utf-8")
    changes = ["shell.mass=64 +- 1 kg, measured", "settings.draws=60", "requirements.prop_fitted=TRUE"]
    assert run(["set", str(roof), *changes]) == 0
    out, err = capsys.readouterr()
    assert out.splitlines() == [
        'shell.mass = "64 +- 1 kg, measured"',
        "settings.draws = 60",
        "requirements.prop_fitted = true",
    ]
    assert "roof.toml.previous" in err
    project = read(roof)
    assert project.shell.mass is not None
    assert project.shell.mass.nominal == pytest.approx(64.0)
    assert project.settings.draws == 60
    assert project.requirements.prop_fitted is True
    comments = re.findall(r"#.*", before)
    assert [c for c in re.findall(r"#.*", roof.read_text(encoding="utf-8")) if c in comments] == comments
    assert roof.with_name("roof.toml.previous").read_text(encoding="utf-8") == before


@pytest.mark.parametrize("change", ["shell.mas=60 kg", "shell.mass=heavy", "settings.draws=many", "spring=2", "=1"])
def test_set_refuses_and_writes_nothing(change: str, roof: Path, capsys: Capture) -> None:
    before = roof.read_bytes()
    assert run(["set", str(roof), "name=other", change]) == 2
    refused(capsys)
    assert roof.read_bytes() == before
    assert [path.name for path in roof.parent.iterdir()] == ["roof.toml"]


def test_sheets(roof: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    monkeypatch.chdir(roof.parent)
    assert run(["sheet", "roof.toml"]) == 0
    assert run(["sheet", "--units", "imperial"]) == 0
    assert capsys.readouterr().out == "Written: roof-measuring-sheet.pdf\nWritten: measuring-sheet.pdf\n"
    for name in ("roof-measuring-sheet.pdf", "measuring-sheet.pdf"):
        assert len(pypdf.PdfReader(roof.parent / name).pages) == 1
    assert run(["sheet", "--json"]) == 0
    assert numbers(capsys)["written"] == []


def test_schema_is_one(tmp_path: Path, capsys: Capture) -> None:
    assert run(["schema"]) == 0
    printed = numbers(capsys)
    jsonschema.Draft202012Validator.check_schema(printed)
    out = tmp_path / "schema.json"
    assert run(["schema", "--out", str(out)]) == 0
    assert json.loads(out.read_text(encoding="utf-8")) == printed


@pytest.mark.slow
def test_demo_takes_it_through_everything(tmp_path: Path, capsys: Capture) -> None:
    folder = tmp_path / "my papers"
    started = time.monotonic()
    assert run(["demo", "--out", str(folder)]) == 0
    assert time.monotonic() - started < 120
    out, err = capsys.readouterr()
    steps = err.splitlines()
    assert len(steps) >= 5
    assert all(re.match(r" *[\d.]+ s  \w", line) for line in steps)
    names = {path.name for path in folder.iterdir()}
    assert names == set(re.findall(r"^  (fennimoor\S*)", out, re.MULTILINE))
    assert shlex.split(out.splitlines()[-1].rpartition("loftwright board ")[2]) == [str(folder / "fennimoor.toml")]
    assert {"fennimoor.pdf", "fennimoor-measuring-sheet.pdf", "fennimoor.json", "fennimoor.toml"} <= names
    results = json.loads((folder / "fennimoor.json").read_text(encoding="utf-8"))
    assert {"checks", "forces", "travel", "failures"} <= set(results)


def test_demo_keeps_a_changed_project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    # Only what becomes of the project is looked at here: the dear papers are left out.
    for papers in ("_held", "_chosen"):
        monkeypatch.setattr(demonstrating, papers, lambda project, step: {})
    kept = tmp_path / "ottergate.toml"
    kept.write_text(demo_text("ottergate").replace("Ottergate", "Otter"), encoding="utf-8")
    assert run(["demo", "--out", str(tmp_path), "--name", "ottergate", "--json"]) == 0
    assert str(kept) in numbers(capsys)["written"]
    assert 'name = "Otter"' in kept.with_name("ottergate.toml.previous").read_text(encoding="utf-8")


# --- how it ends -----------------------------------------------------------------------------------


def test_a_bug_is_one_sentence(roof: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    def broken(project: object) -> None:
        raise ValueError("two\nlines")

    monkeypatch.setattr(answering, "judged_roof", broken)
    assert run(["check", str(roof)]) == 70
    assert refused(capsys) == (
        "This is a bug in Loftwright (ValueError: two lines): run it again with --debug and report what it prints.\n"
    )
    assert run(["check", str(roof), "--debug"]) == 70
    assert "Traceback" in capsys.readouterr().err


def test_stopped_from_the_keyboard(roof: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    def stopped(project: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(answering, "judged_roof", stopped)
    assert run(["check", str(roof)]) == 130
    refused(capsys)


def test_colour_only_repeats_the_words(monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    run(["check", "--demo", "ottergate"])
    plain = capsys.readouterr().out
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    run(["check", "--demo", "ottergate"])
    coloured = capsys.readouterr().out
    assert ESCAPE in coloured
    assert re.sub(r"\x1b\[[\d;]*m", "", coloured) == plain
    monkeypatch.setenv("NO_COLOR", "1")
    run(["check", "--demo", "ottergate"])
    assert capsys.readouterr().out == plain


def test_a_reader_that_goes_away() -> None:
    process = subprocess.Popen(
        [*PROGRAM, "check", "--demo", "fennimoor"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    err = process.stderr.read()
    process.stderr.close()
    assert process.wait() == 0
    assert err == b""


def test_a_reader_of_a_help_text_that_goes_away() -> None:
    process = subprocess.Popen([*PROGRAM, "check", "--help"], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    err = process.stderr.read()
    process.stderr.close()
    assert process.wait() == 0
    assert err == b""


@pytest.mark.parametrize(("ends", "code", "said"), [(3, 3, ""), (None, 0, ""), ("Out of paper.", 1, "Out of paper.\n")])
def test_an_end_from_below_keeps_its_code(
    ends: int | str | None, code: int, said: str, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    class Ending:
        def main(self, *_: object, **__: object) -> None:
            raise SystemExit(ends)

    monkeypatch.setattr(main, "_command", Ending)
    assert run(["check"]) == code
    assert capsys.readouterr().err == said


@pytest.mark.skipif(os.name != "posix", reason="closing a stream before the start is done with a POSIX shell")
def test_standard_output_closed() -> None:
    command = '"$0" -c "from loftwright.cli.main import app_main; app_main()" check --demo fennimoor >&-'
    ran = subprocess.run(["/bin/sh", "-c", command, sys.executable], stderr=subprocess.PIPE)
    assert ran.returncode == 0
    assert ran.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no full device on this system")
def test_a_full_disk_is_said() -> None:
    with open("/dev/full", "w") as full:
        ran = subprocess.run([*PROGRAM, "check", "--demo", "fennimoor"], stdout=full, stderr=subprocess.PIPE, text=True)
    assert ran.returncode == 2
    assert ran.stderr.startswith("The computer refused (No space left on device)")
    assert len(ran.stderr.splitlines()) == 1


def test_a_terminal_of_few_characters() -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    ran = subprocess.run([*PROGRAM, "forces", "--demo", "fennimoor"], capture_output=True, env=environment)
    assert ran.returncode == 0
    assert ran.stderr == b""
    assert b"?" in ran.stdout
