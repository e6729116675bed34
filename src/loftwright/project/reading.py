"""From the tables of a project file to the model, with every fault listed at once."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, cast

from loftwright.core.amounts import QuantityError
from loftwright.core.choices import SIDES, Units
from loftwright.core.errors import Fault, NewerFormat, ProjectFault
from loftwright.core.quantities import parse
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Provenance, Uncertain, even, exact
from loftwright.core.units import Dimension
from loftwright.project.choice_sections import AtHand
from loftwright.project.keys import HINGED_END, Choice, Count, Key, Member, Section, Spot, Words, YesNo, members
from loftwright.project.model import FORMAT, Project, key_of
from loftwright.project.motion_sections import Spring
from loftwright.project.plane import CROSSWISE, LENGTHWISE, Plane
from loftwright.project.points import Point
from loftwright.project.shell_sections import Shell
from loftwright.project.spring_doubt import settled

LONGEST_TEXT = 200
"""The most characters of a text."""

_RANGE = re.compile(r"\+-|\+/-|±|\.\.|\sto\s")
"""How a builder writes a range."""


def fault_title(name: str, faults: Sequence[Fault]) -> str:
    """Return the line above the faults of a file."""
    return f"{name} cannot be used as it stands ({len(faults)} {'fault' if len(faults) == 1 else 'faults'}):"


def quoted(value: object) -> str:
    """Return what stands in the file as a short text for a message."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        shown = value if len(value) <= 60 else f"{value[:57]}..."
        return f'"{shown if shown.isprintable() else shown.encode("unicode_escape").decode("ascii")}"'
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, int):
        return str(value) if abs(value) < 10**12 else "a number of many digits"
    if isinstance(value, float):
        return f"{value:g}"
    return "a date or time"


def say(value: float, dimension: Dimension, units: Units) -> str:
    """Return an exact SI value as messages say it, to four digits."""
    return format_quantity(exact(value), dimension, units, digits=4)


def is_unknown(value: object) -> bool:
    """Whether the builder wrote that this is not known, in any of the ways that a quantity allows."""
    return isinstance(value, str) and len(value) <= LONGEST_TEXT and _says_unknown(value)


@lru_cache(maxsize=4096)
def _says_unknown(text: str) -> bool:
    """Return what `is_unknown` does of a short text; most are words that no quantity starts with, slow to refuse."""
    try:
        return parse(text, Dimension.PLAIN, unknown=(0.0, 1.0)).provenance is Provenance.UNKNOWN
    except QuantityError:
        return False


def nearest(word: str, known: Sequence[str]) -> str:
    """Return the known word most like `word`, or an empty text."""
    found = difflib.get_close_matches(word.casefold(), known, n=1, cutoff=0.6)
    return found[0] if found else ""


def place(section: str, number: int | None, *rest: str) -> str:
    """Return where a key stands, as messages write it: "[shell] mass", "[[spring]] 1 foot x"."""
    head = f"[{section}]" if number is None else f"[[{section}]] {number + 1}"
    return " ".join([head, *rest]) if section else " ".join(rest)


@dataclass(slots=True)
class _Reader:
    """The tables of one file and what was found wrong with them."""

    document: Mapping[str, Any]
    faults: list[Fault] = field(default_factory=list)
    taken: list[str] = field(default_factory=list)

    @property
    def units(self) -> Units:
        settings = self.document.get("settings")
        return "imperial" if isinstance(settings, Mapping) and settings.get("units") == "imperial" else "metric"

    @property
    def plane(self) -> Plane:
        """The plane in which the shell moves, by what is written for the end of its linkage."""
        linkage = self.document.get("linkage")
        return CROSSWISE if isinstance(linkage, Mapping) and linkage.get("end") in SIDES else LENGTHWISE

    def fault(self, where: str, given: str, allowed: str, do: str) -> None:
        self.faults.append(Fault(where, given, allowed, do))

    def settle_linkage(self) -> None:
        """Take an unknown kind and end of the linkage from the pivots that are written."""
        linkage = self.document.get("linkage")
        if not isinstance(linkage, Mapping):
            return
        settled = dict(linkage)
        arms = any(key.startswith("arm_") and key != "arm_width" for key in linkage)
        if is_unknown(linkage.get("kind")) and arms:
            settled["kind"] = "four-bar"
            self.taken.append('[linkage] kind is unknown: taken as "four-bar" (arms are written).')
        pivot = linkage.get("arm_a_van" if arms else "hinge")
        if is_unknown(linkage.get("end")) and isinstance(pivot, list) and len(pivot) == 2 and not is_unknown(pivot[0]):
            axis = self.parsed(pivot[0], Key(Dimension.LENGTH, -10, 10, "", (0, 1), ""), {})
            if axis is not None:
                end = settled["end"] = "front" if axis.nominal > self.quiet("opening.length", {}) / 2 else "rear"
                self.taken.append(f'[linkage] end is unknown: taken as "{end}" (the pivots lie there).')
        self.document = {**self.document, "linkage": settled}

    # --- quantities -------------------------------------------------------------------------------

    def unknown_range(self, key: Key, table: Mapping[str, Any]) -> tuple[float, float]:
        """Return the range taken for "unknown" in SI, cut at what is allowed."""
        low, high = key.unknown
        if key.beside is not None:
            path, least, most = key.beside
            if (other := self.known(path, table)) is not None:
                low, high = least * other, most * other
        if key.per == HINGED_END:
            length = self.quiet(self.plane.opening, table)
            linkage = self.document.get("linkage")
            if isinstance(linkage, Mapping) and linkage.get("end") in ("rear", "left"):
                low, high = low * length, high * length
            else:
                low, high = length * (1 - high), length * (1 - low)
        elif key.per:
            along = {LENGTHWISE.opening: self.plane.opening, LENGTHWISE.opening_across: self.plane.opening_across}
            along[LENGTHWISE.shell] = self.plane.shell
            # The shell's own sizes go with those of the opening; everything else lies in the plane of motion.
            scale = self.quiet(key.per if key in _SIZES else along.get(key.per, key.per), table)
            low, high = low * scale, high * scale
        return max(min(low, key.high), key.low), max(min(high, key.high), key.low)

    def looked_up(self, path: str, table: Mapping[str, Any]) -> tuple[Key, object]:
        """Return what is said of a key and what stands there; a path of one step is a key of a spring's `table`."""
        *sections, name = path.split(".")
        holder: Any = self.document.get(sections[0]) if sections else table
        section = next(m.table for m in members(Project) if m.key == (sections[0] if sections else "spring"))
        key = next(m.about for m in members(cast(type[Section], section)) if m.key == name)
        return cast(Key, key), holder.get(name) if isinstance(holder, Mapping) else None

    def known(self, path: str, table: Mapping[str, Any]) -> float | None:
        """Return the nominal value that is written for a key, None when there is none or it is unknown."""
        key, text = self.looked_up(path, table)
        try:
            value = parse(cast(str, text), key.dimension, unknown=(key.low, key.high))
        except (QuantityError, OverflowError):
            return None
        return None if value.provenance is Provenance.UNKNOWN else min(max(value.nominal, key.low), key.high)

    def quiet(self, path: str, table: Mapping[str, Any]) -> float:
        """Return the nominal value of a key before its faults are looked for: as written, else as if unknown."""
        value = self.known(path, table)
        if value is None:
            low, high = self.unknown_range(self.looked_up(path, table)[0], table)
            value = (low + high) / 2
        return value

    def parsed(self, text: str, key: Key, table: Mapping[str, Any]) -> Uncertain | None:
        try:
            return parse(text, key.dimension, unknown=self.unknown_range(key, table))
        except (QuantityError, OverflowError):
            return None

    def quantity(self, where: str, value: object, key: Key, table: Mapping[str, Any]) -> Uncertain | None:
        """Return the quantity that stands at `where`, or None after listing its fault."""
        if isinstance(value, float) and not math.isfinite(value):
            self.fault(
                where, quoted(value), "a quantity is a finite number", 'write the number with its unit, or "unknown"'
            )
            return None
        if (
            isinstance(value, bool)
            or not isinstance(value, (str, int, float))
            or (isinstance(value, int) and abs(value) > 10**12)
        ):
            self.fault(
                where, quoted(value), "a quantity is one text in quotes", 'write the number with its unit, or "unknown"'
            )
            return None
        try:
            found = parse(value, key.dimension, unknown=self.unknown_range(key, table))
        except QuantityError as error:
            self.faults.append(error.fault(where))
            return None
        return self.bounded(where, str(value), found, key)

    def bounded(self, where: str, text: str, found: Uncertain, key: Key) -> Uncertain | None:
        """Return the quantity inside what is allowed, or None after listing the fault.

        Ends that the builder wrote must be allowed. A spread that follows from a word alone is narrowed.
        """
        low, high = _slack(key)
        if not low <= found.nominal <= high:
            inside = "must lie within"
        elif not (low <= found.low and found.high <= high) and _RANGE.search(text):
            inside = "the whole range must lie within"
        else:
            return narrowed(found, key)
        least, most = (say(end, key.dimension, self.units) for end in (key.low, key.high))
        self.fault(where, quoted(text), f"{inside} {least} to {most}", "check the number and its unit")
        return None

    # --- other kinds of key -----------------------------------------------------------------------

    def choice(self, where: str, value: object, about: Choice, words: tuple[str, ...]) -> str | None:
        if is_unknown(value):
            if about.unknown != "unknown":
                self.taken.append(f'{where} is unknown: taken as "{about.unknown}" ({about.unknown_reason}).')
            return about.unknown
        if isinstance(value, str) and value in words:
            return value
        listed = ", ".join(f'"{word}"' for word in words)
        near = nearest(value, words) if isinstance(value, str) else ""
        folded = {word.casefold(): word for word in words}
        near = folded.get(value.strip().casefold(), near) if isinstance(value, str) else near
        self.fault(
            where,
            quoted(value),
            f"must be one of {listed}",
            f'write "{near}"' if near else 'choose one of them or write "unknown"',
        )
        return None

    def count(self, where: str, value: object, about: Count) -> int | None:
        if is_unknown(value) and about.default is not None:
            self.taken.append(f"{where} is unknown: taken as {about.default} ({about.default_reason}).")
            return about.default
        if isinstance(value, int) and not isinstance(value, bool) and about.low <= value <= about.high:
            return value
        self.fault(
            where,
            quoted(value),
            f"must be a whole number from {about.low} to {about.high} without quotes",
            f"write for example {about.default if about.default is not None else about.low}",
        )
        return None

    def yes_no(self, where: str, value: object, about: YesNo) -> bool | None:
        if isinstance(value, bool):
            return value
        if is_unknown(value):
            self.taken.append(f"{where} is unknown: taken as {quoted(about.default)} ({about.default_reason}).")
            return about.default
        self.fault(where, quoted(value), "must be true or false without quotes", "write true or false")
        return None

    def words(self, where: str, value: object, about: Words) -> str | None:
        if is_unknown(value) and about.default is not None:
            return about.default
        allowed = about.allowed or f"a text of 1 to {LONGEST_TEXT} characters on one line, in quotes"
        fits = (
            isinstance(value, str)
            and 0 < len(value.strip()) <= LONGEST_TEXT
            and value.isprintable()
            and (not about.pattern or re.fullmatch(about.pattern, value) is not None)
        )
        if fits:
            return cast(str, value)
        self.fault(where, quoted(value), f"must be {allowed}", "correct it")
        return None

    def point(self, where: str, value: object, about: Spot, member: Member, table: Mapping[str, Any]) -> Section | None:
        if is_unknown(value):
            value = ["unknown", "unknown"]
        if not isinstance(value, list) or len(value) != 2:
            self.fault(
                where,
                quoted(value),
                "a point is two quantities in brackets, x then z",
                'write it like ["1.9 m", "-60 mm"]',
            )
            return None
        x = self.quantity(f"{where} x", value[0], about.x, table)
        z = self.quantity(f"{where} z", value[1], about.z, table)
        if x is None or z is None:
            return None
        return Point(x=x, z=z)

    # --- tables -----------------------------------------------------------------------------------

    def unknown_keys(self, where: str, table: Mapping[str, Any], known: Sequence[str]) -> None:
        for name in table:
            if name in known:
                continue
            near = nearest(name, known)
            said = f'the nearest is "{near}"' if near else f"known here: {', '.join(known)}"
            self.fault(f"{where} {short(name)}", "not a known key", said, "correct it or take it out")

    def section(
        self, where: str, table: Mapping[str, Any], model: type[Section], more: Mapping[str, Any]
    ) -> Section | None:
        """Return one table as its model, or None after listing its faults."""
        before = len(self.faults)
        self.unknown_keys(where, table, [m.key for m in members(model)])
        values: dict[str, Any] = dict(more)
        for member in members(model):
            if member.attribute in values:
                continue
            at = f"{where} {member.key}"
            if member.key in table:
                values[member.attribute] = self.member(at, table[member.key], member, table)
            elif member.required:
                self.missing(at, member)
            else:
                values[member.attribute] = self.left_out(member, table)
        return model(**values) if len(self.faults) == before else None

    def missing(self, where: str, member: Member) -> None:
        about = member.about
        meaning = about.meaning if about is not None else "a table"
        if isinstance(about, (Key, Spot)):
            do = 'write it, or "unknown"'
        elif isinstance(about, Choice):
            do = "choose one of " + ", ".join(f'"{word}"' for word in member.words)
        else:
            do = "write it"
        self.fault(where, "missing", meaning, do)

    def member(self, where: str, value: object, member: Member, table: Mapping[str, Any]) -> Any:
        about = member.about
        if member.many:
            return self.list_of(where, value, member, table)
        if isinstance(about, Key):
            return self.quantity(where, value, about, table)
        if isinstance(about, Spot):
            return self.point(where, value, about, member, table)
        if isinstance(about, Choice):
            return self.choice(where, value, about, member.words)
        if isinstance(about, Count):
            return self.count(where, value, about)
        if isinstance(about, YesNo):
            return self.yes_no(where, value, about)
        if isinstance(about, Words):
            return self.words(where, value, about)
        if not isinstance(value, Mapping):
            self.fault(
                where, quoted(value), "this is a table of its own", f"write a section with the heading [{member.key}]"
            )
            return None
        return self.section(where, value, cast(type[Section], member.table), {})

    def list_of(self, where: str, value: object, member: Member, table: Mapping[str, Any]) -> tuple[Any, ...] | None:
        if is_unknown(value):
            return ()
        if not isinstance(value, list):
            self.fault(where, quoted(value), "this is a list", "put it in brackets [ ]")
            return None
        if len(value) > member.most:
            self.fault(
                where, f"a list of {len(value)}", f"at most {member.most} entries are read", "keep the ones that matter"
            )
            return None
        found: list[Any] = []
        for number, part in enumerate(value):
            at = f"{where} {number + 1}"
            if isinstance(member.about, Spot):
                if is_unknown(part) or (isinstance(part, list) and part and is_unknown(part[0])):
                    self.taken.append(f"{at} x is unknown: the point is left out.")
                else:
                    found.append(self.point(at, part, member.about, member, table))
            elif isinstance(part, Mapping):
                found.append(self.section(at, part, cast(type[Section], member.table), {}))
            else:
                self.fault(
                    at,
                    quoted(part),
                    "each entry is a table",
                    'write it like { at = "0.1 m", other = "2.0 m", reads = "24 kg" }',
                )
        return tuple(found)

    def left_out(self, member: Member, table: Mapping[str, Any]) -> Any:
        about = member.about
        if member.many:
            return ()
        if member.optional:
            return None
        if isinstance(about, Key):
            if about.same_as:
                return self.same_as(about.same_as)
            return self.bounded("", cast(str, about.default), self.sure(about, table), about)
        return getattr(about, "default", None)

    def sure(self, key: Key, table: Mapping[str, Any]) -> Uncertain:
        return parse(cast(str, key.default), key.dimension, unknown=self.unknown_range(key, table))

    def same_as(self, path: str) -> Uncertain:
        """Return the value that another key has."""
        key, text = self.looked_up(path, {})
        found = self.parsed(text, key, {}) if isinstance(text, str) else None
        return self.sure(key, {}) if found is None else found


def _slack(key: Key) -> tuple[float, float]:
    """Return what is allowed, opened by the rounding of a change of units."""
    slack = 1e-9 * max(abs(key.low), abs(key.high))
    return key.low - slack, key.high + slack


def narrowed(value: Uncertain, key: Key) -> Uncertain:
    """Return the value with its spread narrowed on both sides alike until it is allowed."""
    low, high = _slack(key)
    if low <= value.low and value.high <= high:
        return value
    room = max(0.0, min(value.nominal - key.low, key.high - value.nominal))
    if room == 0:
        return exact(value.nominal, value.provenance)
    return Uncertain(value.nominal, value.nominal - room, value.nominal + room, value.shape, value.provenance)


def short(name: str) -> str:
    """Return a key's name, cut when it is very long."""
    name = name if name.isprintable() else name.encode("unicode_escape").decode("ascii")
    return name if len(name) <= 40 else f"{name[:37]}..."


def to_project(document: Mapping[str, Any], name: str) -> Project:
    """Return the project that the tables of a file hold.

    Errors: ProjectFault with every fault; NewerFormat for a file of a later version.
    """
    _format(document, name)
    reader = _Reader(document)
    reader.settle_linkage()
    values: dict[str, Any] = {"format": FORMAT}
    known = [m.key for m in members(Project)]
    for key, value in document.items():
        if key not in known:
            _stranger(reader, key, value, known)
    for member in members(Project):
        if member.key == "format":
            continue
        given = reader.document.get(member.key)
        if member.table is None:
            if given is None:
                reader.missing(member.key, member)
            else:
                values[member.attribute] = reader.member(member.key, given, member, document)
        elif member.many:
            values[member.attribute] = _tables(reader, member, given)
        elif given is None and member.optional:
            values[member.attribute] = None
        elif given is not None and not isinstance(given, Mapping):
            reader.fault(
                f"[{member.key}]",
                quoted(given),
                "this is a section",
                f"write [{member.key}] on a line of its own and its keys below",
            )
        else:
            values[member.attribute] = _section(reader, member, given, values)
    if reader.faults:
        raise ProjectFault(reader.faults, fault_title(name, reader.faults))
    project = Project(**values, taken=tuple(reader.taken))
    return project


def _stranger(reader: _Reader, key: str, value: object, known: Sequence[str]) -> None:
    """List a name outside any section that the file does not know."""
    near = nearest(key, known)
    if isinstance(value, (Mapping, list)):
        said = f"the nearest is {_heading(near)}" if near else f"known: {', '.join(map(_heading, known))}"
        reader.fault(f"[{short(key)}]", "not a known section", said, "correct it or take it out")
        return
    homes = [m.key for m in members(Project) if m.table is not None and key in (part.key for part in members(m.table))]
    if homes:
        said = f"this key belongs to {' or '.join(map(_heading, homes))}"
        reader.fault(key, "outside any section", said, "move it below that heading")
    else:
        said = f"the nearest is {_heading(near)}" if near else "only format and name stand there"
        reader.fault(short(key), "not a known key outside the sections", said, "correct it or take it out")


def _heading(key: str) -> str:
    member = next((m for m in members(Project) if m.key == key), None)
    if member is None or member.table is None:
        return key
    return f"[[{key}]]" if member.many else f"[{key}]"


def _format(document: Mapping[str, Any], name: str) -> None:
    if "format" not in document:
        do = f"write format = {FORMAT} on the first line, or make a file with loftwright new"
        raise ProjectFault([Fault("format", "missing", f"{name} must say its version", do)])
    found = document["format"]
    if isinstance(found, bool) or not isinstance(found, int) or found < 1:
        raise ProjectFault(
            [Fault("format", quoted(found), "must be a whole number without quotes", f"write format = {FORMAT}")]
        )
    if found > FORMAT:
        raise NewerFormat(
            [
                Fault(
                    f"format of {name}",
                    str(quoted(found)),
                    f"this version reads format {FORMAT}",
                    "use a newer version of Loftwright",
                )
            ]
        )


def _tables(reader: _Reader, member: Member, given: object) -> tuple[Any, ...]:
    if given is None:
        return ()
    heading = f"[[{member.key}]]"
    if not isinstance(given, list) or not all(isinstance(part, Mapping) for part in given):
        what = "a single section" if isinstance(given, Mapping) else quoted(given)
        reader.fault(heading, what, "there may be several of these", f"write the heading in double brackets, {heading}")
        return ()
    if len(given) > member.most:
        reader.fault(
            heading, f"written {len(given)} times", f"at most {member.most} are read", "keep the ones that matter"
        )
        return ()
    found = []
    for number, table in enumerate(given):
        where = f"{heading} {number + 1}"
        part = reader.section(where, table, cast(type[Section], member.table), {})
        if isinstance(part, (Spring, AtHand)):
            part, said = settled(
                part,
                where,
                reader.units,
                which_force=is_unknown(table.get("force_is")),
                which_friction=is_unknown(table.get("friction_is")),
            )
            reader.taken += said
        found.append(part)
    return tuple(found)


def _section(
    reader: _Reader, member: Member, given: Mapping[str, Any] | None, values: Mapping[str, Any]
) -> Section | None:
    model = cast(type[Section], member.table)
    where = f"[{member.key}]"
    if given is None:
        needed = [m.key for m in members(model) if m.required]
        if needed:
            reader.fault(where, "missing", f"it holds {', '.join(needed)}", "add the section")
            return None
        given = {}
    more: dict[str, Any] = {}
    if member.key == "shell":
        more |= _of_the_plane(reader, given)
    if member.key == "handle" and "at" not in given:
        lip = _lip(reader, values)
        if lip is None:
            return None
        more["at"] = lip
    if member.key == "linkage" and "opens" not in given and given.get("kind") != "guides":
        # Guides alone do not turn.
        reader.missing(f"{where} opens", next(m for m in members(model) if m.key == "opens"))
    return reader.section(where, given, model, more)


_SIZES = tuple(key_of(path) for plane in (LENGTHWISE, CROSSWISE) for path in (plane.shell, plane.overhang))
"""Sizes of the shell itself: their unknown ranges follow the same size of the opening in either plane."""


def _of_the_plane(reader: _Reader, given: Mapping[str, Any]) -> dict[str, Uncertain]:
    """Return the sizes in the plane across the van that are left out; list those that belong to the other plane."""
    found: dict[str, Uncertain] = {}
    across = reader.plane is CROSSWISE
    for here, there in zip(_own(LENGTHWISE), _own(CROSSWISE), strict=True):
        wrong, right = (here, there) if across else (there, here)
        if wrong in given:
            why = "a shell hinged at a side is measured across" if across else "only a shell hinged at a side has it"
            reader.fault(f"[shell] {wrong}", "written", why, f"write {right} in its place")
        if across and there not in given:
            key = key_of(f"shell.{there}")
            found[there] = parse("unknown", key.dimension, unknown=reader.unknown_range(key, given))
    return found


def _own(plane: Plane) -> tuple[str, ...]:
    """Return the names of the shell's sizes that only one plane has."""
    return tuple(path.split(".")[1] for path in (plane.heights[0], plane.heights[2], plane.overhang))


def _lip(reader: _Reader, values: Mapping[str, Any]) -> Section | None:
    """Return the lip of the closed shell, where the hand acts when nothing else is written."""
    shell, linkage = values.get("shell"), values.get("linkage")
    if not isinstance(shell, Shell) or linkage is None:
        return None
    across = linkage.end in SIDES
    behind, long = (shell.overhang_left, shell.width) if across else (shell.overhang_rear, shell.length)
    assert behind is not None
    x = -behind.nominal + (0.0 if linkage.end in ("front", "right") else long.nominal)
    z = shell.rim_height.nominal
    return Point(x=even(x - 0.02, x + 0.02), z=even(z - 0.02, z + 0.02))
