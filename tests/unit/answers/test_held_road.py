"""The closed roof on the road, of every kind of linkage: forces, speeds, and which rules apply."""

from __future__ import annotations

import re
from functools import cache

import numpy as np
import pytest

from loftwright.answers.draws import Nominal
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.held_road import CATCH, FASTEST, HINGE, LATCH, STOP, TWIST_NOTE, RoadFound, on_the_road
from loftwright.answers.judged_roof import inputs_of
from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.project.assemble_road import on_road
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import loads
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.strength.brace_rules import UNEVEN
from loftwright.strength.latched import Lines
from loftwright.strength.road_forces import hinged_cases
from loftwright.strength.road_rules import CATCH_MISSING, LATCH_WEAK, ONE_LATCH_LOST, SEAL_CARRIES, STOPS_FREE
from loftwright.strength.shell_rules import SAGS, SIDES_LIFT, TEST_TELLS, TWISTS

KINDS = ("hinge front", "hinge rear", "arms", "level arms", "scissor")
PLAIN = new_project(FiveAnswers("hinge rear"))
SIDE = (
    'format = 1\nname = "side"\n[opening]\nlength = "2 m"\nwidth = "1.2 m"\n[shell]\nlength = "2.1 m"\n'
    'width = "1.3 m"\noverhang_left = "50 mm"\nmass = "40 kg"\n[linkage]\nkind = "hinge"\nend = "{end}"\n'
    'opens = "35 deg"\nspacing = "1.6 m"\nhinge = ["{x}", "30 mm"]\n'
)
GUIDES = re.sub(
    r"(?s)\[linkage\].*?\n\n",
    '[linkage]\nkind = "guides"\nend = "rear"\nrise = "0.4 m"\nguide = ["1.9 m", "-0.2 m"]\n'
    'guide_far = ["0.1 m", "-0.2 m"]\nguide_length = "0.3 m"\nguide_friction = "unknown"\n\n',
    demo_text("quellmere"),
)


@cache
def base_of(text: str) -> Basis:
    project = loads(text)
    return basis(project, Nominal(inputs_of(project)))[0]


@cache
def found_in(text: str) -> RoadFound:
    return on_the_road(base_of(text))


def with_lines(text: str, section: str, *lines: str) -> str:
    """Return a file with `lines` put into one of its sections, in place of what it says of the same keys."""
    found = loads_lines(text, section, [line.split(" = ")[0] for line in lines])
    return found.replace(f"[{section}]\n", f"[{section}]\n" + "".join(f"{line}\n" for line in lines), 1)


def loads_lines(text: str, section: str, keys: list[str]) -> str:
    if f"[{section}]\n" not in text:
        return f"{text}\n[{section}]\n"
    before, rest = text.split(f"[{section}]\n", 1)
    inside, mark, after = rest.partition("\n[")
    kept = [line for line in inside.split("\n") if line.split(" = ")[0] not in keys]
    return f"{before}[{section}]\n" + "\n".join(kept) + mark + after


def judged(found: RoadFound, rule: object, which: str = "") -> Judged:
    return next(one for one in found.judged if one.rule is rule and which in one.which)


def check(one: Judged) -> Check:
    assert one.value is not None
    assert one.limit is not None
    return one.rule.judge(float(one.value[0]), float(one.limit[0]))


@pytest.mark.parametrize(
    "text",
    [
        *(new_project(FiveAnswers(kind)) for kind in KINDS),
        *(demo_text(name) for name in DEMOS),
        SIDE.format(end="left", x="-50 mm"),
        SIDE.format(end="right", x="1.25 m"),
        GUIDES,
    ],
    ids=[*KINDS, *DEMOS, "left", "right", "guides"],
)
def test_every_kind_has_finite_forces(text: str) -> None:
    found = found_in(text)
    for one in found.judged:
        for value in (one.value, one.limit):
            assert value is None or (value.shape == (1,) and np.isfinite(value).all())
    assert all(part.speed is None or 0 <= part.speed[0] <= FASTEST for part in found.parts)
    assert np.isfinite(found.hinge).all()
    assert found.latch.shape == (1, base_of(text).project.latches.count)


@pytest.mark.parametrize("text", [PLAIN, new_project(FiveAnswers("hinge front")), SIDE.format(end="right", x="1.25 m")])
def test_equilibrium_of_shell_and_pins_is_that_of_a_lever(text: str) -> None:
    # A second way: the balance of moments about the hinge, for air alone, against the mechanics' pin forces.
    base = base_of(text)
    given = on_road(base.project, base.at, base.roof, base.outline, None)
    x, z = base.roof.pins.shell[0]
    lever = hinged_cases(given.shut, Lines(x, z, given.latch_x), given.drive)
    assert given.cases.air.latch_line == pytest.approx(lever.air.latch_line)
    assert given.cases.air.hinge_up == pytest.approx(lever.air.hinge_up)
    assert given.cases.air.hinge_forward == pytest.approx(lever.air.hinge_forward)
    if not base.roof.fitted:
        assert given.cases.down.latch_line == pytest.approx(lever.down.latch_line)


def test_latches_hinges_and_loads_balance() -> None:
    # Exact: up and down, everything on the shell adds up to nothing.
    base = base_of(PLAIN)
    given = on_road(base.project, base.at, base.roof, base.outline, None)
    still = given.shut.still(given.drive.bump)
    springs = 0.0
    for fitted, push, force in zip(base.roof.fitted, base.felt.springs, base.felt.end_force, strict=True):
        springs += fitted.mount.count * force[0, 0] * push.line.along_z[0, 0]
    held = given.cases.down
    assert held.hinge_up.sum() - held.latch_line[0] + still.up[0] + springs == pytest.approx(0.0, abs=1e-6)
    assert still.up[0] < -base.roof.body.mass[0] * STANDARD_GRAVITY


def test_a_bad_road_presses_harder_than_it_tosses() -> None:
    # By hand, on the latches' line of a hinged shell: m g x lever, twice down on top of its weight, 1.2 times up.
    base = base_of(with_lines(PLAIN, "road", "bump = 2"))
    given = on_road(base.project, base.at, base.roof, base.outline, None)
    body, x = base.roof.body, base.roof.pins.shell[0][0]
    lever = (body.x - x) / (given.latch_x - x)
    weight = body.mass * STANDARD_GRAVITY * lever
    rest, tossed, pressed = (one.latch_line for one in (given.cases.rest, given.cases.up, given.cases.down))
    assert tossed - rest == pytest.approx(1.2 * weight)
    assert rest - pressed == pytest.approx(2.0 * weight)


def test_a_spring_on_an_arm_loads_its_pin_on_the_van_too() -> None:
    # Exact, by hand: van's force on the arm = arm's force on the shell less both springs' push on the arm.
    base = base_of(demo_text("larkenmoor"))
    rest = on_road(base.project, base.at, base.roof, base.outline, None).cases.rest
    line, push = base.felt.springs[0].line, 2 * base.felt.end_force[0][0, 0]
    for held, along in ((rest.hinge_forward, line.along_x), (rest.hinge_up, line.along_z)):
        shell, van = held[0, :2], held[0, 2:]
        assert van[0] == pytest.approx(shell[0] - push * along[0, 0])
        assert van[1] == pytest.approx(shell[1])


def test_arms_leave_an_end_of_the_shell_to_itself() -> None:
    # A beam hanging over beyond the front arms rises more than between the supports: by hand as w c^4 / 8 EI at least.
    base = base_of(demo_text("larkenmoor"))
    found = on_the_road(base)
    held = np.sort([float(found.latch_x[0]), *(float(np.ravel(x)[0]) for x, _ in base.roof.pins.shell)])
    over = float((base.roof.rim.rear + base.roof.rim.length)[0]) - held[-1]
    suction = (base.at("road.suction") + base.at("road.under"))[0] * found.pressure[0] * base.at("shell.width")[0]
    lifts = suction - base.roof.body.mass[0] * STANDARD_GRAVITY / base.roof.rim.length[0]
    assert over > held[-1] - held[0]
    assert found.shell.rise[0] > 0.9 * lifts * over**4 / 8 / found.shell.bending[0]


def test_the_speed_of_a_part_is_that_at_its_limit() -> None:
    text = with_lines(PLAIN, "latches", 'limit = "4 kN"', 'preload = "300 N"', "stops = true")
    first = found_in(text).part(LATCH)
    assert first is not None
    assert first.speed is not None
    speed = float(first.speed[0])
    assert speed < FASTEST
    # The file takes speeds up to 200 km/h.
    assert 30 / 3.6 < speed < 200 / 3.6
    again = found_in(with_lines(text, "road", f'speed = "{speed!r} m/s"')).part(LATCH)
    assert again is not None
    assert again.force == pytest.approx(again.limit)


def test_stronger_latches_hold_and_weaker_ones_fail() -> None:
    for limit, expected in (("9 kN", Verdict.HOLDS), ("200 N", Verdict.FAILS)):
        found = found_in(with_lines(PLAIN, "latches", f'limit = "{limit}"'))
        assert check(judged(found, LATCH_WEAK)).verdict is expected
        assert check(judged(found, ONE_LATCH_LOST, LATCH)).verdict is expected


def test_a_roof_that_opens_into_the_wind_wants_a_catch() -> None:
    for line, expected in (("catch = true", Verdict.HOLDS), ("catch = false", Verdict.FAILS)):
        found = found_in(with_lines(PLAIN, "latches", line))
        assert check(judged(found, CATCH_MISSING)).verdict is expected
        assert (found.part(CATCH) is not None) is (expected is Verdict.HOLDS)
    front = found_in(new_project(FiveAnswers("hinge front")))
    assert all(one.rule is not CATCH_MISSING for one in front.judged)


def test_without_stops_the_seal_carries_the_shell() -> None:
    with_stops, without = (
        found_in(with_lines(PLAIN, "latches", f"stops = {there}", 'preload = "400 N"')) for there in ("true", "false")
    )
    assert check(judged(with_stops, SEAL_CARRIES)).verdict is Verdict.HOLDS
    assert check(judged(without, SEAL_CARRIES)).verdict is Verdict.FAILS
    assert with_stops.part(STOP) is not None
    assert without.part(STOP) is None
    assert all(one.rule is not STOPS_FREE for one in without.judged)


def test_nothing_holds_a_shell_whose_only_latch_is_lost() -> None:
    found = found_in(with_lines(PLAIN, "latches", "count = 1"))
    lost = [one for one in found.judged if one.rule is ONE_LATCH_LOST]
    assert [one.which for one in lost] == [LATCH]
    assert check(lost[0]).verdict is Verdict.FAILS
    assert found.latch_lost == pytest.approx(found.line)


def test_more_speed_pulls_harder_everywhere() -> None:
    slow, fast = (found_in(with_lines(PLAIN, "road", f'speed = "{v} km/h"')) for v in (60, 130))
    assert fast.lift > slow.lift
    assert fast.drag > slow.drag
    for name in (LATCH, HINGE):
        one, other = slow.part(name), fast.part(name)
        assert one is not None
        assert other is not None
        assert other.force > one.force


def test_the_shell_itself_is_judged_with_the_road() -> None:
    found = found_in(demo_text("fennimoor"))
    assert {SAGS, SIDES_LIFT, TWISTS} <= {one.rule for one in found.judged}
    twist = judged(found, TWISTS)
    if demo("fennimoor").shell.twist_moment is None:
        assert (twist.value, twist.missing) == (None, "twist_moment")
    known = found_in(with_lines(demo_text("fennimoor"), "shell", 'twist_moment = "200 N m"'))
    assert judged(known, TWISTS).value is not None
    assert known.shell.twist is not None
    softer = found_in(with_lines(demo_text("fennimoor"), "shell", 'twist_moment = "100 N m"'))
    assert softer.shell.twist == pytest.approx(2 * known.shell.twist)
    assert found.shell.droop is not None
    assert check(judged(found, SAGS)).verdict is Verdict.HOLDS
    level = found_in(new_project(FiveAnswers("level arms")))
    assert level.shell.droop is None
    assert SAGS not in {one.rule for one in level.judged}


BENT = 'bend_weight = "{kg} kg"\nbend_span = "1.8 m"\nbend_sinks = "{sinks}"'
TWISTED = 'twist_weight = "{kg} kg"\ntwist_sinks = "{sinks}"'


def test_a_shell_tested_at_home_is_taken_as_it_is() -> None:
    """Second way: a beam on two supports, its deflection put back into the load; three corners and a weight."""
    text = with_lines(demo_text("fennimoor"), "shell", BENT.format(kg=20, sinks="12 mm"))
    found = found_in(text)
    weight = 20 * 9.80665
    assert weight * 1.8**3 / (48 * float(found.shell.bending[0])) == pytest.approx(0.012)
    assert found.shell.droop is not None
    limber = found_in(with_lines(demo_text("fennimoor"), "shell", BENT.format(kg=20, sinks="24 mm")))
    assert limber.shell.bending == pytest.approx(found.shell.bending / 2)
    assert limber.shell.droop == pytest.approx(2 * found.shell.droop)
    # The moment of 5 kg at one corner turns the end by what it sinks over the width: one degree needs as much more.
    turned = found_in(with_lines(demo_text("fennimoor"), "shell", TWISTED.format(kg=5, sinks="20 mm")))
    width = demo("fennimoor").shell.width.nominal
    moment = 5 * 9.80665 * width / (0.020 / width) * np.pi / 180
    written = found_in(with_lines(demo_text("fennimoor"), "shell", f'twist_moment = "{moment} N m"'))
    assert turned.shell.twist == pytest.approx(written.shell.twist)
    assert turned.offset.uneven == pytest.approx(written.offset.uneven)
    assert judged(turned, UNEVEN).value is not None
    assert TWIST_NOTE not in turned.said
    # The feel of unlike springs is judged with the same stiffness.
    text = with_lines(demo_text("fennimoor"), "shell", TWISTED.format(kg=5, sinks="20 mm"))
    assert base_of(text).roof.twist_stiffness == pytest.approx(np.array([moment * 180 / np.pi]))


@pytest.mark.parametrize(("lines", "test"), [(BENT, "bending test"), (TWISTED, "twist test")])
def test_a_test_that_moved_the_shell_too_little_is_said(lines: str, test: str) -> None:
    def told(sinks: str) -> Check:
        found = found_in(with_lines(demo_text("fennimoor"), "shell", lines.format(kg=10, sinks=sinks)))
        (one,) = (one for one in found.judged if one.rule is TEST_TELLS)
        assert one.which == test
        return check(one)

    # Two readings within 1 mm each: a doubt of 1.4 mm, a quarter of 5.7 mm.
    assert told("6.5 mm").verdict is Verdict.HOLDS
    assert told("5 mm").verdict is Verdict.FAILS
    # A reading that its builder doubts more counts for less.
    assert told("6.5 mm +- 2 mm, measured").verdict is Verdict.FAILS
    assert all(one.rule is not TEST_TELLS for one in found_in(demo_text("fennimoor")).judged)
