"""What a new entry of a list or a new section starts as: enough for a file that reads, near what is there already.

Places follow those that are there and are marked as suggested; what could only be measured is written as unknown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final, get_args

from loftwright.core.choices import BodyName, ClothRole, JointPlace
from loftwright.core.field_views import Add
from loftwright.core.quantity_text import format_quantity, on_tape
from loftwright.core.uncertain import Provenance, Uncertain, exact
from loftwright.core.units import Dimension
from loftwright.project.model import Project, key_of
from loftwright.project.plane import plane_of, size
from loftwright.project.points import Point
from loftwright.project.written import UNKNOWN, Written, with_word
from loftwright.project.zones import ALONG, UP
from loftwright.reference.field_words import section_words

Changes = tuple[tuple[str, str], ...]

BESIDE: Final = 0.05
"""How far beside the last one a new spring or hole starts [m]: judgement, room for a bracket."""
FURTHER: Final = 1.25
"""How much longer a cord is drawn for its next reading, and how much harder it then pulls: judgement."""
AS_THE_LAST: Final = ("place", "stroke", "extended_length", "rod_diameter", "tube_diameter")
"""Sizes in which a new spring starts as the last one is."""
BAR: Final = {"pivot": 0.4, "track_from": 0.04, "track_to": 0.46, "length": 0.84}
"""Sizes of a new bar in shares of the shell's size across the free end: judgement, the usual ones of a common shell."""
SUGGESTED: Final = Provenance.SUGGESTED.value


def adds_of(path: str, project: Project, there: Written) -> tuple[Add, ...]:
    """Return what may be added to the list, or as the section, at a path of the file.

    `there` is what the file holds. Nothing is offered where this roof cannot have it.
    """
    plain = ".".join(step for step in path.split(".") if not step.isdecimal())
    count = there.count(path)
    said = section_words(plain).add
    if plain in _MADE:
        made = tuple(_MADE[plain](project, there, path, count))
        return tuple(Add(label or said, changes) for label, changes in made)
    at = path if plain in _SECTIONS else f"{path}.{count}"
    if plain == "torsion":
        kind = project.linkage.kind
        if kind == "guides":
            return ()
        first: Changes = (("at", "hinge" if kind == "hinge" else "arm a"),)
        return (Add(said, tuple((f"{at}.{key}", text) for key, text in (*first, *_PLAIN[plain]))),)
    named = _NAMED.get(plain)
    name: Changes = () if named is None else (("name", _free(named, _names(there, path, count))),)
    return (Add(said, tuple((f"{at}.{key}", text) for key, text in (*name, *_PLAIN[plain]))),)


_SECTIONS: Final = ("bed", "links", "at_hand.home_test", "brace", "panel", "lift", "lining")
_NAMED: Final = {
    "item": "new item",
    "coil": "coil spring",
    "cord": "elastic cord",
    "at_hand": "springs at hand",
    "candidate": "another shell",
    "window": "window",
}
_POINT_FOOT_HEAD: Final[Changes] = tuple((f"{end}.{axis}", UNKNOWN) for end in ("foot", "head") for axis in ("x", "z"))
_PLAIN: Final[dict[str, Changes]] = {
    "bed": (("from", UNKNOWN), ("to", UNKNOWN), ("height", UNKNOWN)),
    "item": (("kind", "other"), ("mass", UNKNOWN), ("x", UNKNOWN), ("z", UNKNOWN)),
    "coil": (*_POINT_FOOT_HEAD, ("rate", UNKNOWN), ("free_length", UNKNOWN)),
    "torsion": (("moment", UNKNOWN), ("per_degree", UNKNOWN)),
    "cord": (*_POINT_FOOT_HEAD, ("slack_length", UNKNOWN), ("point.0.length", UNKNOWN), ("point.0.force", UNKNOWN)),
    "links": (("arm_a_length", UNKNOWN), ("arm_b_length", UNKNOWN), ("rise", UNKNOWN), ("tilt", UNKNOWN)),
    "at_hand": (("force", UNKNOWN), ("stroke", UNKNOWN), ("extended_length", UNKNOWN)),
    "at_hand.home_test": (("reads_in", UNKNOWN), ("reads_out", UNKNOWN)),
    "reading": (("how_open", "50 %"), ("way", "push up"), ("force", UNKNOWN)),
    "tape": (("step", "hinges"), ("what", "lip height"), ("reads", UNKNOWN)),
    "candidate": (("length", UNKNOWN), ("width", UNKNOWN)),
    "window": (("wall", "left"), ("width", "400 mm"), ("height", "200 mm")),
    "panel": (("power", UNKNOWN),),
    "lift": (*_POINT_FOOT_HEAD, ("force", UNKNOWN), ("stroke", UNKNOWN), ("shortest", UNKNOWN)),
    "lining": (("insulation", "20 mm"),),
    "lower_point": (("x", UNKNOWN), ("y", UNKNOWN), ("z", UNKNOWN)),
    "upper_point": (("x", UNKNOWN), ("y", UNKNOWN), ("z", UNKNOWN)),
}


def _names(there: Written, path: str, count: int) -> list[str]:
    return [there.text(f"{path}.{number}.name") or "" for number in range(count)]


def _free(name: str, taken: Iterable[str]) -> str:
    """Return the name, with a number behind it where it is taken already."""
    used = set(taken)
    return next(n for n in (name, *(f"{name} {number}" for number in range(2, 100))) if n not in used)


def _text(project: Project, value: float, dimension: Dimension = Dimension.LENGTH) -> str:
    """Return a value [SI] as a suggestion in the file's units; lengths on the marks of the tape."""
    if dimension is Dimension.LENGTH:
        value = on_tape(value, project.settings.units)
    return format_quantity(exact(value, Provenance.SUGGESTED), dimension, project.settings.units, digits=6)


def _inwards(project: Project, x: float) -> float:
    """Return a step from x towards the middle of the opening [m]."""
    return BESIDE if x < size(project, plane_of(project).opening) / 2 else -BESIDE


Made = Iterator[tuple[str, Changes]]


def _spring(project: Project, there: Written, path: str, count: int) -> Made:
    at = f"{path}.{count}"
    name = _free("gas spring", _names(there, path, count))
    sizes: list[tuple[str, str]] = [("name", name), ("force", UNKNOWN)]
    if count:
        last = project.spring[-1]
        step = _inwards(project, (last.foot.x.nominal + last.head.x.nominal) / 2)
        sizes += [("foot_on", last.foot_on), ("head_on", last.head_on)]
        for end, point in (("foot", last.foot), ("head", last.head)):
            sizes += [
                (f"{end}.x", _text(project, point.x.nominal + step)),
                (f"{end}.z", _text(project, point.z.nominal)),
            ]
        for key in AS_THE_LAST:
            text = there.text(f"{path}.{count - 1}.{key}")
            if text is not None:
                sizes.append((key, with_word(text, SUGGESTED)))
    else:
        sizes += [*_POINT_FOOT_HEAD, ("stroke", UNKNOWN), ("extended_length", UNKNOWN)]
    yield "", tuple((f"{at}.{key}", text) for key, text in sizes)


def _holes(end: str) -> Callable[[Project, Written, str, int], Made]:
    """Return how the next hole is proposed for one end of a spring: beside the last one, or at that end itself."""

    def made(project: Project, there: Written, path: str, count: int) -> Made:
        number = int(path.split(".")[1])
        spring = project.spring[number]
        holes: tuple[Point, ...] = spring.feet if end == "foot" else spring.heads
        last: Point = holes[-1] if holes else spring.foot if end == "foot" else spring.head
        step = project.choice.hole_spacing.nominal if holes else 0.0
        step = step if _inwards(project, last.x.nominal) > 0 else -step
        at = f"{path}.{count}"
        yield "", ((f"{at}.x", _text(project, last.x.nominal + step)), (f"{at}.z", _text(project, last.z.nominal)))

    return made


def _profile(project: Project, there: Written, path: str, count: int) -> Made:
    points = project.roof.profile
    length = size(project, plane_of(project).opening)
    places = [(points[-1].x.nominal + length / 10, points[-1].z.nominal)] if points else [(0.0, 0.0), (length, 0.0)]
    yield (
        "",
        tuple(
            (f"{path}.{count + number}.{axis}", _text(project, value))
            for number, place in enumerate(places)
            for axis, value in zip("xz", place, strict=True)
        ),
    )


def _weighings(project: Project, there: Written, path: str, count: int) -> Made:
    at = f"{path}.{count}"
    yield "Add a line on the scales", tuple((f"{at}.{key}", UNKNOWN) for key in ("at", "other", "reads"))
    yield "Add the whole shell on scales", ((f"{at}.whole", UNKNOWN),)
    yield "Add a balance over a pipe", ((f"{at}.balance", UNKNOWN),)


def _tilt(project: Project, there: Written, path: str, count: int) -> Made:
    # A weighing holds at least one reading besides.
    first: Changes = () if there.count("weighing.reading") else (("weighing.reading.0.whole", UNKNOWN),)
    yield "", (*first, *((f"{path}.{key}", UNKNOWN) for key in ("angle", "at", "other", "reads")))


def _cord_point(project: Project, there: Written, path: str, count: int) -> Made:
    last = project.cord[int(path.split(".")[1])].point[-1]
    at = f"{path}.{count}"
    yield (
        "",
        (
            (f"{at}.length", _text(project, min(FURTHER * last.length.nominal, key_of(f"{at}.length").high))),
            (f"{at}.force", _text(project, FURTHER * last.force.nominal, Dimension.FORCE)),
        ),
    )


def _zone(project: Project, there: Written, path: str, count: int) -> Made:
    """Propose places round the ends of the first spring: both at once where none is written, as one is no use."""
    first = project.spring[0] if project.spring else None
    feet: tuple[BodyName, Point | None] = ("van", None) if first is None else (first.foot_on, first.foot)
    heads: tuple[BodyName, Point | None] = ("shell", None) if first is None else (first.head_on, first.head)
    taken = _names(there, path, count)
    place = None if first is None else first.place

    def corners(number: int, name: str, on: BodyName, middle: Point | None) -> Changes:
        at = f"{path}.{number}"
        head: Changes = ((f"{at}.name", _free(name, taken)), (f"{at}.on", on))
        if middle is None:
            return (*head, *((f"{at}.{corner}.{axis}", UNKNOWN) for corner in ("from", "to") for axis in ("x", "z")))
        x, z = middle.x.nominal, middle.z.nominal
        box = (("from.x", x - ALONG / 2), ("from.z", z - UP), ("to.x", x + ALONG / 2), ("to.z", z + UP))
        wide: Changes = () if place is None else ((f"{at}.place", _place(project, place)),)
        return (*head, *((f"{at}.{key}", _text(project, value)) for key, value in box), *wide)

    if count:
        yield "Add a place for feet", corners(count, "for feet", *feet)
        yield "Add a place for heads", corners(count, "for heads", *heads)
    else:
        yield (
            "Add places for feet and heads",
            (*corners(0, "for feet", *feet), *corners(1, "for heads", *heads)),
        )


def _place(project: Project, place: Uncertain) -> str:
    return UNKNOWN if place.provenance is Provenance.UNKNOWN else _text(project, place.nominal)


def _height(measured: str) -> Callable[[Project, Written, str, int], Made]:
    """Return how the next measured height is proposed: across the van from the last one, the first at mid-length."""

    def made(project: Project, there: Written, path: str, count: int) -> Made:
        points = project.roof_point if path == "roof_point" else project.rim_point
        if points:
            x, y = points[-1].x.nominal, -points[-1].y.nominal
        else:
            x, y = project.opening.length.nominal / 2, project.opening.width.nominal / 2
        at = f"{path}.{count}"
        yield "", ((f"{at}.x", _text(project, x)), (f"{at}.y", _text(project, y)), (f"{at}.{measured}", UNKNOWN))

    return made


def _bow(project: Project, there: Written, path: str, count: int) -> Made:
    """Propose a place in the middle of the opening, then of its halves, where no bow is yet."""
    length = project.opening.length.nominal
    places = (part * length / halves for halves in (2, 4, 8, 16, 32) for part in range(1, halves, 2))
    taken = [bow.at.nominal for bow in project.bow]
    place = next(place for place in places if all(abs(place - other) > BESIDE / 4 for other in taken))
    yield "", ((f"{path}.{count}.at", _text(project, place)),)


def _joint(project: Project, there: Written, path: str, count: int) -> Made:
    """Propose the first place that has no joint yet."""
    taken = {joint.at for joint in project.joint}
    places = [place for place in get_args(JointPlace) if project.brace or not place.startswith("brace")]
    place = next((place for place in places if place not in taken), places[0])
    at = f"{path}.{count}"
    yield "", ((f"{at}.at", place), (f"{at}.layer", UNKNOWN), (f"{at}.thickness", UNKNOWN))


def _layer(project: Project, there: Written, path: str, count: int) -> Made:
    """Propose the first layer of a wall that is not there yet."""
    taken = {layer.role for layer in project.layer}
    role = next((role for role in get_args(ClothRole) if role not in taken), "insulation")
    at = f"{path}.{count}"
    name = _free({"outer": "outer cloth"}.get(role, role), _names(there, path, count))
    yield "", ((f"{at}.name", name), (f"{at}.role", role), *((f"{at}.{key}", UNKNOWN) for key in CLOTH))


def _own(key: str, first: str) -> Callable[[Project, Written, str, int], Made]:
    """Return how the next entry of a list is proposed whose entries are told apart by `key`: as one of your own."""

    def made(project: Project, there: Written, path: str, count: int) -> Made:
        taken = [there.text(f"{path}.{number}.{key}") or "" for number in range(count)]
        yield "", ((f"{path}.{count}.{key}", _free(first, taken)),)

    return made


def _seam(project: Project, there: Written, path: str, count: int) -> Made:
    """Propose a place behind the last seam, the first one in the middle of the right side."""
    side = (project.opening.length.nominal + project.opening.width.nominal) / 2
    last = max((seam.at.nominal for seam in project.seam), default=0.0)
    yield "", ((f"{path}.{count}.at", _text(project, last + (side if count == 0 else 6 * BESIDE))),)


CLOTH: Final = ("mass", "thickness", "bends")
"""What a sample of a cloth tells."""


def _brace(project: Project, there: Written, path: str, count: int) -> Made:
    """Propose a bar that lies across the closed shell, its sizes by shares of the shell's."""
    across = size(project, plane_of(project).shell_across)
    sizes = ((f"{path}.{key}", _text(project, share * across)) for key, share in BAR.items())
    yield "", ((f"{path}.kind", "bar"), *sizes)


_MADE: Final[dict[str, Callable[[Project, Written, str, int], Made]]] = {
    "spring": _spring,
    "spring.feet": _holes("foot"),
    "spring.heads": _holes("head"),
    "roof.profile": _profile,
    "weighing.reading": _weighings,
    "weighing.tilt": _tilt,
    "cord.point": _cord_point,
    "zone": _zone,
    "roof_point": _height("height"),
    "rim_point": _height("gap"),
    "bow": _bow,
    "joint": _joint,
    "layer": _layer,
    "seam": _seam,
    "bought": _own("part", "own part"),
    "todo": _own("task", "own task"),
    "brace": _brace,
}
