"""Ring, latch bar and brace as bars to cut; corner plates, bolts, rivets, sealant and primer of the frame."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from loftwright.answers.held_joints import JointFound
from loftwright.answers.part_lines import METAL_WORDS, Asked, BarSection, Listed, key_word, pieces_of, section_of_bar
from loftwright.core.choices import RingShape
from loftwright.plan.quantities_of import (
    BoltedJoint,
    RivetedSeam,
    bead_volume,
    bolted,
    edge_area,
    primer_part,
    riveted,
    sealant_part,
)
from loftwright.project.assemble_joints import BACKING, bolt_of
from loftwright.project.plane import plane_of

BEAD: Final = 0.006
"""A round bead of sealant as it leaves the nozzle [m]; common practice."""
BEDS: Final = 2.0
"""Beads side by side under the ring's flat side [1]: one inside and one outside the rivets; judgement."""
GLUE: Final = 0.002
"""Thickness of a bed of elastic glue [m]; common practice, 2 to 3 mm."""
BOLT_BEAD: Final = 0.004
"""Bead round each bolt that goes through the roof or the shell [m]; judgement."""
ROUND_BOLT: Final = 5.0
"""Length of that bead over the bolt's diameter [1]; judgement: once round under its washer."""
TRACK_ENDS: Final = 0.04
"""A brace's track reaches beyond its travel by this, both ends together [m]; judgement."""
WIDE: Final = 2.6
"""A washer wider than so many diameters of its bolt is a wide one [1]: plain ones are 2 to 2.2, wide ones 3."""


def opening_edge(asked: Asked) -> float:
    """Return the length of the cut edge round the opening [m], with its rounded corners."""
    plan = asked.held.found.opening.ring.plan
    return 2.0 * (plan.length + plan.width) - (8.0 - 2.0 * np.pi) * plan.radius


def frame_parts(asked: Asked) -> Listed:
    """Return ring, inner channels, corner plates, latch bar and brace."""
    found = Listed()
    _ring(asked, found)
    _latch_bar(asked, found)
    _brace(asked, found)
    return found


def _ring(asked: Asked, found: Listed) -> None:
    ring, opening, say = asked.project.ring, asked.held.found.opening.ring, asked.say
    sizes = opening.plan.ring
    told = (sizes[0], sizes[2]) if ring.shape == "flat" else sizes
    id_, name = section_of_bar(say, ring.metal, ring.shape, told)
    pieces = [
        piece
        for kind in opening.pieces
        if kind.name != "corner plate"
        for piece in pieces_of(kind.name, kind.length, kind.count, kind.mitre)
    ]
    found.bars.append(BarSection(id_, name, "frame", "hold.opening.ring", tuple(pieces)))
    channel, hinges = asked.number("ring.channel"), len(opening.loads.hinges)
    if channel > 0.0 and hinges:
        made = pieces_of("inner channel", channel, hinges)
        found.bars.append(BarSection(id_, name, "frame", "ring.channel", made))
        found.said.append("The inner channels are cut from the ring's own bar.")
    for kind in opening.pieces:
        if kind.name == "corner plate":
            wall = sizes[2]
            found.add(
                "corner-plate",
                f"corner plate, {METAL_WORDS[ring.metal]} {say.short_length(wall)}, {say.short_length(kind.length)} "
                "along both legs",
                "sheet",
                float(kind.count),
                "hold.opening.ring",
                note="carries the ring's mitre and the rounded corner; template among the sheets on fit and strength",
            )


def _latch_bar(asked: Asked, found: Listed) -> None:
    latches = asked.project.latches
    thick = float(np.ravel(asked.held.found.basis.outline.thickness)[0])
    across = asked.number(plane_of(asked.project).shell_across) - 2.0 * thick
    size, wall = asked.number("latches.bar_size"), asked.number("latches.bar_wall")
    id_, name = section_of_bar(asked.say, latches.bar_metal, "square tube", (size, size, wall))
    pieces = pieces_of("latch bar", across, 1)
    found.bars.append(BarSection(id_, name, "latches", "latches.bar_size", pieces))
    found.said.append("The latch bar is as long as the shell is wide inside.")


def _brace(asked: Asked, found: Listed) -> None:
    brace, say = asked.project.brace, asked.say
    if brace is None:
        return
    length = asked.number("brace.length")
    size, wall = asked.number("brace.size"), asked.number("brace.wall")
    if brace.kind == "straps":
        found.add(
            "brace-strap",
            f"brace strap, {METAL_WORDS[brace.metal]} {say.short_length(size)} x {say.short_length(wall)}, "
            f"{say.length(length)} between its ends",
            "brace",
            2.0,
            "brace.length",
            note="crossed; with an end fitting at both ends and something to draw it tight",
        )
        return
    shape: RingShape = "square tube"
    id_, name = section_of_bar(say, brace.metal, shape, (size, size, wall))
    pieces = pieces_of("brace", length, 1) if brace.kind == "bar" else pieces_of("brace, half", length / 2.0, 2)
    found.bars.append(BarSection(id_, name, "brace", "brace.length", pieces))
    if brace.kind == "bar":
        track = abs(asked.number("brace.track_to") - asked.number("brace.track_from")) + TRACK_ENDS
        found.add(
            "brace-track",
            f"brace track, {say.length(track)}",
            "brace",
            1.0,
            "brace.track_to",
            note="with a slider and a pin that holds it when the roof is open",
        )
    else:
        found.add(
            "brace-knee",
            "knee of the folding brace, with a pin that locks it",
            "brace",
            1.0,
            "brace.kind",
        )
    found.add("brace-end", "end fitting of the brace", "brace", 2.0, "brace.limit")


# --- what holds it together ------------------------------------------------------------------------


def fastener_parts(asked: Asked) -> Listed:
    """Return bolts, washers, nuts and backing plates of every written joint, and what fastens the ring's seam."""
    found, joints = Listed(), asked.held.found.joints
    found.parts += bolted([_bolted(asked, one) for one in joints.joints], "hold.joints")
    _plates(asked, found)
    seam, ring = joints.seam, asked.project.ring
    pitch = asked.number("ring.pitch")
    if seam.rivet is not None and ring.fixing == "rivets":
        thick = asked.number("body.skin") + asked.number("ring.wall")
        size = f"{asked.say.short_length(asked.number('ring.rivet'))} for a grip of {asked.say.short_length(thick)}"
        made = riveted([RivetedSeam("ring to the roof's skin", size, seam.length, pitch)], "hold.joints.seam")
        # Sizes stand in the name; an id does not hang on the builder's units.
        found.parts += [replace(part, id="ring-rivet") for part in made]
    elif seam.rivet is not None:
        size = asked.say.short_length(asked.number("ring.rivet"))
        for what, each in (("bolt", 1), ("washer", 2), ("nut", 1)):
            found.add(
                f"ring-{what}",
                f"{what} {size} for the ring's seam, stainless",
                "fasteners",
                float(each * seam.count),
                "hold.joints.seam",
                waste=0.05,
            )
    for name in joints.missing:
        found.said.append(f"Bolts of {name} are not in the list: no [[joint]] says which.")
    return found


def _bolted(asked: Asked, one: JointFound) -> BoltedJoint:
    """Return one group of bolts with its count on the whole roof; hinges on the van go through their packers."""
    joint = one.joint
    grip = sum(float(np.ravel(layer.thickness)[0]) for layer in joint.layers)
    if joint.backing is not None:
        grip += BACKING
    packers = asked.held.found.fit.packers
    if one.place == "hinge on van" and packers is not None:
        grip += float(np.max(packers.made.middle.reshape(-1, 2)[0])) + asked.number("body.skin")
    under = max(float(np.ravel(width)[0]) for width in joint.under)
    wide = joint.backing is None and under > WIDE * joint.bolt.diameter
    return BoltedJoint(one.name, joint.bolt.name, joint.grade.name, one.groups * joint.count, grip, wide)


def _plates(asked: Asked, found: Listed) -> None:
    project, say = asked.project, asked.say
    for index, written in enumerate(project.joint):
        mine = [one for one in asked.held.found.joints.joints if one.place == written.at]
        like = [k for k, other in enumerate(project.joint) if other.at == written.at]
        if not written.plate or not mine:
            continue
        one = mine[min(like.index(index), len(mine) - 1)]
        washer = asked.number(f"joint.{index}.washer")
        long, wide = (asked.number(f"joint.{index}.{side}") + washer for side in ("along", "across"))
        found.add(
            key_word(f"backing plate {one.name}"),
            f"backing plate for the {one.name}, {METAL_WORDS[written.plate_metal]} "
            f"{say.short_length(long)} x {say.short_length(wide)} x {say.short_length(BACKING)}",
            "sheet",
            float(one.groups),
            f"joint.{index}.plate",
            note=f"with {joint_holes(written.count)} for {bolt_of(written.bolt).name}",
        )


def joint_holes(count: int) -> str:
    """Return how many holes a plate has, in words."""
    return "1 hole" if count == 1 else f"{count} holes"


# --- what keeps the water out ----------------------------------------------------------------------


def sealing_parts(asked: Asked) -> Listed:
    """Return sealant or glue of the ring, of packers and bolts, and primer for the cut edges."""
    found, project = Listed(), asked.project
    edge, seam = opening_edge(asked), asked.held.found.joints.seam
    bolts = [(one.groups * one.joint.count, one.joint.bolt.diameter) for one in asked.held.found.joints.joints]
    volume = sum(n * float(bead_volume(ROUND_BOLT * d, BOLT_BEAD)) for n, d in bolts)
    packers = asked.held.found.fit.packers
    if packers is not None:
        # Above and below each of both.
        volume += 4.0 * GLUE * asked.number("fit.plate_length") * asked.number("fit.plate_width")
    if project.ring.fixing == "adhesive":
        glue = GLUE * asked.number("ring.flat") * seam.length
        found.parts.append(sealant_part(glue, "ring.fixing", "elastic glue for the ring"))
    else:
        volume += BEDS * float(bead_volume(edge, BEAD))
    found.parts.append(sealant_part(volume, "opening.length"))
    sheet = float(edge_area(edge, asked.number("body.skin")))
    bows = any(not bow.kept for bow in project.bow)
    found.parts.append(primer_part(sheet, "opening.length"))
    cut_bows = " and the ends of cut bows" if bows else ""
    found.said.append(
        f"Primer is counted for the cut edge of {asked.say.length(edge)} and a strip beside it on both faces; drilled "
        f"holes{cut_bows} take what is left in the tin."
    )
    found.said.append(
        f"Sealant is counted as two beads of {asked.say.short_length(BEAD)} under the ring, a bed under and over each "
        "packer, and a bead round every bolt."
    )
    return found
