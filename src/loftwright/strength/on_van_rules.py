"""Whether the van bears the raised roof, and the closed roof bears snow and a foot: rules and judgements."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.strength.on_van import FOOTING, Lump, Stops, both, footing_lost, stop_loads
from loftwright.strength.plate_support import ROARK, Bent, Field, under_even_load, under_foot
from loftwright.strength.snow import snow_load

_PLATE_OF_THE_VAN = Source("judgement", "the van's own plate and handbook", "judgement")
_PANEL = Source("timoshenko-plates-and-shells", "Table 8 and art. 30 (from memory, verified by its series)", "handbook")
_SETTING = Source("judgement", "a setting of the project file", "judgement")

ROOF_LOAD: Final = Rule(
    "VAN-951",
    "Too heavy for the van's roof",
    "The van's roof may carry it",
    "kg",
    "at most",
    "The maker states how much the roof may carry while driving; a hole in it leaves less. Type approval rests on it.",
    "Build lighter, move weight from the roof into the van, or ask a local inspector what the roof may carry.",
    _PLATE_OF_THE_VAN,
)
GROSS: Final = Rule(
    "VAN-952",
    "The loaded van is heavier than its plate allows",
    "The loaded van keeps within its plate",
    "kg",
    "at most",
    "Brakes, tyres, licence and insurance rest on the masses of the plate.",
    "Weigh the van loaded, axle by axle, and leave things out or move them.",
    _PLATE_OF_THE_VAN,
)
FOOTING_LOST: Final = Rule(
    "VAN-953",
    "The van stands less firmly in bends and side winds",
    "The van stands about as firmly as before",
    "fraction",
    "at most",
    "Weight on the roof raises the centre of mass and lowers half the track over its height. This is a comparison "
    "with the van before, no assessment of roll-over.",
    "Build lighter, put heavy things low, and ask a local inspector whether the change needs approval.",
    FOOTING,
)
TOO_HIGH: Final = Rule(
    "VAN-954",
    "Too high for where you want to go",
    "Low enough for where you want to go",
    "m",
    "at most",
    "A roof met by a bar or a bridge comes off with what it is bolted to.",
    "Lower the shell, take off what stands out, or go round; put the height on a sign at the driver's seat.",
    _SETTING,
)
FOOT_CRACKS: Final = Rule(
    "VAN-955",
    "The closed roof cracks under a foot",
    "The closed roof bears a foot",
    "Pa",
    "at most",
    "Someone will climb up to clear leaves or a branch, and a foot is a small patch between stiffeners.",
    "Set stiffeners closer, use a cored skin, or write on it that nobody may step there.",
    ROARK,
)
FOOT_SAGS: Final = Rule(
    "VAN-956",
    "The closed roof gives too much under a foot",
    "The closed roof gives little under a foot",
    "short m",
    "at most",
    "A skin that sags on what lies below it is marked from inside and cracks its gel coat.",
    "Set stiffeners closer, or use a cored skin.",
    ROARK,
)
SNOW_CRACKS: Final = Rule(
    "VAN-957",
    "Snow cracks the closed roof",
    "The closed roof bears the snow",
    "Pa",
    "at most",
    "Wet snow weighs four times as much as fresh snow.",
    "Set stiffeners closer, or sweep the roof before snow is deep.",
    _PANEL,
)


@dataclass(frozen=True, slots=True)
class OnVan:
    """Van and roof to judge; numbers are [...] over rows, `added` is all that the conversion brings.

    `on_roof` is the part of it that the roof carries, `roof_load` what the van's papers allow there [kg]; `gross`
    [kg] from the plate, each None where it is left out; `most_lost` [1]; `height` and `height_limit` [m].
    """

    van: Lump
    added: Lump
    on_roof: Array
    roof_load: Array | None
    gross: Array | None
    most_lost: Array
    height: Array
    height_limit: Array | None


def _judge(rule: Rule, value: Array, limit: Array | None, ask: str, missing: str, which: str = "") -> Judged:
    if limit is None:
        return Judged(rule, value, None, which, ask, missing)
    high, top = np.broadcast_arrays(value, np.asarray(limit, dtype=np.float64))
    return Judged(rule, high, top, which)


def judge_on_van(roof: OnVan) -> tuple[Judged, ...]:
    """Return the judgements on masses, footing and height; what is not given is not known yet."""
    whole = both(roof.van, roof.added)
    found = [
        _judge(ROOF_LOAD, roof.on_roof, roof.roof_load, "how much the van's papers allow on its roof", "roof_load"),
        _judge(FOOTING_LOST, footing_lost(roof.van, roof.added), roof.most_lost, "", ""),
        _judge(TOO_HIGH, roof.height, roof.height_limit, "the lowest height that you must pass", "height_limit"),
    ]
    if roof.gross is not None:
        found.append(_judge(GROSS, whole.mass, roof.gross, "", "", "whole van"))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class OnTop:
    """What lies on the closed roof, each [...].

    A foot's `force` [N] on a square of `side` [m] at `foot_x`, `foot_y` [m]; snow of `depth` [m] and `weight` [N/m3]
    over `area` [m2] with its middle at `x`, `y` [m].
    """

    force: Array
    side: Array
    foot_x: Array
    foot_y: Array
    depth: Array
    weight: Array
    area: Array
    x: Array
    y: Array


@dataclass(frozen=True, slots=True)
class TopLimits:
    """What the closed roof may bear, each [...], None where it is not known.

    Bending `strength` [Pa] over its `safety` [1] and `sag` under a foot [m].
    """

    strength: Array | None
    safety: Array
    sag: Array


@dataclass(frozen=True, slots=True)
class TopLoads:
    """A field of the roof under a `foot` and under `snow`, and each stop's load with either [N], [..., n]."""

    foot: Bent
    snow: Bent
    stops_foot: Array
    stops_snow: Array


def top_loads(field: Field, stops: Stops, top: OnTop) -> TopLoads:
    """Return what a foot and snow do to the closed roof and to its stops; the two do not come together."""
    pressure = top.depth * top.weight
    snow = snow_load(top.depth, top.area, top.weight)
    return TopLoads(
        under_foot(field, top.force, top.side),
        under_even_load(field, pressure),
        stop_loads(stops, top.force, top.foot_x, top.foot_y),
        stop_loads(stops, snow, top.x, top.y),
    )


def judge_top(loads: TopLoads, limits: TopLimits) -> tuple[Judged, ...]:
    """Return the judgements on a closed roof under a foot and under snow."""
    allowed = None if limits.strength is None else limits.strength / limits.safety
    ask = "the bending strength of a strip of the laminate"
    return (
        _judge(FOOT_CRACKS, loads.foot.stress, allowed, ask, "skin_strength"),
        _judge(FOOT_SAGS, loads.foot.sag, limits.sag, "", ""),
        _judge(SNOW_CRACKS, loads.snow.stress, allowed, ask, "skin_strength"),
    )
