"""The row of holes that the springs of the file may go to, found before any reading."""

from __future__ import annotations

from loftwright.answers.choose import own_fit
from loftwright.answers.choose_holes import drilled_holes, drilled_row, level_row, with_card
from loftwright.answers.choose_roofs import drawn, own_entry
from loftwright.answers.choose_search import CLAIM, DRAWS, LEARN
from loftwright.answers.hole_words import hand_of, hole_row
from loftwright.core.choice_views import HoleRow
from loftwright.core.wording import Wording
from loftwright.project.model import Project
from loftwright.project.zones import zones_of


def own_row(project: Project) -> HoleRow | None:
    """Return the row of holes of the file's springs; None without readings, with several entries, or where none helps.

    They are those that the file says are there (`feet`, `heads`), else a level row through the spring's own hole.
    """
    if not project.reading or len(project.spring) != 1:
        return None
    pairs = zones_of(project).pairs
    fits = own_fit(project, pairs, 0)
    if not fits:
        return None
    pair, seed = pairs[fits[0].pair], project.settings.seed
    learn, claim = (drawn(project, 2 * DRAWS, seed + part) for part in (LEARN, CLAIM))
    units, own = project.settings.units, own_entry(project)
    there = drilled_holes(project)
    found = (
        level_row(project, learn, claim, pair, own, fits[0], hand_of(units))
        if there is None
        else drilled_row(there, learn, claim, pair, own, fits[0])
    )
    if found is None:
        return None
    return hole_row(with_card(found, learn, own, hand_of(units)), Wording(units), note="as chosen before the readings")
