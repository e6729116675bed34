"""A shell weighed on two lines, as a whole and over a pipe: readings made from a mass and a centre."""

from __future__ import annotations

from loftwright.core.uncertain import Uncertain, normal
from loftwright.mechanics.weigh import Balance, Line, Reading, Weighed, Whole, weigh

REAR, FRONT = normal(0.05, 0.006), normal(2.35, 0.006)


def kilograms(value: float, two_sd: float = 0.5) -> Uncertain:
    return normal(value, two_sd)


def settled(readings: list[Reading]) -> Weighed:
    got = weigh(readings)
    assert isinstance(got, Weighed)
    return got


def readings_of(mass: float, centre: float, two_sd: float = 0.5) -> list[Reading]:
    span = FRONT.nominal - REAR.nominal
    rear = mass * (FRONT.nominal - centre) / span
    return [
        Line(REAR, FRONT, kilograms(rear, two_sd)),
        Line(FRONT, REAR, kilograms(mass - rear, two_sd)),
        Whole(kilograms(mass, two_sd)),
        Balance(normal(centre, 0.01)),
    ]
