"""Before the cut: judgements, parts and tasks in one list; what is in the garage, and what only ordered."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from loftwright.answers.decisions import key_behind
from loftwright.answers.fitted_roof import fitted_roof
from loftwright.answers.held_opening import MustHold
from loftwright.answers.held_roof import HeldNumbers, held_roof
from loftwright.answers.hold_before import WHAT, before_the_cut
from loftwright.answers.hold_said import of_part
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.part_list import part_list
from loftwright.answers.walled_roof import walled_roof
from loftwright.answers.work_flags import Listed
from loftwright.core.checks import Check, Outcome, Verdict, worst_first
from loftwright.core.hold_views import GoNoGo as HoldRow
from loftwright.core.uncertain import Provenance
from loftwright.core.work import GoNoGo, GoRow, PartStatus
from loftwright.plan.go_no_go import Part, basis_of, before_first_road, go_no_go
from loftwright.plan.standard_tasks import before_the_cut as tasks_before
from loftwright.project.model import Project, walk

ENOUGH: Final = 1e-9
"""A part counts as there when no more than this of it is missing."""


@dataclass(frozen=True, slots=True)
class PartNow:
    """One part and where it is: `needed`, `ordered` and `have` in its own unit; `before_cut`: wanted on that day."""

    id: str
    name: str
    status: PartStatus
    before_cut: bool
    needed: float
    ordered: float
    have: float


def status_of(needed: float, ordered: float, have: float) -> PartStatus:
    """Return where a part is, of which `needed`, `ordered` and `have` are counted in one unit; bare numbers.

    >>> status_of(4.0, 4.0, 2.0), status_of(4.0, 0.0, 4.0), status_of(4.0, 2.0, 0.0)
    ('only ordered', 'in the garage', 'not ordered')
    """
    if have >= needed - ENOUGH and have > 0.0:
        return "in the garage"
    return "only ordered" if max(ordered, have) >= needed - ENOUGH and max(ordered, have) > 0.0 else "not ordered"


def parts_now(project: Project, kept: KeptWalls = NOTHING_KEPT) -> tuple[PartNow, ...]:
    """Return every part and where it is: those of the list of parts, with what the file says is ordered and there.

    A part of the builder's own counts as wanted on the day of the cut: only the builder knows what it is for.
    """
    found = part_list(project, kept).numbers
    before = {line.part.id: line for line in found.lines}
    rows: list[PartNow] = []
    for row in found.rows:
        line = before.get(row.id)
        # Waste comes on top: what is enough without it is enough to begin with.
        needed = row.quantity if line is None else line.part.quantity
        rows.append(
            PartNow(
                row.id,
                row.name,
                status_of(needed, row.bought, row.have),
                line is None or line.part.before_cut,
                needed,
                row.bought,
                row.have,
            )
        )
    return tuple(rows)


@dataclass(frozen=True, slots=True)
class GoFound:
    """The list before the cut, where each part is, and what fails that must hold before it is driven fast."""

    list: GoNoGo
    parts: tuple[PartNow, ...]
    road: tuple[Check, ...] = ()


def go_found(project: Project, tasks: Listed, kept: KeptWalls = NOTHING_KEPT, plan: tuple[Check, ...] = ()) -> GoFound:
    """Return the list before the cut: what is judged of the roof, what is looked for on the body, parts and tasks.

    `plan` are judgements on the plan that count for the cut.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    held = held_roof(project)
    checks = (*judged_roof(project).checks, *walled_roof(project, kept).checks, *fitted_roof(project).checks)
    known = {path: value.provenance for path, value in walk(project).items()}
    parts = parts_now(project, kept)
    found = go_no_go(
        tuple(_keyed(check) for check in (*checks, *plan)),
        known,
        tuple(Part(one.name, one.status, one.before_cut) for one in parts),
        tasks_before(tasks.tasks),
        tasks.done,
        others=tuple(hold_rows(held, known)),
    )
    return GoFound(found, parts, before_first_road(worst_first((*held.checks, *checks))))


def _keyed(check: Check) -> Check:
    """Return a judgement whose inputs are keys of the file, by which it is told how they are known."""
    return replace(check, inputs=tuple(key_behind(path) for path in check.inputs))


def hold_rows(held: Outcome[HeldNumbers], known: dict[str, Provenance]) -> Iterable[GoRow]:
    """Return the list of what must hold of fit and strength as rows of the whole list; `known` as of each key."""
    must = {one.what: one for one in held.numbers.found.opening.must_hold}
    part = {words: part for part, words in WHAT.items()}
    for row in before_the_cut(held.numbers, held.checks):
        if row.what in must:
            yield _looked(row, must[row.what], known)
        else:
            of = of_part(held.checks, part[row.what])
            keys = dict.fromkeys(key_behind(path) for check in of for path in check.inputs)
            basis, rough = basis_of(tuple(keys), known)
            words = f"{row.what} ({row.state})" if row.state else row.what
            yield GoRow(words, row.verdict, basis, "", True, row.do, rough)


def _looked(row: HoldRow, must: MustHold, known: dict[str, Provenance]) -> GoRow:
    basis, rough = basis_of(must.keys, known)
    if must.state == "measured":
        basis, rough = "measured", ()
    met = row.verdict is Verdict.HOLDS
    return GoRow(row.what, row.verdict, basis or ("given" if met else "not known"), "", True, row.do, rough)
