"""How tight the open roof pulls the cloth, dry and wet, against what cloth, seams and staples bear.

The cloth is cut to the planned roof with its ease; in every other row it hangs in that row's gap.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.walled_lines import LinesFound
from loftwright.cloth.develop_rules import TOO_TIGHT
from loftwright.cloth.rims import SIDES
from loftwright.cloth.tightness import Tightness, tightness
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array
from loftwright.mechanics.feel import cloth_pull
from loftwright.project.assemble_wind import sound
from loftwright.project.carrying import lip_of
from loftwright.strength.cloth_tension import Holding, strengths

CUT_AS_PLANNED = "The cloth is cut to the planned gap with its ease: where the built gap is wider than both, it pulls."
CUT_FOR_SHRINKAGE = (
    "The cloth is cut larger by the shrinkage that is written; what is told of wet cloth comes from what it may "
    "shrink beyond that."
)
BY_LIP = "What the springs push beyond the weight is taken to hang on the wall at the lip alone."
ALL_ROUND = "What the springs push beyond the weight is taken to be shared all round."
HELD_UP = "A link or a prop keeps the open roof up, so that wet cloth cannot draw it down."
WHAT: Final = {"seam": "seams", "window film": "clear sheet"}


@dataclass(frozen=True, slots=True)
class TensionFound:
    """Pull of the open cloth up the wall, on the highest wall, `wall`.

    `pull`: dry and wet [N/m], [rows]; the wet one is the dry one where the outer cloth is not written. `most`: what the
    springs can keep up, infinite where a link or a prop holds the roof up [N/m], [rows]; `bears`: the weakest of cloth,
    seams, staples and what else holds it, over its factor [N/m], [rows], and which that is.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    wall: str
    pull: Tightness
    most: Array
    bears: Array
    weakest: str


def the_tension(base: Basis, lines: LinesFound, ease: Array) -> TensionFound:
    """Return how tight the cloth is pulled; `ease` [m], [rows]: how much higher it is cut than the planned gap."""
    project, at = base.project, base.at
    highest = int(np.argmax(lines.heights[0]))
    gap = lines.heights[:, highest]
    # One cloth is cut, to the planned gap: where the built one is wider, it pulls.
    net = np.maximum(gap[:1] + ease, 0.01)
    shrinks = _shrinks(base)
    kept = 1.0 if shrinks is None else 1.0 - shrinks[:1]
    most = _surplus(base)
    stands = project.stop.kind != "cloth"
    held = stands and (project.stop.kind == "link" or project.requirements.prop_fitted)
    pull = tightness(
        gap if stands else np.full_like(gap, np.inf),
        # As cut, before it shrinks for the first time.
        net / kept,
        stiffness=at("wind.cloth_stretch"),
        shrinkage=np.zeros_like(gap) if shrinks is None else shrinks,
        most=np.full_like(most, np.inf) if held else most,
    )
    if shrinks is not None and stands:
        # Dry is as it hangs after its first rain, shrunk as far as was allowed for.
        dry = tightness(gap, net, stiffness=at("wind.cloth_stretch"), shrinkage=0.0, most=np.inf if held else most).dry
        pull = Tightness(dry, np.maximum(pull.wet, dry))
    bears, weakest = _bears(base)
    wall = f"{SIDES[highest]} wall"
    which = f"{wall}, {weakest}"
    by = HELD_UP if held else BY_LIP if base.roof.travel.hinged else ALL_ROUND
    said: tuple[str, ...] = (CUT_AS_PLANNED, by)
    if shrinks is None:
        wanted = "write a [[layer]] with the outer cloth's shrinkage"
        verdict = Judged(TOO_TIGHT, None, None, which, unknown=wanted, missing="layer")
    else:
        verdict = against(TOO_TIGHT, base.full(pull.worst), base.full(bears), which)
        said += (CUT_FOR_SHRINKAGE,)
    return TensionFound((verdict,), said, wall, pull, most, bears, weakest)


def outer_layer(base: Basis) -> int | None:
    """Return the number of the outer cloth among the layers of the file; None where there is none."""
    return next((i for i, layer in enumerate(base.project.layer) if layer.role == "outer"), None)


def _shrinks(base: Basis) -> Array | None:
    """Return how much the outer cloth shrinks up the wall [1], [rows]; the less sure way where it may lie either."""
    number = outer_layer(base)
    if number is None:
        return None
    across, along = (base.at(f"layer.{number}.shrink_{way}") for way in ("across", "along"))
    grain = base.project.layer[number].grain
    if grain == "along the wall":
        return base.full(across)
    if grain == "up the wall":
        return base.full(along)
    return base.full(across if np.ptp(across) >= np.ptp(along) else along)


def _surplus(base: Basis) -> Array:
    """Return what the springs' surplus can pull the cloth with at the top [N/m], [rows]: of the liveliest state.

    All round by `cloth_pull`; of a hinged shell on the wall at the lip alone: Q = t W dz/dq (1), W its width.
    """
    roof, felt = base.roof, base.felt
    if not roof.travel.hinged:
        return np.maximum(sound(cloth_pull(roof, felt).max(axis=0), roof), 0.0)
    rising = np.asarray(felt.drive.rising[..., -1]).max(axis=0)
    lip = roof.travel.shell.point(*lip_of(base.project, base.at))
    path = base.at(base.plane.shell_across) * np.maximum(np.abs(lip.dz[..., -1]), 1e-6)
    return np.maximum(sound(rising / path, roof), 0.0)


def _bears(base: Basis) -> tuple[Array, str]:
    """Return what the weakest part that holds the cloth bears [N/m], [rows], over its factor, and its name."""
    at, wind = base.at, base.project.wind
    strip = wind.screw_pitch is not None and wind.screw_limit is not None
    holding = Holding(
        cloth=at("wind.cloth_strength"),
        seam=at("wind.seam_share"),
        staple=at("wind.staple_limit"),
        staple_pitch=at("wind.staple_pitch"),
        film=None if wind.window_strength is None else at("wind.window_strength"),
        screw=at("wind.screw_limit") if strip else None,
        screw_pitch=at("wind.screw_pitch") if strip else None,
        safety=at("safety.cloth"),
    )
    every = {name: base.full(strength / holding.safety) for name, strength in strengths(holding).items()}
    weakest = min(every, key=lambda name: float(every[name][0]))
    return np.minimum.reduce(list(every.values())), WHAT.get(weakest, weakest)
