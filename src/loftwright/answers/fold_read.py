"""The fold's kept answer read again, whatever the file holds: places for views, runs as the domain counts them."""

from __future__ import annotations

import math
from typing import Any, Final, cast

import numpy as np

from loftwright.answers.kept_walls import KeptPlace, KeptPose
from loftwright.cloth.chain import Folded, Start
from loftwright.cloth.fold_ways import Ending, Way, Ways
from loftwright.core.pattern import XY

FORM: Final = 2
"""Of what an answer is made up; one kept in another form counts as not there."""
MOST_STARTS: Final = 400
MOST_PLACES: Final = 8
MOST_POINTS: Final = 1000


def read_fold(answer: Any) -> tuple[KeptPlace, ...]:
    """Return the places of an answer as it was kept. Raises ValueError where it is not of that form."""
    try:
        if answer["form"] != FORM:
            raise ValueError("no fold of this form")
        places = answer["places"]
        if not isinstance(places, list) or len(places) > MOST_PLACES:
            raise ValueError("no list of places")
        return tuple(_place(one) for one in places)
    except (KeyError, TypeError, IndexError, AttributeError, OverflowError) as fault:
        raise ValueError(f"a kept fold that cannot be read: {fault}") from None


def _finite(values: Any, least: float = -math.inf) -> tuple[float, ...]:
    found = tuple(float(v) for v in values)
    if not all(math.isfinite(v) and v >= least for v in found):
        raise ValueError("no number")
    return found


def _line(points: Any) -> tuple[XY, ...]:
    found = tuple((float(u), float(z)) for u, z in points)
    if not 2 <= len(found) <= MOST_POINTS or not all(math.isfinite(v) for point in found for v in point):
        raise ValueError("no line")
    return found


def _place(one: Any) -> KeptPlace:
    ways = tuple(str(way) for way in one["ways"])
    count = len(ways)
    if not 0 < count <= MOST_STARTS or any(way not in ("in", "out", "both") for way in ways):
        raise ValueError("no ways")
    lists = [_finite(one[key], 0.0) for key in ("inward", "outward", "tip", "bundle", "push")]
    ends = tuple(_line(end) for end in one["ends"])
    curve = _finite(one["open_at"], 0.0), _finite(one["lifts"], 0.0)
    if any(len(v) != count for v in (*lists, ends)) or len(curve[0]) != len(curve[1]):
        raise ValueError("lists of unlike length")
    poses = tuple(KeptPose(_finite([pose[0]])[0], _line(pose[1])) for pose in one["poses"])
    if len(poses) > MOST_POINTS:
        raise ValueError("too many poses")
    inward, outward, tip, bundle, push = lists
    rested = int(one["rested"])
    return KeptPlace(str(one["name"]), ways, inward, outward, bundle, push, poses, ends, *curve, rested, tip)


def ways_of(place: KeptPlace) -> Ways:
    """Return the runs of a kept place as the domain counts them, in the order of their starts."""
    none = np.zeros((0, 2, 2))
    endings = []
    for k, way in enumerate(place.ways):
        folded = Folded(
            points=np.array(place.ends[k]),
            inward=place.inward[k],
            outward=place.outward[k],
            bundle=place.bundle[k],
            lift=place.push[k],
            rest=0.0,
            strain=0.0,
            steps=0,
            step=0.0,
            frames=none,
            frame_drive=np.zeros(0),
            lifts=np.zeros(0),
        )
        endings.append(Ending(Start(0.0, k), cast(Way, way), folded, k < place.rested))
    return Ways(place.name, tuple(endings))
