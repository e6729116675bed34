"""What rides on the shell and goes into it: seal, panel, cable, fuse, actuators, lining, lamps."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.fitted_roof import fitted_roof
from loftwright.answers.part_lines import Asked, Listed
from loftwright.answers.part_lines_lift import numbered
from loftwright.answers.without_work import without_work
from loftwright.fitout.seal import seal_length
from loftwright.plan.quantities_of import seal_part
from loftwright.project.plane import plane_of

CABLE_WASTE: Final = 0.15
"""Cable bought over the run: strain relief, ends, a mistake [1]; common practice."""
BOARD_WASTE: Final = 0.15
"""Board and insulation lost in offcuts of curved pieces [1]; common practice."""
LIFT_RUN: Final = 5.0
"""Cable from the battery to actuators on both sides, one way [m]; judgement while nobody has measured."""


@dataclass(frozen=True, slots=True)
class FittedAmounts:
    """What the fit-out takes: `seal` round the rim, `cable` of the panel, one way, and `lamp_cable` [m].

    `lining` is the area of board and insulation under top, ends, sides and at the edge [m2].
    """

    seal: float
    cable: float
    lining: float
    lamp_cable: float


def fitted_amounts(asked: Asked) -> FittedAmounts:
    """Return how much seal, cable and lining the roof takes: as the answer on the fit-out has them."""
    project, plane = asked.project, plane_of(asked.project)
    length, width = asked.number(plane.shell), asked.number(plane.shell_across)
    radius = min(asked.number("fit.corner_radius"), 0.5 * length, 0.5 * width)
    seal = float(seal_length(length, width, radius))
    cable = 0.0 if project.panel is None else asked.number("panel.wire_length")
    lining = None
    if project.lining is not None and not project.lining.there:
        lining = fitted_roof(without_work(project)).numbers.found.lining
    if lining is None:
        return FittedAmounts(seal, cable, 0.0, 0.0)
    area = sum(float(np.ravel(part)[0]) for part in (lining.ceiling, lining.cheeks, lining.edge))
    return FittedAmounts(seal, cable, area, float(np.ravel(lining.cable)[0]))


def riding_parts(asked: Asked) -> Listed:
    """Return seal, panel with its wire, powered lift and lining, as far as the file has them."""
    found, amounts = Listed(), fitted_amounts(asked)
    found.parts.append(seal_part(amounts.seal, "fit.seal_most"))
    _panel(asked, amounts, found)
    _lift(asked, found)
    _lining(asked, amounts, found)
    return found


def _panel(asked: Asked, amounts: FittedAmounts, found: Listed) -> None:
    panel, say = asked.project.panel, asked.say
    if panel is None:
        riding = [number for number, item in enumerate(asked.project.item) if item.kind == "panel"]
        for count, number in enumerate(riding):
            name, id_ = asked.project.item[number].name, numbered("solar-panel", count)
            found.add(id_, name, "electrics", 1.0, f"item.{number}", before_cut=False)
        if riding:
            found.said.append("Cable, fuse and gland of the panel are not in the list: no [panel] says which.")
        return
    watts = asked.number("panel.power")
    size = f"{say.length(asked.number('panel.length'))} by {say.length(asked.number('panel.width'))}"
    found.add("solar-panel", f"solar panel, {watts:.0f} W, {size}", "electrics", 1.0, "panel.power", before_cut=False)
    found.add(
        "panel-foot", "foot or bolt of the panel", "electrics", float(panel.fixings), "panel.fixings", before_cut=False
    )
    found.add(
        "panel-cable",
        f"two-core cable, {asked.number('panel.wire_area'):g} mm² a core",
        "electrics",
        amounts.cable,
        "panel.wire_length",
        unit="m",
        waste=CABLE_WASTE,
        sold_as="by the metre",
        note="the loop over the hinge is in it",
        before_cut=False,
    )
    fuse = "size still to be chosen" if panel.fuse is None else f"{asked.number('panel.fuse'):g} A"
    found.add("panel-fuse", f"fuse with its holder, {fuse}", "electrics", 1.0, "panel.fuse", before_cut=False)
    gland = f"cable gland for {say.short_length(asked.number('panel.cable'))}"
    found.add("panel-gland", gland, "electrics", 1.0, "panel.cable", before_cut=False)
    found.add("charge-controller", "charge controller", "electrics", 1.0, "panel.volts", before_cut=False)


def _lift(asked: Asked, found: Listed) -> None:
    lift, say = asked.project.lift, asked.say
    if lift is None:
        return
    force, stroke = asked.number("lift.force"), asked.number("lift.stroke")
    found.add(
        "actuator",
        f"linear actuator, {say.force(force)}, stroke {say.short_length(stroke)}",
        "lifting",
        2.0 * lift.per_side,
        "lift.force",
        before_cut=False,
    )
    found.add("lift-switch", "switch that reverses, held by hand", "electrics", 1.0, "lift.amps", before_cut=False)
    found.add("lift-fuse", "fuse with its holder for the actuators", "electrics", 1.0, "lift.amps", before_cut=False)
    found.add(
        "lift-cable",
        "two-core cable for the actuators",
        "electrics",
        LIFT_RUN,
        "lift.amps",
        unit="m",
        waste=CABLE_WASTE,
        sold_as="by the metre",
        note="its size stands in the answer on the powered lift",
        before_cut=False,
    )
    found.said.append(f"The actuators' cable is taken as {say.length(LIFT_RUN)}: measure the run.")


def _lining(asked: Asked, amounts: FittedAmounts, found: Listed) -> None:
    lining, say = asked.project.lining, asked.say
    if lining is None or lining.there:
        return
    insulation, board = asked.number("lining.insulation"), asked.number("lining.board")
    if insulation > 0.0:
        found.add(
            "insulation",
            f"insulation, {say.short_length(insulation)}",
            "lining",
            amounts.lining,
            "lining.insulation",
            unit="m2",
            waste=BOARD_WASTE,
            before_cut=False,
        )
    if board > 0.0:
        found.add(
            "lining-board",
            f"lining board, {say.short_length(board)}",
            "lining",
            amounts.lining,
            "lining.board",
            unit="m2",
            waste=BOARD_WASTE,
            before_cut=False,
        )
    watts = asked.number("lining.lights")
    if watts > 0.0 and amounts.lamp_cable > 0.0:
        found.add(
            "lamp-cable",
            "two-core cable for the lamps",
            "electrics",
            amounts.lamp_cable,
            "fitout.lining",
            unit="m",
            waste=CABLE_WASTE,
            sold_as="by the metre",
            before_cut=False,
        )
    if watts > 0.0:
        found.add(
            "lamps", f"lamps, {watts:g} W in all", "electrics", 1.0, "lining.lights", sold_as="set", before_cut=False
        )
