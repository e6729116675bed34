"""A roof hinged at a side is one hinged at an end, with what lies along and across the van swapped.

Exact constructed laws: no number is taken from elsewhere.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from loftwright.answers import numbers
from loftwright.answers.draws import Nominal
from loftwright.answers.judged_roof import inputs_of, judged_roof
from loftwright.answers.proof_tape import Ask, lengths
from loftwright.answers.scout import scout
from loftwright.answers.scout_numbers import scouted
from loftwright.project.catalogues import read_prices
from loftwright.project.file import loads
from loftwright.project.model import walk
from loftwright.project.zones import zones_of

END = """format = 1
name = "turned"
[settings]
draws = 60
[opening]
length = "1.2 m"
width = "2.0 m"
[bed]
from = "0.75 m"
to = "1.1 m"
height = "-120 mm"
[roof]
profile = [["-0.2 m", "-8 mm"], ["0.6 m", "3 mm"], ["1.4 m", "-5 mm"]]
[shell]
length = "1.33 m"
width = "2.14 m"
height_rear = "110 mm"
height_middle = "190 mm, assumed"
height_front = "150 mm"
overhang_rear = "60 mm"
twist_moment = "60 N m"
[weighing]
reading = [{ at = "0.1 m", other = "1.2 m", reads = "21 kg, measured" }, { whole = "45 kg, measured" }]
[[item]]
name = "panel"
mass = "12 kg"
x = "0.5 m"
z = "210 mm"
removable = true
[linkage]
kind = "hinge"
end = "front"
opens = "38 deg"
hinge = ["1.25 m", "30 mm"]
[[spring]]
foot = ["0.75 m", "-60 mm"]
head = ["0.38 m", "60 mm"]
force = "500 N, label"
stroke = "200 mm, label"
extended_length = "560 mm, label"
"""
TURNED = {
    "opening.length": "opening.width",
    "opening.width": "opening.length",
    "shell.length": "shell.width",
    "shell.width": "shell.length",
    "shell.height_rear": "shell.height_left",
    "shell.height_front": "shell.height_right",
    "shell.overhang_rear": "shell.overhang_left",
}
"""What a size of a roof hinged at an end is called where it is hinged at a side."""
SIZES_ALONG = {"shell.height_rear", "shell.height_front", "shell.overhang_rear"}
"""Sizes along the van, of which a roof hinged at a side makes no use."""


def turned(text: str) -> str:
    """Return the same roof hinged at a side: the sizes under their other names, nothing else changed."""
    section, lines = "", []
    for line in text.splitlines():
        if line.startswith("["):
            section = line.strip("[]")
        key, equals, value = line.partition(" = ")
        name = TURNED.get(f"{section}.{key}", f"{section}.{key}").split(".")[-1] if equals else line
        lines.append(f"{name}{equals}{value}")
    side = {'"front"': '"right"', '"rear"': '"left"'}
    return "\n".join(lines).replace(f"end = {_end(text)}", f"end = {side[_end(text)]}") + "\n"


def _end(text: str) -> str:
    return next(line.partition(" = ")[2] for line in text.splitlines() if line.startswith("end = "))


def rear_hinged(text: str) -> str:
    """Return the roof hinged at the other end; springs and handle where the laws need none of them to suit."""
    swaps = {
        'end = "front"': 'end = "rear"',
        'hinge = ["1.25 m"': 'hinge = ["-0.05 m"',
        'foot = ["0.75 m"': 'foot = ["0.45 m"',
        'head = ["0.38 m"': 'head = ["0.82 m"',
    }
    for old, new in swaps.items():
        assert text.count(old) == 1
        text = text.replace(old, new)
    return text


def told(found: dict[str, Any]) -> dict[str, Any]:
    """Return all numbers, without the words that name the edges and what the side adds to the assumptions."""

    def kept(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: kept(part) for key, part in value.items() if key not in DROPPED}
        if isinstance(value, list):
            return [kept(part) for part in value]
        return renamed(value) if isinstance(value, str) else value

    whole: dict[str, Any] = kept(found)
    return whole


DROPPED = ("end", "assumptions")


def renamed(word: str) -> str:
    """Return a text with the paths and edges of a roof hinged at a side under the names of one hinged at an end."""
    for end, side in (("rear end", "left side"), ("front end", "right side")):
        word = word.replace(f"its {side} on the scales", f"its {end} on the scales")
    return word


@pytest.mark.parametrize("end", ["front", "rear"])
def test_every_number_is_that_of_the_roof_turned_by_a_right_angle(end: str) -> None:
    text = END if end == "front" else rear_hinged(END)
    here, there = judged_roof(loads(text)), judged_roof(loads(turned(text)))
    one, other = told(numbers.results(here)), told(numbers.results(there))
    # Draws too: every size is exact, and what is drawn has the same name in both files.
    assert len(one["checks"]) > 20
    assert one == other
    # And not only as many digits as are told.
    assert [(c.value, c.limit, c.holding) for c in here.checks] == [(c.value, c.limit, c.holding) for c in there.checks]
    for curve in ("push_up", "pull_down"):
        assert np.array_equal(getattr(here.numbers.felt, curve), getattr(there.numbers.felt, curve), equal_nan=True)
    assert np.array_equal(here.numbers.stand.floor_area, there.numbers.stand.floor_area)


def test_scouting_says_the_same_of_both() -> None:
    prices = read_prices()
    one, other = (told(scouted(scout(loads(text), prices))) for text in (END, turned(END)))
    assert one == other


def test_tape_and_zones_are_those_of_the_roof_turned() -> None:
    asks = [Ask("hinges", what, share) for what in ("lip height", "diagonal") for share in (0.0, 0.5, 1.0)]
    (one, there), (other, here) = (
        (lengths(project, Nominal(inputs_of(project)), None, asks), zones_of(project))
        for project in (loads(END), loads(turned(END)))
    )
    assert one.tolist() == other.tolist()
    assert there == here


def test_what_is_not_known_has_the_same_range_turned() -> None:
    unknown = {
        'x = "0.5 m"': 'x = "unknown"',
        'hinge = ["1.25 m", "30 mm"]': 'hinge = "unknown"',
        'foot = ["0.75 m", "-60 mm"]': 'foot = "unknown"',
        'at = "0.1 m"': 'at = "unknown"',
        'from = "0.75 m"': 'from = "unknown"',
        'height_rear = "110 mm"\n': "",
        'height_front = "150 mm"\n': "",
        'overhang_rear = "60 mm"\n': "",
    }
    text = END
    for old, new in unknown.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    here, there = (walk(loads(one)) for one in (text, turned(text)))
    for path, value in here.items():
        assert there[TURNED.get(path, path)] == value, path
    # Hinges and springs lie along the van now, and their spacing goes by its length.
    assert there["linkage.spacing"].low == pytest.approx(0.8 * 2.0)
    assert there["weighing.reading.0.at"].high == pytest.approx(0.3 * 1.33)
    assert there.keys() - here.keys() == {TURNED[path] for path in SIZES_ALONG}


def test_left_and_right_are_mirror_images() -> None:
    width, shell, over = 1.2, 1.33, 0.06
    right = turned(END)
    left = right
    swaps = {
        'end = "right"': 'end = "left"',
        'hinge = ["1.25 m"': f'hinge = ["{width - 1.25:.6f} m"',
        'foot = ["0.75 m"': f'foot = ["{width - 0.75:.6f} m"',
        'head = ["0.38 m"': f'head = ["{width - 0.38:.6f} m"',
        'x = "0.5 m"': f'x = "{width - 0.5:.6f} m"',
        'overhang_left = "60 mm"': f'overhang_left = "{shell - width - over:.6f} m"',
        'height_left = "110 mm"': 'height_left = "150 mm"',
        'height_right = "150 mm"': 'height_right = "110 mm"',
        'from = "0.75 m"': f'from = "{width - 1.1:.6f} m"',
        'to = "1.1 m"': f'to = "{width - 0.75:.6f} m"',
        'at = "0.1 m", other = "1.2 m"': f'at = "{shell - 0.1:.6f} m", other = "{shell - 1.2:.6f} m"',
        '["-0.2 m", "-8 mm"], ["0.6 m", "3 mm"], ["1.4 m", "-5 mm"]': (
            '["-0.2 m", "-5 mm"], ["0.6 m", "3 mm"], ["1.4 m", "-8 mm"]'
        ),
    }
    for old, new in swaps.items():
        assert left.count(old) == 1, old
        left = left.replace(old, new)
    one, other = (judged_roof(loads(text)) for text in (right, left))
    values = [{check.rule.id + check.part: check.value for check in o.checks} for o in (one, other)]
    assert len(values[0]) > 20
    assert values[0].keys() == values[1].keys()
    for key, value in values[0].items():
        assert values[1][key] == (None if value is None else pytest.approx(value, rel=1e-7, abs=1e-9)), key
