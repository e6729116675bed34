"""Three views of a constructed roof: what is seen where, near hides far, one scale and views in line."""

from __future__ import annotations

import importlib.util
import math
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.scene import AT_REST, Pose, PoseTable
from loftwright.core.solid import Loop, Part, Solid, Swing
from loftwright.drawing.nearness import far_to_near
from loftwright.drawing.page import Line, Polygon, texts
from loftwright.drawing.three_views import CoverWords, three_views

_SPEC = importlib.util.spec_from_file_location("sample_work", Path(__file__).parent / "sample_work.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def box(x0: float, x1: float, y0: float, y1: float, z0: float, z1: float) -> tuple[Loop, ...]:
    a, b, c, d = (x0, y0), (x1, y0), (x1, y1), (x0, y1)
    sides = tuple(
        ((p[0], p[1], z0), (q[0], q[1], z0), (q[0], q[1], z1), (p[0], p[1], z1))
        for p, q in ((a, b), (b, c), (c, d), (d, a))
    )
    top = tuple((x, y, z1) for x, y in (a, b, c, d))
    under = tuple((x, y, z0) for x, y in (d, c, b, a))
    return (*sides, top, under)


def roof() -> Solid:
    """Return a shell 2 m by 1 m by 0.2 m that rises straight by 0.5 m over a roof 3 m by 1.6 m."""
    poses = PoseTable((0.0, 1.0), (0.0, 0.5), (AT_REST, Pose(0.0, 0.5, 0.0)), slides=True)
    parts = (
        Part("roof", "van", "roof", box(-0.5, 2.5, -0.8, 0.8, -0.05, 0.0)),
        Part("shell", "shell", "shell", box(0.0, 2.0, -0.5, 0.5, 0.0, 0.2)),
        Part("panel", "shell", "item", box(0.5, 1.5, -0.3, 0.3, 0.2, 0.24)),
    )
    return Solid(parts, (), (), (), None, (), Swing(0.0, 0.0, 1.0, 0.0), poses, ())


WORDS = CoverWords("rise 500 mm", "shell 2000 mm", "shell 1000 mm", "A roof", ("One fact.", "Another one."))


def shells(page: Any) -> list[Polygon]:
    return [m for m in page.marks if isinstance(m, Polygon) and m.pen == "shell"]


def size(shape: Polygon) -> tuple[float, float]:
    xs, ys = [x for x, _ in shape.points], [y for _, y in shape.points]
    return max(xs) - min(xs), max(ys) - min(ys)


def test_views_have_one_scale_and_stand_in_line() -> None:
    page = three_views(roof(), WORDS, width=180.0, height=150.0)
    sample.tidy(page)
    (note,) = [t.text for t in texts(page.marks) if t.text.startswith("1 : ")]
    s = 1000 / int(note.split()[2])
    side, rear, plan = shells(page)
    assert size(side) == pytest.approx((2 * s, 0.2 * s))
    assert size(rear) == pytest.approx((1 * s, 0.2 * s))
    assert size(plan) == pytest.approx((2 * s, 1 * s))
    assert min(x for x, _ in side.points) == pytest.approx(min(x for x, _ in plan.points))
    assert min(y for _, y in side.points) == pytest.approx(min(y for _, y in rear.points))
    dashed = [m for m in page.marks if isinstance(m, Line) and m.pen == "ghost"]
    assert len(dashed) == 12
    # The closed shell lies half a metre below the open one.
    lows = [max(m.a[1], m.b[1]) for m in dashed[:4]]
    assert max(lows) - max(y for _, y in side.points) == pytest.approx(0.5 * s)


def test_from_above_the_panel_lies_on_the_shell_and_the_shell_on_the_roof() -> None:
    page = three_views(roof(), WORDS, width=180.0, height=150.0)
    pens = [m.pen for m in page.marks if isinstance(m, Polygon)]
    last = {pen: max(k for k, p in enumerate(pens) if p == pen) for pen in ("band-mild", "shell", "item")}
    assert last["band-mild"] < last["shell"] < last["item"]


def test_narrow_pages_stack_the_views() -> None:
    page = three_views(roof(), WORDS, width=84.0)
    sample.tidy(page)
    assert len({round(size(s)[0], 6) for s in shells(page)}) == 2
    said = [t.text for t in texts(page.marks)]
    assert {"Side view", "From behind", "From above", "One fact."} <= set(said)


def test_near_hides_far_where_middles_mislead() -> None:
    """Constructed: a small tile 0.1 over the far end of a long slope whose own middle is nearer than the tile."""
    slope = ((0.0, 0.0, 0.0), (10.0, 0.0, 10.0), (10.0, 1.0, 10.0), (0.0, 1.0, 0.0))
    tile = ((1.0, 0.2, 1.1), (2.0, 0.2, 2.1), (2.0, 0.8, 2.1), (1.0, 0.8, 1.1))
    rod = ((1.5, -1.0, 1.55), (1.5, 2.0, 1.55))
    things = {"slope": slope, "rod": rod, "tile": tile}
    for order in permutations(things):
        drawn = [order[k] for k in far_to_near([things[name] for name in order])]
        # The rod passes between: 1.5 on the slope, 1.55, 1.6 on the tile.
        assert drawn == ["slope", "rod", "tile"]


def test_things_in_a_ring_are_all_drawn() -> None:
    """Constructed: three slats, each over the next one; no order is right, but none may be lost."""
    slats = []
    for k in range(3):
        a = 2 * math.pi * k / 3
        ends = [(math.cos(a + t), math.sin(a + t), z) for t, z in ((0.0, 1.0), (2.4, -1.0))]
        slats.append(tuple(ends))
    assert sorted(far_to_near(slats)) == [0, 1, 2]
