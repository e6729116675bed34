"""The hand-over: cards with this roof's own numbers, and fault finding that leads to the answers."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.answers import numbers
from loftwright.answers.fault_finding import has, help_of_rule
from loftwright.answers.hand_over import HandOver, hand_over, worn_push
from loftwright.answers.hand_over_view import SLOWLY, hand_over_page
from loftwright.answers.work_numbers import handed_over
from loftwright.core.checks import Verdict
from loftwright.core.views import CheckRow
from loftwright.core.wording import Wording
from loftwright.core.work_pages import CARDS, HandOverPage
from loftwright.documents.handover_text import handover_text
from loftwright.documents.plain_text import Look
from loftwright.mechanics.feel import state
from loftwright.project.demos import demo
from loftwright.project.keys import members
from loftwright.project.model import Project
from loftwright.reference.hand_over import SERVICE, SYMPTOMS, UNHOOK
from tests.unit.answers.json_keys import keys_of


@pytest.fixture(scope="module")
def found() -> HandOver:
    project = demo("quellmere")
    return hand_over(project.model_copy(update={"settings": project.settings.model_copy(update={"draws": 20})}))


@pytest.fixture(scope="module")
def page(found: HandOver) -> HandOverPage:
    return hand_over_page(found)


def test_readings_are_the_hand_force_at_three_openings(found: HandOver, page: HandOverPage) -> None:
    # Second way: between the stations of the travel, not at the nearest one.
    row, roof, felt = state("mild", "new"), found.moved.roof, found.moved.felt
    for one in found.readings:
        push = float(np.interp(one.share, roof.travel.fraction, felt.push_up[row, 0]))
        assert one.push.nominal == pytest.approx(push, abs=2.0)
        assert one.push.low <= one.push.nominal <= one.push.high
    assert [cells[0] for cells in page.readings.rows] == ["10 %", "50 %", "90 %"]
    assert page.readings.rows[0][2] == Wording().force_hand(found.readings[0].push.nominal)


def test_the_prop_comes_first_and_the_fast_road_last(page: HandOverPage) -> None:
    titles = [step.title for step in page.commissioning]
    assert titles[0] == "The prop comes first"
    assert titles[-1] == "First fast road"
    assert titles.index("First lift") < titles.index("Readings") < titles.index("Latches") < titles.index("Water test")
    assert all(step.stop_if and step.do and step.expect for step in page.commissioning)


def test_the_drivers_card_starts_with_height_and_wind(found: HandOver, page: HandOverPage) -> None:
    assert page.driver[0].startswith("Height closed: ")
    assert re.match(r"Lower it above a gust of|Do not raise it in any wind", page.driver[1])
    assert re.match(r"Height open: [\d.]+ m: look up before you raise it\.", page.driver[2])
    assert float(page.driver[2].split()[2]) > float(page.driver[0].split()[2])
    assert any("every latch closed" in line for line in page.driver)
    assert found.held.found.van.sign[0] >= found.held.found.van.height[0]


def test_torques_are_those_of_the_holes(found: HandOver, page: HandOverPage) -> None:
    bolts = [hole for hole in found.held.found.joints.holes if hole.torque is not None]
    said = {row[3] for row in page.torques.rows}
    assert said == {Wording().moment(hole.torque) for hole in bolts}


def test_service_covers_every_season(page: HandOverPage) -> None:
    assert {"Spring", "Summer", "Autumn", "Winter"} <= {row.when for row in page.service}
    assert all(row.figure for row in page.service if row.what == "Springs" and row.when == "Spring")


def test_the_folder_says_what_is_not_assessed(page: HandOverPage) -> None:
    assert any(text.startswith("Crash and roll-over") for text in page.not_assessed)
    assert page.sources
    assert all(isinstance(row, CheckRow) for row in page.judged)
    commands = [row[2] for row in page.sheets.rows if row[2]]
    assert all(command.startswith("loftwright ") for command in commands)


def test_a_spring_is_never_pushed_in_by_hand(page: HandOverPage, found: HandOver) -> None:
    for cause in (cause for one in SYMPTOMS for cause in one.causes):
        assert not re.search(r"[Uu]nhook|push it in|[Ss]wap left and right(?! the safe way)", cause.measure)
    care = [one.care for one in page.faults if one.id in ("sinks-cold", "one-side-first", "falls-on-failure")]
    assert len(care) == 3
    for spring in found.still:
        assert all(UNHOOK in text for text in care)
        if spring.pushed_in > 0.001:
            assert all(Wording().force(spring.force) in text for text in care)


def test_an_open_spring_pushes_what_the_gas_in_it_does() -> None:
    # Second way, by the listed numbers at 20 C: F1 grows straight with the stroke to ratio times F1 at full stroke.
    one = hand_over(demo("fennimoor")).still[0]
    spring = demo("fennimoor").spring[0]
    assert one.pushed_in > 0.04
    assert spring.force.nominal < one.force < 1.35 * spring.force.nominal


def test_springs_are_changed_at_a_reading_between_new_and_without(found: HandOver, page: HandOverPage) -> None:
    # Second way: push and spring share at the handle; without friction a tenth less force is a tenth of the share.
    row, moved = state("mild", "new"), found.moved
    at = int(np.argmin(np.abs(moved.roof.travel.fraction - 0.5)))
    share = sum(float(v[row, 0, at]) for v in moved.felt.drive.springs_raising)
    share /= float(moved.felt.drive.hand_path[0, at])
    lost = found.tired - float(moved.felt.push_up[row, 0, at])
    assert lost == pytest.approx(0.1 * share, rel=0.15)
    assert worn_push(moved, 0.5, left=1.0) == pytest.approx(float(moved.felt.push_up[row, 0, at]))
    figure = next(one.figure for one in page.service if one.when == "Every third year")
    assert Wording().force_hand(abs(found.tired)) in figure


@pytest.mark.parametrize(
    ("road", "said"), [(9.0, "Not above 32 km/h at all"), (14.5, "Then up to 52 km/h"), (20.0, "at first")]
)
def test_speeds_of_the_first_road_step_up(found: HandOver, road: float, said: str) -> None:
    do = hand_over_page(replace(found, road=road)).commissioning[-1].do
    assert any(said in text for text in do)
    first, *then = (int(n) for text in do for n in re.findall(r"(?:Not above|up to) (\d+) km/h", text))
    assert all(1.3 * first <= one <= 3.6 * road for one in then)
    assert len(then) == (road > SLOWLY)


def test_what_must_hold_first_is_named_for_the_first_road(found: HandOver) -> None:
    panel = next(check for check in found.checks if check.rule.id == "ROAD-901")
    bad = panel.rule.judge(3.0, 2.0)
    assert bad.verdict is Verdict.FAILS
    page, none = (hand_over_page(replace(found, before_road=one)) for one in ((bad,), ()))
    for lines in (page.commissioning[-1].do, page.driver):
        assert any(text.startswith("Do not drive fast before") and bad.words[1:] in text for text in lines)
    assert not any("fast before" in text for text in (*none.driver, *none.commissioning[-1].do))


def test_the_second_catch_is_pulled_at_where_there_is_one(found: HandOver) -> None:
    for catch in (True, False):
        latches = found.project.latches.model_copy(update={"catch": catch})
        one = replace(found, project=found.project.model_copy(update={"latches": latches}))
        step = next(step for step in hand_over_page(one).commissioning if step.title == "Latches")
        assert any("at the second catch" in text for text in step.do) == catch


# --- fault finding ---------------------------------------------------------------------------------


def test_every_symptom_leads_to_rules_that_are_there(generator: Any) -> None:
    known = {rule.id for rule in generator.all_rules()}
    assert {cause.rule for one in SYMPTOMS for cause in one.causes} - known == set()
    assert 20 <= len(SYMPTOMS) <= 35
    assert len({one.id for one in SYMPTOMS}) == len(SYMPTOMS)
    for one in SYMPTOMS:
        for cause in one.causes:
            assert help_of_rule(cause.rule).path.startswith("/")


def test_causes_carry_this_roofs_own_numbers(found: HandOver, page: HandOverPage) -> None:
    fault = next(one for one in page.faults if one.id == "hard-to-start")
    start = next(check for check in found.checks if check.rule.id == "LIFT-204")
    cause = next(one for one in fault.causes if one.rule == "LIFT-204")
    assert start.value is not None
    assert Wording().force_hand(start.value).split()[0] in cause.own
    assert cause.verdict is start.verdict
    own = [cause.own for one in page.faults for cause in one.causes]
    assert sum(bool(text) for text in own) > 0.6 * len(own)


def test_what_a_roof_does_not_have_cannot_fail(page: HandOverPage, found: HandOver) -> None:
    there = has(found.project)
    assert "lift" not in there
    assert not any(one.id == "lift-stalls" for one in page.faults)
    assert not any(row.what == "Actuators" for row in page.service)
    assert any(needs == "lift" for *_, needs in SERVICE)


# --- faces -----------------------------------------------------------------------------------------


def test_every_key_of_the_json_is_explained(found: HandOver, root: Path) -> None:
    told = json.loads(numbers.as_json(handed_over(found)))
    text = (root / "docs" / "reference" / "json-plan.md").read_text(encoding="utf-8").split("## `handover`")[1]
    named = {key for row in re.findall(r"^\| (`.*?) \|", text, re.MULTILINE) for key in re.findall(r"`([\w.]+)`", row)}
    plain = {key for key in keys_of(told) if key.split(".")[0] not in ("format", "made_with", "project")}
    assert plain - named == set()
    # A roof that slides says its opening in metres.
    assert named - plain == {"readings.opens_m"}
    alone = handed_over(found, "driver")
    assert set(CARDS) & set(alone) == {"driver"}


def test_one_card_alone_is_shorter(page: HandOverPage) -> None:
    whole = handover_text(page, Look())
    for card in CARDS:
        assert len(handover_text(page, Look(), card)) < len(whole)
    assert "Height closed" in handover_text(page, Look(), "driver")
    assert "Height closed" not in handover_text(page, Look(), "faults")


def test_flags_follow_the_file() -> None:
    assert {"plan", "todo"} <= {member.key for member in members(Project)}
    assert "springs" in has(demo("fennimoor"))
