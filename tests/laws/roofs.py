"""Random roofs that can be built, each as the text of a project file: seeded, so that every run meets the same ones.

A plan is the project file as nested tables whose quantities are `Q` (kind and value in SI). It is written in
metric or imperial units, can be looked at in a mirror (x to length of opening less x, front to rear), and is read
back by the package like any builder's file. What the package refuses, or says cannot move, is not built here either.
Sizes of springs come from poses worked out in this file, so that most of them fit their place.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from loftwright.answers.draws import Nominal
from loftwright.answers.judged_roof import Assembled, assembled, inputs_of
from loftwright.core.errors import CannotAssemble, ProjectFault
from loftwright.mechanics.feel import Feel, feel
from loftwright.project.file import loads
from loftwright.project.model import Project

LINKAGES = ("hinge front", "hinge rear", "four-bar", "parallel arms")
LEVEL = ("scissor", "guides")
"""Linkages of which fewer roofs are tried."""
COUNT = 80
LEVEL_COUNT = 8
EVERY = (*LINKAGES, *LEVEL)
GRAVITY = 9.80665
LEAST_GRIP = np.radians(15.0)
"""Roofs whose arms come closer than this to a line with the shell count as jammed: derivatives grow without bound."""
LEAST_WAY = 0.1
"""Roofs whose handle goes less than this [m] a radian of the driving angle: the hand's force grows without bound."""

Place = tuple[float, float]
Tables = dict[str, Any]


@dataclass(frozen=True)
class Q:
    """A quantity: kind of unit and value in SI."""

    kind: str
    si: float


# Unit and its size in SI; international inch, pound and mile, standard gravity.
METRIC = {
    "length": ("m", 1.0),
    "mass": ("kg", 1.0),
    "force": ("N", 1.0),
    "angle": ("deg", np.pi / 180),
    "moment": ("N m", 1.0),
    "line": ("N/m", 1.0),
    "stiffness": ("N/mm", 1000.0),
    "speed": ("m/s", 1.0),
    "percent": ("%", 0.01),
    "plain": ("", 1.0),
    "temperature": ("C", 1.0),
}
IMPERIAL = METRIC | {
    "length": ("in", 0.0254),
    "mass": ("lb", 0.45359237),
    "force": ("lb", 0.45359237 * GRAVITY),
    "moment": ("lb ft", 0.45359237 * GRAVITY * 0.3048),
    "line": ("lb/ft", 0.45359237 * GRAVITY / 0.3048),
    "stiffness": ("lb/in", 0.45359237 * GRAVITY / 0.0254),
    "speed": ("mph", 0.44704),
    "temperature": ("F", 5 / 9),
}


def _written(quantity: Q, imperial: bool) -> str:
    unit, size = (IMPERIAL if imperial else METRIC)[quantity.kind]
    number = quantity.si / size
    if quantity.kind == "temperature":
        number -= 459.67 if imperial else 273.15
    text = np.format_float_positional(number, precision=13, unique=False, fractional=False, trim="-")
    return f'"{text} {unit}"'.replace(' "', '"')


def _toml(value: Any, imperial: bool) -> str:
    if isinstance(value, Q):
        return _written(value, imperial)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(part, imperial)}" for key, part in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_toml(part, imperial) for part in value) + "]"
    return str(value) if isinstance(value, int) else f'"{value}"'


def text_of(plan: Tables, *, imperial: bool = False) -> str:
    """Return a plan as the text of a project file."""
    lines = ["format = 1", f'name = "{plan["name"]}"']
    for section, content in plan.items():
        if section == "name":
            continue
        for table in content if isinstance(content, list) else [content]:
            lines += ["", f"[[{section}]]" if isinstance(content, list) else f"[{section}]"]
            lines += [f"{key} = {_toml(value, imperial)}" for key, value in table.items()]
    return "\n".join(lines) + "\n"


def length(si: float) -> Q:
    """Return a length."""
    return Q("length", float(si))


def point(x: float, z: float) -> list[Q]:
    """Return a point as the file writes it."""
    return [length(x), length(z)]


def spot(pair: list[Q]) -> Place:
    """Return the place of a written point."""
    return pair[0].si, pair[1].si


POINTS = (
    "hinge", "arm_a_van", "arm_a_shell", "arm_b_van", "arm_b_shell", "guide", "guide_far", "at", "foot", "head"
)  # fmt: skip


def mirrored(plan: Tables) -> Tables:
    """Return the same roof seen from its other side: every x becomes the opening's length less x."""
    seen = copy.deepcopy(plan)
    across = seen["opening"]["length"].si

    def x(value: Q) -> Q:
        return length(across - value.si)

    def turned(table: Tables) -> None:
        for key in POINTS:
            if isinstance(table.get(key), list):
                table[key] = [x(table[key][0]), table[key][1]]

    shell, link = seen["shell"], seen["linkage"]
    shell["height_rear"], shell["height_front"] = shell["height_front"], shell["height_rear"]
    shell["overhang_rear"] = length(shell["length"].si - across - shell["overhang_rear"].si)
    shell["centre"] = x(shell["centre"])
    link["end"] = {"front": "rear", "rear": "front"}[link["end"]]
    if "leans" in link:
        link["leans"] = Q("angle", -link["leans"].si)
    for table in (link, seen["handle"], *seen["spring"], *seen.get("coil", []), *seen.get("cord", [])):
        turned(table)
    for item in seen.get("item", []):
        item["x"] = x(item["x"])
    if "bed" in seen:
        seen["bed"]["from"], seen["bed"]["to"] = x(seen["bed"]["to"]), x(seen["bed"]["from"])
    if "profile" in seen["roof"]:
        seen["roof"]["profile"] = [[x(p[0]), p[1]] for p in reversed(seen["roof"]["profile"])]
    return seen


# --- poses worked out here --------------------------------------------------------------------------


def _spin(v: Place, angle: float) -> np.ndarray:
    cos, sin = np.cos(angle), np.sin(angle)
    return np.array([cos * v[0] - sin * v[1], sin * v[0] + cos * v[1]])


def way_of(plan: Tables) -> float:
    """Return how far the driving coordinate goes [rad, or m in guides]."""
    link = plan["linkage"]
    return float(link["rise" if link["kind"] == "guides" else "opens"].si)


def opening_sense(plan: Tables) -> int:
    """Return +1 where the driving angle turns from x towards z as the lip rises, else -1.

    For arms it is tried: the sense in which the lip is higher after a small turn of arm a.
    """
    link = plan["linkage"]
    if link["kind"] == "hinge":
        return -1 if link["end"] == "front" else 1
    if link["kind"] in LEVEL:
        return 1
    lip = lip_of(plan)
    heights = {}
    for sense in (1, -1):
        found = pose(plan, 1e-4, sense)
        heights[sense] = -np.inf if found is None else placed(plan, "shell", lip, found)[1]
    return 1 if heights[1] > heights[-1] else -1


def lip_of(plan: Tables) -> Place:
    """Return the free edge of the closed shell."""
    shell = plan["shell"]
    rear = -shell["overhang_rear"].si
    x = rear if plan["linkage"]["end"] == "front" else rear + shell["length"].si
    return x, shell["rim_height"].si


def pose(plan: Tables, opening: float, sense: int) -> dict[str, tuple[Place, np.ndarray, float]] | None:
    """Return each moving body as (closed point, where it is now, turn), or None where the arms do not reach.

    Two circles meet at arm b's shell pin, on the side on which it lies closed.
    """
    link = plan["linkage"]
    turn = sense * opening
    if link["kind"] == "hinge":
        hinge = spot(link["hinge"])
        return {"shell": (hinge, np.array(hinge), turn)}
    if link["kind"] == "guides":
        along = np.array([np.sin(link["leans"].si), np.cos(link["leans"].si)])
        return {"shell": ((0.0, 0.0), turn * along, 0.0)}
    if link["kind"] == "scissor":
        low, high = np.array(spot(link["arm_a_van"])), np.array(spot(link["arm_a_shell"]))
        across, up = high - low
        way = float(np.sign(across))
        now = _spin((across, up), way * turn)
        slides = np.array([high[0], low[1]])
        return {
            "shell": ((0.0, 0.0), np.array([0.0, now[1] - up]), 0.0),
            "arm a": (tuple(low), low, way * turn),
            "arm b": (tuple(slides), low + np.array([now[0], 0.0]), -way * turn),
        }
    a_van, a_shell, b_van, b_shell = (
        np.array(spot(link[k])) for k in ("arm_a_van", "arm_a_shell", "arm_b_van", "arm_b_shell")
    )
    pin = a_van + _spin(tuple(a_shell - a_van), turn)
    bar, rocker, line = b_shell - a_shell, b_shell - b_van, b_van - pin
    span, r1, r2 = np.hypot(*line), np.hypot(*bar), np.hypot(*rocker)
    along = (span**2 + r1**2 - r2**2) / (2 * span)
    if r1**2 <= along**2:
        return None
    base = b_van - a_shell
    side = np.sign(base[0] * bar[1] - base[1] * bar[0])
    ex = line / span
    met = pin + along * ex + side * np.sqrt(r1**2 - along**2) * np.array([-ex[1], ex[0]])

    def angle(v: np.ndarray) -> float:
        return float(np.arctan2(v[1], v[0]))

    return {
        "shell": (tuple(a_shell), pin, angle(met - pin) - angle(bar)),
        "arm a": (tuple(a_van), a_van, turn),
        "arm b": (tuple(b_van), b_van, angle(met - b_van) - angle(rocker)),
    }


def placed(plan: Tables, body: str, closed: Place, found: dict[str, tuple[Place, np.ndarray, float]]) -> np.ndarray:
    """Return where a point of a body is in a pose."""
    if body == "van":
        return np.array(closed)
    base, now, turn = found[body]
    return now + _spin((closed[0] - base[0], closed[1] - base[1]), turn)


# --- random roofs -----------------------------------------------------------------------------------


def _round(value: float) -> float:
    return round(float(value), 3)


def _hinged(rng: np.random.Generator, span: float) -> Tables:
    return {
        "kind": "hinge",
        "end": "front",
        "opens": Q("angle", np.radians(_round(rng.uniform(15.0, 42.0)))),
        "hinge": point(_round(span + rng.uniform(0.0, 0.08)), _round(rng.uniform(0.0, 0.08))),
    }


def _four_bar(rng: np.random.Generator, span: float) -> Tables:
    def at(back: float, up: float, loose: float = 0.05) -> list[Q]:
        return point(
            _round(span - back * span / 1.8 + rng.uniform(-loose, loose)), _round(up + rng.uniform(-loose, loose))
        )

    return {
        "kind": "four-bar",
        "end": "front",
        "opens": Q("angle", np.radians(_round(rng.uniform(25.0, 55.0)))),
        "arm_a_van": at(0.06, -0.02),
        "arm_a_shell": at(0.39, 0.04),
        "arm_b_van": at(0.18, -0.09),
        "arm_b_shell": at(0.49, -0.12),
    }


def _parallel(rng: np.random.Generator, span: float) -> Tables:
    arm, tilt = rng.uniform(0.35, 0.6), np.radians(rng.uniform(8.0, 25.0))
    across, up = _round(-arm * np.cos(tilt)), _round(arm * np.sin(tilt))
    a = (_round(span - rng.uniform(0.05, 0.3)), _round(rng.uniform(-0.1, 0.0)))
    b = (_round(a[0] - rng.uniform(0.5, 0.9)), _round(a[1] - rng.uniform(0.05, 0.2)))
    return {
        "kind": "parallel arms",
        "end": "front",
        "opens": Q("angle", np.radians(_round(rng.uniform(30.0, 70.0)))),
        "arm_a_van": point(*a),
        "arm_a_shell": point(_round(a[0] + across), _round(a[1] + up)),
        "arm_b_van": point(*b),
        "arm_b_shell": point(_round(b[0] + across), _round(b[1] + up)),
    }


def _scissor(rng: np.random.Generator, span: float) -> Tables:
    arm, tilt = rng.uniform(0.7, 1.2), np.radians(rng.uniform(9.0, 22.0))
    low = (_round(span - rng.uniform(0.05, 0.2)), _round(-rng.uniform(0.1, 0.25)))
    return {
        "kind": "scissor",
        "end": "front",
        "opens": Q("angle", np.radians(_round(rng.uniform(15.0, 45.0)))),
        "arm_a_van": point(*low),
        "arm_a_shell": point(_round(low[0] - arm * np.cos(tilt)), _round(low[1] + arm * np.sin(tilt))),
    }


def _guides(rng: np.random.Generator, span: float) -> Tables:
    link = {
        "kind": "guides",
        "end": "front",
        "rise": length(_round(rng.uniform(0.25, 0.6))),
        "leans": Q("angle", np.radians(_round(rng.uniform(-12.0, 12.0)))),
        "guide": point(_round(span - rng.uniform(0.0, 0.2)), _round(-rng.uniform(0.1, 0.3))),
        "guide_length": length(_round(rng.uniform(0.1, 0.5))),
        "guide_friction": Q("plain", _round(rng.uniform(0.0, 0.3))),
    }
    if rng.random() < 0.5:
        link["guide_far"] = point(_round(rng.uniform(0.0, 0.3)), link["guide"][1].si)
    return link


_MAKERS = {
    "hinge front": _hinged,
    "hinge rear": _hinged,
    "four-bar": _four_bar,
    "parallel arms": _parallel,
    "scissor": _scissor,
    "guides": _guides,
}
_ENDS = (
    ("van", "shell"),
    ("van", "arm a"),
    ("van", "arm b"),
    ("arm a", "shell"),
    ("arm b", "shell"),
    ("arm a", "arm b"),
)
_ENDS_CHANCE = (0.35, 0.25, 0.15, 0.1, 0.1, 0.05)


def _spring(rng: np.random.Generator, plan: Tables, number: int, share: float) -> Tables | None:
    """Return a spring that carries about `share` of the weight half way, or None where it hardly moves."""
    link, span = plan["linkage"], plan["opening"]["length"].si
    bodies = ("van", "shell")
    if link["kind"] not in ("hinge", "guides"):
        bodies = _ENDS[int(rng.choice(len(_ENDS), p=_ENDS_CHANCE))]
    if link["kind"] == "hinge":
        hx, hz = spot(link["hinge"])
        foot = (_round(hx - rng.uniform(0.3, 0.7)), _round(hz - rng.uniform(0.03, 0.14)))
        head = (_round(foot[0] - rng.uniform(0.25, 0.5)), _round(hz + rng.uniform(-0.02, 0.1)))
    else:
        home = {"van": (0.55, -0.15), "shell": (1.0, 0.05), "arm a": (0.3, 0.02), "arm b": (0.4, -0.1)}
        foot, head = (
            (
                _round(span - home[body][0] + rng.uniform(-0.15, 0.15)),
                _round(home[body][1] + rng.uniform(-0.06, 0.06)),
            )
            for body in bodies
        )
    sense = opening_sense(plan)
    opens = way_of(plan)

    def between(opening: float) -> float:
        found = pose(plan, opening, sense)
        if found is None:
            return np.nan
        return float(np.linalg.norm(placed(plan, bodies[1], head, found) - placed(plan, bodies[0], foot, found)))

    def centre(opening: float) -> float:
        found = pose(plan, opening, sense)
        if found is None:
            return np.nan
        return float(placed(plan, "shell", (plan["shell"]["centre"].si, 0.1), found)[1])

    lengths = np.array([between(s * opens) for s in np.linspace(0.0, 1.0, 13)])
    h = 1e-4
    slope = (between(opens / 2 + h) - between(opens / 2 - h)) / (2 * h)
    lift = (centre(opens / 2 + h) - centre(opens / 2 - h)) / (2 * h)
    if not np.all(np.isfinite(lengths)) or np.ptp(lengths) < 0.03 or abs(slope) < 0.02 or lengths.min() < 0.12:
        return None
    per_side = int(rng.choice([1, 1, 2]))
    force = share * plan["shell"]["mass"].si * GRAVITY * abs(lift / slope) / (2 * per_side)
    stroke = np.ptp(lengths) + rng.uniform(0.022, 0.1)
    return {
        "name": f"spring {number}",
        "per_side": per_side,
        "foot_on": bodies[0],
        "foot": point(*foot),
        "head_on": bodies[1],
        "head": point(*head),
        "sideways": length(_round(rng.choice([0.0, 0.0, rng.uniform(-0.08, 0.08)]))),
        "place": length(_round(plan["opening"]["width"].si * rng.uniform(0.35, 0.5))),
        "force": Q("force", round(float(np.clip(force, 25.0, 4900.0)), 1)),
        "force_is": str(rng.choice(["F1", "F3", "middle"])),
        "ratio": Q("plain", _round(rng.uniform(1.1, 1.5))),
        "friction": Q("force", round(float(rng.uniform(0.0, 0.08) * np.clip(force, 25.0, 4900.0)), 1)),
        "friction_is": str(rng.choice(["full loop", "half loop"])),
        "stroke": length(_round(stroke)),
        "extended_length": length(_round(lengths.max() + rng.uniform(0.012, 0.02))),
        "rod_diameter": Q("length", float(rng.choice([0.008, 0.010, 0.014]))),
        "tube_diameter": Q("length", float(rng.choice([0.018, 0.022, 0.028]))),
        "tolerance": Q("percent", 0.05),
        "end_limit": Q("force", 1500.0),
        "bracket_limit": Q("force", 1800.0),
    }


def _forces(rng: np.random.Generator) -> Tables:
    def some(kind: str, most: float) -> Q:
        return Q(kind, _round(rng.choice([0.0, rng.uniform(0.0, most)])))

    return {
        "seal_line": some("line", 250.0),
        "seal_height": length(_round(rng.uniform(0.003, 0.015))),
        "cloth_mass": some("mass", 10.0),
        "cloth_tension": some("line", 40.0),
        "fold_push": some("line", 6.0),
        "wet_extra": some("mass", 6.0),
        "load_on_top": some("mass", 20.0),
        "trapped_air": some("force", 60.0),
        "gust": Q("speed", _round(rng.uniform(5.0, 15.0))),
    }


def _add_lifters(rng: np.random.Generator, plan: Tables) -> None:
    """Add a coil spring, a torsion spring or a cord to two roofs in five: not strong enough to turn the roof round."""
    if rng.random() > 0.4:
        return
    of = plan["linkage"]["kind"]
    armless, span = of in ("hinge", "guides"), plan["opening"]["length"].si
    weight = plan["shell"]["mass"].si * GRAVITY
    ends = {
        "foot": point(_round(span - rng.uniform(0.4, 0.8)), _round(rng.uniform(-0.25, -0.1))),
        "head": point(_round(span - rng.uniform(0.0, 0.3)), _round(rng.uniform(-0.2, 0.05))),
        "head_on": "shell" if armless else str(rng.choice(["shell", "arm a", "arm b"])),
        "sideways": length(_round(rng.choice([0.0, 0.05]))),
    }
    apart = float(np.hypot(*np.subtract(spot(ends["foot"]), spot(ends["head"]))))
    kind = str(rng.choice(["coil", "torsion", "cord"] if of != "guides" else ["coil", "cord"]))
    if kind == "torsion":
        moment = _round(rng.uniform(0.02, 0.1) * weight)
        at = "hinge" if armless else str(rng.choice(["arm a", "arm b"]))
        # Some are spent before the roof is open.
        spent = _round(moment / rng.uniform(10.0, 80.0))
        plan["torsion"] = [{"at": at, "moment": Q("moment", moment), "per_degree": Q("moment", spent)}]
    elif kind == "coil":
        pulls = bool(rng.random() < 0.5)
        free = _round(apart * (rng.uniform(0.6, 0.95) if pulls else rng.uniform(1.02, 1.3)))
        coil = {"kind": "pulls" if pulls else "pushes", **ends, "free_length": length(free)}
        coil["rate"] = Q("stiffness", _round(rng.uniform(0.1, 0.5) * weight))
        if pulls:
            coil["initial"] = Q("force", _round(rng.uniform(0.0, 0.05) * weight))
        plan["coil"] = [coil]
    else:
        slack = _round(apart * rng.uniform(0.6, 1.0))
        pull = rng.uniform(0.02, 0.1) * weight
        steps = ((1.3, 1.0), (1.6, 1.5), (2.5, 2.2))
        points = [{"length": length(_round(slack * a)), "force": Q("force", _round(pull * b))} for a, b in steps]
        lost = Q("percent", _round(rng.uniform(0.05, 0.3)))
        plan["cord"] = [{**ends, "slack_length": length(slack), "point": points, "lost": lost}]


def plan_of(linkage: str, seed: int) -> Tables | None:
    """Return the random plan of this number, or None where no spring was found for it."""
    rng = np.random.default_rng([EVERY.index(linkage), seed])
    span, width = _round(rng.uniform(1.4, 2.3)), _round(rng.uniform(0.9, 1.4))
    rear, front = _round(rng.uniform(0.02, 0.09)), _round(rng.uniform(0.02, 0.09))
    plan: Tables = {
        "name": f"{linkage} number {seed}",
        "settings": {"units": "metric"},
        "person": {
            "height": length(_round(rng.uniform(1.55, 1.9))),
            "reach": length(_round(rng.uniform(1.95, 2.3))),
        },
        "van": {"floor_to_roof": length(_round(rng.uniform(1.2, 1.8))), "roof_build": length(0.025)},
        "roof": {"upstand": length(_round(rng.uniform(0.02, 0.05)))},
        "opening": {"length": length(span), "width": length(width)},
        "shell": {
            "length": length(span + rear + front),
            "width": length(_round(width + rng.uniform(0.04, 0.16))),
            "height_rear": length(_round(rng.uniform(0.08, 0.3))),
            "height_middle": length(_round(rng.uniform(0.1, 0.3))),
            "height_front": length(_round(rng.uniform(0.08, 0.3))),
            "overhang_rear": length(rear),
            "rim_height": length(_round(rng.uniform(0.0, 0.02))),
            "made_of": "glass-fibre",
            "mass": Q("mass", _round(rng.uniform(20.0, 90.0))),
            "centre": length(_round(span * rng.uniform(0.42, 0.58))),
            "twist_moment": Q("moment", _round(rng.uniform(10.0, 200.0))),
            "thickness": length(0.0155),
        },
        "linkage": _MAKERS[linkage](rng, span),
    }
    if rng.random() < 0.5:
        plan["shell"]["centre_height"] = length(_round(rng.uniform(0.05, 0.25)))
    if rng.random() < 0.5:
        marks = np.linspace(-0.3, span + 0.3, 4)
        plan["roof"]["profile"] = [point(_round(x), _round(rng.uniform(-0.012, 0.0))) for x in marks]
    if rng.random() < 0.5:
        start, height = _round(rng.uniform(0.3, 0.5) * span), _round(rng.uniform(-0.3, -0.1))
        plan["bed"] = {"from": length(start), "to": length(span), "height": length(height)}
    plan["linkage"] |= {
        "spacing": length(_round(0.9 * width)),
        "play": length(0.0003),
        "plate_stiffness": Q("stiffness", 5.0e5),
        "friction": Q("moment", _round(rng.choice([0.0, rng.uniform(0.0, 8.0)]))),
    }
    if rng.random() < 0.6:
        plan["item"] = [
            {
                "name": "thing",
                "mass": Q("mass", _round(rng.uniform(1.0, 9.0))),
                "x": length(_round(span * rng.uniform(0.2, 0.8))),
                "z": length(_round(rng.uniform(0.05, 0.3))),
                "state": "add",
                "removable": bool(rng.random() < 0.5),
            }
        ]
    plan["handle"] = {
        "at": point(_round(rng.uniform(-0.05, 0.25)), _round(rng.uniform(-0.03, 0.05))),
        "strap_length": length(0.3),
    }
    plan["stop"] = {"kind": "strap"}
    entries = int(rng.choice([1, 2]))
    plan["spring"] = []
    for number in range(entries):
        tries = (_spring(rng, plan, number + 1, rng.uniform(0.7, 1.3) / entries) for _ in range(8))
        found = next((spring for spring in tries if spring is not None), None)
        if found is None:
            return None
        plan["spring"].append(found)
    plan["temperatures"] = {
        name: Q("temperature", 273.15 + _round(rng.uniform(*ends)))
        for name, ends in (("cold", (-10.0, 0.0)), ("mild", (10.0, 20.0)), ("hot", (25.0, 38.0)), ("sun", (50.0, 75.0)))
    }
    plan["forces"] = _forces(rng)
    _add_lifters(np.random.default_rng([len(LINKAGES) + EVERY.index(linkage), seed]), plan)
    # Arms are drawn for the front; half of them, and every hinge at the rear, are seen in a mirror.
    rear_end = linkage == "hinge rear" or (not linkage.startswith("hinge") and rng.random() < 0.5)
    return mirrored(plan) if rear_end else plan


@dataclass(frozen=True)
class Built:
    """A roof that the package accepts, and everything that stands in its file."""

    plan: Tables
    text: str
    project: Project

    def parts(self, stations: int = 121) -> Assembled:
        """Return the mechanics' input, one row."""
        return nominal(self.project, stations)

    def felt(self, stations: int = 121) -> tuple[Assembled, Feel]:
        """Return the mechanics' input and the forces over the travel."""
        parts = self.parts(stations)
        return parts, feel(parts.roof)


def nominal(project: Project, stations: int = 121) -> Assembled:
    """Return the mechanics' input of the nominal roof, one row."""
    return assembled(project, Nominal(inputs_of(project)), stations=stations)


def build(plan: Tables) -> Built | str:
    """Return the roof as built, or why it cannot be."""
    text = text_of(plan)
    try:
        project = loads(text)
        roof = nominal(project).roof
    except (ProjectFault, CannotAssemble) as refusal:
        return str(refusal)
    if not bool(roof.possible.all()):
        return "the arms do not reach"
    if roof.transmission is not None and float(roof.transmission.min()) < LEAST_GRIP:
        return "the arms lose their grip"
    hand = roof.travel.shell.point(*roof.handle)
    if float(np.hypot(hand.dx, hand.dz).min()) < LEAST_WAY:
        return "the handle hardly moves"
    return Built(plan, text, project)


@dataclass(frozen=True)
class Family:
    """Roofs of one linkage, and how many plans were refused on the way, with the reasons."""

    roofs: tuple[Built, ...]
    refused: tuple[str, ...]

    @property
    def share_refused(self) -> float:
        """Return refused plans over all plans."""
        return len(self.refused) / (len(self.refused) + len(self.roofs))

    def __iter__(self) -> Iterator[Built]:
        return iter(self.roofs)


@cache
def family(linkage: str, count: int = 0) -> Family:
    """Return the first `count` roofs of a linkage that can be built; else `COUNT`, or a few of those tried less."""
    count = count or (LEVEL_COUNT if linkage in LEVEL else COUNT)
    roofs: list[Built] = []
    refused: list[str] = []
    seed = 0
    while len(roofs) < count:
        plan = plan_of(linkage, seed)
        seed += 1
        found = "no spring fits" if plan is None else build(plan)
        if isinstance(found, Built):
            roofs.append(found)
        else:
            refused.append(found)
    return Family(tuple(roofs), tuple(refused))
