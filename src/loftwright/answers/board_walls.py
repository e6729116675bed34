"""All that the drawing board shows of the cloth walls, ready to be sent between processes, and what moving writes.

What computes is imported where it is asked: the board's own process only carries and writes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite
from pathlib import Path
from typing import Final

from loftwright.answers.decisions import decisions, link_of
from loftwright.answers.grips import decided
from loftwright.core.board_views import Decision
from loftwright.core.checks import Check, Verdict
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.field_views import Link
from loftwright.core.quantity_text import MARK, format_quantity, on_tape
from loftwright.core.uncertain import Uncertain, exact
from loftwright.core.units import Dimension
from loftwright.core.views import CheckRow
from loftwright.core.wall_views import StripSeam, WallPage
from loftwright.core.wording import Wording
from loftwright.project.model import Project
from loftwright.project.reading import quoted
from loftwright.reference.cautions import WALLS

CAUTIONS: Final = WALLS
"""Said also before the walls are judged."""
APART: Final = 0.05
"""Two seams stand at least so far apart along the lower line [m]: judgement, room for both folds."""
SAME_PLACE: Final = 0.0005
"""Two seams of the strip nearer than this are one, which closes the ring [m]: half of what a tape shows."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A value that the walls give for the rest of the file: its key, what is written, and what it is in a sentence."""

    path: str
    text: str
    says: str


@dataclass(frozen=True, slots=True)
class BoardWalls:
    """The walls of one roof judged: their page, how the decisions stand, what does not hold, what may be taken over.

    `links` say where each judgement leads, as long as `page.rows`.
    """

    page: WallPage
    decisions: tuple[Decision, ...]
    links: tuple[Link, ...]
    open_checks: tuple[Check, ...]
    taken: tuple[Taken, ...] = ()
    left: tuple[str, ...] = ()
    """What is not offered, as the file knows it, in sentences."""

    @property
    def rows(self) -> tuple[tuple[CheckRow, Link], ...]:
        """The judgements, each with where it leads."""
        return tuple(zip(self.page.rows, self.links, strict=True))


def board_walls(project: Project, path: Path) -> BoardWalls:
    """Return all that is judged of a project's walls, with the slow answers that are kept beside its file.

    Errors: ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    from loftwright.answers.kept_reading import kept_walls
    from loftwright.answers.taken_over import left_alone, taken_over
    from loftwright.answers.wall_view import wall_page
    from loftwright.answers.walled_roof import walled_roof

    outcome = walled_roof(project, kept_walls(path, project))
    return BoardWalls(
        wall_page(outcome),
        decisions(outcome.checks),
        tuple(link_of(project, check) for check in outcome.checks),
        tuple(check for check in outcome.checks if check.verdict is not Verdict.HOLDS),
        tuple(Taken(one.path, one.text, one.sentence) for one in taken_over(outcome.numbers)),
        left_alone(outcome.numbers),
    )


# --- what is moved on the strip ------------------------------------------------------------------------


def single_seams(seams: Sequence[StripSeam], around: float) -> tuple[StripSeam, ...]:
    """Return the seams of a strip once each, from left to right: the one that closes the ring stands there twice."""
    found: list[StripSeam] = []
    for seam in sorted(seams, key=lambda seam: seam.low):
        if all(_apart(seam.arc, other.arc, around) > SAME_PLACE for other in found):
            found.append(seam)
    return tuple(found)


def _apart(one: float, other: float, around: float) -> float:
    """Return how far two places are apart along the closed line [m]."""
    far = abs(one - other) % around
    return min(far, around - far)


def window_moved(project: Project, entry: int, along: float, bottom: float) -> dict[str, str]:
    """Return the changes of the file that put window `entry` to `along` and `bottom` [m], on marks of the tape.

    Errors: ProjectFault where there is no such window or that is no place.
    """
    if not 0 <= entry < len(project.window) or not (isfinite(along) and isfinite(bottom)):
        raise ProjectFault([Fault("What was moved", f"window {entry + 1}", "not there", "load the page again")])
    window, at = project.window[entry], f"window.{entry}"
    wanted = (("along", window.along, along), ("bottom", window.bottom, bottom))
    return {f"{at}.{key}": text for key, now, to in wanted if (text := _text(project, now, to))}


def seam_moved(project: Project, page: WallPage, name: str, to: float) -> dict[str, str]:
    """Return the changes of the file that put the seam called `name` at `to` [m] along the lower line.

    Where the file has no seams of its own yet, all of them are written where they stand now, this one where it was put.
    Errors: ProjectFault where there is no such seam, that is no place, or another seam stands there.
    """
    around = page.strip.around
    seams = single_seams(page.strip.seams, around)
    number = next((k for k, seam in enumerate(seams) if seam.name == name), None)
    if number is None or not isfinite(to):
        raise ProjectFault([Fault("What was moved", quoted(name), "no seam of the walls", "load the page again")])
    at = on_tape(to % around, project.settings.units) % around
    say = Wording(project.settings.units)
    for k, other in enumerate(seams):
        if k != number and _apart(other.arc, at, around) < APART:
            fault = Fault(f"Seam {name}", f"at {say.length(at)}", f"{other.name} stands there", "put it elsewhere")
            raise ProjectFault([fault])
    if project.seam:
        was = seams[number].arc
        entry = min(range(len(project.seam)), key=lambda k: _apart(project.seam[k].at.nominal, was, around))
        text = _text(project, project.seam[entry].at, at)
        return {f"seam.{entry}.at": text} if text else {}
    if _apart(at, seams[number].arc, around) <= float(MARK[project.settings.units]) / 2:
        return {}
    places = sorted(at if k == number else seam.arc % around for k, seam in enumerate(seams))
    return {f"seam.{k}.at": _text(project, None, place) for k, place in enumerate(places)}


def _text(project: Project, now: Uncertain | None, wanted: float) -> str:
    """Return what the file then says; nothing where the value stays within half a mark of the tape."""
    units = project.settings.units
    if now is not None and abs(wanted - now.nominal) <= float(MARK[units]) / 2 * (1 + 1e-9):
        return ""
    to = on_tape(wanted, units)
    return format_quantity(exact(to) if now is None else decided(now, to), Dimension.LENGTH, units)
