"""Readings of the built roof: predictions by the same mechanics, planted faults, what is learnt, holes and tape.

The roofs are the demos; what is planted in them is constructed, and must come out again.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from loftwright.answers import proof as proving
from loftwright.answers import proof_holes
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.proof import (
    DRAG,
    HOLE,
    STRONG,
    WEAK,
    WRONG,
    Proof,
    columns,
    holding,
    known_places,
    odds_of,
    prove,
)
from loftwright.answers.proof_numbers import proof_numbers
from loftwright.answers.proof_readings import (
    AS_IN_FILE,
    Columns,
    Position,
    between,
    inputs_with_readings,
    predicted,
    scale_doubt,
    table,
    warmth_path,
)
from loftwright.answers.proof_tape import Ask, TapeProof, brackets_of, lengths, tape_proof
from loftwright.answers.proof_view import learnt, positions_of, proof_page, proven
from loftwright.answers.proof_words import TOO_FEW, UNCLEARED, bracket, tape_verdict, verdict
from loftwright.answers.views import wording
from loftwright.choice.contradiction import Cause, one_wrong, watch
from loftwright.core.choice_views import Hole, HoleRow, Place
from loftwright.core.uncertain import even, exact, normal
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.core.wording import Wording
from loftwright.mechanics.feel import state
from loftwright.project.choice_sections import HandReading, HandWay, Tape
from loftwright.project.demos import DEMOS, demo
from loftwright.project.model import Project
from loftwright.project.points import Point

SAY = Wording()
FOUR: tuple[tuple[float, HandWay], ...] = ((0.2, "push up"), (0.2, "pull down"), (0.6, "pull down"), (0.9, "pull down"))


@pytest.fixture(autouse=True)
def _fewer_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    # Enough for faults as large as these, and quicker.
    monkeypatch.setattr(proving, "DRAWS", 400)


def reading(share: float, way: HandWay, *, after: int = 1, **more: object) -> HandReading:
    """Return a reading whose force is still to be filled in."""
    given: dict[str, object] = {
        "after": after,
        "how_open": normal(share, 0.01),
        "way": way,
        "force": normal(50.0, 5.0),
        "scale": "luggage scale",
        "temperature": normal(289.0, 2.0),
    }
    return HandReading(**{**given, **more})  # type: ignore[arg-type]


def with_readings(project: Project, *readings: HandReading) -> Project:
    return project.model_copy(update={"reading": readings or tuple(reading(*one) for one in FOUR)})


@cache
def base(name: str) -> Proof:
    """Return a demo with the four readings, their forces not filled in."""
    return prove(with_readings(demo(name)))


def played(
    project: Project,
    truth: Mapping[str, float] | None = None,
    *,
    add: tuple[float, ...] = (),
    weaker: Mapping[int, float] | None = None,
    sits: tuple[Position | None, ...] = (),
) -> Project:
    """Return the project with the forces that a roof of these true values would show, without noise.

    Below nought a hand holds back.
    """
    known = base(project_name(project))
    nominal = {path: q.value.nominal for path, q in inputs_with_readings(project).items()}
    at = Columns(inputs_with_readings(project), table(nominal, [truth or {}]))
    force = predicted(project, at, known.sense, places=sits, weaker=weaker).force[1]
    force = force + (np.array(add) if add else 0.0)
    filled = (
        one.model_copy(update={"force": normal(float(f), 5.0)}) for one, f in zip(project.reading, force, strict=True)
    )
    return project.model_copy(update={"reading": tuple(filled)})


def project_name(project: Project) -> str:
    return next(name for name in DEMOS if demo(name).name == project.name)


@pytest.mark.parametrize("name", DEMOS)
def test_predictions_are_those_of_the_curves(name: str) -> None:
    # Second way: the curves that `check` and `forces` show, mild and new, read off at the same openings.
    project = demo(name)
    mild = project.temperatures.mild
    found = judged_roof(project).numbers
    readings = [reading(share, way, temperature=mild, how_open=exact(share)) for share, way in FOUR]
    asked = with_readings(project, *readings)
    at = columns(inputs_with_readings(asked), {}, (), np.zeros((0, 0)))
    nominal = {path: np.array([q.value.nominal]) for path, q in at.inputs.items()}
    shown = predicted(asked, Columns(at.inputs, nominal), None).force[0]
    row = state("mild", "new")
    for k, (share, way) in enumerate(FOUR):
        curve = (found.felt.push_up if way == "push up" else found.felt.pull_down)[row, 0]
        assert shown[k] == pytest.approx(np.interp(share, found.roof.travel.fraction, curve), rel=1e-9)


@pytest.mark.parametrize("name", ["ottergate"])
def test_odds_before_are_those_of_the_judgements(name: str) -> None:
    # Second way: the rows of `check`, every rule by itself.
    found = judged_roof(demo(name))
    odds = odds_of(base(name))
    assert odds.before <= min(c.holding for c in found.checks if c.holding is not None)
    rows = found.numbers.rows
    good = holding(demo(name), rows, None)[rows.draws]
    assert odds.before == pytest.approx(float(good.mean()))


def test_between_reads_each_row_at_its_own_place() -> None:
    curve = np.array([[0.0, 1.0, 4.0], [0.0, 10.0, 40.0]])
    assert between(np.array([0.0, 0.5, 1.0]), np.array([0.25, 0.75]), curve).tolist() == [0.5, 25.0]


def test_readings_as_expected_agree_and_narrow() -> None:
    found = prove(played(base("fennimoor").project))
    (only,) = found.sets
    assert not only.finding.strange
    assert only.used == (0, 1, 2, 3)
    assert np.all(found.force_after.std(axis=0) < 0.5 * found.force_before.std(axis=0))
    assert np.abs(found.force_after.mean(axis=0) - found.read).max() < 2.0
    assert verdict(found, SAY).startswith("The readings agree")


def test_what_is_learnt_comes_near_the_truth() -> None:
    project = base("fennimoor").project
    truth = {"spring.0.delivered": 0.96, "linkage.friction": 5.0, "spring.0.friction": 70.0}
    found = prove(played(project, truth))
    assert not found.sets[0].finding.strange
    for path, value in truth.items():
        k = found.paths.index(path)
        before, after = found.before[:, k], found.after[:, k]
        assert abs(after.mean() - value) < abs(before.mean() - value)
        assert abs(after.mean() - value) < 2 * after.std()
        assert after.std() < before.std()
    # The likeliest roof lies where the draws lie.
    gap = np.abs(found.mean - found.after.mean(axis=0)) / found.before.std(axis=0)
    assert gap.max() < 0.4


@pytest.mark.parametrize("kind", ["spring.0.friction", "linkage.friction"])
def test_friction_of_all_kinds_is_learnt_from_push_and_pull(kind: str) -> None:
    # Push and pull at one opening differ by twice the friction: what is unknown of it comes out, whichever it is.
    demo_roof = demo("fennimoor")
    if kind.startswith("spring"):
        spring = demo_roof.spring[0].model_copy(update={"friction": even(20.0, 120.0)})
        roof = demo_roof.model_copy(update={"spring": (spring,)})
    else:
        linkage = demo_roof.linkage.model_copy(update={"friction": even(0.0, 60.0)})
        roof = demo_roof.model_copy(update={"linkage": linkage})
    pair = with_readings(roof, reading(0.25, "push up"), reading(0.25, "pull down"))
    true = 100.0 if kind.startswith("spring") else 50.0
    found = prove(played(pair, {kind: true}))
    k = found.paths.index(kind)
    assert found.after[:, k].std() < 0.5 * found.before[:, k].std()
    assert found.after[:, k].mean() == pytest.approx(true, abs=2 * found.after[:, k].std())
    low, high = (20.0, 120.0) if kind.startswith("spring") else (0.0, 60.0)
    assert low <= found.after[:, k].min() <= found.after[:, k].max() <= high


def test_drag_at_the_handle_is_flagged() -> None:
    found = prove(played(base("fennimoor").project, add=(30.0,) * 4))
    (only,) = found.sets
    assert only.finding.likely[0].name == DRAG
    assert only.finding.likely[0].size == pytest.approx(30.0, abs=3.0)
    assert only.used == ()
    assert "drags" in verdict(found, SAY)
    # Nothing is learnt before that is cleared.
    np.testing.assert_array_equal(found.after, found.before)


def test_nothing_is_promised_before_a_contradiction_is_cleared() -> None:
    found = proven(played(base("fennimoor").project, add=(30.0,) * 4))
    page, said = proof_page(found), proof_numbers(found)
    assert not page.cleared
    assert page.next_hole == said["next_hole"] == UNCLEARED
    assert said["odds_after"] is None
    assert page.moves == ()


def test_one_way_of_moving_it_moves_no_spring() -> None:
    up = [reading(share, "push up") for share in (0.1, 0.3)]
    page = proof_page(proven(played(with_readings(demo("fennimoor"), *up))))
    assert page.cleared
    assert page.next_hole == TOO_FEW


def test_a_tape_reading_with_a_digit_wrong_is_read_again_first() -> None:
    project, found = taped("fennimoor", {"linkage.hinge.x": 0.4})
    assert "perhaps a digit is wrong" in tape_verdict(found, project, SAY)


@pytest.mark.parametrize("name", ["ottergate", "quellmere"])
def test_a_weak_pair_of_springs_is_flagged(name: str) -> None:
    found = prove(played(base(name).project, weaker={0: 0.2}))
    (only,) = found.sets
    assert only.finding.likely[0].name == f"{WEAK} 0"
    assert only.finding.likely[0].size == pytest.approx(0.2, abs=0.05)
    assert "leaking" in verdict(found, SAY)


def test_springs_that_push_too_much_are_flagged() -> None:
    found = prove(played(base("quellmere").project, weaker={0: -0.2}))
    (only,) = found.sets
    assert only.finding.likely[0].name == f"{STRONG} 0"
    assert only.finding.likely[0].size == pytest.approx(0.2, abs=0.05)
    assert "force_is" in verdict(found, SAY)


def test_a_single_reading_that_cannot_be_is_flagged() -> None:
    # A scale cannot read below nought: nothing to push where the roof rises by itself, and a hard push where it starts.
    roof = demo("fennimoor")
    rises = prove(with_readings(roof, reading(0.9, "push up", force=exact(0.0))))
    assert np.all(rises.force_before == 0)
    assert not rises.sets[0].finding.strange
    starts = prove(with_readings(roof, reading(0.1, "push up", force=exact(0.0))))
    assert starts.sets[0].finding.strange
    assert starts.sets[0].used == ()


def test_one_wrong_reading_is_named_and_the_rest_used() -> None:
    found = prove(played(base("fennimoor").project, add=(0.0, 0.0, -50.0, 0.0)))
    (only,) = found.sets
    assert [one.name for one in only.finding.likely] == [f"{WRONG} 2"]
    assert only.used == (0, 1, 3)
    page = proof_page(proven(found.project))
    assert [row.strange for row in page.rows] == [False, False, True, False]
    assert "alone" in page.verdict


def test_the_wrong_hole_is_named() -> None:
    project = base("fennimoor").project
    head = project.spring[0].head
    other = Position("hole 2", 0, None, (head.x.nominal + 0.06, head.z.nominal))
    found = prove(played(project, sits=(other,) * 4), [other])
    (only,) = found.sets
    assert only.finding.likely[0].name == f"{HOLE} 0"
    assert "hole 2" in verdict(found, SAY)
    assert [place.words for place in known_places(project, [other])] == ["hole 2", AS_IN_FILE.words]


def test_gas_lost_between_two_sets_is_flagged() -> None:
    roof = demo("fennimoor")
    first = [reading(*one) for one in FOUR]
    second = [reading(*one, after=2) for one in FOUR]
    sound = played(with_readings(roof, *first, *second))
    lost = played(with_readings(roof, *first, *second), weaker={0: 0.12})
    mixed = sound.model_copy(update={"reading": (*sound.reading[:4], *lost.reading[4:])})
    assert not any(one.finding.strange for one in prove(sound).sets)
    found = prove(mixed)
    assert [one.finding.strange for one in found.sets] == [False, True]
    assert found.sets[1].finding.likely[0].name == f"{WEAK} 0"
    assert found.sets[1].finding.likely[0].size == pytest.approx(0.12, abs=0.03)
    assert "since the last readings" in verdict(found, SAY)
    # Against the first set the loss is seen better than against the plan alone.
    alone = prove(with_readings(roof, *lost.reading[4:]))
    assert found.sets[1].finding.suspects[0].score > alone.sets[0].finding.suspects[0].score


def test_false_alarms_of_a_whole_roof_stay_rare() -> None:
    # Roofs that are as the file says, drawn with other seeds; 400 of them leave a standard error of 1 %.
    known = base("quellmere")
    fresh = prove(known.project.model_copy(update={"settings": known.project.settings.model_copy(update={"seed": 9})}))
    causes = [Cause(DRAG, np.ones(4)), *one_wrong(list("abcd"), np.ones(4))]
    held = watch(known.force_before, known.noise, causes)
    noise = known.noise * np.random.default_rng(3).standard_normal((400, 4))
    alarms = np.mean([held.read(row).strange for row in fresh.force_before[:400] + noise])
    assert 0.01 <= alarms <= 0.065


def test_odds_in_another_hole_are_those_of_a_file_written_so() -> None:
    # Second way: the file with its spring's head moved, judged as any file is.
    project = demo("ottergate").model_copy(update={"reading": ()})
    spring = project.spring[0]
    there = (spring.head.x.nominal + 0.03, spring.head.z.nominal)
    head = Point(x=exact(there[0]), z=spring.head.z)
    moved = project.model_copy(update={"spring": (spring.model_copy(update={"head": head}), *project.spring[1:])})
    found = odds_of(prove(project, [Position("hole 2", 0, None, there)]))
    odds = next(one.odds for one in found.holes if one.position.words == "hole 2")
    rows = judged_roof(moved).numbers.rows
    assert odds == pytest.approx(float(holding(moved, rows, None)[rows.draws].mean()), abs=0.011)
    assert odds != pytest.approx(found.after, abs=0.02)


def test_a_better_hole_is_found() -> None:
    project = base("ottergate").project
    foot, head = project.spring[0].foot, project.spring[0].head
    on, z = project.spring[0].head_on, 1000 * head.z.nominal
    holes = [Hole(str(k), on, 1000 * head.x.nominal + by, z, k == 1, "") for k, by in ((1, 0.0), (2, 40.0), (3, -40.0))]
    fixed = Hole("", project.spring[0].foot_on, 1000 * foot.x.nominal, 1000 * foot.z.nominal, False, "")
    places = tuple(Place(k + 1, 0, k, k == 0, f"hole {k + 1}") for k in range(3))
    row = HoleRow((fixed,), tuple(holes), places, odds=0, first=1, with_card=0, note="")
    assert [p.words for p in positions_of(project, row)] == ["hole 1", "hole 2", "hole 3"]
    found = proven(played(project), row)
    odds = {one.position.words: one.odds for one in found.odds.holes}
    # Hole 1 is that of the file, and goes by its number.
    assert set(odds) == {"hole 1", "hole 2", "hole 3"}
    assert found.odds.after == odds["hole 1"]
    best = max(odds, key=lambda words: odds[words])
    assert best in proof_page(found).next_hole


def test_the_row_of_holes_of_the_file_s_own_springs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(proof_holes, "DRAWS", 100)
    project = base("larkenmoor").project
    row = proof_holes.own_row(project)
    assert row is not None
    (holes,) = row.rows
    assert [hole.name for hole in holes] == [str(k + 1) for k in range(len(holes))]
    assert 2 <= len(holes) <= project.choice.holes
    assert sum(hole.start for hole in holes) == 1
    assert row.first <= row.odds
    spring, spacing = project.spring[0], 1000 * project.choice.hole_spacing.nominal
    end = spring.head if holes is row.heads else spring.foot
    # On a level line through the file's own hole, none closer than the spacing.
    assert all(hole.z_mm == pytest.approx(1000 * end.z.nominal) for hole in holes)
    across = sorted(hole.x_mm for hole in holes)
    assert min(b - a for a, b in pairwise(across)) >= spacing - 1e-6
    # Nothing to rank without readings, or where several springs share the work.
    assert proof_holes.own_row(project.model_copy(update={"reading": ()})) is None
    two = project.model_copy(update={"spring": (spring, spring)})
    assert proof_holes.own_row(two) is None


def test_holes_that_the_file_says_are_there_are_the_row(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(proof_holes, "DRAWS", 100)
    project = base("fennimoor").project
    spring = project.spring[0]
    there = [Point(x=exact(x), z=spring.head.z) for x in (1.02, spring.head.x.nominal, 1.15)]
    marked = spring.model_copy(update={"heads": tuple(there)})
    row = proof_holes.own_row(project.model_copy(update={"spring": (marked,)}))
    assert row is not None
    assert [hole.x_mm for hole in row.heads] == pytest.approx([1020.0, 1000 * spring.head.x.nominal, 1150.0])
    assert [hole.start for hole in row.heads] == [False, True, False]
    assert len(row.feet) == 1
    assert row.feet[0].x_mm == pytest.approx(1000 * spring.foot.x.nominal)


def test_rows_after_readings_are_at_hand_for_other_answers() -> None:
    found = base("ottergate")
    rows = found.rows()
    assert rows.count == 1 + found.after.shape[0]
    for k, path in enumerate(found.paths):
        np.testing.assert_array_equal(rows(path)[rows.draws], found.after[:, k])
        assert rows(path)[0] == found.nominal[path]


def test_without_readings_there_is_still_what_to_expect() -> None:
    bare = demo("ottergate").model_copy(update={"reading": (), "tape": ()})
    page = proof_page(proven(bare))
    assert page.rows == page.learnt == ()
    assert page.chart is None
    assert "No readings yet" in page.verdict
    assert len(page.tape) == 9
    assert "No tape readings yet" in page.tape_verdict


def test_doubts_of_scales_and_thermometers() -> None:
    exact_luggage = reading(0.2, "push up", force=exact(100.0))
    exact_bathroom = reading(0.2, "push up", force=exact(100.0), scale="bathroom scales")
    assert scale_doubt(exact_luggage).spread == pytest.approx(4.0)
    assert scale_doubt(exact_bathroom).spread == pytest.approx(0.5 * STANDARD_GRAVITY)
    assert scale_doubt(reading(0.2, "push up")).spread == pytest.approx(5.0)
    same = with_readings(
        demo("fennimoor"), reading(0.2, "push up"), reading(0.4, "push up"), reading(0.4, "push up", after=2)
    )
    assert [warmth_path(same, k) for k in range(3)] == ["reading.0.temperature"] * 2 + ["reading.2.temperature"]


def test_a_reading_in_another_hole_is_predicted_there() -> None:
    project = demo("fennimoor")
    spring = project.spring[0]
    head = Point(x=exact(spring.head.x.nominal + 0.05), z=spring.head.z)
    there = with_readings(project, reading(0.6, "pull down", spring=spring.name, head=head))
    moved = project.model_copy(update={"spring": (spring.model_copy(update={"head": head}),)})
    here = with_readings(moved, reading(0.6, "pull down"))
    one, other = (prove(p) for p in (there, here))
    middle = one.force_before.mean()
    assert middle == pytest.approx(other.force_before.mean(), rel=0.01)
    assert middle != pytest.approx(
        prove(with_readings(project, reading(0.6, "pull down"))).force_before.mean(), rel=0.05
    )


# --- tape ------------------------------------------------------------------------------------------

THREE = (Ask("springs", "spring length", 0.0), Ask("springs", "spring length", 1.0), Ask("hinges", "lip height", 1.0))


def taped(name: str, off: Mapping[str, float], *more: Tape) -> tuple[Project, TapeProof]:
    """Return a demo and what its tape says, with brackets truly off by these lengths [m]."""
    known = base(name)
    nominal = dict(known.nominal)
    truth = table(nominal, [{path: nominal[path] + by for path, by in off.items()}])
    read = lengths(known.project, Columns(known.inputs, truth), known.sense, THREE)[1]
    tapes = [
        Tape(step=ask.step, what=ask.what, how_open=exact(ask.share), reads=exact(float(r)))
        for ask, r in zip(THREE, read, strict=True)
    ]
    project = known.project.model_copy(update={"tape": (*tapes, *more)})
    return project, tape_proof(project, known.at(known.before), nominal, known.sense)


@pytest.mark.parametrize("name", ["fennimoor", "quellmere"])
@pytest.mark.parametrize(
    "path", ["linkage.hinge.x", "spring.0.foot.x", "spring.0.foot.z", "spring.0.head.x", "spring.0.head.z"]
)
def test_the_bracket_that_is_off_is_named(name: str, path: str) -> None:
    project, found = taped(name, {path: 0.02})
    assert path in brackets_of(project)
    assert found.missed
    assert found.brackets[0].name == path
    assert found.brackets[0].size == pytest.approx(0.02, abs=0.002)
    said = tape_verdict(found, project, SAY)
    assert bracket(found.brackets[0], project, SAY)[0] in said
    assert "print again" in said


def test_a_pin_of_an_arm_that_is_off_is_named() -> None:
    project, found = taped("ottergate", {"linkage.arm_a_van.x": 0.02})
    assert found.brackets[0].name == "linkage.arm_a_van.x"
    assert "pin of arm a on the van" in tape_verdict(found, project, SAY)


def test_brackets_in_place_are_no_miss() -> None:
    project, found = taped("fennimoor", {"spring.0.head.x": 0.002})
    assert not found.missed
    assert found.brackets == ()
    assert tape_verdict(found, project, SAY).startswith("The tape agrees")


def test_diagonals_tell_whether_it_is_square() -> None:
    known = base("fennimoor")
    ask = Ask("hinges", "diagonal", 1.0)
    expected = float(lengths(known.project, Columns(known.inputs, table(known.nominal, [])), known.sense, [ask])[0, 0])
    pair = [
        Tape(step="hinges", what="diagonal", how_open=exact(1.0), reads=exact(expected + by)) for by in (0.004, -0.004)
    ]
    project, found = taped("fennimoor", {}, *pair)
    (skew,) = found.skew
    assert not skew.square
    assert "not square" in tape_verdict(found, project, SAY)
    # Exact: a lip shifted by s makes the diagonals sqrt(a^2 + (y +- s)^2).
    across = (known.nominal["linkage.spacing"] + known.nominal["shell.width"]) / 2
    along = np.sqrt(expected**2 - across**2)
    longer, shorter = np.hypot(along, across + skew.shift), np.hypot(along, across - skew.shift)
    assert longer - shorter == pytest.approx(0.008, rel=1e-3)


def test_the_page_and_the_numbers_say_the_same() -> None:
    found = proven(played(base("quellmere").project))
    page, said = proof_page(found), proof_numbers(found)
    assert said["verdict"] == page.verdict
    assert round(100 * said["odds_after"]) == page.odds_after
    assert len(page.rows) == len(said["readings"]) == 4
    assert page.chart is not None
    for k, row in enumerate(said["readings"]):
        assert page.chart.measured[k] == pytest.approx(row["read_n"] / STANDARD_GRAVITY, abs=1e-3)
        assert page.chart.before_low[k] < page.chart.after[k] < page.chart.before_high[k]
    assert [fact.label for fact in page.learnt] == [one.label for one in learnt(found.proof)]
    assert wording(found.proof.project) == SAY
