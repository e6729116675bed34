"""Hand forces and releases against a rigid-body roof in MuJoCo, itself first judged by closed cases.

Physical pendulum with elliptic integrals, parallel arms as a simple pendulum, statics of a propped
lid and of a parallelogram, energy with gas springs: each computed here from first principles.
"""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import root
from scipy.special import ellipk, ellipkinc

from loftwright.mechanics.balance import Mount, balance, lever, push_of
from loftwright.mechanics.four_bar import FourBar, four_bar_travel
from loftwright.mechanics.gas_spring import GasSpring
from loftwright.mechanics.hinge import hinge_travel
from loftwright.mechanics.masses import Body
from loftwright.mechanics.release import fall, rise

_SPEC = importlib.util.spec_from_file_location("rigid_body", Path(__file__).with_name("rigid_body.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
rigid_body = importlib.util.module_from_spec(_SPEC)
sys.modules["rigid_body"] = rigid_body
_SPEC.loader.exec_module(rigid_body)

Case, Spring, release, static_hand_force = (
    rigid_body.Case,
    rigid_body.Spring,
    rigid_body.release,
    rigid_body.static_hand_force,
)
G = 9.80665


# Path [deg from level, x towards z] and the hand's push: upright within 45 degrees of it, else 45 degrees off.
@pytest.mark.parametrize(
    ("path", "push"),
    [(90, 90), (50, 90), (130, 90), (30, 75), (0, 45), (150, 105), (180, 135), (-60, -90), (-30, -75), (-150, -105)],
)
def test_the_direction_of_a_hand(path, push):
    line = rigid_body.pushed_along(3.0 * np.array([np.cos(np.radians(path)), 0.0, np.sin(np.radians(path))]))
    assert line == pytest.approx([np.cos(np.radians(push)), 0.0, np.sin(np.radians(push))], abs=1e-12)


def hanging(**changed):
    facts = {
        "mass": 40.0,
        "centre": (0.0, -0.9),
        "inertia": 12.0,
        "handle": (0.0, -1.8),
        "lip": (0.0, -1.9),
        "sense": 1,
        "hinge": (0.0, 0.0),
    }
    return Case(**(facts | changed))


@pytest.mark.parametrize("amplitude", [0.05, 1.0, 2.5])
def test_pendulum_falls_by_the_elliptic_integral(amplitude):
    run = release(hanging(), amplitude, 0.0)
    about_hinge = 12.0 + 40.0 * 0.9**2
    weight = 40.0 * G * 0.9
    assert run.time == pytest.approx(ellipk(np.sin(amplitude / 2) ** 2) * np.sqrt(about_hinge / weight), rel=5e-4)
    rate = np.sqrt(2 * weight * (1 - np.cos(amplitude)) / about_hinge)
    assert run.lip_speed == pytest.approx(1.9 * rate, rel=1e-4)
    assert run.handle_speed == pytest.approx(1.8 * rate, rel=1e-4)


def test_a_pendulum_does_not_rise_above_its_start():
    with pytest.raises(RuntimeError):
        release(hanging(), 0.5, 0.6, longest=2.0)


def on_parallel_arms(start_deg: float, sense: int = 1, springs=()):
    arm, tilt = 0.5, np.radians(start_deg)
    tip = (arm * np.cos(tilt), arm * np.sin(tilt))
    return Case(
        mass=40.0,
        centre=(0.7, 0.1),
        inertia=12.0,
        handle=(0.1, 0.0),
        lip=(2.0, 0.3),
        sense=sense,
        arm_a=((0.0, 0.0), tip),
        arm_b=((1.2, 0.0), (1.2 + tip[0], tip[1])),
        springs=springs,
    )


def test_parallel_arms_fall_as_a_simple_pendulum():
    # From 80 degrees above level down to 10, without turning: theta'' = -(g/a) cos theta, from rest.
    top, end = np.radians(80.0), np.radians(10.0)
    run = release(on_parallel_arms(5.0), np.radians(75.0), np.radians(5.0))
    speed = np.sqrt(2 * G * 0.5 * (np.sin(top) - np.sin(end)))
    assert run.lip_speed == pytest.approx(speed, rel=5e-4)
    assert run.handle_speed == pytest.approx(run.lip_speed, rel=1e-4)
    # As a pendulum hanging down: amplitude 170 degrees, passed from the turning point to 100 degrees.
    modulus = np.sin((top + np.pi / 2) / 2)
    share = np.arcsin(np.sin((end + np.pi / 2) / 2) / modulus)
    time = np.sqrt(0.5 / G) * (ellipk(modulus**2) - ellipkinc(share, modulus**2))
    assert run.time == pytest.approx(time, rel=1e-3)
    assert run.gap < 1e-5


# Angle of the arms [deg], moment on the arms m g a cos [N m]; m 40 kg, a 0.5 m.
@pytest.mark.parametrize(("angle", "moment"), [(10, 193.153), (45, 138.687), (80, 34.058)])
def test_parallel_arms_at_rest(angle, moment):
    case = on_parallel_arms(5.0)
    opening = np.radians(angle - 5.0)
    # The arms themselves weigh 2 g on 40 kg.
    assert static_hand_force(case, opening) * 0.5 == pytest.approx(moment, rel=5e-5)
    assert static_hand_force(case, opening, "up") == pytest.approx(40 * G, rel=5e-5)


# Lid hinged at (0, 0), 40 kg, centre 0.90 m out; strut from (0.60, -0.15) m to 0.35 m out on the lid.
# Open angle [deg], moment of the weight [N m], strut force for balance [N].
PROPPED = (
    (0, 353.039, 1960.53),
    (10, 347.676, 1305.55),
    (20, 331.749, 1047.11),
    (30, 305.741, 894.45),
    (40, 270.444, 772.97),
    (50, 226.929, 654.92),
    (60, 176.520, 526.92),
)


@pytest.mark.parametrize("mirror", [1, -1])
@pytest.mark.parametrize(("angle", "moment", "force"), PROPPED)
def test_propped_lid(angle, moment, force, mirror):
    lid = {
        "mass": 40.0,
        "centre": (0.9 * mirror, 0.0),
        "inertia": 10.0,
        "handle": (1.8 * mirror, 0.0),
        "lip": (1.9 * mirror, 0.0),
        "sense": mirror,
        "hinge": (0.0, 0.0),
    }
    opening = np.radians(angle)
    assert static_hand_force(Case(**lid), opening) * 1.8 == pytest.approx(moment, rel=1e-5)
    even = Spring((0.6 * mirror, -0.15), (0.35 * mirror, 0.0), force / 2, 1.0, 0.4, 0.7, count=2)
    assert static_hand_force(Case(**lid, springs=(even,)), opening) * 1.8 == pytest.approx(0.0, abs=1e-5 * 353.0)


def gas_work(spring, from_length: float, to_length: float) -> float:
    """Work of the springs from one length to another [J], by quadrature of their own law."""

    def push(length: float) -> float:
        gone = (1 - 1 / spring.ratio) * (spring.extended - length) / spring.stroke
        return spring.count * spring.force_1 / (1 - gone)

    return quad(push, from_length, to_length)[0]


@pytest.mark.parametrize("sideways", [0.0, 0.05])
def test_sprung_lid_rises_by_energy(sideways):
    # Hinge in front at x = 2.1 m, lip at the rear; opens by turning z towards x.
    hinge, centre, head, foot = (
        np.array([2.1, 0.05]),
        np.array([1.05, 0.1]),
        np.array([1.5, 0.05]),
        np.array([1.75, -0.05]),
    )
    springs = (Spring(tuple(foot), tuple(head), 1500.0, 1.3, 0.3, 0.55, count=2, sideways=sideways),)
    case = Case(
        mass=45.0,
        centre=tuple(centre),
        inertia=17.0,
        handle=(0.1, 0.0),
        lip=(0.0, 0.0),
        sense=-1,
        hinge=tuple(hinge),
        springs=springs,
    )

    def placed(point: np.ndarray, opening: float) -> np.ndarray:
        cos, sin = np.cos(-opening), np.sin(-opening)
        return hinge + np.array([[cos, -sin], [sin, cos]]) @ (point - hinge)

    def length(opening: float) -> float:
        return float(np.hypot(np.linalg.norm(placed(head, opening) - foot), sideways))

    start, end = np.radians(8.0), np.radians(28.0)
    about_hinge = 17.0 + 45.0 * float(np.sum((centre - hinge) ** 2))

    def rate(opening: float) -> float:
        lifted = placed(centre, opening)[1] - placed(centre, start)[1]
        return float(
            np.sqrt(2 * (gas_work(springs[0], length(start), length(opening)) - 45 * G * lifted) / about_hinge)
        )

    run = release(case, start, end)
    assert run.lip_speed == pytest.approx(rate(end) * np.linalg.norm(hinge), rel=5e-4)
    # dt = dq / rate; u = sqrt(q - start) takes away the infinite start.
    time = quad(lambda u: 2 * u / rate(start + u**2), 0.0, np.sqrt(end - start))[0]
    assert run.time == pytest.approx(time, rel=1e-3)


def arm_sprung(force_1: float):
    tilt = np.radians(10.0)
    head = (0.3 * np.cos(tilt), 0.3 * np.sin(tilt))
    springs = (Spring((0.35, -0.15), head, force_1, 1.35, 0.3, 0.5, count=2, head_on="arm a"),)
    return on_parallel_arms(10.0, springs=springs)


def test_spring_on_an_arm_does_the_same_work():
    # Spring from the van to arm a, 0.3 m out along it; the shell on parallel arms does not turn.
    tilt = np.radians(10.0)
    case = arm_sprung(3000.0)
    spring = case.springs[0]

    def length(angle: float) -> float:
        return float(np.hypot(0.3 * np.cos(angle) - 0.35, 0.3 * np.sin(angle) + 0.15))

    start, end = np.radians(20.0), np.radians(70.0)
    work = gas_work(spring, length(start), length(end)) - 40 * G * 0.5 * (np.sin(end) - np.sin(start))
    run = release(case, start - tilt, end - tilt)
    assert run.lip_speed == pytest.approx(np.sqrt(2 * work / 40), rel=1e-3)
    h = 1e-6
    spring_moment = -gas_work(spring, length(start + h), length(start - h)) / (2 * h)
    expected = (40 * G * 0.5 * np.cos(start) - spring_moment) / 0.5
    assert static_hand_force(case, start - tilt) == pytest.approx(expected, rel=1e-4)


class TestUnevenArms:
    """A shell that turns while it rises, on two unequal arms: energy along the true path of its centre."""

    arm_a = np.array([[1.5, -0.05], [1.0, 0.05]])
    arm_b = np.array([[2.0, -0.10], [1.7, 0.10]])
    centre, lip, handle = (0.9, 0.15), (-0.1, 0.0), (0.1, 0.0)

    def case(self, force_1: float):
        return Case(
            mass=45.0,
            centre=self.centre,
            inertia=17.0,
            handle=self.handle,
            lip=self.lip,
            sense=-1,
            arm_a=tuple(map(tuple, self.arm_a)),
            arm_b=tuple(map(tuple, self.arm_b)),
            springs=(Spring((1.2, -0.1), (0.75, 0.1), force_1, 1.3, 0.4, 0.75, count=2),),
        )

    def placed(self, opening: float, *points: tuple[float, float]) -> tuple[float, list[np.ndarray]]:
        """Return the shell's turning and its points, the loop's two equations solved by a root finder."""
        turn = np.zeros(2)

        def spin(angle: float) -> np.ndarray:
            return np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])

        (a_van, a_shell), (b_van, b_shell) = self.arm_a, self.arm_b
        for share in np.linspace(0.2, 1.0, 5):
            pin = a_van + spin(-opening * share) @ (a_shell - a_van)

            def loop(turn, pin=pin):
                return pin + spin(turn[0]) @ (b_shell - a_shell) - b_van - spin(turn[1]) @ (b_shell - b_van)

            turn = root(loop, turn, tol=1e-12).x
        assert np.abs(loop(turn)).max() < 1e-9
        return float(turn[0]), [pin + spin(turn[0]) @ (np.array(point) - a_shell) for point in points]

    def energy(self, case, opening: float) -> float:
        spring = case.springs[0]
        _, (centre, head) = self.placed(opening, self.centre, spring.head)
        return float(45 * G * centre[1] - gas_work(spring, 0.5, float(np.linalg.norm(head - np.array(spring.foot)))))

    @pytest.mark.parametrize(("force_1", "start", "end"), [(1500.0, 0.15, 0.7), (300.0, 0.75, 0.2)])
    def test_speed_by_energy(self, force_1, start, end):
        case, h = self.case(force_1), 1e-5
        gained = self.energy(case, start) - self.energy(case, end)
        assert gained > 10.0
        (turn_0, before), (turn_1, after) = (self.placed(end + s, self.centre, self.lip) for s in (-h, h))
        turn = (turn_1 - turn_0) / (2 * h)
        centre, lip = ((b - a) / (2 * h) for a, b in zip(before, after, strict=True))
        rate = np.sqrt(2 * gained / (45 * centre @ centre + 17 * turn**2))
        assert abs(turn) > 0.2
        run = release(case, start, end)
        assert run.lip_speed == pytest.approx(rate * np.linalg.norm(lip), rel=1e-3)
        assert run.gap < 1e-4

    @pytest.mark.parametrize("force_1", [300.0, 1500.0])
    @pytest.mark.parametrize("opening", [0.1, 0.4, 0.7])
    def test_hand_force_is_the_slope_of_the_energy(self, force_1, opening):
        case, h = self.case(force_1), 1e-4
        slope = (self.energy(case, opening + h) - self.energy(case, opening - h)) / (2 * h)
        (_, (before,)), (_, (after,)) = (self.placed(opening + s, self.handle) for s in (-h, h))
        expected = slope / (np.linalg.norm(after - before) / (2 * h))
        assert static_hand_force(case, opening) == pytest.approx(expected, rel=2e-4)


def first_way(case, opens: float, end: str = "front"):
    """Return travel, body and drive of the package for the same roof, its springs without friction."""
    if case.hinge is not None:
        travel = hinge_travel(*case.hinge, opens, end=end, stations=241)
    else:
        bar = FourBar(*(value for pins in (case.arm_a, case.arm_b) for pin in pins for value in pin))
        travel = four_bar_travel(bar, opens, stations=241, sense=float(case.sense)).travel
    body = Body(*(np.asarray(v) for v in (case.mass, *case.centre, case.inertia)))
    mounts = [
        Mount(
            GasSpring(*(np.asarray(v) for v in (s.force_1, s.ratio, 0.0, s.stroke, s.extended, 0.010))),
            s.count,
            s.foot_on,
            s.head_on,
            *(np.asarray(v) for v in (*s.foot, *s.head, s.sideways)),
        )
        for s in case.springs
    ]
    pushes = [push_of(mount, lever(mount, travel)) for mount in mounts]
    handle = tuple(np.asarray(v) for v in case.handle)
    return travel, body, balance(travel, body, pushes, (), np.asarray(0.0), handle)


def front_hinged(force_1: float):
    return Case(
        mass=45.0,
        centre=(1.05, 0.1),
        inertia=17.0,
        handle=(0.1, 0.0),
        lip=(0.0, 0.0),
        sense=-1,
        hinge=(2.1, 0.05),
        springs=(Spring((1.75, -0.05), (1.5, 0.05), force_1, 1.3, 0.3, 0.55, count=2, sideways=0.03),),
    )


ROOFS = {
    "hinge": lambda: (front_hinged(1500.0), front_hinged(200.0), np.radians(28.0)),
    "uneven arms": lambda: (TestUnevenArms().case(1500.0), TestUnevenArms().case(300.0), 0.7),
    "spring on an arm": lambda: (arm_sprung(3000.0), arm_sprung(60.0), np.radians(60.0)),
}


@pytest.mark.parametrize("name", ROOFS)
def test_both_ways_agree_on_the_hand_force(name):
    for case in ROOFS[name]()[:2]:
        opens = ROOFS[name]()[2]
        travel, _, drive = first_way(case, opens)
        stations = np.array([0, 30, 120, 200, 240])
        second = [static_hand_force(case, opens * travel.fraction[k], "hand") for k in stations]
        np.testing.assert_allclose(drive.push_up[stations], second, rtol=1e-4, atol=0.05)


@pytest.mark.parametrize("name", ROOFS)
def test_both_ways_agree_on_letting_go(name):
    strong, weak, opens = ROOFS[name]()
    travel, body, drive = first_way(strong, opens)
    start = 60
    first = rise(drive, body, travel, travel.shell.point(*strong.lip), start=start)
    second = release(strong, opens * travel.fraction[start], opens)
    assert first.moves
    assert first.speed == pytest.approx(second.lip_speed, rel=5e-3)
    assert first.time == pytest.approx(second.time, rel=1e-2)
    travel, body, drive = first_way(weak, opens)
    first = fall(drive, body, travel, travel.shell.point(*weak.lip))
    second = release(weak, opens, 0.0)
    assert first.moves
    assert first.speed == pytest.approx(second.lip_speed, rel=5e-3)
    assert first.time == pytest.approx(second.time, rel=1e-2)
