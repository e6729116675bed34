"""Laying on the roll: constructed cases; a library that crashes, hangs or lies."""

from __future__ import annotations

import io
import json
import math
import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from loftwright.cloth import laying, laying_library, laying_search
from loftwright.cloth.laying import BY_RULE, checked, faults, lay, quick_layout, too_wide
from loftwright.cloth.laying_library import laid_by_library
from loftwright.cloth.laying_shapes import OUTWARD, RollPiece, area, grown, lies, narrowest, turned
from loftwright.core.pattern import Layout

PANEL = ((0.0, 0.02), (0.7, 0.0), (1.4, 0.02), (1.45, 0.5), (-0.05, 0.55))
PANELS = (
    RollPiece("front", PANEL, 2),
    RollPiece("side", ((0.0, 0.0), (2.0, 0.05), (2.05, 0.6), (0.0, 0.5)), 2, "nap"),
    RollPiece("flap", ((0.0, 0.0), (0.5, 0.0), (0.5, 0.3), (0.0, 0.3)), 4, "quarter"),
)
LEAST = max(2.05, sum(abs(area(piece.points)) * piece.count for piece in PANELS) / 1.47)
"""No layout is shorter [m]: cloth over width, and the side piece, which lies along."""


@pytest.fixture(scope="module")
def found() -> Layout:
    return lay(PANELS, 1.47, library=False, clearance=0.005, material="canvas")


def test_every_piece_is_there_and_apart(found: Layout) -> None:
    assert faults(found, PANELS, clearance=0.005) == ()
    assert checked(found, PANELS, clearance=0.005) is found
    assert len(found.pieces) == 8
    assert found.material == "canvas"
    assert found.how == BY_RULE


def test_it_is_no_shorter_than_can_be(found: Layout) -> None:
    assert LEAST <= found.length <= 1.6 * LEAST


def test_it_is_the_same_again(found: Layout) -> None:
    assert lay(PANELS, 1.47, library=False, clearance=0.005, material="canvas") == found


def test_the_quick_one_is_sound_and_no_shorter(found: Layout) -> None:
    quick = quick_layout(PANELS, 1.47, clearance=0.005)
    assert faults(quick, PANELS, clearance=0.005) == ()
    assert quick.length >= LEAST
    assert found.length <= quick.length


def test_nothing_takes_no_cloth() -> None:
    assert lay((), 1.5).length == 0.0


def moved(layout: Layout, index: int, dx: float, dy: float = 0.0) -> Layout:
    laid = list(layout.pieces)
    laid[index] = replace(laid[index], outline=tuple((x + dx, y + dy) for x, y in laid[index].outline))
    return replace(layout, pieces=tuple(laid))


def test_an_overlap_is_refused(found: Layout) -> None:
    twice = replace(found, pieces=(*found.pieces[:-1], replace(found.pieces[0], number="flap")))
    assert any("overlap" in fault for fault in faults(twice, PANELS))
    with pytest.raises(ValueError, match="not the piece"):
        checked(twice, PANELS)


def test_a_tenth_of_a_millimetre_too_near_is_seen() -> None:
    pair = (RollPiece("a", ((0, 0), (1, 0), (1, 1), (0, 1)), 2),)
    apart = lay(pair, 1.0, library=False, clearance=0.002)
    right = int(np.argmax([piece.outline[0][0] for piece in apart.pieces]))
    assert faults(apart, pair, clearance=0.002) == ()
    assert "nearer" in faults(moved(apart, right, -0.0001), pair, clearance=0.002)[0]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda f: moved(f, 0, -0.001), "off the roll"),
        (lambda f: moved(f, 0, 0.0, 1.47), "off the roll"),
        (lambda f: replace(f, pieces=f.pieces[1:]), "1 laid, 2 asked"),
        (lambda f: replace(f, pieces=(*f.pieces, f.pieces[0])), "3 laid, 2 asked"),
        (lambda f: replace(f, pieces=(replace(f.pieces[0], turned=0.3), *f.pieces[1:])), "turned as it must not be"),
        (lambda f: replace(f, pieces=(replace(f.pieces[0], mirrored=True), *f.pieces[1:])), "turned as it must not"),
        (lambda f: replace(f, length=0.5 * f.length), "off the roll"),
    ],
)
def test_what_is_wrong_is_said(found: Layout, change: object, said: str) -> None:
    assert callable(change)
    assert any(said in fault for fault in faults(change(found), PANELS))


def test_a_wide_piece_is_named() -> None:
    assert too_wide(PANELS, 0.52) == ("front", "side")
    with pytest.raises(ValueError, match="front, side"):
        lay(PANELS, 0.52, library=False)
    with pytest.raises(ValueError, match="wider"):
        quick_layout(PANELS, 0.52)


def test_a_curved_outline_is_made_simpler_outside() -> None:
    from shapely.geometry import Polygon

    angle = np.linspace(0.0, 2.0 * math.pi, 400, endpoint=False)
    lobes = np.column_stack([np.cos(angle), np.sin(angle)]) * (0.5 + 0.1 * np.cos(3 * angle))[:, None]
    simple = grown(lobes, 0.0)
    assert len(simple) < 200
    true, outside = Polygon(lobes), Polygon(simple)
    assert outside.contains(true)
    assert true.buffer(OUTWARD).contains(outside)


def test_a_square_corner_stays_a_corner() -> None:
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    assert area(grown(square, 0.01)) == pytest.approx(1.02**2, rel=1e-12)


def test_a_line_that_crosses_itself_is_refused() -> None:
    with pytest.raises(ValueError, match="crosses"):
        grown(np.array([[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]]), 0.0)


def test_a_free_piece_lies_along_its_sides() -> None:
    leaning = turned(np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 0.4], [0.0, 0.4]]), 0.3)
    piece = RollPiece("strap", tuple((float(x), float(y)) for x, y in leaning), 1, "free")
    assert narrowest(piece) == pytest.approx(0.4, abs=1e-9)
    assert len(lies(piece)) == 8
    found = lay((piece,), 0.5, library=False)
    assert found.length == pytest.approx(2.0, abs=1e-6)


def asked(program: Path, tell: laying_library.Tell | None = None) -> object:
    return laid_by_library(PANELS, 1.47, gap=0.0, seed=1, seconds=2.0, tell=tell, program=program)


@pytest.mark.parametrize(
    "text",
    [
        "import os; os.abort()",
        "raise SystemExit(3)",
        "print('no answer')",
        "print('[]')",
        "print('{\"placed\": [[99, 0, 0, 0]]}')",
        'print(\'{"placed": [["x"]]}\')',
    ],
)
def test_a_library_that_fails_gives_no_answer(tmp_path: Path, text: str) -> None:
    program = tmp_path / "program.py"
    program.write_text(text)
    assert asked(program) is None


def test_a_library_that_hangs_is_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "program.py"
    program.write_text("import time; time.sleep(600)")
    monkeypatch.setattr(laying_library, "GRACE", -1.8)
    heard: list[float] = []
    assert asked(program, lambda share, _: heard.append(share)) is None
    assert heard


def test_who_listens_can_stop_it(tmp_path: Path) -> None:
    program = tmp_path / "program.py"
    program.write_text("import time; time.sleep(600)")

    def stop(share: float, text: str) -> None:
        raise KeyboardInterrupt(f"{text} {share}")

    with pytest.raises(KeyboardInterrupt, match="laying the pieces"):
        asked(program, stop)


def test_the_small_program(monkeypatch: pytest.MonkeyPatch) -> None:
    """What it asks of the library and makes of its answer, with a library of our own in its place."""
    made: list[dict[str, object]] = []

    def keep(**given: object) -> SimpleNamespace:
        made.append(given)
        return SimpleNamespace(**given)

    def item(name: str, shape: object, count: int, turns: object) -> SimpleNamespace:
        return SimpleNamespace(id=name, shape=shape, count=count, turns=turns)

    def instance(name: str, width: float, items: list[SimpleNamespace]) -> SimpleNamespace:
        placed = [SimpleNamespace(id=one.id, rotation=180.0, translation=(1.0, 2.0)) for one in items]
        return SimpleNamespace(solve=lambda config: SimpleNamespace(width=width + config.seed, placed_items=placed))

    library = SimpleNamespace(Item=item, StripPackingConfig=keep, StripPackingInstance=instance)
    monkeypatch.setitem(sys.modules, "spyrrow", library)
    given = {
        "width": 100.0,
        "seed": 7,
        "explore": 4,
        "compress": 1,
        "items": [{"outline": [[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]], "count": 2, "turns": [0.0, 180.0]}],
    }
    said = io.StringIO()
    monkeypatch.setattr(sys, "stdin", io.StringIO(json.dumps(given)))
    monkeypatch.setattr(sys, "stdout", said)
    laying_search.main()
    assert json.loads(said.getvalue()) == {"length": 107.0, "placed": [[0, 180.0, 1.0, 2.0]]}
    assert (made[0]["exploration_time"], made[0]["compression_time"], made[0]["num_workers"]) == (4, 1, 1)


def test_a_wrong_answer_is_thrown_away(found: Layout, monkeypatch: pytest.MonkeyPatch) -> None:
    piled = tuple((index, 0.0, piece.points) for index, piece in enumerate(PANELS) for _ in range(piece.count))
    monkeypatch.setattr(laying, "laid_by_library", lambda *_, **__: piled)
    assert lay(PANELS, 1.47, clearance=0.005, material="canvas") == found
