"""Figures that change as the roof opens, finished as text at every station of the pose table."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from loftwright.answers.chart_view import shown
from loftwright.answers.key_figures import far_open, how_far_open
from loftwright.answers.shown_roof import ShownRoof
from loftwright.answers.strips import spring_ends, spring_lengths
from loftwright.core.board_views import Readout
from loftwright.core.motion import Array, first_row
from loftwright.core.wording import Wording

HAIR: Final = 0.0005
"""Less beyond a spring's end than this [m] is not said: it would read as nothing."""


def readouts(found: ShownRoof, headroom: Array) -> tuple[Readout, ...]:
    """Return what is read off the nominal roof at each station that is shown.

    `headroom` [m], [shown], is the standing height under the shell's highest place at those stations.
    """
    say = Wording(found.project.settings.units)

    def read(label: str, values: Array, words: Callable[[float], str]) -> Readout:
        return Readout(label, tuple(words(float(v)) for v in values))

    feet = float(found.roof.feet_z[0])
    return (
        read("how far open", shown(how_far_open(found)), lambda far: far_open(found, say, far)),
        read("lip above the roof", shown(first_row(found.felt.lip.z)), say.length),
        read("handle above where you stand", shown(first_row(found.felt.hand.z)) - feet, say.length),
        read("headroom", headroom, say.length),
        *(
            read(f"length of {name}", shown(length), partial(spring_length, say, ends))
            for (name, length), ends in zip(spring_lengths(found), spring_ends(found), strict=True)
        ),
    )


def spring_length(say: Wording, ends: tuple[float, float], length: float) -> str:
    """Return a spring's length [m], and by how much it is beyond its ends [m], where it is.

    >>> spring_length(Wording("metric"), (0.4, 0.67), 0.712)
    '712 mm, 42 mm too long for it'
    """
    (low, high), words = ends, say.short_length(length)
    if length > high + HAIR:
        return f"{words}, {say.short_length(length - high)} too long for it"
    if length < low - HAIR:
        return f"{words}, {say.short_length(low - length)} too short for it"
    return words
