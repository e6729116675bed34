"""The elastic chain on shapes whose exact answers are known: overhang, end load, hanging loops, two plates.

For checking the chain, and for reading the overhang test of a strip of cloth.
"""

from __future__ import annotations

from typing import Any, Final, Literal

import numpy as np

from loftwright.cloth.chain_march import Phase, advance, empty_room, hang
from loftwright.cloth.chain_parts import Room, Strand
from loftwright.core.motion import Array

Loop = Literal["ring", "pear", "heart"]
"""Both ends in one clamp: joined level, leaving downward, leaving upward."""

_LEAVES: Final = {"ring": (1.0, 0.0), "pear": (0.0, -1.0), "heart": (0.0, 1.0)}


def overhang(strand: Strand, *, node: float = 0.005, **how: Any) -> tuple[Array, Phase]:
    """Return the nodes [n, 2] [m] of `strand` clamped level and hanging free under its weight, and how it ended.

    `node` [m]: distance between nodes; `how` as in `chain.advance`.
    """
    shape = np.array([[0.0, 0.0], [strand.length, 0.0]])
    hung = hang(strand, shape, np.array([1.0, 0.0]), node=node, free=True, touch=False)
    still = np.zeros((2, 2))
    ended = advance(hung, still, still + np.array([0.0, 1.0]), empty_room(), seconds=0.0, **how)
    return hung.x, ended


def end_loaded(strand: Strand, load: float, *, node: float = 0.005, **how: Any) -> tuple[Array, Phase]:
    """Return the nodes [n, 2] [m] of a weightless upright `strand` pulled inward by `load` [N/m] at its free end.

    `node` [m] and `how` as in `overhang`.
    """
    shape = np.array([[0.0, 0.0], [0.0, strand.length]])
    hung = hang(strand, shape, np.array([0.0, 1.0]), node=node, free=True, touch=False, gravity=0.0)
    hung.loads[-1, 0] = load
    still = np.zeros((2, 2))
    ended = advance(hung, still, still + np.array([0.0, 1.0]), empty_room(), seconds=0.0, **how)
    return hung.x, ended


def loop(strand: Strand, kind: Loop, *, weight: bool = True, node: float = 0.005, **how: Any) -> tuple[Array, Phase]:
    """Return the nodes [n, 2] [m] of `strand` as a loop hanging from one clamp that holds both ends.

    `weight`: whether gravity acts; `node` [m] and `how` as in `overhang`.
    """
    turn = np.linspace(0.0, 2.0 * np.pi, 201)
    radius = strand.length / (2.0 * np.pi)
    shape = radius * np.stack([np.sin(turn), np.cos(turn) - 1.0], axis=-1)
    u, z = _LEAVES[kind]
    more = {} if weight else {"gravity": 0.0}
    hung = hang(strand, shape, np.array([u, z]), node=node, touch=False, **more)
    still = np.zeros((2, 2))
    ended = advance(hung, still, still + np.array([-u, z]), empty_room(), seconds=0.0, **how)
    return hung.x, ended


def between_plates(
    strand: Strand, gap: float, *, opened: float = 3.0, node: float = 0.003, seconds: float = 2.0, **how: Any
) -> tuple[Array, Phase]:
    """Return the nodes [n, 2] [m] of a weightless fold pressed between two level plates, and how it ended.

    `gap` [m]: between the middles of the outer layers; it starts `opened` [1] times as wide and closes in `seconds`
    [s]; `Phase.lift` is the push. `node` [m] and `how` as in `overhang`.
    """
    wide, half = opened * gap, strand.thickness / 2.0
    turn = np.linspace(-np.pi / 2, np.pi / 2, 101)
    tail = (strand.length - np.pi * wide / 2.0) / 2.0
    bow = np.stack([tail + wide / 2 * np.cos(turn), wide / 2 * (1.0 + np.sin(turn))], axis=-1)
    shape = np.concatenate([[[0.0, 0.0]], bow, [[0.0, wide]]])
    hung = hang(strand, shape, np.array([1.0, 0.0]), node=node, touch=False, gravity=0.0)
    floor = np.array([[-1.0, -1.0, strand.length, -half]])
    none = np.zeros(2)
    room = Room(floor, half, none, np.zeros((0, 3)), 0.0, np.zeros((0, 2)), np.zeros((0, 3)), none)
    path = np.array([[0.0, wide], [0.0, gap]])
    ended = advance(hung, path, np.array([[1.0, 0.0], [1.0, 0.0]]), room, seconds=seconds, **how)
    return hung.x, ended


def chord_angle(points: Array) -> float:
    """Return how far the line from the clamp to the free end of `points` [n, 2] [m] dips below level [rad]."""
    end = points[-1] - points[0]
    return float(np.arctan2(-end[1], end[0]))
