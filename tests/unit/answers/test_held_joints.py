"""Bolts of the whole roof: what loads them, what gives first, what is missing, what to buy."""

from __future__ import annotations

import re
from functools import cache
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from loftwright.answers.draws import Nominal
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.held_joints import JointFound, JointsFound, groups_of, joined
from loftwright.answers.held_loads import MOVING, cases_on, in_plane, turned_back
from loftwright.answers.judged_roof import BOTH_WAYS, HARDEST, inputs_of, pin_forces
from loftwright.core.checks import Verdict
from loftwright.core.motion import Array
from loftwright.core.uncertain import exact
from loftwright.project.assemble_joints import holes, seam
from loftwright.project.demos import demo
from loftwright.project.file import loads
from loftwright.project.joint_sections import Joint
from loftwright.project.keys import members
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.strength import joint_rules

EVERY = (
    ("hinge on shell", "M6", 4, "mat laminate", "4 mm", "true"),
    ("hinge on van", "M8", 4, "steel sheet", "0.8 mm", "false"),
    ("spring on shell", "#10", 3, "plywood", "12 mm", "false"),
    ("spring on van", "1/4", 2, "aluminium frame", "3 mm", "false"),
    ("latch on shell", "M5", 1, "aluminium sheet", "1.5 mm", "false"),
    ("latch on van", "M6", 2, "steel frame", "3 mm", "false"),
)
BRACED = (
    ("brace on shell", "M6", 2, "mat laminate", "4 mm", "false"),
    ("brace on van", "M6", 2, "steel sheet", "1 mm", "true"),
)


def written(joints: tuple[tuple[str, str, int, str, str, str], ...]) -> str:
    """Return joints as the file writes them."""
    return "".join(
        f'\n[[joint]]\nat = "{at}"\nbolt = "{bolt}"\ngrade = "8.8"\ncount = {count}\nlayer = "{layer}"\n'
        f'thickness = "{thick}"\nplate = {plate}\n' + ('along = "50 mm"\n' if count > 1 else "")
        for at, bolt, count, layer, thick, plate in joints
    )


def project_of(lifts: str = "hinge rear", *, more: str = written(EVERY)) -> Project:
    """Return a new project with joints."""
    text = re.sub(r"(?ms)^\[\[joint\]\].*?(?=^\[|\Z)", "", new_project(FiveAnswers(cast(Any, lifts))))
    return loads(text + more)


def stand_in(base: Basis, *, up: float = 0.0, across: float = 0.0, brace: float = 0.0) -> SimpleNamespace:
    """Return wind that pulls each part down on the shell by `up` and sideways by `across`, a brace by `brace` [N]."""
    kind = base.project.linkage.kind
    holding = {"hinge": ("left hinge",), "scissor": ("left crossing arms",)}.get(kind, ("left arm a", "left arm b"))
    force = np.zeros((base.rows, 4, len(holding) + 1, 3))
    # All blows from the front.
    force[:, 0, :-1] = in_van(base, np.array([0.0, across, -up]))
    force[:, 0, -1, 1] = brace
    return SimpleNamespace(parts=(*holding, "brace"), bare_vector=force, bare_couple=0.0 * force)


def in_van(base: Basis, vector: Array) -> Array:
    """Return a vector of the plane of motion along the van's axes [N]."""
    return np.array([vector[1], -vector[0], vector[2]]) if base.project.linkage.end == "left" else vector


def driven(base: Basis, pull: float = 0.0, lost: float = 0.0) -> SimpleNamespace:
    """Return a road on which each latch pulls by `pull` [N], and by `lost` when one of them is gone."""
    return SimpleNamespace(
        hinge=np.zeros((base.rows, 3)), latch=np.full((base.rows, 2), pull), latch_lost=np.full(base.rows, lost)
    )


@cache
def base_of(project: Project) -> Basis:
    """Return the nominal roof."""
    return basis(project, Nominal(inputs_of(project)))[0]


def answer(project: Project, *, pull: float = 0.0, lost: float = 0.0, **wind: Any) -> JointsFound:
    """Return what is said of the bolts of a project."""
    base = base_of(project)
    return joined(base, cast(Any, stand_in(base, **wind)), cast(Any, driven(base, pull, lost)), cast(Any, None))


def at_place(found: JointsFound, place: str) -> JointFound:
    """Return the group of bolts at a place."""
    return next(one for one in found.joints if one.place == place)


def used(found: JointsFound, place: str, load: str) -> float:
    """Return the share used under the load of that name."""
    one = at_place(found, place)
    return max(float(one.uses[i, 0]) for i, name in enumerate(one.loads) if name == load)


def test_a_pull_straight_up_draws_the_skin_over_the_washers() -> None:
    # AISI S100 J4 by hand: 4000 N / 4 bolts against 1.5 x 0.8 mm x 18 mm x 270 MPa / 3.
    found = answer(project_of(), up=4000.0)
    bears = 1.5 * 0.0008 * 0.018 * 270e6 / 3.0
    one = at_place(found, "hinge on van")
    assert used(found, "hinge on van", "gust from the front") == pytest.approx(1000.0 / bears, rel=1e-9)
    assert one.way == joint_rules.PULLS_THROUGH.title
    assert one.load == "gust from the front"
    assert one.load_factor[0] == pytest.approx(1.0 / one.use[0])


def test_a_sideways_force_tilts_the_plate_by_its_arm() -> None:
    # By hand: 600 N at 30 mm on bolts 40 mm apart, pressed 7.5 mm beyond them (half of the 15 mm to the edge).
    found = answer(project_of(), across=600.0)
    near, far = 0.0075, 0.0475
    pull = 600.0 * 0.030 * far / (2 * near**2 + 2 * far**2)
    one = at_place(found, "hinge on van")
    case = one.loads.index("gust from the front")
    assert one.force[case, 0] == pytest.approx([0.0, -600.0, 0.0])
    bears = 1.5 * 0.0008 * 0.018 * 270e6
    # Pull and shear at once, J4.5: 0.71 of the one and the other against 2.7 t d Fu, over 1.1 / 2.35.
    both = (150.0 / (2.7 * 0.0008 * 0.008 * 270e6) + 0.71 * pull / bears) * 2.35 / 1.1
    # EN 1993-1-3 Table 8.4 with the edge at 15 mm, factors 1.25 and 1.5.
    torn = 150.0 * 1.25 * 1.5 / (2.5 * (0.015 / 0.024) * (0.8 * 0.8 + 1.5) / 2.5 * 270e6 * 0.008 * 0.0008)
    assert one.uses[case, 0] == pytest.approx(max(both, 3.0 * pull / bears, torn), rel=1e-9)
    assert both > 0.5 * torn


def test_loads_on_the_shell_turn_with_it() -> None:
    project = project_of()
    base = base_of(project)
    found = cases_on(base, cast(Any, stand_in(base, up=100.0)), cast(Any, driven(base)))
    shell, van = found["hinge on shell"][0], found["hinge on van"][0]
    phi = float(base.roof.travel.shell.phi[0, -1])
    assert shell.force[0] == pytest.approx([-100.0 * np.sin(phi), 0.0, -100.0 * np.cos(phi)])
    assert van.force[0] == pytest.approx([0.0, 0.0, 100.0])
    assert turned_back(np.array([np.cos(phi), 0.0, np.sin(phi)]), np.asarray(phi)) == pytest.approx([1.0, 0.0, 0.0])


def test_springs_push_as_hard_as_they_are() -> None:
    base = base_of(project_of())
    found = cases_on(base, cast(Any, stand_in(base)), cast(Any, driven(base)))
    for place in ("spring on shell", "spring on van"):
        for case, station in zip(found[cast(Any, place)], (0, -1), strict=True):
            assert np.linalg.norm(case.force[0]) == pytest.approx(base.felt.end_force[0][0, station])
    # What the spring does to one body it does to the other the other way round, in the closed roof.
    assert found["spring on shell"][0].force == pytest.approx(-found["spring on van"][0].force)


def test_hinges_carry_the_moving_roof() -> None:
    # The answer on the movement finds the greatest force on one hinge at five times as many stations.
    project = project_of()
    base = base_of(project)
    found = cases_on(base, cast(Any, stand_in(base)), cast(Any, driven(base)))
    moving = [case.force[0] for case in found["hinge on van"] if case.name == MOVING]
    pins = [pin_forces(base.roof, base.felt, heat, age, going) for heat, age in HARDEST for going in BOTH_WAYS]
    most = max(float(np.hypot(*one.at_van[0])[0].max()) / 2.0 for one in pins)
    assert np.linalg.norm(moving[0]) == pytest.approx(most, rel=0.02)
    assert np.linalg.norm(moving[0]) <= most * (1 + 1e-9)
    assert moving[1][2] >= moving[0][2]


def test_a_lost_latch_is_told() -> None:
    light, heavy = (answer(project_of(), pull=pull, lost=2 * pull) for pull in (50.0, 1200.0))
    assert any("pull 2.0 times as hard" in line and "still hold" in line for line in light.said)
    assert any("pull 2.0 times as hard" in line and "give way" in line for line in heavy.said)
    assert not any("one latch lost" in line for line in answer(project_of(), pull=50.0, lost=50.0).said)


def test_bolts_that_are_not_in_the_file_are_not_known() -> None:
    every, none = answer(project_of()), answer(project_of(more=""))
    assert every.missing == ()
    (held,) = (one for one in every.judged if one.rule is joint_rules.NOT_WRITTEN)
    assert held.value is not None
    assert held.limit is not None
    assert joint_rules.NOT_WRITTEN.judge(float(held.value[0]), float(held.limit[0])).verdict is Verdict.HOLDS
    assert len(none.missing) == 6
    assert none.joints == ()
    assert none.weakest is None
    (unknown,) = (one for one in none.judged if one.rule is joint_rules.NOT_WRITTEN)
    assert joint_rules.NOT_WRITTEN.not_known(unknown.unknown).verdict is Verdict.NOT_KNOWN
    assert sum("are not in the file" in line for line in none.said) == 6


def test_a_brace_has_bolts_where_there_is_one() -> None:
    more = '\n[brace]\nkind = "straps"\n' + written(EVERY + BRACED)
    found = answer(project_of(more=more), brace=900.0)
    assert at_place(found, "brace on van").groups == 2
    assert at_place(found, "brace on shell").use[0] > 0.0
    assert answer(project_of(more=more), brace=1800.0).weakest is not None
    assert used(answer(project_of(more=more), brace=1800.0), "brace on van", "gust from the front") == pytest.approx(
        2 * used(found, "brace on van", "gust from the front")
    )


def test_every_hole_and_bolt_is_counted() -> None:
    found = answer(project_of())
    # Two hinges and two latches, two ends of one spring a side.
    assert found.bolts["M8 8.8"] == 2 * 4
    assert found.bolts["M6 8.8"] == 2 * 4 + 2 * 2
    assert found.bolts["#10-24 8.8"] == 2 * 3
    assert [len(one.holes) for one in found.joints] == [4, 4, 3, 2, 1, 2]
    assert len(found.holes) == 16 + len(found.seam_holes)
    assert found.bolts["4.8 mm, class L"] == len(found.seam_holes) == found.seam.count


def test_one_bolt_alone_holds_no_twist_and_says_so() -> None:
    assert any("no twist" in line for line in answer(project_of()).said)


@pytest.mark.parametrize(("count", "along", "across", "places"), [
    (1, 0.05, 0.04, [(0, 0)]),
    (2, 0.05, 0.04, [(-0.025, 0), (0.025, 0)]),
    (2, 0.0, 0.04, [(0, -0.02), (0, 0.02)]),
    (3, 0.05, 0.04, [(-0.025, -0.02), (0.025, -0.02), (0, 0.02)]),
    (4, 0.05, 0.04, [(-0.025, -0.02), (0.025, -0.02), (-0.025, 0.02), (0.025, 0.02)]),
    (3, 0.05, 0.0, [(-0.025, 0), (0, 0), (0.025, 0)]),
])  # fmt: skip
def test_holes_stand_about_the_middle(
    count: int, along: float, across: float, places: list[tuple[float, float]]
) -> None:
    found = holes(count, np.array([along, 2 * along]), np.array([across, 2 * across]))
    assert found.shape == (2, count, 2)
    assert found[0] == pytest.approx(np.array(places))
    assert found[1] == pytest.approx(2 * found[0])


@pytest.mark.parametrize("lifts", ["hinge front", "hinge rear", "arms", "level arms", "scissor"])
def test_every_kind_of_linkage_is_answered(lifts: str) -> None:
    project = project_of(lifts, more=written(EVERY))
    found = answer(project, up=500.0, across=200.0, pull=300.0)
    assert all(np.all(np.isfinite(one.use)) for one in found.joints)
    assert groups_of(base_of(project))["hinge on van"] == (2 if lifts.startswith("hinge") else 4)
    for one in found.judged:
        for value in (one.value, one.limit):
            assert value is None or (value.shape == (1,) and np.isfinite(value).all())


def test_a_side_hinge_sees_the_wind_in_its_own_plane() -> None:
    project = loads(
        'format = 1\nname = "side"\n[opening]\nlength = "2 m"\nwidth = "1.2 m"\n[shell]\n[linkage]\nkind = "hinge"\n'
        'end = "left"\nopens = "35 deg"\nhinge = ["-50 mm", "30 mm"]\n' + written(EVERY[:2])
    )
    base = base_of(project)
    # The plane's x runs from the left edge to the right: against the van's y.
    assert in_plane(base, np.array([1.0, 2.0, 3.0])).tolist() == [-2.0, 1.0, 3.0]
    assert all(one.use[0] > 0.0 for one in answer(project, up=300.0).joints)


def test_the_ring_is_joined_as_the_file_says() -> None:
    project = project_of()
    base = base_of(project)
    kinds = {}
    for fixing in ("rivets", "bolts", "adhesive"):
        ring = project.ring.model_copy(update={"fixing": fixing})
        changed = project.model_copy(update={"ring": ring})
        kinds[fixing] = seam(changed, base.at)
    assert kinds["adhesive"].rivet is None
    assert kinds["adhesive"].glued
    assert kinds["rivets"].rivet is not None
    assert kinds["bolts"].rivet is not None
    # Small bolts shear at 0.6 x 700 MPa on three quarters of the shank.
    assert float(np.ravel(kinds["bolts"].rivet.shear)[0]) == pytest.approx(0.6 * 700e6 * 0.75 * np.pi / 4 * 0.0048**2)


def test_a_demo_names_its_weakest_joint() -> None:
    found = answer(demo("fennimoor"), up=300.0)
    assert found.weakest is not None
    assert found.weakest.way


def test_a_sideways_force_bends_the_foot_of_an_arm() -> None:
    base = base_of(project_of("arms"))
    found = cases_on(base, cast(Any, stand_in(base, across=100.0)), cast(Any, driven(base)))
    foot, shell = base.roof.pins.van[0], base.roof.travel.shell.point(*base.roof.pins.shell[0])
    head = np.array([shell.x[0, -1], 0.0, shell.z[0, -1]])
    lever = head - np.array([foot[0][0], 0.0, foot[1][0]])
    # What the shell does to the arm, handed down to its foot.
    assert found["hinge on van"][0].moment[0] == pytest.approx(np.cross(lever, [0.0, -100.0, 0.0]))
    assert found["hinge on shell"][0].moment[0] == pytest.approx(np.zeros(3))


def test_what_keeps_crossing_arms_level_is_a_pair_of_forces() -> None:
    base = base_of(project_of("scissor"))
    wind = stand_in(base, up=200.0)
    wind.bare_couple[:, 0, 0] = [10.0, 70.0, 0.0]
    found = cases_on(base, cast(Any, wind), cast(Any, driven(base)))["hinge on van"][0]
    (ax, _), (bx, _) = base.roof.pins.shell
    assert found.force[0, 2] == pytest.approx(100.0 + 70.0 / abs(float(ax[0] - bx[0])))
    assert found.moment[0] == pytest.approx([-5.0, 0.0, 0.0])


def test_a_spring_that_is_the_stop_is_drawn_in_the_gust() -> None:
    base = base_of(project_of())
    fitted = base.roof.fitted[0]
    wind = SimpleNamespace(
        parts=("left hinge", f"left {fitted.name}"),
        bare_vector=np.full((1, 4, 2, 3), 80.0),
        bare_couple=np.zeros((1, 4, 2, 3)),
    )
    found = cases_on(base, cast(Any, wind), cast(Any, driven(base)))["spring on van"]
    drawn = [case for case in found if "stop" in case.name]
    assert len(drawn) == 4
    assert drawn[0].force[0] == pytest.approx(np.full(3, -80.0 / (fitted.mount.count / 2)))


OTHERS = {
    "bolt": "M5",
    "grade": "A2-70",
    "count": 6,
    "layer": "steel frame",
    "plate": True,
    "plate_metal": "steel",
    "isolated": True,
    "at": "hinge on shell",
}
"""Another word for each key of a joint that is no quantity."""


def numbers(found: JointsFound) -> list[object]:
    """Return all that is judged and counted, to be compared."""
    values = [[None if v is None else float(v[0]) for v in (one.value, one.limit)] for one in found.judged]
    return [values, dict(found.bolts), [one.which for one in found.judged]]


@pytest.mark.parametrize("key", [member.key for member in members(Joint)])
def test_every_key_of_a_joint_counts(key: str) -> None:
    project = project_of(more=written(EVERY[1:2]))
    start = project.joint[0].model_copy(update={"plate_metal": "aluminium", "washer": exact(0.03)})
    other = OTHERS.get(key) or exact(0.6 * getattr(start, key).nominal)
    one, two = (
        project.model_copy(update={"joint": (joint,)}) for joint in (start, start.model_copy(update={key: other}))
    )
    assert numbers(answer(one, up=2000.0, across=900.0)) != numbers(answer(two, up=2000.0, across=900.0))


@pytest.mark.parametrize("key", ["bolts", "pull_over", "laminate", "load"])
def test_every_factor_on_joints_counts(key: str) -> None:
    project = project_of()
    more = project.safety.model_copy(update={key: exact(1.3 * getattr(project.safety, key).nominal)})
    changed = project.model_copy(update={"safety": more})
    assert numbers(answer(changed, up=900.0, across=300.0)) != numbers(answer(project, up=900.0, across=300.0))


@pytest.mark.parametrize(
    ("key", "other"),
    [
        ("fixing", "bolts"),
        ("fixing", "adhesive"),
        ("metal", "steel"),
        ("pitch", exact(0.03)),
        ("rivet", exact(0.0032)),
        ("flat", exact(0.02)),
        ("channel", exact(0.8)),
    ],
)
def test_keys_of_the_ring_count_in_its_seam(key: str, other: object) -> None:
    project = project_of()
    changed = project.model_copy(update={"ring": project.ring.model_copy(update={key: other})})
    assert numbers(answer(changed, up=900.0, across=300.0)) != numbers(answer(project, up=900.0, across=300.0))


def test_the_ring_s_seam_bears_latches_too_and_channels_help_hinges_alone() -> None:
    # By hand: 9000 N of a latch, and 9000 N of a hinge, over 300 mm of the seam, of a hinge over its channel of 600 mm.
    plain = project_of()
    wide = plain.model_copy(update={"ring": plain.ring.model_copy(update={"channel": exact(0.6)})})
    assert answer(plain, pull=9000.0).seam_pull[0] == pytest.approx(30_000.0)
    assert answer(wide, pull=9000.0).seam_pull[0] == pytest.approx(30_000.0)
    assert answer(wide, up=9000.0).seam_pull[0] == pytest.approx(15_000.0)
    base = base_of(wide)
    springs = cases_on(base, cast(Any, stand_in(base)), cast(Any, driven(base)))["spring on van"]
    along = max(float(np.hypot(case.force[0, 0], case.force[0, 1])) for case in springs)
    assert answer(wide).seam_shear[0] == pytest.approx(along / 0.3)
