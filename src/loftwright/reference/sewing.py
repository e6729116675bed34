"""Facts of canvas work: widths of rolls, clear sheet, thread, needles, stitches and allowances.

None of it is data of a seller. Ranges are ranges: they are replaced by what the cloth's own label or a test strip says.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source

CANVAS: Final = Source("us-fm-10-16", "ch. 8, figs 8-2 and 8-3 (read in a public reproduction)", "handbook")
STITCHING: Final = Source("us-tm-10-8340", "para. 5-6 (read in a public reproduction)", "handbook")
MEMORY: Final = Source("common-practice", "from memory, ranges only", "common practice")


@dataclass(frozen=True, slots=True)
class ClearSheet:
    """Clear soft PVC sheet: thickness [m] and the warmest and coldest temperature at which its kind cracks [K]."""

    name: str
    thickness: float
    cracks_from: float
    cracks_to: float


_MIL: Final = 0.0000254
_CRACK_WARM, _CRACK_COLD = 273.15 + (-20.0 - 32.0) / 1.8, 273.15 + (-30.0 - 32.0) / 1.8

CLEAR_SHEETS: Final = tuple(
    ClearSheet(f"clear sheet, {mil} mil", mil * _MIL, _CRACK_WARM, _CRACK_COLD) for mil in (20, 30, 40)
)
"""Thickness classes read in a public reproduction; cold-crack ratings of -20 to -30 F from memory."""

FROST_MARGIN: Final = 25.0
"""Clear sheet is moved only this much above where it cracks [K]: judgement; ratings are for new sheet, bent once."""
SHEET_STORED: Final = "Store clear sheet rolled, not folded, with soft cloth between."

ROLL_WIDTHS: Final = tuple(inches * 0.0254 for inches in (36, 46, 54, 60, 63, 72, 84, 96))
"""Usual widths of rolls [m]: list from memory."""

STITCH_PITCH: Final = (0.0254 / 7.0, 0.0254 / 5.0)
"""Shortest and longest stitch on tentage [m]: 7 to 5 an inch."""
OVERSTITCH: Final = 0.0254
"""A broken seam is stitched over by at least an inch on either side [m]."""
STAPLE_PITCH: Final = (0.025, 0.050)
"""Staples on a wooden batten [m]: from memory."""
THREAD_WASTE: Final = 0.25
"""Ends, bobbins and seams done again, over the thread that lies in the seam [1]: common practice, no source."""
TAPE_RADIUS: Final = 0.030
"""Least corner round which a zip or hook tape can be laid flat [m]: judgement, common practice 30 to 40 mm."""
CUT_RADIUS: Final = 0.005
"""Least corner of an opening that can still be turned [m]: judgement."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread by its tex count and the needles that go with it, thinnest and thickest, as printed on them."""

    tex: int
    needles: tuple[str, str]
    cloth: tuple[float, float]
    """Cloth it suits [kg/m2], lightest and heaviest: judgement."""

    def text(self) -> str:
        """Return it in one line."""
        return f"polyester thread Tex {self.tex}, needle {self.needles[0]} to {self.needles[1]}"


THREADS: Final = (
    Thread(70, ("100/16", "110/18"), (0.10, 0.30)),
    Thread(90, ("110/18", "120/19"), (0.25, 0.45)),
    Thread(135, ("130/21", "140/22"), (0.40, 0.90)),
)
"""From memory."""


def threads_for(weight: float) -> tuple[Thread, ...]:
    """Return the threads that suit a cloth of `weight` [kg/m2], finest first; the nearest where none does."""
    found = tuple(thread for thread in THREADS if thread.cloth[0] <= weight <= thread.cloth[1])
    return found or (THREADS[0] if weight < THREADS[0].cloth[0] else THREADS[-1],)
