"""The row of holes that the springs of the file may go to, found before any reading as the choice of springs does."""

from __future__ import annotations

from loftwright.answers.choice_view import hand_of, place
from loftwright.answers.choose import own_fit
from loftwright.answers.choose_holes import HoleNumbers, choose_holes
from loftwright.answers.choose_roofs import drawn, own_entry
from loftwright.answers.choose_search import CLAIM, DRAWS, LEARN
from loftwright.core.choice_views import Hole, HoleRow
from loftwright.core.lifting import Pair
from loftwright.core.wording import Wording
from loftwright.project.model import Project
from loftwright.project.zones import zones_of


def own_row(project: Project) -> HoleRow | None:
    """Return the row of holes of the file's springs; None without readings, with several entries, or where none helps.

    Where the springs of the file are those that were chosen it is the very row of that choice.
    """
    if not project.reading or len(project.spring) != 1:
        return None
    pairs = zones_of(project).pairs
    fits = own_fit(project, pairs, 0)
    if not fits:
        return None
    pair, seed = pairs[fits[0].pair], project.settings.seed
    learn, claim = (drawn(project, 2 * DRAWS, seed + part) for part in (LEARN, CLAIM))
    units = project.settings.units
    found = choose_holes(project, learn, claim, pair, own_entry(project), fits[0], hand_of(units))
    return None if found is None else _row(found, pair, Wording(units))


def _row(found: HoleNumbers, pair: Pair, say: Wording) -> HoleRow:
    ends = found.ends
    feet = [(float(x), float(z)) for x, z in zip(ends.foot_x, ends.foot_z, strict=True)]
    heads = [(float(x), float(z)) for x, z in zip(ends.head_x, ends.head_z, strict=True)]
    moving, still, at, fixed = (
        (pair.foot, pair.head, feet, heads[0]) if found.end == "foot" else (pair.head, pair.foot, heads, feet[0])
    )
    start = found.row.holes.index(found.row.start)
    first = round(100 * found.row.first)
    return HoleRow(
        holes=tuple(
            Hole(k + 1, moving.on, 1000 * x, 1000 * z, k == start, place(x, z, say)) for k, (x, z) in enumerate(at)
        ),
        fixed=Hole(0, still.on, 1000 * fixed[0], 1000 * fixed[1], False, place(*fixed, say)),
        odds=round(100 * found.row.odds),
        first=first,
        with_card=first if found.card_odds is None else round(100 * found.card_odds),
        note="as chosen before the readings",
    )
