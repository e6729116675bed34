"""The JSON Schema and the reference page. The schema is judged by the jsonschema library."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from loftwright.project.demos import DEMOS, demo_text
from loftwright.project.keys import Section, members
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.project.schema import json_schema, reference_page

PAGE = Path(__file__).parents[3] / "docs" / "reference" / "project-file.md"
VALIDATOR = Draft202012Validator(json_schema())
DEMO = tomllib.loads(demo_text("quellmere"))


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(json_schema())


@pytest.mark.parametrize("name", DEMOS)
def test_demos_fit_the_schema(name: str) -> None:
    assert list(VALIDATOR.iter_errors(tomllib.loads(demo_text(name)))) == []


@pytest.mark.parametrize("lifts", [None, "hinge front", "hinge rear", "arms"])
def test_new_files_fit_the_schema(lifts: str | None) -> None:
    assert list(VALIDATOR.iter_errors(tomllib.loads(new_project(FiveAnswers(lifts))))) == []


def changed(section: str, key: str, value: Any) -> dict[str, Any]:
    document = copy.deepcopy(DEMO)
    document[section][key] = value
    return document


@pytest.mark.parametrize(
    ("document", "path"),
    [
        (changed("shell", "lenght", "2 m"), "$.shell"),
        (changed("shell", "length", 2.1), "$.shell.length"),
        (changed("linkage", "kind", "hinges"), "$.linkage.kind"),
        (changed("linkage", "hinge", ["1 m"]), "$.linkage.hinge"),
        ({**DEMO, "format": 2}, "$.format"),
        ({**DEMO, "shel": {}}, "$"),
        ({key: value for key, value in DEMO.items() if key != "opening"}, "$"),
        ({**DEMO, "spring": {"name": "one"}}, "$.spring"),
        (changed("weighing", "reading", ["57 kg"]), "$.weighing.reading[0]"),
    ],
)
def test_the_schema_refuses_what_reading_refuses(document: dict[str, Any], path: str) -> None:
    assert path in [error.json_path for error in VALIDATOR.iter_errors(document)]


@pytest.mark.parametrize(
    "document",
    [
        changed("linkage", "hinge", "unknown"),
        changed("linkage", "kind", "unknown"),
        changed("shell", "length", "unknown"),
        {**DEMO, "spring": [{**DEMO["spring"][0], "ratio": 1.3, "per_side": "unknown"}]},
    ],
)
def test_the_schema_lets_unknown_and_bare_ratios_pass(document: dict[str, Any]) -> None:
    assert VALIDATOR.is_valid(document)


def test_the_reference_page_is_up_to_date() -> None:
    assert PAGE.read_text(encoding="utf-8") == reference_page()


def test_the_reference_page_names_every_key() -> None:
    def chapters(table: type[Section], text: str) -> None:
        for member in members(table):
            assert f"| `{member.key}`" in text or member.table is not None
            if member.about is None and member.table is not None:
                heading = f"## `[[{member.key}]]`" if member.many else f"## `[{member.key}]`"
                after = text.split(heading, 1)[1] if heading in text else text.split(f"### `{member.key}`", 1)[1]
                chapters(member.table, after.split("\n## ", 1)[0])

    chapters(Project, reference_page())
