"""The brace across the free end, judged: does it reach, stay in its track, find room, hold straight and sideways."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.core.choices import BraceKind
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.project.assemble_brace import Braced
from loftwright.strength.brace import ArmPath, BarPath, StrapPath, sideways_share
from loftwright.strength.brace_load import free_play
from loftwright.strength.brace_rules import judge_arm, judge_bar, judge_hold, judge_room, judge_straps

PINNED: Final = (
    "The sliding end of the bar is taken to be pinned when the roof is open: without a pin it holds nothing."
)
LOCKED: Final = "The folding arm's knee is taken to be locked by a pin when the roof is open."
PLACES: Final = (
    "The brace's end on the van is taken to stand over the edge of the opening, and the latch bar to lie on the rim."
)


@dataclass(frozen=True, slots=True)
class BraceFound:
    """The brace of one project, in the plane of motion: y to the left of it, z up.

    `y_van`, `z_van`, `y_shell`, `z_shell` its ends over the travel [m], and `y_knee` of an arm (else None),
    each [rows, travel]; `track_used` [m] and `track` that there is, nought without one; `in_track` [m] least left,
    `spare` [m] least length to spare; `room` [m] when closed; `share` [1] of its stiffness that acts sideways, pinned;
    `push` [N] greatest along it in the wanted gust with its factor, `holds` [N] the push at which it
    bends out, of straps the pull at which they yield, `play` [m] sideways of the free end, each [rows].
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    kind: BraceKind
    y_van: Array
    z_van: Array
    y_shell: Array
    z_shell: Array
    y_knee: Array | None
    track_used: Array
    track: Array
    in_track: Array
    spare: Array
    room: Array
    share: Array
    push: Array
    holds: Array
    play: Array


def the_brace(brace: Braced, push: Array, pull: Array) -> BraceFound:
    """Return what is judged of a brace; `push` and `pull` [N], [rows], greatest along it in the wanted gust."""
    path, rows = brace.path, brace.length
    share = sideways_share(brace.across)
    play = free_play([brace.play, brace.slack], brace.across)
    # Nothing that slides freely plays more than the shell can move.
    play = np.minimum(play, 1.0)
    held = judge_hold(brace.holds, push, share, play, which="brace")
    none = np.zeros_like(rows)
    used, in_track = none, none
    knee: Array | None = None
    said = [PLACES]
    judged: tuple[Judged, ...]
    if isinstance(path, BarPath):
        assert brace.rub is not None
        judged = (*judge_bar(path, brace.rub), *held)
        spare, used, in_track = path.spare.min(axis=-1), path.track_used, path.in_track.min(axis=-1)
        said.append(PINNED)
    elif isinstance(path, StrapPath):
        # Straps do not buckle: their own weight lets them hang.
        judged = (judge_straps(path, brace.length), *held[1:])
        spare = brace.length - path.needed
    else:
        assert isinstance(path, ArmPath)
        judged = (judge_arm(path), *held)
        spare, knee = path.spare.min(axis=-1), path.knee_y
        said.append(LOCKED)
    return BraceFound(
        judged=(*judged, judge_room(brace.room)),
        said=tuple(said),
        kind=brace.kind,
        y_van=brace.ends[0],
        z_van=brace.ends[1],
        y_shell=brace.ends[2],
        z_shell=brace.ends[3],
        y_knee=knee,
        track_used=used,
        track=brace.track,
        in_track=in_track,
        spare=spare,
        room=brace.room,
        share=share,
        push=np.maximum(push, pull),
        holds=brace.strength if brace.kind == "straps" else brace.holds,
        play=play,
    )
