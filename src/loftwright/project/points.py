"""Places on the closed roof: x to the cab, z up, from the middle of the rear edge of the opening at roof height."""

from __future__ import annotations

from typing import Annotated

from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.project.keys import HINGED_END, Key, Section, Spot


def x_key(meaning: str, unknown: tuple[float, float], reason: str, per: str = "opening.length") -> Key:
    """Return what is said of an x; `unknown` counts in shares of the key `per`."""
    return Key(Dimension.LENGTH, -3.0, 6.0, meaning, unknown, reason, per=per)


def z_key(meaning: str, unknown: tuple[float, float], reason: str) -> Key:
    """Return what is said of a z; `unknown` is in metres."""
    return Key(Dimension.LENGTH, -2.0, 1.5, meaning, unknown, reason)


class Point(Section):
    """A point of the closed roof in the side view; the `Spot` of the key that holds it says more."""

    x: Annotated[
        Uncertain,
        x_key("distance towards the cab from the rear edge of the opening", (0.0, 1.0), "anywhere over the opening"),
    ]
    z: Annotated[
        Uncertain,
        z_key(
            "height above the roof at the opening",
            (-0.1, 0.1),
            "judgement: from low in the roof's frame to on top of it",
        ),
    ]


def pivot(meaning: str, x: tuple[float, float], z: tuple[float, float]) -> Spot:
    """Return what is said of a pivot or spring end; x counts from the hinged end in shares of the opening's length."""
    return Spot(
        meaning,
        x=x_key(
            f"{meaning}: x",
            x,
            "judgement: where it sits on roofs that balance",
            per=HINGED_END,
        ),
        z=z_key(f"{meaning}: z", z, "judgement: where a bracket on a low frame puts it"),
    )
