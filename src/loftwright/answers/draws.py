"""Rows: the nominal roof, every uncertain input alone at both ends, and seeded joint draws, all side by side.

Row 0 is nominal. Then come two rows for each uncertain input, low end and high end. The rest are
joint draws. Each input has its own stream of chances, so that adding one leaves the others alone.
The chances are made from the raw bits of a generator whose stream is fixed, so that the same seed
gives the same rows on every machine.
"""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from loftwright.core.motion import Array
from loftwright.core.uncertain import Uncertain


@dataclass(frozen=True, slots=True)
class Input:
    """One uncertain input: its value, the bounds it can never leave, and how a builder would settle it.

    `same_as` names the input that this one simply follows; the two are then one. `by_nature`: nobody can measure it at
    home; it widens the odds, and no verdict waits for it.
    """

    value: Uncertain
    low: float
    high: float
    measure: str
    same_as: str = ""
    by_nature: bool = False


def followed(inputs: Mapping[str, Input], path: str) -> str:
    """Return the path of the input that `path` stands for: itself, or the one that it follows."""
    while inputs[path].same_as:
        path = inputs[path].same_as
    return path


@dataclass(frozen=True, slots=True)
class Rows:
    """Values of every input for every row; `alone` gives each input's low and high row."""

    inputs: Mapping[str, Input]
    alone: Mapping[str, tuple[int, int]]
    draws: slice
    count: int
    columns: Mapping[str, Array]

    def __call__(self, path: str) -> Array:
        """Return the input at `path` for every row, [rows]."""
        return self.columns[followed(self.inputs, path)]


class Nominal:
    """Hands out nominal values, one row, and remembers which inputs were asked for."""

    def __init__(self, inputs: Mapping[str, Input]) -> None:
        self.inputs = inputs
        self.asked: dict[str, None] = {}

    def __call__(self, path: str) -> Array:
        """Return the nominal value at `path`, [1]."""
        path = followed(self.inputs, path)
        self.asked[path] = None
        return np.array([self.inputs[path].value.nominal])


def joint(value: Uncertain, path: str, draws: int, seed: int) -> Array:
    """Return `draws` chances of one input, [draws]; the stream belongs to `path` and `seed`."""
    bits = np.random.PCG64([seed, zlib.crc32(path.encode())]).random_raw(2 * draws)
    # The upper 53 bits make an even chance above nought and up to one.
    first, second = ((bits >> np.uint64(11)).astype(np.float64) + 1.0).reshape(draws, 2).T * 2.0**-53
    if value.shape == "normal":
        # Box and Muller (1958): two even chances make a normal one.
        gauss = np.sqrt(-2.0 * np.log(first)) * np.cos(2.0 * np.pi * second)
        return np.asarray(value.nominal + 0.5 * value.spread * gauss)
    if value.shape == "even":
        return np.asarray(value.low + (value.high - value.low) * first)
    return np.full(draws, value.nominal)


def rows(
    inputs: Mapping[str, Input], used: Mapping[str, None], draws: int, seed: int, *, each_alone: bool = True
) -> Rows:
    """Return the rows for the inputs that were asked for; without `each_alone` only the nominal one and the draws."""
    moving = [path for path in used if inputs[path].value.high > inputs[path].value.low]
    alone = {path: (1 + 2 * i, 2 + 2 * i) for i, path in enumerate(moving)} if each_alone else {}
    first = 1 + 2 * len(alone)
    count = first + draws
    columns: dict[str, Array] = {}
    for path in used:
        known = inputs[path]
        column = np.full(count, known.value.nominal)
        if path in alone:
            column[alone[path][0]], column[alone[path][1]] = known.value.low, known.value.high
        if known.value.high > known.value.low:
            column[first:] = joint(known.value, path, draws, seed)
        columns[path] = np.clip(column, known.low, known.high)
    return Rows(inputs, alone, slice(first, count), count, columns)
