"""The drawing of the board as data for its page: the side view, charts, pose tables, points to move, read-outs.

Everything is ready to draw; the page only looks up between the stations of the tables. While a point is moved,
its place is worded by the page from the factor sent with it.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import degrees
from typing import Any

from loftwright.answers.grips import steps
from loftwright.core.board_views import Grip, Trial
from loftwright.core.choices import Units
from loftwright.core.scene import Pose
from loftwright.core.units import size_of
from loftwright.core.views import ForceChart
from loftwright.core.wording import Wording
from loftwright.documents.pens import pens_css
from loftwright.documents.typeset import printable
from loftwright.drawing.board_view import Window as Shown
from loftwright.drawing.board_view import board_view
from loftwright.drawing.chart import force_chart
from loftwright.drawing.marks import curve_sample
from loftwright.drawing.strip import length_strips
from loftwright.drawing.svg import ornament, svg
from loftwright.project.written import place_of

__all__ = ["PX_PER_MM", "Window", "pens_css", "picture"]

Window = tuple[float, float, float, float]
"""What of the van is shown: x0, x1, z0, z1 [m]."""

PX_PER_MM = 5.0
"""CSS pixels for a millimetre of the side view; its texts of 2.9 mm are 14.5 px high."""
CHART_PX_PER_MM = 5.8
"""The same for charts, whose texts are smaller."""
TALLEST = 128.0
"""Greatest height of the side view [mm]."""
SIDE_BY_SIDE = 110.0
"""From this width on push and pull stand side by side [mm]."""


def _poses(poses: Iterable[Pose]) -> list[list[float]]:
    return [[round(p.x, 6), round(p.z, 6), round(p.phi, 7)] for p in poses]


def picture(
    trial: Trial,
    *,
    width_px: float,
    window: Window | None = None,
    units: Units,
    ids: str = "",
    also: ForceChart | None = None,
) -> dict[str, Any]:
    """Return the drawing for a column of `width_px` CSS pixels, ready for JSON.

    `window` [m] is the one that the page has: it is kept while the roof stays inside. Of several pictures on one page
    each has its own `ids`; `also` is the chart that stands beside this one's.
    """
    says = Wording(units)
    width = width_px / PX_PER_MM
    view = board_view(
        trial.scene,
        trial.poses,
        says,
        width=width,
        height=min(TALLEST, (0.62 if width >= SIDE_BY_SIDE else 1.15) * width),
        window=None if window is None else Shown(*window),
        marks=[(grip.body, grip.at) for grip in trial.grips],
        bar=1.0 if units == "metric" else 3 * size_of("ft"),
    )
    shown = view.window
    tables = {"shell": trial.poses.shell, "arm a": trial.poses.arm_a, "arm b": trial.poses.arm_b}
    scene, chart = trial.scene, trial.chart
    size, unit_of_opening = _opening(units, slides=trial.poses.slides)
    return {
        "side": {
            "svg": svg(view.drawing, ids=f"{ids}side", responsive=True, joined=True),
            "view": [round(v, 4) for v in (view.view.x, view.view.y, view.view.scale)],
            "size": [round(view.drawing.width, 3), round(view.drawing.height, 3)],
            "window": [shown.x0, shown.x1, shown.z0, shown.z1],
        },
        "fraction": list(trial.poses.fraction),
        "opening": [round(a * size, 4) for a in trial.poses.opening],
        "unit_of_opening": unit_of_opening,
        "poses": {name: _poses(poses) for name, poses in tables.items() if poses},
        "springs": [
            {"foot_on": s.foot_on, "foot": s.foot, "head_on": s.head_on, "head": s.head, "tube": s.tube_length}
            for s in scene.springs
        ],
        "handle": scene.handle,
        "grips": [_grip(grip) for grip in trial.grips],
        "charts": _charts(trial, width_px / CHART_PX_PER_MM, ids, also),
        "readouts": [
            {"label": printable(one.label), "texts": printable(one.texts)}
            for one in trial.readouts
            # How far open stands at the slider, which is finer than the stations.
            if one.label != chart.x_label
        ],
        "x": list(chart.x),
        "curves": [
            {
                "label": printable(curve.label),
                "kind": curve.kind,
                "sample": ornament(curve_sample(curve), css="sample"),
                "y": [round(v, 3) for v in curve.y],
            }
            for curve in chart.curves
        ],
        "band_note": printable(chart.band_note),
        "along": "to the right" if scene.seen else "along",
        "unit": chart.unit,
        "decimals": chart.decimals,
        "length": length_unit(units),
        "steps": list(steps(units)),
    }


def _grip(grip: Grip) -> dict[str, Any]:
    words = {name: printable(getattr(grip, name)) for name in ("label", "x_text", "z_text", "note")}
    paths = {"path": grip.path, "x_path": grip.x_path, "z_path": grip.z_path}
    paths |= {"x_where": place_of(grip.x_path), "z_where": place_of(grip.z_path)}
    return {**paths, **words, "kind": grip.kind, "body": grip.body, "at": [round(v, 6) for v in grip.at]}


def _charts(trial: Trial, width: float, ids: str, also: ForceChart | None) -> list[dict[str, Any]]:
    """Return the force chart and, where there are springs, their lengths, `width` [mm] wide."""
    beside = width >= SIDE_BY_SIDE
    height = 70.0 if beside else 118.0
    forces = force_chart(trial.chart, width=width, height=height, stacked=not beside, marker=True, also=also)
    made = [
        {
            "name": "forces",
            "svg": svg(forces.drawing, ids=f"{ids}forces", responsive=True, joined=True),
            "panels": [{"kind": p.kind, "x0": round(p.x0, 3), "x1": round(p.x1, 3)} for p in forces.panels],
        }
    ]
    if trial.strips:
        strips = length_strips(trial.strips, width=width)
        made.append(
            {
                "name": "lengths",
                "svg": svg(strips.drawing, ids=f"{ids}lengths", responsive=True, joined=True),
                "panels": [{"kind": p.kind, "x0": round(p.x0, 3), "x1": round(p.x1, 3)} for p in strips.panels],
            }
        )
    return made


def _opening(units: Units, *, slides: bool) -> tuple[float, list[Any]]:
    """Return the factor of how far open, and its unit short, spoken, with its decimals."""
    if not slides:
        return degrees(1.0), ["\u00b0", " degrees", 1]
    if units == "metric":
        return 1 / size_of("mm"), [" mm", " millimetres", 0]
    return 1 / size_of("in"), [" in", " inches", 1]


def length_unit(units: Units) -> dict[str, Any]:
    """Return how a length is worded while it changes: its unit, how many to the metre, decimals."""
    if units == "metric":
        return {"unit": "mm", "per_metre": 1000.0, "decimals": 0}
    return {"unit": "in", "per_metre": 1 / size_of("in"), "decimals": 2}
