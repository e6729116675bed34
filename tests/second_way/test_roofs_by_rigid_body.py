"""Random roofs of every linkage, from project file to hand force and release, against a rigid-body library.

The same plan goes two ways. One is the package's: file, assembly, forces, release. The other is MuJoCo, with
inertia by adding up small patches of the shell; the two share standard gravity and the force left by ageing,
nothing else. 20 C, no friction, no other loads. Computed here from first principles.
"""

from __future__ import annotations

import copy
import importlib.util
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from loftwright.mechanics.failing import failures
from loftwright.mechanics.feel import state
from loftwright.mechanics.release import rise
from loftwright.project.file import loads


def _load(name: str, path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


_HERE = Path(__file__).parent
rigid_body = _load("rigid_body", _HERE / "rigid_body.py")
roofs = _load("roofs", _HERE.parent / "laws" / "roofs.py")

SAMPLE = 20
AGED = 0.92  # force left after a durability test, over the force when new
STATIONS = 121

each_linkage = pytest.mark.parametrize("linkage", roofs.LINKAGES)


@pytest.fixture
def measured(request: pytest.FixtureRequest) -> Any:
    """Return a notebook for figures: they go into the test report."""
    return lambda name, value: request.node.user_properties.append((name, float(value)))


def frictionless(plan: Any, factor: float = 1.0) -> Any:
    """Return the plan at 20 C, without friction or other loads, its springs `factor` times as strong."""
    still = copy.deepcopy(plan)
    still["forces"] = {
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
    still["temperatures"] = {heat: roofs.Q("temperature", 293.15) for heat in ("cold", "mild", "hot", "sun")}
    still["linkage"]["friction"] = roofs.Q("moment", 0.0)
    for cord in still.get("cord", []):
        cord["lost"] = roofs.Q("percent", 0.0)
    # The library sees forces between points only.
    still.pop("torsion", None)
    for spring in still["spring"]:
        spring["friction"] = roofs.Q("force", 0.0)
        spring["force"] = roofs.Q("force", float(np.clip(spring["force"].si * factor, 20.0, 5000.0)))
    return still


def patches(plan: Any) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return (area, x, z) of small patches of the shell's skin: bent top, two sides, two ends, open below."""
    shell = plan["shell"]
    length, width = shell["length"].si, shell["width"].si
    rear, rim = -shell["overhang_rear"].si, shell["rim_height"].si
    tops = [shell[f"height_{k}"].si for k in ("rear", "middle", "front")]
    n, m = 400, 40
    u = (np.arange(n) + 0.5) / n * length
    height = np.interp(u, [0.0, length / 2, length], tops)
    slope = np.where(u < length / 2, tops[1] - tops[0], tops[2] - tops[1]) / (length / 2)
    up = (np.arange(m) + 0.5) / m
    side_x, side_z = np.broadcast_arrays(u[:, None], height[:, None] * up)
    side_a = 2 * (length / n) * (height[:, None] / m) + 0 * side_z
    parts = [
        (width * length / n * np.hypot(1.0, slope), u, height),
        (side_a.ravel(), side_x.ravel(), side_z.ravel()),
        (np.full(m, width * tops[0] / m), np.zeros(m), tops[0] * up),
        (np.full(m, width * tops[2] / m), np.full(m, length), tops[2] * up),
    ]
    area, x, z = (np.concatenate(arrays) for arrays in zip(*parts, strict=True))
    return area, rear + x, rim + z


def elastics(plan: Any) -> list[Any]:
    """Return coil springs and cords of a plan in the order of the file."""
    return [*plan.get("coil", []), *plan.get("cord", [])]


def elastic(part: Any, lost: bool) -> Any:
    """Return a coil spring or cord as pushes at lengths, on far beyond what any roof asks; `lost`: one is gone."""
    if "rate" in part:
        free, rate, far = part["free_length"].si, part["rate"].si, 5.0
        first = part["initial"].si if part["kind"] == "pulls" else 0.0
        if part["kind"] == "pulls":
            lengths, pushes = (free, free + 1e-9, far), (0.0, -first, -first - rate * (far - free))
        else:
            lengths, pushes = (0.0, free), (rate * free, 0.0)
    else:
        points = [(part["slack_length"].si, 0.0), *((p["length"].si, p["force"].si) for p in part["point"])]
        (x0, f0), (x1, f1) = points[-2:]
        points.append((5.0, f1 + (f1 - f0) / (x1 - x0) * (5.0 - x1)))
        lengths, pushes = tuple(p[0] for p in points), tuple(-p[1] for p in points)
    return rigid_body.Elastic(
        roofs.spot(part["foot"]),
        roofs.spot(part["head"]),
        lengths,
        pushes,
        1 if lost else 2,
        head_on=part["head_on"],
        sideways=part["sideways"].si,
    )


def as_case(plan: Any, *, lost: int | None = None, aged: bool = False) -> Any:
    """Return the plan for the rigid-body library; `lost` is the entry of which one spring is gone."""
    shell, link = plan["shell"], plan["linkage"]
    area, x, z = patches(plan)
    bare = shell["mass"].si
    by_shape_x, by_shape_z = float(np.average(x, weights=area)), float(np.average(z, weights=area))
    inertia = bare * float(np.average((x - by_shape_x) ** 2 + (z - by_shape_z) ** 2, weights=area))
    height = shell["centre_height"].si if "centre_height" in shell else by_shape_z
    masses = [(bare, shell["centre"].si, height)]
    masses += [(item["mass"].si, item["x"].si, item["z"].si) for item in plan.get("item", [])]
    whole = sum(mass for mass, _, _ in masses)
    centre = tuple(sum(part[0] * part[k] for part in masses) / whole for k in (1, 2))
    inertia += sum(mass * ((px - centre[0]) ** 2 + (pz - centre[1]) ** 2) for mass, px, pz in masses)
    springs = tuple(
        rigid_body.Spring(
            roofs.spot(s["foot"]),
            roofs.spot(s["head"]),
            s["force"].si * (AGED if aged else 1.0),
            s["ratio"].si,
            s["stroke"].si,
            s["extended_length"].si,
            2 * s["per_side"] - (1 if number == lost else 0),
            s["foot_on"],
            s["head_on"],
            s["sideways"].si,
        )
        for number, s in enumerate(plan["spring"])
    ) + tuple(elastic(part, len(plan["spring"]) + k == lost) for k, part in enumerate(elastics(plan)))
    arms = (
        {"hinge": roofs.spot(link["hinge"])}
        if link["kind"] == "hinge"
        else {f"arm_{a}": (roofs.spot(link[f"arm_{a}_van"]), roofs.spot(link[f"arm_{a}_shell"])) for a in "ab"}
    )
    return rigid_body.Case(
        mass=whole,
        centre=centre,
        inertia=inertia,
        handle=roofs.spot(plan["handle"]["at"]),
        lip=roofs.lip_of(plan),
        sense=roofs.opening_sense(plan),
        springs=springs,
        **arms,
    )


def first_way(plan: Any) -> Any:
    """Return the package's parts and forces for a plan."""
    parts = roofs.nominal(loads(roofs.text_of(plan)), STATIONS)
    return parts.roof, roofs.feel(parts.roof)


@each_linkage
def test_hand_force_at_rest(linkage: str, measured: Any) -> None:
    worst = 0.0
    for built in roofs.family(linkage, SAMPLE):
        plan = frictionless(built.plan)
        case = as_case(plan)
        roof, felt = first_way(plan)
        push = felt.push_up[state("mild", "new"), 0]
        np.testing.assert_allclose(push, -felt.pull_down[state("mild", "new"), 0], rtol=1e-12, atol=1e-9)
        scale = max(float(np.abs(push).max()), 50.0)
        for station in (0, 30, 60, 90, 120):
            opening = plan["linkage"]["opens"].si * float(roof.travel.fraction[station])
            second = rigid_body.static_hand_force(case, opening, "hand")
            error = abs(push[station] - second) / scale
            assert error < 0.002, f"at {station} of 120: {push[station]:.3f} N, {second:.3f} N\n\n{built.text}"
            worst = max(worst, error)
    measured("largest error", worst)


def compare(built: Any, what: str, first: Any, case: Any, start: float, until: float) -> tuple[float, float] | None:
    """Assert that both ways run alike; return the errors of time and speed, None where the roof stays or stops."""
    if not first.moves[0]:
        holds = rigid_body.static_hand_force(case, start) * np.sign(until - start)
        assert holds > -1e-6, f"{what}: stays, but the library pushes it on\n\n{built.text}"
        return None
    if first.speed[0] == 0.0:
        with pytest.raises(RuntimeError):
            rigid_body.release(case, start, until, longest=4.0)
        return None
    second = rigid_body.release(case, start, until)
    time, speed = float(first.time[0]), float(first.speed[0])
    errors = abs(time / second.time - 1), abs(speed / second.lip_speed - 1)
    said = f"{time:.4f} s at {speed:.4f} m/s, the library {second.time:.4f} s at {second.lip_speed:.4f} m/s"
    assert max(errors) < 0.03, f"{what}: {said}\n\n{built.text}"
    assert second.gap < 1e-3
    return errors


@each_linkage
def test_fall_with_one_spring_lost(linkage: str, measured: Any) -> None:
    runs = []
    for built in roofs.family(linkage, SAMPLE):
        plan = frictionless(built.plan, 0.6)
        roof, felt = first_way(plan)
        for entry, failure in enumerate(failures(roof, felt)):
            case = as_case(plan, lost=entry, aged=True)
            runs.append(compare(built, failure.what, failure.release, case, plan["linkage"]["opens"].si, 0.0))
    errors = np.array([run for run in runs if run is not None])
    assert len(errors) >= 15
    measured("falls", len(errors))
    measured("stay or stop", len(runs) - len(errors))
    measured("largest error of time", errors[:, 0].max())
    measured("largest error of speed", errors[:, 1].max())


@each_linkage
def test_rise_to_the_top_stop(linkage: str, measured: Any) -> None:
    runs = []
    for built in roofs.family(linkage, SAMPLE):
        plan = frictionless(built.plan, 2.0)
        roof, felt = first_way(plan)
        lip = roof.travel.shell.point(*roof.lip)
        first = rise(felt.drive.at(state("mild", "new")), roof.body, roof.travel, lip, start=40)
        opens = plan["linkage"]["opens"].si
        runs.append(compare(built, "rise", first, as_case(plan), opens * float(roof.travel.fraction[40]), opens))
    errors = np.array([run for run in runs if run is not None])
    assert len(errors) >= 10
    measured("rises", len(errors))
    measured("stay or stop", len(runs) - len(errors))
    measured("largest error of time", errors[:, 0].max())
    measured("largest error of speed", errors[:, 1].max())
