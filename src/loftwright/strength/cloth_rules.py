"""What the wind can do to cloth, fasteners, the shell's balance and the van's footing: every rule once.

None of this is a crash or roll-over assessment.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.reference.wind import CANOPY_SOURCE
from loftwright.strength.cloth_tension import Holding, Panel, edge_tension, strengths

_STRIP: Final = Source(
    "derivation", "strip of cloth blown to a parabola, docs/theory-strength.md; strength by range", "derivation"
)
_FOOTING: Final = Source(
    "derivation", "moments about the leeward wheels, docs/theory-strength.md; limit by judgement", "derivation"
)

CLOTH_TEARS: Final = Rule(
    "WIND-601",
    "The cloth tears in the gust",
    "The cloth holds in the gust",
    "N/m",
    "at most",
    "A flat, tight panel pulls far harder than the wind pushes; old cloth keeps about half its strength.",
    "Leave the cloth more slack, divide tall panels by a bow, or take a stronger cloth.",
    _STRIP,
)
SEAM_OPENS: Final = Rule(
    "WIND-602",
    "A seam opens in the gust",
    "The seams hold in the gust",
    "N/m",
    "at most",
    "Every stitch is a hole: a sewn seam holds less than the cloth beside it.",
    "Sew a second row with strong thread, or lay seams along the pull.",
    _STRIP,
)
STAPLES_PULL: Final = Rule(
    "WIND-603",
    "The staples pull out in the gust",
    "The staples hold in the gust",
    "N",
    "at most",
    "One edge of the cloth hangs on a row of staples, and the first to give leaves its load to its neighbours.",
    "Set staples closer or longer ones, or clamp the edge under a screwed strip.",
    _STRIP,
)
SCREWS_PULL: Final = Rule(
    "WIND-604",
    "The screws of the clamping strip pull out in the gust",
    "The screws of the clamping strip hold in the gust",
    "N",
    "at most",
    "The strip hands the pull of the cloth between two screws to each of them.",
    "Set the screws closer, or bolt the strip through.",
    _STRIP,
)
FILM_TEARS: Final = Rule(
    "WIND-605",
    "The window film tears in the gust",
    "The window film holds in the gust",
    "N/m",
    "at most",
    "Clear film holds less than cloth, and in the cold it cracks.",
    "Close the cloth flap over the window, or take thicker film and smaller windows.",
    _STRIP,
)
WIND_LIFTS: Final = Rule(
    "WIND-606",
    "The wind throws the shell up against its stop",
    "The wind does not throw the shell up",
    "N m",
    "at most",
    "The wind gets under the raised end and adds to the springs.",
    "Turn the van's hinged end into the wind, fit straps that hold the shell down, or lower it.",
    CANOPY_SOURCE,
)
WIND_SLAMS: Final = Rule(
    "WIND-607",
    "The wind slams the shell down",
    "The wind does not slam the shell down",
    "N m",
    "at most",
    "The wind on top of the shell works against what the springs have to spare.",
    "Prop the shell, turn the van, or lower the shell before the wind does it.",
    CANOPY_SOURCE,
)
VAN_TIPS: Final = Rule(
    "WIND-608",
    "The parked van itself could tip in the gust",
    "The parked van keeps its footing in the gust",
    "1",
    "at least",
    "Side wind on a tall, light body with its roof up turns it about the wheels in the lee.",
    "Lower the roof and turn the van's front into the wind.",
    _FOOTING,
)
FOOTING: Final = 2.0
"""What holds the van down over what tips it, at least [1]: judgement; tyres, springs and slope are in it."""


def judge_cloth(panel: Panel, pressure: ArrayLike, holding: Holding, which: str = "") -> tuple[Judged, ...]:
    """Return the rules on the cloth of one panel in a gust.

    Pull at the edge by `edge_tension` against strength over safety; for staples and screws as the force on each.
    `pressure` [Pa] on the panel, net, [...]. Where neither staples nor screws are given, one rule says what to measure.
    """
    pull = edge_tension(panel, pressure)
    safety = np.asarray(holding.safety, dtype=np.float64)
    by_line = {"cloth": CLOTH_TEARS, "seam": SEAM_OPENS, "window film": FILM_TEARS}
    by_piece = {"staples": (STAPLES_PULL, holding.staple_pitch), "strip screws": (SCREWS_PULL, holding.screw_pitch)}
    found = []
    for name, strength in strengths(holding).items():
        rule, pitch = (by_line[name], np.asarray(1.0)) if name in by_line else by_piece[name]
        assert pitch is not None
        uneven = np.asarray(1.0) if name in by_line else np.asarray(holding.uneven)
        found.append(Judged(rule, *_rows(pull * pitch * uneven, strength * pitch * uneven / safety), which))
    if holding.staple is None and holding.screw is None:
        found.append(
            Judged(
                STAPLES_PULL, None, None, which, "measure what one staple holds: pull one out with a scale", "staple"
            )
        )
    return tuple(found)


def judge_lift(moment: ArrayLike, held: ArrayLike, which: str = "") -> Judged:
    """Return whether the wind throws the shell up: the opening `moment` against what holds down, `held`, both [N m].

    `moment` of the wind about the hinge line; `held` is weight over springs, and straps that hold down; each [...].
    """
    return Judged(WIND_LIFTS, *_rows(np.maximum(np.asarray(moment, dtype=np.float64), 0.0), held), which)


def judge_slam(moment: ArrayLike, spare: ArrayLike, which: str = "") -> Judged:
    """Return whether the wind slams the shell down: the opening `moment`, negative, against `spare`, both [N m].

    `spare` is what springs have over the shell's weight about the hinge line, and a prop; each [...].
    """
    return Judged(WIND_SLAMS, *_rows(np.maximum(-np.asarray(moment, dtype=np.float64), 0.0), spare), which)


def judge_footing(tipping: ArrayLike, righting: ArrayLike, which: str = "") -> Judged:
    """Return whether the van keeps its footing: `righting` over `tipping` moment [N m], [...], against `FOOTING`.

    Without wind the ratio is held at 1000.
    """
    least = np.maximum(np.asarray(tipping, dtype=np.float64), 1e-3 * np.asarray(righting, dtype=np.float64))
    return Judged(VAN_TIPS, *_rows(np.asarray(righting) / np.maximum(least, 1e-9), FOOTING), which)


def _rows(value: ArrayLike, limit: ArrayLike) -> tuple[Array, Array]:
    """Return value and limit with the same rows."""
    one, other = np.broadcast_arrays(np.asarray(value, dtype=np.float64), np.asarray(limit, dtype=np.float64))
    return one, other
