"""Pieces laid as the rectangles round them, in rows across a roll, and the areas of pieces. Lengths in metres."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

import numpy as np

from loftwright.answers.laying_job import CLEARANCE
from loftwright.answers.pieces_written import TRIM
from loftwright.cloth.cut_round import area_left
from loftwright.cloth.laying_shapes import RollPiece
from loftwright.core.pattern import LaidPiece, Layout, PatternPiece, area_of

RECTANGLES: Final = "rectangles in rows: good enough for a few small pieces"


def stitched_area(piece: PatternPiece) -> float:
    """Return the area inside a piece's stitch line [m2], or inside its cut line where it has none."""
    return abs(area_of((piece.of("stitch") or piece.of("cut"))[0].flattened()[:-1]))


def inner_area(piece: PatternPiece) -> float:
    """Return the area inside a piece's stitch line less what windows take of it [m2].

    That is the holes that are cut, and what lies inside a line along which it is trimmed.
    """
    inside = (piece.of("stitch") or piece.of("cut"))[0].flattened()[:-1]
    holes = [one for one in piece.of("cut")[1:] if one.closed]
    holes += [one for one in piece.of("mark") if one.closed and one.name.endswith(TRIM)]
    return area_left(inside, [hole.flattened()[:-1] for hole in holes])


def cut_area(piece: PatternPiece) -> float:
    """Return the area inside a piece's cut line less that of its holes [m2]."""
    outer, *holes = (abs(area_of(contour.flattened()[:-1])) for contour in piece.of("cut") if contour.closed)
    return outer - sum(holes)


def box_round(piece: RollPiece) -> RollPiece:
    """Return the rectangle round a piece, as wide and high, from the origin."""
    w, h = (float(v) for v in np.ptp(piece.points, axis=0))
    return replace(piece, outline=((0.0, 0.0), (w, 0.0), (w, h), (0.0, h)))


def in_rows(boxes: tuple[RollPiece, ...], width: float, material: str) -> Layout:
    """Return rectangles laid in rows across a roll of `width` [m], those that reach furthest along it first.

    One that may be turned lies across the roll, or along it where it is longer than the roll is wide. Rows follow each
    other, `CLEARANCE` apart.
    """
    every = []
    for box in boxes:
        w, h = float(np.ptp(box.points[:, 0])), float(np.ptp(box.points[:, 1]))
        # The shorter side lies along the roll where the longer one fits across it.
        stays = w < h if max(w, h) <= width else w > h
        turns = box.turns in ("quarter", "free") and w != h and not stays
        along, across, angle = (h, w, math.pi / 2.0) if turns else (w, h, 0.0)
        every += [(along, across, angle, box.number)] * box.count
    every.sort(key=lambda one: (-one[0], -one[1], one[3]))
    laid: list[LaidPiece] = []
    rows: list[list[float]] = []
    for along, across, angle, number in every:
        row = next((one for one in rows if one[2] + across <= width + 1e-9 and along <= one[1] + 1e-9), None)
        if row is None:
            start = rows[-1][0] + rows[-1][1] + CLEARANCE if rows else 0.0
            row = [start, along, 0.0]
            rows.append(row)
        x, y = row[0], row[2]
        row[2] = y + across + CLEARANCE
        outline = ((x, y), (x + along, y), (x + along, y + across), (x, y + across))
        laid.append(LaidPiece(number, outline, angle))
    length = rows[-1][0] + rows[-1][1] if rows else 0.0
    return Layout(material, width, length, tuple(laid), RECTANGLES)
