"""Changing how the roof moves: one change that proposes all that the other way needs."""

from __future__ import annotations

from typing import Any

from loftwright.answers.other_motion import other_motion
from loftwright.answers.ways import WAYS, way_of
from loftwright.board.desk import Desk
from loftwright.board.said import Action, Form, Said


def ways(desk: Desk) -> dict[str, Any]:
    """Return what the form about another way of moving offers."""
    now = way_of(desk.project)
    return {
        "moves_so": next(way.label for way in WAYS if way.name == now),
        "other_ways": tuple(w for w in WAYS if w.name != now),
    }


async def motion(desk: Desk, form: Form) -> Said:
    """Write everything that another way of moving needs, as one change."""
    history = desk.open
    text = history.text
    made = await desk.verdicts.run(other_motion, history.project, text, form["wanted"])
    if desk.history is not history or history.text != text:
        return Said(False, "The file was changed meanwhile: nothing was done; ask again.")
    desk.replace(made.text(text), made.what)
    return Said(True, " ".join((f"Saved: {made.what}.", *made.said, "Undo brings the old way back.")))


ACTIONS: dict[str, Action] = {"motion": motion}
