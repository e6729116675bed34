"""The elastic chain: how it is laid out, what it refuses, and that the compiled loop does what is written.

Exact constructed cases throughout.
"""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from loftwright.cloth import chain_kernel as kernel
from loftwright.cloth import chain_march
from loftwright.cloth.chain import Drive, Room, Start, Strand, run, run_many
from loftwright.cloth.chain_check import overhang
from loftwright.cloth.chain_march import STILL, advance, compiled, empty_room, hang, longest_step
from loftwright.core.errors import Bug

STRIP = Strand(0.12, 0.35, 2.2e-4, 0.002)


def lowered(k: int = 5, seconds: float = 1.0, height: float = 0.115) -> Drive:
    return Drive(np.zeros(k), np.linspace(height, 0.03, k), np.zeros(k), seconds)


def test_the_compiler_is_imported_late() -> None:
    asked = "import sys, loftwright.cloth.chain; print('numba' in sys.modules)"
    said = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "False"


def crowded(step: float) -> tuple[Any, Any, Any, Room]:
    """A short strip pressed on a board, under a bar and the shell, pulled, held and blown at."""
    shape = np.array([[0.0, 0.0], [0.03, 0.02], [0.0, 0.04]])
    thick = replace(STRIP, length=0.07, thickness=0.004)
    hung = hang(thick, shape, np.array([0.6, 0.8]), node=0.005, step=step)
    hung.loads[5, 0] = 1.0
    room = Room(
        np.array([[0.01, -0.02, 0.2, 0.005], [-0.1, 0.0, -0.002, 0.05], [0.034, 0.05, 0.05, 0.0]]),
        0.001,
        np.array([0.0, 0.1]),
        np.array([[0.015, -0.01, 0.003]]),
        0.4,
        np.zeros((0, 2)),
        np.array([[0.6, 0.01, 0.01]]),
        np.array([0.0, 3.0]),
    )
    path, leave = np.array([[0.0, 0.04], [0.001, 0.012]]), np.array([[0.0, -1.0], [0.6, -0.8]])
    return hung, path, leave, room


def test_compiled_loop_does_what_is_written() -> None:
    ends = []
    for march in (kernel.march, compiled()):
        hung, path, leave, room = crowded(4e-4)
        gone = advance(
            hung, path, leave, room, seconds=0.1, settle=0.0, frames=4, hold_reach=np.array([0.03]), march=march
        )
        ends.append((hung.x, gone.frames, gone.notes, np.array([gone.steps, gone.rest, gone.strain, gone.lift])))
    for written, built in zip(*ends, strict=True):
        np.testing.assert_allclose(built, written, rtol=1e-6, atol=1e-9)


def test_both_loops_sweep_what_is_far_off() -> None:
    stretched = np.array([[0.0, 0.0], [0.02, 0.0], [0.02, 0.03]])
    hung = hang(replace(STRIP, length=0.03), stretched, np.array([1.0, 0.0]), node=0.005, free=True, touch=False)
    still = np.zeros((2, 2))
    advance(
        hung, still, still + np.array([0.0, 1.0]), empty_room(), seconds=0.0, settle=0.0, still=1.0, march=kernel.march
    )
    lengths = np.hypot(*np.diff(hung.x, axis=0).T)
    np.testing.assert_allclose(lengths, 0.005, rtol=1e-3)


def test_step_above_its_limit_is_refused() -> None:
    limit = longest_step(STRIP, 0.006)
    with pytest.raises(ValueError, match="run away"):
        run(STRIP, lowered(), empty_room(5), Start(0.0, 1), node=0.006, step=1.01 * limit)
    hung = hang(STRIP, np.array([[0.0, 0.0], [0.0, 0.12]]), np.array([0.0, 1.0]))
    hung.step *= 2.0
    with pytest.raises(Bug, match="limit"):
        advance(hung, np.zeros((2, 2)), np.ones((2, 2)), empty_room(), seconds=0.0)


@pytest.mark.parametrize(("share", "rests"), [(0.97, True), (1.06, False)])
def test_limit_is_where_steps_run_away(monkeypatch: pytest.MonkeyPatch, share: float, rests: bool) -> None:
    """A strip of many nodes, just below and just above its limit."""
    step = share * longest_step(STRIP, 0.12 / 24)
    monkeypatch.setattr(chain_march, "longest_step", lambda strand, node: 1.0)
    hung = hang(STRIP, np.array([[0.0, 0.0], [0.12, 0.0]]), np.array([1.0, 0.0]), node=0.005, step=step, touch=False)
    hung.free = True
    still = np.zeros((2, 2))
    ended = advance(hung, still, still + np.array([0.0, 1.0]), empty_room(), seconds=0.0, settle=3.0)
    assert (ended.rest < STILL) is rests


def test_strip_that_had_no_time_says_so() -> None:
    _, hurried = overhang(STRIP, settle=0.0)
    _, rested = overhang(STRIP)
    assert hurried.rest > STILL > rested.rest


@pytest.mark.parametrize(
    ("strand", "bow", "match"),
    [
        (replace(STRIP, length=0.1), 0.0, "15.0 mm shorter"),
        (STRIP, 0.07, "bowed too far"),
        (replace(STRIP, stiffness=0.0), 0.0, "positive"),
    ],
)
def test_refusals(strand: Strand, bow: float, match: str) -> None:
    with pytest.raises(ValueError, match=match):
        run(strand, lowered(), empty_room(5), Start(bow, 1))


def test_drive_and_room_must_agree() -> None:
    with pytest.raises(ValueError, match="same number"):
        run(STRIP, lowered(5), empty_room(4), Start(0.0, 1))


def test_strip_that_runs_away_is_a_bug() -> None:
    hung = hang(STRIP, np.array([[0.0, 0.0], [0.0, 0.12]]), np.array([0.0, 1.0]))
    hung.v[3] = np.nan
    with pytest.raises(Bug, match="ran away"):
        advance(hung, np.array([[0.0, 0.12]] * 2), np.array([[0.0, -1.0]] * 2), empty_room(), seconds=0.0, settle=0.0)


def test_friction_holds_up_to_its_share_of_the_push() -> None:
    """Slid 0.3 and 0.9 along, pushed out by 1, friction 0.5: held, and brought back by 0.5."""
    for slid, left in ((0.3, 0.0), (0.9, 0.4)):
        x, old = np.array([[slid, 0.0]]), np.array([[0.0, 0.0]])
        up = kernel.push_out(x, old, 0, 0.0, 1.0, 1.0, 0.5, 0.0, 0.0)
        np.testing.assert_allclose(x, [[left, 1.0]], atol=1e-15)
        assert up == 1.0


@pytest.fixture(scope="module")
def small() -> dict[str, Any]:
    k = 5
    room = replace(empty_room(k), friction=0.4, boxes=np.array([[-0.2, -0.1, 0.2, 0.0]]))
    pulled = replace(room, pulls=np.array([[0.5, 2.0]]))
    held = replace(pulled, holds=np.array([[0.5, 0.0, 0.015]]))
    blown = replace(room, pressure=np.full(k, 20.0))
    start = Start(0.004, 3)
    return {
        name: run(STRIP, lowered(), place, start, frames=10)
        for name, place in (("pulled", pulled), ("held", held), ("blown", blown))
    }


def test_what_pulls_and_what_blows(small: dict[str, Any]) -> None:
    assert small["pulled"].inward > 0.03
    assert small["pulled"].outward == pytest.approx(0.0, abs=1e-3)
    assert small["held"].inward < 0.8 * small["pulled"].inward
    assert small["blown"].outward > 0.03
    assert small["blown"].inward < 0.005


def test_what_a_run_gives(small: dict[str, Any]) -> None:
    folded = small["pulled"]
    assert folded.frames.shape == (11, 21, 2)
    np.testing.assert_array_equal(folded.frames[-1], folded.points)
    assert folded.frame_drive[-1] == 4.0
    assert np.all(np.diff(folded.frame_drive) >= 0)
    assert len(folded.lifts) == 11
    assert folded.rest < STILL
    assert folded.strain < 0.005
    assert np.min(folded.points[1:-1, 1]) > 0.001 - 2e-4


def test_many_starts_and_stopping() -> None:
    starts = [Start(0.004, 1), Start(-0.004, 2), Start(0.004, 3)]
    shares: list[float] = []
    how: dict[str, Any] = {"settle": 0.2, "frames": 0}
    gone = run_many(
        STRIP, lowered(), empty_room(5), starts, tell=shares.append, stopped=lambda: len(shares) >= 2, **how
    )
    assert len(gone) == 2
    assert shares == pytest.approx([1 / 3, 2 / 3])
    again = run(STRIP, lowered(), empty_room(5), starts[1], **how)
    np.testing.assert_array_equal(again.points, gone[1].points)
