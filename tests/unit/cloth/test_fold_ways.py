"""Counting the ways of many starts, with a stand-in for the chain: two rigid links that fall where they lean to."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.cloth import fold_ways as ways
from loftwright.cloth.chain import Drive, Folded, Room, Start, Strand
from loftwright.core.checks import Verdict

STRAND = Strand(0.508, 0.35, 2.2e-4, 0.002)
DRIVE = Drive(np.zeros(3), np.array([0.5, 0.28, 0.06]), np.zeros(3), 6.0)


def ended(inward: float, outward: float, rest: float = 0.0) -> Folded:
    """Return a strip at rest that reached so far."""
    none = np.zeros((1, 2))
    return Folded(none, inward, outward, 0.03, 0.0, rest, 0.0, 1, 1e-4, none[None], np.zeros(1), np.zeros(1))


def links(strand: Strand, drive: Drive, room: Room, start: Start) -> Folded:
    """Return two equal links: they fall where bow, chance and pulls together point, as deep as geometry has it."""
    pull = float(np.sum(room.pulls[:, 1])) - float(room.pressure.max()) * strand.length / 2
    chance = start.ripple * math.sin(12.9898 * start.seed)
    depth = math.sqrt(strand.length**2 - drive.z[-1] ** 2) / 2
    falls_in = start.bow + chance + 0.02 * pull > 0
    return ended(depth if falls_in else 0.0, 0.0 if falls_in else depth)


def room(pull: float = 0.0, pressure: float = 0.0) -> Room:
    """Return a room with one pull at mid-height."""
    return Room(
        np.zeros((0, 4)),
        0.1,
        np.zeros(3),
        np.zeros((0, 3)),
        0.4,
        np.array([(0.5, pull)]),
        np.zeros((0, 3)),
        np.full(3, pressure),
    )


@pytest.mark.parametrize(
    ("inward", "outward", "way"),
    [(0.22, 0.0, "in"), (0.22, 0.015, "in"), (0.0, 0.22, "out"), (0.297, 0.142, "both"), (0.01, 0.01, "in")],
)
def test_way_of_a_run(inward: float, outward: float, way: str) -> None:
    assert ways.way_of(inward, outward) == way


def test_several_rooms_are_tried_by_turns_with_both_bows() -> None:
    """Pulls of 1 and 3 N/m: six starts each, half of them bowed in."""
    seen: list[tuple[float, float]] = []

    def run(strand: Strand, drive: Drive, room: Room, start: Start) -> Folded:
        seen.append((float(room.pulls[0, 1]), start.bow))
        return ended(0.2, 0.0)

    ways.many("rear wall", STRAND, DRIVE, (room(1.0), room(3.0)), run=run, starts=ways.starts_of(12))
    for pull in (1.0, 3.0):
        bows = [bow for one, bow in seen if one == pull]
        assert (len(bows), sum(bow > 0 for bow in bows)) == (6, 3)


def test_starts_take_both_signs_and_no_seed_twice() -> None:
    starts = ways.starts_of()
    assert len(starts) == ways.LEAST_STARTS == 20
    assert sum(start.bow > 0 for start in starts) == sum(start.bow < 0 for start in starts) == 10
    assert len({start.seed for start in starts}) == 20


def test_without_a_pull_it_is_not_decided_and_with_one_it_is() -> None:
    free = ways.many("mid rear", STRAND, DRIVE, room(), run=links)
    pulled = ways.many("mid rear", STRAND, DRIVE, room(3.0), run=links)
    blown = ways.many("mid rear", STRAND, DRIVE, room(0.0, 50.0), run=links)
    assert free.said == "not decided: add a pull here"
    assert (free.count("in"), free.count("out"), free.count("both")) == (10, 10, 0)
    assert free.text == "mid rear: not decided: add a pull here (10 in, 10 out, 0 both, of 20)"
    assert pulled.said == "always in"
    assert blown.said == "always out"
    held, fails = ways.inward_judged(pulled), ways.inward_judged(free)
    assert held.value is not None
    assert held.limit is not None
    assert held.rule.judge(float(held.value[0]), float(held.limit[0])).verdict is Verdict.HOLDS
    assert fails.value is not None
    assert fails.rule.judge(float(fails.value[0]), 1.0).verdict is Verdict.FAILS


def test_progress_is_told_and_a_stop_is_obeyed() -> None:
    told: list[tuple[float, str]] = []
    found = ways.many(
        "mid left",
        STRAND,
        DRIVE,
        room(),
        run=links,
        tell=lambda share, text: told.append((share, text)),
        stopped=lambda: len(told) >= 3,
    )
    assert [share for share, _ in told] == pytest.approx([0.05, 0.10, 0.15])
    assert told[-1][1] == "mid left: 3 of 20 starts"
    assert found.said == "too few starts"
    assert ways.inward_judged(found).unknown != ""


def test_spread_and_the_run_to_draw() -> None:
    starts = ways.starts_of(3)
    runs = (ended(0.20, 0.0), ended(0.24, 0.0, rest=1.0), ended(0.0, 0.3))
    endings = tuple(
        ways.Ending(start, ways.way_of(run.inward, run.outward), run, run.rest <= ways.REST_LIMIT)
        for start, run in zip(starts, runs, strict=True)
    )
    found = ways.Ways("mid rear", endings)
    assert found.spread("inward") == pytest.approx([0.20, 0.22, 0.24])
    assert found.spread("outward", None) == pytest.approx([0.0, 0.0, 0.3])
    assert found.spread("inward", "both") == pytest.approx([0.0, 0.20, 0.24])
    assert found.shown.folded.inward == 0.24
    assert found.unrested == 1
    assert found.text.endswith("of 3, 1 not at rest)")
    with pytest.raises(ValueError, match="no run"):
        ways.Ways("none", ()).spread("inward")


def test_equal_endings_still_leave_some_doubt() -> None:
    """(1 - p)^20 = 0.05 at the bound: exact binomial."""
    assert (1 - ways.could_still(20)) ** 20 == pytest.approx(0.05)
    with pytest.raises(ValueError, match="no run"):
        ways.could_still(0)
