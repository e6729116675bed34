"""The packers under the hinges of one roof: as its hinge height asks, and as they are made."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.project.assemble_fit import Hinged, hinged
from loftwright.project.plane import CROSSWISE
from loftwright.strength.fit_surfaces import Surface
from loftwright.strength.packers import (
    PIN_OFF,
    Packers,
    judge_axes,
    judge_made,
    judge_packers,
    least_height,
    packer_error,
    packers,
    pin_allowance,
    pin_heights,
    profiles,
    rod_reading,
)

PIN_LENGTH = "A hinge pin is taken to be as long as its plate is wide along the axis."


@dataclass(frozen=True, slots=True)
class HingePackers:
    """The packers under two hinges, on `sides`, in the plane of motion.

    `made`: as the hinge height of the file asks; `least_height`: lowest hinge height for packers that are thick enough
    [m], [rows]; `pins`: heights [m], [rows, 2], on the packers there are, None where none are made;
    `moved`: by how much these move the hinge, mean of both [m], [rows]; `rod`: how far either pin may point off the
    line through both, as a straight rod along one pin reads at the other [m]; `error`: how
    much inner and outer edge of a packer may differ [m]; each [rows].
    """

    sides: tuple[str, str]
    hinge: Hinged
    roof: Surface
    made: Packers
    least_height: Array
    pins: Array | None
    moved: Array | None
    rod: Array
    error: Array


def packers_of(base: Basis, roof: Surface) -> HingePackers | None:
    """Return the packers between hinges and `roof`, which lies in the plane of motion; None where there is no hinge."""
    hinge = hinged(base.project, base.at)
    if hinge is None:
        return None
    plate = hinge.plates
    pins = None if hinge.made is None else pin_heights(roof, plate, hinge.made, hinge.made)
    allowance = pin_allowance(hinge.play, plate.width, hinge.opens)
    return HingePackers(
        sides=("rear", "front") if base.plane is CROSSWISE else ("right", "left"),
        hinge=hinge,
        roof=roof,
        made=packers(roof, plate, hinge.height),
        least_height=least_height(roof, plate, hinge.least),
        pins=pins,
        moved=None if pins is None else np.asarray(pins.mean(axis=-1) - hinge.height),
        rod=rod_reading(plate.spacing, allowance),
        error=packer_error(plate.width, allowance),
    )


def judge_hinges(found: HingePackers) -> tuple[Judged, ...]:
    """Return both packers judged, how true the pins can be set, and the hinge height that packers as made give."""
    hinge = found.hinge
    names = dict(zip(("right", "left"), found.sides, strict=True))
    under = judge_packers(found.made, least=hinge.least)
    return (
        *(replace(one, which=names[one.which]) for one in under),
        judge_axes(spacing=hinge.plates.spacing, play=hinge.play, pin_length=hinge.plates.width, opens=hinge.opens),
        *(() if found.pins is None else (judge_made(found.pins, hinge.height),)),
    )


def said_of_packers(found: HingePackers, say: Wording) -> tuple[str, ...]:
    """Return what was taken for granted, and which height of the hinge the packers as made give if not that written."""
    if found.pins is None:
        return (PIN_LENGTH,)
    given, planned = float(found.pins[0].mean()), float(found.hinge.height[0])
    if abs(given - planned) <= PIN_OFF:
        return (PIN_LENGTH,)
    return (
        PIN_LENGTH,
        f"The packers as made put the hinge axis {say.short_length(given)} above the roof at the origin; [linkage] "
        f"hinge says {say.short_length(planned)}.",
    )


def templates(found: HingePackers, view: str) -> Array:
    """Return the outlines [m], [2, points, 2], of both packers at full size for the nominal row.

    `view` "along" in the plane of motion or "across" it, as `packers.profiles` has it.
    """
    hinge = found.hinge
    return np.asarray(profiles(found.roof.nominal(), hinge.plates.nominal(), hinge.height[:1], view)[0])
