"""A line joint such as ring to roof skin: rivets or small bolts at an even pitch, glue, or both.

The load is a flow: shear along the seam and pull square to it, both per length. Rows come first in every array.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.reference.rivets import Rivet
from loftwright.strength import joint_rules, thin_sheet
from loftwright.strength.joints import METALS, Factors, Layer
from loftwright.strength.unlike_metals import judge_unlike, touching

RIVET_BEARING: Final = Source("en-1993-1-3", "Table 8.1, blind rivets in bearing, from memory", "standard")

SEAL_PITCH: Final = 0.060
"""Longest pitch of a seam bedded in sealant that stays shut between rivets [m]; judgement."""
GLUED_PITCH: Final = 0.150
"""The same where the seam is glued and rivets only hold it while it cures and against peeling [m]; judgement."""
GLUE_SAFETY: Final = 4.0
"""Factor on the strength of the builder's own test strip [1]; judgement: age, heat and poor cleaning together."""


def rivet_bearing(
    diameter: ArrayLike, thinner: ArrayLike, thicker: ArrayLike, tensile: ArrayLike, gamma: ArrayLike = 1.0
) -> Array:
    """Return the shear that one blind rivet may put on the thinner sheet.

        F_b = alpha f_u d t / gamma,   alpha = 3.6 sqrt(t / d) at most 2.1 for t1 = t, 2.1 for t1 >= 2.5 t      (1)

    Parameters
    ----------
    diameter: d of the rivet [m], [...].
    thinner, thicker: t and t1 of the two sheets [m], [...]; between the two cases in a straight line.
    tensile: f_u of the thinner sheet [Pa], [...].
    gamma: partial factor [1], [...].

    Returns
    -------
    Resistance [N], [...]. Source: `RIVET_BEARING`.

    >>> round(float(rivet_bearing(0.004, 0.001, 0.001, 270e6)), 1)
    1944.0
    """
    d, t, t1, f, g = (np.asarray(v, dtype=np.float64) for v in (diameter, thinner, thicker, tensile, gamma))
    alike = np.minimum(3.6 * np.sqrt(t / d), 2.1)
    thick = np.clip((t1 / t - 1.0) / 1.5, 0.0, 1.0)
    return np.asarray((alike + (2.1 - alike) * thick) * f * d * t / g)


@dataclass(frozen=True, slots=True)
class Seam:
    """A line joint: its `rivet`, `pitch` [m], [...], nominal `length` [m], number of `lines`, two `layers` from head.

    `glue` is the shear strength that the builder's own test strip broke at [Pa], None where none was made, and
    `glue_width` of the strip [m], 0 for no glue. `rivet` is None for a seam of glue alone.
    """

    name: str
    layers: tuple[Layer, Layer]
    length: float
    rivet: Rivet | None = None
    pitch: float | Array = 0.0
    lines: int = 1
    glue: float | None = None
    glue_width: float | Array = 0.0
    isolated: bool = False

    @property
    def count(self) -> int:
        """Rivets in the whole seam, at its nominal pitch."""
        if self.rivet is None:
            return 0
        pitch = float(np.ravel(np.asarray(self.pitch, dtype=np.float64))[0])
        return self.lines * (int(np.ceil(self.length / pitch - 1e-9)) + 1)

    @property
    def glued(self) -> bool:
        """Whether there is glue in it."""
        return bool(np.all(np.asarray(self.glue_width) > 0.0))


def rivet_limits(seam: Seam, factors: Factors) -> tuple[Array, Array]:
    """Return the shear and the pull that one rivet of a seam may carry [N], each [...], rivet and sheets together.

    ValueError for a seam without rivets.
    """
    rivet = seam.rivet
    if rivet is None:
        raise ValueError(f"{seam.name} has no rivets")
    t = [np.asarray(layer.thickness, dtype=np.float64) for layer in seam.layers]
    shear: Array = np.asarray(rivet.shear / factors.rivet)
    for mine, other, layer in ((t[0], t[1], seam.layers[0]), (t[1], t[0], seam.layers[1])):
        if layer.sheet.family in METALS:
            gamma = factors.bolt * factors.action
            borne = rivet_bearing(rivet.diameter, mine, np.maximum(mine, other), layer.sheet.tensile, gamma)
        else:
            safety = factors.laminate if layer.sheet.family == "laminate" else factors.wood
            borne = np.asarray(rivet.diameter * mine * layer.sheet.bearing / safety)
        shear = np.minimum(shear, borne)
    head = seam.layers[0]
    if head.sheet.family in METALS:
        drawn = thin_sheet.pull_over(rivet.head, t[0], head.sheet.tensile) / factors.pull
    else:
        drawn = thin_sheet.pull_through(rivet.head, t[0], head.sheet.through) / factors.laminate
    return shear, np.minimum(rivet.pull / factors.rivet, drawn)


def pitch_for(seam: Seam, shear_flow: ArrayLike, pull_flow: ArrayLike, factors: Factors | None = None) -> Array:
    """Return the longest pitch of a seam's rivets under its flows.

        p = lines / (q / F_shear + n / F_pull), at most that which stays shut                      (2)

    Parameters
    ----------
    seam: its rivets and layers; its own pitch does not count.
    shear_flow, pull_flow: q along and n square to the seam [N/m], [rows]; a pushing n counts as none.
    factors: of safety; the usual ones where none are given.

    Returns
    -------
    Pitch [m], [rows]. Source: derivation; straight-line interaction and the longest pitch by judgement.
    """
    shear, pull = rivet_limits(seam, factors or Factors())
    q, n = np.abs(np.asarray(shear_flow, dtype=np.float64)), np.asarray(pull_flow, dtype=np.float64)
    used = q / shear + np.maximum(n, 0.0) / pull
    most = GLUED_PITCH if seam.glued else SEAL_PITCH
    return np.asarray(np.minimum(seam.lines / np.maximum(used, seam.lines / most), most))


def judge_seam(
    seam: Seam, shear_flow: ArrayLike, pull_flow: ArrayLike, factors: Factors | None = None
) -> tuple[Judged, ...]:
    """Put every rule of a line joint to it.

    `shear_flow` along and `pull_flow` square to the seam [N/m], [rows]. Rivets carry all of it, and glue all of it
    again: neither is relied upon to help the other, for glue is stiffer than rivets and gives first.
    """
    chosen = factors or Factors()
    q, n = np.broadcast_arrays(*(np.atleast_1d(np.asarray(v, dtype=np.float64)) for v in (shear_flow, pull_flow)))
    judged = []
    if seam.rivet is not None:
        shear, pull = rivet_limits(seam, chosen)
        pitch = np.array(np.broadcast_to(np.asarray(seam.pitch, dtype=np.float64), q.shape))
        wide = np.broadcast_to(np.asarray(seam.rivet.diameter, dtype=np.float64), q.shape)
        each = pitch / seam.lines
        used = np.asarray((np.abs(q) / shear + np.maximum(n, 0.0) / pull) * each)
        judged.append(Judged(joint_rules.RIVETS_GIVE, used, np.ones_like(used), seam.name))
        most = np.full(q.shape, GLUED_PITCH if seam.glued else SEAL_PITCH)
        judged.append(Judged(joint_rules.RIVETS_FAR, pitch, most, seam.name))
        for layer in seam.layers:
            edge = np.asarray(np.broadcast_to(np.asarray(layer.edge, dtype=np.float64), q.shape))
            least = np.asarray(1.5 * wide)
            judged.append(Judged(joint_rules.EDGE_NEAR, edge, least, f"{seam.name}, {layer.sheet.name}"))
        judged.append(Judged(joint_rules.HOLES_CLOSE, pitch, np.asarray(3.0 * wide), seam.name))
    judged += _judge_glue(seam, np.abs(q))
    stack = [layer.sheet.family for layer in seam.layers]
    judged.append(judge_unlike(seam.name, touching(stack), seam.isolated or seam.glued))
    return tuple(judged)


def _judge_glue(seam: Seam, q: Array) -> list[Judged]:
    if not seam.glued:
        return []
    stress = q / seam.glue_width
    if seam.glue is None:
        test = f"make a test strip of the glue of {seam.name} and hang weights on it until it shears"
        judged = [Judged(joint_rules.BOND, stress, None, seam.name, test, "glue")]
    else:
        judged = [Judged(joint_rules.BOND, stress, np.full(q.shape, seam.glue / GLUE_SAFETY), seam.name)]
    return judged
