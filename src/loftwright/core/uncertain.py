"""A number with what is known of it: nominal value, range, and where it comes from."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from loftwright.core.errors import Bug

Shape = Literal["exact", "normal", "even"]


class Provenance(StrEnum):
    """How a value came to be known.

    `GIVEN` is a plain decision, written down without a word; `SUGGESTED` is one that the program made and the
    builder has not taken over yet.
    """

    GIVEN = "given"
    MEASURED = "measured"
    LABEL = "label"
    SUGGESTED = "suggested"
    ASSUMED = "assumed"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A value in SI units with its range.

    `shape` "normal": `low` and `high` lie two standard deviations from `nominal`;
    "even": every value between `low` and `high` is as likely as any other;
    "exact": all three are equal.
    """

    nominal: float
    low: float
    high: float
    shape: Shape
    provenance: Provenance

    def __post_init__(self) -> None:
        if not (math.isfinite(self.nominal) and math.isfinite(self.low) and math.isfinite(self.high)):
            raise Bug("an uncertain value must be finite")
        if not self.low <= self.nominal <= self.high:
            raise Bug(f"{self.nominal} lies outside its own range {self.low} .. {self.high}")

    @property
    def spread(self) -> float:
        """Half the distance between the two ends."""
        return (self.high - self.low) / 2

    @property
    def is_open(self) -> bool:
        """Whether the value is assumed or unknown: a verdict that hangs on it is not known yet."""
        return self.provenance in (Provenance.ASSUMED, Provenance.UNKNOWN)


def is_known(value: Uncertain | None) -> bool:
    """Return whether a key that may be left out says more than "unknown"."""
    return value is not None and value.provenance is not Provenance.UNKNOWN


def exact(value: float, provenance: Provenance = Provenance.GIVEN) -> Uncertain:
    """Return a value without spread."""
    return Uncertain(value, value, value, "exact", provenance)


def normal(value: float, two_sd: float, provenance: Provenance = Provenance.MEASURED) -> Uncertain:
    """Return a value whose `two_sd` is two standard deviations."""
    if two_sd == 0:
        return exact(value, provenance)
    return Uncertain(value, value - two_sd, value + two_sd, "normal", provenance)


def even(
    low: float, high: float, provenance: Provenance = Provenance.ASSUMED, nominal: float | None = None
) -> Uncertain:
    """Return a value equally likely anywhere between `low` and `high`."""
    middle = (low + high) / 2 if nominal is None else nominal
    return Uncertain(middle, low, high, "even" if high > low else "exact", provenance)
