"""The order of work: tasks from the file, days, odds, open roof, the list before the cut. Exact constructed cases."""

from __future__ import annotations

import ast
import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from loftwright.answers import numbers
from loftwright.answers.part_list import part_list
from loftwright.answers.work_flags import FAR_AHEAD, listed, pace_of, roof_of
from loftwright.answers.work_go import status_of
from loftwright.answers.work_numbers import work
from loftwright.answers.work_open_view import go_page, weekday_words
from loftwright.answers.work_plan import WorkNumbers, work_plan
from loftwright.answers.work_tick import task_called, tick_changes
from loftwright.answers.work_view import work_page
from loftwright.core.checks import Check, Outcome, Verdict
from loftwright.core.errors import ProjectFault
from loftwright.core.uncertain import even, exact
from loftwright.plan.standard_tasks import unsafe_order
from loftwright.plan.tasks import all_before, network
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import loads
from loftwright.project.keys import members
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.project.plan_sections import Plan, Todo
from loftwright.reference.work_help import HELP_OF_CHAPTER, HELP_OF_TASK
from tests.unit.answers.json_keys import keys_of

HOUR, DAY = 3600.0, 86_400.0
OF_PARTS = ("bar", "kerf", "budget")
"""Keys of [plan] that count in the list of parts."""


def few_draws(project: Project, draws: int = 20) -> Project:
    return project.model_copy(update={"settings": project.settings.model_copy(update={"draws": draws})})


def planned(project: Project, *todo: Todo, **keys: Any) -> Project:
    plan = project.plan.model_copy(update={"start": "2027-04-17", **keys})
    return few_draws(project).model_copy(update={"plan": plan, "todo": todo})


def entry(task: str, **keys: Any) -> Todo:
    return Todo(task=task, **keys)


def days_of(project: Project) -> Outcome[WorkNumbers]:
    return work_plan(project, go=False)


def check_of(outcome: Outcome[WorkNumbers], rule: str, part: str = "") -> Check:
    return next(check for check in outcome.checks if check.rule.id == rule and part in check.part)


@pytest.fixture(scope="module")
def whole() -> Outcome[WorkNumbers]:
    return work_plan(few_draws(demo("quellmere")))


# --- tasks -----------------------------------------------------------------------------------------


def test_tasks_follow_what_the_roof_has() -> None:
    plain = demo("quellmere").model_copy(update={"panel": None, "lining": None, "brace": None, "lift": None})
    ids = {task.id for task in listed(plain).tasks}
    assert "panel-on" not in ids
    assert "brace-on" not in ids
    assert "actuators-on" not in ids
    assert {"cut", "closed", "frame-hinges"} <= ids
    assert "frame-hinges" not in {task.id for task in listed(plain, trial=False).tasks}
    built = plain.model_copy(update={"plan": plain.plan.model_copy(update={"shell_is": "built"})})
    assert {"build-mould", "lay-up-shell"} <= {task.id for task in listed(built).tasks}
    assert roof_of(built).flags() >= {"built", "laminate"}


@pytest.mark.parametrize("lifts", ["hinge front", "hinge rear", "arms", "level arms", "scissor"])
def test_every_new_roof_has_a_safe_order(lifts: str) -> None:
    project = few_draws(loads(new_project(FiveAnswers(lifts))))
    found = days_of(project).numbers
    assert unsafe_order(found.listed.tasks) == ()
    assert found.schedule.finish > found.job.today
    assert found.open.nights[0] >= 1.0


def test_own_tasks_and_own_hours() -> None:
    own = entry("mark the bed", name="Mark where the bed goes", after="measure-van, cut", likely=exact(2 * HOUR))
    other = entry("weigh-shell", least=exact(HOUR), likely=exact(2 * HOUR), most=exact(5 * HOUR))
    found = listed(planned(demo("quellmere"), own, other))
    tasks = {task.id: task for task in found.tasks}
    assert tasks["mark the bed"].name == "Mark where the bed goes"
    assert {after.id for after in tasks["mark the bed"].after} == {"measure-van", "cut"}
    assert (tasks["weigh-shell"].hours.least, tasks["weigh-shell"].hours.most) == (1.0, 5.0)
    assert found.entry == {"mark the bed": 0, "weigh-shell": 1}
    assert found.said == ()


def test_names_as_people_write_them_are_known() -> None:
    project = planned(demo("quellmere"))
    assert task_called(project, "weigh shell") == "weigh-shell"
    assert task_called(project, "Drill the corners and cut the opening") == "cut"
    with pytest.raises(ProjectFault, match=r'no such task; write "weigh-shell"'):
        task_called(project, "wiegh-shell")


def test_an_entry_that_is_no_task_is_said_and_left_out() -> None:
    found = listed(planned(demo("quellmere"), entry("wiegh-shell", done="2027-04-17")))
    assert found.done == {}
    assert 'did you mean "weigh-shell"?' in found.said[0]


def test_own_tasks_in_a_circle_are_a_fault_of_the_file() -> None:
    round_ = (entry("one", name="one", after="two"), entry("two", name="two", after="one"))
    with pytest.raises(ProjectFault, match="circle"):
        days_of(planned(demo("quellmere"), *round_))


# --- days ------------------------------------------------------------------------------------------


def test_without_a_first_day_it_counts_from_one_far_ahead_and_says_so() -> None:
    outcome = days_of(few_draws(demo("quellmere")))
    assert outcome.numbers.job.calendar.first == FAR_AHEAD
    assert FAR_AHEAD.weekday() == 0
    assert any("No first day of work is written" in said for said in outcome.assumptions)
    wanted = few_draws(demo("quellmere"))
    wanted = wanted.model_copy(update={"plan": wanted.plan.model_copy(update={"finish": "2027-06-01"})})
    assert check_of(days_of(wanted), "PLAN-2701").verdict is Verdict.NOT_KNOWN


def test_the_day_that_is_wanted_has_its_odds() -> None:
    soon = days_of(planned(demo("quellmere"), finish="2027-05-01"))
    late = days_of(planned(demo("quellmere"), finish="2028-04-17"))
    assert soon.numbers.by_finish == 0.0
    assert late.numbers.by_finish == 1.0
    assert check_of(soon, "PLAN-2701").verdict is Verdict.FAILS
    assert check_of(late, "PLAN-2701").verdict is Verdict.HOLDS


def test_ticks_plan_the_rest_anew_from_the_day_after() -> None:
    ticked = entry("measure-van", done="2027-04-18", took=exact(2 * HOUR))
    found = days_of(planned(demo("quellmere"), ticked)).numbers
    assert found.job.today == date(2027, 4, 19)
    row = next(one for one in found.schedule.tasks if one.task.id == "measure-van")
    assert (row.done, row.hours, row.ends) == (True, 2.0, date(2027, 4, 18))
    assert all(one.begins > date(2027, 4, 18) for one in found.schedule.tasks if not one.done)


def test_a_tick_before_its_turn_is_said() -> None:
    said = days_of(planned(demo("quellmere"), entry("cut", done="2027-04-18"))).assumptions
    assert any("is ticked off, although this is not" in one for one in said)


def test_ticks_that_cannot_be_right_are_said_at_the_top() -> None:
    # Constructed: a slip of the pen in the year, a day before the first, one after today, and orders that skip safety.
    far = days_of(planned(demo("quellmere"), entry("measure-van", done="2099-04-18")))
    assert far.numbers.schedule.finish.year < 2030
    assert work_page(far).says.startswith("Measure the roof")
    assert "2099-04-18, more than a year after all before it" in work_page(far).says
    early = work_page(days_of(planned(demo("quellmere"), entry("measure-van", done="2027-03-01"))))
    assert "before the first day of work (plan.start, 2027-04-17)" in early.doubts[0]
    late = planned(demo("quellmere"), entry("measure-van", done="2027-05-09"), today="2027-05-08")
    assert "later than today as written" in work_page(days_of(late)).doubts[0]
    cut = work_page(days_of(planned(demo("quellmere"), entry("cut", done="2027-04-18")))).doubts
    assert any("isolate the battery (a saw that meets a live cable" in text for text in cut)
    closed = work_page(days_of(planned(demo("quellmere"), entry("closed", done="2027-04-18")))).doubts
    assert re.search(r"although \d+ tasks before it are not", closed[-1])
    swapped = (entry("look-behind", done="2027-04-25"), entry("cut", done="2027-04-18"))
    wrong = listed(planned(demo("quellmere"), *swapped)).doubts
    assert any("before the day of this" in text for text in wrong)
    assert set(wrong) <= set(days_of(planned(demo("quellmere"), *swapped)).assumptions)
    assert work_page(days_of(planned(demo("quellmere"), entry("measure-van", done="2027-04-18")))).doubts == ()
    for name in DEMOS:
        assert listed(demo(name)).doubts == ()


def test_a_hole_without_its_cover_comes_first() -> None:
    project = planned(demo("quellmere"))
    net = network(listed(project).tasks)
    before = all_before(net)[net.number("cut")]
    ticks = (*(entry(net.tasks[i].id, done="2027-04-18") for i in before), entry("cut", done="2027-04-18"))
    outcome = days_of(planned(demo("quellmere"), *ticks))
    page = work_page(outcome)
    assert page.says.startswith("Cover it tonight")
    assert page.next_up[0].id == "cover-on"
    assert page.next_up[0].name.startswith("Cover it tonight")
    assert check_of(outcome, "PLAN-2705").verdict is Verdict.FAILS
    on = work_page(days_of(planned(demo("quellmere"), *ticks, entry("cover-on", done="2027-04-18"))))
    assert "tonight" not in on.says
    assert any(row.id == "PLAN-2705" for row in on.rows)
    ring = entry("fit-ring", done="2027-04-18")
    assert not any(row.id == "PLAN-2705" for row in work_page(days_of(planned(demo("quellmere"), *ticks, ring))).rows)


def test_the_day_of_the_week_of_the_cut_is_told_from_the_plans() -> None:
    found = days_of(planned(demo("quellmere")).model_copy(update={"settings": demo("quellmere").settings})).numbers
    said = weekday_words(found)
    # Second way: one plan after another.
    nights: dict[int, list[float]] = {}
    cut = found.plans.ready.net.number("cut")
    for k in range(1, found.open.nights.size):
        day = found.job.calendar.date_of(float(found.plans.times.early_start[k, cut])).weekday()
        nights.setdefault(day, []).append(float(found.open.nights[k]))
    mean = {day: sum(v) / len(v) for day, v in nights.items()}
    assert set(mean) == {5, 6}
    assert f"begin it on a Saturday, {round(mean[6] - mean[5])} night" in said
    assert weekday_words(days_of(planned(demo("quellmere"), entry("cut", done="2027-04-18"))).numbers) == ""


def test_helpers_until_it_is_closed_and_the_ring_stop_the_cut(whole: Outcome[WorkNumbers]) -> None:
    stops = {row.what for row in whole.numbers.go.list.rows if row.stop} if whole.numbers.go else set()
    mine = [c for c in whole.checks if c.rule.id in ("PLAN-2704", "PLAN-2705")]
    opened = {task.name for task in whole.numbers.listed.tasks if task.roof_open}
    assert {c.words for c in mine if c.rule.id == "PLAN-2705" or c.part in opened} <= stops
    assert not {c.words for c in mine if c.rule.id == "PLAN-2704" and c.part not in opened} & stops


def test_what_is_used_under_the_open_roof_is_there_before_the_cut(whole: Outcome[WorkNumbers]) -> None:
    parts = {one.id: one.before_cut for one in whole.numbers.go.parts} if whole.numbers.go else {}
    used = ("rim-seal", "stop-block", "stop-strap", "stop-link", "gas-spring", "latch", "hinge", "arm-set", "prop")
    there = [name for name in used if name in parts]
    assert {"rim-seal", "gas-spring", "latch", "prop"} <= set(there)
    assert all(parts[name] for name in there)
    assert not any(parts.get(name, False) for name in ("solar-panel", "curtain", "frame-screws"))


def test_the_pace_so_far_is_weighed_against_the_written_hours() -> None:
    slow = planned(
        demo("quellmere"), entry("measure-van", likely=exact(4 * HOUR), done="2027-04-18", took=exact(40 * HOUR))
    )
    found = listed(slow)
    hours = next(task for task in found.tasks if task.id == "measure-van").hours
    expected = (hours.least + 4 * hours.likely + hours.most) / 6
    # (20 h + 40 h) over (20 h + what was expected), by the formula as written.
    assert pace_of(slow, found).likely == pytest.approx(60.0 / (20.0 + expected))
    untimed = planned(demo("quellmere"), entry("measure-van", done="2027-04-18"))
    assert pace_of(untimed, listed(untimed)).likely == 1.0


def test_everything_ticked_is_done() -> None:
    project = planned(demo("quellmere"))
    every = tuple(entry(task.id, done="2027-05-01") for task in listed(project).tasks)
    page = work_page(days_of(planned(demo("quellmere"), *every)))
    assert page.says == "Everything is ticked off: the roof is done."
    assert page.next_up == ()
    assert page.shorten.rows == ()
    assert page.cut_day == ()


# --- the open roof ---------------------------------------------------------------------------------


def test_the_timber_frame_shortens_the_open_roof() -> None:
    found = days_of(planned(demo("quellmere"))).numbers
    assert found.gain.with_half < found.gain.without_half
    off = days_of(planned(demo("quellmere"), trial_frame=False)).numbers
    assert off.gain == found.gain
    assert off.open.nights[0] == found.without_frame.nights[0]


def test_nights_are_judged_against_what_is_allowed() -> None:
    few = days_of(planned(demo("quellmere"), open_days=exact(1 * DAY)))
    many = days_of(planned(demo("quellmere"), open_days=exact(90 * DAY)))
    assert check_of(few, "PLAN-2702").verdict is Verdict.FAILS
    assert check_of(many, "PLAN-2702").verdict is Verdict.HOLDS
    wide = days_of(planned(demo("quellmere"), open_days=even(1 * DAY, 90 * DAY)))
    assert check_of(wide, "PLAN-2702").verdict is Verdict.NOT_KNOWN


def test_helpers_and_the_working_day_are_judged() -> None:
    alone = days_of(planned(demo("quellmere"), people=0, hours=exact(4 * HOUR)))
    four = days_of(planned(demo("quellmere"), people=4, hours=exact(14 * HOUR)))
    for rule in ("PLAN-2704", "PLAN-2705"):
        assert check_of(alone, rule).verdict is Verdict.FAILS
        assert check_of(four, rule).verdict is Verdict.HOLDS


# --- the list before the cut -----------------------------------------------------------------------


def test_the_list_before_the_cut_has_judgements_parts_and_tasks(whole: Outcome[WorkNumbers]) -> None:
    go = whole.numbers.go
    assert go is not None
    words = [row.what for row in go.list.rows]
    assert any(what.startswith("The ring does what the roof's skin did") for what in words)
    assert "Take the lining out and look behind the skin: cables, air bags, belt mounts, bows" in words
    assert any(row.status == "not ordered" for row in go.list.rows)
    assert len(words) == len(go.list.rows)
    assert not go.list.go
    assert check_of(whole, "PLAN-2703").value == go.list.unmet
    page = go_page(go, whole.numbers.project)
    assert page.says.startswith(f"No go: {len(page.unmet)} of ")
    assert len(page.unmet) == go.list.unmet
    assert len(page.on_assumption) == go.list.on_assumption


def test_where_a_part_is() -> None:
    assert status_of(2.0, 2.0, 2.0) == "in the garage"
    assert status_of(2.0, 2.0, 1.0) == "only ordered"
    assert status_of(2.0, 0.0, 1.0) == "not ordered"


def test_a_roof_that_cannot_be_put_together_has_its_days_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    from loftwright.answers import work_plan as module
    from loftwright.core.errors import CannotAssemble

    def refuse(*_: Any) -> None:
        raise CannotAssemble("The arms do not reach.")

    monkeypatch.setattr(module, "go_found", refuse)
    outcome = work_plan(planned(demo("quellmere"), days=3))
    assert outcome.numbers.go is None
    assert outcome.assumptions[0] == "There is no list before the cut: The arms do not reach."
    assert work_page(outcome).go.says == "There is no list before the cut."


# --- ticking ---------------------------------------------------------------------------------------


def test_what_ticking_writes() -> None:
    project = planned(demo("quellmere"), entry("weigh-shell", likely=exact(2 * HOUR)))
    assert tick_changes(project, "weigh-shell", "2027-05-02", "3 h") == {
        "todo.0.done": "2027-05-02",
        "todo.0.took": "3 h",
    }
    assert tick_changes(project, "cut", "2027-05-02") == {"todo.1.task": "cut", "todo.1.done": "2027-05-02"}
    assert tick_changes(project, "cut")["todo.1.done"] == date.today().isoformat()
    assert tick_changes(project, "weigh-shell", done=False) == {"todo.0.done": None, "todo.0.took": None}
    with pytest.raises(ProjectFault, match="no day of any calendar"):
        tick_changes(project, "cut", "2027-02-30")


# --- faces -----------------------------------------------------------------------------------------


def test_every_task_leads_to_a_page_that_is_there(whole: Outcome[WorkNumbers], root: Path) -> None:
    page = work_page(whole)
    commands = (root / "docs" / "reference" / "commands.md").read_text(encoding="utf-8")
    for words in (*HELP_OF_CHAPTER.values(), *HELP_OF_TASK.values()):
        assert re.fullmatch(r"loftwright [a-z]+", words[2])
    for chapter in page.chapters:
        for task in chapter.tasks:
            assert task.help.path.startswith("/")
            assert task.help.sheet
    assert "loftwright hold" in commands
    assert {row.state for row in page.next_up} == {"next"}
    assert page.schedule is whole.numbers.schedule


def test_every_key_of_the_json_is_explained(whole: Outcome[WorkNumbers], root: Path) -> None:
    told = json.loads(numbers.as_json(work(whole)))
    text = (root / "docs" / "reference" / "json-plan.md").read_text(encoding="utf-8").split("## `handover`")[0]
    named = {key for row in re.findall(r"^\| (`.*?) \|", text, re.MULTILINE) for key in re.findall(r"`([\w.]+)`", row)}
    plain = {key for key in keys_of(told) if key.split(".")[0] not in ("format", "made_with", "project", "checks")}
    # Only a file with tasks ticked too early has these.
    plain = plain - {"too_early"} | {"too_early.done", "too_early.before", "checks"}
    assert plain - named == set()
    assert named - plain - {key.rpartition(".")[0] for key in named} == set()
    total = sum(one["days_s"] for one in told["roof_open"]["shares"])
    assert total == pytest.approx(float(whole.numbers.open.days[1:].mean()) * DAY, rel=1e-6)


# --- every key counts ------------------------------------------------------------------------------


def said(project: Project) -> Any:
    outcome = days_of(project)
    told = work(outcome)
    return json.loads(
        numbers.as_json({key: told[key] for key in ("days", "tasks", "roof_open", "checks", "assumptions")})
    )


def test_every_key_of_a_task_counts() -> None:
    plain = entry("weigh-shell", name="Weigh it", likely=exact(2 * HOUR), done="2027-04-18", took=exact(2 * HOUR))
    changes: dict[str, Any] = {
        "task": "measure-van",
        "name": "Weigh it twice",
        "after": "ask-inspector",
        "least": exact(1.9 * HOUR),
        "likely": exact(3 * HOUR),
        "most": exact(9 * HOUR),
        "done": "2027-04-24",
        "took": exact(5 * HOUR),
    }
    before = said(planned(demo("quellmere"), plain))
    assert {member.key for member in members(Todo)} == set(changes)
    same = [
        key
        for key, value in changes.items()
        if said(planned(demo("quellmere"), plain.model_copy(update={key: value}))) == before
    ]
    assert same == []


def test_every_key_of_the_plan_counts(root: Path) -> None:
    project = demo("quellmere")
    changes: dict[str, Any] = {
        "start": "2027-05-01",
        "finish": "2027-09-01",
        "today": "2027-05-08",
        "hours": exact(8 * HOUR),
        "days": 5,
        "people": 3,
        "trial_frame": False,
        "shell_is": "built",
        "open_days": exact(9 * DAY),
    }
    before = said(planned(project))
    assert {member.key for member in members(Plan)} == {*changes, *OF_PARTS}
    assert [key for key, value in changes.items() if said(planned(project, **{key: value})) == before] == []
    # What is cut and paid for is proved with the list of parts: a test changes each and sees what comes of it.
    tests = [
        node
        for path in (root / "tests" / "unit" / "answers").glob("test_part*.py")
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    ]
    changed = {
        key.arg for test in tests for node in ast.walk(test) if isinstance(node, ast.Call) for key in node.keywords
    }
    assert set(OF_PARTS) - changed <= {"kerf"}
    thick = few_draws(project)
    thick = thick.model_copy(update={"plan": thick.plan.model_copy(update={"kerf": exact(0.01)})})
    assert part_list(thick).numbers.cuts != part_list(few_draws(project)).numbers.cuts


def test_demos_have_their_days() -> None:
    for name in DEMOS:
        found = days_of(few_draws(demo(name))).numbers
        assert found.schedule.path
        assert found.schedule.finish > found.job.today


def test_demos_cut_and_close_in_on_one_day() -> None:
    cut = []
    for name in DEMOS:
        done = listed(demo(name)).done
        on = {done[one].on for one in ("cut", "cover-on", "prime-edge", "fit-ring") if one in done}
        assert len(on) <= 1, name
        cut += [name] if on else []
    assert cut == ["fennimoor"]


def test_a_hole_is_covered_first_though_nothing_before_the_cut_is_ticked() -> None:
    page = work_page(days_of(planned(demo("quellmere"), entry("cut", done="2027-04-18"))))
    assert (page.next_up[0].id, page.next_up[0].state) == ("cover-on", "next")
