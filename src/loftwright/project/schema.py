"""The project file's form for editors (JSON Schema) and for readers (a reference page), from the model."""

from __future__ import annotations

from typing import Any, cast

from loftwright.core.units import Dimension
from loftwright.project.keys import HINGED_END, Choice, Count, Key, Member, Section, Spot, Words, YesNo, members
from loftwright.project.model import FORMAT, Project
from loftwright.project.reading import LONGEST_TEXT, say

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schema() -> dict[str, Any]:
    """Return the project file's JSON Schema (draft 2020-12), for editors that check and complete TOML.

    It knows names, kinds and choices. Whether a quantity reads well and lies within its range, and whether
    the roof can be built, only reading the file tells.
    """
    schema = _table(Project)
    return {"$schema": DIALECT, "title": "Loftwright project file", **schema}


def _table(table: type[Section]) -> dict[str, Any]:
    return {
        "type": "object",
        "description": _first_line(table),
        "properties": {member.key: _member(member) for member in members(table)},
        "required": [member.key for member in members(table) if _needed(member)],
        "additionalProperties": False,
    }


def _needed(member: Member) -> bool:
    """Whether a key or section must stand in a file: a section must when it holds a key that must."""
    if member.table is not None and member.about is None and not member.many and not member.optional:
        return any(part.required for part in members(member.table))
    return member.required


def _member(member: Member) -> dict[str, Any]:
    about = member.about
    if isinstance(about, Spot):
        point = _point(about)
        return (
            {"type": "array", "items": point, "maxItems": member.most, "description": about.meaning}
            if member.many
            else point
        )
    if about is None:
        table = _table(cast(type[Section], member.table))
        return {"type": "array", "items": table, "maxItems": member.most} if member.many else table
    return _value(member)


def _value(member: Member) -> dict[str, Any]:
    about = member.about
    if isinstance(about, Key):
        return _quantity(about)
    if isinstance(about, Choice):
        words = list(dict.fromkeys([*member.words, "unknown"]))
        found: dict[str, Any] = {"enum": words, "description": about.meaning}
        return found if about.default is None else {**found, "default": about.default}
    if isinstance(about, Count):
        if member.key == "format":
            return {"const": FORMAT, "description": about.meaning}
        number: dict[str, Any] = {"type": "integer", "minimum": about.low, "maximum": about.high}
        found = number if about.default is None else {"anyOf": [number, {"const": "unknown"}]}
        return {**found, "description": about.meaning, "default": about.default}
    if isinstance(about, YesNo):
        return {"enum": [True, False, "unknown"], "description": about.meaning, "default": about.default}
    text = cast(Words, about)
    found = {"type": "string", "minLength": 1, "maxLength": LONGEST_TEXT, "description": text.meaning}
    if text.pattern:
        found["pattern"] = f"^({text.pattern}|unknown)$"
    return found if text.default is None else {**found, "default": text.default}


def _quantity(key: Key) -> dict[str, Any]:
    kind: dict[str, Any] = {"type": "string", "minLength": 1, "maxLength": LONGEST_TEXT}
    if key.dimension is Dimension.PLAIN:
        kind = {"anyOf": [kind, {"type": "number"}]}
    found = {**kind, "description": f"{key.meaning}. Allowed: {_allowed(key)}. If unknown: {_unknown(key)}."}
    return found if key.default is None else {**found, "default": key.default}


def _point(spot: Spot) -> dict[str, Any]:
    pair = {"type": "array", "prefixItems": [_quantity(spot.x), _quantity(spot.z)], "minItems": 2, "maxItems": 2}
    return {"anyOf": [pair, {"const": "unknown"}], "description": spot.meaning}


def _first_line(table: type[Section]) -> str:
    return (table.__doc__ or "").strip().splitlines()[0]


# --- words -----------------------------------------------------------------------------------------


def _range(low: float, high: float, dimension: Dimension) -> str:
    return f"{say(low, dimension, 'metric')} to {say(high, dimension, 'metric')}"


def _allowed(key: Key) -> str:
    return _range(key.low, key.high, key.dimension)


def _unknown(key: Key) -> str:
    low, high = key.unknown
    if key.per == HINGED_END:
        span = f"{low * 100:g} to {high * 100:g} % of the opening's length from the hinged end"
    elif key.per:
        span = f"{low:g} to {high:g} times {key.per}"
    else:
        span = _range(low, high, key.dimension)
    if key.beside is not None:
        other, least, most = key.beside
        span += f" ({least:g} to {most:g} times {other} where that is known)"
    return f"{span}, {key.unknown_reason}"


def _left_out(member: Member) -> str:
    about = member.about
    if member.required:
        return "must be written"
    if isinstance(about, Key) and about.same_as:
        return f"as {about.same_as}"
    if isinstance(about, YesNo):
        return f"{'true' if about.default else 'false'}: {about.default_reason}"
    default = getattr(about, "default", None)
    if default is None:
        return "see there" if "left out" in getattr(about, "meaning", "") else "nothing is taken"
    reason = getattr(about, "default_reason", "")
    return f"{default}: {reason}" if reason else str(default)


_INTRO = """# The project file

<!-- Written from the model by loftwright.project.schema.reference_page; change it there. -->

One TOML file holds every decision and every measurement once. The first line is `format = {format}`.
Every fault is listed at once, with what to do. Editors that check TOML can use the JSON Schema.

## How to write a quantity

A quantity stands in quotes with its unit: `"1.9 m"`, `"1,9 m, measured"`, `"5 ft 3 1/2 in"`, `"118 lb"`, `"-5 C"`.
A force may be written in `N`, or in `kg` and `lb` as scales read it. A bare number is refused where a unit is needed.

| written | means |
| --- | --- |
| `"46 kg"` | a decision, taken as exact |
| `"46 +- 2 kg"` | a normal spread; 2 kg is two standard deviations |
| `"40 .. 50 kg"` | any value within is as likely as any other |
| `"46 kg, measured"` | with the instrument's doubt: tape 3 mm, scales 0.5 kg, angle 0.5 degree, thermometer 1 degree |
| `"46 kg, label"` | from a label or a list, taken as exact |
| `"46 kg, suggested"` | proposed by the program in a new file, taken as exact; take the word away when you agree |
| `"46 kg, assumed"` | within 10 %; a length at least 5 mm, a temperature 3 degrees, an angle 2 degrees either way |
| `"unknown"` | the range that the key's line below names |

`"unknown"` is a legal answer to every quantity, point, choice and yes-or-no. A doubt that follows from a word alone
is narrowed on both sides alike where it would leave what is allowed; a range that you write must lie within it.

## Where points lie

All points are given for the closed roof, as `[x, z]`: x from the middle of the rear edge of the opening towards the
cab, z upwards from the roof at the opening.
"""


def reference_page() -> str:
    """Return the reference page of the project file (Markdown)."""
    lines = [_INTRO.format(format=FORMAT), "## Keys outside any section", "", *_rows(Project, tables=False)]
    for member in members(Project):
        if member.table is not None:
            lines += _chapter(member, f"[[{member.key}]]" if member.many else f"[{member.key}]")
    return "\n".join(lines) + "\n"


def _chapter(member: Member, heading: str) -> list[str]:
    table = cast(type[Section], member.table)
    often = (
        f"At most {member.most} of these."
        if member.many
        else "May be left out."
        if not _needed(member)
        else "Must be there."
    )
    lines = ["", f"## `{heading}`", "", f"{_first_line(table)} {often}", "", *_rows(table, tables=True)]
    for part in members(table):
        if part.about is None and part.table is not None:
            lines += [
                "",
                f"### `{part.key}` in `{heading}`",
                "",
                *_doc(part.table),
                "",
                *_rows(part.table, tables=True),
            ]
    return lines


def _doc(table: type[Section]) -> list[str]:
    return [line.strip() for line in (table.__doc__ or "").strip().splitlines()]


def _rows(table: type[Section], *, tables: bool) -> list[str]:
    lines = ["| key | what it is | allowed | unknown stands for | left out |", "| --- | --- | --- | --- | --- |"]
    for member in members(table):
        if member.about is None:
            if tables:
                what = f"a list of at most {member.most} tables, see below" if member.many else "a table, see below"
                lines.append(f"| `{member.key}` | {what} | | | {'nothing is taken' if member.optional else 'none'} |")
            continue
        lines += _row(member)
    return lines


def _row(member: Member) -> list[str]:
    about = member.about
    if isinstance(about, Spot):
        pairs = f"at most {member.most} of `[x, z]`" if member.many else "`[x, z]`"
        rows = [f"| `{member.key}` | {about.meaning} | {pairs} | both unknown | {_left_out(member)} |"]
        return rows + [
            f"| `{member.key}` {n} | | {_allowed(key)} | {_unknown(key)} | |"
            for n, key in (("x", about.x), ("z", about.z))
        ]
    allowed, unknown = "", ""
    if isinstance(about, Key):
        allowed, unknown = _allowed(about), _unknown(about)
    elif isinstance(about, Choice):
        allowed, unknown = ", ".join(f"`{word}`" for word in member.words), f"`{about.unknown}`, {about.unknown_reason}"
    elif isinstance(about, Count):
        allowed = f"{FORMAT}" if member.key == "format" else f"whole number, {about.low} to {about.high}"
        unknown = "refused" if about.default is None else str(about.default)
    elif isinstance(about, YesNo):
        allowed, unknown = "`true`, `false`", "true" if about.default else "false"
    elif isinstance(about, Words):
        allowed = about.allowed or f"text, at most {LONGEST_TEXT} characters"
        unknown = about.default or ""
    meaning = about.meaning if about is not None else ""
    return [f"| `{member.key}` | {meaning} | {allowed} | {unknown} | {_left_out(member)} |"]
