"""The first questions of the board: what is asked, what the answers so far come to, and the file they make.

Every answer may be missing. One that cannot be used gets its sentence and counts as missing; the rest still answers.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Final

from loftwright.answers.scout import scout
from loftwright.answers.scout_view import scout_page
from loftwright.answers.side_view import pose_table, scene
from loftwright.core.amounts import QuantityError
from loftwright.core.choices import Units
from loftwright.core.errors import LoftwrightError, ProjectFault
from loftwright.core.quantities import parse
from loftwright.core.quantity_text import format_quantity
from loftwright.core.scene import PoseTable, Scene
from loftwright.core.uncertain import Provenance, exact
from loftwright.core.units import Dimension, size_of
from loftwright.core.views import ScoutPage
from loftwright.plan.cost import Price
from loftwright.plan.scout import AtHand
from loftwright.project.catalogues import read_prices
from loftwright.project.file import loads
from loftwright.project.model import key_of
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.project.reading import is_unknown
from loftwright.project.written import without_word


@dataclass(frozen=True, slots=True)
class WayToLift:
    """One way in which a roof can lift: as the project file's answers call it, and in words."""

    word: str
    title: str
    note: str


WAYS: Final = (
    WayToLift("hinge front", "The rear rises", "hinged at the front"),
    WayToLift("hinge rear", "The front rises", "hinged at the rear"),
    WayToLift("arms", "It swings up", "on two unlike arms a side"),
    WayToLift("level arms", "It rises level", "on two equal arms a side"),
    WayToLift("scissor", "It rises straight up", "on crossing arms"),
    WayToLift("unknown", "Don't know yet", "the rear rises until you choose"),
)


@dataclass(frozen=True, slots=True)
class Number:
    """One number that is asked for.

    `name` is its field, `path` its key in the file, `where` what a fault of it is called. `how` says how to get it.
    `span` and `steps` [SI]: from where to where a slider goes, and its step, metric and imperial.
    """

    name: str
    path: str
    where: str
    title: str
    how: str
    span: tuple[float, float]
    steps: tuple[float, float]

    @property
    def dimension(self) -> Dimension:
        """Whether it is a length or a weight."""
        return key_of(self.path).dimension


_INCH, _POUND = size_of("in"), size_of("lb", Dimension.MASS)
NUMBERS: Final = (
    Number(
        "opening_length",
        "opening.length",
        "opening length",
        "Length of the opening",
        "Along the van, where the roof is to be cut: a tape on the roof.",
        (0.6, 3.2),
        (0.05, 2 * _INCH),
    ),
    Number(
        "opening_width",
        "opening.width",
        "opening width",
        "Width of the opening",
        "Across the van, between the gutters or the roof's side beams.",
        (0.6, 1.8),
        (0.05, 2 * _INCH),
    ),
    Number(
        "floor_to_roof",
        "van.floor_to_roof",
        "height from floor to roof",
        "Inside floor to the outside of the roof",
        "Height inside, and the thickness of roof and lining with it.",
        (0.94, 2.2),
        (0.02, _INCH),
    ),
    Number(
        "person_height",
        "person.height",
        "person's height",
        "Height of the tallest person",
        "In shoes, standing against a door frame.",
        (1.4, 2.1),
        (0.01, _INCH),
    ),
    Number(
        "shell_mass",
        "shell.mass",
        "shell's weight",
        "Weight of the bare shell",
        "Bathroom scales under each end, or what the seller says; a guess from its size stands in.",
        (10.0, 150.0),
        (1.0, 2 * _POUND),
    ),
)
HAVE: Final[tuple[tuple[AtHand, str], ...]] = (
    ("shell", "The shell"),
    ("hinges", "Hinges or arms"),
    ("springs", "Gas springs"),
)
"""What may be there already, with its words."""

LIFTS: Final = "lifts"
_FIELDS: Final = {LIFTS: "which end stays low"} | {one.name: one.where for one in NUMBERS}
_OF_WHERE: Final = {where: name for name, where in _FIELDS.items()} | {
    f"[{one.path.split('.')[0]}] {one.path.split('.')[1]}": one.name for one in NUMBERS
}
_TITLES: Final = {LIFTS: "Which end lifts"} | {one.name: one.title for one in NUMBERS}
_BARE: Final = re.compile(r"\d+(?:[.,]\d+)?")
_UNITS: Final[Mapping[tuple[Units, Dimension], tuple[str, ...]]] = {
    ("metric", Dimension.LENGTH): ("m", "cm", "mm"),
    ("imperial", Dimension.LENGTH): ("ft", "in"),
    ("metric", Dimension.MASS): ("kg",),
    ("imperial", Dimension.MASS): ("lb",),
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What is answered so far: texts as they were typed, nothing for what is not known."""

    units: Units = "metric"
    lifts: str = ""
    texts: tuple[tuple[str, str], ...] = ()
    at_hand: frozenset[AtHand] = frozenset()

    @classmethod
    def of(cls, form: Mapping[str, str]) -> Asked:
        """Return the answers in the fields of a form."""
        units: Units = "imperial" if form.get("units") == "imperial" else "metric"
        texts = tuple((one.name, text) for one in NUMBERS if not _missing(text := form.get(one.name, "").strip()))
        lifts = form.get(LIFTS, "")
        return cls(
            units, "" if _missing(lifts) else lifts, texts, frozenset(w for w, _ in HAVE if form.get(f"have_{w}"))
        )

    def answers(self, without: Iterable[str] = ()) -> FiveAnswers:
        """Return them for a new project: numbers without a unit given the one that fits, and bare ones as rough."""
        left_out = frozenset(without)
        given = {
            name: as_rough(name, with_unit(name, text, self.units)) for name, text in self.texts if name not in left_out
        }
        lifts = self.lifts if self.lifts and LIFTS not in left_out else None
        return FiveAnswers(lifts=lifts, **given)


@dataclass(frozen=True, slots=True)
class Look:
    """What the answers come to.

    `page` with `scene` and `poses` of the roof; None where it cannot be put together, and `wrong` says why in
    sentences. `faults` are answers that cannot be used, by their fields. `taken` says how a number without a unit was
    read, `at` the place of a slider, by fields.
    """

    page: ScoutPage | None
    scene: Scene | None
    poses: PoseTable | None
    wrong: tuple[str, ...]
    faults: tuple[tuple[str, str], ...]
    taken: tuple[tuple[str, str], ...]
    at: tuple[tuple[str, int], ...]


def _missing(text: str) -> bool:
    return not text or is_unknown(text)


def with_unit(name: str, text: str, units: Units) -> str:
    """Return a number without a unit with the only one in which it is possible, any other text as it is."""
    if not _BARE.fullmatch(text):
        return text
    number = _number(name)
    key = key_of(number.path)
    try:
        fits = [
            said
            for unit in _UNITS[units, number.dimension]
            if key.low <= parse(said := f"{text} {unit}", number.dimension, unknown=None).nominal <= key.high
        ]
    except QuantityError:
        # Longer than any number of a tape: refused where it is read.
        return text
    return fits[0] if len(fits) == 1 else text


def as_rough(name: str, text: str) -> str:
    """Return a number with neither a range nor a word for how it is known as an assumed one, others as they are.

    >>> as_rough("shell_mass", "52 kg"), as_rough("shell_mass", "52 +- 1 kg")
    ('52 kg, assumed', '52 +- 1 kg')
    """
    number = _number(name)
    key = key_of(number.path)
    if without_word(text) != (text.strip(), ""):
        return text
    try:
        value = parse(text, number.dimension, unknown=None)
        rough = f"{text.strip()}, {Provenance.ASSUMED.value}"
        doubt = parse(rough, number.dimension, unknown=None)
    except QuantityError:
        return text
    return rough if value.low == value.high and key.low <= doubt.low and doubt.high <= key.high else text


def _number(name: str) -> Number:
    return next(one for one in NUMBERS if one.name == name)


def field_faults(error: ProjectFault) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """Return the faults that belong to a field of the first questions, by its name, and the rest as sentences.

    The sentences call a field as the page does.
    """
    at_fields = tuple(
        (name, replace(f, where=_TITLES[name]).sentence())
        for f in error.faults
        if (name := _OF_WHERE.get(f.where)) is not None
    )
    return at_fields, tuple(f.sentence() for f in error.faults if f.where not in _OF_WHERE)


def look(asked: Asked) -> Look:
    """Return what the answers come to; answers at fault count as missing."""
    faults: tuple[tuple[str, str], ...] = ()
    wrong: tuple[str, ...] = ()
    page, drawn, poses = None, None, None
    # What new_project refuses is left out; then the whole may still be impossible, and what is at fault there too.
    for _ in range(3):
        try:
            project = loads(new_project(asked.answers(name for name, _ in faults), asked.units))
            outcome = scout(project, _prices(), asked.at_hand)
            found = outcome.numbers.found
            page, drawn, poses = scout_page(outcome), scene(found), pose_table(found)
            wrong = ()
            break
        except ProjectFault as error:
            more, wrong = field_faults(error)
            if not more:
                break
            faults += more
        except LoftwrightError as error:
            wrong = (_sentence(str(error)),)
            break
    taken = tuple((name, said) for name, text in asked.texts if (said := with_unit(name, text, asked.units)) != text)
    return Look(page, drawn, poses, wrong, faults, taken, tuple(_places(asked)))


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")


@cache
def _prices() -> Mapping[str, Price]:
    return read_prices(None)


def _places(asked: Asked) -> Iterable[tuple[str, int]]:
    """Yield the nearest place of each slider whose number can be read."""
    for name, text in asked.texts:
        number = _number(name)
        try:
            value = parse(with_unit(name, text, asked.units), number.dimension, unknown=None).nominal
        except QuantityError:
            continue
        stops = _stops(number, asked.units)
        yield name, min(range(len(stops)), key=lambda i: abs(stops[i] - value))


def _stops(number: Number, units: Units) -> tuple[float, ...]:
    """Return the values at which a slider stops [SI]."""
    (low, high), step = number.span, number.steps[units == "imperial"]
    first, last = -int(-low / step // 1), int(high / step + 1e-9)
    return tuple(step * k for k in range(first, last + 1))


def slider_texts(number: Number, units: Units) -> tuple[str, ...]:
    """Return the texts at which a slider stops, as a file writes them."""
    return tuple(format_quantity(exact(v), number.dimension, units, digits=6) for v in _stops(number, units))


def slider_start(number: Number, units: Units) -> int:
    """Return where a slider stands while nothing is known: at the middle of what is taken then."""
    stops, middle = _stops(number, units), sum(key_of(number.path).unknown) / 2
    return min(range(len(stops)), key=lambda i: abs(stops[i] - middle))


def new_text(asked: Asked, name: str) -> str:
    """Return the text of the new project file. Errors: ProjectFault; `field_faults` tells the field of each."""
    text = new_project(asked.answers(), asked.units, name)
    loads(text)
    return text
