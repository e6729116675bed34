"""The planned roof over gusts and directions, for a page that only draws straight between."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.held_cloth import ClothFound
from loftwright.answers.held_gusts import OpenRoof, used_of
from loftwright.core.motion import Array, Flags
from loftwright.project.assemble_wind import Bears
from loftwright.strength.held import FREE_END
from loftwright.strength.supports import SMALL_SHIFT, Support, hold, motion_at
from loftwright.strength.wind import velocity_pressure

TABLE: Final[tuple[float, ...]] = tuple(float(v) for v in np.arange(0.0, 41.0, 2.0))
"""Gusts [m/s] of the table for a page's slider, beside the one that is wanted."""
MOST_SHARE: Final = 10.0
"""Greatest share of a limit in the table [1]; a roof that nothing holds has it everywhere."""


@dataclass(frozen=True, slots=True)
class WindTable:
    """The planned roof over gusts and directions, for a page that only draws straight between.

    `gusts` [m/s], [gusts]; `names` of things; `share` of the limit used [1], [gusts, directions, things], at most
    `MOST_SHARE`; `held` [gusts, directions]; `sway` [m] and `twist` [rad] of the free end, [gusts, directions].
    """

    gusts: tuple[float, ...]
    names: tuple[str, ...]
    share: Array
    held: Flags
    sway: Array
    twist: Array


def _first_row(one: Support, rows: int) -> Support:
    """Return a support of the planned roof alone."""

    def cut(value: Array, core: int) -> Array:
        return value[:1] if value.ndim > core and value.shape[0] == rows else value

    return replace(
        one,
        point=cut(one.point, 1),
        direction=cut(one.direction, 1),
        stiffness=cut(one.stiffness, 0),
        gap=cut(one.gap, 0),
        fitted=cut(one.fitted, 0),
    )


def _one(value: Array | None, rows: int) -> Array | None:
    return None if value is None else np.broadcast_to(value, (rows,))[:1]


def table_of(solved: OpenRoof, cloth: ClothFound | None) -> WindTable:
    """Return the planned roof over gusts."""
    rows = solved.load.size
    one = OpenRoof(
        tuple(_first_row(s, rows) for s in solved.supports),
        tuple(
            Bears(
                b.part,
                b.job,
                np.broadcast_to(b.force, (rows,))[:1],
                *(_one(v, rows) for v in (b.moment, b.lever, b.span)),
            )
            for b in solved.bears
        ),
        tuple(
            replace(
                x, force=None if x.force is None else x.force[:1], moment=None if x.moment is None else x.moment[:1]
            )
            for x in solved.limits
        ),
        *(v[:1] for v in (solved.unit, solved.still, solved.load, solved.wanted)),
        *(v[:1] for v in (solved.sway_limit, solved.lip, solved.rattle)),
    )
    gusts = np.unique([*TABLE, min(float(one.wanted[0]), TABLE[-1])])
    q = velocity_pressure(gusts)
    both = np.concatenate([q * one.load[0], q])[:, None]
    found = hold(one.supports, one.still[..., None, :] + one.unit[..., None, :] * both)
    n = q.size
    used = [u[0, ..., :n].max(axis=0) for u in used_of(one, found)]
    names = [limit.part for limit in one.limits]
    held = np.asarray(found.held[0, ..., :n].all(axis=0))
    change = found.motion[..., n:, :] - found.motion[..., n : n + 1, :]
    change = np.where(found.held[..., n:, None], change, 0.0)
    moved = np.abs(motion_at(change, one.lip)[0, ..., 1]).max(axis=0)
    fine = found.held[0, ..., n:]
    loose = np.where(gusts > 0.0, one.rattle[0], 0.0)
    sway = np.where(fine.any(axis=0), np.minimum(moved + loose, SMALL_SHIFT), SMALL_SHIFT)
    twist = np.abs(change[0, ..., 3]).max(axis=0)
    share = [np.where(held, u, MOST_SHARE).T for u in used]
    if cloth is not None:
        each = cloth.shares(q)
        share += [each[..., i] for i in range(each.shape[-1])]
        names += list(cloth.parts)
    share.append((np.where(fine.any(axis=0), moved, MOST_SHARE) / one.sway_limit[0]).T)
    whole = np.minimum(np.stack(share, axis=-1), MOST_SHARE)
    return WindTable(tuple(gusts.tolist()), (*names, FREE_END), whole, held.T, sway.T, twist.T)
