"""The same answers as plain text, fitted to a width, with or without colour.

Colour only repeats what a word says already. Every function returns whole lines.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from loftwright.answers.forces import ForcesView
from loftwright.core.checks import Verdict
from loftwright.core.views import Caution, CheckRow, CostLine, DoNext, Fact, Grid, RoofPage, ScoutPage

NARROWEST, WIDEST = 48, 100
"""Text is not set narrower or wider than this many characters."""

_BOLD, _RESET = "\x1b[1m", "\x1b[0m"
_COLOURS = {Verdict.FAILS: "\x1b[1;31m", Verdict.NOT_KNOWN: "\x1b[1;33m", Verdict.HOLDS: "\x1b[32m"}
_WORDS = {Verdict.FAILS: "FAILS", Verdict.NOT_KNOWN: "NOT KNOWN", Verdict.HOLDS: "holds"}
_MARK = max(len(word) for word in _WORDS.values()) + 2
_GAP = 2


@dataclass(frozen=True, slots=True)
class Look:
    """How wide the text may be, and whether it may be coloured."""

    width: int = 80
    colour: bool = False

    @property
    def columns(self) -> int:
        """The width to set text in."""
        return min(max(self.width, NARROWEST), WIDEST)

    def bold(self, text: str) -> str:
        """Return a heading."""
        return f"{_BOLD}{text}{_RESET}" if self.colour else text

    def verdict(self, verdict: Verdict) -> str:
        """Return the word of a verdict, padded to one width."""
        word = _WORDS[verdict].ljust(_MARK)
        return f"{_COLOURS[verdict]}{word}{_RESET}" if self.colour else word

    def wrapped(self, text: str, indent: int = 0, first: int | None = None) -> list[str]:
        """Return a text in lines; `indent` and `first` are the blanks before all lines and before the first."""
        return textwrap.wrap(
            text,
            self.columns,
            initial_indent=" " * (indent if first is None else first),
            subsequent_indent=" " * indent,
            break_on_hyphens=False,
        )


def as_text(lines: Iterable[str]) -> str:
    """Return lines as one text without trailing blanks."""
    return "\n".join(line.rstrip() for line in lines) + "\n"


def heading(look: Look, text: str) -> list[str]:
    """Return a heading with an empty line above it."""
    return ["", *(look.bold(line) for line in look.wrapped(text))]


# --- verdicts --------------------------------------------------------------------------------------


def check_text(page: RoofPage, look: Look, *, brief: bool = False) -> str:
    """Return what `check` says of one roof; `brief` leaves reasons and sources out."""
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    lines += heading(look, f"{page.odds}.")
    lines += look.wrapped(f"{page.next_best}.") if page.next_best else []
    lines += look.wrapped(page.odds_note)
    lines += heading(look, "Key figures") + fact_lines(page.facts, look)
    lines += heading(look, "Verdicts, worst first")
    for row in page.rows:
        lines += row_lines(row, look, brief=brief)
    if not brief:
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    lines += caution_lines(page.cautions, look)
    lines += heading(look, "Do next") + _steps(page.do_next, look, brief=brief)
    lines += heading(look, f"Of {len(page.rows)} judgements {page.tally.text()}.") + look.wrapped(page.provenance)
    return as_text(lines)


def fact_lines(facts: Sequence[Fact], look: Look) -> list[str]:
    """Return key figures in two columns."""
    wide = max((len(fact.label) for fact in facts), default=0) + _GAP
    lines = []
    for fact in facts:
        said = f"{fact.value} ({fact.note})" if fact.note else fact.value
        lines += _beside(fact.label, said, wide, look)
    return lines


def _beside(label: str, said: str, wide: int, look: Look) -> list[str]:
    """Return a label with a text beside it; on a narrow screen the text stands below."""
    if wide * 2 > look.columns:
        return [label, *look.wrapped(said, _GAP)]
    lines = look.wrapped(said, wide)
    return [label.ljust(wide) + lines[0][wide:], *lines[1:]]


def row_lines(row: CheckRow, look: Look, *, brief: bool) -> list[str]:
    """Return one judgement; `brief` leaves reason and source out."""
    lines = look.wrapped(row.title, _MARK)
    lines[0] = look.verdict(row.verdict) + lines[0][_MARK:]
    said = [row.value] if row.value else ["no value"] if row.verdict is Verdict.NOT_KNOWN else []
    said += [f"{word} {text}" for word, text in (("limit", row.limit), ("margin", row.margin)) if text]
    if said:
        lines += look.wrapped("; ".join(said), _MARK)
    lines += look.wrapped(row.basis, _MARK)
    if row.verdict is not Verdict.HOLDS:
        if not brief:
            lines += look.wrapped(f"Why: {row.reason}", _MARK)
        lines += look.wrapped(f"Change: {row.remedy}", _MARK)
    if not brief:
        lines += look.wrapped(f"Source: {row.source} ({row.id})", _MARK)
    return lines


def points(texts: Iterable[str], look: Look) -> list[str]:
    """Return texts as a list with dashes."""
    return [line for text in texts for line in look.wrapped(f"- {text}", 2, 0)]


def caution_lines(cautions: Sequence[Caution], look: Look) -> list[str]:
    """Return the cautions under their heading."""
    return heading(look, "Take care") + points((caution.text for caution in cautions), look)


def _steps(steps: Sequence[DoNext], look: Look, *, brief: bool) -> list[str]:
    lines = []
    for number, step in enumerate(steps[: 3 if brief else 7], 1):
        minutes = f" ({step.minutes} min)" if step.minutes else ""
        lines += look.wrapped(f"{number}. {step.title.rstrip('.')}{minutes}; {step.why}.", 3, 0)
        if step.how and not brief:
            lines += look.wrapped(step.how, 3)
    return lines or ["Nothing: every judgement holds."]


# --- worth starting --------------------------------------------------------------------------------


def scout_text(page: ScoutPage, look: Look, *, brief: bool = False) -> str:
    """Return whether a roof is worth starting; `brief` leaves the parts list, reasons and sources out."""
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    lines += heading(look, f"Worth starting? {page.worth.capitalize()}") + look.wrapped(page.meaning)
    lines += points(page.reasons, look)
    lines += heading(look, "Key figures; ranges hold nine of ten roofs like yours") + fact_lines(page.facts, look)
    lines += heading(look, "The likeliest troubles")
    for row in page.troubles:
        lines += row_lines(row, look, brief=True)
    lines += heading(look, f"What is still to be bought: {page.cost_total}") + look.wrapped(page.cost_note)
    if not brief:
        lines += _bill(page.cost, look)
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    lines += caution_lines(page.cautions, look)
    lines += heading(look, "Do next") + _steps(page.do_next, look, brief=brief)
    return as_text(lines)


def _bill(cost: Sequence[CostLine], look: Look) -> list[str]:
    """Return the parts list in three columns; where there is no room for them, as a list."""
    wide = [max((len(text) for text in column), default=0) + _GAP for column in zip(*map(_cells, cost), strict=True)]
    if sum(wide) > look.columns:
        return points((", ".join(_cells(line)) for line in cost), look)
    return ["".join(_cell(text, wide[i], i) for i, text in enumerate(_cells(line))) for line in cost]


def _cells(line: CostLine) -> tuple[str, str, str]:
    return line.part, line.count, line.price


# --- forces ----------------------------------------------------------------------------------------


def forces_text(view: ForcesView, look: Look) -> str:
    """Return the tables of the hand force, what the roof does when let go, and what happens when something fails."""
    lines = [look.bold(view.name), *look.wrapped(view.subtitle)]
    for grid in view.grids:
        lines += grid_lines(grid, look)
    lines += heading(look, "What it does when let go")
    wide = max(len(name) for name, _ in view.let_go) + _GAP
    for name, said in view.let_go:
        lines += _beside(name, said, wide, look)
    if view.losses:
        lines += heading(look, "When something fails") + points(view.losses, look)
    return as_text(lines)


def grid_lines(grid: Grid, look: Look) -> list[str]:
    """Return a table; headings of several words stand on several lines, and a table too wide is cut in two."""
    lines = heading(look, grid.title)
    if not grid.rows:
        return [*lines, "None."]
    words = [heading.split() for heading in grid.headings]
    deep = max(len(parts) for parts in words)
    heads = [[*[""] * (deep - len(parts)), *parts] for parts in words]
    wide = [max(len(text) for text in [*head, *(row[i] for row in grid.rows)]) + _GAP for i, head in enumerate(heads)]
    for part in _parts(wide, look.columns):
        if part[1] > 1 and part[0] > 1:
            lines.append("")
        picked = [0, *range(*part)]
        lines += ["".join(_cell(heads[i][line], wide[i], i) for i in picked) for line in range(deep)]
        lines += ["".join(_cell(row[i], wide[i], i) for i in picked) for row in grid.rows]
    return [*lines, *look.wrapped(grid.note)]


def _cell(text: str, wide: int, column: int) -> str:
    return text.ljust(wide) if column == 0 else text.rjust(wide)


def _parts(wide: Sequence[int], most: int) -> list[tuple[int, int]]:
    """Return stretches of columns that fit beside the first one."""
    found, start, used = [], 1, wide[0]
    for column in range(1, len(wide)):
        if used + wide[column] > most and column > start:
            found.append((start, column))
            start, used = column, wide[0]
        used += wide[column]
    return [*found, (start, len(wide))]
