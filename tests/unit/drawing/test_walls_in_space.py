"""The walls in space: what is near hides what is far, words clear of lines, and labelled as an illustration."""

from __future__ import annotations

import pytest

from loftwright.core.errors import Bug
from loftwright.drawing.page import Polygon, Polyline, text_box, texts
from loftwright.drawing.walls_in_space import walls_in_space

# Counter-clockwise from above: rear right, front right, front left, rear left, with points in the middle of each.
PLAN = ((0.0, 0.0), (0.0, -0.6), (1.0, -0.6), (2.0, -0.6), (2.0, 0.0), (2.0, 0.6), (1.0, 0.6), (0.0, 0.6))
LOWER = tuple((x, y, 0.0) for x, y in PLAN)
UPPER = tuple((x, y, 0.3 + 0.3 * x) for x, y in PLAN)
RULINGS = tuple(zip(LOWER, UPPER, strict=True))


def test_near_walls_are_drawn_after_far_ones() -> None:
    drawing = walls_in_space(LOWER, UPPER, RULINGS, width=178.0, height=110.0)
    fields = [mark for mark in drawing.marks if isinstance(mark, Polygon)]
    assert len(fields) == len(PLAN)
    # The first field lies furthest: front or left. The last one nearest: rear or right, lowest on the page.
    assert max(y for _, y in fields[-1].points) > max(y for _, y in fields[0].points)
    right = [sum(x for x, _ in field.points) / 4 for field in fields]
    assert right[-1] != right[0]


def test_the_right_wall_is_seen_at_the_right_and_the_rear_below() -> None:
    """Standing behind the van with the cab ahead, y points to the left."""
    drawing = walls_in_space(LOWER, UPPER, RULINGS, width=178.0, height=110.0)
    above = next(mark for mark in reversed(drawing.marks) if isinstance(mark, Polyline))
    rear_right, front_right, front_left, rear_left = (above.points[k] for k in (1, 3, 5, 7))
    assert rear_right[0] > rear_left[0]
    assert front_right[0] > front_left[0]
    assert front_left[1] < rear_left[1]
    assert front_right[1] < rear_right[1]


@pytest.mark.parametrize("size", [(178.0, 110.0), (90.0, 200.0)])
def test_all_of_it_lies_on_its_paper_and_says_what_it_is(size: tuple[float, float]) -> None:
    drawing = walls_in_space(LOWER, UPPER, RULINGS, width=size[0], height=size[1])
    assert drawing.width == size[0]
    assert drawing.height <= size[1] + 0.01
    for mark in drawing.marks:
        if isinstance(mark, Polygon | Polyline):
            assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in mark.points)
    for text in texts(drawing.marks)[:2]:
        box = text_box(text)
        assert box.x0 >= 0
        assert box.x1 <= drawing.width
    said = [text.text for text in texts(drawing.marks)]
    assert any("llustration" in text for text in said)
    assert "rear" in said


def test_without_lines_there_is_nothing_to_draw() -> None:
    with pytest.raises(Bug):
        walls_in_space(LOWER, UPPER, (), width=100.0, height=80.0)
