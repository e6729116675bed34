"""Bars to cut, one under the other to one scale: pieces in order, gaps for the saw, and what is left over."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import CutBar, CutPlan
from loftwright.drawing.legend import sentences
from loftwright.drawing.page import (
    Drawing,
    Line,
    Polygon,
    Primitive,
    Text,
    shortened,
    spread,
    text_width,
    unpatched,
)
from loftwright.drawing.shadings import box, shaded

_TITLE, _NAME, _LENGTH, _LIST = 2.7, 2.6, 2.3, 2.2
_HIGH, _HEAD, _ABOVE, _LINE, _BETWEEN = 8.0, 4.2, 3.4, 3.2, 4.6
_SLANT, _KERF = 1.3, 0.6
_LETTERS = "abcdefghijklmnopqrstuvwxyz"


@dataclass(frozen=True, slots=True)
class BarWords:
    """What is written at one bar: `title` over it, one length for each piece, and what is left over; all ready."""

    title: str
    lengths: tuple[str, ...]
    left_over: str = ""


@dataclass(frozen=True, slots=True)
class _Run:
    """Where a piece lies on the page [mm], and what is written at it; `sign` is what fits into it."""

    x0: float
    x1: float
    name: str
    length: str
    sign: str
    whole: bool


def bar_cuts(
    plan: CutPlan,
    words: Sequence[BarWords],
    *,
    width: float,
    height: float = math.inf,
    said: Sequence[str] = (),
) -> tuple[Drawing, ...]:
    """Return the bars of `plan`, `width` [mm] wide, on as many pages of at most `height` [mm] as they need.

    All bars have one scale: the longest takes the width. Pieces too short for their words get a letter and a line
    under the bar. `said` stands under the last page. Errors: Bug without bars or where words are missing.
    """
    bars = plan.bars
    if (
        not bars
        or len(words) != len(bars)
        or any(len(w.lengths) != len(b.pieces) for w, b in zip(words, bars, strict=True))
    ):
        raise Bug("bars need their words, one length a piece")
    scale = (width - 1.0) / max(bar.stock.length for bar in bars)
    slanted = any(any(piece.ends) for bar in bars for piece in bar.pieces)
    notes = [
        "Lengths are to scale; gaps are drawn wider than the saw cuts.",
        *(["A slanted end only says that it is not square."] if slanted else []),
        *said,
    ]
    pages: list[Drawing] = []
    marks: list[Primitive] = []
    told: list[str] = []
    y = 0.0
    for k, (bar, word) in enumerate(zip(bars, words, strict=True)):
        drawn, high = _bar(bar, word, plan.kerf, scale, width, y)
        last = k == len(bars) - 1
        foot = sentences(notes, 0.0, y + high, width)[1] - (y + high) if last else 0.0
        if marks and y + high + foot > height:
            pages.append(_page(marks, y - _BETWEEN, width, told))
            marks, told, y = [], [], 0.0
            drawn, high = _bar(bar, word, plan.kerf, scale, width, y)
        marks += drawn
        told.append(_told(bar, word))
        y += high + _BETWEEN
    under, end = sentences(notes, 0.0, y - _BETWEEN + 0.6, width)
    pages.append(_page([*marks, *under], end + 0.4, width, told))
    return tuple(pages)


def _page(marks: Sequence[Primitive], high: float, width: float, told: Sequence[str]) -> Drawing:
    return Drawing(width, high, "Bars to cut", " ".join(told), tuple(marks))


def _told(bar: CutBar, words: BarWords) -> str:
    pieces = ", ".join(f"{p.label} {text}" for p, text in zip(bar.pieces, words.lengths, strict=True))
    return f"{words.title}: {pieces}{'; ' + words.left_over if words.left_over else ''}."


def _placed(bar: CutBar, words: BarWords, kerf: float, scale: float) -> tuple[list[_Run], float]:
    """Return the pieces on the page, and where the last cut ends [mm]."""
    x, letter = 0.5, 0
    runs: list[_Run] = []
    end = 0.5 + scale * bar.stock.length
    known: dict[tuple[str, str], str] = {}
    for piece, text in zip(bar.pieces, words.lengths, strict=True):
        x1 = x + scale * piece.length
        free = x1 - x - 2 * (_SLANT if any(piece.ends) else 0.0) - 0.8
        name = text_width(piece.label, _NAME, bold=True) <= free
        whole = name and text_width(text, _LENGTH) <= free
        sign = piece.label if name else known.get((piece.label, text), "")
        if not sign:
            sign = _LETTERS[letter % len(_LETTERS)]
            known[(piece.label, text)] = sign
            letter += 1
        # Places are true; so that the gap is seen, each piece is drawn a little shorter.
        gap = min(_KERF, 0.3 * (x1 - x)) / 2
        runs.append(_Run(x + gap, x1 - gap, piece.label, text, sign, whole))
        x = x1 + scale * kerf
    return runs, min(x, end)


def _bar(
    bar: CutBar, words: BarWords, kerf: float, scale: float, width: float, top: float
) -> tuple[list[Primitive], float]:
    """Return one bar from `top` down and its height [mm]."""
    runs, cut = _placed(bar, words, kerf, scale)
    outside = [run for run in runs if not run.whole and text_width(run.sign, _LENGTH) + 0.9 > run.x1 - run.x0]
    end = 0.5 + scale * bar.stock.length
    y0 = top + _HEAD + (_ABOVE if outside else 0.0)
    y1 = y0 + _HIGH
    marks: list[Primitive] = [
        Text((0.0, top + 2.6), shortened(words.title, width, _TITLE, bold=True), _TITLE, "start", "ink", True)
    ]
    for run, piece in zip(runs, bar.pieces, strict=True):
        slants = [min(_SLANT, (run.x1 - run.x0) / 3) if turn else 0.0 for turn in piece.ends]
        corners = ((run.x0 + slants[0], y0), (run.x1 - slants[1], y0), (run.x1, y1), (run.x0, y1))
        marks.append(Polygon(corners, "timber"))
        middle = (run.x0 + run.x1) / 2
        if run.whole:
            marks.append(Text((middle, y0 + 3.5), run.name, _NAME, "middle", "ink", True))
            marks.append(Text((middle, y0 + 6.7), run.length, _LENGTH, "middle"))
        elif run not in outside:
            bold = run.sign == run.name
            size = _NAME if bold else _LENGTH
            marks.append(Text((middle, (y0 + y1) / 2 + 0.35 * size), run.sign, size, "middle", "ink", bold))
    marks += _signs_above(outside, y0, width)
    listed = [
        f"{sign} {length}" if sign == name else f"{sign}: {name} {length}"
        for (sign, name, length), _ in groupby((r.sign, r.name, r.length) for r in runs if not r.whole)
    ]
    listed = list(dict.fromkeys(listed))
    if end - cut > 0.3:
        rest = box(cut, y0, end, y1)
        marks += [Polygon(rest, "thin-outline"), *shaded(rest, "rising", gap=1.3, pen="leader")]
        if words.left_over and text_width(words.left_over, _LENGTH) + 1.6 <= end - cut:
            label = Text(((cut + end) / 2, (y0 + y1) / 2 + 0.8), words.left_over, _LENGTH, "middle", halo=True)
            marks += unpatched([label], marks)
        elif words.left_over:
            listed.append(f"hatched: {words.left_over}")
    elif words.left_over:
        listed.append(words.left_over)
    under, bottom = _list(listed, y1 + 0.6, width)
    return [*marks, *under], (bottom if listed else y1) - top


def _signs_above(outside: Sequence[_Run], y0: float, width: float) -> list[Primitive]:
    """Return letters over pieces too short to hold them, with a thin line over those that they mean."""
    marks: list[Primitive] = []
    groups = [list(group) for _, group in groupby(outside, lambda run: run.sign)]
    said = [f"{len(group)} × {group[0].sign}" if len(group) > 1 else group[0].sign for group in groups]
    wides = [text_width(text, _LIST) for text in said]
    middles = [(group[0].x0 + group[-1].x1) / 2 for group in groups]
    gap = 0.8
    if sum(wides) + gap * max(0, len(wides) - 1) > width:
        return []
    for group, text, x, middle in zip(groups, said, spread(middles, wides, 0.0, width, gap), middles, strict=True):
        marks.append(Text((x, y0 - 2.0), text, _LIST, "middle"))
        ends = group[0].x0, group[-1].x1
        marks += [Line((ends[0], y0 - 0.7), (ends[1], y0 - 0.7), "dim"), Line((x, y0 - 1.6), (middle, y0 - 0.7), "dim")]
    return marks


def _list(listed: Sequence[str], top: float, width: float) -> tuple[list[Primitive], float]:
    """Return what did not fit, parted by semicolons, in lines; no entry is broken where it fits a line."""
    lines: list[str] = []
    for k, one in enumerate(listed):
        text = one + (";" if k < len(listed) - 1 else "")
        if lines and text_width(f"{lines[-1]} {text}", _LIST) <= width:
            lines[-1] += f" {text}"
        else:
            lines.append(shortened(text, width, _LIST))
    marks: list[Primitive] = [
        Text((0.5, top + 2.3 + _LINE * k), line, _LIST, "start", "note") for k, line in enumerate(lines)
    ]
    return marks, top + _LINE * len(lines)
