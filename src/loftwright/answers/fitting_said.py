"""What every page on the fit-out is written with: the question of a judgement, electrical figures in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import numpy as np

from loftwright.answers.hold_said import nominal
from loftwright.core.checks import Check
from loftwright.core.fitting_pages import FittingPart
from loftwright.core.motion import Array
from loftwright.core.wording import Wording

PART_OF: Final[dict[str, FittingPart]] = {
    "SEAL": "seal",
    "ROOM": "standing",
    "SUN": "panel",
    "WIRE": "panel",
    "LIFTER": "lift",
    "LINING": "lining",
}
"""The question under which a judgement stands, by the beginning of its rule's id."""
BAND: Final = (5.0, 95.0)
"""Ends of a range in words [percent of the draws]: nine of ten roofs."""


def part_of(check: Check) -> FittingPart:
    """Return the question under which a judgement stands."""
    return PART_OF[check.rule.id.partition("-")[0]]


def of_part(checks: Iterable[Check], part: FittingPart) -> tuple[Check, ...]:
    """Return the judgements of one question in the order in which they come."""
    return tuple(check for check in checks if part_of(check) == part)


def bare(value: float, unit: str, say: Wording) -> str:
    """Return a number with a unit that both systems share: watts, amperes, volts.

    >>> bare(5.8, "A", Wording()), bare(214.3, "W h", Wording())
    ('5.80 A', '214 W h')
    """
    return f"{say.ratio(value)} {unit}"


def energy(value: float, say: Wording) -> str:
    """Return an energy [W h], whole.

    >>> energy(87.6, Wording())
    '88 W h'
    """
    return say.whole(value, "W h")


def band(value: Array, rows: slice) -> tuple[Array, Array]:
    """Return what nine of ten drawn roofs lie between, of values [rows, ...]; without draws the nominal; unit stays."""
    drawn = rows if rows.stop > rows.start else slice(0, 1)
    low, high = np.percentile(np.asarray(value)[drawn], BAND, axis=0)
    return np.asarray(low), np.asarray(high)


def first(value: Array) -> float:
    """Return the nominal row's number; its unit stays."""
    return nominal(value)
