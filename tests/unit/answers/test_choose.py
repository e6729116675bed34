"""Choosing springs for whole projects: searched, judged by every rule, insured, written back; odds and what to measure.

Second way: odds averaged over delivered forces against plain counting of drawn roofs; scipy's bounds on a share. The
rest are exact constructed cases.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import binom

from loftwright.answers import choose_freed, choose_search
from loftwright.answers.choice_numbers import choice_numbers
from loftwright.answers.choice_view import choice_page
from loftwright.answers.choice_written import as_changes
from loftwright.answers.choose import Chosen, choose, plan_odds
from loftwright.answers.choose_advice import changed, changes
from loftwright.answers.choose_holes import METRIC, HoleNumbers, drilled_holes, level_row, places_along
from loftwright.answers.choose_roofs import clear_places, drawn, fitted_with
from loftwright.answers.choose_search import LEARN, QUICK, Work, judged_exactly
from loftwright.answers.choose_together import marked, shapes_of
from loftwright.answers.hole_words import card_of, hand_of, hole_row, place
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.numbers import as_json
from loftwright.answers.odds_words import next_best, odds_line
from loftwright.answers.roof_odds import Window, gains
from loftwright.answers.to_measure import Task, tasks
from loftwright.choice.card import Condition, Line, TuningCard
from loftwright.choice.window import Ends
from loftwright.core.errors import ProjectFault
from loftwright.core.lifting import Fit, Pair, Zone
from loftwright.core.wording import Wording
from loftwright.project.demos import demo, demo_text
from loftwright.project.file import edit, edited, loads
from loftwright.project.model import Project
from loftwright.project.spring_list import read_springs
from loftwright.project.stock import Listed
from loftwright.project.zones import zones_of
from loftwright.reference.measuring import Measurement

SAY = Wording()
BRIEF = replace(QUICK, mounts=800, compared=100, judged=4)
"""A search that is over in an instant."""


@cache
def short_list() -> Listed:
    """Return the list that comes along without most of its springs."""
    whole = read_springs()
    entries = whole.entries
    some = np.flatnonzero((entries.rod_diameter == 0.010) & (entries.stroke > 0.25) & (entries.stroke < 0.36))
    return Listed(entries.pick(some), whole.pieces[some], whole.currency, whole.said)


@cache
def found(name: str = "ottergate") -> Chosen:
    return choose(demo(name), short_list(), draws=60, budget=BRIEF)


# --- what is chosen ------------------------------------------------------------------------------------


def test_the_choice_is_judged_by_every_rule_and_is_the_best_of_those_shown() -> None:
    chosen = found()
    best = chosen.best
    assert best is not None
    assert chosen.planned is not None
    assert best.odds > chosen.planned
    assert best.rest
    # Counting roofs and averaging over delivered forces say the same, within what 120 roofs can tell.
    low, high = binom.interval(0.999, 120, best.odds)
    assert low <= int(best.drawn.meets.sum()) <= high
    zone_foot, zone_head = best.pair.foot, best.pair.head
    assert zone_foot.x_low <= best.fit.foot_x <= zone_foot.x_high
    assert zone_head.z_low <= best.fit.head_z <= zone_head.z_high
    bodies = [int(chosen.listed.entries.body[one.fit.entry]) for one in (best, *chosen.others)]
    assert len(set(bodies)) == len(bodies)


def test_the_same_seed_gives_the_same_choice() -> None:
    again = choose(demo("ottergate"), short_list(), draws=60, budget=BRIEF)
    assert as_json(choice_numbers(again)) == as_json(choice_numbers(found()))


def test_a_row_is_likelier_to_work_than_its_first_hole_and_is_spaced() -> None:
    chosen = found()
    row = chosen.holes
    assert row is not None
    assert row.odds >= row.first
    assert len(row.places) >= 2
    assert 2 <= row.drilled <= chosen.project.choice.holes
    for holes, zone in ((row.feet, row.pair.foot), (row.heads, row.pair.head)):
        apart = np.hypot(*(holes[:, None] - holes[None]).T)[~np.eye(len(holes), dtype=bool)]
        assert (apart >= chosen.project.choice.hole_spacing.nominal - 1e-9).all()
        assert ((holes >= (zone.x_low, zone.z_low)) & (holes <= (zone.x_high, zone.z_high))).all()
    # The start is one of the places, and all are clear in the planned roof.
    start = row.ends.table[row.start]
    assert start == pytest.approx([row.fit.foot_x, row.fit.foot_z, row.fit.head_x, row.fit.head_z])
    fitted = fitted_with(chosen.project, chosen.listed.entries, chosen.pairs, row.fit)
    assert clear_places(fitted, row.ends).all()


def test_rows_chosen_together_are_no_worse_than_the_level_row_through_the_best() -> None:
    chosen = found()
    best, row = chosen.best, chosen.holes
    assert best is not None
    assert row is not None
    own = chosen.listed.entries.pick(np.array([best.fit.entry]))
    learn = drawn(best.drawn.project, 120, chosen.project.settings.seed + LEARN)
    level = level_row(best.drawn.project, learn, best.drawn, best.pair, own, best.fit, METRIC)
    assert level is None or row.learned >= level.learned


def test_how_holes_are_shared_between_the_ends() -> None:
    shapes = {most: {(one.feet, one.heads) for one in shapes_of(most)} for most in (2, 3, 4, 5)}
    assert shapes[2] == {(1, 2), (2, 1)}
    assert shapes[3] == {(1, 3), (3, 1)}
    assert shapes[4] == {(1, 4), (4, 1), (2, 2)}
    assert shapes[5] == {(1, 5), (5, 1), (2, 3), (3, 2)}


def test_forces_ordered_together_each_have_holes_and_are_no_two_alike() -> None:
    chosen = found()
    together = chosen.ratings
    assert together is not None
    entries = [fit.entry for fit in together.fits]
    assert 2 <= len(set(entries)) == len(entries) <= chosen.project.choice.ratings
    assert together.odds >= max(together.each)
    assert together.odds <= min(1.0, sum(together.each)) + 1e-12
    page = choice_page(chosen)
    assert page.ratings is not None
    assert len(page.ratings.where) == len(entries)
    assert "foot on the van" in page.ratings.where[0]


def test_two_rows_are_spoken_of_by_places() -> None:
    """Exact constructed case: feet 1, 2 and heads A, B, without the place 2 A."""
    zone = Zone("z", "van", 0.0, 1.0, -0.1, 0.1, 0.5)
    card = TuningCard(1, (Line(1, (Condition(0, True, 98.0665),), 2),), 3, 0.8, 0.5)
    row = HoleNumbers(
        "s", Pair(zone, replace(zone, on="shell"), 1), Fit(0, 0, 0.1, 0.0, 0.5, 0.06),
        np.array([[0.1, 0.0], [0.13, 0.0]]), np.array([[0.5, 0.03], [0.5, 0.06]]), ((0, 0), (0, 1), (1, 1)), 1,
        0.5, 0.9, 0.01, np.zeros(1), 0.9, card, 0.7,
    )  # fmt: skip
    shown = hole_row(row, SAY)
    assert shown.both
    assert shown.fixed is None
    assert [one.words for one in shown.places][2] == "place 3: foot hole 2, head hole B"
    assert [h.name for h in shown.heads if h.start] == ["B"]
    assert [h.name for h in shown.feet if h.start] == ["1"]
    told = card_of(row, SAY)
    assert told is not None
    assert told.lines[0].words == (
        "At place 2: if the push to start is over 10.0 kg, go to place 3: foot hole 2, head hole B."
    )
    single = hole_row(replace(row, heads=row.heads[1:], places=((0, 0), (1, 0)), start=0, card=None), SAY)
    assert [one.words for one in single.places] == ["hole 1", "hole 2"]
    assert single.fixed is single.heads[0]


def test_what_is_shown_and_what_is_told_to_programs_agree() -> None:
    chosen = found()
    page, told = choice_page(chosen), choice_numbers(chosen)
    assert page.best is not None
    assert page.best.name == told["best"]["name"]
    assert page.planned == round(100 * told["planned"])
    assert page.holes is not None
    assert len(page.holes.places) == len(told["holes"]["places"])
    assert [len(page.holes.feet), len(page.holes.heads)] == [len(told["holes"][end]) for end in ("feet", "heads")]
    assert page.holes.start.number == told["holes"]["start"]
    assert bool(page.holes.take) or told["holes"]["spring"] == told["best"]["name"]
    assert page.cautions
    assert as_json(told)


def test_holes_lie_where_they_can_be_marked_out() -> None:
    zone = Zone("z", "van", 0.1002, 0.4, -0.05, 0.05, 0.5)
    fit = marked(Fit(0, 0, 0.1, 0.01234, 0.39996, 0.05), Pair(zone, zone, 1), 0.001)
    assert (fit.foot_x, fit.foot_z) == pytest.approx((0.1002, 0.012))
    row = places_along(Pair(zone, zone, 1), replace(fit, foot_x=0.2), "foot", 0.001)
    assert np.diff(row.foot_x) == pytest.approx(0.005)
    assert row.foot_x.min() >= 0.1002
    assert row.foot_x.max() == pytest.approx(0.3)
    assert hand_of("imperial").grain == pytest.approx(0.0254 / 16)
    assert place(-0.06, 0.02, SAY) == "60 mm behind the rear edge, 20 mm above the roof"


def test_a_spring_that_touches_the_bed_is_no_finalist() -> None:
    project = demo("fennimoor")
    spring = project.spring[0]
    here = np.array([spring.foot.z.nominal, -0.6])
    ends = Ends(*(np.full(2, v.nominal) for v in (spring.foot.x, spring.foot.z, spring.head.x, spring.head.z)))
    assert clear_places(project, replace(ends, foot_z=here)).tolist() == [True, False]


# --- where nothing works -------------------------------------------------------------------------------


def test_advice_frees_the_roof_when_it_is_followed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(choose_freed, "TRIALS", 12)
    monkeypatch.setattr(choose_freed, "QUICK", BRIEF)
    monkeypatch.setattr(choose_freed, "DRAWS", 150)
    # A shell that must stay shut with more than its weight gives.
    project = loads(edited(demo_text("ottergate"), {"requirements.stays_shut_margin": "75 N"}))
    pairs = zones_of(project).pairs
    found_best = choose_search.searched(project, short_list(), pairs, 1, 100, QUICK, None, Work(), ())
    fit = found_best.answers[0].fit
    best = judged_exactly(
        fitted_with(project, short_list().entries, pairs, fit), short_list().entries, pairs[fit.pair], fit, 100, 9
    )
    assert best.odds < 0.1
    advice = choose_freed.advice_for(project, short_list(), pairs, best, work=Work())
    assert advice[0].frees
    assert all(one.odds >= choose_search.WORKS for one in advice)
    words = advice[0].words(SAY)
    assert words
    # Followed once more, with another seed, it still frees the roof.
    every = changes(project)
    freed = changed(project, every, {change.kind.name: size for change, size in advice[0].change})
    around = choose_freed.wider(
        pairs, sum(size for change, size in advice[0].change if change.kind.name == choose_freed.WIDER)
    )
    again = choose_search.searched(freed, short_list(), around, 8, 100, QUICK, None, Work(), ())
    assert again.answers[0].odds >= choose_search.WORKS - 0.1


def test_every_change_changes_what_it_says() -> None:
    project = demo("quellmere")
    every = changes(project)
    for one in every:
        size = one.kind.step * one.kind.steps
        assert one.said(size, SAY)
        after = changed(project, every, {one.kind.name: size})
        assert (after != project) == (one.kind.name != choose_freed.WIDER)
    wider = choose_freed.wider(zones_of(project).pairs, 0.02)
    assert wider[0].foot.x_low == pytest.approx(zones_of(project).pairs[0].foot.x_low - 0.02)


def test_a_prop_is_asked_for_where_one_lost_spring_lets_the_roof_fall() -> None:
    chosen = found("quellmere")
    assert chosen.prop_needed
    assert any("prop" in text for text in choice_page(chosen).assumptions)


def test_springs_at_hand_are_the_only_ones_tried() -> None:
    project = demo("fennimoor")
    chosen = choose(project, short_list(), at_hand=True, draws=60, budget=BRIEF, work=Work(cancelled=lambda: True))
    assert set(chosen.listed.entries.names) == {part.name for part in project.at_hand}
    assert chosen.stopped
    with pytest.raises(ProjectFault, match="at_hand"):
        choose(demo("quellmere"), short_list(), at_hand=True)


def test_it_must_be_said_where_brackets_may_sit() -> None:
    project = demo("fennimoor").model_copy(update={"spring": (), "zone": ()})
    with pytest.raises(ProjectFault, match="zone"):
        choose(project, short_list())


# --- written back ---------------------------------------------------------------------------------------


def test_the_file_written_back_has_the_chosen_springs_and_its_comments(tmp_path: Path) -> None:
    chosen = found()
    assert chosen.best is not None
    holes = chosen.holes
    assert holes is not None
    path = tmp_path / "roof.toml"
    path.write_text(demo_text("ottergate"), encoding="utf-8")
    project: Project = edit(path, as_changes(chosen))
    spring = project.spring[0]
    assert spring.name == holes.name
    assert spring.foot.x.nominal == pytest.approx(holes.fit.foot_x, abs=1e-5)
    assert spring.force.nominal == pytest.approx(float(chosen.listed.entries.force_1[holes.fit.entry]), rel=1e-4)
    # The holes stand in the file, so that every later answer means these.
    assert [point.x.nominal for point in spring.feet] == pytest.approx(holes.feet[:, 0].tolist(), abs=1e-5)
    assert [point.z.nominal for point in spring.heads] == pytest.approx(holes.heads[:, 1].tolist(), abs=1e-5)
    there = drilled_holes(project)
    assert there is not None
    assert there[0] == pytest.approx(holes.feet, abs=1e-5)
    assert "lock-keeper" in path.read_text(encoding="utf-8")
    # The file as written is as good as was said, within what 200 roofs can tell.
    assert plan_odds(drawn(project, 200, 77)) == pytest.approx(holes.first, abs=0.12)


# --- odds, and what to measure --------------------------------------------------------------------------


def test_odds_of_the_file_are_what_counting_says() -> None:
    for name in ("fennimoor", "ottergate"):
        numbers = judged_roof(demo(name)).numbers
        holds = np.ones(numbers.rows.draws.stop - numbers.rows.draws.start, bool)
        one = drawn(numbers.project, holds.size, numbers.project.settings.seed)
        low, high = binom.interval(0.999, holds.size, numbers.odds.meets)
        assert low <= int(one.meets.sum()) <= high
        assert odds_line(numbers).startswith(f"{round(100 * numbers.odds.meets)} of 100 roofs like yours")


def test_what_always_fails_is_named_and_set_aside() -> None:
    numbers = judged_roof(demo("quellmere")).numbers
    assert numbers.odds.meets == 0.0
    assert numbers.odds.apart is not None
    assert numbers.odds.apart > 0.1
    assert "falls when one spring fails" in odds_line(numbers)


def test_weighing_is_worth_most_where_the_weight_is_a_guess() -> None:
    project = loads(edited(demo_text("fennimoor"), {"shell.mass": "62 +- 6 kg, assumed"}))
    numbers = judged_roof(project).numbers
    best = numbers.odds.gains[0]
    assert best.task.how.title == "Weigh the shell"
    assert best.after > best.before
    assert next_best(numbers, SAY).startswith("Next: weigh the shell, 20 min: ")


def test_a_decision_is_not_measured_and_a_sharp_value_not_again() -> None:
    numbers = judged_roof(demo("fennimoor")).numbers
    paths = {path for task in tasks(numbers.project, numbers.rows, 1) for path in task.paths}
    assert "forces.seal_line" in paths
    assert not paths & {"spring.0.foot.x", "person.height", "shell.inertia"}


def test_a_reading_that_tells_the_window_is_worth_it_and_noise_is_not() -> None:
    # Every roof works for 10 % of force somewhere between 0.8 and 1.2: known, all of them can be met.
    rng = np.random.default_rng(5)
    middle = rng.uniform(0.8, 1.2, 400)
    window = Window(middle * 0.95, middle * 1.05, np.ones(400, bool), 0.0)
    task = Task(Measurement("Read it", 10, ""), ("shell.mass",), np.log(middle)[None])
    noise = Task(Measurement("Roll dice", 1, ""), ("shell.length",), rng.standard_normal((1, 400)))
    found_gains = gains(window, [noise, task], 0.3)
    assert [gain.task.how.title for gain in found_gains] == ["Read it"]
    assert found_gains[0].after - found_gains[0].before > 0.5


def test_nothing_is_written_where_nothing_works_or_holes_are_drilled() -> None:
    chosen = found()
    assert chosen.best is not None
    poor = replace(chosen, best=replace(chosen.best, odds=0.01))
    with pytest.raises(ProjectFault, match="so few are not worth drilling for"):
        as_changes(poor)
    spring = chosen.project.spring[0]
    marked = spring.model_copy(update={"feet": (spring.foot,)})
    drilled = replace(chosen, project=chosen.project.model_copy(update={"spring": (marked,)}))
    with pytest.raises(ProjectFault, match="take feet and heads out"):
        as_changes(drilled)
