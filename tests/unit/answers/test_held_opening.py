"""The opening: what is sawn, what the ring does, and what must hold before."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from loftwright.answers.draws import Nominal, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.held_cut import between, racking_of_stock
from loftwright.answers.held_cut_line import survey
from loftwright.answers.held_fit import sits
from loftwright.answers.held_opening import OpeningFound, must_hold, opened, state_of
from loftwright.answers.held_road import on_the_road
from loftwright.answers.held_wind import in_the_wind
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.ring_loads import CASES, DRIVING, KNEELS, OPEN, PERSON, PERSON_ON_TOP, SNOW_ON_TOP
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.judged import Judged
from loftwright.core.uncertain import normal
from loftwright.mechanics.feel import state
from loftwright.project.assemble_opening import bar_parts, cut_sheet, every_bow, ring_parts, ring_plan, ring_section
from loftwright.project.demos import demo
from loftwright.project.file import loads
from loftwright.project.model import Project, walk
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.strength.cutout_rules import BODY_TWIST, CORNER_RADIUS, CORNER_STRESS, RING_STIFFENS, SAW_MEETS
from loftwright.strength.racking import cut_skin, racking
from loftwright.strength.ring_rules import CHANNEL_BENDS, DIPS, NOTHING_TO_PUSH_ON, PLATE_TILTS, SKIN_DENTS
from loftwright.strength.sections import angle, channel, flat, tube

BOWS = "".join(f'[[bow]]\nat = "{x} mm"\n' for x in (-250, 300, 900, 1500, 2300))

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
[body]
skin = "0.8 mm"
roof_length = "ROOF"
roof_width = "1.6 m"
rear_edge = "0.4 m"
[ring]
shape = "SHAPE"
upright = "40 mm"
flat = "40 mm"
wall = "3 mm"
channel = "CHANNEL"
[cut]
CUT
"""


def file(
    *, cut: str = "", shape: str = "angle", channel: str = "0 mm", bows: str = BOWS, roof: str = "3 m", more: str = ""
) -> Project:
    """Return an invented roof."""
    text = ROOF.replace("CUT", cut).replace("SHAPE", shape).replace("CHANNEL", channel).replace("ROOF", roof)
    return loads(text + bows + more)


def found_of(project: Project) -> tuple[OpeningFound, Basis]:
    """Return the answer for the nominal roof."""
    base = basis(project, Nominal(inputs_of(project)))[0]
    return opened(base, in_the_wind(base, sits(base)), on_the_road(base)), base


def of(found: OpeningFound, rule: Rule, which: str | None = None) -> Judged:
    """Return the one judgement of a rule."""
    (one,) = (j for j in found.judged if j.rule is rule and which in (None, j.which))
    return one


def check(judged: Judged) -> Check:
    """Return the judgement of the nominal roof."""
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value[0]), float(judged.limit[0]))


@pytest.fixture(scope="module")
def plain() -> tuple[OpeningFound, Basis]:
    return found_of(file())


@pytest.mark.parametrize(
    ("kind", "section"),
    [
        ("angle", angle(0.05, 0.03, 0.004)),
        ("tube", tube(0.05, 0.03, 0.004)),
        ("channel", channel(0.05, 0.03, 0.004)),
        ("flat", flat(0.05, 0.03)),
    ],
)
def test_bars_by_rectangles_are_bars_by_their_outline(kind: str, section: object) -> None:
    """Second way: sums over rectangles against the outline's own sums."""
    one = np.ones(2)
    parts = bar_parts(kind, 0.05 * one, 0.03 * one, (0.03 if kind == "flat" else 0.004) * one)  # type: ignore[arg-type]
    for got, name in ((parts.area, "area"), (parts.lift, "ix"), (parts.sway, "iy")):
        assert got == pytest.approx(getattr(section, name) * one, rel=1e-9)


def test_a_corner_without_radius_is_refused_and_one_with_is_judged(plain: tuple[OpeningFound, Basis]) -> None:
    none = of(plain[0], CORNER_RADIUS)
    assert (none.value, none.missing) == (None, "cut.corner_radius")
    assert plain[0].cut.plan.radius is None
    assert plain[0].cut.plan.template is None
    for radius, expected in (("80 mm", Verdict.HOLDS), ("20 mm", Verdict.FAILS)):
        found = found_of(file(cut=f'corner_radius = "{radius}"'))[0]
        assert check(of(found, CORNER_RADIUS)).verdict is expected


def test_corner_factor_only_where_one_is_published() -> None:
    """Long along a pull is outside the published range; across it a radius of 0.2 of the half side is inside."""
    found = found_of(file(cut='corner_radius = "130 mm"'))[0]
    assert found.cut.along is not None
    assert found.cut.across is not None
    assert not found.cut.along.published[0]
    assert found.cut.across.published[0]
    # A pull across meets the long half side of 1 m; 0.6 m lie along it. From the formula by hand: b/a 0.6, r/b 0.2167.
    s, k = (0.13 / 0.6) ** 0.5, 0.6
    by_hand = (14.815 - 15.774 * s + 8.149 * s * s) + (-11.201 - 9.750 * s + 9.600 * s * s) * k
    by_hand += (0.202 + 38.662 * s - 27.374 * s * s) * k**2 + (3.232 - 23.002 * s + 15.482 * s * s) * k**3
    assert found.cut.across.factor[0] == pytest.approx(by_hand)
    said = {j.which: j.unknown for j in found.judged if j.rule is CORNER_STRESS}
    assert "no published figure" in said["pull along the van"]
    assert "the pull in the roof" in said["pull across the van"]


def test_what_lies_behind_the_lining() -> None:
    not_known, clear, meets = survey("not looked yet", "out of the way", "in the way")
    assert (not_known.value, not_known.missing) == (None, "cut.cables")
    assert not_known.unknown.startswith("look behind the lining")
    assert check(clear).verdict is Verdict.HOLDS
    assert check(meets).verdict is Verdict.FAILS
    assert {clear.rule, meets.rule} == {SAW_MEETS}
    assert check(survey("none there", "in the way", "in the way")[0]).verdict is Verdict.HOLDS


def test_racking_is_that_of_the_same_skin_solved_alone(plain: tuple[OpeningFound, Basis]) -> None:
    """Second way: the domain's own answer on a finer mesh, with the section by its outline."""
    section = angle(0.04, 0.04, 0.003)
    skin = cut_skin(cut_sheet(3.0, 1.6, 0.4, 2.0, 1.2))
    exact = racking(
        skin, thickness=0.0008, modulus=210e9, ring_modulus=70e9, ring_area=section.area, ring_inertia=section.iy
    )
    for got, want in zip(plain[0].cut.racking, exact, strict=True):
        assert got.kept_cut[0] == pytest.approx(float(want.kept_cut), rel=0.01)
        assert got.kept_ring[0] == pytest.approx(float(want.kept_ring), rel=0.01)
    low, high = racking_of_stock(plain[0].cut, plain[1], (plain[0].ring.bar,))[0]
    kept = sorted(float(one.kept_ring[0]) for one in plain[0].cut.racking)
    assert (low, high) == pytest.approx(kept)


NO_FORCES = {"seal_line": "N/m", "cloth_mass": "kg", "fold_push": "N/m", "trapped_air": "N", "wet_extra": "kg"}
ROOF_FREE = (
    ROOF.replace("CUT", "")
    .replace("CHANNEL", "0 mm")
    .replace("ROOF", "3 m")
    .replace("[linkage]", '[linkage]\nfriction = "0 N m"')
)


def test_how_much_the_ring_should_give_is_asked_for(plain: tuple[OpeningFound, Basis]) -> None:
    assert [check(j).verdict for j in plain[0].judged if j.rule is RING_STIFFENS] == [Verdict.HOLDS] * 2
    found = found_of(loads(ROOF_ASKING.replace("SHAPE", "angle")))[0]
    assert [check(j).verdict for j in found.judged if j.rule is RING_STIFFENS] == [Verdict.FAILS] * 2


ROOF_ASKING = (
    ROOF.replace("CUT", "")
    .replace("CHANNEL", "0 mm")
    .replace("ROOF", "3 m")
    .replace("[ring]", '[ring]\ngain_wanted = "40"')
)


def test_sizes_that_are_not_known_are_solved_at_their_ends() -> None:
    """Second way: the rows where the roof's length stands alone at an end against that roof solved by itself."""
    project = file(roof="2.6 .. 3.4 m, assumed")
    nominal = Nominal(inputs_of(project))
    first, sense = basis(project, nominal)
    opened(first, in_the_wind(first, sits(first)), on_the_road(first))
    drawn = rows(nominal.inputs, nominal.asked, 50, 1)
    base = basis(project, drawn, sense)[0]
    found = opened(base, in_the_wind(base, sits(base)), on_the_road(base))
    section = angle(0.04, 0.04, 0.003)
    for row, length in zip(drawn.alone["body.roof_length"], (2.6, 3.4), strict=True):
        exact = racking(
            cut_skin(cut_sheet(length, 1.6, 0.4, 2.0, 1.2)),
            thickness=0.0008,
            modulus=210e9,
            ring_modulus=70e9,
            ring_area=section.area,
            ring_inertia=section.iy,
        )
        for got, want in zip(found.cut.racking, exact, strict=True):
            assert got.kept_cut[row] == pytest.approx(float(want.kept_cut), rel=0.03)
            assert got.kept_ring[row] == pytest.approx(float(want.kept_ring), rel=0.03)
    for judged in found.judged:
        decide(judged, drawn, base.roof.possible)
        for value in (judged.value, judged.limit):
            assert value is None or np.isfinite(value).all()
    # Second way: a bow of thinner sheet, by itself; in the rows it keeps its stiffness along and in twist, which under
    # a person near a corner makes the ring give up to a twentieth more.
    low, high = drawn.alone["bow.1.sheet"]
    assert found.ring.stress[low] != found.ring.stress[0]
    thinner = BOWS.replace('at = "300 mm"', f'at = "300 mm"\nsheet = "{1000 * drawn("bow.1.sheet")[low]} mm"')
    alone = found_of(file(roof="2.6 .. 3.4 m, assumed", bows=thinner))[0]
    assert found.ring.dip[low] == pytest.approx(alone.ring.dip[0], rel=0.05)
    assert found.ring.dip[low] > 0.999 * alone.ring.dip[0]
    assert found.ring.stress[low] == pytest.approx(alone.ring.stress[0], rel=0.005)
    assert found.cut_mass[low] < found.cut_mass[high]


def test_between_known_places_runs_straight() -> None:
    got = between(np.array([0.0, 0.5, 1.0, 3.0]), {1.0: np.array([2.0]), 0.0: np.array([0.0])})
    assert got[:, 0] == pytest.approx([0.0, 1.0, 2.0, 2.0])


def test_twist_by_the_tape(plain: tuple[OpeningFound, Basis]) -> None:
    assert of(plain[0], BODY_TWIST).missing == "cut.door_before"
    readings = 'door_before = "4 mm"\ndoor_cut = "6 mm"\n'
    cut_only = found_of(file(cut=readings))[0]
    assert check(of(cut_only, BODY_TWIST, "after the cut")).verdict is Verdict.FAILS
    assert of(cut_only, BODY_TWIST, "with the ring in").missing == "cut.door_ring"
    for ring, expected in (("4.5 mm", Verdict.HOLDS), ("5.5 mm", Verdict.FAILS)):
        found = found_of(file(cut=f'{readings}door_ring = "{ring}"'))[0]
        assert check(of(found, BODY_TWIST)).verdict is expected
        assert found.cut.tape_cut is not None
        assert found.cut.tape_cut[0] == pytest.approx(4 / 6)
    small = found_of(file(cut='door_before = "0.5 mm"\ndoor_ring = "1 mm"'))[0]
    assert of(small, BODY_TWIST).value is None
    torsion = plain[0].cut.torsion
    assert 0 < torsion.kept_cut_low[0] < torsion.kept_ring_low[0]
    assert torsion.kept_cut_high[0] < torsion.kept_ring_high[0] < 1
    assert torsion.reasons


def test_loads_on_the_ring_balance_the_roof(plain: tuple[OpeningFound, Basis]) -> None:
    """A person adds their weight and snow its own; free of all else hinges and hand bear the shell by levers."""
    found, base = plain
    loads_ = found.ring.loads
    assert loads_.names[:2] == ("left hinge", "right hinge")
    assert loads_.points[0] == pytest.approx((2.03, 0.5))
    down = -loads_.force[0, :, :, 2].sum(axis=-1)
    assert down[PERSON_ON_TOP] - down[0] == pytest.approx(PERSON)
    area = float(base.at("shell.length")[0] * base.at("shell.width")[0])
    assert down[SNOW_ON_TOP] - down[0] == pytest.approx(area * 0.1 * 2000.0)
    # Without springs, seal, cloth and friction the hinges bear the share of the weight that the hand does not.
    none = "".join(f'{key} = "0 {unit}"\n' for key, unit in NO_FORCES.items())
    bare = loads(ROOF_FREE.replace("SHAPE", "angle") + f"[forces]\n{none}" + BOWS)
    free, roof = found_of(bare)
    lever = (2.03 - float(roof.roof.body.x[0])) / (2.03 - float(roof.roof.handle[0][0]))
    assert -free.ring.loads.force[0, 0, :, 2].sum() == pytest.approx(40 * 9.80665 * (1 - lever), rel=0.01)
    assert loads_.force[0, DRIVING, -1, 2] > 0
    assert found.ring.by_case.shape == (len(CASES), 4)


def test_a_person_is_shared_by_levers(plain: tuple[OpeningFound, Basis]) -> None:
    """Exact: what stops and hinges get has its middle under the person, 250 mm inside the lip, and pulls nowhere."""
    found, base = plain
    loads_ = found.ring.loads
    share = (loads_.force[0, 0, :, 2] - loads_.force[0, PERSON_ON_TOP, :, 2]) / PERSON
    assert share.min() >= 0
    assert share.sum() == pytest.approx(1.0)
    along = float(base.roof.lip[0] if np.ndim(base.roof.lip[0]) == 0 else base.roof.lip[0][0])
    assert share @ np.array(loads_.points)[:, 0] == pytest.approx(along + KNEELS)
    assert share[-2] == share.max()


def test_nothing_is_said_of_a_ring_whose_bows_nobody_has_found() -> None:
    found = found_of(file(bows=""))[0]
    judged = of(found, DIPS)
    assert judged.value is None
    assert "bows" in judged.unknown
    assert of(found, NOTHING_TO_PUSH_ON).value is None


def test_a_stout_tube_gives_less_than_an_angle(plain: tuple[OpeningFound, Basis]) -> None:
    stout = found_of(file(shape="square tube"))[0]
    assert stout.ring.dip[0] < plain[0].ring.dip[0]
    assert stout.ring.tilt[0] < plain[0].ring.tilt[0]
    assert check(of(plain[0], DIPS)).verdict is Verdict.FAILS


def test_a_ring_that_may_give_more_holds() -> None:
    text = 'sag_limit = "50 mm"'
    project = loads(
        ROOF.replace("CUT", "")
        .replace("SHAPE", f'square tube"\n{text}\nmetal = "steel')
        .replace("CHANNEL", "0 mm")
        .replace("ROOF", "3 m")
        + '[fit]\nseal_least = "5 mm"\nseal_most = "60 mm"\n'
        + BOWS
    )
    assert check(of(found_of(project)[0], DIPS)).verdict is Verdict.HOLDS


def test_way_to_the_bows(plain: tuple[OpeningFound, Basis]) -> None:
    """No channel reaches the bow 0.27 m ahead of the hinge; one of 300 mm does."""
    assert check(of(plain[0], NOTHING_TO_PUSH_ON)).verdict is Verdict.FAILS
    assert of(plain[0], SKIN_DENTS).value is not None
    reached = found_of(file(channel="300 mm"))[0]
    assert check(of(reached, NOTHING_TO_PUSH_ON)).verdict is Verdict.HOLDS
    assert check(of(reached, CHANNEL_BENDS)).verdict is Verdict.HOLDS


def test_masses_by_hand(plain: tuple[OpeningFound, Basis]) -> None:
    """Steel skin of 2.0 x 1.2 m and 0.8 mm with three hats of 1 mm; four mitred aluminium angles round the outside."""
    hat = 0.05 * 0.001 + 2 * 0.024 * 0.001
    assert plain[0].cut_mass[0] == pytest.approx(7850 * 1.2 * (2.0 * 0.0008 + 3 * hat), rel=1e-6)
    assert plain[0].ring_mass[0] == pytest.approx(2700 * 0.003 * 0.077 * (2 * 3.2 + 8 * 0.04), rel=1e-6)
    assert sum(p.length * p.count for p in plain[0].ring.pieces[:2]) == pytest.approx(6.72)


def test_cut_plan_by_hand() -> None:
    plan = found_of(file(cut='corner_radius = "80 mm"'))[0].cut.plan
    assert plan.centres == pytest.approx(np.array([(0.08, -0.52), (1.92, -0.52), (1.92, 0.52), (0.08, 0.52)]))
    assert plan.diagonal == pytest.approx((2.0**2 + 1.2**2) ** 0.5)
    assert (plan.rear, plan.front, plan.side) == pytest.approx((0.4, 0.6, 0.2))
    assert plan.bows == ((0.3, False), (0.9, False), (1.5, False))
    # Every starting hole lies on the waste and touches one straight line of the cut.
    away = np.stack([plan.starts[:, 0], 2.0 - plan.starts[:, 0], 0.6 - np.abs(plan.starts[:, 1])])
    assert away.min(axis=0) == pytest.approx(plan.start_diameter / 2)
    assert plan.template == pytest.approx((0.08, 0.13))


def test_every_stock_section_is_set_beside(plain: tuple[OpeningFound, Basis]) -> None:
    kept = [one.row.kept for one in plain[0].ring.stock]
    assert kept == sorted(kept, reverse=True)
    for one in plain[0].ring.stock:
        assert 0 < one.racking_low <= one.racking_high
        assert one.row.mass > 0
        assert one.row.given_back is not None


def test_what_must_hold_before_the_saw() -> None:
    listed = {one.keys[0] if one.keys else "": one.state for one in must_hold(file(cut='corner_radius = "80 mm"'))}
    assert listed["cut.air_bags"] == "not looked"
    assert listed["cut.corner_radius"] == "decided"
    assert listed["bow.0.at"] == "decided"
    seen = must_hold(file(cut='air_bags = "none there"\ndoor_before = "4 mm, measured"'))
    states = {one.keys[0]: one.state for one in seen}
    assert (states["cut.air_bags"], states["cut.door_before"]) == ("measured", "measured")
    known = file().body.skin
    assert state_of(known, file(roof="unknown").body.roof_length) == "only assumed"
    assert state_of() == "not looked"


def test_sizes_of_a_ring_are_a_plan_and_the_way_of_a_hinge_is_judged() -> None:
    project = file()
    keys = {key: normal(size, 0.0) for key, size in (("upright", 0.03), ("flat", 0.03), ("wall", 0.002))}
    measured = project.model_copy(update={"ring": project.ring.model_copy(update=keys)})
    assert state_of(measured.ring.upright, measured.ring.flat, measured.ring.wall) == "measured"
    states = {one.keys[0]: one for one in must_hold(measured)}
    assert states["ring.upright"].state == "decided"
    # What is known of channel and bows is in the verdict of RING-1005, which this waits for.
    way = states["ring.channel"]
    assert (way.state, way.rules) == ("decided", ((NOTHING_TO_PUSH_ON.id, ""),))
    assert "ring.channel" not in {one.keys[0] for one in must_hold(project, on_plates=False)}


@pytest.mark.parametrize("lifts", ["hinge rear", "arms", "level arms", "scissor"])
def test_every_linkage(lifts: str) -> None:
    found = found_of(loads(new_project(FiveAnswers(lifts)) + BOWS))[0]
    for judged in found.judged:
        assert judged.value is None or np.isfinite(judged.value).all()
    assert found.ring_mass[0] > 0


def test_hinges_along_a_side() -> None:
    """Hinged at the right: hinges stand at the right edge, before and behind the middle of the opening."""
    text = (Path(__file__).parents[2] / "roofs" / "side_hinge.toml").read_text(encoding="utf-8")
    found, base = found_of(loads(text + BOWS))
    (front, rear), half = found.ring.loads.points[:2], float(base.at("opening.width")[0]) / 2
    assert found.ring.loads.names[:2] == ("front hinge", "rear hinge")
    assert front[0] > rear[0]
    assert front[1] == pytest.approx(half - float(base.roof.pins.van[0][0][0]))
    weight = -found.ring.loads.force[0, 0, :2, 2]
    assert weight[0] == pytest.approx(weight[1])


def test_bows_in_a_corner_stand_at_its_end() -> None:
    project = file()
    plan = ring_plan(project, Nominal(inputs_of(project)), every_bow(project, Nominal(inputs_of(project)), 1))
    assert len(plan.roof(210e9).bows) == 3
    assert replace(plan, radius=0.5).roof(210e9).bows[0].x == pytest.approx(0.5)
    parts = ring_parts(project, Nominal(inputs_of(project)))
    assert ring_section(project, plan.ring).iy == pytest.approx(float(parts.sway[0]))


def test_posts_of_guides_and_a_flat_ring() -> None:
    """Posts stand on the floor; a flat bar has no height of its own."""
    text = ROOF.replace("CUT", "").replace("CHANNEL", "0 mm").replace("ROOF", "3 m").replace("SHAPE", "flat")
    before, _, rest = text.partition("[linkage]")
    guides = (
        '[linkage]\nkind = "guides"\nend = "rear"\nrise = "0.4 m"\nguide = ["1.9 m", "-0.2 m"]\n'
        'guide_far = ["0.1 m", "-0.2 m"]\nguide_length = "0.3 m"\nguide_friction = "unknown"\n[body]'
    )
    project = loads(before + guides + rest.partition("[body]")[2] + BOWS)
    nominal = Nominal(inputs_of(project))
    base = basis(project, nominal)[0]
    found = opened(base, in_the_wind(base, sits(base)), on_the_road(base))
    assert "ring.upright" not in nominal.asked
    assert found.ring.loads.names == ("left stop", "right stop")
    assert any("posts" in said.lower() for said in found.said)
    assert found.ring.plan.ring == pytest.approx((0.04, 0.003, 0.003))
    assert not [j for j in found.judged if j.rule is PLATE_TILTS]


def test_low_arm_feet_stand_on_the_walls() -> None:
    """Spring feet and arm feet 290 mm below the roof are no load of the ring."""
    found = found_of(demo("larkenmoor"))[0]
    assert found.ring.loads.names == ("left stop", "right stop")
    assert any("120 mm" in said for said in found.said)


def test_springs_push_on_their_feet() -> None:
    """The push of the feet of one spring a side, along the line to its head, is that of the mechanics' own spring."""
    found, base = found_of(demo("quellmere"))
    foot = found.ring.loads.names.index("left foot of side spring")
    push = base.felt.springs[0].at(state("sun", "new"))
    want = np.maximum(push.raising, push.lowering)[0, -1] * push.line.along_z[0, -1] * push.mount.count / 2
    assert found.ring.loads.force[0, OPEN, foot, 2] == pytest.approx(-want)


def test_every_key_of_the_opening_is_asked_for() -> None:
    readings = "".join(f'{key} = "60 mm"\n' for key in ("corner_radius", "door_before", "door_cut", "door_ring"))
    project = file(cut=readings)
    nominal = Nominal(inputs_of(project))
    base = basis(project, nominal)[0]
    opened(base, in_the_wind(base, sits(base)), on_the_road(base))
    elsewhere = {"ring.pitch", "ring.rivet"}
    asked = {path for path in walk(project) if path.split(".")[0] in ("bow", "cut", "ring")} - elsewhere
    assert asked <= set(nominal.asked)
