"""Fit and strength as JSON: it agrees with itself, and every key is explained."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from loftwright.answers import numbers
from loftwright.answers.held_roof import HeldNumbers, held_roof
from loftwright.answers.hold_numbers import held
from loftwright.core.checks import Outcome
from loftwright.core.hold_views import HOLD_PARTS
from loftwright.project.demos import demo
from tests.unit.answers.json_keys import assert_alone, assert_explained, assert_tallied, keys_of, without_direction


@pytest.fixture(scope="module")
def outcome() -> Outcome[HeldNumbers]:
    project = demo("quellmere")
    return held_roof(project.model_copy(update={"settings": project.settings.model_copy(update={"draws": 30})}))


@pytest.fixture(scope="module")
def told(outcome: Outcome[HeldNumbers]) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(numbers.as_json(held(outcome)))
    return found


def test_every_key_is_explained_and_no_other(told: dict[str, Any], root: Path) -> None:
    keys = {without_direction(key) for key in keys_of(told)}
    assert_explained(keys, root / "docs" / "reference" / "json-hold.md")
    assert set(told) >= set(HOLD_PARTS)


def test_tally_and_questions_agree(told: dict[str, Any]) -> None:
    assert_tallied(told, HOLD_PARTS)


def test_one_question_alone(outcome: Outcome[HeldNumbers]) -> None:
    assert_alone(held(outcome, ("wind",)), "wind", HOLD_PARTS, len(outcome.checks))


def test_figures_agree_with_each_other(told: dict[str, Any]) -> None:
    wind = told["wind"]
    least = min(gust for part in wind["at_limit"] for gust in part["gust_m_s"].values())
    assert wind["planned_m_s"] == pytest.approx(least)
    assert wind["lower_above_m_s"] <= wind["planned_m_s"]
    van = told["van"]
    assert van["mass_after_kg"] == pytest.approx(van["mass_before_kg"] + van["added_kg"])
    # Moments about the ground: the centre of both together.
    moment = van["mass_before_kg"] * van["centre_before_m"] + van["added_kg"] * van["added_height_m"]
    assert van["centre_after_m"] == pytest.approx(moment / van["mass_after_kg"], rel=1e-6)
    for edge in told["opening"]["racking"]:
        assert edge["kept_ring"] >= edge["kept_cut"]
