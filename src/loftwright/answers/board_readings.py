"""What the page beside the van asks for: where to read the scale, and what is typed as an entry of the file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, get_args

import numpy as np

from loftwright.answers.draws import Nominal
from loftwright.answers.judged_roof import assembled
from loftwright.answers.proof_readings import BATHROOM, LUGGAGE, STATIONS, inputs_with_readings, predicted
from loftwright.answers.proof_tape import ASKED, Ask, lengths
from loftwright.answers.proof_words import asked
from loftwright.core.choice_views import HoleRow
from loftwright.core.choices import Spelling, Units
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.core.field_views import Option
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import exact
from loftwright.core.units import Dimension
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution
from loftwright.core.wording import Wording
from loftwright.project.choice_sections import HandReading, HandWay, Scale
from loftwright.project.model import Project
from loftwright.project.plane import lengthwise_only
from loftwright.project.typed import Value, typed
from loftwright.project.written import fault_of, with_word, without_word, written

SHARES: Final = (0.10, 0.25, 0.40, 0.60, 0.75, 0.90)
"""How far open the roof is read [1]: the lines of the paper sheet, without its ends."""
READABLE: Final = 15.0
"""A hand force that is smaller than this is not worth a reading [N]: judgement, three times what scales show."""
SAME_SHARE: Final = 0.03
"""A reading this close to a station has been taken there [1]."""
FAR: Final = 300.0
FAR_TIMES: Final = 5.0
"""A reading that is by so much [N], and so many times [1], more than expected is asked about: judgement."""
CARE: Final = (
    "Two people: one moves the roof slowly, the other reads the scale from the side.",
    "Prop the roof whenever nobody moves it.",
    "Hands and heads out of the gap; nobody in line with the rods of the springs.",
)
"""What is said above the page and the sheet at the van."""
SCALES: Final[dict[Scale, str]] = {
    "bathroom scales": "Stand on bathroom scales and push up slowly; note how much more they show than your weight.",
    "luggage scale": "Hang the luggage scale on the strap and draw down slowly; note what it shows on the move.",
}
"""How each scale is read."""
USUAL: Final[dict[HandWay, Scale]] = {"push up": "bathroom scales", "pull down": "luggage scale"}
"""The scale that goes with each way."""


@dataclass(frozen=True, slots=True)
class Station:
    """One reading to take. `key` names it in a form; `first` are those that teach most; `done` in the newest set.

    `expected` is what the planned roof asks of the hand there [N].
    """

    key: str
    how_open: str
    way: HandWay
    scale: Scale
    words: str
    lip: str
    first: bool
    done: bool
    expected: float


@dataclass(frozen=True, slots=True)
class Saved:
    """One reading that stands in the file: its path, what it was, what the scale showed."""

    path: str
    name: str
    words: str
    value: str


@dataclass(frozen=True, slots=True)
class ReadingPlan:
    """Readings to take, in the order of one way up and one way down, and what forms that enter them show.

    `set_now` is the set to which the next reading belongs, `warm` the temperature written last. `wrong` says why there
    is no list; readings can be entered all the same.
    """

    stations: tuple[Station, ...]
    saved: tuple[Saved, ...]
    taped: tuple[Saved, ...]
    sets: tuple[Option, ...]
    holes: tuple[Option, ...]
    set_now: str
    warm: str
    force_unit: str
    degree: str
    length_unit: str
    usual_doubt: str
    wrong: str
    cautions: tuple[Caution, ...]

    @property
    def next(self) -> Station | None:
        """The reading to take next; None when every one of the list is taken."""
        return next((one for one in self.stations if not one.done), None)


@dataclass(frozen=True, slots=True)
class ReadingSheet:
    """What the paper sheet for readings is filled from; `tape` names what is measured with the tape."""

    name: str
    plan: ReadingPlan
    tape: tuple[str, ...]
    units: Units
    made_with: str
    words: Spelling = "kerb"


# --- what to read ------------------------------------------------------------------------------------


def reading_plan(project: Project, row: HoleRow | None = None) -> ReadingPlan:
    """Return what to read next; `row` are holes in which the spring may have sat.

    A roof that cannot be put together, or whose readings are not made yet, has no list and `wrong` says why.
    """
    say = Wording(project.settings.units)
    last = max((reading.after for reading in project.reading), default=1)
    newest = [reading for reading in project.reading if reading.after == last]
    try:
        stations, wrong = _stations(project, say), ""
    except ProjectFault as error:
        stations, wrong = (), error.faults[0].sentence()
    except LoftwrightError as error:
        # Arms that do not reach, ends of springs that cannot meet.
        stations, wrong = (), f"{error}".rstrip(".") + "."
    unit = say.hand_force_unit()[0]
    share, least = LUGGAGE
    warm = "" if not newest else _bare(say.temperature(newest[-1].temperature.nominal))
    named = [(k, f"set {k + 1}") for k in range(last)]
    return ReadingPlan(
        stations=stations,
        saved=saved(project, say),
        taped=taped(project, say),
        sets=(
            *(Option(str(k + 1), words if k + 1 < last or not newest else f"{words}, as before") for k, words in named),
            Option(str(last + 1), f"set {last + 1}: something was changed"),
        ),
        holes=_holes(row),
        set_now=str(last),
        warm=warm,
        force_unit=unit,
        degree="°C" if project.settings.units == "metric" else "°F",
        length_unit="mm" if project.settings.units == "metric" else "in",
        usual_doubt=(
            f"left empty, what such scales have: bathroom scales {say.force_hand(BATHROOM)}, a luggage scale "
            f"{say.percent(share)} and {say.force_hand(least)}"
        ),
        wrong=wrong,
        cautions=tuple(Caution(text) for text in CARE),
    )


def reading_sheet(project: Project) -> ReadingSheet:
    """Return what the paper sheet for readings shows."""
    say = Wording(project.settings.units)
    tape = tuple(asked(ask, say) for ask in ASKED if ask.what != "spring length" or project.spring)
    words = project.settings.words
    return ReadingSheet(project.name, reading_plan(project), tape, project.settings.units, MADE_WITH, words)


def _stations(project: Project, say: Wording) -> tuple[Station, ...]:
    """Return every reading worth taking: where the planned roof asks enough of the hand."""
    lengthwise_only(project, "a proof by readings is")
    mild = project.temperatures.mild
    pairs = [(share, way) for way in get_args(HandWay) for share in (SHARES if way == "push up" else SHARES[::-1])]
    asking = tuple(
        HandReading.model_construct(
            after=1,
            how_open=exact(share),
            way=way,
            force=exact(1.0),
            scale=USUAL[way],
            temperature=mild,
        )
        for share, way in pairs
    )
    tried = project.model_copy(update={"reading": asking})
    nominal = Nominal(inputs_with_readings(tried))
    sense = assembled(tried, nominal, stations=STATIONS).sense
    force = predicted(tried, nominal, sense).force[0]
    lip = lengths(tried, nominal, sense, [Ask("hinges", "lip height", share) for share, _ in pairs])[0]
    worth = [k for k in range(len(pairs)) if np.isfinite(force[k]) and force[k] >= READABLE]
    ends = {way: [k for k in worth if pairs[k][1] == way] for way in get_args(HandWay)}
    first = {k for some in ends.values() for k in (some[:1] + some[-1:])}
    last = max((reading.after for reading in project.reading), default=1)
    done = {
        k
        for k in worth
        for reading in project.reading
        if reading.after == last
        and reading.way == pairs[k][1]
        and abs(reading.how_open.nominal - pairs[k][0]) <= SAME_SHARE
    }
    return tuple(
        Station(
            key=f"{round(100 * pairs[k][0])} % {pairs[k][1]}",
            how_open=f"{round(100 * pairs[k][0])} %",
            way=pairs[k][1],
            scale=USUAL[pairs[k][1]],
            words=f"{pairs[k][1]} at {say.fraction(pairs[k][0])} open",
            lip=say.short_length(float(lip[k])),
            first=k in first,
            done=k in done,
            expected=float(force[k]),
        )
        for k in worth
    )


def saved(project: Project, say: Wording) -> tuple[Saved, ...]:
    """Return the readings of the scale that stand in the file."""
    several = len({reading.after for reading in project.reading}) > 1
    return tuple(
        Saved(
            f"reading.{k}",
            f"Reading {k + 1}",
            f"{f'set {one.after}, ' if several else ''}{one.way} at {say.fraction(one.how_open.nominal)} open, "
            f"{say.temperature(one.temperature.nominal)}",
            say.force_hand(one.force.nominal),
        )
        for k, one in enumerate(project.reading)
    )


def taped(project: Project, say: Wording) -> tuple[Saved, ...]:
    """Return the readings of the tape that stand in the file."""
    return tuple(
        Saved(
            f"tape.{k}",
            f"Tape reading {k + 1}",
            asked(Ask(one.step, one.what, one.how_open.nominal), say),
            say.short_length(one.reads.nominal),
        )
        for k, one in enumerate(project.tape)
    )


def _holes(row: HoleRow | None) -> tuple[Option, ...]:
    """Return the holes in which the spring may have sat, as a form names them."""
    if row is None:
        return ()
    found = []
    for one in row.places:
        foot, head = row.feet[one.foot], row.heads[one.head]
        ends = [("foot", foot)] if len(row.feet) > 1 else []
        ends += [("head", head)] if len(row.heads) > 1 else []
        word = "; ".join(f"{end} {hole.x_mm:.1f} {hole.z_mm:.1f}" for end, hole in ends)
        found.append(Option(word, one.words))
    return tuple(found)


def _bare(text: str) -> str:
    """Return the number of a text without its unit."""
    return re.split(r"[^\d.,-]", text.replace("−", "-"), maxsplit=1)[0]


# --- what was typed ----------------------------------------------------------------------------------

_NUMBER = re.compile(r"[+\-−]?[\d.,/½¼¾ ]+")
_HOLE = re.compile(r"(foot|head) (-?\d{1,5}(?:\.\d{1,3})?) (-?\d{1,5}(?:\.\d{1,3})?)(?=;|$)", re.ASCII)
LABELS: Final = {
    "how_open": "How far open",
    "way": "Which way",
    "force": "What the scale read",
    "more": "How much more than your weight",
    "doubt": "Give or take",
    "scale": "Read with",
    "temperature": "How warm",
    "after": "Set of readings",
    "hole": "Hole",
    "step": "After which step",
    "what": "What was measured",
    "reads": "What the tape read",
}
"""What the fields of the forms are called, on the page and in a fault."""


def reading_changes(project: Project, form: Mapping[str, str]) -> tuple[dict[str, Value], str]:
    """Return the entry of a reading that was typed, as a change of the file, and the reading in words.

    A number alone has the unit of the form. Errors: ProjectFault that names the field.
    """
    say = Wording(project.settings.units)
    fields = dict(form)
    share, space, way = form.get("station", "").partition(" % ")
    if space:
        fields |= {"how_open": f"{share} %", "way": way}
    warm = "C" if project.settings.units == "metric" else "F"
    texts = {
        "after": fields.get("after", "").strip() or "1",
        "how_open": _with_unit(fields.get("how_open", ""), "%"),
        "way": fields.get("way", "").strip(),
        "force": _force(fields.get("force", ""), fields.get("doubt", ""), say),
        "scale": fields.get("scale", "").strip() or USUAL.get(fields.get("way", ""), "luggage scale"),  # type: ignore[call-overload]
        "temperature": _with_unit(fields.get("temperature", ""), warm),
    }
    number = len(project.reading)
    off = _with_unit(fields.get("doubt", ""), say.hand_force_unit()[0])
    fault = fault_of("reading.0.force", off, project.settings.units) if off else None
    if fault is not None:
        raise ProjectFault([replace(fault, where=LABELS["doubt"])])
    return _entry(project, "reading", number, texts, needed=("how_open", "way", "force")) | _sat(
        project, number, fields.get("hole", "")
    ), f"{texts['way']} at {texts['how_open']} open, {_with_unit(form.get('force', ''), say.hand_force_unit()[0])}"


def misread(project: Project, plan: ReadingPlan, key: str) -> str:
    """Return what is said of the project's last reading where it is far from what its station expects, else nothing.

    `plan` is that before the reading was written, `key` names the station.
    """
    station = next((one for one in plan.stations if one.key == key), None)
    if station is None or not project.reading:
        return ""
    read = project.reading[-1].force.nominal
    if read - station.expected <= FAR or read <= FAR_TIMES * station.expected:
        return ""
    about = Wording(project.settings.units).force_hand(station.expected)
    return f"Saved, though about {about} was expected: is it a misreading?"


def tape_changes(project: Project, form: Mapping[str, str]) -> tuple[dict[str, Value], str]:
    """Return the entry of a tape reading that was typed, as a change of the file, and the reading in words.

    Errors: ProjectFault that names the field.
    """
    unit = "mm" if project.settings.units == "metric" else "in"
    reads = _with_unit(form.get("reads", ""), unit)
    texts = {
        "step": form.get("step", "").strip(),
        "what": form.get("what", "").strip(),
        "how_open": _with_unit(form.get("how_open", ""), "%"),
        "reads": reads if without_word(reads)[1] else with_word(reads, "measured"),
    }
    changes = _entry(project, "tape", len(project.tape), texts, needed=("step", "what", "reads"))
    return changes, f"{texts['what']} after the {texts['step']}, {reads}"


def stands(text: str, changes: Mapping[str, Value]) -> bool:
    """Whether an entry with just these values stands in the text of a project file already."""
    there = written(text)
    section = next(iter(changes)).split(".")[0]
    return any(
        all(there.text(f"{section}.{k}.{path.split('.', 2)[2]}") == str(value) for path, value in changes.items())
        for k in range(there.count(section))
    )


def _with_unit(text: str, unit: str) -> str:
    """Return a text with the unit where a number stands alone."""
    bare = text.strip()
    return f"{bare} {unit}" if bare and _NUMBER.fullmatch(bare) else bare


def _force(text: str, doubt: str, say: Wording) -> str:
    """Return a force as the file has it; without a doubt that was typed, the scale's own is taken when it is used."""
    unit, bare, off = say.hand_force_unit()[0], text.strip(), doubt.strip()
    if not bare:
        return ""
    if not off:
        return _with_unit(bare, unit)
    return f"{_with_unit(bare, unit)} +- {_with_unit(off, unit)}, measured"


def _entry(
    project: Project, section: str, number: int, texts: Mapping[str, str], needed: tuple[str, ...]
) -> dict[str, Value]:
    """Return a new entry of a list; each text is read by itself first. Errors: ProjectFault."""
    faults, found = [], {}
    for key, text in texts.items():
        path = f"{section}.{number}.{key}"
        if not text and key in needed:
            faults.append(Fault(LABELS[key], "empty", "a reading needs it", "write what you read"))
        elif text:
            fault = fault_of(path, text, project.settings.units)
            if fault is not None:
                faults.append(replace(fault, where=LABELS[key]))
            elif text in ("unknown", "?"):
                faults.append(Fault(LABELS[key], "unknown", "a reading has a number", "leave the reading out"))
            found[path] = typed(path, text)
    if faults:
        raise ProjectFault(faults)
    return found


def _sat(project: Project, number: int, hole: str) -> dict[str, Value]:
    """Return where the spring sat, where a form says that it was another hole than that of the file."""
    ends = _HOLE.findall(hole)
    if not ends or len(project.spring) != 1:
        return {}
    found: dict[str, Value] = {f"reading.{number}.spring": project.spring[0].name}
    for end, x, z in ends:
        for axis, text in (("x", x), ("z", z)):
            at = format_quantity(exact(float(text) / 1000.0), Dimension.LENGTH, project.settings.units)
            found[f"reading.{number}.{end}.{axis}"] = at
    return found
