"""Figures that change as the roof opens, finished as text at every station of the pose table."""

from __future__ import annotations

from collections.abc import Callable

from loftwright.answers.chart_view import shown
from loftwright.answers.key_figures import far_open, how_far_open
from loftwright.answers.shown_roof import ShownRoof
from loftwright.answers.strips import spring_lengths
from loftwright.core.board_views import Readout
from loftwright.core.motion import Array, first_row
from loftwright.core.wording import Wording


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
        *(read(f"length of {name}", shown(length), say.short_length) for name, length in spring_lengths(found)),
    )
