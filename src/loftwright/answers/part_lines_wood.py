"""Wood and laminate: packers under hinges, the shell itself, mat and resin, the timber trial frame."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.drilling import Spot, lifter_spots, spots_of
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.part_lines import Asked, BarSection, Listed, pieces_of
from loftwright.answers.side_view import scene
from loftwright.answers.trial_frame import frame_of
from loftwright.answers.without_work import without_work
from loftwright.core.choices import SIDES
from loftwright.plan.laminate_list import Patch, laminate_parts
from loftwright.project import assemble
from loftwright.reference.consumables import BOND_LAP
from loftwright.reference.timber import STOCK

MAT: Final = 0.450
"""Mat for bonding and glassing [kg/m2]: a common weight."""
ON_STRIPS: Final = 2
"""Layers of mat over a timber strip that is bonded into a shell of glass-fibre [1]; boat building, from memory."""
STRIP: Final = 0.06
"""Width of such a strip round its three free faces [m]: 20 x 20 mm; judgement."""
WITH_MAT: Final = ("glass-fibre",)
"""Shells into which strips are bonded with mat; in others they are glued and screwed."""


def wood_parts(asked: Asked) -> Listed:
    """Return packers, the shell, and what is laminated."""
    found = Listed()
    patches = [*_packers(asked, found), *_strips(asked)]
    _shell(asked, found)
    if patches:
        found.parts += laminate_parts(patches, "fit.packer")
        names = "; ".join(dict.fromkeys(patch.name for patch in patches))
        area = sum(patch.length * patch.width * patch.layers for patch in patches)
        found.said.append(
            f"Mat and resin are counted for {names}: {asked.say.area(area)} of mat before laps and waste. Judgement."
        )
    return found


def _packers(asked: Asked, found: Listed) -> list[Patch]:
    packers, say = asked.held.found.fit.packers, asked.say
    if packers is None:
        return []
    thick = float(np.max(np.reshape(packers.made.corners, (-1, 2, 4))[0]))
    long, wide = asked.number("fit.plate_length"), asked.number("fit.plate_width")
    if thick <= 0.0:
        return []
    found.add(
        "packer-wood",
        f"hardwood block for a hinge packer, {say.short_length(long)} x {say.short_length(wide)} x "
        f"{say.short_length(thick)}",
        "timber",
        2.0,
        "hold.fit.packers",
        note="grain along the van; planed to its template",
    )
    around = 2.0 * (long + wide)
    return [
        Patch("top of both packers", 2.0 * (long + 2.0 * BOND_LAP), wide, 1, MAT),
        Patch("sides of both packers", 2.0 * around, max(thick, 0.0) + BOND_LAP, 1, MAT),
    ]


def _strips(asked: Asked) -> list[Patch]:
    upper = asked.walls.found.pieces.upper_edge
    if asked.project.shell.made_of not in WITH_MAT or upper <= 0.0:
        return []
    return [Patch("upper timber strip in the shell", upper, STRIP + 2.0 * BOND_LAP, ON_STRIPS, MAT)]


def _shell(asked: Asked, found: Listed) -> None:
    project = asked.project
    if project.plan.shell_is == "bought":
        found.add("shell", "the shell", "sheet", 1.0, "plan.shell_is", note="bought or found")
        return
    area = float(np.ravel(assemble.skin(project, asked.at).area)[0])
    made = project.shell.made_of
    name = "shell skin, lay-up not chosen" if made == "unknown" else f"shell skin of {made}"
    found.add(
        "shell-skin", name, "sheet", area, "shell.made_of", unit="m2", waste=0.1, note="faces, core, glue and paint"
    )


def trial_frame_bars(asked: Asked) -> tuple[Listed, tuple[float, ...]]:
    """Return the sections of the timber trial frame, where one is planned, and the lengths that are sold [m]."""
    found, project = Listed(), asked.project
    stock = STOCK[project.settings.units]
    if not project.plan.trial_frame:
        return found, stock.lengths
    if project.linkage.end in SIDES:
        found.said.append("The timber trial frame is not in the list: none is drawn for a roof hinged at a side.")
        return found, stock.lengths
    numbers = judged_roof(without_work(project)).numbers
    spots = (*spots_of(project, None, ("van", "shell")), *lifter_spots(project))
    pivots = tuple(Spot(pin.name, pin.body, *pin.at) for pin in scene(numbers).pivots)
    frame = frame_of(project, numbers, spots, pivots, "low")
    for thick, deep in (*stock.beams, stock.board):
        mine = [one for one in frame.members if abs(one.thick - thick) < 1e-6 and abs(one.deep - deep) < 1e-6]
        pieces = tuple(piece for one in mine for piece in pieces_of(one.mark, one.length, one.count, one.cut))
        legend = tuple(f"{one.mark} ({one.name})" for one in mine)
        if pieces:
            size = f"{asked.say.short_length(thick)} x {asked.say.short_length(deep)}"
            id_ = f"frame-timber-{1000.0 * thick:.0f}-{1000.0 * deep:.0f}"
            found.bars.append(BarSection(id_, f"softwood {size}", "timber", "plan.trial_frame", pieces, legend))
    if found.bars:
        found.add(
            "frame-screws",
            f"wood screws for the trial frame, {stock.screws[1]}",
            "fasteners",
            1.0,
            "plan.trial_frame",
            sold_as="box of 200",
            before_cut=False,
        )
        found.said.append(
            "The timber trial frame is the low one. Blocks of sizes that are not sold are built up from its offcuts."
        )
    return found, stock.lengths
