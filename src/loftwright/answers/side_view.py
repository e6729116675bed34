"""The nominal roof as shapes, ready to draw."""

from __future__ import annotations

import numpy as np

from loftwright.answers.chart_view import shown
from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.key_figures import how_far_open, key_figures
from loftwright.core.motion import Array, Motion, first_row
from loftwright.core.outline import shell_outline
from loftwright.core.scene import Arm, Board, Item, Measured, Person, Pivot, Pose, PoseTable, Scene, Spot, SpringShape
from loftwright.mechanics.gas_spring import tube_length
from loftwright.project.shell_sections import Item as OnShell


def _poses(motion: Motion) -> tuple[Pose, ...]:
    x, z, phi = (shown(first_row(v)) for v in (motion.x, motion.z, motion.phi))
    return tuple(Pose(float(a), float(b), float(c)) for a, b, c in zip(x, z, phi, strict=True))


def pose_table(found: RoofNumbers) -> PoseTable:
    """Return where the bodies of the nominal roof are from closed to open."""
    travel = found.roof.travel
    arms = [_poses(arm) for arm in travel.arms]
    return PoseTable(
        fraction=tuple(float(v) for v in shown(travel.fraction)),
        opening=tuple(float(v) for v in shown(how_far_open(found))),
        shell=_poses(travel.shell),
        arm_a=arms[0] if arms else (),
        arm_b=arms[1] if arms else (),
    )


def scene(found: RoofNumbers) -> Scene:
    """Return the nominal roof, closed, as the side view draws it."""
    project = found.project
    shell, link = project.shell, project.linkage
    rear = -shell.overhang_rear.nominal
    front = rear + shell.length.nominal
    rim = shell.rim_height.nominal
    heights = (shell.height_rear.nominal, shell.height_middle.nominal, shell.height_front.nominal)
    outline = shell_outline(rear, front, rim, *heights)
    roof, around = found.roof, found.around
    lip = (float(roof.lip[0][0]), float(roof.lip[1][0]))
    pivots: tuple[Pivot, ...]
    arms: tuple[Arm, ...] = ()
    if link.kind == "hinge":
        pivots = (Pivot("hinge", "van", _spot(roof.pins.van[0])),)
    else:
        named = tuple(zip(("arm a", "arm b"), roof.pins.van, roof.pins.shell, strict=True))
        pivots = tuple(
            pivot
            for name, van, top in named
            for pivot in (Pivot(f"{name}, van", "van", _spot(van)), Pivot(f"{name}, shell", "shell", _spot(top)))
        )
        arms = tuple(
            Arm("arm a" if name == "arm a" else "arm b", _spot(van), _spot(top), link.arm_width.nominal)
            for name, van, top in named
        )
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
    profile = tuple((p.x.nominal, p.z.nominal) for p in project.roof.profile) or ((rear - 0.3, 0.0), (front + 0.3, 0.0))
    bed = project.bed
    key = key_figures(found)
    return Scene(
        roof_profile=profile,
        roof_build=project.van.roof_build.nominal,
        opening=(0.0, project.opening.length.nominal),
        upstand=project.roof.upstand.nominal,
        floor_z=-project.van.floor_to_roof.nominal,
        shell=tuple((float(x), float(z)) for x, z in zip(*outline, strict=True)),
        rim=((rear, rim), (front, rim)),
        lip=lip,
        pivots=pivots,
        arms=arms,
        springs=springs,
        handle=(float(roof.handle[0][0]), float(roof.handle[1][0])),
        strap_length=project.handle.strap_length.nominal,
        items=tuple(_item(item) for item in project.item if item.state != "remove"),
        bed=None if bed is None else Board(bed.from_.nominal, bed.to.nominal, bed.height.nominal),
        person=Person(float(roof.person_height[0]), float(around.stands_x[0]), float(roof.feet_z[0])),
        headroom_at=highest_place(found),
        measured=Measured(rise=key.lip_rise, headroom=key.standing_height, handle_height=key.handle_height),
    )


def highest_place(found: RoofNumbers) -> Spot:
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
