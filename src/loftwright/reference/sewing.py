"""Facts of canvas work: weights of cotton duck, widths of rolls, clear sheet, thread, needles, stitches and allowances.

None of it is data of a seller. Ranges are ranges: they are replaced by what the cloth's own label or a test strip says.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Source
from loftwright.core.units import from_unit

DUCK: Final = Source(
    "nbs-cotton-duck", "number = 19 - ounces in 36 in by 22 in (read in a public reproduction)", "standard"
)
CANVAS: Final = Source("us-fm-10-16", "ch. 8, figs 8-2 and 8-3 (read in a public reproduction)", "handbook")
STITCHING: Final = Source("us-tm-10-8340", "para. 5-6 (read in a public reproduction)", "handbook")
MEMORY: Final = Source("common-practice", "from memory, ranges only", "common practice")

_PIECE: Final = 36.0 * 22.0 * 0.0254**2
"""Area of the piece that duck is weighed by, 36 in by 22 in [m2]."""
_HEAVIEST: Final = 19
_LIGHTEST: Final = 12


def duck_weight(number: int) -> float:
    """Return the weight of numbered cotton duck [kg/m2]; noughts are given as minus their count less one.

    ounces in 36 in by 22 in = 19 - number (1): 1/0 is 0, 2/0 is -1, and so on to 6/0 as -5. ValueError beyond.
    Source: US National Bureau of Standards, standard numbered cotton duck (read in a public reproduction).

    >>> round(duck_weight(10) * 1000, 1)
    499.3
    """
    if not -5 <= number <= _LIGHTEST:
        raise ValueError("cotton duck is numbered from 6/0, the heaviest, over 1/0 and 1 to 12, the lightest")
    return from_unit(float(_HEAVIEST - number), "oz") / _PIECE


_NUMBERED = re.compile(r"(?:(?:no|nr|number)\b\.?|#)\s*(\d{1,2})(?:\s*(?:cotton\s+)?(?:duck|canvas))?", re.IGNORECASE)
_NOUGHTS = re.compile(r"(?:no\.?\s*)?([1-6])/0(?:\s*(?:cotton\s+)?(?:duck|canvas))?", re.IGNORECASE)
_PER_AREA = re.compile(
    r"(\d+(?:[.,]\d+)?)\s*(oz|g|gsm)\s*(?:(?:/|per)\s*(yd2|yd²|yd\^2|sq\.? ?yd|square yard|m2|m²|m\^2|square metre))?"
    r"(?:\s*(?:cotton\s+)?(?:duck|canvas|cloth|acrylic))?",
    re.IGNORECASE,
)


def cloth_weight(words: str) -> float:
    """Return the weight of a cloth [kg/m2] from the words it is sold by: "No. 10 duck", "10 oz/yd2", "340 g/m2", "2/0".

    ValueError for a bare number and for ounces without "per what": number 10 duck weighs 499 g/m2, a cloth of 10 oz a
    square yard 339 g/m2.

    >>> round(cloth_weight("No. 10 duck"), 4), round(cloth_weight("10 oz/yd2"), 4)
    (0.4993, 0.3391)
    """
    said = words.strip()
    if found := _NOUGHTS.fullmatch(said):
        return duck_weight(1 - int(found[1]))
    if found := _NUMBERED.fullmatch(said):
        number = int(found[1])
        if number < 1:
            raise ValueError("cotton duck is numbered from 1 to 12; the noughts are written 1/0 to 6/0")
        return duck_weight(number)
    if found := _PER_AREA.fullmatch(said):
        amount, unit, per = float(found[1].replace(",", ".")), found[2].lower(), (found[3] or "").lower()
        if unit == "gsm" and not per:
            return amount / 1000.0
        if unit == "oz" and ("yd" in per or "yard" in per):
            return from_unit(amount, "oz/yd2")
        if unit == "g" and per.startswith(("m", "square m")):
            return amount / 1000.0
    raise ValueError(
        f'"{words}" does not say which weight is meant: write "No. 10 duck" for the duck number (499 g/m2) or '
        '"10 oz/yd2" for ounces a square yard (339 g/m2), or the weight in g/m2'
    )


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

BEND_STRETCH: Final = 0.02
"""Stretch of the outer face of clear sheet that leaves no white crease when folded daily [1]: judgement."""
FROST_MARGIN: Final = 25.0
"""Clear sheet is moved only this much above where it cracks [K]: judgement; ratings are for new sheet, bent once."""
SHEET_STORED: Final = "Store clear sheet rolled, not folded, with soft cloth between."

SHRINKAGE: Final = (0.01, 0.15)
"""Shrinkage of untreated cotton canvas [1] as publicly claimed: 1 to 3 % only wetted, 8 to 15 % machine washed and
dried. A test strip replaces it: cut 500 by 500 mm, wet, dry, measure."""

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
SEAM_MARGIN: Final = 0.070
"""A window's largest layer stays this far from seams and edges [m]: judgement, room for turn and foot."""


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
