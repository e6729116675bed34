"""What the build book takes from the answers: holes and lines to drill, what is held by the frame, what is ordered."""

from __future__ import annotations

import math

import pytest

from loftwright.answers.book import book_page, pivots_of, proof_of
from loftwright.answers.choose import choose
from loftwright.answers.choose_roofs import fitted_with
from loftwright.answers.choose_search import QUICK
from loftwright.answers.drilling import CLEAR_MM, NEAR_MM, Spot, drill_plans, spots_of
from loftwright.answers.judged_roof import judged_roof
from loftwright.core.choice_views import Hole, HoleRow, Place
from loftwright.core.errors import ProjectFault
from loftwright.core.wording import Wording
from loftwright.project import file
from loftwright.project.demos import demo, demo_text
from loftwright.project.spring_list import read_springs

METRIC = Wording("metric")


def test_holes_are_those_of_the_file() -> None:
    project = demo("fennimoor")
    page = book_page(project)
    van, shell, *pins = page.drilling
    assert [plan.title for plan in pins] == ["Pins on the van: hinge", "Pins on the shell: hinge"]
    for plan in pins:
        assert (plan.marks[0].x_mm, plan.marks[0].z_mm) == pytest.approx((2055.0, 35.0))
    spring = project.spring[0]
    assert (van.marks[0].x_mm, van.marks[0].z_mm) == pytest.approx(
        (1000 * spring.foot.x.nominal, 1000 * spring.foot.z.nominal)
    )
    assert (shell.marks[0].x_mm, shell.marks[0].z_mm) == pytest.approx(
        (1000 * spring.head.x.nominal, 1000 * spring.head.z.nominal)
    )
    # 2.00 m of opening: the line stands 450 mm from its front edge, so at 1550 mm; hinge at (2055, 35).
    upright = van.lines[0]
    assert "from the front edge of the opening" in upright.words
    away = float(upright.words.split()[0])
    assert upright.at_mm == pytest.approx(2000.0 - away)
    assert van.checks[0].value == METRIC.short_length(math.hypot(2.055 - 1.496, 0.035 + 0.036))
    # The shell's level line is the lower edge of its rim, 10 mm above the roof.
    assert shell.lines[1].at_mm == pytest.approx(10.0)


def test_an_arm_is_drilled_along_itself() -> None:
    """An exact constructed case: an arm from (0, 0) to (-3, 4) m/10 leans to the rear; 1/10 m along, 2/100 m off it."""
    pins = (Spot("arm a, van", "van", 0.0, 0.0), Spot("arm a, shell", "shell", -0.3, 0.4))
    ux, uz = -0.6, 0.8
    spot = Spot("head", "arm a", 0.1 * ux - 0.02 * uz, 0.1 * uz + 0.02 * ux)
    plan = drill_plans(demo("ottergate"), (spot,), pins, METRIC)[0]
    head = plan.marks[0]
    # Laid level with its rear end to the rear: 100 mm to the rear of the pin; what lay behind the arm lies below it.
    assert (head.x_mm, head.z_mm) == pytest.approx((-100.0, -20.0))
    assert plan.checks[0].value == METRIC.short_length(math.hypot(0.1, 0.02))
    other = Spot("head", "arm a", 0.1 * ux + 0.02 * uz, 0.1 * uz - 0.02 * ux)
    assert drill_plans(demo("ottergate"), (other,), pins, METRIC)[0].marks[0].z_mm == pytest.approx(20.0)


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("x", [0.05, 0.2, 0.61, 1.0, 1.496, 1.95])
def test_lines_keep_clear_of_holes_and_say_where_they_are(units: str, x: float) -> None:
    project = demo("fennimoor")
    spots = tuple(Spot(f"hole {i}", "van", x + 0.025 * i, -0.04) for i in range(3))
    (plan,) = drill_plans(project, spots, (), Wording(units))  # type: ignore[arg-type]
    upright = plan.lines[0]
    edges = {"rear": 0.0, "front": 2000.0}
    edge = edges["rear" if "rear edge" in upright.words else "front"]
    if "from" in upright.words:
        said = Wording(units).short_length(abs(upright.at_mm - edge) / 1000)  # type: ignore[arg-type]
        assert upright.words.startswith(said + " ")
        assert all(abs(upright.at_mm - m.x_mm) >= CLEAR_MM for m in plan.marks)
    else:
        assert upright.at_mm == edge
    assert min(abs(upright.at_mm - m.x_mm) for m in plan.marks) <= NEAR_MM


def test_the_frame_holds_what_the_van_holds() -> None:
    project = demo("fennimoor")
    outcome = judged_roof(project)
    page = book_page(project)
    held = {h.name: h for h in page.frame.frame.held}
    assert held["hinge"].load == outcome.numbers.most_on_pin
    assert held["hinge"].place == pytest.approx(1.30 / 2)
    foot = held["spring foot"]
    assert foot.load == pytest.approx(float(outcome.numbers.felt.end_force[0][0].max()))
    assert (foot.x, foot.z, foot.place) == pytest.approx((1.496, -0.036, 0.64))
    assert page.frame.frame.opening == (2.0, 1.38)
    # Two springs a side push twice as hard.
    text = demo_text("fennimoor").replace("per_side = 1\nfoot_on", "per_side = 2\nfoot_on")
    twice = book_page(file.loads(text, "x.toml")).frame.frame
    push = next(h for h in twice.held if h.name == "spring foot").load
    assert push == pytest.approx(2 * float(judged_roof(file.loads(text, "x.toml")).numbers.felt.end_force[0][0].max()))
    assert push > foot.load
    true = book_page(project, height="true").frame.frame
    assert true.ground == pytest.approx(-1.42)


def test_a_request_names_the_force_and_what_it_is() -> None:
    (request,) = book_page(demo("fennimoor")).requests
    lines = {line.label: line for line in request.lines}
    assert lines["Force"].value == "810 N"
    assert "pushing out, near its full length (F1)" in lines["Force"].note
    assert lines["How many"].value == "2"
    assert lines["Stroke"].value == "280 mm"
    assert lines["Length"].value == "670 mm"
    # Springs are sold by the newton; the builder's own unit stands beside it.
    (request,) = book_page(demo("ottergate")).requests
    force = next(line.value for line in request.lines if line.label == "Force")
    assert " N (" in force
    assert "lb)" in force


def test_a_book_of_the_chosen_springs() -> None:
    project = demo("larkenmoor")
    found = choose(project, read_springs(None), draws=100, budget=QUICK)
    assert found.best is not None
    assert found.holes is not None
    page = book_page(project, chosen=found)
    assert page.choice is not None
    row = page.choice.holes
    assert row is not None
    assert "with the chosen springs" in page.subtitle
    ordered = found.holes.fit
    spring = fitted_with(project, found.listed.entries, found.pairs, ordered).spring[0]
    (request,) = page.requests
    asked = {line.label: line.value for line in request.lines}
    assert asked["Stroke"] == METRIC.short_length(spring.stroke.nominal)
    assert asked["Force"] == METRIC.force(spring.force.nominal)
    shape = page.roof.scene.springs[0]
    pins = {p.name: p for p in pivots_of(judged_roof(project).numbers)}
    marks = [(p.title, m) for p in page.drilling for m in p.marks]
    for holes, on, end in (
        (row.feet, found.holes.pair.foot.on, "foot hole"),
        (row.heads, found.holes.pair.head.on, "head hole"),
    ):
        for hole in holes:
            name = "fixed end" if hole is row.fixed else f"{end if row.both else 'hole'} {hole.name}"
            mark = next(m for title, m in marks if m.name == name and f"{on}:" in f"{title}:")
            assert mark.start == hole.start
            if on in ("van", "shell"):
                # Drilled as the row has it.
                assert (mark.x_mm, mark.z_mm) == pytest.approx((hole.x_mm, hole.z_mm))
            else:
                # On an arm, distances from its pin are kept.
                pin = pins[f"{on}, van"]
                away = math.hypot(hole.x_mm - 1000 * pin.x, hole.z_mm - 1000 * pin.z)
                assert math.hypot(mark.x_mm, mark.z_mm) == pytest.approx(away)
    # The side view shows the spring in the place to start with.
    for end_at, hole in ((shape.foot, row.feet[row.start.foot]), (shape.head, row.heads[row.start.head])):
        assert end_at == pytest.approx((hole.x_mm / 1000, hole.z_mm / 1000))


def test_two_rows_are_drilled_each_in_its_part_by_its_own_names() -> None:
    """Exact constructed case: feet 1 and 2 on the van, heads A and B on the shell, started in 2 B."""
    project = demo("fennimoor")
    feet = tuple(Hole(str(i + 1), "the van", 1500.0 + 30 * i, -36.0, i == 1, "") for i in range(2))
    heads = tuple(Hole("AB"[i], "the shell", 1090.0, 50.0 + 30 * i, i == 1, "") for i in range(2))
    places = tuple(Place(2 * i + j + 1, i, j, i + j == 2, "") for i in range(2) for j in range(2))
    spots = spots_of(project, HoleRow(feet, heads, places, 90, 60, 70, ""), ("van", "shell"))
    assert [(s.name, s.on, s.start) for s in spots] == [
        ("foot hole 1", "van", False),
        ("foot hole 2", "van", True),
        ("head hole A", "shell", False),
        ("head hole B", "shell", True),
    ]


def test_readings_are_told_only_where_there_are_some() -> None:
    assert proof_of(demo("ottergate"), None) is None
    told = proof_of(demo("fennimoor"), None)
    assert told is not None
    assert len(told.rows) == len(demo("fennimoor").reading)


def test_a_roof_without_springs_still_has_a_book() -> None:
    text = demo_text("larkenmoor")
    head, _, tail = text.partition("[[spring]]")
    rest = tail[tail.index("\n[") :] if "\n[" in tail else ""
    page = book_page(file.loads(head + rest, "bare.toml"))
    assert page.requests == ()
    # Only the pins of the arms are left to drill.
    assert {plan.title.partition(":")[0] for plan in page.drilling} == {"Pins on the van", "Pins on the shell"}
    assert sum(len(plan.marks) for plan in page.drilling) == 4
    assert {h.name for h in page.frame.frame.held} == {"arm a, van", "arm b, van"}
    assert "without springs" in page.subtitle


def test_pivots_are_where_the_file_puts_them() -> None:
    project = demo("fennimoor")
    (hinge,) = pivots_of(judged_roof(project).numbers)
    assert (hinge.on, hinge.x, hinge.z) == ("van", pytest.approx(2.055), pytest.approx(0.035))
    assert [s.name for s in spots_of(project, None, ("van", "shell"))] == ["foot", "head"]


def test_a_roof_hinged_at_a_side_is_refused() -> None:
    project = demo("fennimoor")
    side = project.model_copy(update={"linkage": project.linkage.model_copy(update={"end": "left"})})
    with pytest.raises(ProjectFault, match="hinged at a side"):
        book_page(side)
