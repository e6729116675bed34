"""The fit-out as pages, text and JSON: every key explained, every question answered, both units, nothing left blank."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from loftwright.answers import numbers
from loftwright.answers.fitted_roof import FittedNumbers, fitted_roof
from loftwright.answers.fitting_lift_view import resistance_words
from loftwright.answers.fitting_numbers import fitted_out
from loftwright.answers.fitting_said import PART_OF
from loftwright.answers.fitting_view import fitting_page
from loftwright.core.checks import Outcome
from loftwright.core.fitting_pages import FITTING_PARTS
from loftwright.core.wording import Wording
from loftwright.documents.fitting_text import fitting_text, part_text
from loftwright.documents.plain_text import Look
from loftwright.project.file import loads
from tests.unit.answers.fitted_cases import LINING, PANEL, SAMPLE, SIDE, text
from tests.unit.answers.json_keys import keys_of


@pytest.fixture(scope="module")
def outcome() -> Outcome[FittedNumbers]:
    return fitted_roof(loads(text()))


@pytest.fixture(scope="module")
def bare() -> Outcome[FittedNumbers]:
    return fitted_roof(loads(text(more="")))


def test_every_key_is_explained_and_no_other(
    outcome: Outcome[FittedNumbers], bare: Outcome[FittedNumbers], root: Path
) -> None:
    page = (root / "docs" / "reference" / "json-fitout.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (`.*?) \|", page, re.MULTILINE)
    named = {key for row in rows for key in re.findall(r"`([\w.]+)`", row)}
    told = [json.loads(numbers.as_json(fitted_out(one))) for one in (outcome, bare)]
    plain = {key for one in told for key in keys_of(one)}
    plain = {key for key in plain if key.split(".")[0] not in ("format", "made_with", "project")}
    found = {key for key in plain if not key.startswith("checks.")} | {"checks.question"}
    assert found - named == set()
    parents = {key.rpartition(".")[0] for key in named}
    assert named - found - parents == set()


def test_one_question_alone(outcome: Outcome[FittedNumbers]) -> None:
    alone = fitted_out(outcome, ("panel",))
    assert set(FITTING_PARTS) & set(alone) == {"panel"}
    assert {check["question"] for check in alone["checks"]} == {"panel"}


def test_every_judgement_has_its_question(outcome: Outcome[FittedNumbers]) -> None:
    page = fitting_page(outcome)
    assert tuple(section.part for section in page.sections) == FITTING_PARTS
    assert sorted(row.id for section in page.sections for row in section.rows) == sorted(row.id for row in page.rows)
    assert {row.id.partition("-")[0] for row in page.rows} == set(PART_OF)


def test_what_is_left_out_is_said_and_not_judged(bare: Outcome[FittedNumbers]) -> None:
    page = fitting_page(bare)
    assert page.sun is None
    assert page.loop is None
    assert page.lift is None
    for part, words in (("panel", "No panel"), ("lift", "No powered lift"), ("lining", "No lining")):
        section = next(one for one in page.sections if one.part == part)
        assert section.says.startswith(words)
        assert section.rows == ()
        assert section.said
    assert "actuators of" in page.section("lift").facts[0].value


def test_every_month_lies_within_its_band(outcome: Outcome[FittedNumbers]) -> None:
    months = json.loads(numbers.as_json(fitted_out(outcome)))["panel"]["months"]
    assert len(months) == 12
    for month in months:
        for way in ("flat", "raised"):
            assert month[f"{way}_low_wh"] <= month[f"{way}_wh"] <= month[f"{way}_high_wh"], month


def test_what_is_drawn_is_of_one_piece(outcome: Outcome[FittedNumbers]) -> None:
    page = fitting_page(outcome)
    assert page.sun is not None
    assert page.loop is not None
    assert len(page.seal.path) == len(page.seal.wet)
    assert len(page.room.opened) == len(page.room.y)
    assert len(page.room.opened[0]) == len(page.room.x)
    assert page.room.bed is not None
    assert page.room.bed[0] == pytest.approx(0.95, abs=0.03)
    assert page.sun.by_heading[page.sun.best] == max(page.sun.by_heading)
    assert page.sun.flat_best == max(page.sun.by_heading_flat)
    worst = page.sun.headings[page.sun.by_heading.index(min(page.sun.by_heading))]
    assert page.sun.worst_text == f"worst: cab to {worst}, {min(page.sun.by_heading):.0f} W h a day"
    assert page.sun.best_text.startswith(f"best: cab to {page.sun.headings[page.sun.best]}, ")
    assert page.sun.flat_text == f"roof closed, at best {page.sun.flat_best:.0f} W h a day"
    assert page.sun.use_text == f"used a day: {page.sun.use:.0f} W h"
    assert page.loop.path[0] == pytest.approx(tuple(outcome.numbers.found.panel.wire.shell))  # type: ignore[union-attr]


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_text_says_everything(units: str) -> None:
    one = fitted_roof(loads(text().replace('units = "metric"', f'units = "{units}"')))
    page = fitting_page(one)
    said = fitting_text(page, Look())
    for section in page.sections:
        assert section.title in said
        assert " nan" not in part_text(page, section.part, Look())
    assert "item.2.mass = " in said
    assert len(fitting_text(page, Look(), brief=True)) < len(said) / 2
    assert ("mm" in page.section("seal").says) == (units == "metric")
    assert page.seal.sample[0].startswith("Cut 200 mm of" if units == "metric" else "Cut 8 in of")
    assert ("m²K/W" in part_text(page, "lining", Look())) == (units == "metric")


def test_an_r_value_is_that_of_the_trade() -> None:
    """NIST SP 811, Appendix B.8: 1 ft² °F h/BTU is 0.1761 m2 K/W; read from memory."""
    assert resistance_words(0.1761 * 13.0, Wording("imperial")) == "R-value 13.0 ft² °F h/BTU"


@pytest.mark.parametrize("file", [SIDE + PANEL + LINING + SAMPLE, text("larkenmoor", PANEL + LINING)])
def test_other_ways_of_lifting(file: str) -> None:
    page = fitting_page(fitted_roof(loads(file)))
    assert page.rows
    assert all(section.says for section in page.sections)
