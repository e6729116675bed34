"""From what the builder decided to what each domain asks for.

`quantities` lists every number of a project with its range, together with those that follow from
others and carry doubt of their own (what a delivered spring pushes, what the scales leave open).
`roof` turns the values of one or many rows into the mechanics' own input.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from loftwright.core.errors import Bug, Fault, ProjectFault
from loftwright.core.motion import Array
from loftwright.core.uncertain import Provenance, Uncertain, even, is_known, normal
from loftwright.mechanics import by_shape, masses, weigh
from loftwright.mechanics.balance import Mount
from loftwright.mechanics.feel import Climate, Fitted, Limits, Roof
from loftwright.mechanics.gas_spring import AGED_FACTOR, GasSpring, first_force, full_loop
from loftwright.mechanics.other_forces import Rim, Sizes
from loftwright.mechanics.room import Board, Surroundings
from loftwright.plan.scout import Outline
from loftwright.project.carrying import Values as Values
from loftwright.project.carrying import lip_of, pins, shoes, travel
from loftwright.project.lifting_gear import gear
from loftwright.project.model import Project, key_of, walk
from loftwright.project.plane import plane_of, size
from loftwright.project.shell_sections import Reading
from loftwright.project.shell_tested import twist_per_radian
from loftwright.reference.layups import LAYUPS
from loftwright.reference.measuring import measurement

CENTRE_DOUBT = 0.03
"""Doubt of the centre guessed from the outline, two standard deviations in shares of the length: judgement."""
SERVICE_YEARS = 5
"""Years for which a yearly loss of gas is reckoned when the builder gives one: judgement."""

MASS, CENTRE, HEIGHT = "shell.mass", "shell.centre", "shell.centre_height"
BY_AREA, INERTIA = "shell.mass_by_area", "shell.inertia"
ALONG, ABOVE = "shell.centre_from_rear_rim", "shell.centre_above_rim"
THICKNESS, BY_MATERIAL = "shell.thickness", "shell.thickness_by_material"
STIFFNESS = "shell.stiffness_by_material"
"""Where the shell's stiffness lies between a light and a sturdy build of its kind, 0 to 1."""

SPRUNG = ("spring", "coil", "cord")
"""Lists whose ends sit a little off where they were meant."""

NOT_DRAWN = ("weighing.", "settings.", "choice.", "zone.", "at_hand.", "reading.", "tape.", "links.")
"""Beginnings of paths that answers on the roof do not draw: evidence, and what is asked of springs and arms."""


BY_NATURE = frozenset(
    {"wind.coefficient", "wind.cloth_share", "road.suction", "road.drag", "road.bump", "road.head_wind"}
)
"""Paths of what nobody can measure at home: how wind and road treat this very roof."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its range, the bounds it cannot leave, and how a builder would settle it.

    `same_as` names the path that this one was left to follow; the two are one number. `by_nature`: nobody can measure
    it at home, so its range is the weather's or the road's own and stays one.
    """

    value: Uncertain
    low: float
    high: float
    measure: str
    same_as: str = ""
    by_nature: bool = False


def _readings(project: Project) -> list[weigh.Reading]:
    found: list[weigh.Reading] = []
    if project.weighing is None:
        return found
    for reading in project.weighing.reading:
        found.append(_reading(reading))
    tilt = project.weighing.tilt
    if tilt is not None:
        found.append(weigh.Tilted(tilt.angle, tilt.at, tilt.other, tilt.reads))
    return found


def _reading(reading: Reading) -> weigh.Reading:
    if reading.whole is not None:
        return weigh.Whole(reading.whole)
    if reading.balance is not None:
        return weigh.Balance(reading.balance)
    assert reading.at is not None
    assert reading.other is not None
    assert reading.reads is not None
    return weigh.Line(reading.at, reading.other, reading.reads)


def weighing(project: Project) -> weigh.Weighed | weigh.NotEnough | None:
    """Return what the scales say, or what is missing, or None when nothing was weighed."""
    readings = _readings(project)
    return weigh.weigh(readings) if readings else None


def one_more_reading(project: Project, extra: weigh.Reading) -> weigh.Weighed:
    """Return the weighing as it would stand with one more reading, read as now expected.

    Raises Bug where there is no complete weighing yet.
    """
    found = weigh.one_more(_readings(project), extra)
    if isinstance(found, weigh.NotEnough):
        raise Bug("one more reading of a weighing that is not complete")
    return found


def centre_height(project: Project, weighed: weigh.Weighed | weigh.NotEnough | None) -> by_shape.Height:
    """Return the height of the bare shell's centre above its rim, by shape unless a tilted weighing is surer."""
    greatest = max(size(project, path) for path in plane_of(project).heights)
    return by_shape.centre_height(float(_shape(project).z), greatest, weighed)


def _shape(project: Project) -> by_shape.Skin:
    plane = plane_of(project)
    return by_shape.skin(*(size(project, path) for path in (plane.shell, plane.shell_across, *plane.heights)))


def quantities(project: Project) -> dict[str, Quantity]:
    """Return every number that an answer can draw, under its path in the file.

    Spring ends written as a plain decision or suggested carry the mounting tolerance. Paths that are not keys of
    the file: "spring.0.delivered" (force as delivered over force as listed), "shell.mass_by_area"
    (guess where nothing is weighed), "shell.inertia" (real over reckoned inertia), and the centre of the
    shell as it lies in the shell itself.
    """
    found: dict[str, Quantity] = {}
    tolerance = project.settings.mounting_tolerance.nominal
    written = walk(project)
    for path, value in written.items():
        parts = path.split(".")
        if path.startswith(NOT_DRAWN) or (parts[0] == "spring" and parts[2] in ("feet", "heads")):
            continue
        key = key_of(path)
        is_end = parts[0] in SPRUNG and parts[2] in ("foot", "head")
        if is_end and value.shape == "exact" and value.provenance in (Provenance.GIVEN, Provenance.SUGGESTED):
            value = normal(value.nominal, tolerance, value.provenance)
        # A key that was left out takes the very value of another; written alike, they may as well be one.
        follows = key.same_as if key.same_as and written.get(key.same_as) == value else ""
        found[path] = Quantity(value, key.low, key.high, _measure(path, key.meaning), follows, path in BY_NATURE)
    for i, spring in enumerate(project.spring):
        # A spring that was itself measured is what was delivered.
        band = 0.0 if spring.force.provenance is Provenance.MEASURED else spring.tolerance.nominal
        found[f"spring.{i}.delivered"] = Quantity(
            normal(1.0, band, Provenance.GIVEN), 0.5, 1.5, f"push {spring.name} in on bathroom scales"
        )
    low, high = LAYUPS[project.shell.made_of].thick
    found[BY_MATERIAL] = Quantity(
        even(low, high, Provenance.ASSUMED), *_bounds(THICKNESS), "measure the shell's thickness (shell.thickness)"
    )
    found[STIFFNESS] = Quantity(
        even(0.0, 1.0, Provenance.ASSUMED),
        0.0,
        1.0,
        "lay the shell over two battens with a known weight in the middle and see how far it sinks",
    )
    _add_mass(project, found)
    return found


def _measure(path: str, meaning: str) -> str:
    known = measurement(path)
    what = meaning.partition("; left out")[0] if known is None else known.title[0].lower() + known.title[1:]
    return f"{what} ({path})"


def _bounds(path: str) -> tuple[float, float]:
    key = key_of(path)
    return key.low, key.high


def _add_mass(project: Project, found: dict[str, Quantity]) -> None:
    """Add mass, centre, height of the centre and inertia of the bare shell, from the surest there is."""
    shell, shape = project.shell, _shape(project)
    weighed = weighing(project)
    layup = LAYUPS[shell.made_of]
    found[INERTIA] = Quantity(normal(1.0, by_shape.INERTIA_DOUBT, Provenance.GIVEN), 0.5, 1.5, "the shell's inertia")
    by_area = even(layup.low, layup.high, Provenance.UNKNOWN)
    found[BY_AREA] = Quantity(by_area, 0.5, 80.0, "weigh the shell on bathroom scales (shell.mass)")
    far = (0.0, 5.0)
    if isinstance(weighed, weigh.Weighed):
        alone = weighed.two_sd[1] * np.sqrt(max(0.0, 1.0 - weighed.correlation**2))
        found[MASS] = Quantity(normal(weighed.mass, weighed.two_sd[0]), *_bounds(MASS), "weigh the shell once more")
        found[ALONG] = Quantity(normal(weighed.centre, float(alone)), *far, "weigh one end of the shell once more")
    else:
        doubt = CENTRE_DOUBT * size(project, plane_of(project).shell)
        found[ALONG] = Quantity(
            normal(float(shape.x), doubt, Provenance.UNKNOWN),
            *far,
            "balance the shell over a pipe, or weigh its free end (shell.centre)",
        )
    best = centre_height(project, weighed)
    found[ABOVE] = Quantity(
        normal(best.height, best.two_sd, Provenance.MEASURED if best.by == "tilt" else Provenance.ASSUMED),
        0.0,
        1.0,
        "weigh the shell standing steeply (weighing.tilt)",
    )


def skin(project: Project, at: Values) -> by_shape.Skin:
    """Return area, centre and spread of the shell's outline, for every row."""
    plane = plane_of(project)
    return by_shape.skin(*(at(path) for path in (plane.shell, plane.shell_across, *plane.heights)))


def is_weighed(project: Project) -> bool:
    """Whether the shell's weight is written or weighed; else it is guessed from its area."""
    return is_known(project.shell.mass) or isinstance(weighing(project), weigh.Weighed)


def bare_shell(project: Project, at: Values) -> masses.Body:
    """Return the shell by itself: weighed, else as written, else from its area and shape."""
    shape, weighed, beyond = skin(project, at), weighing(project), plane_of(project).overhang
    mass = at(MASS) if is_weighed(project) else shape.area * at(BY_AREA)
    if isinstance(weighed, weigh.Weighed):
        # Mass and centre come from the same readings and err together.
        along = at(ALONG) + weighed.centre_per_mass * (mass - weighed.mass)
        centre = along - at(beyond)
    elif is_known(project.shell.centre):
        centre = at(CENTRE)
    else:
        centre = at(ALONG) - at(beyond)
    height = at(HEIGHT) if is_known(project.shell.centre_height) else at(ABOVE) + at("shell.rim_height")
    return masses.Body(mass, centre, height, mass * shape.gyration2 * at(INERTIA))


def bodies(project: Project, at: Values) -> tuple[masses.Body, masses.Body | None]:
    """Return the shell with everything on it, and with everything removable taken off (None: nothing is)."""
    added, removed, loose = [bare_shell(project, at)], [], []
    for i, item in enumerate(project.item):
        point = masses.body(at(f"item.{i}.mass"), at(f"item.{i}.x"), at(f"item.{i}.z"))
        if item.state == "add":
            added.append(point)
        elif item.state == "remove":
            removed.append(point)
        if item.removable and item.state != "remove":
            loose.append(point)
    whole = masses.combine(added, _bearable(added, removed))
    return whole, masses.combine([whole], _bearable([whole], loose)) if loose else None


def _bearable(there: list[masses.Body], taken: list[masses.Body]) -> list[masses.Body]:
    """Return what is taken off, in no row but the nominal one more than nine tenths of what there is.

    The file is refused where it says so itself; a rare draw beyond it must not refuse a good file.
    """
    whole, gone = sum(b.mass for b in there), sum(b.mass for b in taken)
    if not taken:
        return taken
    keep = np.minimum(1.0, 0.9 * np.asarray(whole) / np.maximum(np.asarray(gone), 1e-9))
    keep = np.where(np.arange(keep.size) == 0, 1.0, keep)
    return [replace(b, mass=b.mass * keep, inertia=b.inertia * keep) for b in taken]


def fitted_springs(project: Project, at: Values) -> tuple[Fitted, ...]:
    """Return every entry of the spring list as mounted."""
    found = []
    for i, spring in enumerate(project.spring):
        path = f"spring.{i}"
        loop = full_loop(at(f"{path}.friction"), spring.friction_is)
        first = first_force(at(f"{path}.force"), loop, spring.force_is)
        gas = GasSpring(
            np.maximum(first, LEAST_FORCE),
            at(f"{path}.ratio"),
            loop,
            at(f"{path}.stroke"),
            at(f"{path}.extended_length"),
            at(f"{path}.rod_diameter"),
        )
        mount = Mount(
            gas,
            2 * spring.per_side,
            spring.foot_on,
            spring.head_on,
            at(f"{path}.foot.x"),
            at(f"{path}.foot.z"),
            at(f"{path}.head.x"),
            at(f"{path}.head.z"),
            at(f"{path}.sideways"),
        )
        delivered = at(f"{path}.delivered")
        kept = np.ones_like(delivered)
        if spring.yearly_loss is not None:
            kept = (1.0 - at(f"{path}.yearly_loss")) ** SERVICE_YEARS
        found.append(
            Fitted(
                spring.name,
                mount,
                delivered,
                at(f"{path}.tolerance"),
                at(f"{path}.place"),
                at(f"{path}.tube_diameter"),
                at(f"{path}.end_limit"),
                None if spring.bracket_limit is None else at(f"{path}.bracket_limit"),
                AGED_FACTOR * kept,
                at(f"{path}.end_margin"),
                at(f"{path}.own_speed"),
            )
        )
    return tuple(found)


def roof(project: Project, at: Values, *, stations: int, sense: Array | None = None) -> tuple[Roof, Array]:
    """Return the mechanics' input for every row, and the turning sense of arm a to hand to further rows.

    Raises ProjectFault when the planned roof, the first row, cannot be moved by hand at all; further rows that
    cannot are marked as not possible.
    """
    moved = travel(project, at, stations, sense)
    whole, without = bodies(project, at)
    handle = (at("handle.at.x"), at("handle.at.z"))
    hand = moved.travel.shell.point(*handle)
    # What no roof can be: a hand that moves nothing, a spring with more friction than force.
    possible = moved.possible & (np.hypot(hand.dx, hand.dz).min(axis=-1) >= LEAST_HAND_PATH)
    for i, spring in enumerate(project.spring):
        loop = full_loop(at(f"spring.{i}.friction"), spring.friction_is)
        possible = possible & (first_force(at(f"spring.{i}.force"), loop, spring.force_is) >= LEAST_FORCE)
    if not possible[0]:
        raise ProjectFault(
            [
                Fault(
                    "[handle] at or [[spring]] friction",
                    "such that no hand moves the roof, or a spring has more friction than force",
                    "the roof as planned must be one that can be moved",
                    "move the handle towards the free edge, or check the spring's force and friction",
                )
            ]
        )
    needs, plane = {name: at(f"requirements.{name}") for name in LIMIT_KEYS}, plane_of(project)
    return (
        Roof(
            travel=moved.travel,
            possible=possible,
            reaches=moved.possible,
            transmission=moved.transmission,
            lines_up=moved.lines_up,
            stands=moved.stands,
            shoes=shoes(project, at),
            gear=gear(project, at),
            body=whole,
            body_without=without,
            fitted=fitted_springs(project, at),
            climate=Climate(*(at(f"temperatures.{name}") for name in ("cold", "mild", "hot", "sun"))),
            rim=Rim(-at(plane.overhang), at(plane.shell), at(plane.shell_across), at("shell.rim_height")),
            sizes=Sizes(
                seal_line=at("forces.seal_line"),
                seal_squeeze=at("forces.seal_height"),
                cloth_mass=at("forces.cloth_mass"),
                wet_extra=at("forces.wet_extra"),
                load_on_top=at("forces.load_on_top"),
                cloth_tension=at("forces.cloth_tension"),
                fold_push=at("forces.fold_push"),
                trapped_air=at("forces.trapped_air"),
                gust=at("forces.gust"),
            ),
            pin_moment=at("linkage.friction"),
            pins=pins(project, at),
            handle=handle,
            lip=lip_of(project, at),
            strap_length=at("handle.strap_length"),
            feet_z=at("person.stands_on_height") - at("van.floor_to_roof"),
            person_height=at("person.height"),
            spacing=at("linkage.spacing"),
            twist_stiffness=twist_per_radian(project, at),
            limits=Limits(
                **needs,
                twist=at("requirements.twist_limit"),
                prop_fitted=project.requirements.prop_fitted,
                spring_is_stop=project.stop.kind == "spring end",
            ),
        ),
        moved.sense,
    )


LEAST_FORCE = 1.0
"""Least first force of a gas spring that is one [N]."""
LEAST_HAND_PATH = 0.02
"""Metres that the hand must at least move per radian of the driving angle."""

LIMIT_KEYS = (
    "push_to_start",
    "push_on_the_way",
    "pull_to_start_down",
    "pull_after_hot",
    "pull_to_latch",
    "stays_shut_margin",
    "stays_up_margin",
    "rises_from",
    "stop_speed",
)


def surroundings(project: Project, at: Values) -> Surroundings:
    """Return what stands round the moving shell, for every row."""
    plane = plane_of(project)
    length = at(plane.opening)
    rear, middle, front = (at(path) for path in plane.heights)
    spots = range(len(project.roof.profile))
    if spots:
        roof_x = np.stack([at(f"roof.profile.{i}.x") for i in spots], axis=-1)
        roof_z = np.stack([at(f"roof.profile.{i}.z") for i in spots], axis=-1)
    else:
        roof_x = np.stack([np.zeros_like(length), length], axis=-1)
        roof_z = np.zeros_like(roof_x)
    bed = None
    if project.bed is not None:
        bed = Board(at("bed.from"), at("bed.to"), at("bed.height"))
    return Surroundings(
        heights=(rear, middle, front),
        thickness=thickness(project, at),
        roof_x=roof_x,
        roof_z=roof_z,
        roof_build=at("van.roof_build"),
        upstand=at("roof.upstand"),
        opening_length=length,
        bed=bed,
        stands_x=np.clip(at("handle.at.x"), 0.2, np.maximum(length - 0.2, 0.2)),
        reach=at("person.reach"),
        arm_width=at("linkage.arm_width"),
        play=at("linkage.play"),
        plate_stiffness=at("linkage.plate_stiffness"),
        clearance=at("requirements.clearance"),
        transmission_min=at("requirements.transmission_min"),
    )


def thickness(project: Project, at: Values) -> Array:
    """Return the shell's thickness: as written, else from what it is built from."""
    return at(THICKNESS) if is_known(project.shell.thickness) else at(BY_MATERIAL)


def outline(project: Project, at: Values) -> Outline:
    """Return opening and closed shell, for where one can stand."""
    plane = plane_of(project)
    rear, middle, front = (at(path) for path in plane.heights)
    return Outline(
        opening_length=at(plane.opening),
        opening_width=at(plane.opening_across),
        shell_length=at(plane.shell),
        overhang=at(plane.overhang),
        rim=at("shell.rim_height"),
        rear=rear,
        middle=middle,
        front=front,
        thickness=thickness(project, at),
    )
