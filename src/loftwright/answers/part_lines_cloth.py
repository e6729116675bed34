"""The cloth walls: cloth by the roll, clear sheet, screen, thread, tapes, zips, staples, strips, what draws it in."""

from __future__ import annotations

import math
from typing import Final

from loftwright.answers.part_lines import Asked, Listed, key_word
from loftwright.answers.part_lines_lift import numbered
from loftwright.answers.wall_sewing_view import APART, UNDER_FOOT, work_of
from loftwright.cloth.sewing_order import amounts, staples
from loftwright.core.fitting_views import PartGroup
from loftwright.reference.sewing import STAPLE_PITCH, threads_for

LAPS: Final = 0.1
"""Strips, tapes and zips bought over what is counted: laps, ends and mitred corners [1]; common practice."""
STAPLE_SPARE: Final = 0.2
"""Staples that bend or shoot into the void [1]; common practice."""
BOX: Final = 1000.0
"""Staples in one box [1]; common practice."""
CORD: Final = 0.4
"""Length of a short cord with its hook, knots counted [m]; judgement."""


def cloth_parts(asked: Asked) -> Listed:
    """Return everything that is bought for the walls; nothing of it must be there before the cut."""
    found = Listed()
    walls, project = asked.walls, asked.project
    pieces, say = walls.found.pieces, asked.say
    if not pieces.pieces:
        found.said.append("No cloth is in the list: nothing hangs between ring and shell.")
        return found
    roles: dict[str, int] = {}
    for roll in walls.found.metres.rolls:
        layer = roll.asked.layer
        role = "outer" if layer is None else project.layer[layer].role
        number = roles.get(role, 0)
        roles[role] = number + 1
        found.add(
            numbered(f"cloth-{role}", number),
            f"{roll.asked.material or 'cloth'}, {role}, from a roll {say.length(roll.metres.width)} wide",
            "cloth",
            float(roll.buy[0]),
            "walls.metres",
            unit="m",
            sold_as="by the metre",
            note="spare and cut ends are in it",
            before_cut=False,
        )
    for sheet in walls.found.metres.sheets:
        found.add(
            key_word(sheet.asked.material),
            f"{sheet.asked.material}, from a roll {say.length(sheet.metres.width)} wide",
            "windows" if sheet.asked.material != "curtain" else "cloth",
            float(sheet.buy[0]),
            "walls.metres",
            unit="m",
            sold_as="by the metre",
            before_cut=False,
        )
    _notions(asked, found)
    _pull(asked, found)
    return found


def _notions(asked: Asked, found: Listed) -> None:
    """Add what sews and holds the cloth."""
    pieces, project = asked.walls.found.pieces, asked.project
    outer = next(layer for layer in pieces.layers if layer.role == "outer")
    whole = amounts(work_of(asked.walls), UNDER_FOOT * outer.thickness)
    threads = " or ".join(thread.text() for thread in threads_for(outer.weight))
    sewing = "walls.sewing"

    def by_length(
        id_: str, name: str, length: float, source: str = sewing, note: str = "", group: PartGroup = "cloth"
    ) -> None:
        if length > 0.0:
            found.add(
                id_,
                name,
                group,
                length,
                source,
                unit="m",
                waste=0.0 if id_ == "thread" else LAPS,
                sold_as="by the metre",
                note=note,
                before_cut=False,
            )

    by_length("thread", "sewing thread", whole.thread, note=f"{threads}; waste is in it")
    for opens, id_, name in (
        ("zip", "window-zip", "zip for windows"),
        ("hook tape", "hook-tape", "hook tape for windows"),
    ):
        windows = [one for one in pieces.windows.windows if project.window[one.entry].opens == opens]
        by_length(id_, name, sum(one.tape for one in windows), "walls.windows", group="windows")
    by_length("edge-zip", "zip for the cloth's edges", whole.zip)
    by_length("welt-track", "welt track with its cord", whole.track)
    edges = ((pieces.plan.lower, pieces.lower_edge), (pieces.plan.upper, pieces.upper_edge))
    by_length("binding", "binding", sum(length for edge, length in edges if edge.words == "binding"))
    pitch = asked.number("wind.staple_pitch")
    held = [length for edge, length in edges if edge.stapled and length > 0.0]
    if held:
        pitch = min(max(pitch, STAPLE_PITCH[0]), STAPLE_PITCH[1])
        count = sum(staples(length, pitch) for length in held)
        found.add(
            "staples",
            "staples, stainless",
            "cloth",
            math.ceil(count * (1.0 + STAPLE_SPARE) / BOX),
            "wind.staple_pitch",
            sold_as=f"box of {BOX:.0f}",
            note=f"{count} at {asked.say.short_length(pitch)}, nearer in corners",
            before_cut=False,
        )
        by_length("cover-strip", "strip over the staples", sum(held), note="holds the cloth and hides the staples")
    by_length(
        "batten",
        "timber strip that the cloth is held to",
        sum(held),
        note="along the upper and lower line; straight grain, no knots",
        group="timber",
    )


def _pull(asked: Asked, found: Listed) -> None:
    """Add what draws the cloth inward as the roof comes down."""
    lower, pull = asked.walls.found.pieces.lower_edge, asked.project.stow.pull
    if pull == "elastic":
        found.add(
            "pull-elastic",
            "elastic that draws the cloth inward",
            "cloth",
            lower,
            "stow.pull",
            unit="m",
            waste=LAPS,
            sold_as="by the metre",
            before_cut=False,
        )
    elif pull == "cords":
        count = max(4, math.ceil(lower / APART))
        found.add(
            "pull-cord",
            "elastic cord that draws the cloth inward",
            "cloth",
            count * CORD,
            "stow.pull",
            unit="m",
            sold_as="by the metre",
            note=f"{count} short ones",
            before_cut=False,
        )
        found.add("pull-hook", "hook for a short cord", "cloth", float(count), "stow.pull", before_cut=False)
