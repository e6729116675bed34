"""The nominal roof as shapes, ready to draw."""

from __future__ import annotations

from typing import get_args

import numpy as np

from loftwright.answers.chart_view import shown
from loftwright.answers.key_figures import how_far_open
from loftwright.answers.shown_roof import ShownRoof
from loftwright.core.choices import ArmName
from loftwright.core.motion import Array, Motion, first_row
from loftwright.core.outline import shell_outline
from loftwright.core.scene import (
    Arm,
    Board,
    Item,
    Measured,
    Person,
    Pivot,
    Pose,
    PoseTable,
    Rail,
    Scene,
    Spot,
    SpringShape,
)
from loftwright.mechanics import figures
from loftwright.mechanics.gas_spring import tube_length
from loftwright.project.lifter_sections import Coil, Cord
from loftwright.project.plane import plane_of, size
from loftwright.project.shell_sections import Item as OnShell


def _poses(motion: Motion) -> tuple[Pose, ...]:
    x, z, phi = (shown(first_row(v)) for v in (motion.x, motion.z, motion.phi))
    return tuple(Pose(float(a), float(b), float(c)) for a, b, c in zip(x, z, phi, strict=True))


def pose_table(found: ShownRoof) -> PoseTable:
    """Return where the bodies of the nominal roof are from closed to open."""
    travel = found.roof.travel
    arms = [_poses(arm) for arm in travel.arms]
    return PoseTable(
        fraction=tuple(float(v) for v in shown(travel.fraction)),
        opening=tuple(float(v) for v in shown(how_far_open(found))),
        shell=_poses(travel.shell),
        arm_a=arms[0] if arms else (),
        arm_b=arms[1] if arms else (),
        slides=travel.slides,
    )


def scene(found: ShownRoof) -> Scene:
    """Return the nominal roof, closed, as the side view draws it."""
    project = found.project
    shell = project.shell
    plane = plane_of(project)
    rear = -size(project, plane.overhang)
    front = rear + size(project, plane.shell)
    rim = shell.rim_height.nominal
    heights = (size(project, path) for path in plane.heights)
    outline = shell_outline(rear, front, rim, *heights)
    roof, around = found.roof, found.around
    lip = (float(roof.lip[0][0]), float(roof.lip[1][0]))
    pivots, arms, rails = _carried(found)
    springs = tuple(
        SpringShape(
            name=spring.name,
            foot_on=spring.foot_on,
            foot=(spring.foot.x.nominal, spring.foot.z.nominal),
            head_on=spring.head_on,
            head=(spring.head.x.nominal, spring.head.z.nominal),
            tube_length=float(tube_length(spring.extended_length.nominal, spring.stroke.nominal)),
            tube_diameter=spring.tube_diameter.nominal,
        )
        for spring in project.spring
    )
    # Coil springs and cords are a line between their ends.
    between: tuple[Coil | Cord, ...] = (*project.coil, *project.cord)
    springs += tuple(
        SpringShape(
            name=part.name,
            foot_on=part.foot_on,
            foot=(part.foot.x.nominal, part.foot.z.nominal),
            head_on=part.head_on,
            head=(part.head.x.nominal, part.head.z.nominal),
            tube_length=0.0,
        )
        for part in between
    )
    profile = tuple((p.x.nominal, p.z.nominal) for p in project.roof.profile) or ((rear - 0.3, 0.0), (front + 0.3, 0.0))
    bed = project.bed
    return Scene(
        roof_profile=profile,
        roof_build=project.van.roof_build.nominal,
        opening=(0.0, size(project, plane.opening)),
        upstand=project.roof.upstand.nominal,
        floor_z=-project.van.floor_to_roof.nominal,
        shell=tuple((float(x), float(z)) for x, z in zip(*outline, strict=True)),
        rim=((rear, rim), (front, rim)),
        lip=lip,
        pivots=pivots,
        arms=arms,
        rails=rails,
        springs=springs,
        handle=(float(roof.handle[0][0]), float(roof.handle[1][0])),
        strap_length=project.handle.strap_length.nominal,
        items=tuple(_item(item) for item in project.item if item.state != "remove"),
        bed=None if bed is None else Board(bed.from_.nominal, bed.to.nominal, bed.height.nominal),
        person=Person(float(roof.person_height[0]), float(around.stands_x[0]), float(roof.feet_z[0])),
        headroom_at=highest_place(found),
        edges=(plane.near, plane.far),
        measured=Measured(
            rise=float(figures.lip_rise(found.felt)[0]),
            headroom=float(found.stand.best[0]),
            handle_height=float(figures.handle_height(roof, found.felt)[0]),
        ),
    )


def _carried(found: ShownRoof) -> tuple[tuple[Pivot, ...], tuple[Arm, ...], tuple[Rail, ...]]:
    """Return pins, arms and what they slide along."""
    roof, link = found.roof, found.project.linkage
    travel, wide = roof.travel, link.arm_width.nominal
    if travel.hinged:
        return (Pivot("hinge", "van", _spot(roof.pins.van[0])),), (), ()
    if travel.slides:
        return _guides(found)
    named: tuple[tuple[ArmName, Spot, Spot], ...] = tuple(
        (name, _spot(van), _spot(top))
        for name, van, top in zip(get_args(ArmName), roof.pins.van, roof.pins.shell, strict=True)
    )
    arms = tuple(Arm(name, van, top, wide) for name, van, top in named)
    if not roof.pins.crossing:
        pivots = tuple(
            pivot
            for name, van, top in named
            for pivot in (Pivot(f"{name}, van", "van", van), Pivot(f"{name}, shell", "shell", top))
        )
        return pivots, arms, ()
    (_, low, high), (_, slides, fixed) = named
    # The sliding ends are nearest to the fixed ones when the roof is open.
    open_x = float(first_row(travel.arms[0].point(*roof.pins.shell[0]).x)[-1])
    beyond = float(np.sign(high[0] - low[0])) * wide
    rails: tuple[Rail, ...] = (
        Rail("van", ((high[0] + beyond, slides[1]), (open_x - beyond, slides[1])), wide / 3),
        Rail("shell", ((high[0] + beyond, high[1]), (open_x - beyond, high[1])), wide / 3),
    )
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    return (
        (
            Pivot("arm a, van", "van", low),
            Pivot("arm a, slide", "arm a", high),
            Pivot("arm b, slide", "arm b", slides),
            Pivot("arm b, shell", "shell", fixed),
            Pivot("crossing", "arm a", middle),
        ),
        arms,
        rails,
    )


def _guides(found: ShownRoof) -> tuple[tuple[Pivot, ...], tuple[Arm, ...], tuple[Rail, ...]]:
    """Return the middles of the shoes, and shoes and posts, closed."""
    link = found.project.linkage
    lean = 0.0 if link.leans is None else link.leans.nominal
    assert link.rise is not None
    assert link.guide_length is not None
    ex, ez = float(np.sin(lean)), float(np.cos(lean))
    half, rise, wide = link.guide_length.nominal / 2, link.rise.nominal, link.arm_width.nominal
    rim = found.project.shell.rim_height.nominal
    pairs = [p for p in (link.guide, link.guide_far) if p is not None]
    names = ("guide",) if len(pairs) == 1 else ("guide", "far guide")
    pivots, rails = [], []
    for name, pair in zip(names, pairs, strict=True):
        x, z = pair.x.nominal, pair.z.nominal
        pivots.append(Pivot(name, "van", (x, z)))
        # A post reaches from the rim down as far as it must still be held when open.
        up = (rim - z) / ez
        low = -half - rise
        rails.append(Rail("shell", ((x + low * ex, z + low * ez), (x + up * ex, z + up * ez)), wide / 2))
        rails.append(Rail("van", ((x - half * ex, z - half * ez), (x + half * ex, z + half * ez)), wide))
    return tuple(pivots), (), tuple(rails)


def highest_place(found: ShownRoof) -> Spot:
    """Return the point of the shell's inside under which the open headroom is greatest, where it lies when closed."""
    top = float(found.stand.best[0]) - found.project.van.floor_to_roof.nominal
    shell = found.roof.travel.shell
    x, z, phi = (float(first_row(v)[-1]) for v in (shell.x, shell.z, shell.phi))
    at = float(found.stand.best_x[0])
    dx, dz = at - x, top - z
    return dx * np.cos(phi) + dz * np.sin(phi), dz * np.cos(phi) - dx * np.sin(phi)


_HALF_LENGTH = {"panel": 0.5, "vent": 0.2, "lining": 0.4, "handle": 0.06, "other": 0.1}
_HALF_HEIGHT = {"panel": 0.018, "vent": 0.05, "lining": 0.01, "handle": 0.015, "other": 0.03}


def _item(item: OnShell) -> Item:
    half, high, x, z = _HALF_LENGTH[item.kind], _HALF_HEIGHT[item.kind], item.x.nominal, item.z.nominal
    return Item(item.name, item.kind, x - half, x + half, z - high, z + high)


def _spot(point: tuple[Array, Array]) -> tuple[float, float]:
    return float(point[0][0]), float(point[1][0])
