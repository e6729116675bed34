"""The ring as a frame: its joints, its loads, what it does, and what it answers to the rules."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.motion import Array
from loftwright.strength.frame import bar_axes
from loftwright.strength.ring import ring_mesh, strip_block
from loftwright.strength.ring_response import RingResponse, bending_stress, opened_seal, respond
from loftwright.strength.ring_roof import Roof, nearest_on_ring
from loftwright.strength.ring_rules import BENDS_FOR_GOOD, DIPS, PLATE_TILTS, SAGS
from loftwright.strength.sections import angle, tube
from tests.unit.strength.rings import HINGES, bow, ring, roof

TURN = np.array([0.0])


def loads(down: float = 400.0, side: float = 0.0, rows: int = 1) -> tuple[Array, Array, Array]:
    """Return hinge loads pushing down and backwards, at 50 mm above the ring, and no cloth."""
    force = np.zeros((rows, 2, 3))
    force[..., 0], force[..., 2] = -side, -down
    return force, np.full((rows, 2), 0.05), np.zeros(rows)


def test_perimeter_and_joints() -> None:
    mesh = ring_mesh(roof(), HINGES)
    length, axes = bar_axes(mesh.frame)
    assert length[: mesh.ring].sum() == pytest.approx(6.4 - 8 * 0.08 + 2 * np.pi * 0.08, rel=0.005)
    whole = 12 * roof().strip(0.2) / 0.2**3
    assert mesh.blocks[:, 2, 2].sum() == pytest.approx(length[: mesh.ring].sum() * whole)
    assert mesh.frame.joints[mesh.load_joints, :2] == pytest.approx(np.array(HINGES))
    expected = np.array([[1.0, -0.6], [2.0, 0.0], [1.0, 0.6], [0.0, 0.0]])
    assert mesh.frame.joints[mesh.mid_sides, :2] == pytest.approx(expected)
    # Every bar's own y axis points into the opening.
    middle = mesh.frame.joints[mesh.frame.bars[: mesh.ring]].mean(axis=1)
    inward = np.array([1.0, 0.0, 0.0]) - middle
    assert np.all((axes[: mesh.ring, 1] * inward).sum(axis=1) > 0)


def test_square_corners_have_one_joint_each() -> None:
    mesh = ring_mesh(roof(radius=0.0))
    corners = mesh.frame.joints[: mesh.ring, :2]
    for corner in ((0.0, -0.6), (2.0, -0.6), (2.0, 0.6), (0.0, 0.6)):
        assert (np.hypot(*(corners - corner).T) < 1e-9).sum() == 1


def test_uncut_and_untied_bows() -> None:
    assert len(ring_mesh(roof(cut=False)).bows) == 9
    assert len(ring_mesh(roof()).bows) == 6
    assert ring_mesh(roof()).stubs.size == 6
    assert ring_mesh(roof(tied=False)).bows == ()
    assert ring_mesh(roof(tied=False)).crossings.size == 6


@pytest.mark.parametrize(
    ("point", "place"),
    [((0.5, -0.7), (0, 0.5)), ((2.1, 0.2), (1, 0.8)), ((0.4, 0.5), (2, 1.6)), ((-0.1, 0.0), (3, 0.6))],
)
def test_nearest_place(point: tuple[float, float], place: tuple[int, float]) -> None:
    side, along = nearest_on_ring(roof(), *point)
    assert side == place[0]
    assert along == pytest.approx(place[1])


def test_what_is_no_roof() -> None:
    with pytest.raises(ValueError, match="radius"):
        roof(radius=0.7)
    with pytest.raises(ValueError, match="positive"):
        Roof(2.0, 1.2, 0.1, 0.0, 0.0008, 210e9)
    for at, words in ((1.0, "beyond the opening"), (2.3, "before the roof's end")):
        with pytest.raises(ValueError, match=words):
            Roof(2.0, 1.2, 0.1, 0.2, 0.0008, 210e9, end_bows=(bow(at),))
    with pytest.raises(ValueError, match="positive"):
        Roof(2.0, 1.2, 0.1, 0.2, 0.0008, 210e9, behind=-0.1)
    with pytest.raises(ValueError, match="straight part"):
        ring_mesh(roof(bows=(0.02,)))


def test_a_strip_is_a_bar_built_in_at_its_far_end() -> None:
    """Exact cases: guided 12 E I / w^3; free to turn 3 E I / w^3; turned and held up and down 4 E I / w."""
    block = strip_block((0.3, 0.0), 50.0)
    assert block[2, 2] == pytest.approx(12 * 50 / 0.3**3)
    # Slope along x is the turn about -y.
    assert block[4, 4] == pytest.approx(4 * 50 / 0.3)
    free = block[2, 2] - block[2, 4] ** 2 / block[4, 4]
    assert free == pytest.approx(3 * 50 / 0.3**3)
    aslant = strip_block((0.18, -0.24), 50.0)
    assert aslant[2, 2] == pytest.approx(block[2, 2])
    assert np.trace(aslant[3:5, 3:5]) == pytest.approx(block[4, 4])
    # Pushed up and free to turn, the near end rises most and so turns about +y where the strip lies ahead.
    pushed = np.linalg.solve(block[np.ix_([2, 4], [2, 4])], np.array([1.0, 0.0]))
    assert pushed[1] == pytest.approx(0.3**2 / (2 * 50))


def test_a_load_whose_bracket_overlaps_a_bow_stands_on_it() -> None:
    mesh = ring_mesh(roof(), ((0.94, 0.6), (0.91, 0.6), (0.94, -0.6)))
    assert mesh.frame.joints[mesh.load_joints, 0] == pytest.approx([1.0, 0.91, 1.0])
    assert ring_mesh(roof(tied=False), ((0.94, 0.6),)).frame.joints[:, 0].tolist().count(0.94) == 1


def ends(*, dip: float | None = None, beyond: bool = True, channel: bool = False) -> Roof:
    """Return a roof with a bow 0.1 m beyond both ends of the opening and 0.3 m of roof there."""
    return replace(
        roof(),
        behind=0.3,
        ahead=0.3,
        dip=dip,
        end_bows=(bow(-0.1), bow(2.1)) if beyond else (),
        channels=HINGES if channel else (),
    )


def test_what_holds_the_ends_of_the_ring() -> None:
    """A bow beyond the end helps, a skin that dips less helps, an inner channel to that bow carries the hinges."""
    bare, bows, stiff, led = (
        respond(ring("L 40x40x4 steel", on), *loads())
        for on in (ends(beyond=False), ends(), ends(dip=0.002), ends(channel=True))
    )
    assert bare.dip[0] > bows.dip[0] > stiff.dip[0] > 0
    assert np.abs(led.at_loads).max() < 0.7 * np.abs(bows.at_loads).max()
    # Two ends of each of three cut bows and of two whole ones.
    assert bows.bow_ends.shape == (1, 10)
    for one in (bare, bows, stiff, led):
        assert one.bow_ends.sum() + one.skin[0] == pytest.approx(800.0)


def test_the_shell_follows_the_ring_where_it_stands_on_it() -> None:
    """Exact cases: what moves as a plane, or twists, opens no seal; a middle that rises alone opens it by as much."""
    corners = ((0.0, 0.5), (0.0, -0.5), (2.0, 0.5), (2.0, -0.5))
    part = ring("tube 25x25x2 steel", roof(), corners)
    found = respond(part, np.zeros((2, 4, 3)), np.zeros((2, 4)), np.zeros(2))
    middles = part.mesh.frame.joints[part.mesh.mid_sides, :2]

    def bent(x: Array, y: Array) -> Array:
        return np.stack([0.003 + 0.01 * x - 0.02 * y + 0.004 * x * y, 0.0 * x])

    moved = replace(found, at_loads=bent(*part.points.T), at_mid_sides=bent(*middles.T))
    assert opened_seal(part, moved, (0, 1, 2, 3), ()) == pytest.approx([0.0, 0.0], abs=1e-12)
    moved.at_mid_sides[1, 3] -= 0.006
    assert opened_seal(part, moved, (0, 1, 2, 3), ()) == pytest.approx([0.0, 0.006], abs=1e-12)
    # Held elsewhere at the front, the shell turns about there: rising 10 mm at the rear, 5 mm half way.
    rises = replace(found, at_loads=np.full((2, 4), 0.010), at_mid_sides=np.array([[0.005, 0.0, 0.005, 0.010]] * 2))
    assert opened_seal(part, rises, (0, 1), ((2.0, 0.5), (2.0, -0.5))) == pytest.approx([0.0, 0.0], abs=1e-12)


def test_a_load_beside_the_ring_brings_its_moment() -> None:
    """On a stiff plate a push 0.1 m outside the rear edge turns the ring more than one on it."""
    on, off = (ring("tube 25x25x2 steel", roof(), ((x, 0.4), (x, -0.4))) for x in (0.0, -0.1))
    assert respond(off, *loads()).tilt[0] > respond(on, *loads()).tilt[0]


def test_draws_are_superposed() -> None:
    part = ring("L 40x40x4 steel", roof())
    force, height, cloth = loads(rows=3)
    force *= np.array([1.0, 2.0, -1.0])[:, None, None]
    found = respond(part, force, height, cloth)
    assert found.dip == pytest.approx(found.dip[0] * np.array([1, 2, 1]))
    assert found.stress == pytest.approx(found.stress[0] * np.array([1, 2, 1]))
    assert found.torsion_share == pytest.approx(np.full(3, found.torsion_share[0]))


def test_cloth_pulls_the_sides_inwards() -> None:
    part = ring("L 40x40x4 steel", roof())
    force, height, cloth = loads(down=0.0)
    found = respond(part, force, height, cloth + 100.0)
    assert found.stress[0] > 0
    moved = part.solved.moved[-1, part.mesh.mid_sides]
    assert moved[0, 1] > 0 > moved[2, 1]
    assert moved[3, 0] > 0 > moved[1, 0]


def test_stress_of_plain_bending() -> None:
    """M / W in a tube; with the moment about a principal axis of an angle, M c / I along that axis."""
    part = tube(0.03, 0.05, 0.003)
    assert np.abs(bending_stress(part, TURN, TURN, TURN + 100.0)).max() == pytest.approx(100 / part.moduli[0])
    assert np.abs(bending_stress(part, TURN, TURN + 100.0, TURN)).max() == pytest.approx(100 / part.moduli[1])
    assert bending_stress(part, TURN + 444.0, TURN, TURN)[0] == pytest.approx(np.full(4, 1e6))
    leg = angle(0.04, 0.04, 0.003)
    aslant = np.abs(bending_stress(leg, TURN, TURN + 100 / 2**0.5, TURN - 100 / 2**0.5)).max()
    along = np.abs((leg.points[:, 0] - leg.points[:, 1]) / 2**0.5).max()
    assert aslant == pytest.approx(100 * along / leg.principal[0])


def test_open_sections_twist_more() -> None:
    """Of a load carried half by twisting, the angle takes a greater share of its work in torsion than a tube."""
    shares = [
        float(respond(ring(name, roof()), *loads(side=300.0)).torsion_share[0])
        for name in ("L 30x50x3 steel", "tube 30x50x3 steel")
    ]
    assert shares[0] > shares[1] > 0


def judged(name: str, down: float) -> list[Check]:
    found = respond(ring(name, roof()), *loads(down))
    sag = np.abs(found.at_mid_sides).max(axis=-1)
    return [
        DIPS.judge(float(found.dip[0]), 0.006),
        SAGS.judge(float(sag[0]), 2.0 / 200),
        BENDS_FOR_GOOD.judge(float(found.stress[0]), 235e6 / 1.5),
        PLATE_TILTS.judge(float(found.tilt[0]), float(np.radians(0.5))),
    ]


def test_a_stout_ring_holds_and_a_slight_one_does_not() -> None:
    stout, slight = judged("tube 30x50x3 steel", 400.0), judged("flat 40x5 steel", 2000.0)
    assert [one.verdict for one in stout] == [Verdict.HOLDS] * 4
    assert [one.verdict for one in slight] == [Verdict.FAILS] * 4


def test_response_names_the_greatest() -> None:
    found: RingResponse = respond(ring("tube 25x25x2 steel", roof()), *loads())
    assert found.dip[0] == pytest.approx(np.abs(found.at_mid_sides[0, 3]))
    assert found.dip[0] > np.abs(found.at_loads).max()
    assert found.bow_ends.shape == (1, 6)
