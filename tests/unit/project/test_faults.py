"""Every class of fault that a project file or a request can have, and what is said of it, word for word."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from loftwright.answers.book import book_page
from loftwright.answers.linking import wanted_of
from loftwright.answers.proof import prove
from loftwright.answers.sheet import sheet_page
from loftwright.core.errors import NewerFormat, ProjectFault
from loftwright.project.demos import demo_text
from loftwright.project.file import MOST_BYTES, edit, loads, read, stamp, write_new
from loftwright.project.newfile import FiveAnswers, new_project

PAGE = Path(__file__).parents[3] / "docs" / "how-to" / "faults.md"

BASE = """format = 1
name = "test roof"

[opening]
length = "2.0 m"
width = "1.15 m"

[shell]
length = "2.12 m"
width = "1.26 m"
overhang_rear = "60 mm"
mass = "62 +- 1 kg, measured"

[linkage]
kind = "hinge"
end = "front"
opens = "28 deg"
hinge = ["2.02 m", "30 mm"]

[[spring]]
foot = ["1.46 m", "-40 mm"]
head = ["1.07 m", "80 mm"]
force = "790 N, label"
stroke = "300 mm, label"
extended_length = "640 mm, label"
"""
ARMS = (
    BASE.replace('kind = "hinge"', 'kind = "four-bar"')
    .replace('opens = "28 deg"', 'opens = "47 deg"')
    .replace(
        'hinge = ["2.02 m", "30 mm"]',
        'arm_a_van = ["2.0 m", "-20 mm"]\narm_a_shell = ["1.67 m", "40 mm"]\n'
        'arm_b_van = ["1.88 m", "-70 mm"]\narm_b_shell = ["1.57 m", "-120 mm"]',
    )
)


SCISSOR = (
    BASE.replace('kind = "hinge"', 'kind = "scissor"')
    .replace('hinge = ["2.02 m", "30 mm"]', 'arm_a_van = ["1.8 m", "-150 mm"]\narm_a_shell = ["0.7 m", "150 mm"]')
)  # fmt: skip
GUIDES = (
    BASE.replace('kind = "hinge"', 'kind = "guides"')
    .replace('opens = "28 deg"', 'rise = "400 mm"')
    .replace(
        'hinge = ["2.02 m", "30 mm"]',
        'guide = ["1.9 m", "-200 mm"]\nguide_length = "300 mm"\nguide_friction = "0.2"',
    )
)
SIDE = (
    BASE.replace('overhang_rear = "60 mm"', 'overhang_left = "55 mm"\nheight_left = "120 mm"\nheight_right = "150 mm"')
    .replace('end = "front"', 'end = "right"')
    .replace('hinge = ["2.02 m", "30 mm"]', 'hinge = ["1.17 m", "30 mm"]')
    .replace('"1.46 m", "-40 mm"', '"0.7 m", "-60 mm"')
    .replace('"1.07 m", "80 mm"', '"0.4 m", "60 mm"')
)


def swap(old: str, new: str, base: str = BASE) -> str:
    assert base.count(old) == 1, old
    return base.replace(old, new)


def add(text: str, base: str = BASE) -> str:
    return base + text


ZONES = """[[zone]]
name = "ring"
on = "van"
from = ["1.3 m", "-70 mm"]
to = ["1.7 m", "-20 mm"]
place = "560 mm"
[[zone]]
name = "side"
on = "shell"
from = ["0.9 m", "40 mm"]
to = ["1.3 m", "90 mm"]
place = "560 mm"
"""
ZONE_ON_ARM = """[[zone]]
name = "ring"
on = "arm a"
from = ["1.3 m", "-70 mm"]
to = ["1.7 m", "-20 mm"]
place = "560 mm"
"""
AT_HAND = """[[at_hand]]
force = "500 N, label"
stroke = "250 mm"
extended_length = "560 mm"
rod_diameter = "8 mm"
tube_diameter = "18 mm"
"""
READING = """[[reading]]
how_open = "40 %"
way = "push up"
force = "9 kg, measured"
"""
TAPE = """[[tape]]
step = "springs"
what = "spring length"
reads = "560 mm, measured"
"""
BODY = """[body]
roof_length = "2.8 m, measured"
roof_width = "1.5 m, measured"
rear_edge = "0.3 m, measured"
"""
BRACE = """[brace]
kind = "bar"
"""
JOINT = """[[joint]]
at = "hinge on van"
layer = "steel sheet"
thickness = "0.8 mm"
"""
SECOND = """[[spring]]
name = "second"
foot = ["1.46 m", "-40 mm"]
head = ["1.07 m", "80 mm"]
force = "400 N, label"
stroke = "300 mm, label"
extended_length = "640 mm, label"
"""
WITHOUT_SPRING = BASE.partition("\n[[spring]]")[0] + "\n"


HINGE = 'hinge = ["2.02 m", "30 mm"]'


@dataclass(frozen=True)
class Case:
    title: str
    text: str
    message: str


CASES = [
    Case(
        "no format version",
        swap("format = 1\n", ""),
        (
            "format is missing: roof.toml must say its version; "
            "write format = 1 on the first line, or make a file with loftwright new."
        ),
    ),
    Case(
        "a format version that is no whole number",
        swap("format = 1", 'format = "1"'),
        'format is "1": must be a whole number without quotes; write format = 1.',
    ),
    Case(
        "a newer format version",
        swap("format = 1", "format = 2"),
        "format of roof.toml is 2: this version reads format 1; use a newer version of Loftwright.",
    ),
    Case(
        "a line that is no TOML",
        swap('mass = "62 +- 1 kg, measured"', "mass = 62 kg"),
        (
            "line 12 of roof.toml is not readable, mass = 62 kg: a line holds a [section], or a key "
            'with its value such as length = "1.9 m"; look for a missing quote, bracket or equals sign.'
        ),
    ),
    Case(
        "a key written twice",
        swap('width = "1.26 m"', 'length = "2.1 m"'),
        (
            'line 10 of roof.toml is a repetition, length = "2.1 m": every key and section is written '
            "once; take one of the two out."
        ),
    ),
    Case(
        "a section written twice",
        add('[opening]\nlength = "2 m"\n'),
        (
            "line 26 of roof.toml is a repetition, [opening]: every key and section is written once; "
            "take one of the two out."
        ),
    ),
    Case(
        "brackets nested too deeply",
        add("[roof]\nprofile = " + "[" * 2000 + "]" * 2000),
        ("roof.toml is beyond reading: brackets are nested too deeply or a number has too many digits; correct it."),
    ),
    Case(
        "a missing section",
        swap('[opening]\nlength = "2.0 m"\nwidth = "1.15 m"\n\n', ""),
        "[opening] is missing: it holds length, width; add the section.",
    ),
    Case(
        "an unknown section",
        add('[shel]\nmass = "3 kg"\n'),
        "[shel] is not a known section: the nearest is [shell]; correct it or take it out.",
    ),
    Case(
        "a section written as a value",
        swap("format = 1", 'format = 1\nvan = "1.4 m"'),
        '[van] is "1.4 m": this is a section; write [van] on a line of its own and its keys below.',
    ),
    Case(
        "a single section where several may be",
        add('[item]\nname = "vent"\n'),
        (
            "[[item]] is a single section: there may be several of these; write the heading in double "
            "brackets, [[item]]."
        ),
    ),
    Case(
        "a key outside any section",
        swap('name = "test roof"', 'name = "test roof"\nmass = "62 kg"'),
        "mass is outside any section: this key belongs to [shell] or [[item]] or [body] or [[layer]]; move it below "
        "that heading.",
    ),
    Case(
        "an unknown key",
        swap("overhang_rear", "overhang_read"),
        ('[shell] overhang_read is not a known key: the nearest is "overhang_rear"; correct it or take it out.'),
    ),
    Case(
        "a missing key",
        swap('opens = "28 deg"\n', ""),
        (
            "[linkage] opens is missing: how far it opens: hinge: how far the shell turns; arms: how "
            'far arm a swings; write it, or "unknown".'
        ),
    ),
    Case(
        "a missing choice",
        swap('kind = "hinge"\n', ""),
        (
            "[linkage] kind is missing: hinge: the shell turns about one axis; four-bar: two unlike "
            "arms a side; parallel arms: two equal ones; scissor: two crossing ones; guides: posts that slide "
            'straight; choose one of "hinge", "four-bar", "parallel arms", "scissor", "guides".'
        ),
    ),
    Case(
        "a bare number",
        swap('"2.12 m"', "2.12"),
        (
            "[shell] length is 2.12: it has no unit, and a length needs one (mm, cm, m, in or ft); "
            'write "2.12 m", if that is what you mean.'
        ),
    ),
    Case(
        "a number that is not finite",
        swap('"2.12 m"', "nan"),
        '[shell] length is nan: a quantity is a finite number; write the number with its unit, or "unknown".',
    ),
    Case(
        "true where a quantity is wanted",
        swap('"2.12 m"', "true"),
        ('[shell] length is true: a quantity is one text in quotes; write the number with its unit, or "unknown".'),
    ),
    Case(
        "a list where a quantity is wanted",
        swap('"2.12 m"', '["2.12 m"]'),
        (
            "[shell] length is a list of 1: a quantity is one text in quotes; write the number with "
            'its unit, or "unknown".'
        ),
    ),
    Case(
        "a text that is no quantity",
        swap('"2.12 m"', '"rather long"'),
        ('[shell] length is "rather long": it must start with a number, as a length is wanted; write it like "1.9 m".'),
    ),
    Case(
        "an empty text",
        swap('"2.12 m"', '""'),
        ('[shell] length is "": nothing is written, and a length is wanted; write it like "1.9 m" or "unknown".'),
    ),
    Case(
        "a quantity without a unit",
        swap('"2.12 m"', '"2.12"'),
        (
            '[shell] length is "2.12": it has no unit, and a length needs one (mm, cm, m, in or ft); '
            'write "2.12 m", if that is what you mean.'
        ),
    ),
    Case(
        "an unknown unit",
        swap('"2.12 m"', '"2.12 furlongs"'),
        (
            '[shell] length is "2.12 furlongs": "furlongs" is no unit for a length (allowed: mm, cm, '
            'm, in or ft); write it like "1.9 m".'
        ),
    ),
    Case(
        "a unit of another kind",
        swap('"2.12 m"', '"2.12 kg"'),
        (
            '[shell] length is "2.12 kg": kg is a unit of mass, and a length is wanted here (in mm, '
            'cm, m, in or ft); write it like "1.9 m".'
        ),
    ),
    Case(
        "a thousands mark",
        swap('"2.12 m"', '"2,120 mm"'),
        (
            '[shell] length is "2,120 mm": 2,120 has what looks like a thousands mark, and these are '
            "not used; write 2120 or 2.12, whichever you mean."
        ),
    ),
    Case(
        "an unknown word after the comma",
        swap('"62 +- 1 kg, measured"', '"62 kg, weighed"'),
        (
            '[shell] mass is "62 kg, weighed": after the comma comes one word, given, measured, label, '
            'suggested, assumed or unknown, and not "weighed"; write one of these words or nothing.'
        ),
    ),
    Case(
        "a negative quantity",
        swap('"62 +- 1 kg, measured"', '"-62 kg"'),
        '[shell] mass is "-62 kg": must lie within 3 kg to 250 kg; check the number and its unit.',
    ),
    Case(
        "a quantity far too large",
        swap('"62 +- 1 kg, measured"', '"62 t"'),
        '[shell] mass is "62 t": must lie within 3 kg to 250 kg; check the number and its unit.',
    ),
    Case(
        "a range that leaves what is allowed",
        swap('"62 +- 1 kg, measured"', '"4 +- 3 kg"'),
        ('[shell] mass is "4 +- 3 kg": the whole range must lie within 3 kg to 250 kg; check the number and its unit.'),
    ),
    Case(
        "a word that is no choice",
        swap('kind = "hinge"', 'kind = "hinges"'),
        (
            '[linkage] kind is "hinges": must be one of "hinge", "four-bar", "parallel arms", "scissor", "guides"; '
            'write "hinge".'
        ),
    ),
    Case(
        "a choice of another sort",
        swap('end = "front"', "end = 1"),
        ('[linkage] end is 1: must be one of "front", "rear", "left", "right"; choose one of them or write "unknown".'),
    ),
    Case(
        "a whole number written as a text",
        add('per_side = "2"\n'),
        ('[[spring]] 1 per_side is "2": must be a whole number from 1 to 4 without quotes; write for example 1.'),
    ),
    Case(
        "a whole number out of range",
        add("per_side = 9\n"),
        "[[spring]] 1 per_side is 9: must be a whole number from 1 to 4 without quotes; write for example 1.",
    ),
    Case(
        "yes or no written as a text",
        add('[requirements]\nprop_fitted = "yes"\n'),
        '[requirements] prop_fitted is "yes": must be true or false without quotes; write true or false.',
    ),
    Case(
        "a name that is empty",
        swap('"test roof"', '" "'),
        'name is " ": must be a text of 1 to 200 characters on one line, in quotes; correct it.',
    ),
    Case(
        "a currency that is none",
        add('[settings]\ncurrency = "euros"\n'),
        '[settings] currency is "euros": must be three capital letters such as "EUR"; correct it.',
    ),
    Case(
        "a point that is no pair",
        swap(HINGE, 'hinge = ["2.02 m"]'),
        (
            "[linkage] hinge is a list of 1: a point is two quantities in brackets, x then z; write it "
            'like ["1.9 m", "-60 mm"].'
        ),
    ),
    Case(
        "a list that is none",
        add('[weighing]\nreading = "62 kg"\n'),
        '[weighing] reading is "62 kg": this is a list; put it in brackets [ ].',
    ),
    Case(
        "an entry of a list that is no table",
        add('[weighing]\nreading = ["62 kg"]\n'),
        (
            '[weighing] reading 1 is "62 kg": each entry is a table; write it like { at = "0.1 m", '
            'other = "2.0 m", reads = "24 kg" }.'
        ),
    ),
    Case(
        "a list that is too long",
        add("[roof]\nprofile = [" + '["0 m", "0 m"],' * 61 + "]\n"),
        "[roof] profile is a list of 61: at most 60 entries are read; keep the ones that matter.",
    ),
    Case(
        "too many sections of a kind",
        add("".join(f'[[item]]\nname = "hook {n}"\nmass = "1 kg"\nx = "1 m"\nz = "0.2 m"\n' for n in range(41))),
        "[[item]] is written 41 times: at most 40 are read; keep the ones that matter.",
    ),
    Case(
        "a reach below the head",
        add('[person]\nheight = "1.8 m"\nreach = "1.7 m"\n'),
        (
            "[person] reach is 1.7 m: a stretched arm reaches above the head, at 1.8 m; measure again "
            "and correct one of the two."
        ),
    ),
    Case(
        "a roof profile of one point",
        add('[roof]\nprofile = [["0 m", "0 mm"]]\n'),
        ("[roof] profile is one point: a profile has at least two; add a point or leave it out for a flat roof."),
    ),
    Case(
        "a roof profile that turns back",
        add('[roof]\nprofile = [["0 m", "0 mm"], ["1 m", "5 mm"], ["0.9 m", "0 mm"]]\n'),
        (
            "[roof] profile 3 x is 900 mm: x must rise from point to point and the one before lies at "
            "1 m; put the points in order from rear to front."
        ),
    ),
    Case(
        "a bed that ends before it begins",
        add('[bed]\nfrom = "1.2 m"\nto = "0.2 m"\nheight = "-300 mm"\n'),
        '[bed] to is 200 mm: must lie nearer the cab than "from" at 1.2 m; swap them or correct one.',
    ),
    Case(
        "a shell too short for the opening",
        swap('"2.12 m"', '"2.0 m"'),
        (
            "[shell] length is 2 m: with 60 mm behind the opening it ends at 1.94 m and does not cover "
            "an opening of 2 m; shorten the opening or lengthen the shell."
        ),
    ),
    Case(
        "a shell too narrow for the opening",
        swap('"1.26 m"', '"1.1 m"'),
        ("[shell] width is 1.1 m: does not cover an opening 1.15 m wide; narrow the opening or widen the shell."),
    ),
    Case(
        "a centre off the shell",
        swap("overhang_rear", 'centre = "2.3 m"\noverhang_rear'),
        (
            "[shell] centre is 2.3 m: the shell reaches from -60 mm to 2.06 m and its centre lies "
            "within; measure again and correct one of the two."
        ),
    ),
    Case(
        "a weighing without readings",
        add("[weighing]\n"),
        (
            "[weighing] reading is missing: a weighing holds at least one reading; add a reading or "
            "take the section out."
        ),
    ),
    Case(
        "a reading of mixed kinds",
        add('[weighing]\nreading = [{ whole = "62 kg", balance = "1 m" }]\n'),
        (
            "[weighing] reading 1 is made of balance, whole: a reading has at, other and reads, or "
            "whole alone, or balance alone; split it into readings of these kinds."
        ),
    ),
    Case(
        "two supports on one line",
        add('[weighing]\nreading = [{ at = "0.2 m", other = "0.21 m", reads = "30 kg" }]\n'),
        (
            "[weighing] reading 1 other is 210 mm: is one and the same line as at, 200 mm; write where "
            "the other support stood."
        ),
    ),
    Case(
        "a support off the shell",
        add('[weighing]\nreading = [{ at = "0.2 m", other = "2.5 m", reads = "30 kg" }]\n'),
        (
            "[weighing] reading 1 other is 2.5 m: must lie on the shell, between 0 and 2.12 m from its "
            "rear rim edge; measure it along the shell."
        ),
    ),
    Case(
        "an item off the shell",
        add('[[item]]\nname = "vent"\nmass = "3 kg"\nx = "3 m"\nz = "0.2 m"\n'),
        (
            "[[item]] 1 x is 3 m: the shell reaches from -60 mm to 2.06 m; measure from the rear edge "
            "of the opening towards the cab."
        ),
    ),
    Case(
        "items removed that outweigh the shell",
        add('[[item]]\nname = "rack"\nmass = "70 kg"\nx = "1 m"\nz = "0.2 m"\nstate = "remove"\n'),
        (
            '[[item]] with state "remove" is 70 kg altogether: the shell weighed 61 kg at least with it; '
            "measure again and correct one of the two."
        ),
    ),
    Case(
        "items removed that may outweigh the shell",
        add('[[item]]\nname = "rack"\nmass = "50 .. 64 kg, assumed"\nx = "1 m"\nz = "0.2 m"\nstate = "remove"\n'),
        (
            '[[item]] with state "remove" is up to 64 kg altogether: the shell weighed 61 kg at least with it; '
            "measure again and correct one of the two."
        ),
    ),
    Case(
        "a removable item that outweighs the shell it was weighed with",
        add(
            '[[item]]\nname = "panel"\nmass = "61.5 kg"\nx = "1 m"\nz = "0.2 m"\nstate = "weighed"\nremovable = true\n'
        ),
        (
            '[[item]] with state "weighed" and removable is 61.5 kg altogether: the shell weighed 61 kg at least with '
            "it; measure again and correct one of the two."
        ),
    ),
    Case(
        "a hinge without its axis",
        swap(HINGE + "\n", ""),
        ('[linkage] hinge is missing: where the hinge axis lies; write it like ["1.9 m", "20 mm"], or "unknown".'),
    ),
    Case(
        "a hinge with arms",
        swap(HINGE, HINGE + '\narm_a_van = ["1.9 m", "0 mm"]'),
        '[linkage] arm_a_van is written: a hinge has no arms; take it out or choose another "kind".',
    ),
    Case(
        "arms with a hinge",
        swap('kind = "four-bar"', 'kind = "four-bar"\n' + HINGE, ARMS),
        (
            '[linkage] hinge is written: a linkage of the kind "four-bar" has no hinge; take it out or '
            'write kind = "hinge".'
        ),
    ),
    Case(
        "arms without all pivots",
        swap('arm_b_shell = ["1.57 m", "-120 mm"]\n', "", ARMS),
        (
            '[linkage] arm_b_shell is missing: arms need all four pivots; write it like ["1.9 m", "20 '
            'mm"], or "unknown".'
        ),
    ),
    Case(
        "a hinge out of reach",
        swap(HINGE, 'hinge = ["2.6 m", "30 mm"]'),
        (
            "[linkage] hinge x is 2.6 m: the shell reaches from -60 mm to 2.06 m and no bracket "
            "reaches that far; measure from the rear edge of the opening towards the cab."
        ),
    ),
    Case(
        "a hinge at the other end",
        swap(HINGE, 'hinge = ["0.1 m", "30 mm"]'),
        (
            '[linkage] hinge x is 100 mm: lies in the rear half of the shell while end is "front"; '
            'write end = "rear" or move the hinge.'
        ),
    ),
    Case(
        "a shell that turns too far",
        swap('"28 deg"', '"120 deg"'),
        (
            "[linkage] opens is 120 deg: a hinged shell stands upright before 95 deg; write how far "
            "the shell turns from closed."
        ),
    ),
    Case(
        "an arm without length",
        swap('arm_b_shell = ["1.57 m", "-120 mm"]', 'arm_b_shell = ["1.88 m", "-70 mm"]', ARMS),
        '[linkage] arm_b_shell is ["1.88 m", "-70 mm"]: arm b has no length; measure both pivots again.',
    ),
    Case(
        "two arms on one pivot",
        swap('arm_b_van = ["1.88 m", "-70 mm"]', 'arm_b_van = ["2.0 m", "-20 mm"]', ARMS),
        (
            '[linkage] arm_b_van is ["2 m", "-20 mm"]: both arms turn on one pivot on the van; measure '
            "both pivots again."
        ),
    ),
    Case(
        "parallel arms that are not",
        swap('"four-bar"', '"parallel arms"', ARMS),
        (
            '[linkage] arm_b_shell is ["1.57 m", "-120 mm"]: the arms differ by 111.8 mm and are not '
            'parallel; write kind = "four-bar" or correct a pivot.'
        ),
    ),
    Case(
        "crossing arms with arm b",
        swap('kind = "scissor"', 'kind = "scissor"\narm_b_van = ["0.7 m", "-150 mm"]', SCISSOR),
        "[linkage] arm_b_van is written: of crossing arms, arm b mirrors arm a and is not written; take it out.",
    ),
    Case(
        "crossing arms without an end",
        swap('arm_a_shell = ["0.7 m", "150 mm"]', "", SCISSOR),
        (
            "[linkage] arm_a_shell is missing: crossing arms need arm a's two ends; write it like "
            '["1.9 m", "20 mm"], or "unknown".'
        ),
    ),
    Case(
        "crossing arms that lie flat",
        swap('"0.7 m", "150 mm"', '"0.7 m", "-150 mm"', SCISSOR),
        (
            '[linkage] arm_a_shell is ["700 mm", "-150 mm"]: crossing arms that lie flat cannot start; their upper '
            "end lies at least 20 mm above the lower; raise it or lower arm_a_van."
        ),
    ),
    Case(
        "crossing arms that stand upright",
        swap('"0.7 m", "150 mm"', '"1.8 m", "150 mm"', SCISSOR),
        (
            '[linkage] arm_a_shell is ["1.8 m", "150 mm"]: the arms stand upright when closed and cannot rise; write '
            "where arm a's upper end slides when the roof is closed."
        ),
    ),
    Case(
        "crossing arms opened past upright",
        swap('"28 deg"', '"75 deg"', SCISSOR),
        (
            "[linkage] opens is 75 deg: beyond 69.74 deg the arms stand upright and the shell rises no further; write "
            "less or make the arms longer."
        ),
    ),
    Case(
        "a sliding end off the shell",
        swap('"0.7 m", "150 mm"', '"-0.2 m", "150 mm"', SCISSOR),
        (
            '[linkage] arm_a_shell is ["-200 mm", "150 mm"]: it slides along the shell, which reaches from -60 mm to '
            "2.06 m; write where arm a's upper end slides when the roof is closed."
        ),
    ),
    Case(
        "guides that open by an angle",
        swap('rise = "400 mm"', 'rise = "400 mm"\nopens = "30 deg"', GUIDES),
        '[linkage] opens is written: guides do not turn the shell; take it out and write "rise".',
    ),
    Case(
        "guides without their friction",
        swap('guide_friction = "0.2"', "", GUIDES),
        '[linkage] guide_friction is missing: how hard a post rubs in its shoe; write it, or "unknown".',
    ),
    Case(
        "guides without a place",
        swap('guide = ["1.9 m", "-200 mm"]', "", GUIDES),
        ('[linkage] guide is missing: where the shoes sit on the van; write it like ["1.9 m", "20 mm"], or "unknown".'),
    ),
    Case(
        "guides off the shell",
        swap('"1.9 m", "-200 mm"', '"2.5 m", "-200 mm"', GUIDES),
        (
            "[linkage] guide x is 2.5 m: the shell reaches from -60 mm to 2.06 m and no post that far out; measure "
            "from the rear edge of the opening towards the cab."
        ),
    ),
    Case(
        "two pairs of guides in one place",
        swap('rise = "400 mm"', 'rise = "400 mm"\nguide_far = ["1.9 m", "-210 mm"]', GUIDES),
        (
            '[linkage] guide_far is ["1.9 m", "-210 mm"]: it is one and the same pair of shoes as guide; write where '
            "the second pair sits or take it out."
        ),
    ),
    Case(
        "arms with guides",
        swap('kind = "four-bar"', 'kind = "four-bar"\nguide_length = "300 mm"', ARMS),
        '[linkage] guide_length is written: arms have no guides; take it out or choose another "kind".',
    ),
    Case(
        "arms at a side of the van",
        swap('end = "front"', 'end = "left"', ARMS.replace('overhang_rear = "60 mm"\n', "")),
        (
            '[linkage] end is "left": only hinges may sit at a side of the van; write kind = "hinge", or end '
            '= "front" or "rear".'
        ),
    ),
    Case(
        "a height at the rear of a shell hinged at a side",
        swap("height_left", "height_rear", SIDE),
        (
            "[shell] height_rear is written: a shell hinged at a side is measured across; write height_left "
            "in its place."
        ),
    ),
    Case(
        "an overhang at the side of a shell hinged at an end",
        swap("overhang_rear", "overhang_left"),
        ("[shell] overhang_left is written: only a shell hinged at a side has it; write overhang_rear in its place."),
    ),
    Case(
        "a hinge at the other side",
        swap('end = "right"', 'end = "left"', add('[handle]\nat = ["0.6 m", "0 mm"]\n', SIDE)),
        (
            '[linkage] hinge x is 1.17 m: lies in the right half of the shell while end is "left"; write end '
            '= "right" or move the hinge.'
        ),
    ),
    Case(
        "a hinge far beside the shell",
        swap('"1.17 m", "30 mm"', '"2.02 m", "30 mm"', SIDE),
        (
            "[linkage] hinge x is 2.02 m: the shell reaches from -55 mm to 1.205 m and no bracket reaches "
            "that far; measure from the left edge of the opening to the right, as seen from behind."
        ),
    ),
    Case(
        "hinges along a side further apart than the shell is long",
        swap('kind = "hinge"', 'kind = "hinge"\nspacing = "2.3 m"', SIDE),
        ("[linkage] spacing is 2.3 m: is longer than the shell at 2.12 m; measure again and correct one of the two."),
    ),
    Case(
        "a shell hinged at a side that is too narrow",
        swap('width = "1.26 m"', 'width = "1.2 m"', SIDE),
        (
            "[shell] width is 1.2 m: with 55 mm left of the opening it ends at 1.145 m and does not cover an "
            "opening of 1.15 m; narrow the opening or widen the shell."
        ),
    ),
    Case(
        "a shell hinged at a side that is too short",
        swap('length = "2.12 m"', 'length = "1.9 m"', SIDE),
        ("[shell] length is 1.9 m: does not cover an opening 2 m long; shorten the opening or lengthen the shell."),
    ),
    Case(
        "a bed the wrong way round across the van",
        add('[bed]\nfrom = "1 m"\nto = "0.5 m"\nheight = "-0.1 m"\n', SIDE),
        ('[bed] to is 500 mm: must lie nearer the right side than "from" at 1 m; swap them or correct one.'),
    ),
    Case(
        "a roof profile across the van out of order",
        add('[roof]\nprofile = [["1 m", "0 mm"], ["0 m", "0 mm"]]\n', SIDE),
        (
            "[roof] profile 2 x is 0 mm: x must rise from point to point and the one before lies at 1 m; put "
            "the points in order from left to right."
        ),
    ),
    Case(
        "a support off a shell hinged at a side",
        add('[weighing]\nreading = [{ at = "0.2 m", other = "1.5 m", reads = "30 kg" }]\n', SIDE),
        (
            "[weighing] reading 1 other is 1.5 m: must lie on the shell, between 0 and 1.26 m from its left "
            "rim edge; measure it across the shell."
        ),
    ),
    Case(
        "a spring on an arm of guides",
        swap("[[spring]]", '[[spring]]\nhead_on = "arm a"', GUIDES),
        '[[spring]] 1 head_on is "arm a": guides have no arms; write "shell".',
    ),
    Case(
        "hinges wider apart than the shell",
        swap(HINGE, HINGE + '\nspacing = "1.4 m"'),
        ("[linkage] spacing is 1.4 m: is wider than the shell at 1.26 m; measure again and correct one of the two."),
    ),
    Case(
        "a handle off the shell",
        add('[handle]\nat = ["-1 m", "0 mm"]\n'),
        (
            '[handle] at is ["-1 m", "0 mm"]: the shell reaches from -60 mm to 2.06 m; write where the '
            "hand holds the closed shell."
        ),
    ),
    Case(
        "a handle on the hinge axis",
        add('[handle]\nat = ["2.0 m", "0 mm"]\n'),
        (
            '[handle] at is ["2 m", "0 mm"]: it lies on the hinge axis, where no hand can lift; write '
            "where the hand holds the closed shell."
        ),
    ),
    Case(
        "a spring on an arm that is not there",
        add('head_on = "arm a"\n'),
        '[[spring]] 1 head_on is "arm a": a hinged roof has no arms; write "shell".',
    ),
    Case(
        "a spring with both ends on one part",
        add('foot_on = "arm a"\nhead_on = "arm a"\n', ARMS),
        (
            '[[spring]] 1 head_on is "arm a": both ends are on the same part and nothing is pushed; '
            "put one end on another part."
        ),
    ),
    Case(
        "a spring without length",
        swap('head = ["1.07 m", "80 mm"]', 'head = ["1.46 m", "-40 mm"]'),
        (
            '[[spring]] 1 head is ["1.46 m", "-40 mm"]: it lies on the foot; write where the head\'s '
            "ball stud sits on the closed shell."
        ),
    ),
    Case(
        "a spring with more friction than force",
        add('force_is = "F3"\nfriction = "400 N"\n', swap('"790 N, label"', '"30 N"')),
        (
            "[[spring]] 1 friction is 400 N: more than the force listed: 30 N listed as F3 leave -370 N to push with; "
            "check force, force_is, friction and friction_is."
        ),
    ),
    Case(
        "a spring that may have more friction than force",
        add(
            'force_is = "middle"\nfriction = "60 .. 95 N"\nfriction_is = "half loop"\n',
            swap('"790 N, label"', '"110 +- 12 N"'),
        ),
        (
            "[[spring]] 1 friction is 60 N to 95 N: more than the force listed: 98 N to 122 N listed as middle leave "
            "3 N to push with; check force, force_is, friction and friction_is."
        ),
    ),
    Case(
        "a rod thicker than its tube",
        add('rod_diameter = "22 mm"\ntube_diameter = "10 mm"\n'),
        ("[[spring]] 1 rod_diameter is 22 mm: the rod does not fit a tube of 10 mm; swap them or measure again."),
    ),
    Case(
        "a spring too short for its stroke",
        swap('"640 mm, label"', '"550 mm"'),
        (
            "[[spring]] 1 extended_length is 550 mm: a tube that takes in a stroke of 300 mm makes the "
            "spring at least 600 mm long; measure again and correct one of the two."
        ),
    ),
    Case(
        "a spring that is all margin",
        add('end_margin = "0.1 m"\n', swap('"300 mm, label"', '"180 mm"')),
        ("[[spring]] 1 end_margin is 100 mm: two of them leave nothing of a stroke of 180 mm; write a smaller margin."),
    ),
    Case(
        "a spring outside the shell",
        add('place = "0.7 m"\n'),
        (
            "[[spring]] 1 place is 700 mm: lies outside the shell, whose side is 630 mm from the "
            "middle; measure from the middle of the roof."
        ),
    ),
    Case(
        "temperatures out of order",
        add('[temperatures]\ncold = "20 C"\n'),
        '[temperatures] cold is 20 C: must not be warmer than "mild" at 15 C; swap them or correct one.',
    ),
    Case(
        "two zones of one name",
        add(ZONES.replace('"side"', '"ring"')),
        ('[[zone]] 2 name is "ring": [[zone]] 1 has this name already; give each its own name.'),
    ),
    Case(
        "a zone on an arm that is not there",
        add(ZONES.replace('on = "shell"', 'on = "arm a"')),
        ('[[zone]] 2 on is "arm a": a hinged roof has no arms; write "van" or "shell".'),
    ),
    Case(
        "a zone far off the shell",
        add(ZONES.replace('"1.3 m", "90 mm"', '"3.1 m", "90 mm"')),
        (
            "[[zone]] 2 to x is 3.1 m: the shell reaches from -60 mm to 2.06 m and no spring reaches "
            "far beyond; measure from the rear edge of the opening towards the cab."
        ),
    ),
    Case(
        "a zone beside the shell",
        add(ZONES.replace('"560 mm"', '"640 mm"', 1)),
        (
            "[[zone]] 1 place is 640 mm: lies outside the shell, whose side is 630 mm from the "
            "middle; measure from the middle of the roof."
        ),
    ),
    Case(
        "zones for one end only",
        add(ZONES.replace('on = "shell"', 'on = "van"')),
        (
            '[[zone]] is only on "van": a spring needs a place for its foot (van or arm) and, on '
            "another part, one for its head (shell or arm); add a zone for the other end."
        ),
    ),
    Case(
        "an arm as the only zone",
        add(ZONE_ON_ARM, ARMS),
        (
            '[[zone]] is only on "arm a": a spring needs a place for its foot (van or arm) and, on '
            "another part, one for its head (shell or arm); add a zone for the other end."
        ),
    ),
    Case(
        "more springs a side than are tried",
        add("[choice]\nper_side_most = 4\n"),
        ("[choice] per_side_most is 4: must be a whole number from 1 to 3 without quotes; write for example 1."),
    ),
    Case(
        "a spring at hand with more friction than force",
        add(AT_HAND + 'force_is = "F3"\nfriction = "499 N"\n'),
        (
            "[[at_hand]] 1 friction is 499 N: more than the force listed: 500 N listed as F3 leave 1 "
            "N to push with; check force, force_is, friction and friction_is."
        ),
    ),
    Case(
        "a spring at hand with a rod thicker than its tube",
        add(AT_HAND.replace('"8 mm"', '"18 mm"')),
        ("[[at_hand]] 1 rod_diameter is 18 mm: the rod does not fit a tube of 18 mm; swap them or measure again."),
    ),
    Case(
        "a spring at hand shorter than two strokes",
        add(AT_HAND.replace('"560 mm"', '"460 mm"')),
        (
            "[[at_hand]] 1 extended_length is 460 mm: a tube that takes in a stroke of 250 mm makes "
            "the spring at least 500 mm long; measure again and correct one of the two."
        ),
    ),
    Case(
        "a home test that reads more moving out than in",
        add(AT_HAND + 'home_test = { reads_in = "17 kg", reads_out = "19 kg" }\n'),
        (
            "[[at_hand]] 1 home_test reads_out is 186.3 N: a spring pushes less while it is let out "
            "than while it is pressed in, 166.7 N; swap them or read again."
        ),
    ),
    Case(
        "a lever with one length",
        add(AT_HAND + 'home_test = { reads_in = "19 kg", reads_out = "17 kg", plank = "1.2 m" }\n'),
        (
            "[[at_hand]] 1 home_test spring_at is missing: a lever has two lengths, and plank alone "
            "is written; write it, or take both out where the spring stood on the scales."
        ),
    ),
    Case(
        "a spring beyond the scales",
        add(
            AT_HAND + 'home_test = { reads_in = "19 kg", reads_out = "17 kg", plank = "0.4 m", spring_at = "1.2 m" }\n'
        ),
        (
            "[[at_hand]] 1 home_test spring_at is 1.2 m: the spring stands between the plank's edge "
            "and the scales, which are 400 mm from it; swap them or measure again."
        ),
    ),
    Case(
        "a reading further open than open",
        add(READING.replace("40 %", "140 %")),
        ('[[reading]] 1 how_open is "140 %": must lie within 0 % to 100 %; check the number and its unit.'),
    ),
    Case(
        "a reading of a spring that is not there",
        add(READING + 'spring = "side spring"\n'),
        ('[[reading]] 1 spring is "side spring": springs of the file: "gas spring"; write one of their names.'),
    ),
    Case(
        "a hole of a spring that is not said",
        add(SECOND + READING + 'foot = ["1.5 m", "-40 mm"]\n'),
        (
            "[[reading]] 1 foot is written: the file has 2 [[spring]] sections and it is not said "
            'whose hole this is; write its name as "spring".'
        ),
    ),
    Case(
        "a hole without a spring",
        add(READING + 'head = ["1.1 m", "70 mm"]\n', WITHOUT_SPRING),
        (
            "[[reading]] 1 head is written: the file has no [[spring]] whose hole this could be; take"
            " it out or add the spring."
        ),
    ),
    Case(
        "a spring's length before there are springs",
        add(TAPE.replace('"springs"', '"hinges"')),
        (
            '[[tape]] 1 what is "spring length": no springs are fitted yet after the step "hinges"; '
            'write step = "springs", or "lip height" or "diagonal" here.'
        ),
    ),
    Case(
        "the length of a spring that is not there",
        add(TAPE, WITHOUT_SPRING),
        ('[[tape]] 1 what is "spring length": the file has no [[spring]]; add the spring or take the reading out.'),
    ),
    Case(
        "half a test of the shell",
        swap('overhang_rear = "60 mm"', 'overhang_rear = "60 mm"\nbend_weight = "20 kg"\nbend_sinks = "9 mm"'),
        (
            "[shell] bend_span is left out: a test of the shell is written with bend_weight and bend_span and "
            "bend_sinks; write what is missing, or leave all of them out."
        ),
    ),
    Case(
        "a test of what is written",
        swap(
            'overhang_rear = "60 mm"',
            'overhang_rear = "60 mm"\ntwist_moment = "60 N m"\ntwist_weight = "5 kg"\ntwist_sinks = "9 mm"',
        ),
        (
            "[shell] twist_weight is 5 kg: twist_moment is written too, and one of them is enough; leave one of them "
            "out."
        ),
    ),
    Case(
        "screws of a strip without their strength",
        add('[wind]\nscrew_pitch = "200 mm"\n'),
        (
            "[wind] screw_limit is left out: a strip on screws is written with screw_pitch and screw_limit; write what "
            "is missing, or leave all of them out."
        ),
    ),
    Case(
        "a seal that fills less than it is squeezed to",
        add('[fit]\nseal_least = "12 mm"\nseal_most = "8 mm"\n'),
        (
            "[fit] seal_most is 8 mm: a seal fills more when it is loose than squeezed, at 12 mm; swap them or "
            "correct one."
        ),
    ),
    Case(
        "a height of the roof beyond the roof",
        add(f'{BODY}[[roof_point]]\nx = "3 m"\ny = "0.4 m"\nheight = "-12 mm"\n'),
        (
            "[[roof_point]] 1 x is 3 m: the roof reaches from -300 mm to 2.5 m; measure again and correct one of "
            "the two."
        ),
    ),
    Case(
        "a height of the roof beside the roof",
        add(f'{BODY}[[roof_point]]\nx = "1 m"\ny = "0.9 m"\nheight = "-12 mm"\n'),
        (
            "[[roof_point]] 1 y is 900 mm: the roof reaches from -750 mm to 750 mm; measure again and correct "
            "one of the two."
        ),
    ),
    Case(
        "a gap under the rim where no rim is",
        add('[[rim_point]]\nx = "1 m"\ny = "-0.9 m"\ngap = "4 mm"\n'),
        (
            "[[rim_point]] 1 y is -900 mm: the shell reaches from -630 mm to 630 mm; measure again and correct "
            "one of the two."
        ),
    ),
    Case(
        "a gap under the rim of a side-hinged shell where no rim is",
        add('[[rim_point]]\nx = "1 m"\ny = "0.9 m"\ngap = "4 mm"\n', SIDE),
        (
            "[[rim_point]] 1 y is 900 mm: the shell reaches from -630 mm to 630 mm; measure again and correct "
            "one of the two."
        ),
    ),
    Case(
        "a gap under the rim beyond its ends",
        add('[[rim_point]]\nx = "2.2 m"\ny = "0.3 m"\ngap = "4 mm"\n'),
        (
            "[[rim_point]] 1 x is 2.2 m: the shell reaches from -60 mm to 2.06 m; measure again and correct one "
            "of the two."
        ),
    ),
    Case(
        "a track that ends before it begins",
        add(f'{BRACE}track_from = "0.4 m"\ntrack_to = "0.1 m"\n'),
        "[brace] track_to is 100 mm: the track ends beyond where it begins, at 400 mm; swap them or correct one.",
    ),
    Case(
        "a brace whose walls fill more than its tube",
        add(f'{BRACE}size = "10 mm"\nwall = "6 mm"\n'),
        "[brace] wall is 6 mm: at most 5 mm, half of size; measure again and correct one of the two.",
    ),
    Case(
        "a brace behind the hinge",
        add(f'{BRACE}inset = "1.9 m"\n', SIDE),
        "[brace] inset is 1.9 m: the shell is 1.26 m long there; measure again and correct one of the two.",
    ),
    Case(
        "a pivot of the brace outside the shell",
        add(f'{BRACE}pivot = "0.7 m"\n'),
        (
            "[brace] pivot is 700 mm: the shell reaches 630 mm to each side of its middle; measure again and "
            "correct one of the two."
        ),
    ),
    Case(
        "a tube of the latches with too thick a wall",
        add('[latches]\nbar_size = "10 mm"\nbar_wall = "6 mm"\n'),
        "[latches] bar_wall is 6 mm: at most 5 mm, half of bar_size; measure again and correct one of the two.",
    ),
    Case(
        "latches wider apart than the shell",
        add('[latches]\nspread = "1.4 m"\n'),
        "[latches] spread is 1.4 m: the shell's lip is 1.26 m long; measure again and correct one of the two.",
    ),
    Case(
        "latches behind the hinge",
        add('[latches]\ninset = "1.9 m"\n', SIDE),
        "[latches] inset is 1.9 m: the shell is 1.26 m long there; measure again and correct one of the two.",
    ),
    Case(
        "what a safety catch bears that is not there",
        add('[latches]\ncatch_limit = "800 N"\n'),
        "[latches] catch_limit is 800 N: there is no safety catch; write catch = true or take the limit out.",
    ),
    Case(
        "a roof shorter than its opening",
        add('[body]\nroof_length = "2.1 m"\nrear_edge = "0.3 m"\n'),
        (
            "[body] roof_length is 2.1 m: the opening reaches to 2.3 m and roof stays beyond it; correct the "
            "roof or the opening."
        ),
    ),
    Case(
        "a roof no wider than its opening",
        add('[body]\nroof_width = "1.1 m"\n'),
        (
            "[body] roof_width is 1.1 m: the opening reaches to 1.15 m and roof stays beyond it; correct the "
            "roof or the opening."
        ),
    ),
    Case(
        "a bow outside the roof",
        add(f'{BODY}[[bow]]\nat = "-0.6 m"\n'),
        "[[bow]] 1 at is -600 mm: the roof reaches from -300 mm to 2.5 m; measure again and correct one of the two.",
    ),
    Case(
        "two bows in one place",
        add('[[bow]]\nat = "0.6 m"\n[[bow]]\nat = "600 mm"\n'),
        "[[bow]] 2 at is 600 mm: bow 1 lies there; correct one of the two or take it out.",
    ),
    Case(
        "a door measured only after the cut",
        add('[cut]\ndoor_cut = "4 mm"\n'),
        (
            "[cut] door_cut is 4 mm: it is compared with door_before, which is not written; write door_before, "
            '"unknown" where nobody measured it before the cut.'
        ),
    ),
    Case(
        "a corner that is cut square",
        add('[cut]\ncorner_radius = "1 mm"\n'),
        (
            "[cut] corner_radius is 1 mm: a corner cut square tears; at least 5 mm; write the radius of the hole "
            "saw for the corners."
        ),
    ),
    Case(
        "a corner rounder than the opening",
        add('[cut]\ncorner_radius = "0.59 m"\n'),
        (
            "[cut] corner_radius is 590 mm: half of the opening's shorter side is 575 mm; measure again and "
            "correct one of the two."
        ),
    ),
    Case(
        "a ring of too thick a tube",
        add('[ring]\nshape = "square tube"\nupright = "20 mm"\nflat = "40 mm"\nwall = "15 mm"\n'),
        "[ring] wall is 15 mm: at most 10 mm, half of upright; measure again and correct one of the two.",
    ),
    Case(
        "an angle thicker than it is wide",
        add('[ring]\nupright = "20 mm"\nflat = "10 mm"\nwall = "15 mm"\n'),
        "[ring] wall is 15 mm: at most 10 mm, all of flat; measure again and correct one of the two.",
    ),
    Case(
        "a joint of a brace that is not there",
        add(JOINT.replace("hinge on van", "brace on van")),
        '[[joint]] 1 at is "brace on van": there is no brace; add the section [brace] or take the joint out.',
    ),
    Case(
        "one bolt with a distance to another",
        add(f'{JOINT}count = 1\nalong = "50 mm"\n'),
        "[[joint]] 1 along is 50 mm: one bolt has no distance to another; correct count or take the distance out.",
    ),
    Case(
        "bolts in one place",
        add(f'{JOINT}along = "0 mm"\nacross = "0 mm"\n'),
        (
            "[[joint]] 1 count is 4: along and across put all of its bolts in one place; write how far the outer "
            "ones are apart, or one bolt."
        ),
    ),
    Case(
        "a washer smaller than its bolt",
        add(f'{JOINT}bolt = "3/8"\nwasher = "8 mm"\n'),
        (
            "[[joint]] 1 washer is 8 mm: a washer is wider than its bolt, which is 9.525 mm thick; measure again "
            "and correct one of the two."
        ),
    ),
]


def changed_meanwhile() -> None:
    Path("roof.toml").write_text(BASE)
    mark = stamp("roof.toml")
    Path("roof.toml").write_text(BASE + "# a note\n")
    edit("roof.toml", {"shell.mass": "60 kg"}, stamp=mark)


def too_large() -> None:
    Path("roof.toml").write_bytes(b"#" * (MOST_BYTES + 1))
    read("roof.toml")


def not_utf8() -> None:
    Path("roof.toml").write_bytes(BASE.encode() + "# f\u00fcr".encode("latin-1"))
    read("roof.toml")


def edited(path: str) -> Callable[[], object]:
    def change() -> None:
        Path("roof.toml").write_text(BASE)
        edit("roof.toml", {path: "1 m"})

    return change


def without_catalogue() -> None:
    Path("roof.toml").write_text(add('[choice]\ncatalogue = "springs.csv"\n'))
    read("roof.toml")


def written_over() -> None:
    Path("roof.toml").write_text(BASE)
    write_new("roof.toml", BASE)


REQUESTS: list[tuple[str, Callable[[], object], str]] = [
    (
        "a file that is not there",
        lambda: read("roof.toml"),
        "roof.toml is not there: a project file is wanted; check its name or make one with new.",
    ),
    ("a folder instead of a file", lambda: read("."), ". is a folder: a project file is wanted; name the file in it."),
    (
        "a proof by readings of a roof hinged at a side",
        lambda: prove(loads(SIDE)),
        (
            '[linkage] end is "right": a proof by readings is not made yet for a roof hinged at a side; ask '
            "check, forces, scout and choose about it."
        ),
    ),
    (
        "a measuring sheet of a roof hinged at a side",
        lambda: sheet_page(loads(SIDE)),
        (
            '[linkage] end is "right": a filled measuring sheet is not made yet for a roof hinged at a side; '
            "ask check, forces, scout and choose about it."
        ),
    ),
    (
        "arms to bolt to a roof hinged at a side",
        lambda: wanted_of(loads(SIDE)),
        (
            '[linkage] end is "right": bolting of arms is not made yet for a roof hinged at a side; ask '
            "check, forces, scout and choose about it."
        ),
    ),
    (
        "a book of a roof hinged at a side",
        lambda: book_page(loads(SIDE)),
        (
            '[linkage] end is "right": a book is not made yet for a roof hinged at a side; ask check, forces,'
            " scout and choose about it."
        ),
    ),
    (
        "a file that is too large",
        too_large,
        "roof.toml is larger than 1 MB: a project file is a short text; check that you named the right file.",
    ),
    (
        "a file that is not UTF-8",
        not_utf8,
        (
            "line 26 of roof.toml is not text in UTF-8: a project file is plain text in UTF-8; save it "
            "as UTF-8 in your editor."
        ),
    ),
    (
        "a file changed on disk meanwhile",
        changed_meanwhile,
        (
            "roof.toml is not as it was read: it changed on disk and your change was not written; read "
            "it again and repeat the change."
        ),
    ),
    (
        "a list of springs that is not there",
        without_catalogue,
        (
            '[choice] catalogue is "springs.csv": there is no such file; correct its name, counted from the project '
            "file's folder, or take the key out."
        ),
    ),
    (
        "a new file where one is already",
        written_over,
        "roof.toml is there already: nothing was written over; choose another name or remove it first.",
    ),
    (
        "a change of a key that there is not",
        edited("shell.lenght"),
        'shell.lenght is not a value of the project file: the nearest is "shell.length"; correct the path.',
    ),
    (
        "a change of a spring that there is not",
        edited("spring.3.force"),
        "spring.3.force is not in the file: it holds 1 of these, counted from 0; the next one is spring.1.",
    ),
    (
        "a change of a whole table",
        edited("shell"),
        (
            "shell is not a value of the project file: it is a table, a list or a point; name one "
            "value in it; correct the path."
        ),
    ),
    (
        "a demo that there is not",
        lambda: demo_text("fenimoor"),
        'demo is "fenimoor": the nearest is "fennimoor"; choose one of these.',
    ),
    (
        "an answer that is no length",
        lambda: new_project(FiveAnswers(opening_length="long")),
        ('opening length is "long": it must start with a number, as a length is wanted; write it like "1.9 m".'),
    ),
    (
        "an answer out of range",
        lambda: new_project(FiveAnswers(person_height="170 m")),
        'person\'s height is "170 m": must lie within 1.2 m to 2.2 m; check the number and its unit.',
    ),
    (
        "an answer that is no choice",
        lambda: new_project(FiveAnswers(lifts="hinge frnt")),
        (
            'which end stays low is "hinge frnt": one of "hinge front", "hinge rear", "arms", "level arms", "scissor"; '
            'write "hinge front".'
        ),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.title)
def test_fault_of_a_file_is_said_word_for_word(case: Case) -> None:
    with pytest.raises(ProjectFault) as caught:
        loads(case.text, "roof.toml")
    assert "\n".join(fault.sentence() for fault in caught.value.faults) == case.message
    assert isinstance(caught.value, NewerFormat) == (case.title == "a newer format version")


@pytest.mark.parametrize(("title", "request_", "message"), REQUESTS, ids=[title for title, _, _ in REQUESTS])
def test_fault_of_a_request_is_said_word_for_word(
    title: str, request_: Callable[[], object], message: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(ProjectFault) as caught:
        request_()
    assert "\n".join(fault.sentence() for fault in caught.value.faults) == message


@pytest.mark.parametrize(
    "text", [BASE, ARMS, SCISSOR, GUIDES, SIDE], ids=["hinge", "arms", "scissor", "guides", "side"]
)
def test_the_files_that_the_faults_are_put_into_are_good(text: str) -> None:
    assert loads(text).name == "test roof"


@pytest.mark.parametrize(("at", "fits"), [("2.02 m, 79 mm", False), ("2.02 m, 81 mm", True), ("1.969 m, 30 mm", True)])
def test_the_handle_keeps_its_distance_from_the_axis_in_any_direction(at: str, fits: bool) -> None:
    # The axis lies at 2.02 m, 30 mm; 50 mm from it is the least.
    x, z = at.split(", ")
    text = add(f'[handle]\nat = ["{x}", "{z}"]\n')
    if fits:
        assert loads(text).handle.at.x.nominal == float(x.removesuffix(" m"))
    else:
        with pytest.raises(ProjectFault, match="no hand can lift"):
            loads(text)


def test_all_faults_are_listed_at_once() -> None:
    text = swap('"2.12 m"', "2.12", swap('opens = "28 deg"\n', "", swap('"1.15 m"', '"wide"', add("[roff]\n"))))
    with pytest.raises(ProjectFault) as caught:
        loads(text, "roof.toml")
    assert [fault.where for fault in caught.value.faults] == [
        "[roff]",
        "[opening] width",
        "[shell] length",
        "[linkage] opens",
    ]
    assert str(caught.value).startswith("roof.toml cannot be used as it stands (4 faults):\n")


def test_all_faults_of_geometry_are_listed_at_once() -> None:
    text = swap('"1.26 m"', '"1.1 m"', swap('"640 mm, label"', '"550 mm"', swap('"28 deg"', '"120 deg"')))
    with pytest.raises(ProjectFault) as caught:
        loads(text)
    assert [fault.where for fault in caught.value.faults] == [
        "[shell] width",
        "[linkage] opens",
        "[[spring]] 1 extended_length",
    ]


def test_messages_use_the_builders_units() -> None:
    text = add('[settings]\nunits = "imperial"\n', swap('"62 +- 1 kg, measured"', '"900 lb"'))
    with pytest.raises(ProjectFault, match=r"must lie within 6\.614 lb to 551\.2 lb"):
        loads(text)


def page_rows() -> list[str]:
    cases = [*((case.title, case.message) for case in CASES), *((title, message) for title, _, message in REQUESTS)]
    return [f"| {title} | {message.replace('|', '&#124;')} |" for title, message in cases]


def test_the_page_lists_exactly_these_faults() -> None:
    rows = [line for line in PAGE.read_text(encoding="utf-8").splitlines() if line.startswith("| ")]
    assert rows[2:] == page_rows()


def test_there_are_many_classes_and_no_two_alike() -> None:
    titles = [case.title for case in CASES] + [title for title, _, _ in REQUESTS]
    messages = [case.message for case in CASES] + [message for _, _, message in REQUESTS]
    assert len(titles) >= 25
    assert len(set(titles)) == len(titles)
    assert len(set(messages)) == len(messages)
