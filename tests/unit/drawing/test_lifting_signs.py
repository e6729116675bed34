"""Small pictures of ways to lift, and the open roof: on their paper, told apart, the right end up."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from loftwright.answers.board_start import WAYS as ASKED
from loftwright.answers.board_start import Asked, look
from loftwright.core.wording import Wording
from loftwright.drawing.lifting_signs import HEIGHT, WAYS, WIDTH, lifting_sign
from loftwright.drawing.open_view import open_view
from loftwright.drawing.page import XY, Circle, Drawing, Group, Line, Polygon, Polyline, Primitive, Text


def places(marks: tuple[Primitive, ...]) -> Iterator[XY]:
    for mark in marks:
        match mark:
            case Line(a, b):
                yield from (a, b)
            case Polyline(points) | Polygon(points):
                yield from points
            case Circle((x, y), r):
                yield from ((x - r, y - r), (x + r, y + r))
            case Text(at):
                yield at
            case Group():
                raise AssertionError("no groups here")


def opened(drawing: Drawing) -> tuple[XY, ...]:
    """Return the outline of the open shell, its corners in the order of the closed one."""
    (shell,) = [m for m in drawing.marks if isinstance(m, Polygon) and m.pen == "shell"]
    return shell.points


def test_every_way_that_is_asked_has_a_picture() -> None:
    assert {way.word for way in ASKED} == set(WAYS)


@pytest.mark.parametrize("way", WAYS)
def test_a_picture_stays_on_its_paper(way: str) -> None:
    drawing = lifting_sign(way)
    assert (drawing.width, drawing.height) == (WIDTH, HEIGHT)
    for x, y in places(drawing.marks):
        assert 0 <= x <= WIDTH
        assert 0 <= y <= HEIGHT


def test_pictures_are_told_apart() -> None:
    assert len({lifting_sign(way).marks for way in WAYS}) == len(WAYS)


def test_the_end_that_is_named_rises() -> None:
    # First corner: rear end of the rim; last: its front end. Less y is higher.
    closed = opened(lifting_sign("unknown"))
    rises = {way: [closed[i][1] - opened(lifting_sign(way))[i][1] for i in (0, -1)] for way in WAYS}
    assert rises["hinge front"][0] > 5
    assert rises["hinge front"][1] == pytest.approx(0, abs=1e-9)
    assert rises["hinge rear"][1] > 5
    assert rises["hinge rear"][0] == pytest.approx(0, abs=1e-9)
    assert rises["arms"][0] > rises["arms"][1] > 0
    for way in ("level arms", "scissor"):
        assert rises[way][0] == pytest.approx(rises[way][1])
        assert rises[way][0] > 5


@pytest.mark.parametrize("lifts", [way.word for way in ASKED])
@pytest.mark.parametrize("width", [48.0, 120.0, 240.0])
def test_the_open_roof_fits_its_paper(lifts: str, width: float) -> None:
    found = look(Asked.of({"lifts": lifts, "opening_length": "2.6 m"}))
    assert found.scene is not None
    assert found.poses is not None
    drawing = open_view(found.scene, found.poses, Wording("metric"), width=width, height=100.0)
    assert drawing.width == width
    assert drawing.height <= 100.0 + 1e-9
    for x, y in places(drawing.marks):
        # The roof of the van goes on to the edges of the paper.
        assert -1e-6 <= x <= width + 1e-6
        assert -1e-6 <= y <= drawing.height + 1e-6
    assert "Headroom is" in drawing.description
