"""Laws of stowing that hold for every wall, as inequalities: no number is taken from elsewhere."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth import fold, fold_corners, trapped_air
from loftwright.cloth import fold_ways as ways
from loftwright.cloth.bundle import Cavity
from loftwright.cloth.chain import Drive, Folded, Room, Start, Strand
from loftwright.cloth.fold import Layer

RNG = np.random.default_rng(20)
WALLS = 60


def layers(count: int) -> tuple[Layer, ...]:
    """Return layers of any make."""
    return tuple(
        Layer(f"{i}", *(float(RNG.uniform(*ends)) for ends in ((0.05, 0.6), (0.0002, 0.004), (0.01, 0.07))))
        for i in range(count)
    )


def links(strand: Strand, drive: Drive, room: Room, start: Start) -> Folded:
    """Return a stand-in for the chain: a toggle of two links that goes where its turning moments point."""
    pull = sum(f * min(s, 1 - s) for s, f in room.pulls) - float(room.pressure.max()) * strand.length / 4
    chance = float(np.random.default_rng(start.seed).normal(0.0, start.ripple))
    depth = float(np.sqrt(strand.length**2 - drive.z[-1] ** 2)) / 2
    falls_in = start.bow + chance + 0.01 * pull > 0
    none = np.zeros((1, 2))
    reach = (depth, 0.0) if falls_in else (0.0, depth)
    return Folded(none, *reach, 0.03, 0.0, 0.0, 0.0, 1, 1e-4, none[None], np.zeros(1), np.zeros(1))


def room(pull: float, pressure: float = 0.0) -> Room:
    """Return a room with one pull at mid-height and air that blows."""
    empty = np.zeros((0, 4))
    return Room(empty, 0.1, np.zeros(3), empty[:, :3], 0.4, np.array([(0.5, pull)]), empty[:, :3], np.full(3, pressure))


STRAND = Strand(0.5, 0.35, 2.2e-4, 0.002)
DRIVE = Drive(np.zeros(3), np.array([0.5, 0.28, 0.06]), np.zeros(3), 6.0)


@pytest.mark.parametrize("bond", [0.0, fold.QUILTED_BOND, 1.0])
@pytest.mark.parametrize("folds", [1, 2])
def test_one_layer_more_never_shrinks_the_bundle(bond: float, folds: int) -> None:
    for _ in range(WALLS):
        few = layers(int(RNG.integers(1, 4)))
        more = few + layers(1)
        thin, thick = (sum(layer.thickness for layer in wall) for wall in (few, more))
        soft, stiff = (fold.loop_length(wall, bond) for wall in (few, more))
        depth, radius = RNG.uniform(0.05, 0.5), RNG.uniform(0.05, 0.3)
        straight = fold.quick_bundle(soft, thin, folds), fold.quick_bundle(stiff, thick, folds)
        corner = (
            fold_corners.corner_bundle(depth, radius, thin, soft, folds),
            fold_corners.corner_bundle(depth, radius, thick, stiff, folds),
        )
        for before, after in (straight, corner):
            assert np.all(np.array(after) >= np.array(before))


@pytest.mark.parametrize("bond", [0.0, 0.5, 1.0])
def test_one_layer_more_never_makes_a_strip_more_pliant(bond: float) -> None:
    for _ in range(WALLS):
        few = layers(int(RNG.integers(1, 4)))
        before, after = fold.strand_of(few, 0.5, bond=bond), fold.strand_of(few + layers(1), 0.5, bond=bond)
        assert after.stiffness > before.stiffness
        assert after.mass > before.mass
        assert after.thickness >= before.thickness


def test_a_bar_further_back_never_takes_room_away() -> None:
    depth = RNG.uniform(0.05, 0.5, WALLS)
    lining, under = RNG.uniform(0.03, 0.1, WALLS), RNG.uniform(0.02, 0.12, WALLS)
    back = np.sort(RNG.uniform(0.0, 0.5, (WALLS, 2)), axis=-1)
    near, far = (Cavity(lining, back[:, i], under).height_at(depth) for i in (0, 1))
    assert np.all(far >= near)
    assert np.any(far > near)


def test_a_deeper_fold_never_has_less_excess_and_a_rounder_corner_never_more() -> None:
    depth = np.sort(RNG.uniform(0.0, 0.6, (WALLS, 2)), axis=-1)
    radius = np.sort(RNG.uniform(0.0, 0.4, (WALLS, 2)), axis=-1)
    assert np.all(np.diff(fold_corners.excess_cloth(depth, radius[:, :1])) >= 0)
    assert np.all(np.diff(fold_corners.excess_cloth(depth[:, :1], radius)) <= 1e-15)


def test_a_remedy_never_loses_height_but_for_a_second_fold() -> None:
    bending = RNG.uniform(0.03, 0.07, WALLS)
    corner = fold_corners.Corner(
        height=RNG.uniform(0.3, 1.0, WALLS),
        gap=RNG.uniform(0.02, 0.08, WALLS),
        radius=RNG.uniform(0.06, 0.3, WALLS),
        outer=RNG.uniform(0.0004, 0.001, WALLS),
        insulation=RNG.uniform(0.001, 0.006, WALLS),
        lining=RNG.uniform(0.0002, 0.001, WALLS),
        bending_length=bending,
        outer_bending=bending * RNG.uniform(0.5, 1.0, WALLS),
    )
    cavity = Cavity(RNG.uniform(0.03, 0.1, WALLS), RNG.uniform(0.1, 0.5, WALLS), RNG.uniform(0.02, 0.1, WALLS))
    every = fold_corners.remedies(corner, cavity)
    assert "two folds" in {remedy.name for remedy in every}
    assert len(every) > 1
    for remedy in every:
        assert np.all(remedy.depth_gain >= 0)
        assert np.all(remedy.low <= remedy.high)
        if remedy.name != "two folds":
            assert np.all(remedy.gain >= -1e-15)


def test_more_inward_pull_never_turns_a_fold_outward() -> None:
    before: tuple[ways.Ending, ...] = ()
    counts = []
    for pull in (0.0, 0.1, 0.3, 0.6, 1.0, 3.0):
        found = ways.many("mid rear", STRAND, DRIVE, room(pull), run=links)
        for was, now in zip(before, found.endings, strict=False):
            assert not (was.way == "in" and now.way != "in")
        before = found.endings
        counts.append(found.count("in"))
    assert counts == sorted(counts)
    assert counts[0] < counts[-1] == ways.LEAST_STARTS


def test_mirrored_starts_give_mirrored_ways() -> None:
    """Bows and ripples the other way, no pull: what went in goes out."""
    starts = ways.starts_of()
    still = tuple(Start(start.bow, start.seed, 0.0) for start in starts)
    mirrored = tuple(Start(-start.bow, start.seed, 0.0) for start in starts)
    one = ways.many("mid rear", STRAND, DRIVE, room(0.0), run=links, starts=still)
    other = ways.many("mid rear", STRAND, DRIVE, room(0.0), run=links, starts=mirrored)
    assert one.count("in") == other.count("out") == 10
    assert [e.way for e in one.endings] == [{"in": "out", "out": "in"}[e.way] for e in other.endings]


def test_slower_lowering_or_larger_vents_never_raise_the_pressure() -> None:
    volume, area, fan = RNG.uniform(0.3, 2.0, WALLS), RNG.uniform(0.005, 0.3, WALLS), RNG.uniform(0.0, 0.05, WALLS)
    seconds = np.sort(RNG.uniform(2.0, 30.0, (WALLS, 2)), axis=-1)
    fast, slow = (trapped_air.pressure_of(volume / seconds[:, i], area, fan) for i in (0, 1))
    assert np.all(slow <= fast)
    small = trapped_air.pressure_of(volume / seconds[:, 0], area)
    large = trapped_air.pressure_of(volume / seconds[:, 0], area * RNG.uniform(1.0, 5.0, WALLS))
    assert np.all(large <= small)
    assert np.all(trapped_air.pressure_of(volume / seconds[:, 0], area, fan) <= small)


def test_more_pull_bears_more_pressure_and_a_higher_wall_less() -> None:
    pulls = RNG.uniform((0.05, 0.1), (0.95, 4.0), (WALLS, 3, 2))
    length = RNG.uniform(0.3, 1.0, WALLS)
    fewer = trapped_air.resisted_pressure(pulls[:, :2], length)
    assert np.all(trapped_air.resisted_pressure(pulls, length) > fewer)
    assert np.all(trapped_air.resisted_pressure(pulls[:, :2], 1.2 * length) < fewer)


def test_a_narrower_gap_never_pushes_less() -> None:
    gap = np.sort(RNG.uniform(0.01, 0.1, (WALLS, 2)), axis=-1)
    assert np.all(np.diff(fold.plate_push(RNG.uniform(1e-4, 1e-2, (WALLS, 1)), gap)) <= 0)
    assert np.all(np.diff(fold.crease_radius(gap)) >= 0)
