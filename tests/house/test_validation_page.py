"""The pages of theory and validation say what the code and the tests hold."""

from __future__ import annotations

import importlib
import re
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

PAGES = ("theory", "theory-strength", "theory-walls", "theory-fitout")
FOLDERS = ("published", "second_way", "laws")
WORDS = (
    "read in a public reproduction",
    "from memory",
    "computed here from first principles",
    "general-purpose library",
)
CONSTANT = re.compile(r"^\| `([a-z_.]+)\.([A-Z][A-Z0-9_]*)` \| (-?[\d.]+) \|", re.MULTILINE)


@pytest.fixture(scope="module")
def validation(root: Path) -> str:
    return (root / "docs" / "validation.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def theory(root: Path) -> str:
    return "".join((root / "docs" / f"{page}.md").read_text(encoding="utf-8") for page in PAGES)


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_check_against_the_world_is_listed(validation: str, root: Path, folder: str) -> None:
    files = sorted(path.name for path in (root / "tests" / folder).glob("*.py"))
    assert files
    assert [name for name in files if f"](../tests/{folder}/{name})" not in validation] == []


def test_every_listed_file_exists(validation: str, root: Path) -> None:
    named = set(re.findall(r"tests/[\w/]+\.py", validation)) | set(re.findall(r"\[(\w+\.py)\]", validation))
    known = {path.relative_to(root).as_posix() for path in (root / "tests").rglob("*.py")}
    assert named
    assert sorted(named - known - {path.rsplit("/", 1)[-1] for path in known}) == []


def test_each_row_says_how_it_was_confirmed(validation: str) -> None:
    part = validation.split("## Published sources")[1].split("## Laws")[0]
    rows = [line for line in part.splitlines() if line.startswith("| ")]
    rows = [row for row in rows if not row.startswith(("| **", "| check ", "| ---"))]
    assert len(rows) > 20
    unsaid = [row for row in rows if not any(word in row for word in (*WORDS, "| the same |"))]
    assert unsaid == []


def test_libraries_are_named_with_the_version_in_use(validation: str, root: Path) -> None:
    pins = (root / "constraints.txt").read_text(encoding="utf-8")
    pinned = set(re.findall(r"^([a-z0-9-]+)==([\w.]+)", pins, re.MULTILINE))
    named = re.findall(r"library (MuJoCo|CoolProp|pint|SciPy) ([\d.]+\d)", validation)
    assert {name for name, _ in named} == {"MuJoCo", "CoolProp", "pint", "SciPy"}
    assert [(name, version) for name, version in named if (name.lower(), version) not in pinned] == []


def test_constants_are_those_of_the_code(theory: str) -> None:
    rows = CONSTANT.findall(theory)
    assert len(rows) > 30
    wrong = []
    for module, name, written in rows:
        held = float(getattr(importlib.import_module(f"loftwright.{module}"), name))
        if held != pytest.approx(float(written), rel=1e-12):
            wrong.append(f"{module}.{name} is {held}, written {written}")
    assert wrong == []


def test_sources_on_the_theory_page_stand_in_the_bibliography(theory: str, generator: ModuleType) -> None:
    known = generator.bibliography()
    lines = [line for line in theory.splitlines() if "Source: " in line]
    assert len(lines) > 20
    cited = {key for line in lines for key in re.findall(r"Source: `([\w-]+)`", line)}
    assert len(cited) > 8
    assert sorted(cited - set(known)) == []
    bare = [line for line in lines if len(re.findall(r"Source: (?!`)", line)) > 0]
    assert bare == []


def test_numbers_of_equations_are_used_once(theory: str) -> None:
    tags = re.findall(r"\\tag\{([SWF]?\d+\.\d+)\}|\| \((\d+\.\d+[a-d]?)\) \|", theory)
    numbers = [a or b for a, b in tags]
    assert len(numbers) > 50
    assert sorted(n for n in set(numbers) if numbers.count(n) > 1) == []


def test_coefficients_of_the_heating_fit_are_those_of_the_code(theory: str) -> None:
    from loftwright.reference.nitrogen import HEATING

    rows = re.findall(r"^\| \$t(?:\^2)?\$ \|(.+)\|$", theory, re.MULTILINE)
    written = [[float(cell.strip().replace("−", "-")) for cell in row.split("|")] for row in rows]
    assert written == HEATING.tolist()


def test_pressing_coefficients_are_those_of_the_code(theory: str) -> None:
    from loftwright.mechanics import other_forces

    for label, table in (("edge", other_forces._EDGE), ("field", other_forces._FIELD)):
        row = re.search(rf"^\| \$c_\\mathrm\{{{label}\}}\$ \|(.+)\|$", theory, re.MULTILINE)
        assert row is not None
        assert [float(cell) for cell in row.group(1).split("|")] == table.tolist()


def test_the_gust_of_the_decision_is_the_default(root: Path) -> None:
    from loftwright.project.model import key_of

    text = (root / "docs" / "decisions" / "0008-gust-as-a-closed-roof.md").read_text(encoding="utf-8")
    assert f"\n{key_of('forces.gust').default} unless the file says otherwise" in text


def test_a_springs_own_speed_is_as_written(theory: str) -> None:
    from loftwright.project.model import key_of

    low, high = key_of("spring.0.own_speed").unknown
    assert f"unknown: {low:g} to {high:g} m/s" in theory


def test_stations_stand_as_the_page_says(theory: str) -> None:
    from loftwright.core.motion import fractions

    row = re.search(r"f = s - ([\d.]+)\\,\\frac\{\\sin 2\\pi s\}\{2\\pi\}.*\\tfrac1\{(\d+)\}", theory)
    assert row is not None
    grading, steps = float(row.group(1)), int(row.group(2))
    even = np.arange(steps + 1) / steps
    assert fractions(steps + 1) == pytest.approx(even - grading * np.sin(2 * np.pi * even) / (2 * np.pi), abs=1e-12)
    assert "five times closer at both ends" in theory
    assert even[1] / fractions(steps + 1)[1] == pytest.approx(5.0, rel=0.01)


def test_a_hand_gives_way_beyond_the_lean_that_the_page_says(theory: str) -> None:
    from loftwright.core.motion import PointPath, still
    from loftwright.mechanics.balance import hand_direction

    lean = re.search(r"unless the path leans more than (\d+)° from that: from there on (\d+)° off the path", theory)
    assert lean is not None
    edge, off = float(lean.group(1)), np.radians(float(lean.group(2)))
    for more, upright in ((-0.1, True), (0.1, False)):
        way = np.radians(np.array([90.0 - edge - more]))
        path = PointPath(0 * way, 0 * way, np.cos(way), np.sin(way), still(1))
        ux, uz = hand_direction(path)
        assert (abs(float(ux[0])) < 1e-12) == upright
        if not upright:
            assert float(ux[0] * path.dx[0] + uz[0] * path.dz[0]) == pytest.approx(np.cos(off))


def test_what_the_demos_lose_along_the_path_is_as_the_decision_says(root: Path) -> None:
    from loftwright.answers.judged_roof import judged_roof
    from loftwright.project.demos import DEMOS, demo

    pages = (root / "docs" / "decisions").glob("0007-*.md")
    text = next(pages).read_text(encoding="utf-8")
    for name in DEMOS:
        felt = judged_roof(demo(name)).numbers.felt
        straight = 1 / (felt.hand.dz[0, -1] / np.hypot(felt.hand.dx[0, -1], felt.hand.dz[0, -1])) - 1
        assert f"{100 * straight:.1f} % on {name.capitalize()}" in text
