"""Panel and wire, ready to show: the months, the best way to park, cable, fuse and loop, wind on the panel."""

from __future__ import annotations

from typing import Final

from loftwright.answers.fitted_panel import PanelFound
from loftwright.answers.fitted_roof import NO_PANEL, FittedNumbers
from loftwright.answers.fitting_said import band, bare, energy, first, of_part
from loftwright.answers.hold_said import answer
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.fitting_pages import FittingSection, LoopDrawn, SunChart, WireDrawn
from loftwright.core.motion import Array
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import Wording
from loftwright.fitout.sun import MONTHS

COMPASS: Final = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")
LEVEL: Final = 1.01
"""A heading that gives less than this times the worst one [1] makes no difference."""


def panel_section(fitted: FittedNumbers, checks: tuple[Check, ...], say: Wording) -> FittingSection:
    """Return what is said about panel and wire."""
    panel, mine = fitted.found.panel, of_part(checks, "panel")
    if panel is None:
        says = "No panel is planned."
        return FittingSection("panel", "Panel and wire", says, (), (), (), (NO_PANEL,))
    given = panel.flat[0].min(axis=-1)[list(panel.months)]
    low, high = (energy(float(v), say) for v in (given.min(), given.max()))
    known = f"flat it gives {low} a day in the dimmest of your months and {high} in the best"
    return FittingSection(
        "panel",
        "Panel and wire",
        answer(mine, "The panel does what you ask", "The panel does not do what you ask", known),
        (*_sun_facts(panel, say), *_wire_facts(panel, say), *_wind_facts(panel, say)),
        (_months(fitted, panel, say), _headings(panel, say)),
        tuple(check_row(check, say) for check in mine),
        panel.said,
    )


def short(panel: PanelFound, given: Array) -> tuple[str, ...]:
    """Return the wanted months whose use the planned panel does not cover; `given` [W h a day], [rows, 12]."""
    return tuple(MONTHS[k] for k in panel.months if float(given[0, k]) < float(panel.use[0]))


def _sun_facts(panel: PanelFound, say: Wording) -> tuple[Fact, ...]:
    flat, raised = panel.flat.min(axis=-1), panel.raised[..., panel.best]
    uncovered = [", ".join(short(panel, one)) or "none" for one in (flat, raised)]
    level = panel.gains < LEVEL
    dark = list(panel.winter)
    heading = (
        "all the same"
        if level
        else f"cab to {COMPASS[panel.best]}, {say.ratio(panel.gains)} times what the worst heading gives"
    )
    return (
        Fact(
            "Slope, closed and raised", f"{say.angle(first(panel.flat_tilt))} and {say.angle(first(panel.raised_tilt))}"
        ),
        Fact("Used a day", energy(first(panel.use), say)),
        Fact("Months not covered, flat", uncovered[0], f"of {', '.join(MONTHS[k] for k in panel.months)}"),
        Fact("Months not covered, raised", uncovered[1], "parked at the best winter heading"),
        Fact(
            "Dark months, flat and raised",
            f"{energy(float(panel.flat[0, dark].mean()), say)} and "
            f"{energy(float(panel.raised[0, dark, panel.best].mean()), say)}",
            f"a day, mean of {', '.join(MONTHS[k] for k in panel.winter)}",
        ),
        Fact("Best heading in winter, raised", heading),
    )


def _wire_facts(panel: PanelFound, say: Wording) -> tuple[Fact, ...]:
    wire = panel.wire
    lost = say.percent(round(first(wire.lost) / first(wire.volts), 3))
    facts = [
        Fact("Current at work", bare(first(wire.current), "A", say), f"at {bare(first(wire.volts), 'V', say)}"),
        Fact(
            "Lost in the cable",
            bare(first(wire.lost), "V", say),
            f"{lost} over {say.length(first(wire.length))} one way",
        ),
        Fact(
            "Thinnest cable that loses little enough",
            (wire.thinnest or "none of the table").replace("mm2", "mm²"),
            "usual cross-sections",
        ),
        Fact("The hot cable bears", bare(first(wire.borne), "A", say)),
        Fact(
            "Fuse",
            "not chosen yet" if wire.fuse is None else bare(first(wire.fuse), "A", say),
            "none is large enough"
            if wire.next_fuse is None
            else f"the next usual one is {bare(wire.next_fuse, 'A', say)}",
        ),
    ]
    return (*facts, *_loop_facts(panel, say))


def _loop_facts(panel: PanelFound, say: Wording) -> tuple[Fact, ...]:
    wire, loop = panel.wire, panel.wire.loop
    at = "as placed" if wire.placed else f"proposed: van {_spot(wire.van, say)}, shell {_spot(wire.shell, say)}"
    return (
        Fact("Free loop of cable", say.short_length(first(loop.free)), at),
        Fact(
            "Its clips part by",
            say.short_length(first(loop.longest)),
            f"at most; {say.short_length(first(loop.shortest))} at least",
        ),
        Fact("Its tightest bend", say.short_length(first(loop.bend)), "radius, about"),
    )


def _spot(place: tuple[float, float], say: Wording) -> str:
    return f"{say.length(place[0])} along, {say.short_length(place[1])} up"


def _wind_facts(panel: PanelFound, say: Wording) -> tuple[Fact, ...]:
    return (
        Fact("Worst foot pulls", say.force(first(panel.pull_road)), "on the road at the speed you asked for"),
        Fact("The same, raised in the gust", say.force(first(panel.pull_gust))),
        Fact(
            "Latches hold of it",
            say.force(max(first(panel.latches), 0.0)),
            "all together, on top of the suction on the shell; counted in the strength on the road",
        ),
    )


def _months(fitted: FittedNumbers, panel: PanelFound, say: Wording) -> Grid:
    flat, raised = panel.flat.min(axis=-1), panel.raised[..., panel.best]
    (low, high), (low_up, high_up) = (band(one, fitted.rows.draws) for one in (flat, raised))
    rows = tuple(
        (
            name,
            energy(float(flat[0, k]), say),
            f"{energy(float(low[k]), say).removesuffix(' W h')} to {energy(float(high[k]), say)}",
            energy(float(raised[0, k]), say),
            f"{energy(float(low_up[k]), say).removesuffix(' W h')} to {energy(float(high_up[k]), say)}",
            ("yes" if flat[0, k] >= panel.use[0] else "no") if k in panel.months else "",
        )
        for k, name in enumerate(MONTHS)
    )
    return Grid(
        "Energy a day by month",
        ("Month", "Flat", "Nine of ten, flat", "Raised", "Nine of ten, raised", "Covered flat"),
        rows,
        "Flat at its worst heading, raised at the best winter heading. No battery is sized by this.",
    )


def _headings(panel: PanelFound, say: Wording) -> Grid:
    dark = list(panel.winter)
    flat, raised = (one[0, dark].mean(axis=0) for one in (panel.flat, panel.raised))
    rows = tuple((name, energy(float(flat[k]), say), energy(float(raised[k]), say)) for k, name in enumerate(COMPASS))
    names = ", ".join(MONTHS[k] for k in panel.winter)
    return Grid("Which way the cab points in winter", ("Cab to", "Flat", "Raised"), rows, f"A day, mean of {names}.")


def sun_chart(fitted: FittedNumbers, say: Wording) -> SunChart | None:
    """Return the months and headings to be drawn; None without a panel."""
    panel = fitted.found.panel
    if panel is None:
        return None
    flat, raised = panel.flat.min(axis=-1), panel.raised[..., panel.best]
    dark = list(panel.winter)
    by, by_flat = (one[0, dark].mean(axis=0) for one in (panel.raised, panel.flat))
    worst, most, use = int(by.argmin()), float(by_flat.max()), first(panel.use)

    def said(heading: int) -> str:
        return f"cab to {COMPASS[heading]}, {energy(float(by[heading]), say)} a day"

    def line(values: Array) -> tuple[float, ...]:
        return tuple(float(v) for v in values)

    return SunChart(
        MONTHS,
        line(flat[0]),
        line(raised[0]),
        use,
        tuple(k in panel.months for k in range(12)),
        COMPASS,
        line(by),
        line(by_flat),
        panel.best,
        most,
        f"best: {said(panel.best)}",
        f"worst: {said(worst)}",
        f"roof closed, at best {energy(most, say)} a day",
        f"used a day: {energy(use, say)}",
    )


def loop_drawn(fitted: FittedNumbers, say: Wording) -> LoopDrawn | None:
    """Return the cable's loop to be drawn, planned; None without a panel."""
    panel = fitted.found.panel
    if panel is None:
        return None
    wire = panel.wire
    free, bend = first(wire.loop.free), first(wire.loop.bend)
    return LoopDrawn(
        wire.van,
        tuple((float(x), float(z)) for x, z in zip(*wire.path, strict=True)),
        free,
        bend,
        say.short_length(free),
        say.short_length(bend),
        wire.placed,
    )


def wire_drawn(fitted: FittedNumbers, say: Wording) -> WireDrawn | None:
    """Return the way of the current in texts; None without a panel."""
    panel = fitted.found.panel
    if panel is None:
        return None
    wire = panel.wire
    area = fitted.rows.inputs["panel.wire_area"].value.nominal
    fuse = wire.next_fuse if wire.fuse is None else first(wire.fuse)
    return WireDrawn(
        (
            ("Panel", bare(first(panel.given.power), "W", say)),
            ("Cable", f"2 x {say.ratio(area)} mm², {say.length(first(wire.length))} one way"),
            ("Loop", f"{say.short_length(first(wire.loop.free))} free between clips"),
            ("Gland", "leaves downward, with a drip loop"),
            ("Controller", f"takes {bare(first(wire.current), 'A', say)}"),
            ("Fuse", "none of the table" if fuse is None else f"{bare(fuse, 'A', say)}, at the battery"),
            ("Battery", "connected before the panel, parted after it"),
        )
    )
