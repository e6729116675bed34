"""Before the cut: what must be so, how it is known, what is in the garage; hard stops apart from wishes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from loftwright.core.checks import Check, Verdict
from loftwright.core.uncertain import Provenance
from loftwright.core.work import Basis, Done, GoNoGo, GoRow, PartStatus, Task

WISHES: Final = (
    "LIFT",
    "LINING",
    "MOVE-109",
    "PARTS",
    "ROLL",
    "ROOM",
    "SEW",
    "STOW",
    "SUN",
    "WALL",
    "WARM",
    "WINDOW",
    "WIRE",
)
"""Rules, by id or by the letters before their number, whose failing can still be mended after the cut: judgement.

Comfort, cloth and feel. Whatever holds the roof on the van, keeps it shut or strengthens the hole is a hard stop.
"""
HARD_ANYWAY: Final = tuple(f"LIFT-{n}" for n in (201, 202, 203, 207, 211, 212, 213, 214, 219, 221, 223))
"""Springs that do not fit, let the roof fall, open it by themselves or break: hard stops all the same."""
LATER: Final = ("PLAN-2701", "PLAN-2702", "PLAN-2703", "PLAN-103")
"""Rules on days and on this list itself; they are judged elsewhere and would count twice here."""
FIRST_ROAD: Final = ("ROAD-9", "SUN-2302", "WIRE-2402")
"""Rules, by the beginning of their id, that must hold before it is driven fast: what may come off or catch fire."""

_ROUGH: Final = (Provenance.ASSUMED, Provenance.UNKNOWN, Provenance.SUGGESTED)


@dataclass(frozen=True, slots=True)
class Part:
    """A bought or made part: where it is, and whether it must be there on the day of the cut."""

    name: str
    status: PartStatus
    on_the_day: bool = True


def _is_wish(check: Check, wishes: Sequence[str], hard: Sequence[str]) -> bool:
    name = check.rule.id
    return name not in hard and (name in wishes or name.split("-")[0] in wishes)


def before_first_road(checks: Sequence[Check]) -> tuple[Check, ...]:
    """Return those of `checks` that fail and must hold before the first fast road, each rule once, in their order."""
    found: dict[str, Check] = {}
    for check in checks:
        if check.verdict is Verdict.FAILS and check.rule.id.startswith(FIRST_ROAD):
            found.setdefault(check.rule.id, check)
    return tuple(found.values())


def basis_of(keys: Sequence[str], known: Mapping[str, Provenance]) -> tuple[Basis, tuple[str, ...]]:
    """Return how well known the `keys` behind a row are, by the worst of them, and which nobody has measured.

    `known` is how each key of the project file is known; a key that is not in it does not count.
    """
    found = [(key, known[key]) for key in keys if key in known]
    rough = tuple(key for key, how in found if how in _ROUGH)
    if not found:
        return "", ()
    if rough:
        return ("not known" if any(how is Provenance.UNKNOWN for _, how in found) else "only assumed"), rough
    return ("measured" if all(how is Provenance.MEASURED for _, how in found) else "given"), ()


def _row_of(check: Check, known: Mapping[str, Provenance], stop: bool) -> GoRow:
    basis, rough = basis_of(check.inputs, known)
    do = ""
    if check.verdict is Verdict.FAILS:
        do = check.rule.remedy
    elif check.verdict is Verdict.NOT_KNOWN:
        do = _asked(check.unknown or "what it rests on")
    elif rough:
        do = "It holds on numbers that nobody has measured: measure them if you can."
    return GoRow(check.words, check.verdict, basis, "", stop, do, rough)


_NO_MEASURING: Final = ("work out ", "write ", "measure ", "no published figure")
"""Beginnings of what is asked for that say by themselves what to do."""


def _asked(unknown: str) -> str:
    """Return what is asked for as a sentence."""
    said = unknown if unknown.startswith(_NO_MEASURING) else f"measure: {unknown}"
    return f"{said[:1].upper()}{said[1:]}."


_PART_DO: Final[dict[PartStatus, str]] = {
    "in the garage": "",
    "only ordered": "Wait until it is in your hands and has been tried for fit.",
    "not ordered": "Order it.",
    "": "Find out where it is.",
}


def _row_of_part(part: Part) -> GoRow:
    there = part.status == "in the garage"
    verdict = Verdict.HOLDS if there else Verdict.FAILS if part.status else Verdict.NOT_KNOWN
    return GoRow(part.name, verdict, "", part.status, part.on_the_day, _PART_DO[part.status])


def go_no_go(
    checks: Sequence[Check],
    known: Mapping[str, Provenance],
    parts: Sequence[Part],
    before: Sequence[Task],
    done: Mapping[str, Done],
    *,
    others: Sequence[GoRow] = (),
    wishes: Sequence[str] = WISHES,
    hard: Sequence[str] = HARD_ANYWAY,
) -> GoNoGo:
    """Return the list before the cut, hard stops first, within each what is not met first.

    A hard stop that fails or is not known yet is not met. One that holds on numbers which nobody has measured is met,
    and is counted and named apart. Parts that are wanted on the day must be in the garage: ordered is not there.

    Parameters
    ----------
    checks: judgements of the design. known: how each key of the project file is known.
    parts: what is bought or made. before: tasks that must be ticked off before the cut; done: those that are.
    others: rows that are ready already.
    wishes: letters of rules that do not stop the cut; hard: rules that do all the same.
    """
    rows = [
        _row_of(check, known, not _is_wish(check, wishes, hard))
        for check in checks
        if not check.rule.id.startswith(LATER)
    ]
    rows += [
        GoRow(task.name, Verdict.HOLDS, "", "", stop=True)
        if task.id in done
        else GoRow(task.name, Verdict.FAILS, "", "", stop=True, do=task.note or "Do it and tick it off.")
        for task in before
    ]
    rows += [_row_of_part(part) for part in parts]
    rows += others
    rank = {Verdict.FAILS: 0, Verdict.NOT_KNOWN: 1, Verdict.HOLDS: 2}
    # Sorting keeps the order in which rows of one rank were given.
    rows.sort(key=lambda row: (not row.stop, rank[row.verdict], not row.rests_on))
    stops = [row for row in rows if row.stop]
    unmet = sum(row.verdict is not Verdict.HOLDS for row in stops)
    return GoNoGo(
        tuple(rows), unmet == 0, unmet, sum(row.verdict is Verdict.HOLDS and bool(row.rests_on) for row in stops)
    )
