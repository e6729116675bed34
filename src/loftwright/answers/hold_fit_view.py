"""How the shell sits, ready to show: the gap round the rim, stops, packers and their outlines at full size."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers import held_fit
from loftwright.answers.held_fit import FitFound
from loftwright.answers.held_packers import HingePackers, templates
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_said import answer, nominal, of_part
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.hold_views import Flat, GapChart, HoldSection, Template
from loftwright.core.units import size_of
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import Wording
from loftwright.project.plane import CROSSWISE

PLACE_NAMES: Final = {"rear": "rear", "right": "right side", "front": "front", "left": "left side"}
START: Final = "left"
"""The stretch that begins at the rear left corner, going clockwise as seen from above."""


def fit_section(held: HeldNumbers, checks: tuple[Check, ...], say: Wording) -> HoldSection:
    """Return what is said about the fit."""
    fit, mine = held.found.fit, of_part(checks, "fit")
    seal = fit.seal_height[0]
    ranged = f"{say.short_length(float(seal.min()))} to {say.short_length(float(seal.max()))}"
    fills = f"{say.short_length(nominal(fit.shapes.seal_least))} to {say.short_length(nominal(fit.shapes.seal_most))}"
    return HoldSection(
        "fit",
        "How it sits",
        answer(
            mine,
            "It sits",
            "It does not sit yet",
            f"the gap for the seal is {ranged} round the rim, the seal fills {fills}",
        ),
        _facts(fit, ranged, fills, say),
        tuple(_grids(fit, say)),
        tuple(check_row(check, say) for check in mine),
        fit.said,
    )


def _facts(fit: FitFound, ranged: str, fills: str, say: Wording) -> tuple[Fact, ...]:
    found = [
        Fact("Gap for the seal", ranged, "round the rim, on its stops"),
        Fact("The seal fills", fills),
        Fact("Gap without a seal", say.short_length(float(fit.seat.gap[0].max())), "widest, rim laid on the roof"),
        Fact("To come off the rim", say.short_length(nominal(fit.trim.largest)), "so that the seal follows"),
        Fact(
            "Rim above the roof",
            say.short_length(nominal(fit.rim_height)),
            "closed, at the point that heights are counted from",
        ),
        Fact("Reach past the hole", say.short_length(nominal(fit.lap)), "least"),
    ]
    if abs(nominal(fit.seat.shift)) > 5e-4:
        found.append(Fact("Best shift to the cab", say.short_length(nominal(fit.seat.shift))))
    if fit.packers is not None:
        found += [
            Fact(
                "A rod in one hinge pin",
                say.short_length(nominal(fit.packers.rod)),
                "may miss the other pin by so much",
            ),
            Fact(
                "Packer edges",
                say.short_length(nominal(fit.packers.error)),
                "the inner may be out against the outer by so much",
            ),
        ]
    return tuple(found)


def _grids(fit: FitFound, say: Wording) -> list[Grid]:
    stops = fit.stops
    grids = [
        Grid(
            "Solid stops",
            ("Stop", "Height"),
            tuple(
                (name, say.short_length(float(height)))
                for name, height in zip(stops.names, stops.height[0], strict=True)
            ),
            "Roof to rim: they hold the shell so high that the seal is not crushed.",
        )
    ]
    if fit.packers is not None:
        grids.append(_packers(fit.packers, say))
    if fit.ranking is not None:
        by_name = {one.name: one for one in fit.candidates}
        grids.append(
            Grid(
                "Shells side by side",
                ("Shell", "Widest gap", "Past the hole", "Covers it"),
                tuple(
                    (
                        name,
                        say.short_length(nominal(by_name[name].largest)),
                        say.short_length(nominal(by_name[name].lap)),
                        "yes" if covers else "no",
                    )
                    for name, covers in zip(fit.ranking.order, fit.ranking.covers, strict=True)
                ),
                "The best first: those that cover the hole, then the smallest gap.",
            )
        )
    return grids


def _packers(found: HingePackers, say: Wording) -> Grid:
    made = found.made
    rows = []
    for i, side in enumerate(found.sides):
        corners = [say.short_length(float(v)) for v in made.corners[0, i]]
        middle = say.short_length(float(made.middle[0, i]))
        wedges = (say.angle(float(v[0, i])) for v in (made.wedge_along, made.wedge_across))
        rows.append((side, middle, *corners, *wedges))
    return Grid(
        "Packers under the hinges",
        ("Side", "Middle", "Rear inner", "Rear outer", "Front inner", "Front outer", "Wedge along", "Wedge across"),
        tuple(rows),
        "Along: thicker to the rear is positive. Across: thicker to the right is positive.",
    )


# --- the gap round the rim -------------------------------------------------------------------------


def gap_chart(held: HeldNumbers, say: Wording) -> GapChart:
    """Return the height of the closed seal round the rim, from the rear left corner, clockwise from above."""
    fit = held.found.fit
    found = held_fit.gap_chart(fit, held.rows.draws)
    unit, along_unit = ("mm", "cm") if say.units == "metric" else ("in", "in")
    size, along_size = size_of(unit), size_of(along_unit)
    rim = fit.shapes.rim
    whole = 2.0 * (nominal(rim.length) + nominal(rim.width)) - (8.0 - 2.0 * np.pi) * nominal(rim.radius)
    # The stations run the other way round, from the middle of the rear end.
    order = list(range(len(found.places)))[::-1]
    first = next(k for k, i in enumerate(order) if found.places[i] == START)
    order = order[first:] + order[:first]
    start = float(found.arc[order[0]])
    along = [(start - float(found.arc[i])) % whole for i in order]
    places: list[tuple[float, str]] = []
    before = ""
    for k, i in enumerate(order):
        name = found.places[i]
        if name != before:
            places.append((along[k] / along_size, _place(order, found.places, k)))
        before = name

    def drawn(values: np.ndarray) -> tuple[float, ...]:
        return tuple(float(values[i]) / size for i in order)

    return GapChart(
        unit,
        along_unit,
        tuple(a / along_size for a in along),
        drawn(found.nominal),
        drawn(found.low),
        drawn(found.high),
        found.seal_least / size,
        found.seal_most / size,
        tuple(places),
    )


def _place(order: list[int], places: tuple[str, ...], k: int) -> str:
    """Return the name of the stretch at station `k` in `order`; a corner is called after its two neighbours."""
    name = places[order[k]]
    if name != "corners":
        return PLACE_NAMES[name]
    count = len(order)
    before = next(places[order[j % count]] for j in range(k - 1, k - count, -1) if places[order[j % count]] != name)
    after = next(places[order[j % count]] for j in range(k + 1, k + count) if places[order[j % count]] != name)
    end, side = (before, after) if before in ("rear", "front") else (after, before)
    return f"{end} {side} corner"


# --- packers at full size --------------------------------------------------------------------------


def packer_templates(held: HeldNumbers, say: Wording) -> tuple[Template, ...]:
    """Return the outlines of both packers from two sides; none where there is no hinge."""
    found = held.found.fit.packers
    if found is None:
        return ()
    across = held.found.basis.plane is CROSSWISE
    made = []
    for view in ("along", "across"):
        from_side = (view == "along") != across
        words = "Side view, the rear to the left." if from_side else "Seen from behind, the left to the left."
        # Across the van y grows to the left, and so does what is drawn.
        sense = -1.0 if view == "across" and not across else 1.0
        for side, outline in zip(found.sides, templates(found, view), strict=True):
            spots: list[Flat] = [(sense * float(x), float(z)) for x, z in outline]
            made.append(_template(side, "along" if from_side else "across", words, spots, say))
    return tuple(made)


def _template(side: str, cut: str, words: str, spots: list[Flat], say: Wording) -> Template:
    low = min(spots, key=lambda p: p[0]), max(spots, key=lambda p: p[0])
    left, right = low[0][0], low[1][0]
    top = spots[-1][1]
    under = [z for end in (left, right) for x, z in spots if abs(x - end) < 1e-9 and z < top - 1e-9]
    heights = under if len(under) == 2 else [0.0, 0.0]
    return Template(
        f"Packer, {side} hinge, {cut}",
        f"{words} The lower edge lies on the roof, the upper edge is level.",
        tuple(spots),
        (((0.0, 0.0), (0.0, top)),),
        (),
        (
            ((left, top), (right, top), say.short_length(right - left)),
            ((left, heights[0]), (left, top), say.short_length(top - heights[0])),
            ((right, heights[1]), (right, top), say.short_length(top - heights[1])),
        ),
    )
