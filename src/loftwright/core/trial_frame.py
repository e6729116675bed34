"""A timber frame on the ground that copies the opening, as shapes and lists: what is cut, and what is drawn.

Metres in the van's frame: x to the cab, y left, z up, origin at the middle of the opening's rear edge at roof height.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Place = tuple[float, float, float]
"""A point (x, y, z) [m]."""


@dataclass(frozen=True, slots=True)
class Box:
    """One straight piece of the frame between two opposite corners [m]; `mark` is the member's letter."""

    mark: str
    low: Place
    high: Place


@dataclass(frozen=True, slots=True)
class Brace:
    """A sloping board: its middle line from a to b [m], `wide` in the plane of the brace, `thick` across it [m]."""

    mark: str
    a: Place
    b: Place
    wide: float
    thick: float
    plane: Literal["side", "end"]


@dataclass(frozen=True, slots=True)
class Member:
    """Like pieces of the frame: letter, name, how many, `thick` x `deep` and length [m].

    `cut` [rad] is how far the ends are cut off square; `joint` says what holds one end.
    """

    mark: str
    name: str
    count: int
    thick: float
    deep: float
    length: float
    cut: float
    joint: str


@dataclass(frozen=True, slots=True)
class Held:
    """A point that the frame holds on both sides: name, x and z [m], `place` from the middle plane [m], load [N].

    `half` [m]: how far its outermost holes lie from x, along.
    """

    name: str
    x: float
    z: float
    place: float
    load: float
    half: float = 0.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One stock length of a section and the lengths cut from it [m]; `left` is what remains."""

    thick: float
    deep: float
    length: float
    cuts: tuple[tuple[str, float], ...]
    left: float


@dataclass(frozen=True, slots=True)
class TrialFrame:
    """The whole frame.

    `opening`: length and width [m]; `top`: upper edge of the sides [m]; `ground` [m], negative; `sides`: from and to
    [m]; `legs`: their middles along [m]; `packers`: (x, height) on the sides, `crown`: (y, height) over the sides'
    upper edge at the ends [m]; `stress` [Pa] against `allowed`; `sag` [m] against `sag_allowed` of a side at its worst;
    `heaviest_pull` [N] by hand; `ballast` [kg] low down, all corners together; `mass` of the timber [kg].
    """

    opening: tuple[float, float]
    top: float
    ground: float
    sides: tuple[float, float]
    legs: tuple[float, ...]
    boxes: tuple[Box, ...]
    braces: tuple[Brace, ...]
    members: tuple[Member, ...]
    held: tuple[Held, ...]
    packers: tuple[tuple[float, float], ...]
    crown: tuple[tuple[float, float], ...]
    stress: float
    allowed: float
    sag: float
    sag_allowed: float
    strong: bool
    heaviest_pull: float
    ballast: float
    mass: float
