"""A lifting roof in MuJoCo, a general-purpose rigid-body library: the second way for hand forces and releases.

Nothing here comes from the package. Poses come from the meeting of two circles, motion from MuJoCo's
own kinematics and contact-free dynamics, the push of a gas spring from F1 / (1 - (1 - 1/r) c/s)
written out anew. No friction anywhere.

Axes: x to the cab, y left, z up. Angles turn from x towards z. Positions are given for the closed
roof. An opening is the driving angle from closed [rad] in the sense that opens: of the shell on a
hinge, of arm a on arms.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import mujoco
import numpy as np

Place = tuple[float, float]
GRAVITY = 9.80665
STEP = 2e-4
ARM_MASS = 1e-3
"""Mass of each arm [kg]; its inertia about its pin is that of a rod. Too small to count."""


@dataclass(frozen=True)
class Spring:
    """`count` equal gas springs; all lengths [m], forces [N]."""

    foot: Place
    head: Place
    force_1: float
    ratio: float
    stroke: float
    extended: float
    count: int = 1
    foot_on: str = "van"
    head_on: str = "shell"
    sideways: float = 0.0

    def push(self, length: float) -> float:
        """Return the push of all of them together [N] at this length [m]."""
        c = self.extended - length
        return self.count * self.force_1 / (1.0 - (1.0 - 1.0 / self.ratio) * c / self.stroke)


@dataclass(frozen=True)
class Elastic:
    """`count` equal coil springs or cords: one's push [N] between lengths [m], straight; negative pulls."""

    foot: Place
    head: Place
    lengths: tuple[float, ...]
    pushes: tuple[float, ...]
    count: int = 2
    foot_on: str = "van"
    head_on: str = "shell"
    sideways: float = 0.0

    def push(self, length: float) -> float:
        """Return the push of all of them together [N] at this length [m]."""
        return self.count * float(np.interp(length, self.lengths, self.pushes))


@dataclass(frozen=True)
class Case:
    """One roof. `sense` is +1 where the driving angle turns from x towards z on opening, else -1.

    A hinged shell has `hinge`; a shell on arms has `arm_a` and `arm_b`, each (pin on van, pin on shell).
    `inertia` is about the centre [kg m2].
    """

    mass: float
    centre: Place
    inertia: float
    handle: Place
    lip: Place
    sense: int
    hinge: Place | None = None
    arm_a: tuple[Place, Place] | None = None
    arm_b: tuple[Place, Place] | None = None
    springs: tuple[Spring | Elastic, ...] = ()


@dataclass(frozen=True)
class Run:
    """Where a released roof met its stop: time [s], speeds [m/s], and the widest gap at the loop's pin [m]."""

    time: float
    handle_speed: float
    lip_speed: float
    gap: float


def _turned(v: Place, angle: float) -> Place:
    return (
        float(np.cos(angle) * v[0] - np.sin(angle) * v[1]),
        float(np.sin(angle) * v[0] + np.cos(angle) * v[1]),
    )


def _minus(a: Place, b: Place) -> Place:
    return (a[0] - b[0], a[1] - b[1])


def _angle(v: Place) -> float:
    return float(np.arctan2(v[1], v[0]))


def four_bar_angles(case: Case, opening: float) -> tuple[float, float, float]:
    """Return how far arm a, the shell and arm b have turned from closed [rad], from two circles that meet."""
    assert case.arm_a is not None
    assert case.arm_b is not None
    (a_van, a_shell), (b_van, b_shell) = case.arm_a, case.arm_b
    turn_a = case.sense * opening
    arm = _turned(_minus(a_shell, a_van), turn_a)
    pin = (a_van[0] + arm[0], a_van[1] + arm[1])

    def side(base: Place, tip: Place) -> float:
        return base[0] * tip[1] - base[1] * tip[0]

    coupler, rocker = _minus(b_shell, a_shell), _minus(b_shell, b_van)
    span = _minus(b_van, pin)
    d, r1, r2 = np.hypot(*span), np.hypot(*coupler), np.hypot(*rocker)
    along = (d**2 + r1**2 - r2**2) / (2 * d)
    across = np.sqrt(r1**2 - along**2) * np.sign(side(_minus(b_van, a_shell), coupler))
    ex = (span[0] / d, span[1] / d)
    met = (pin[0] + along * ex[0] - across * ex[1], pin[1] + along * ex[1] + across * ex[0])
    return (
        turn_a,
        _angle(_minus(met, pin)) - _angle(coupler),
        _angle(_minus(met, b_van)) - _angle(rocker),
    )


def _site(name: str, at: Place, origin: Place, y: float = 0.0) -> str:
    x, z = _minus(at, origin)
    return f'<site name="{name}" pos="{x:.17g} {y:.17g} {z:.17g}"/>'


def _inertial(mass: float, inertia: float, at: Place, origin: Place) -> str:
    x, z = _minus(at, origin)
    turn = f"{inertia:.17g}"
    return f'<inertial pos="{x:.17g} 0 {z:.17g}" mass="{mass:.17g}" diaginertia="{turn} {turn} {turn}"/>'


def _arm(pins: tuple[Place, Place]) -> str:
    (x0, z0), (x1, z1) = pins
    inertia = ARM_MASS * ((x1 - x0) ** 2 + (z1 - z0) ** 2) / 12
    return _inertial(ARM_MASS, inertia, ((x0 + x1) / 2, (z0 + z1) / 2), pins[0])


def mjcf(case: Case) -> str:
    """Return the roof as MuJoCo's XML, closed at all joints zero."""
    sites: dict[str, list[tuple[str, Place, float]]] = {"van": [], "shell": [], "arm a": [], "arm b": []}
    sites["shell"] += [("handle", case.handle, 0.0), ("lip", case.lip, 0.0)]
    for i, spring in enumerate(case.springs):
        sites[spring.foot_on].append((f"foot {i}", spring.foot, 0.0))
        sites[spring.head_on].append((f"head {i}", spring.head, spring.sideways))

    def marks(body: str, origin: Place) -> str:
        return "".join(_site(name, at, origin, y) for name, at, y in sites[body])

    def body(name: str, at: Place, parent: Place, inside: str) -> str:
        x, z = _minus(at, parent)
        pin = f'<joint name="{name}" type="hinge" axis="0 -1 0"/>'
        return f'<body name="{name}" pos="{x:.17g} 0 {z:.17g}">{pin}{inside}{marks(name, at)}</body>'

    zero = (0.0, 0.0)
    if case.hinge is not None:
        shell = _inertial(case.mass, case.inertia, case.centre, case.hinge)
        bodies, loop = body("shell", case.hinge, zero, shell), ""
    else:
        assert case.arm_a is not None
        assert case.arm_b is not None
        (a_van, a_shell), (b_van, b_shell) = case.arm_a, case.arm_b
        shell = body("shell", a_shell, a_van, _inertial(case.mass, case.inertia, case.centre, a_shell))
        bodies = body("arm a", a_van, zero, _arm(case.arm_a) + shell) + body("arm b", b_van, zero, _arm(case.arm_b))
        x, z = _minus(b_shell, b_van)
        loop = (
            f'<equality><connect body1="arm b" body2="shell" anchor="{x:.17g} 0 {z:.17g}" '
            f'solref="{2 * STEP:.17g} 1" solimp="0.9999 0.9999 0.001 0.5 2"/></equality>'
        )
    return (
        f'<mujoco><compiler angle="radian"/><option timestep="{STEP:.17g}" gravity="0 0 {-GRAVITY:.17g}" '
        f'integrator="Euler" solver="Newton" iterations="50" tolerance="1e-14"><flag contact="disable"/></option>'
        f"<worldbody>{marks('van', zero)}{bodies}</worldbody>{loop}</mujoco>"
    )


@dataclass
class Roof:
    """A case loaded into MuJoCo."""

    case: Case
    model: mujoco.MjModel = field(init=False)
    data: mujoco.MjData = field(init=False)

    def __post_init__(self) -> None:
        self.model = mujoco.MjModel.from_xml_string(mjcf(self.case))
        self.data = mujoco.MjData(self.model)
        self.ends = [
            (spring, *(self._site_and_body(f"{end} {i}") for end in ("foot", "head")))
            for i, spring in enumerate(self.case.springs)
        ]
        self.handle, self.lip = (self._site_and_body(name) for name in ("handle", "lip"))

    def _site_and_body(self, name: str) -> tuple[int, int]:
        site = mujoco.mj_name2id(self.model, mujoco.mjtObj.mjOBJ_SITE, name)
        return site, int(self.model.site_bodyid[site])

    def pose(self, opening: float) -> None:
        """Set the joints to this opening, at rest."""
        if self.case.hinge is not None:
            self.data.qpos[:] = self.case.sense * opening
        else:
            a, shell, b = four_bar_angles(self.case, opening)
            self.data.qpos[:] = (a, shell - a, b)
        self.data.qvel[:] = 0.0
        mujoco.mj_fwdPosition(self.model, self.data)

    def gap(self) -> float:
        """Return how far the loop's pin stands open [m]."""
        return float(np.linalg.norm(self.data.efc_pos)) if self.data.nefc else 0.0

    def push(self) -> np.ndarray:
        """Return the springs' generalised force at the present pose."""
        total = np.zeros(self.model.nv)
        no_moment = np.zeros(3)
        for spring, (foot, foot_body), (head, head_body) in self.ends:
            low, high = self.data.site_xpos[foot], self.data.site_xpos[head]
            line = high - low
            length = float(np.sqrt(line @ line))
            force = line * (spring.push(length) / length)
            mujoco.mj_applyFT(self.model, self.data, force, no_moment, high.copy(), head_body, total)
            mujoco.mj_applyFT(self.model, self.data, -force, no_moment, low.copy(), foot_body, total)
        return total

    def jacobian(self, mark: tuple[int, int]) -> np.ndarray:
        """Return the velocity of a marked point by each joint's rate, shaped [3, joints]."""
        jac = np.zeros((3, self.model.nv))
        mujoco.mj_jacSite(self.model, self.data, jac, None, mark[0])
        return jac

    def loop(self) -> np.ndarray:
        """Return the rows that the closed loop forbids, shaped [0 or 2, joints]; the sideways row is empty."""
        rows = np.reshape(self.data.efc_J, (self.data.nefc, self.model.nv))
        return rows[np.abs(rows).max(axis=1) > 1e-12] if rows.size else np.zeros((0, self.model.nv))


def pushed_along(path: np.ndarray) -> np.ndarray:
    """Return the direction in which a hand pushes at a point that goes along `path` (x, y, z).

    Upright, the way the point goes, as long as the path leans less than 45 degrees from it; else the path turned by
    45 degrees towards that upright.
    """
    x, z = path[0], path[2]
    up = 1.0 if z >= 0 else -1.0
    if abs(z) >= abs(x):
        return np.array([0.0, 0.0, up])
    turn = np.radians(45.0) * np.sign(x) * up
    line = np.array([np.cos(turn) * x - np.sin(turn) * z, 0.0, np.sin(turn) * x + np.cos(turn) * z])
    return line / np.linalg.norm(line)


def static_hand_force(case: Case, opening: float, direction: Literal["path", "up", "hand"] = "path") -> float:
    """Return the force at the handle [N] that holds the roof at this opening: positive pushes it open.

    Joint by joint: weight + springs + loop forces + hand = 0, solved for hand and loop forces together.
    `direction`: along the handle's path in the opening sense, straight up, or as a hand pushes.
    """
    roof = Roof(case)
    roof.pose(opening)
    # MuJoCo's own inverse dynamics at rest, free of the loop: what the joints must carry.
    roof.data.qacc[:] = 0.0
    roof.data.qfrc_applied[:] = 0.0
    mujoco.mj_inverse(roof.model, roof.data)
    carried = roof.data.qfrc_bias - roof.push()
    hand, loop = roof.jacobian(roof.handle), roof.loop()
    if direction == "up":
        line = np.array([0.0, 0.0, 1.0])
    else:
        free = np.linalg.svd(loop)[2][-1] if loop.size else np.ones(1)
        path = hand @ (free * np.sign(free[0]) * case.sense)
        line = pushed_along(path) if direction == "hand" else path / np.linalg.norm(path)
    columns = np.column_stack([hand.T @ line, loop.T])
    return float(np.linalg.solve(columns, carried)[0])


def release(case: Case, start_opening: float, until: float, longest: float = 20.0) -> Run:
    """Let the roof go at rest at `start_opening` and run until the driving angle reaches `until`; both [rad].

    Raises RuntimeError where it does not get there within `longest` [s].
    """
    roof = Roof(case)
    roof.pose(start_opening)
    data, model = roof.data, roof.model
    side = np.sign(until - start_opening)
    before, gap = start_opening, 0.0
    speeds = [0.0, 0.0]
    while data.time < longest:
        mujoco.mj_step1(model, data)
        now = case.sense * float(data.qpos[0])
        gap = max(gap, roof.gap())
        last = speeds
        speeds = [float(np.linalg.norm(roof.jacobian(mark) @ data.qvel)) for mark in (roof.handle, roof.lip)]
        if side * (now - until) >= 0:
            share = (until - before) / (now - before)
            handle, lip = (a + share * (b - a) for a, b in zip(last, speeds, strict=True))
            return Run(data.time - (1 - share) * STEP, handle, lip, gap)
        before = now
        data.qfrc_applied[:] = roof.push()
        mujoco.mj_step2(model, data)
    raise RuntimeError(f"not at {until} rad after {longest} s")
