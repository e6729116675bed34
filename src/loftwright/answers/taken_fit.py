"""What the answer on the fit-out says about the balance, ready to be written into the file.

Nothing is written by itself: faces offer it. What the file knows of the seal, measured, read off a label or decided, is
not replaced. A range holds nine of ten drawn roofs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.core.fitting_pages import Offered
from loftwright.core.motion import Array
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Provenance, even
from loftwright.core.wording import Wording
from loftwright.project.model import Project, key_of, walk

if TYPE_CHECKING:
    from loftwright.answers.fitted_roof import FittedNumbers

ENDS: Final = (5.0, 95.0)
"""Ends of the range that is written [percent of the draws]."""
LINING_NAME: Final = "lining"
SEAL_SAID: Final = {
    "forces.seal_line": "What the sample pushes with where the shell rests on its stops, mean over the rim",
    "forces.seal_height": "How far the seal is squeezed there, mean over the rim",
}
SPREAD: Final = "its range is that of this mean in nine of ten roofs like yours; round the rim it spreads further"
SEAL_STEP: Final = {"forces.seal_line": 1.0, "forces.seal_height": 0.0001}
"""To what each is rounded, outward: [N/m], [m]."""
ITEM_STEP: Final = {"mass": 0.1, "x": 0.01, "z": 0.005}
"""The same of the lining as an item: [kg], [m], [m]."""


def taken_fit(fitted: FittedNumbers) -> tuple[Offered, ...]:
    """Return what could be written into the file, those that can be said only."""
    return (*_seal(fitted), *_lining(fitted))


def _seal(fitted: FittedNumbers) -> tuple[Offered, ...]:
    seal = fitted.found.seal
    if not seal.sampled:
        return ()
    values = {"forces.seal_line": seal.line, "forces.seal_height": seal.squeeze}
    say, there = Wording(fitted.project.settings.units), walk(fitted.project)
    found = []
    for path, value in values.items():
        if not there[path].is_open:
            continue
        before = say.ranged(there[path], key_of(path).dimension, origin=True)
        text = ranged(fitted, path, value, SEAL_STEP[path])
        found.append(Offered(path, text, f"{SEAL_SAID[path]}; {SPREAD}; it replaces {before}."))
    return tuple(found)


def _lining(fitted: FittedNumbers) -> tuple[Offered, ...]:
    """Return the lining as an item: of one that is there its weight and place, else all of a new one."""
    lining, section = fitted.found.lining, fitted.project.lining
    if lining is None or section is None or section.there:
        return ()
    place, new = place_of(fitted.project)
    said = "The lining as it rides on the shell; it was not on when the shell was weighed."
    if not new:
        said = "The lining as it is planned now; it replaces what was written of it."
    first = (("name", LINING_NAME), ("kind", "lining"), ("state", "add")) if new else ()
    weight = {"mass": lining.weight.mass, "x": lining.weight.x, "z": lining.weight.z}
    texts = [(key, ranged(fitted, f"item.{place}.{key}", value, ITEM_STEP[key])) for key, value in weight.items()]
    return tuple(Offered(f"item.{place}.{key}", text, said) for key, text in (*first, *texts))


def place_of(project: Project) -> tuple[int, bool]:
    """Return the number of the lining's item, and whether it is a new one."""
    for number, item in enumerate(project.item):
        if item.kind == "lining" and item.state == "add":
            return number, False
    return len(project.item), True


def ranged(fitted: FittedNumbers, path: str, value: Array, step: float) -> str:
    """Return a `value` [SI], [rows], as the file takes it, rounded outward to `step` [SI], within bounds."""
    drawn = fitted.rows.draws
    rows = drawn if drawn.stop > drawn.start else slice(0, 1)
    least, most = (float(np.percentile(np.asarray(value)[rows], end)) for end in ENDS)
    key = key_of(path)
    ends = [np.floor(least / step + 1e-9) * step, np.ceil(most / step - 1e-9) * step]
    first, last = (float(np.clip(round(float(end), 6), key.low, key.high)) for end in ends)
    number = even(first, last, Provenance.ASSUMED)
    return format_quantity(number, key.dimension, fitted.project.settings.units, digits=3)
