"""What holds for every ring: loads balance, influence is mutual, stiffer never moves more, sides are alike."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loftwright.core.motion import Array
from loftwright.strength.ring import Influence, ring_influence, ring_mesh, unit_cases
from loftwright.strength.ring_response import respond
from loftwright.strength.ring_stock import crossing_stiffness
from loftwright.strength.sections import Section
from tests.unit.strength.rings import HINGES, ring, roof

POINTS = (*HINGES, (1.3, 0.6), (2.0, 0.1))


@pytest.fixture(scope="module")
def angle_ring() -> Influence:
    """Return a ring of angle with four load points."""
    return ring("L 30x50x3 steel", roof(), POINTS)


def test_reactions_balance_every_unit_load(angle_ring: Influence) -> None:
    mesh, solved = angle_ring.mesh, angle_ring.solved
    loads, _ = unit_cases(mesh)
    whole = loads + solved.reactions
    force, moment = whole[..., :3], whole[..., 3:] + np.cross(mesh.frame.joints, whole[..., :3])
    # The cloth pulls alike all round: its line load sums to nothing.
    assert np.abs(force.sum(axis=1)).max() < 1e-6
    assert np.abs(moment.sum(axis=1)).max() < 1e-6


def test_influence_is_mutual(angle_ring: Influence) -> None:
    """Maxwell and Betti: what one unit load does at the place of another, that one does at the place of the first."""
    mesh = angle_ring.mesh
    give = angle_ring.solved.moved[:-1][:, mesh.load_joints].reshape(24, 24)
    assert np.abs(give - give.T).max() < 1e-9 * np.abs(give).max()
    assert np.linalg.eigvalsh(give).min() > 0


@given(st.lists(st.floats(-500, 500), min_size=12, max_size=12), st.floats(0, 50))
def test_random_loads_balance(values: list[float], cloth: float) -> None:
    part = _CACHED
    force = np.array(values).reshape(1, 4, 3)
    found = respond(part, force, np.zeros((1, 4)), np.array([cloth]))
    assert found.bow_ends.sum() + found.skin[0] + force[..., 2].sum() == pytest.approx(0.0, abs=1e-5)


_CACHED = ring("tube 30x30x2 steel", roof(), POINTS)


def stiffened(section: Section, factor: Array) -> Section:
    """Return a section whose area, bending or torsion is raised."""
    return replace(
        section,
        area=section.area * factor[0],
        ix=section.ix * factor[1],
        iy=section.iy * factor[2],
        torsion=section.torsion * factor[3],
    )


@pytest.mark.parametrize("which", range(4))
def test_a_stiffer_ring_never_gives_more(angle_ring: Influence, which: int) -> None:
    factor = np.ones(4)
    factor[which] = 1.7
    other = ring_influence(roof(), stiffened(angle_ring.section, factor), 210e9, 81e9, POINTS)
    before, after = (
        np.diagonal(part.solved.moved[:-1][:, part.mesh.load_joints].reshape(24, 24)) for part in (angle_ring, other)
    )
    assert np.all(after <= before * (1 + 1e-7))
    assert np.any(after < before * (1 - 1e-4))
    mesh = ring_mesh(roof())
    pair = (angle_ring.section, other.section)
    stiff = crossing_stiffness(mesh, np.full(2, 210e9), np.full(2, 81e9), pair)
    assert stiff[1] >= stiff[0] * (1 - 1e-9)


def test_tied_bows_and_thicker_skin_never_give_more() -> None:
    loose, tied, whole, thick = (
        ring("tube 25x25x2 steel", on)
        for on in (roof(tied=False), roof(), roof(cut=False), replace(roof(), skin=0.0012))
    )
    give = [float(part.solved.moved[2, part.mesh.load_joints[0], 2]) for part in (loose, tied, whole)]
    assert give[0] > give[1] >= give[2] > 0
    assert thick.solved.moved[2, thick.mesh.load_joints[0], 2] < give[1]


@given(st.floats(0.0005, 0.02), st.floats(1.01, 3.0), st.floats(0.05, 0.25))
def test_a_roof_that_dips_more_never_holds_the_ring_better(dip: float, more: float, gap: float) -> None:
    def give(at: float) -> float:
        on = replace(roof(), behind=0.3, ahead=0.4, dip=at, end_bows=(replace(roof().bows[0], x=-gap),))
        part = ring("L 30x50x3 steel", on)
        return float(part.solved.moved[2, part.mesh.load_joints[0], 2])

    assert 0 < give(dip) <= give(more * dip) * (1 + 1e-9)


def test_left_and_right_are_alike() -> None:
    part = ring("tube 25x25x2 steel", roof())
    force = np.array([[[30.0, 20.0, -200.0], [30.0, -20.0, -200.0]]])
    found = respond(part, force, np.full((1, 2), 0.05), np.array([10.0]))
    assert found.at_loads[0, 0] == pytest.approx(found.at_loads[0, 1], rel=1e-7)
    assert found.at_mid_sides[0, 0] == pytest.approx(found.at_mid_sides[0, 2], rel=1e-7)


def test_energy_of_the_parts_is_the_work_of_the_load() -> None:
    """Clapeyron: half of load times movement is what springs, bending, torsion and stretching store."""
    part = ring("L 30x50x3 steel", roof(bows=()), HINGES)
    mesh, solved = part.mesh, part.solved
    force = np.zeros((1, 2, 3))
    force[0, 0, 2] = 1.0
    found = respond(part, force, np.zeros((1, 2)), np.zeros(1))
    joints, bars = mesh.frame.joints, mesh.frame.bars
    length = np.linalg.norm(joints[bars[:, 1]] - joints[bars[:, 0]], axis=1)
    ends = solved.ends[2]
    twisting = (ends[:, 9] ** 2 * length).sum() / (2 * 81e9 * part.section.torsion)
    stretching = (ends[:, 6] ** 2 * length).sum() / (2 * 210e9 * part.section.area)
    moved = solved.moved[2]
    springs = 0.5 * np.einsum("ni,nij,nj->", moved, mesh.blocks, moved)
    work = 0.5 * solved.moved[2, mesh.load_joints[0], 2]
    assert twisting / found.torsion_share[0] + stretching + springs == pytest.approx(work, rel=1e-8)
