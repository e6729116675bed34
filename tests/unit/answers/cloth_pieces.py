"""An invented roof with cloth walls, and its pieces as plain rectangles: exact constructed cases."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from loftwright.answers.draws import Nominal, Rows, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.core.pattern import Contour, ContourKind, PatternPiece
from loftwright.project.file import loads
from loftwright.project.model import Project

ROOF = """
format = 1
name = "invented"
[settings]
draws = 50
[van]
[opening]
length = "2 m"
width = "1.2 m"
[shell]
mass = "40 kg"
[linkage]
kind = "hinge"
end = "front"
opens = "30 deg"
hinge = ["2.03 m", "30 mm"]
spacing = "1 m"
"""
CANVAS = """
[[layer]]
name = "canvas"
role = "outer"
mass = "400 g/m2"
thickness = "0.6 mm"
conductivity = "0.06"
shrink_along = "0 %"
shrink_across = "0 %"
roll_width = "1.53 m"
selvedge = "15 mm"
"""
FLEECE = """
[[layer]]
name = "fleece"
role = "insulation"
mass = "200 g/m2"
thickness = "8 mm"
conductivity = "0.04"
shrink_along = "0 %"
shrink_across = "0 %"
roll_width = "1.53 m"
selvedge = "15 mm"
"""
WINDOW = """
[[window]]
width = "500 mm"
height = "200 mm"
corner_radius = "0 mm"
film = "0.8 mm"
"""


def roof(more: str = CANVAS) -> Project:
    """Return the invented roof with further sections."""
    return loads(ROOF + more)


def box(wide: float, high: float, *, inset: float = 0.0, kind: ContourKind = "cut") -> Contour:
    """Return a rectangle [m], `inset` smaller all round."""
    a, b, c = inset, wide - inset, high - inset
    return Contour(kind, ((a, a, 0.0), (b, a, 0.0), (b, c, 0.0), (a, c, 0.0)))


def piece(number: str, material: str, wide: float, high: float, *holes: Contour, name: str = "panel") -> PatternPiece:
    """Return a rectangle [m] with 20 mm of allowance all round in it."""
    lines = (box(wide, high), *holes, box(wide, high, inset=0.02, kind="stitch"))
    return PatternPiece(number, name, material, 1, "outside up", lines)


def walls_of(material: str, letter: str = "W") -> tuple[PatternPiece, ...]:
    """Return two ends of 1.24 m and two sides of 2.04 m, 0.54 m high, with their allowances."""
    sizes = (("rear wall", 1.24), ("right wall", 2.04), ("front wall", 1.24), ("left wall", 2.04))
    return tuple(
        piece(f"{letter}{k}", material, wide, 0.54, name=name) for k, (name, wide) in enumerate(sizes, start=1)
    )


def found_pieces(*pieces: PatternPiece) -> Any:
    """Return pieces as the answer on them has them."""
    return SimpleNamespace(pieces=pieces, judged=(), said=())


def nominal_basis(project: Project) -> Basis:
    """Return the planned roof."""
    return basis(project, Nominal(inputs_of(project)))[0]


def drawn_basis(project: Project, asks: Any) -> tuple[Basis, Rows]:
    """Return the roof in every row of what `asks(base)` asks for, and the rows."""
    nominal = Nominal(inputs_of(project))
    base, sense = basis(project, nominal)
    asks(base)
    drawn = rows(nominal.inputs, nominal.asked, project.settings.draws, project.settings.seed)
    return basis(project, drawn, sense)[0], drawn
