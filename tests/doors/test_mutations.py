"""Every key of the demos spoilt in every way: refused in sentences or answered with numbers, never anything else.

Exact constructed cases. A spoilt file goes through the terminal's own door. Either it ends with 2, one
sentence for each fault and nothing written, or it is answered: every number finite, every verdict given or
"not known yet" with what to measure, and no key quietly taken for nought.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from loftwright.answers.decisions import DECISIONS, FIT, JOINTS, OPENING, WIND
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.numbers import results
from loftwright.answers.views import roof_page
from loftwright.cli.main import run
from loftwright.project.demos import DEMOS, demo_text
from loftwright.project.file import read
from loftwright.project.model import key_of, walk

MISSING = object()

Steps = tuple[str | int, ...]

ON_STRENGTH = {part for page in DECISIONS if page.path in (FIT, WIND, OPENING, JOINTS) for part in page.holds}
"""Sections of many keys that are read alike: the ways of spoiling them take turns, so that this stays quick."""

TURNS = 6
"""One in so many ways is tried on each key of `ON_STRENGTH`."""
OTHER_TURNS = 2
"""The same of all other keys."""


def spoilt(value: Any) -> Iterator[tuple[str, Any]]:
    """Yield every way of spoiling a value, with its name."""
    yield "missing", MISSING
    yield "text", "rather a lot"
    yield "NaN", float("nan")
    yield "infinite", float("inf")
    yield "empty", ""
    yield "yes", True
    yield "list", []
    yield "table", {}
    yield "bare number", 1.5
    yield "unknown", "unknown"
    if isinstance(value, str):
        number, _, rest = value.partition(" ")
        yield "wrong unit", f"{number} cd"
        yield "unit of another kind", f"{number} {'kg' if 'm' in rest.split(',')[0] else 'm2'}"
        yield "NaN in words", f"nan {rest}"
        yield "negative", value[1:] if value.startswith("-") else f"-{value}"
        yield "huge", f"{number}000000000000 {rest}"
        yield "nought", f"0 {rest}"
        yield "endless range", f"{number} +- 1e300 {rest}"
    elif isinstance(value, int) and not isinstance(value, bool):
        yield "negative", -value
        yield "huge", 10**15
        yield "nought", 0


def leaves(table: Any, steps: Steps = ()) -> Iterator[tuple[Steps, Any]]:
    """Yield every value of a file with its place."""
    parts = table.items() if isinstance(table, dict) else enumerate(table)
    for step, value in parts:
        if isinstance(value, dict | list):
            yield from leaves(value, (*steps, step))
        else:
            yield (*steps, step), value


def inline(value: Any) -> str:
    """Return a value as TOML on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {inline(part)}" for key, part in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(inline(part) for part in value) + "]"
    return json.dumps(value, ensure_ascii=False).replace("NaN", "nan").replace("Infinity", "inf")


def as_toml(document: dict[str, Any]) -> str:
    """Return a file as TOML; plain keys come before the sections."""
    lines = [f"{key} = {inline(value)}" for key, value in document.items() if not isinstance(value, dict | list)]
    for key, value in document.items():
        for table in value if isinstance(value, list) else [value] if isinstance(value, dict) else []:
            lines += [f"[[{key}]]" if isinstance(value, list) else f"[{key}]"]
            lines += [f"{name} = {inline(part)}" for name, part in table.items()]
    return "\n".join(lines)


def put(document: dict[str, Any], steps: Steps, value: Any) -> None:
    holder: Any = document
    for step in steps[:-1]:
        holder = holder[step]
    if value is MISSING:
        del holder[steps[-1]]
    else:
        holder[steps[-1]] = value


def tables(name: str) -> dict[str, Any]:
    document = tomllib.loads(demo_text(name))
    document["settings"]["draws"] = 50
    return document


def path_of(steps: Steps) -> str:
    """Return the place as `walk` writes it: the two numbers of a point are its x and z."""
    words = [str(step) for step in steps]
    if isinstance(steps[-1], int):
        words[-1] = "xz"[steps[-1]]
    return ".".join(words)


def kind_of(steps: Steps) -> str:
    """Return the key of a place, whichever entry of a list it stands in: entries hold the same keys."""
    return ".".join(step for step in path_of(steps).split(".") if not step.isdecimal())


def shared_out() -> dict[tuple[str, str], list[Steps]]:
    """Return by demo and section the places to spoil: every key once, the demos that hold it taking turns."""
    holders: dict[str, dict[str, Steps]] = {}
    for name in DEMOS:
        for steps, _ in leaves(tables(name)):
            holders.setdefault(kind_of(steps), {}).setdefault(name, steps)
    found: dict[tuple[str, str], list[Steps]] = {}
    for turn, places in enumerate(holders.values()):
        name = sorted(places)[turn % len(places)]
        found.setdefault((name, str(places[name][0])), []).append(places[name])
    return found


SHARED_OUT = shared_out()


def demo_for(section: str) -> str:
    """Return the demo from which a section of `ON_STRENGTH` is taken out: those that hold it take turns."""
    names = [name for name in DEMOS if section in tables(name)]
    return names[sorted(ON_STRENGTH).index(section) % len(names)]


def cases() -> list[Any]:
    return [pytest.param(*case, id="-".join(case)) for case in sorted(SHARED_OUT)]


def no_constant(name: str) -> Any:
    raise AssertionError(f"{name} is no JSON")


def judge_refusal(out: str, err: str, folder: Path) -> None:
    lines = err.strip().splitlines()
    assert out == ""
    assert lines
    assert lines[-1].endswith(".")
    assert all(line.endswith((".", ":")) for line in lines)
    assert not any(word in err for word in ("Traceback", "bug", "None", "pydantic", "0x"))
    assert [path.name for path in folder.iterdir()] == ["roof.toml"]


def judge_answer(out: str, file: Path, steps: Steps, wrote: Any) -> None:
    said = json.loads(out, parse_constant=no_constant)
    assert said["checks"]
    for check in said["checks"]:
        assert check["verdict"] in ("holds", "fails", "not known yet")
        if check["verdict"] == "not known yet":
            assert check["measure"]
        else:
            assert check["value"] is not None
            assert check["limit"] is not None
    project = read(file)
    outcome = judged_roof(project)
    json.loads(json.dumps(results(outcome), allow_nan=False))
    assert roof_page(outcome).rows
    known = walk(project).get(path_of(steps))
    said_so = any(str(steps[1]) in sentence for sentence in project.taken if len(steps) > 1)
    if known is not None and known.nominal == 0 and not said_so and not str(wrote).lstrip("-").startswith("0"):
        key = key_of(path_of(steps))
        meant = key.default is not None and key.default.lstrip("-").startswith("0")
        assert meant or key.same_as or known.low < 0 < known.high


@pytest.mark.slow
@pytest.mark.parametrize(("name", "section"), cases())
def test_spoilt_keys(name: str, section: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    document = tables(name)
    values = dict(leaves(document))
    places = [(steps, values[steps]) for steps in SHARED_OUT[name, section]]
    file = tmp_path / "roof.toml"
    for number, (steps, value) in enumerate(places):
        turns = TURNS if section in ON_STRENGTH else OTHER_TURNS
        for how, wrong in list(spoilt(value))[number % turns :: turns]:
            copy = deepcopy(document)
            put(copy, steps, wrong)
            file.write_text(as_toml(copy), encoding="utf-8")
            code = run(["check", str(file), "--json"])
            out, err = capsys.readouterr()
            where = f"{path_of(steps)} {how}: {wrong if wrong is not MISSING else ''!r}"
            try:
                assert code in (0, 2), err
                if code == 2:
                    judge_refusal(out, err, tmp_path)
                else:
                    judge_answer(out, file, steps, wrong)
            except Exception as error:
                raise AssertionError(f"{where}: {type(error).__name__}: {error}\n{err}") from error


@pytest.mark.slow
@pytest.mark.parametrize("name", DEMOS)
def test_sections_taken_out(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    document = tables(name)
    file = tmp_path / "roof.toml"
    for section in document:
        if section in ON_STRENGTH and name != demo_for(section):
            continue
        copy = {key: value for key, value in document.items() if key != section}
        file.write_text(as_toml(copy), encoding="utf-8")
        code = run(["check", str(file), "--json"])
        out, err = capsys.readouterr()
        assert code in (0, 2), f"{section}: {err}"
        if code == 2:
            judge_refusal(out, err, tmp_path)
        else:
            judge_answer(out, file, (section,), "")


def test_the_test_itself_sees_a_bug(tmp_path: Path) -> None:
    (tmp_path / "roof.toml").touch()
    with pytest.raises(AssertionError):
        judge_refusal("", "Traceback (most recent call last).", tmp_path)
    with pytest.raises(AssertionError):
        judge_refusal("{}", "A fault.", tmp_path)
    with pytest.raises(AssertionError):
        json.loads('{"value": NaN}', parse_constant=no_constant)
