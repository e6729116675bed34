"""From the file's joints, ring and safety factors to bolted joints and the ring's seam, for one or many rows."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.core.choices import JointPlace, LayerName, MetalName
from loftwright.core.motion import Array
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.reference.bolts import BOLTS, CLASSES, Bolt
from loftwright.reference.rivets import Rivet, rivet_of
from loftwright.reference.sheets import SHEETS, Sheet
from loftwright.strength import thin_sheet
from loftwright.strength.joints import Backing, Factors, Joint, Layer
from loftwright.strength.seams import Seam

FITTING: Final = 0.004
"""Thickness of a hinge's, bracket's or latch's own plate [m]; judgement: only what clamps and touches hangs on it."""
BACKING: Final = 0.003
"""Thickness of a backing plate [m]; judgement: a plate that people cut by hand."""
REACH: Final = 0.2
"""How far from the bolts a laminate is held by a rib, a corner or the rim [m]; judgement."""
OVERHANG: Final = 2.0
"""Most that a plate counts beyond its outer bolts, over the bolt's diameter [1]; judgement."""
LEAST_GAP: Final = 0.001
"""Bolts of one group are taken to stand at least so far apart [m]."""
SEAM: Final = "ring to the roof's skin"

SHEET_OF: Final[dict[LayerName, Sheet]] = {
    "steel sheet": SHEETS["roof steel"],
    "aluminium sheet": SHEETS["aluminium 5754 H22"],
    "steel frame": SHEETS["S235 steel"],
    "aluminium frame": SHEETS["aluminium 6082 T6"],
    "mat laminate": SHEETS["glass mat laminate"],
    "plywood": SHEETS["plywood"],
}
"""The sheet that each word for a layer stands for."""
METAL_OF: Final[dict[MetalName, Sheet]] = {
    "steel": SHEETS["S235 steel"],
    "aluminium": SHEETS["aluminium 6082 T6"],
    "stainless": SHEETS["stainless 1.4301"],
}
"""The sheet that each word for a bar's or plate's metal stands for."""
SKIN_OF: Final[dict[MetalName, Sheet]] = {
    "steel": SHEETS["roof steel"],
    "aluminium": SHEETS["aluminium 5754 H22"],
    "stainless": SHEETS["stainless 1.4301"],
}
"""The sheet that each word for a skin's metal stands for."""

Axes = tuple[tuple[float, float, float], ...]
_LEVEL: Final[Axes] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
_UNDER: Final[Axes] = ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))
_SIDE: Final[Axes] = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))
_END: Final[Axes] = ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))


def bolt_of(size: str) -> Bolt:
    """Return the bolt of a size as the file writes it: "M6", "#10", "1/4"."""
    return next(bolt for name, bolt in BOLTS.items() if name == size or name.startswith(f"{size}-"))


def holes(count: int, along: Array, across: Array) -> Array:
    """Return `count` holes about the middle of a plate, in two rows or, of two or without width, in one.

    `along` and `across` [m], [rows], between the outer holes; [rows, bolts, 2]. An odd hole goes into the first row; a
    row of one stands in the middle. Not closer than `LEAST_GAP`.
    """
    long, wide = np.maximum(along, LEAST_GAP), np.maximum(across, LEAST_GAP)
    one_row = count < 3 or float(across[0]) <= 0.0
    sideways = count == 2 and float(along[0]) <= 0.0
    parts = [count] if one_row else [(count + 1) // 2, count // 2]
    places = []
    for row, number in enumerate(parts):
        y = np.zeros_like(wide) if len(parts) == 1 else (row - 0.5) * wide
        spread = np.linspace(-0.5, 0.5, number) if number > 1 else np.zeros(1)
        for share in spread:
            places.append(np.stack([np.zeros_like(long), share * wide] if sideways else [share * long, y], axis=-1))
    return np.stack(places, axis=-2)


def plate_axes(place: JointPlace) -> Axes:
    """Return a plate's axes as unit vectors of the closed roof's plane of motion and of what lies square to it.

    Hinges and braces lie flat, on top of the van and under the shell; springs' brackets stand on a face alongside the
    plane, latches on a face square to it.
    """
    part, _, body = place.partition(" on ")
    if part == "spring":
        return _SIDE
    if part == "latch":
        return _END
    return _LEVEL if body == "van" else _UNDER


def factors(at: Values) -> Factors:
    """Return the factors of safety of joints, each [rows]; that on both loads at once follows that on pull-over."""
    pull = at("safety.pull_over")
    return Factors(
        bolt=at("safety.bolts"),
        action=at("safety.load"),
        pull=pull,
        both=np.asarray(pull * thin_sheet.SAFETY_BOTH / thin_sheet.SAFETY),
        laminate=at("safety.laminate"),
        wood=at("safety.laminate"),
    )


def joint(project: Project, at: Values, index: int, name: str) -> Joint:
    """Return one group of bolts of the file, the `index`th [1], for every row; `name` is what it is called."""
    written, path = project.joint[index], f"joint.{index}"
    bolt, washer, edge = bolt_of(written.bolt), at(f"{path}.washer"), at(f"{path}.edge")
    fitting = METAL_OF[written.plate_metal]
    weakest = SHEET_OF[written.layer]
    return Joint(
        name,
        holes(written.count, at(f"{path}.along"), at(f"{path}.across")),
        bolt,
        CLASSES[written.grade],
        (
            Layer(fitting, FITTING, edge, fitting=True),
            Layer(weakest, at(f"{path}.thickness"), edge, reach=REACH if weakest.family == "laminate" else None),
        ),
        np.minimum(edge, OVERHANG * bolt.diameter),
        (bolt.washer, bolt.washer if written.plate else washer),
        Backing(washer, washer, BACKING, fitting) if written.plate else None,
        written.isolated,
        plate_axes(written.at),
    )


def arm(at: Values, index: int) -> Array:
    """Return how far from its bolted face the force on a group of bolts acts [m], [rows]."""
    return at(f"joint.{index}.arm")


def _bolt_as_rivet(diameter: Array) -> Rivet:
    """Return small stainless bolts as a seam's fasteners: loads of A2-70 on three quarters of the shank's area."""
    grade = CLASSES["A2-70"]
    area = 0.75 * np.pi / 4.0 * diameter**2
    name = f"{1000 * float(diameter[0]):.1f} mm bolt {grade.name}"
    loads = (np.asarray(grade.shear * grade.tensile * area), np.asarray(0.9 * grade.tensile * area))
    return Rivet(name, diameter, np.asarray(1.1 * diameter), np.asarray(2.0 * diameter), *loads, grade.source)


def seam(project: Project, at: Values) -> Seam:
    """Return the ring's seam to the roof's skin, fastened in the middle of the ring's flat side, for every row."""
    ring = project.ring
    flat = at("ring.flat")
    length = float(2.0 * (at("opening.length")[0] + at("opening.width")[0]))
    layers = (
        Layer(SKIN_OF[project.body.skin_metal], at("body.skin"), 0.5 * flat),
        Layer(METAL_OF[ring.metal], at("ring.wall"), 0.5 * flat),
    )
    if ring.fixing == "adhesive":
        return Seam(SEAM, layers, length, glue_width=flat)
    size = at("ring.rivet")
    fastener = rivet_of(size) if ring.fixing == "rivets" else _bolt_as_rivet(size)
    return Seam(SEAM, layers, length, fastener, at("ring.pitch"))
