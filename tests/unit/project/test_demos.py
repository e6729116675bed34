"""The demos: complete, as described, and balanced.

The balance is checked by statics computed here from first principles: moments about the hinge for the two
hinged roofs, virtual work with loop closure for the four-bar, moments of one arm for the level lift.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.core.units import STANDARD_GRAVITY
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.model import Project
from loftwright.project.points import Point


def xz(point: Point | None) -> complex:
    assert point is not None
    return complex(point.x.nominal, point.z.nominal)


def riding(project: Project) -> list[tuple[float, complex]]:
    """Return mass [kg] and place of everything that rises, as the files of these demos state it."""
    shell = project.shell
    if shell.mass is not None and shell.centre is not None:
        parts = [(shell.mass.nominal, complex(shell.centre.nominal, 0.08))]
    else:
        assert project.weighing is not None
        whole = next(r.whole.nominal for r in project.weighing.reading if r.whole is not None)
        balance = next(r.balance.nominal for r in project.weighing.reading if r.balance is not None)
        parts = [(whole, complex(balance - shell.overhang_rear.nominal, 0.08))]
    sign = {"add": 1, "remove": -1, "weighed": 0}
    return parts + [(sign[i.state] * i.mass.nominal, complex(i.x.nominal, i.z.nominal)) for i in project.item]


def spring_force(project: Project, length: np.ndarray) -> np.ndarray:
    spring = project.spring[0]
    squeezed = (spring.extended_length.nominal - length) / spring.stroke.nominal
    assert np.all((squeezed > 0) & (squeezed < 1))
    both = 2 * spring.per_side * spring.force.nominal
    return both / (1 - (1 - 1 / spring.ratio.nominal) * squeezed)


@pytest.mark.parametrize(("name", "mass"), [("fennimoor", 62.0), ("quellmere", 55.0)])
def test_a_hinged_demo_stays_shut_and_stays_up(name: str, mass: float) -> None:
    project = demo(name)
    assert sum(m for m, _ in riding(project)) == pytest.approx(mass, abs=9)
    hinge, spring = xz(project.linkage.hinge), project.spring[0]
    turn = np.linspace(0, project.linkage.opens.nominal, 200) * (-1 if project.linkage.end == "front" else 1)
    swing = np.exp(1j * turn)
    weight = sum(m * STANDARD_GRAVITY * ((at - hinge) * swing).imag for m, at in riding(project))
    length = abs((xz(spring.head) - hinge) * swing + hinge - xz(spring.foot))
    # Work of spring and weight over a small turn: the springs' share of the weight's moment.
    share = spring_force(project, length) * np.gradient(length, turn) / np.gradient(weight, turn)
    assert 0.5 < share[1] < 0.75
    assert 1.25 < share[-2] < 1.9
    assert np.all(np.diff(share[1:-1]) > 0)


def test_the_demo_on_arms_stays_shut_and_stays_up() -> None:
    project = demo("ottergate")
    link, spring = project.linkage, project.spring[0]
    a0, a1, b0, b1 = (xz(p) for p in (link.arm_a_van, link.arm_a_shell, link.arm_b_van, link.arm_b_shell))
    swing = np.linspace(0, -link.opens.nominal, 200)
    a = a0 + (a1 - a0) * np.exp(1j * swing)
    # Arm b's upper pivot lies on two circles; the side that it starts on is kept.
    gap, arm, coupler = b0 - a, abs(b1 - b0), abs(b1 - a1)
    along = (coupler**2 - arm**2 + abs(gap) ** 2) / (2 * abs(gap))
    side = math.copysign(1, ((b1 - a1) * np.conj(gap[0])).imag)
    b = a + gap / abs(gap) * (along + side * 1j * np.sqrt(coupler**2 - along**2))
    assert b[0] == pytest.approx(b1)
    tilt = (b - a) / (b1 - a1)
    weight = sum(m * STANDARD_GRAVITY * (a + (at - a1) * tilt).imag for m, at in riding(project))
    length = abs(a0 + (xz(spring.head) - a0) * np.exp(1j * swing) - xz(spring.foot))
    share = spring_force(project, length) * np.gradient(length, swing) / np.gradient(weight, swing)
    assert 0.5 < share[1] < 0.75
    assert 1.25 < share[-2] < 1.9
    lip = (a + (complex(-project.shell.overhang_rear.nominal, 0) - a1) * tilt).imag
    assert 0.7 < lip[-1] < 1.0
    assert 15 < abs(math.degrees(np.angle(tilt[-1]))) < 30
    crossing = np.degrees(np.angle((b - a) / (b - b0)))
    assert np.min(np.minimum(abs(crossing), 180 - abs(crossing))) > 40


def test_the_level_demo_stays_shut_and_stays_up() -> None:
    """Equilibrium of the arms: m g a cos(theta) against the springs' moment about the driven arm's pivot."""
    project = demo("larkenmoor")
    link, spring = project.linkage, project.spring[0]
    assert link.opens is not None
    a0, arm = xz(link.arm_a_van), xz(link.arm_a_shell) - xz(link.arm_a_van)
    assert arm == pytest.approx(xz(link.arm_b_shell) - xz(link.arm_b_van), abs=1e-9)
    # The arms point away from the cab and swing up towards it.
    swing = np.exp(-1j * np.linspace(0, link.opens.nominal, 200))
    mass = sum(m for m, _ in riding(project))
    assert mass == pytest.approx(39.2)
    weight = mass * STANDARD_GRAVITY * -(arm * swing).real
    head = (xz(spring.head) - a0) * swing
    line = a0 + head - xz(spring.foot)
    length = abs(line)
    moment = -(np.conj(head) * (line / length)).imag * spring_force(project, length)
    share = moment / weight
    assert 0.5 < share[0] < 0.75
    assert 1.25 < share[-1] < 1.9
    assert np.all(np.diff(share) > 0)
    assert 0.35 < ((arm * swing).imag[-1] - arm.imag) < 0.4


def test_the_demos_are_what_their_lines_say() -> None:
    front, arms, rear, level = (demo(name) for name in DEMOS)
    assert (front.linkage.kind, front.linkage.end, front.shell.made_of) == ("hinge", "front", "foam-plywood")
    assert front.shell.mass is not None
    assert front.shell.mass.nominal == 62
    assert [item.kind for item in front.item if item.removable] == ["panel"]
    assert (arms.linkage.kind, arms.shell.made_of, arms.settings.units) == ("four-bar", "aluminium-skin", "imperial")
    assert arms.shell.mass is not None
    assert arms.shell.mass.nominal == pytest.approx(38, abs=0.5)
    assert (rear.linkage.kind, rear.linkage.end, rear.shell.made_of) == ("hinge", "rear", "glass-fibre")
    assert {item.kind for item in rear.item} == {"vent", "other"}
    assert (level.linkage.kind, level.shell.made_of) == ("parallel arms", "foam-plywood")
    assert level.settings.units == "metric"
    assert {spring.head_on for spring in level.spring} == {"arm a"}


def test_the_weighed_demos_readings_agree() -> None:
    """Static moments of a beam on two supports: each reading within its own two standard deviations."""
    project = demo("quellmere")
    assert project.weighing is not None
    readings = project.weighing.reading
    whole = next(r.whole.nominal for r in readings if r.whole is not None)
    centre = next(r.balance.nominal for r in readings if r.balance is not None)
    for reading in readings:
        if reading.at is not None and reading.other is not None and reading.reads is not None:
            share = (reading.other.nominal - centre) / (reading.other.nominal - reading.at.nominal)
            assert reading.reads.low <= share * whole <= reading.reads.high
    removed = sum(item.mass.nominal for item in project.item if item.state == "remove")
    assert whole - removed == 55


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_takes_nothing_for_granted(name: str) -> None:
    assert demo(name).taken == ()
    assert demo_text(name).isascii()
