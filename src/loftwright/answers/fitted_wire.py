"""The panel's cable: what it loses, its fuse, and its free loop from van to shell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.fitout.flex_loop import Loop, clip_distance, loop
from loftwright.fitout.fuse import next_fuse
from loftwright.fitout.wire import bears, drop, resistance, thinnest
from loftwright.fitout.wire_rules import drop_small, fuse_lasts, fuse_saves, loop_holds
from loftwright.mechanics.feel import Roof
from loftwright.project.assemble_riding import clips_written, wire_given
from loftwright.project.assemble_wind import sound
from loftwright.project.carrying import Values
from loftwright.reference.wire import CONDUCTORS
from loftwright.reference.wire import INSULATION as PVC

INSULATION: Final = 363.15
"""What the cable's insulation is taken to bear [K]: 90 C, as cable made for panels; from memory."""
OFF: Final = 0.06
"""How far inward of a pivot and beside the roof's height a clip is proposed [m]: judgement, room for a screw."""

BATTERY: Final = "The fuse sits at the battery, within a hand's breadth of its terminal: the panel cannot blow it."
STEPS_DOWN: Final = (
    "The fuse is reckoned for a 12 V battery: a controller that steps the panel's voltage down gives it more current "
    "than the panel has, so the greater of the two counts. The cable from controller to battery must bear that fuse; "
    "only the panel's cable is in the file, and it is compared as if it went on to the battery."
)
TOUCHABLE: Final = 60.0
"""Direct voltage up to which dry hands are taken to be safe [V]: IEC 61140, extra-low voltage, from memory."""
COLD_MORE: Final = 1.25 * 1.12
"""Open-circuit voltage on a clear frosty morning over that at work [1]: common panels, from memory."""
PROPOSED: Final = "The cable's clips are not placed yet: places near a pivot are proposed, and nothing is judged there."


@dataclass(frozen=True, slots=True)
class WireFound:
    """The cable, arrays [rows] unless said otherwise.

    `length` one way [m]; `current` at work [A], `lost` of `volts` on the way [V]; `borne` by the hot cable [A]; `fuse`
    [A] or None; `next_fuse` the planned lasting current at the battery asks for, None where no usual one carries it,
    and `thinnest`, the usual cross-section that loses little enough, None where none does. `loop` of the cable with its
    clips on `van` and `shell`, planned, x and z [m], closed; `placed`: whether they stand in the file; `path` of the
    shell's clip over the travel, planned, x and z [n] [m].
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    length: Array
    current: Array
    volts: Array
    lost: Array
    borne: Array
    fuse: Array | None
    next_fuse: float | None
    thinnest: str | None
    loop: Loop
    van: tuple[float, float]
    shell: tuple[float, float]
    placed: bool
    path: tuple[Array, Array]


def the_wire(base: Basis) -> WireFound:
    """Return the cable with its judgements."""
    project, at = base.project, base.at
    given, heat = wire_given(project, at), at("temperatures.sun")
    lost = drop(given.length, given.current, resistance(given.per_metre, heat))
    borne = np.maximum(bears(given.bears, heat, insulation=INSULATION), 1e-3)
    judged: list[Judged] = [drop_small(base.full(lost), given.volts, given.drop)]
    if given.fuse is not None:
        judged.append(fuse_saves(base.full(given.fuse), borne, "at the battery"))
        judged.append(fuse_lasts(base.full(given.fuse), base.full(given.lasting), which="at the battery"))
    van, shell, placed = clips(base)
    free = None if project.panel is None or project.panel.loop_length is None else at("panel.loop_length")
    path = base.roof.travel.shell.point(*shell)
    found = loop(sound(clip_distance(*van, path), base.roof), free=None if free is None else base.full(free))
    if placed:
        judged += loop_holds(found, given.cable)
    index = thinnest(given.length[:1], given.current[:1], given.volts[:1], given.drop[:1], heat[:1])
    return WireFound(
        judged=tuple(judged),
        said=(
            _hot(Wording(project.settings.units)),
            BATTERY,
            STEPS_DOWN,
            *live(at, Wording(project.settings.units)),
            *(() if placed else (PROPOSED,)),
        ),
        length=base.full(given.length),
        current=base.full(given.current),
        volts=base.full(given.volts),
        lost=base.full(lost),
        borne=base.full(borne),
        fuse=None if given.fuse is None else base.full(given.fuse),
        next_fuse=next_rating(float(np.ravel(given.lasting)[0])),
        thinnest=None if index[0] < 0 else CONDUCTORS[int(index[0])].name,
        loop=found,
        van=(float(np.ravel(van[0])[0]), float(np.ravel(van[1])[0])),
        shell=(float(np.ravel(shell[0])[0]), float(np.ravel(shell[1])[0])),
        placed=placed,
        path=(np.atleast_2d(path.x)[0], np.atleast_2d(path.z)[0]),
    )


def live(at: Values, say: Wording) -> tuple[str, ...]:
    """Return a sentence where the panel's plugs can carry more than hands may touch, planned; in cold and unloaded."""
    volts = COLD_MORE * float(np.ravel(at("panel.volts"))[0])
    if volts <= TOUCHABLE:
        return ()
    return (
        f"In cold sun its plugs carry about {say.whole(volts, 'V')}, above the {say.whole(TOUCHABLE, 'V')} that may be "
        "touched: not for hands, leave it to an electrician.",
    )


def _hot(say: Wording) -> str:
    bears_up_to, plain = say.temperature(INSULATION), say.temperature(PVC)
    return (
        "The cable is reckoned as hot as the springs under the closed shell in the sun, and its insulation to bear "
        f"{bears_up_to}: plain PVC bears {plain} and carries far less there."
    )


def next_rating(current: float) -> float | None:
    """Return the smallest usual fuse for a lasting `current` [A; 1 ampere]; None where none is large enough."""
    try:
        return float(next_fuse(current))
    except ValueError:
        return None


Place = tuple[Array, Array]


def clips(base: Basis) -> tuple[Place, Place, bool]:
    """Return the clips on van and shell, (x, z) [m], [rows], and whether both stand in the file."""
    van, shell = clips_written(base.project, base.at)
    if van is not None and shell is not None:
        return van, shell, True
    first, second = proposed(base.roof)
    return van or first, shell or second, False


def proposed(roof: Roof) -> tuple[Place, Place]:
    """Return places for the clips, (x, z) [m], [rows], such that they part least: near the pivots, planned.

    Van and shell each offer their pivots, a little inward over the opening, the one below and the other above.
    """
    inward = 1.0 if float(roof.lip[0][0]) > float(roof.pins.van[0][0][0]) else -1.0

    def beside(pins: tuple[Place, ...], up: float) -> list[Place]:
        return [(np.asarray(x + inward * OFF), np.asarray(z + up * OFF)) for x, z in pins]

    def parts(pair: tuple[Place, Place]) -> float:
        (vx, vz), where = pair
        path = roof.travel.shell.point(where[0][:1], where[1][:1])
        return float(clip_distance(vx[:1], vz[:1], path)[0].max())

    pairs = [(low, high) for low in beside(roof.pins.van, -1.0) for high in beside(roof.pins.shell, 1.0)]
    return min(pairs, key=parts)
