"""The roof while one of its points is being moved: enough to draw it and to feel it, at once.

The nominal roof is the very one of the full answer, station for station. Its bands are coarser: the first few of the
full answer's own draws, at the stations that are shown. No verdicts, no odds, no room round the shell.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from loftwright.answers.chart_view import BANDED, SHOWN, Bands, chart_with, curve_of, shown
from loftwright.answers.draws import Nominal, rows
from loftwright.answers.grips import grips
from loftwright.answers.judged_roof import STATIONS, Assembled, assembled, inputs_of, likely_rows, standing
from loftwright.answers.key_figures import CURVE_HIGHEST, CURVE_LOWEST
from loftwright.answers.readouts import readouts
from loftwright.answers.side_view import pose_table, scene
from loftwright.answers.strips import strips
from loftwright.core.board_views import Trial
from loftwright.core.motion import Array, first_row
from loftwright.core.wording import Wording
from loftwright.mechanics.feel import Feel, Roof, feel
from loftwright.mechanics.room import Surroundings
from loftwright.plan.scout import Headroom, Pose
from loftwright.project import assemble
from loftwright.project.model import Project

DRAWS = 32
"""Draws for the bands: enough to see how wide they are, few enough not to be waited for."""


@dataclass(frozen=True, slots=True)
class TriedRoof:
    """The nominal roof by itself, over all stations."""

    project: Project
    roof: Roof
    felt: Feel
    around: Surroundings
    stand: Headroom


def trial(project: Project, *, draws: int = DRAWS) -> Trial:
    """Return the roof as it is being moved, without judgements.

    Curves, limits, poses, lengths and figures are those of `judged_roof`. `draws` is how many of its roofs the bands
    are made of, at most as many as the file asks for; with all of them they are its bands too, with fewer the note on
    them says so.
    Raises ProjectFault or CannotAssemble, as `judged_roof` does, when the nominal roof cannot be built at all.
    """
    inputs = inputs_of(project)
    nominal = Nominal(inputs)
    planned = assembled(project, nominal, stations=STATIONS)
    found = TriedRoof(project, planned.roof, feel(planned.roof), planned.around, standing(project, planned, nominal))
    count = max(0, min(draws, project.settings.draws))
    drawn = rows(inputs, nominal.asked, count, project.settings.seed, each_alone=False)
    some, _ = assemble.roof(project, drawn, stations=SHOWN, sense=planned.sense)
    likely = likely_rows(drawn, some.possible)
    chart = chart_with(found, Wording(project.settings.units), _bands(feel(some), likely))
    if count < project.settings.draws:
        chart = replace(chart, band_note=f"{chart.band_note}, from {count} roofs while you move it")
    return Trial(
        scene=scene(found),
        poses=pose_table(found),
        chart=chart,
        strips=strips(found),
        readouts=readouts(found, _headroom_over_travel(project, planned, nominal)),
        grips=grips(project),
    )


def _bands(felt: Feel, likely: NDArray[np.intp]) -> Bands:
    """Return the bands of the chart from the likely rows of roofs over the shown stations."""
    found = {}
    for which in BANDED:
        low, high = np.quantile(curve_of(felt, which)[likely], (CURVE_LOWEST, CURVE_HIGHEST), axis=0)
        found[which] = low, high
    return found


def _headroom_over_travel(project: Project, planned: Assembled, nominal: Nominal) -> Array:
    """Return the standing height under the nominal shell's highest place [m], [shown]."""
    shell = planned.roof.travel.shell
    pose = Pose(*(shown(first_row(v)) for v in (shell.x, shell.z, shell.phi)))
    return standing(project, planned, nominal, pose).best
