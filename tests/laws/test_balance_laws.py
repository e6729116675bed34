"""Laws of the balance over random roofs of every linkage; a roof that breaks one is printed as its project file.

Work, equilibrium, mirror, units, linearity: computed here from first principles. That heat makes a roof on gas
springs easier up and harder down, and cold the reverse: common practice, no source.
"""

from __future__ import annotations

import copy
import importlib.util
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.mechanics.balance import Drive, balance
from loftwright.mechanics.feel import STATES, state
from loftwright.mechanics.hand_rules import judge_feel
from loftwright.mechanics.reactions import Reactions, reactions
from loftwright.mechanics.release import fall, rise
from loftwright.mechanics.room import judge_room, room
from loftwright.project.file import loads

_SPEC = importlib.util.spec_from_file_location("roofs", Path(__file__).with_name("roofs.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
roofs = importlib.util.module_from_spec(_SPEC)
sys.modules["roofs"] = roofs
_SPEC.loader.exec_module(roofs)

G = 9.80665
MILD = state("mild", "new")
AIR_HEIGHT = 0.15  # below this height of the rim's middle over where it lies closed, air is trapped [m]

each_linkage = pytest.mark.parametrize("linkage", roofs.EVERY)


@pytest.fixture
def measured(request: pytest.FixtureRequest) -> Any:
    """Return a notebook for figures: they go into the test report."""
    return lambda name, value: request.node.user_properties.append((name, float(value)))


def told(built: Any, what: str) -> str:
    """Return what went wrong, with the roof as a project file."""
    return f"{what}\n\n{built.text}"


def alike(built: Any, what: str, one: Any, other: Any, *, rel: float, scale: float) -> float:
    """Assert that two arrays are alike within `rel` of their size, at least `scale`; return the largest difference."""
    one, other = np.broadcast_arrays(np.asarray(one, dtype=float), np.asarray(other, dtype=float))
    size = np.maximum(np.maximum(np.abs(one), np.abs(other)), scale)
    error = float((np.abs(one - other) / size).max())
    assert error <= rel, told(built, f"{what}: differs by {error:.2g} of {float(size.max()):.4g}")
    return error


def at_rest(built: Any, parts: Any, felt: Any, heat: int, going: str) -> Reactions:
    """Return hand and pin forces by equilibrium in one state, with every load that it has."""
    roof = parts.roof
    springs = [push.at(heat) for push in felt.springs]
    loads = acting_in(felt, heat)
    held = (roof.pin_moment, roof.handle, roof.pins)
    return reactions(roof.travel, roof.body, springs, loads, *held, going=going, lifters=felt.lifters)


def acting_in(felt: Any, heat: int) -> tuple[Any, ...]:
    """Return the loads of a state: cold days are wet ones."""
    return (*felt.loads, *felt.wet) if STATES[heat][0] == "cold" else felt.loads


def ends_of(part: dict[str, Any], travel: Any) -> tuple[Any, Any]:
    """Return the paths of foot and head of an entry of the plan."""
    bodies = {"foot": part.get("foot_on", "van"), "head": part.get("head_on", "shell")}
    foot, head = (
        travel.body(bodies[end]).point(*(np.array([v]) for v in roofs.spot(part[end]))) for end in ("foot", "head")
    )
    return foot, head


def apart(part: dict[str, Any], travel: Any) -> np.ndarray:
    """Return the distance between both ends of an entry of the plan over the travel [m]."""
    foot, head = ends_of(part, travel)
    found: np.ndarray = np.sqrt((head.x - foot.x) ** 2 + (head.z - foot.z) ** 2 + part["sideways"].si ** 2)
    return found


def cord_curve(cord: dict[str, Any], length: np.ndarray) -> np.ndarray:
    """Return the pull of one cord drawn out [N], from the points of the plan."""
    at = [cord["slack_length"].si, *(p["length"].si for p in cord["point"])]
    force = [0.0, *(p["force"].si for p in cord["point"])]
    slope = (force[-1] - force[-2]) / (at[-1] - at[-2])
    found: np.ndarray = np.interp(length, at, force) + slope * np.maximum(length - at[-1], 0.0)
    return found


def coil_curve(coil: dict[str, Any], length: np.ndarray) -> np.ndarray:
    """Return the push of one coil spring [N], from the plan."""
    drawn, rate = length - coil["free_length"].si, coil["rate"].si
    if coil["kind"] == "pulls":
        return np.where(drawn > 0, -coil["initial"].si - rate * drawn, 0.0)
    return np.where(drawn < 0, -rate * drawn, 0.0)


def turned_by(torsion: dict[str, Any], travel: Any) -> Any:
    """Return the turn [rad] of the body that a torsion spring turns."""
    return (travel.shell if torsion["at"] == "hinge" else travel.body(torsion["at"])).phi


def torsion_curve(torsion: dict[str, Any], turn: np.ndarray) -> np.ndarray:
    """Return the moment of one torsion spring [N m], from the plan."""
    return np.maximum(torsion["moment"].si - torsion["per_degree"].si * np.degrees(np.abs(turn)), 0.0)


def pushed_along(x: Any, z: Any) -> tuple[Any, Any]:
    """Return the direction in which a hand pushes at a point that goes by (x, z) a little on, each [..., n].

    Upright, the way the point goes; where that is more than 45 degrees off the way, 45 degrees off it: of the
    directions that the upright turns through towards the way, the first that is.
    """
    way = np.arctan2(z, x)
    upright = np.where(z < 0, -np.pi / 2, np.pi / 2)
    lean = (upright - way + np.pi) % (2 * np.pi) - np.pi
    push = way + np.clip(lean, -np.pi / 4, np.pi / 4)
    return np.cos(push), np.sin(push)


@each_linkage
def test_most_random_roofs_can_be_built(linkage: str) -> None:
    family = roofs.family(linkage)
    assert len(family.roofs) >= (roofs.LEVEL_COUNT if linkage in roofs.LEVEL else roofs.COUNT)
    assert 0.0 <= family.share_refused < (0.6 if linkage in roofs.LEVEL else 0.5)
    entries = {len(built.plan["spring"]) for built in family}
    sides = {spring["per_side"] for built in family for spring in built.plan["spring"]}
    heads = {spring["head_on"] for built in family for spring in built.plan["spring"]}
    assert entries == {1, 2}
    # What lifts beside gas springs, each kind often enough.
    kinds = ("coil", "cord") if linkage == "guides" else ("coil", "torsion", "cord")
    if linkage not in roofs.LEVEL:
        assert all(sum(kind in built.plan for built in family) >= 5 for kind in kinds)
    assert sides == {1, 2}
    every = {"shell"} if linkage.startswith(("hinge", "guides")) else {"shell", "arm a", "arm b"}
    assert heads == every or (linkage in roofs.LEVEL and "shell" in heads < every)


# --- work round a closed cycle ----------------------------------------------------------------------


def way(values: np.ndarray) -> float:
    """Return how far a quantity goes altogether over the travel."""
    return float(np.abs(np.diff(values[0])).sum())


def lost_in_a_cycle(built: Any, parts: Any, felt: Any) -> float:
    """Return friction and one-way work [J] of one slow opening and closing, from lengths and angles alone."""
    plan, travel = built.plan, parts.roof.travel
    lost = 0.0
    for spring, push in zip(plan["spring"], felt.springs, strict=True):
        loop = spring["friction"].si * (2 if spring["friction_is"] == "half loop" else 1)
        lost += 2 * spring["per_side"] * loop * way(push.line.length)
    for cord in plan.get("cord", []):
        # Each stretch is drawn out once and let back once, for less.
        length = apart(cord, travel)[0]
        pull = cord_curve(cord, length)
        mean = (pull[1:] + pull[:-1]) / 2
        lost += 2 * cord["lost"].si * float((mean * np.abs(np.diff(length))).sum())
    # All pins together carry the friction moment; it is met on the way up and on the way down.
    moment = plan["linkage"]["friction"].si
    if not travel.arms:
        lost += 2 * moment * way(travel.shell.phi)
    else:
        turns = [way(arm.phi) for arm in travel.arms] + [way(arm.phi - travel.shell.phi) for arm in travel.arms]
        lost += 2 * moment / 4 * sum(turns)
    # Trapped air pushes up on the way down only: F (1 - z/H) below the height H.
    air, shell = plan["forces"]["trapped_air"].si, plan["shell"]
    middle = travel.shell.point(np.array([shell["length"].si / 2 - shell["overhang_rear"].si]), parts.roof.rim.z)
    z = middle.z[0] - middle.z[0, 0]

    def gone(height: float) -> float:
        inside = min(height, AIR_HEIGHT)
        return inside if inside < 0 else inside - inside**2 / (2 * AIR_HEIGHT)

    return lost + air * (gone(z[-1]) - gone(z[0]))


def hand_work(felt: Any) -> np.ndarray:
    """Return the hand's work [J] over one slow opening and closing in every state, along the path it really takes."""
    x, z = (np.diff(v, axis=-1) for v in (felt.hand.x, felt.hand.z))
    across, up = pushed_along(x, z)
    both = felt.push_up + felt.pull_down
    return (0.5 * (both[..., 1:] + both[..., :-1]) * (across * x + up * z)).sum(axis=-1)[:, 0]


@each_linkage
def test_work_round_a_slow_cycle_is_what_friction_takes(linkage: str, measured: Any) -> None:
    errors = []
    for built in roofs.family(linkage):
        row = []
        for stations in (121, 481):
            parts, felt = built.felt(stations)
            lost = lost_in_a_cycle(built, parts, felt)
            row.append(float(np.abs(hand_work(felt) - lost).max()) / max(lost, 1.0))
        errors.append(row)
        assert row[1] < 2e-4, told(built, f"a closed cycle's work is off by {row[1]:.2g}")
    coarse, fine = np.array(errors).T
    measured("largest error", fine.max())
    order = np.log(coarse.sum() / fine.sum()) / np.log(4)
    measured("order", order)
    # Trapezoids: second order in the step.
    assert order > 1.7


# --- mirror and units -------------------------------------------------------------------------------


def judged(parts: Any, felt: Any) -> list[tuple[str, str, Any, Any]]:
    """Return every judgement of a roof as (rule, part, value, limit)."""
    found = [*judge_room(room(parts.around, parts.roof), parts.roof, parts.around), *judge_feel(parts.roof, felt)]
    return [(j.rule.id, j.which, j.value, j.limit) for j in found]


def same_judgements(built: Any, one: Any, other: Any) -> float:
    """Assert that two roofs are judged alike; return the largest difference."""
    worst = 0.0
    first, second = judged(*one), judged(*other)
    assert [f[:2] for f in first] == [s[:2] for s in second], told(built, "other rules are judged")
    for (name, part, *numbers), (_, _, *others) in zip(first, second, strict=True):
        for a, b in zip(numbers, others, strict=True):
            assert (a is None) == (b is None), told(built, f"{name} {part}: one side says nothing")
            if a is not None:
                worst = max(worst, alike(built, f"{name} {part}", a, b, rel=1e-7, scale=1e-3))
    return worst


@each_linkage
def test_a_mirrored_roof_gives_the_mirrored_answer(linkage: str, measured: Any) -> None:
    worst = 0.0
    for number, built in enumerate(roofs.family(linkage)):
        other = loads(roofs.text_of(roofs.mirrored(built.plan)))
        here, there = built.felt(), (parts := roofs.nominal(other), roofs.feel(parts.roof))
        scale = float(np.abs(here[1].pull_down).max())
        for name in ("push_up", "pull_down"):
            first, second = getattr(here[1], name), getattr(there[1], name)
            worst = max(worst, alike(built, name, first, second, rel=1e-8, scale=scale))
        for going in ("up", "down"):
            first, second = at_rest(built, *here, MILD, going), at_rest(built, *there, MILD, going)
            pairs = zip(first.on_shell + first.at_van, second.on_shell + second.at_van, strict=True)
            for (fx, fz), (mx, mz) in pairs:
                most = max(scale, float(np.abs(fx).max()), float(np.abs(fz).max()))
                worst = max(worst, alike(built, "pin force along", fx, -mx, rel=1e-8, scale=most))
                worst = max(worst, alike(built, "pin force up", fz, mz, rel=1e-8, scale=most))
        if number % 3 == 0:
            worst = max(worst, same_judgements(built, here, there))
    measured("largest error", worst)


@each_linkage
def test_inches_and_pounds_give_the_same_answer(linkage: str, measured: Any) -> None:
    worst = 0.0
    for number, built in enumerate(roofs.family(linkage)):
        text = roofs.text_of(built.plan, imperial=True)
        assert " lb" in text
        assert ' m"' not in text
        here, there = built.felt(), (parts := roofs.nominal(loads(text)), roofs.feel(parts.roof))
        scale = float(np.abs(here[1].pull_down).max())
        for name in ("push_up", "pull_down"):
            first, second = getattr(here[1], name), getattr(there[1], name)
            worst = max(worst, alike(built, name, first, second, rel=1e-9, scale=scale))
        if number % 4 == 0:
            worst = max(worst, same_judgements(built, here, there))
    measured("largest error", worst)


# --- equilibrium ------------------------------------------------------------------------------------


@each_linkage
def test_virtual_work_and_equilibrium_give_the_same_hand_force(linkage: str, measured: Any) -> None:
    worst, dead = 0.0, 0
    for built in roofs.family(linkage):
        parts, felt = built.felt(61)
        scale = float(np.abs(felt.pull_down).max())
        for heat in (MILD, state("sun", "new"), state("cold", "aged")):
            up, down = (at_rest(built, parts, felt, heat, going) for going in ("up", "down"))
            sure = (up.bounded & down.bounded)[0]
            dead += int(not sure.all())
            for what, first, second in (
                ("raising", felt.push_up[heat], up.hand),
                ("lowering", felt.pull_down[heat], -down.hand),
            ):
                worst = max(worst, alike(built, what, first[0, sure], second[0, sure], rel=1e-8, scale=scale))
    # Three states each.
    assert dead / 3 <= 0.05 * roofs.COUNT
    measured("roofs with a dead point", dead / 3)
    measured("largest error", worst)


def bodies_of(built: Any, roof: Any) -> list[tuple[float, float, float]]:
    """Return (mass, x, z) of the bare shell and of each thing on it.

    The height of the bare shell's centre is what the shell with everything on leaves for it.
    """
    shell = built.plan["shell"]
    items = [(i["mass"].si, i["x"].si, i["z"].si) for i in built.plan.get("item", [])]
    whole = shell["mass"].si + sum(mass for mass, _, _ in items)
    height = (whole * float(roof.body.z[0]) - sum(mass * z for mass, _, z in items)) / shell["mass"].si
    return [(shell["mass"].si, shell["centre"].si, height), *items]


def slid(plan: Any, travel: Any) -> Any:
    """Return x of the sliding ends of crossing arms over the travel [m]."""
    low, high = (roofs.spot(plan["linkage"][f"arm_a_{end}"]) for end in ("van", "shell"))
    arm, angle = np.hypot(high[0] - low[0], high[1] - low[1]), np.arctan2(high[1] - low[1], abs(high[0] - low[0]))
    return low[0] + np.sign(high[0] - low[0]) * arm * np.cos(angle + travel.q)


def left_over(built: Any, parts: Any, felt: Any, heat: int, found: Reactions, going: str, moving: set[str]) -> Any:
    """Return what is left of forces along, forces up and moments about the origin, on the shell or on all that moves.

    Every force but the pins' and the hand's is put together anew from plan and poses; pins turn against
    their friction. Each sum is over the size of what goes into it.
    """
    plan, roof = built.plan, parts.roof
    travel = roof.travel
    sense = 1.0 if going == "up" else -1.0
    acting: list[tuple[Any, Any, Any, Any]] = []  # place x, z; force x, z
    moment: Any = 0.0
    for mass, x, z in bodies_of(built, roof):
        centre = travel.shell.point(np.array([x]), np.array([z]))
        acting.append((centre.x, centre.z, 0.0, -mass * G + 0 * centre.x))
    for spring, push in zip(plan["spring"], felt.springs, strict=True):
        foot, head = (
            travel.body(spring[f"{end}_on"]).point(*(np.array([v]) for v in roofs.spot(spring[end])))
            for end in ("foot", "head")
        )
        across, up = head.x - foot.x, head.z - foot.z
        size = np.sqrt(across**2 + up**2 + spring["sideways"].si ** 2)
        total = 2 * spring["per_side"] * (push.raising if going == "up" else push.lowering)[heat]
        for end, at, sign in (("foot", foot, -1), ("head", head, 1)):
            if spring[f"{end}_on"] in moving:
                acting.append((at.x, at.z, sign * total * across / size, sign * total * up / size))
    pushing = [(part, coil_curve(part, apart(part, travel))) for part in plan.get("coil", [])]
    for part in plan.get("cord", []):
        length = apart(part, travel)
        grows = sense * np.gradient(length, travel.q[0], axis=-1) > 0
        pushing.append((part, -cord_curve(part, length) * np.where(grows, 1.0, 1 - part["lost"].si)))
    for part, push_out in pushing:
        size = apart(part, travel)
        foot, head = ends_of(part, travel)
        for body, at, sign in ((part.get("foot_on", "van"), foot, -2), (part["head_on"], head, 2)):
            if body in moving:
                share = sign * push_out / size
                acting.append((at.x, at.z, share * (head.x - foot.x), share * (head.z - foot.z)))
    for torsion in plan.get("torsion", []):
        if torsion["at"] == "hinge" or torsion["at"] in moving:
            turn = turned_by(torsion, travel)
            moment = moment + 2 * torsion_curve(torsion, turn) * np.sign(turn[:, -1:])
    for load in acting_in(felt, heat):
        wrench = load.raising if going == "up" else load.lowering
        acting.append((0 * wrench.m, 0 * wrench.m, wrench.fx, wrench.fz))
        moment = moment + wrench.m
    hand = travel.shell.point(*roof.handle)
    across, upward = pushed_along(hand.dx, hand.dz)
    acting.append((hand.x, hand.z, found.hand * across, found.hand * upward))
    whole = len(moving) > 1
    if whole:
        for i, ((px, pz), (fx, fz)) in enumerate(zip(roof.pins.van, found.at_van, strict=True)):
            if roof.pins.crossing:
                # Arm b's lower end slides level to where the arms' turn takes it.
                px = px[..., None] - i * (roof.pins.shell[0][0][..., None] - slid(plan, travel))
                acting.append((px, pz[..., None], fx, fz))
            else:
                acting.append((px[..., None], pz[..., None], fx, fz))
    else:
        for i, (pin, (fx, fz)) in enumerate(zip(roof.pins.shell, found.on_shell, strict=True)):
            at = travel.shell.point(*pin)
            if travel.slides:
                # Shoes stay on the van.
                acting.append((pin[0][..., None], pin[1][..., None], fx, fz))
            elif roof.pins.crossing and i == 0:
                acting.append((slid(plan, travel), at.z, fx, fz))
            else:
                acting.append((at.x, at.z, fx, fz))
    # Which way a pin turns is seen in the angles a small way on.
    if travel.arms:
        turns = [arm.phi if whole else travel.shell.phi - arm.phi for arm in travel.arms]
    else:
        turns = [travel.shell.phi]
    friction = plan["linkage"]["friction"].si / (4 if travel.arms else 1)
    for turn in turns:
        moment = moment - sense * np.sign(np.gradient(turn, travel.q[0], axis=-1)) * friction
    moment = moment + sum(x * fz - z * fx for x, z, fx, fz in acting)
    size = sum(np.hypot(fx, fz) for _, _, fx, fz in acting)
    return [(np.abs(left) / size)[0] for left in (sum(f[2] for f in acting), sum(f[3] for f in acting), moment)]


@each_linkage
def test_the_shell_and_all_that_moves_are_in_equilibrium(linkage: str, measured: Any) -> None:
    worst = 0.0
    for built in roofs.family(linkage):
        parts, felt = built.felt(61)
        travel = parts.roof.travel
        # Where a pin stands still between two senses of turning, its friction can be told either way.
        rates = [np.abs(pin)[0] for arm in travel.arms for pin in (arm.dphi, arm.dphi - travel.shell.dphi)]
        turning = np.min([*rates, np.ones(61)], axis=0) > 0.05
        # Where a cord stops growing it can be told either way, too.
        for cord in built.plan.get("cord", []):
            grows = np.sign(np.gradient(apart(cord, travel)[0]))
            steady = np.ones(61, dtype=bool)
            steady[1:-1] = (grows[:-2] == grows[1:-1]) & (grows[1:-1] == grows[2:])
            turning &= steady
        for heat, going in ((MILD, "up"), (MILD, "down"), (state("cold", "aged"), "up")):
            found = at_rest(built, parts, felt, heat, going)
            for moving in ({"shell"}, {"shell", "arm a", "arm b"}):
                along, up, moment = left_over(built, parts, felt, heat, found, going, moving)
                # At a dead point no force is given.
                given = found.bounded[0] & (turning | ("cord" not in built.plan))
                for what, left in (
                    ("along", along[given]),
                    ("up", up[given]),
                    ("moments", moment[given & turning]),
                ):
                    assert left.max() < 1e-9, told(built, f"{going}, {what}: {left.max():.2g} left over")
                    worst = max(worst, float(left.max()))
    measured("largest error", worst)


# --- heat -------------------------------------------------------------------------------------------


@each_linkage
def test_heat_makes_it_easier_up_and_harder_down(linkage: str) -> None:
    """Common practice, no source; without rain, which comes with the cold."""
    cold, mild, hot, sun = (STATES.index((heat, "new")) for heat in ("cold", "mild", "hot", "sun"))
    seen = 0
    for built in roofs.family(linkage):
        parts = built.parts(61)
        dry = replace(parts.roof.sizes, wet_extra=np.zeros(1), load_on_top=np.zeros(1))
        felt = roofs.feel(replace(parts.roof, sizes=dry))
        helps = np.all([push.line.rate > 1e-9 for push in felt.springs], axis=0)[0]
        hinders = np.all([push.line.rate < -1e-9 for push in felt.springs], axis=0)[0]
        seen += int(helps.any())
        for cooler, warmer in ((cold, mild), (mild, hot), (hot, sun)):
            easier = (felt.push_up[cooler] - felt.push_up[warmer])[0]
            harder = (felt.pull_down[warmer] - felt.pull_down[cooler])[0]
            for where, sign in ((helps, 1), (hinders, -1)):
                assert (sign * easier[where] > 0).all(), told(built, "heat does not make it easier up")
                assert (sign * harder[where] > 0).all(), told(built, "heat does not make it harder down")
    assert seen >= len(roofs.family(linkage).roofs) // 2


@each_linkage
def test_heat_leaves_all_but_the_gas_alone(linkage: str) -> None:
    for built in roofs.family(linkage):
        plan = copy.deepcopy(built.plan)
        for heat in plan["temperatures"]:
            plan["temperatures"][heat] = roofs.Q("temperature", 303.15)
        parts, felt = built.felt(61)
        warm = roofs.nominal(loads(roofs.text_of(plan)), 61)
        other = roofs.feel(warm.roof)
        for name in ("weight", "loads_raising", "loads_lowering", "friction", "hand_path"):
            same = np.array_equal(getattr(felt.drive, name), getattr(other.drive, name))
            assert same, told(built, f"{name} changes with the temperature")
        # One temperature: all dry states of one age are alike, and so they are without springs at any temperature.
        ages = [i for i, (heat, age) in enumerate(STATES) if age == "new" and heat != "cold"]
        assert np.ptp(other.push_up[ages], axis=0).max() == 0.0, told(built, "one temperature, two forces")
        for heat in (MILD, state("cold", "new")):
            loads_then = acting_in(felt, heat)
            bare = balance(parts.roof.travel, parts.roof.body, [], loads_then, parts.roof.pin_moment, parts.roof.handle)
            rest = felt.drive.weight + felt.drive.loads_raising[heat] - felt.drive.friction
            alike(built, "a roof without springs", bare.rising, rest, rel=1e-12, scale=1.0)


# --- energy of a release ----------------------------------------------------------------------------


def still_day(built: Any, factor: float = 1.0) -> Any:
    """Return the plan's project at 20 C, without other loads and pin friction, springs `factor` times as strong."""
    plan = copy.deepcopy(built.plan)
    plan["forces"] = {
        "seal_line": roofs.Q("line", 0.0),
        "seal_height": roofs.length(0.005),
        "cloth_mass": roofs.Q("mass", 0.0),
        "cloth_tension": roofs.Q("line", 0.0),
        "fold_push": roofs.Q("line", 0.0),
        "wet_extra": roofs.Q("mass", 0.0),
        "load_on_top": roofs.Q("mass", 0.0),
        "trapped_air": roofs.Q("force", 0.0),
        "gust": roofs.Q("speed", 0.0),
    }
    plan["linkage"]["friction"] = roofs.Q("moment", 0.0)
    plan["temperatures"] = {heat: roofs.Q("temperature", 293.15) for heat in ("cold", "mild", "hot", "sun")}
    for cord in plan.get("cord", []):
        cord["lost"] = roofs.Q("percent", 0.0)
    for spring in plan["spring"]:
        loop = spring["friction"].si * (2 if spring["friction_is"] == "half loop" else 1)
        share = {"F1": 0.0, "F3": 1.0, "middle": 0.5}[spring["force_is"]]
        spring["force"] = roofs.Q("force", min(5000.0, max(20.0, (spring["force"].si - share * loop) * factor)))
        spring["force_is"] = "F1"
    return plan


def gas_energy(spring: dict[str, Any], length: np.ndarray) -> np.ndarray:
    """Return the work [J] that all springs of an entry give back on the way from this length to full extension.

    Integral of F1 / (1 - a c/s) over c: -F1 s/a ln(1 - a c/s), a = 1 - 1/r.
    """
    a, stroke = 1 - 1 / spring["ratio"].si, spring["stroke"].si
    squeezed = spring["extended_length"].si - length
    return -2 * spring["per_side"] * spring["force"].si * stroke / a * np.log(1 - a * squeezed / stroke)


def energy_between(plan: Any, parts: Any, felt: Any, start: int, end: int) -> float:
    """Return the work [J] done on the roof from one station to another by weight and springs, loops taken off."""
    step = 1 if end > start else -1
    stop = end + step if end + step >= 0 else None
    body = parts.roof.body
    z = parts.roof.travel.shell.point(body.x, body.z).z[0]
    work = -float(body.mass[0]) * G * (z[end] - z[start])
    for spring, push in zip(plan["spring"], felt.springs, strict=True):
        length = push.line.length[0]
        work += float(gas_energy(spring, length[start]) - gas_energy(spring, length[end]))
        loop = spring["friction"].si * (2 if spring["friction_is"] == "half loop" else 1)
        pressed_in = np.maximum(-np.diff(length[start:stop:step]), 0.0).sum()
        work -= 2 * spring["per_side"] * loop * float(pressed_in)
    return work + lifter_energy(plan, parts.roof.travel, end) - lifter_energy(plan, parts.roof.travel, start)


def lifter_energy(plan: Any, travel: Any, station: int) -> float:
    """Return the work [J] that coil springs, torsion springs and cords have done on the way from closed to a station.

    Coil: F0 x + k x^2 / 2 of what is drawn or squeezed; torsion: M0 t - k t^2 / 2 up to where it is spent; cord: areas
    below its points.
    """
    done = 0.0

    def given(stored: Any, lengths: np.ndarray) -> float:
        return float(2 * (stored(lengths[0]) - stored(lengths[station])))

    for coil in plan.get("coil", []):
        pulls, free, rate = coil["kind"] == "pulls", coil["free_length"].si, coil["rate"].si
        first = coil["initial"].si if pulls else 0.0

        def in_coil(
            length: float, pulls: bool = pulls, free: float = free, rate: float = rate, f0: float = first
        ) -> float:
            x = max(length - free if pulls else free - length, 0.0)
            return f0 * x + rate * x**2 / 2

        done += given(in_coil, apart(coil, travel)[0])
    for torsion in plan.get("torsion", []):
        k = float(np.degrees(torsion["per_degree"].si))
        m = torsion["moment"].si
        turn = min(abs(float(turned_by(torsion, travel)[0, station])), m / k)
        done += 2 * (m * turn - k * turn**2 / 2)
    for cord in plan.get("cord", []):
        slack = cord["slack_length"].si

        def in_cord(length: float, cord: Any = cord, slack: float = slack) -> float:
            fine = np.linspace(slack, max(length, slack), 4001)
            return float(np.trapezoid(cord_curve(cord, fine), fine))

        done += given(in_cord, apart(cord, travel)[0])
    return done


def kinetic(parts: Any, lip_speed: float, station: int) -> float:
    """Return the kinetic energy [J] of the roof whose lip has this speed, from neighbouring poses alone."""
    roof = parts.roof
    near = (station, station - 1, station - 2) if station else (0, 1, 2)
    q = roof.travel.q[0]
    one, two = (float(q[i] - q[near[0]]) for i in near[1:])

    def rate(values: np.ndarray) -> float:
        # Slope at the first of three places that need not stand evenly: that of the parabola through them.
        a, b, c = (float(values[0, i]) for i in near)
        return ((b - a) * two**2 - (c - a) * one**2) / (one * two * (two - one))

    lip = roof.travel.shell.point(*roof.lip)
    centre = roof.travel.shell.point(roof.body.x, roof.body.z)
    turning = lip_speed / np.hypot(rate(lip.x), rate(lip.z))
    speed2 = (rate(centre.x) ** 2 + rate(centre.z) ** 2) * turning**2
    return float(roof.body.mass[0] * speed2 + roof.body.inertia[0] * (rate(roof.travel.shell.phi) * turning) ** 2) / 2


def let_go(plan: Any, project: Any, stations: int, way_up: bool) -> tuple[float, float, float] | None:
    """Return (work, kinetic energy at the stop, time), or None where the roof does not run all the way."""
    parts = roofs.nominal(project, stations)
    felt = roofs.feel(parts.roof)
    drive: Drive = felt.drive.at(MILD)
    lip = parts.roof.travel.shell.point(*parts.roof.lip)
    if way_up:
        start, end = (stations - 1) // 3, stations - 1
        found = rise(drive, parts.roof.body, parts.roof.travel, lip, start=start)
    else:
        start, end = stations - 1, 0
        found = fall(drive, parts.roof.body, parts.roof.travel, lip)
    if not found.moves[0] or found.speed[0] == 0.0:
        return None
    work = energy_between(plan, parts, felt, start, end)
    return work, kinetic(parts, float(found.speed[0]), end), float(found.time[0])


@pytest.mark.parametrize(("goes", "factor"), [("down", 0.3), ("up", 2.5)])
@each_linkage
def test_a_released_roof_arrives_with_the_work_done_on_it(
    linkage: str, goes: str, factor: float, measured: Any
) -> None:
    errors, times = [], []
    for built in roofs.family(linkage):
        plan = still_day(built, factor)
        project = loads(roofs.text_of(plan))
        runs = [let_go(plan, project, stations, goes == "up") for stations in (121, 361)]
        if runs[1] is None or runs[0] is None or runs[1][0] < 5.0:
            continue
        row = [abs(moving - work) / work for work, moving, _ in runs]
        assert row[1] < 2e-3, told(built, f"{goes}, springs x {factor}: energy off by {row[1]:.2g}")
        errors.append(row)
        times.append(abs(runs[0][2] / runs[1][2] - 1))
    assert len(errors) >= 0.3 * len(roofs.family(linkage).roofs)
    coarse, fine = np.array(errors).T
    order = np.log(coarse.sum() / fine.sum()) / np.log(3)
    measured("roofs", len(errors))
    measured("largest error at 361 stations", fine.max())
    measured("largest error at 121 stations", coarse.max())
    measured("order", order)
    measured("largest error of time at 121 stations", max(times))
    assert order > 1.7
    assert max(times) < 2e-3


# --- what must stay put ------------------------------------------------------------------------------


@each_linkage
def test_friction_shaken_off_lies_between_up_and_down(linkage: str) -> None:
    """At rest a roof wants to go neither further up than when raised, nor further down than when lowered."""
    for built in roofs.family(linkage):
        parts = built.parts(31)
        # Air pushes up on the way down, which is also upwards where the rim's middle goes down as the roof opens.
        still = replace(parts.roof.sizes, trapped_air=np.zeros(1))
        drive = roofs.feel(replace(parts.roof, sizes=still)).drive
        assert (drive.at_rest >= drive.rising - 1e-9).all(), told(built, "rises further at rest")
        assert (drive.at_rest <= drive.falling + 1e-9).all(), told(built, "falls further at rest")
        # Without friction and air there is one force for all three.
        plan = copy.deepcopy(built.plan)
        plan["linkage"]["friction"] = roofs.Q("moment", 0.0)
        plan["forces"]["trapped_air"] = roofs.Q("force", 0.0)
        for spring in plan["spring"]:
            spring["friction"] = roofs.Q("force", 0.0)
        for cord in plan.get("cord", []):
            cord["lost"] = roofs.Q("percent", 0.0)
        free = roofs.feel(roofs.nominal(loads(roofs.text_of(plan)), 31).roof).drive
        scale = float(np.abs(free.falling).max())
        alike(built, "rising without friction", free.rising, free.at_rest, rel=1e-12, scale=scale)
        alike(built, "falling without friction", free.falling, free.at_rest, rel=1e-12, scale=scale)


# --- linearity --------------------------------------------------------------------------------------


@each_linkage
def test_hand_force_is_linear_in_mass_moment_and_spring_force(linkage: str, measured: Any) -> None:
    worst = 0.0
    for built in roofs.family(linkage):
        parts, felt = built.felt(31)
        roof, scale = parts.roof, float(np.abs(felt.pull_down).max())

        def heavier(by: float, roof: Any = roof) -> Any:
            return replace(roof, body=replace(roof.body, mass=roof.body.mass * by))

        def longer(by: float, roof: Any = roof) -> Any:
            return replace(roof, body=replace(roof.body, x=roof.body.x + by))

        def stronger(by: float, roof: Any = roof) -> Any:
            return replace(roof, fitted=tuple(replace(f, delivered=f.delivered * by) for f in roof.fitted))

        def fuller(by: float, roof: Any = roof) -> Any:
            kelvin = roof.climate.mild * 0 + 293.15
            climate = replace(roof.climate, cold=kelvin, mild=kelvin, hot=kelvin, sun=kelvin)

            def more(f: Any) -> Any:
                spring = replace(f.mount.spring, force_1=f.mount.spring.force_1 * by)
                return replace(f, mount=replace(f.mount, spring=spring))

            return replace(roof, climate=climate, fitted=tuple(more(f) for f in roof.fitted))

        for what, change, ends in (
            ("mass", heavier, (1.0, 1.4, 1.8)),
            ("mass times centre", longer, (0.0, 0.1, 0.2)),
            ("delivered force", stronger, (1.0, 0.9, 0.8)),
            ("F1 at 20 C", fuller, (1.0, 1.3, 1.6)),
        ):
            felts = [roofs.feel(change(by)) for by in ends]
            for name in ("push_up", "pull_down"):
                first, second, third = (getattr(one, name) for one in felts)
                line = 2 * second - first
                worst = max(worst, alike(built, f"{name} over {what}", third, line, rel=1e-9, scale=scale))
                moved = float(np.abs(third - first).max())
                # A shell that does not turn does not feel where its centre is.
                level = linkage in ("parallel arms", *roofs.LEVEL) and what == "mass times centre"
                assert (moved > 1e-3) != level, told(built, f"{what} moves the hand force by {moved:.2g} N")
    measured("largest error", worst)
