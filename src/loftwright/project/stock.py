"""Springs at hand as entries of a list, with what a test at home says of their force."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loftwright.core.lifting import Entries
from loftwright.core.uncertain import Provenance, Uncertain
from loftwright.mechanics.gas_spring import first_force, full_loop
from loftwright.project.choice_sections import AtHand, HomeTest
from loftwright.project.spring_doubt import LEAST_FIRST_FORCE, LOOP_SHARES

FIRST_PART = 0.01
"""Middle of the part of the stroke in which a spring is tested at home, the first 20 mm [m]."""

PIECES_DOUBT = 0.02
"""How far other springs of one delivery may lie from the one that was tested [1]: common practice, no source."""

AS_MANY_AS_WANTED = 1000
"""Pieces of a spring that can be bought."""


@dataclass(frozen=True, slots=True)
class Listed:
    """Springs to choose from: entries, how many there are of each, [entries], and the currency of their prices.

    `said` are sentences on what was taken.
    """

    entries: Entries
    pieces: NDArray[np.intp]
    currency: str
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tested:
    """A spring's F1 and full loop [N], each with its doubt (two standard deviations) [N]."""

    force_1: float
    force_doubt: float
    loop: float
    loop_doubt: float


def home_force(test: HomeTest, ratio: float, stroke: float) -> Tested:
    """Return what a test at home says of a spring.

    The plank lies on an edge and on the scales; moments about the edge give the push on it

        F a = R p,  F = R p / a                                       (1)

    with the reading R, plank p from edge to scales and a from edge to spring; p/a = 1 for a spring that stands on the
    scales. The plank's weight is in no reading, as it is taken off. Within the first 20 mm, on average at c = 10 mm,

        F1 = F_out (1 - (1 - 1/r) c/s),  loop = F_in - F_out           (2)

    Doubts of the two readings and two lengths are taken as independent (first order, as in the GUM), and c as known
    to 10 mm. `ratio` r [1]; `stroke` s [m]. Validity: slow movement near 20 C. Source: equilibrium of the plank;
    `gas_spring.slow_force`.
    """
    lever, lever_doubt = 1.0, 0.0
    if test.plank is not None and test.spring_at is not None:
        lever = test.plank.nominal / test.spring_at.nominal
        lever_doubt = math.hypot(*(v.spread / v.nominal for v in (test.plank, test.spring_at)))
    least = LEAST_FIRST_FORCE / lever
    out, into = test.reads_out, test.reads_in
    gained = (1.0 - 1.0 / ratio) * FIRST_PART / stroke
    reads = max(out.nominal, least)
    force_1 = lever * reads * (1.0 - gained)
    loop = lever * max(into.nominal - reads, 0.0)
    return Tested(
        force_1,
        force_1 * math.hypot(out.spread / reads, lever_doubt, gained),
        loop,
        math.hypot(lever * into.spread, lever * out.spread, loop * lever_doubt),
    )


def entries_of(springs: Sequence[AtHand]) -> Listed:
    """Return springs at hand as entries; prices are not given. Forces [N], lengths [m].

    The tolerance of an entry is what its F1 may differ from the nominal one: as delivered where the force is from a
    list, as read where it was measured or tested at home. End fittings count at the low end of what is written; where
    nobody knows what they carry, at the high end of the usual range: they are bought to suit.
    """
    forces = [_force(spring) for spring in springs]
    fields = {
        "force_1": [f.force_1 for f in forces],
        "ratio": [s.ratio.nominal for s in springs],
        "ratio_doubt": [s.ratio.spread for s in springs],
        "loop": [f.loop for f in forces],
        "loop_doubt": [f.loop_doubt for f in forces],
        "stroke": [s.stroke.nominal for s in springs],
        "extended": [s.extended_length.nominal for s in springs],
        "length_doubt": [s.extended_length.spread for s in springs],
        "rod_diameter": [s.rod_diameter.nominal for s in springs],
        "tube_diameter": [s.tube_diameter.nominal for s in springs],
        "tolerance": [f.force_doubt / f.force_1 for f in forces],
        "end_limit": [s.end_limit.high if _is_open(s.end_limit) else s.end_limit.low for s in springs],
        "price": [math.nan] * len(springs),
    }
    arrays = {name: np.array(values, dtype=np.float64) for name, values in fields.items()}
    same = np.stack([arrays[name] for name in arrays if name not in ("force_1", "price")], axis=-1)
    body = np.unique(np.round(same, 9), axis=0, return_inverse=True)[1].reshape(len(springs)).astype(np.intp)
    entries = Entries(names=tuple(spring.name for spring in springs), body=body, **arrays)
    return Listed(entries, np.array([s.pieces for s in springs], dtype=np.intp), "", _open_limits(springs))


def _force(spring: AtHand) -> Tested:
    """Return F1 and loop of a spring, from its test at home or else from what is written."""
    if spring.home_test is not None:
        found = home_force(spring.home_test, spring.ratio.nominal, spring.stroke.nominal)
        others = PIECES_DOUBT * found.force_1 if spring.pieces > 1 else 0.0
        return Tested(found.force_1, math.hypot(found.force_doubt, others), found.loop, found.loop_doubt)
    loop = float(full_loop(spring.friction.nominal, spring.friction_is))
    doubt = float(full_loop(spring.friction.spread, spring.friction_is))
    force_1 = max(float(first_force(spring.force.nominal, loop, spring.force_is)), LEAST_FIRST_FORCE)
    # A spring that was itself measured is what was delivered.
    delivered = 0.0 if spring.force.provenance is Provenance.MEASURED else spring.tolerance.nominal * force_1
    return Tested(
        force_1, math.hypot(delivered, spring.force.spread, LOOP_SHARES[spring.force_is] * doubt), loop, doubt
    )


def _is_open(value: Uncertain) -> bool:
    return value.provenance is Provenance.UNKNOWN


def _open_limits(springs: Sequence[AtHand]) -> tuple[str, ...]:
    """Return a sentence on end fittings of which it is not known what they carry."""
    count = sum(_is_open(spring.end_limit) for spring in springs)
    if not count:
        return ()
    return (
        f"What the end fittings carry is unknown for {count} of {len(springs)} springs and hardly judged: ask for "
        "fittings that carry what the springs push at most.",
    )
