"""What the cut cloth weighs, what of it moves with the roof, and how that stands to the weight in the file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.views import wording
from loftwright.core.motion import Array
from loftwright.core.uncertain import Provenance

SHEET_DENSITY: Final = 1250.0
"""Clear soft sheet [kg/m3]: 1200 to 1300, from memory."""
HUNG: Final = {"curtain": (0.15, 0.35), "insect screen": (0.08, 0.15)}
"""Curtain cloth, light to heavy, and insect screen, fine to coarse [kg/m2]: judgement."""
Ends = tuple[Array, Array]


@dataclass(frozen=True, slots=True)
class Weight:
    """Weight of the cloth as cut [kg], [rows]: of all layers with clear sheet.

    `taken`: name and weight of each layer that is taken down before the roof moves; `clear`: clear sheet; `hung`: least
    and most of curtains and insect screens [kg], which are not in `mass`.
    """

    mass: Array
    taken: tuple[tuple[str, Array], ...]
    clear: Array
    hung: tuple[float, float]

    @property
    def moving(self) -> Ends:
        """Least and most of what moves with the roof [kg], [rows] each: curtains and screens in it, `taken` not."""
        left = np.maximum(self.mass - sum((mass for _, mass in self.taken), start=np.zeros_like(self.mass)), 0.0)
        return np.asarray(left + self.hung[0]), np.asarray(left + self.hung[1])


def weight_of(
    base: Basis, rolls: Iterable[tuple[int | None, float]], sheets: Iterable[tuple[str, float]]
) -> Weight | None:
    """Return the weight of the cloth; None where no layer is written.

    `rolls`: number of each layer and area of its pieces as cut [m2]; `sheets`: the same of clear sheet, insect screen
    and curtain by their names.
    """
    layers, areas = base.project.layer, dict(sheets)
    if not layers:
        return None
    each = [(k, base.full(cut * base.at(f"layer.{k}.mass"))) for k, cut in rolls if k is not None]
    clear = _clear(base, areas.get("clear sheet", 0.0))
    hung = [(cut, HUNG[material]) for material, cut in areas.items() if material in HUNG]
    return Weight(
        np.asarray(sum((mass for _, mass in each), start=np.zeros(base.rows)) + clear),
        tuple((layers[k].name, mass) for k, mass in each if layers[k].removable),
        clear,
        (sum(cut * ends[0] for cut, ends in hung), sum(cut * ends[1] for cut, ends in hung)),
    )


def _clear(base: Basis, area: float) -> Array:
    """Return the weight of the windows' clear sheet of an `area` [m2] [kg], [rows]."""
    clear = [number for number, window in enumerate(base.project.window) if window.clear]
    if not clear or not area:
        return np.zeros(base.rows)
    return base.full(np.mean([base.at(f"window.{number}.film") for number in clear], axis=0) * area * SHEET_DENSITY)


def compared(base: Basis, weight: Weight | None, file: Array) -> list[str]:
    """Return how the reckoned weight stands to that in the `file` [kg], [rows], and of what it is made.

    Nothing where they agree. A weight that was measured is not to be replaced by a reckoned one.
    """
    if weight is None or not apart(weight.moving, file):
        return []
    say = wording(base.project)
    low, high = (say.mass(float(one[0])) for one in weight.moving)
    parts = [f"{say.mass(float(m[0]))} of {name}, which is taken down first, left out" for name, m in weight.taken]
    if weight.clear[0] > 0.0:
        parts.append(f"{say.mass(float(weight.clear[0]))} of clear sheet in it")
    if weight.hung[1] > 0.0:
        least, most = (say.mass(one) for one in weight.hung)
        parts.append(f"{least} to {most} of curtains and screens in it")
    made = f" ({'; '.join(parts)})" if parts else ""
    measured = base.project.forces.cloth_mass.provenance is Provenance.MEASURED
    then = (
        "The measured one counts and stays: see whether what was weighed had the same parts."
        if measured
        else "Write what it comes to here, or weigh the walls, as springs are chosen by it."
    )
    return [
        f"What of the cloth moves with the roof is reckoned as {low if low == high else f'{low} to {high}'}{made}; "
        f"[forces] cloth_mass says {say.mass(float(file[0]))}. {then}"
    ]


def apart(one: Ends, other: Array) -> bool:
    """Return whether no mass between the ends `one` [kg], [rows] each, of any row is among the rows of `other` [kg]."""
    return bool(one[1].max() < other.min() or other.max() < one[0].min())
