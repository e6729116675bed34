"""What can go wrong with a brace across the free end and with latches that must find their keepers."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array
from loftwright.strength.brace import ArmPath, BarPath, StrapPath

TRACK_OVER: Final = 0.010
"""Least track left beyond the sliding end [m]: judgement, for mounting by tape and the end's own width."""
REACH_OVER: Final = 0.005
"""Least spare length of a bar or arm [m]: judgement, for mounting by tape."""
MOST_RUB: Final = 0.5
"""Most part of a sliding end's push that rub may use up [1]: judgement, half of jamming."""
CAUTION: Final = 2.0
"""Least buckling load over greatest push [1]: judgement, for crooked bars and ends off the middle."""
NEVER_BENDS: Final = 100.0
"""Buckling load over push from which on it does not matter [1]."""
ROOM_CLOSED: Final = 0.005
"""Least room round a brace in the closed roof [m]: judgement."""
LEAST_SHARE: Final = 0.25
"""Least share of a brace's stiffness that acts sideways [1]: judgement, a slope of 60 degrees."""
MOST_PLAY: Final = 0.015
"""Most sideways play of the free end [m]: judgement."""

_GEOMETRY: Final = Source(
    "derivation", "triangle in the cross-section, docs/theory-strength.md; margin by judgement", "derivation"
)
_STATICS: Final = Source(
    "derivation", "statics in the cross-section, docs/theory-strength.md; limit by judgement", "derivation"
)

BRACE_JAMS: Final = Rule(
    "BRACE-801",
    "The brace does not reach: the roof jams on it",
    "The brace reaches all the way",
    "short m",
    "at least",
    "A bar, arm or strap that is too short holds the shell before it is open or before it is shut.",
    "Make it longer, or bring its two ends closer together in height or along the van.",
    _GEOMETRY,
)
TRACK: Final = Rule(
    "BRACE-802",
    "The brace runs out of its track",
    "The track is long enough for the brace",
    "short m",
    "at least",
    "At the end of its track the sliding end stops the shell or drops out.",
    "Lengthen the track, or move the pivot so that the sliding end stays within it.",
    _GEOMETRY,
)
RUBS: Final = Rule(
    "BRACE-803",
    "The sliding end of the brace jams in its track",
    "The sliding end of the brace runs freely",
    "1",
    "at most",
    "A bar that stands steeply presses into its track more than it pushes along it.",
    "Use a longer bar that stands flatter, or a plastic or rolling end.",
    Source("derivation", "Coulomb friction, docs/theory-strength.md; half of jamming by judgement", "derivation"),
)
BUCKLES: Final = Rule(
    "BRACE-804",
    "The brace bends sideways when the wind pushes on it",
    "The brace stays straight when the wind pushes on it",
    "1",
    "at least",
    "A long thin bar under push bends out of the way at a load far below its strength.",
    "Take a thicker tube, a shorter one, or crossed straps that only pull.",
    Source(
        "timoshenko-gere", "section 2.1 and the Perry-Robertson formula (from memory); factor by judgement", "handbook"
    ),
)
NO_ROOM: Final = Rule(
    "BRACE-805",
    "There is no room for the brace in the closed roof",
    "The brace has room in the closed roof",
    "short m",
    "at least",
    "A shell that lies on its brace or presses it on the latch bar lies neither on its stops nor on its seal.",
    "Use a thinner bar, move it along the van clear of the latch bar, or hinge it where the shell is deeper.",
    _GEOMETRY,
)
NO_SHARE: Final = Rule(
    "BRACE-806",
    "The open brace hardly holds sideways",
    "The open brace holds sideways",
    "1",
    "at least",
    "A steep bar takes little of a push from the side, and one whose end slides freely takes none.",
    "Set the ends further apart across the van, and pin the sliding end when the roof is open.",
    _STATICS,
)
PLAY: Final = Rule(
    "BRACE-807",
    "The free end rattles in its brace",
    "The brace holds the free end without much play",
    "m",
    "at most",
    "Loose pins and loose straps let the shell sway before anything holds, and it strikes at each turn.",
    "Use snug pins, tighten the straps, or set the brace flatter.",
    _STATICS,
)
MISSES: Final = Rule(
    "BRACE-811",
    "The latches can miss their keepers",
    "The latches find their keepers",
    "m",
    "at most",
    "Slop in the hinges, a twisted shell and wind from the side set the lip down beside its place.",
    "Use wider catches or guide cones, hinges with less slop, or pull the lip over by hand.",
    _STATICS,
)
UNEVEN: Final = Rule(
    "BRACE-813",
    "One latch catches while the other stands too high",
    "Both latches reach down to their keepers",
    "m",
    "at most",
    "Unequal springs twist the lip, and a latch draws down only as far as its own stroke.",
    "Use latches with more stroke, a pair of equal springs, or press the high corner down.",
    _STATICS,
)


def _least(values: Array) -> Array:
    return np.asarray(np.min(values, axis=-1))


def judge_bar(path: BarPath, rub: Array, *, which: str = "brace") -> tuple[Judged, ...]:
    """Return whether a bar reaches, stays in its track and slides: `BRACE_JAMS`, `TRACK`, `RUBS`.

    path: by `brace.bar_path` [m]; rub: by `brace.rub_in_track` over the travel [1], [..., n]; which: its name.
    """
    return (
        against(BRACE_JAMS, _least(path.spare), REACH_OVER, which),
        against(TRACK, _least(path.in_track), TRACK_OVER, which),
        against(RUBS, np.max(rub, axis=-1), MOST_RUB, which),
    )


def judge_straps(path: StrapPath, length: ArrayLike, *, which: str = "straps") -> Judged:
    """Return whether straps are long enough to let the roof open: `BRACE_JAMS`.

    path: by `brace.strap_path` [m]; length: of one strap [m], [...]. What hangs loose is judged as play.
    """
    return against(BRACE_JAMS, np.asarray(length, dtype=np.float64) - path.needed, 0.0, which)


def judge_arm(path: ArmPath, *, which: str = "folding arm") -> Judged:
    """Return whether a folding arm reaches: `BRACE_JAMS`.

    path: by `brace.arm_path` [m]. The arm may be straight when open, so it needs no spare length.
    """
    return against(BRACE_JAMS, _least(path.spare), 0.0, which)


def judge_hold(
    holds: ArrayLike, push: ArrayLike, share: ArrayLike, play: ArrayLike, *, which: str = "brace"
) -> tuple[Judged, ...]:
    """Return whether an open brace stays straight, holds sideways and does not rattle: `BUCKLES`, `NO_SHARE`, `PLAY`.

    holds: by `brace_load.strut_load` [N]; push: greatest along it [N]; share: by `brace.sideways_share` [1]; play: by
    `brace_load.free_play` [m]; each [...].
    """
    bears = np.asarray(holds, dtype=np.float64)
    # A brace that is only pulled never bends out.
    force = np.maximum(np.abs(np.asarray(push, dtype=np.float64)), np.maximum(bears, 1e-6) / NEVER_BENDS)
    return (
        against(BUCKLES, bears / force, CAUTION, which),
        against(NO_SHARE, share, LEAST_SHARE, which),
        against(PLAY, play, MOST_PLAY, which),
    )


def judge_room(room: ArrayLike, *, which: str = "brace") -> Judged:
    """Return whether the closed brace has room: `NO_ROOM`.

    room: the least of `brace.room_between` and `brace.room_beside` [m], [...].
    """
    return against(NO_ROOM, room, ROOM_CLOSED, which)


def judge_latches(
    offset: ArrayLike,
    room: ArrayLike,
    uneven: ArrayLike,
    stroke: ArrayLike,
    *,
    which: str = "latches",
) -> tuple[Judged, ...]:
    """Return whether the latches find their keepers: `MISSES`, `UNEVEN`.

    offset, uneven: by `latch_alignment.latch_offset` [m]; room: how far a latch may be off and still catch [m];
    stroke: how far a latch draws down [m]; each [...].
    """
    return (
        against(MISSES, offset, room, which),
        against(UNEVEN, uneven, stroke, which),
    )
