"""Whether bolts hold: every group of bolts of the file and the ring's seam, under wind, road, springs and latches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, get_args

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.held_loads import DRIVING, Case, cases_on
from loftwright.core.choices import JointPlace
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.project import assemble_joints
from loftwright.reference.hold_words import HOLD_CHOICES
from loftwright.strength import joint_rules
from loftwright.strength.hole_schedule import HoleRow, joint_rows, schedule
from loftwright.strength.joint_judged import JointUse, judge_use, judge_written, use_of
from loftwright.strength.joints import Factors, Joint, to_plate
from loftwright.strength.seams import Seam, judge_seam

if TYPE_CHECKING:
    from loftwright.answers.held_opening import OpeningFound
    from loftwright.answers.held_road import RoadFound
    from loftwright.answers.held_wind import WindFound

SEAM_SHARE: Final = 0.3
"""Length of the ring's seam over which one hinge's or bracket's force spreads [m]; judgement."""
ON_RING: Final[tuple[JointPlace, ...]] = ("hinge on van", "spring on van", "latch on van", "brace on van")
"""What stands on the ring and hands its force to the seam."""
LARGEST: Final = 100.0
"""Load factors above this are written as this [1]: nothing pulls there."""
PLACES: Final[tuple[JointPlace, ...]] = get_args(JointPlace)

WORDS: Final = HOLD_CHOICES["joint.at"]
NOT_IN_FILE: Final = "Bolts that are not judged, as they are not in the file: {}."
NO_SUCH_PART: Final = "The joint of {} is not judged: this roof has no such part."
FACES: Final = (
    "Plates of hinges, arms and braces are taken to lie flat, brackets of springs on an upright face alongside them, "
    "latches on an upright face across the lip; each force acts off its face by the joint's own arm."
)
CLAMPED: Final = (
    "A hinge's, bracket's or latch's own plate is taken as 4 mm thick, a backing plate as 3 mm; plates count no "
    "further beyond their outer bolts than two bolt diameters."
)
LAMINATE: Final = "Laminate is taken to be held by a rib, a corner or the rim within 200 mm of its bolts."
SINGLE: Final = "A single bolt is taken to hold no twist: a second one, or a lip on the part, must."
ON_ARMS: Final = "Bolts of spring ends that sit on arms are not judged."
OTHERS: Final = "Bolts of coil springs, torsion springs and cords are not judged."
SEAM_NOTE: Final = (
    "The ring's seam is judged under what one hinge, bracket, latch or brace hands to it over 300 mm, of a hinge over "
    "the inner channel where that is longer. Where ring and skin are of unlike metals, primer and sealant or glue must "
    "part them."
)
ONE_LOST: Final = "With one latch lost the others pull {:.1f} times as hard, and the bolts of the {} {}."
NO_FLOW: Final = "What the body adds to the ring's seam when it goes out of square is left out."


@dataclass(frozen=True, slots=True)
class JointFound:
    """One group of bolts under its loads.

    `groups` of it are on the roof. `use` [rows] is the share of its limit that is used [1] under the worst load,
    `load_factor` [rows] by what all loads may grow until the first limit [1], at most `LARGEST`. `way` is what gives
    first, in words, in `layer`, under the load called `load`; `uses` [cases, rows] goes with the `loads` by name, and
    `force` [cases, rows, 3] [N] along the plate's axes, the last one square to it and away from what it is bolted to.
    `holes` are those of one group, of the nominal roof.
    """

    name: str
    place: JointPlace
    groups: int
    joint: Joint
    use: Array
    load_factor: Array
    way: str
    layer: str
    load: str
    loads: tuple[str, ...]
    uses: Array
    force: Array
    holes: tuple[HoleRow, ...]


@dataclass(frozen=True, slots=True)
class JointsFound:
    """Every group of bolts, the ring's seam, and the list of holes.

    `seam` with its flows along and square to it, `seam_shear` and `seam_pull` [N/m], [rows]; `seam_holes` of the
    nominal roof. `bolts` counts what to buy: size and grade, and how many [1]; rivets of the seam too. `missing` names
    the joints that are not in the file.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    joints: tuple[JointFound, ...]
    missing: tuple[str, ...]
    seam: Seam
    seam_shear: Array
    seam_pull: Array
    seam_holes: tuple[HoleRow, ...]
    bolts: Mapping[str, int]

    @property
    def weakest(self) -> JointFound | None:
        """The group that gives first on the nominal roof; None where none is in the file."""
        return max(self.joints, key=lambda one: float(one.use[0]), default=None)

    @property
    def holes(self) -> tuple[HoleRow, ...]:
        """The holes of one group of each joint, then those of the seam."""
        return tuple(hole for one in self.joints for hole in one.holes) + self.seam_holes


def joined(base: Basis, wind: WindFound, road: RoadFound, opening: OpeningFound) -> JointsFound:
    """Return whether the bolts hold, under forces from `wind`, `road`, springs and latches; `opening` is not needed."""
    at, project = base.at, base.project
    there = groups_of(base)
    cases = cases_on(base, wind, road)
    factors = assemble_joints.factors(at)
    found: list[JointFound] = []
    judged: list[Judged] = []
    without: list[str] = []
    for index, written in enumerate(project.joint):
        like = [i for i, other in enumerate(project.joint) if other.at == written.at]
        name = WORDS[written.at] + (f", {like.index(index) + 1}" if len(like) > 1 else "")
        joint, arm = assemble_joints.joint(project, at, index, name), assemble_joints.arm(at, index)
        if there[written.at] == 0:
            without.append(name)
            continue
        one, what = _found(joint, written.at, cases[written.at], arm, factors, max(1, there[written.at] // len(like)))
        found.append(one)
        judged += what
    written_at = {written.at for written in project.joint}
    missing = tuple(WORDS[place] for place in PLACES if there[place] and place not in written_at)
    seam = assemble_joints.seam(project, at)
    shear, pull = _flows(base, cases)
    judged += [
        # What parts unlike metals at the seam is said, not asked.
        replace(one, missing="")
        for one in judge_seam(seam, shear, pull, factors)
        if one.rule is not joint_rules.UNLIKE
    ]
    judged.append(judge_written(missing, base.rows))
    return JointsFound(
        judged=tuple(_wide(base, one) for one in judged),
        said=(*_said(base, found, missing, without), *_one_lost(found, road)),
        joints=tuple(found),
        missing=missing,
        seam=seam,
        seam_shear=shear,
        seam_pull=pull,
        seam_holes=schedule([seam], factors),
        bolts=_bolts(found, seam),
    )


def groups_of(base: Basis) -> dict[JointPlace, int]:
    """Return how many groups of bolts this roof has at each place; nought where there is no such part."""
    link, brace = base.project.linkage, base.project.brace
    # Left and right; arms and shoes in two pairs.
    hinges = 4 if link.kind not in ("hinge", "guides") or link.guide_far is not None else 2
    mounts = [fitted.mount for fitted in base.roof.fitted]

    def springs(body: str) -> int:
        return sum(mount.count * ((mount.foot_on == body) + (mount.head_on == body)) for mount in mounts)

    braces = 0 if brace is None else 2 if brace.kind == "straps" else 1
    latches = base.project.latches.count
    return {
        "hinge on shell": hinges,
        "hinge on van": hinges,
        "spring on shell": springs("shell"),
        "spring on van": springs("van"),
        "latch on shell": latches,
        "latch on van": latches,
        "brace on shell": braces,
        "brace on van": braces,
    }


def _found(
    joint: Joint, place: JointPlace, cases: tuple[Case, ...], arm: Array, factors: Factors, groups: int
) -> tuple[JointFound, tuple[Judged, ...]]:
    """Return one group of bolts under its cases of load, and the judgements of it."""
    force = to_plate(joint, np.stack([case.force for case in cases]))
    moment = to_plate(joint, np.stack([case.moment for case in cases]))
    # The force acts `arm` off the bolted face: m = r x F with r square to the plate.
    moment = moment + np.stack([-arm * force[..., 1], arm * force[..., 0], np.zeros_like(force[..., 2])], axis=-1)
    if joint.count == 1:
        moment[..., 2] = 0.0
    use = use_of(joint, force, moment, factors)
    uses = use.use
    worst = uses.max(axis=0)
    governing = use.governing
    return (
        JointFound(
            name=joint.name,
            place=place,
            groups=groups,
            joint=joint,
            use=worst,
            load_factor=np.minimum(1.0 / np.maximum(worst, 1e-9), LARGEST),
            way=governing.rule.title,
            layer=governing.layer,
            load=cases[_worst_case(use)].name,
            loads=tuple(case.name for case in cases),
            uses=uses,
            force=force,
            holes=joint_rows(joint, factors),
        ),
        judge_use(joint, use, factors),
    )


def _worst_case(use: JointUse) -> int:
    return int(np.argmax(use.use[:, 0]))


def _flows(base: Basis, cases: Mapping[JointPlace, tuple[Case, ...]]) -> tuple[Array, Array]:
    """Return the most that one part on the van hands to the ring's seam, along and square to it [N/m], [rows].

    The inner channel lies under the hinges alone: brackets, latches and brace spread over `SEAM_SHARE`.
    """
    along, pull = np.zeros(base.rows), np.zeros(base.rows)
    for place in ON_RING:
        length = np.maximum(base.at("ring.channel"), SEAM_SHARE) if place == "hinge on van" else SEAM_SHARE
        for case in cases[place]:
            along = np.maximum(along, np.hypot(case.force[..., 0], case.force[..., 1]) / length)
            pull = np.maximum(pull, case.force[..., 2] / length)
    return base.full(along), base.full(pull)


def _wide(base: Basis, one: Judged) -> Judged:
    """Return a judgement with value and limit for every row."""
    value = None if one.value is None else base.full(one.value)
    limit = None if one.limit is None else base.full(one.limit)
    return replace(one, value=value, limit=limit)


def _one_lost(found: list[JointFound], road: RoadFound) -> tuple[str, ...]:
    """Return what the loss of one latch means to the bolts of the others, on the nominal roof."""
    most = float(road.latch[0].max())
    more = float(road.latch_lost[0]) / most if most > 0.0 else 0.0
    latches = [one for one in found if one.place.startswith("latch")]
    if more <= 1.0:
        return ()
    uses = [(one.name, more * float(one.uses[one.loads.index(DRIVING), 0])) for one in latches]
    return tuple(ONE_LOST.format(more, name, "still hold" if use <= 1.0 else "give way") for name, use in uses)


def _bolts(found: list[JointFound], seam: Seam) -> dict[str, int]:
    count: dict[str, int] = {}
    for one in found:
        name = f"{one.joint.bolt.name} {one.joint.grade.name}"
        count[name] = count.get(name, 0) + one.groups * one.joint.count
    if seam.rivet is not None:
        count[seam.rivet.name] = seam.count
    return count


def _said(base: Basis, found: list[JointFound], missing: tuple[str, ...], without: list[str]) -> tuple[str, ...]:
    ends = {end for fitted in base.roof.fitted for end in (fitted.mount.foot_on, fitted.mount.head_on)}
    laminate = any(layer.reach is not None for one in found for layer in one.joint.layers)
    notes = (
        (FACES, bool(found)),
        (CLAMPED, bool(found)),
        (LAMINATE, laminate),
        (SINGLE, any(one.joint.count == 1 for one in found)),
        (ON_ARMS, bool(ends - {"van", "shell"})),
        (OTHERS, bool(base.roof.gear)),
        (SEAM_NOTE, True),
        (NO_FLOW, True),
    )
    return (
        *(note for note, there in notes if there),
        *(NOT_IN_FILE.format(name) for name in missing),
        *(NO_SUCH_PART.format(name) for name in without),
    )
