"""The seal, ready to show: its length, what it fills and pushes with, where water stands along it."""

from __future__ import annotations

from typing import Final

from loftwright.answers.fitted_roof import FittedNumbers
from loftwright.answers.fitting_said import first, of_part
from loftwright.answers.hold_said import answer
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.fitting_pages import FittingSection, SealDrawn
from loftwright.core.units import size_of
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import Wording
from loftwright.fitout.seal import HOW_TO_WEIGH, SAMPLE, stretches

DRY: Final = "nowhere, whichever way the van leans"


def seal_section(fitted: FittedNumbers, checks: tuple[Check, ...], say: Wording) -> FittingSection:
    """Return what is said about the seal."""
    seal, mine = fitted.found.seal, of_part(checks, "seal")
    known = f"{say.length(first(seal.length))} of it go round the rim and fill {_gap(fitted, say)}"
    return FittingSection(
        "seal",
        "Seal",
        answer(mine, "The seal goes round and lets water off", "The seal does not do yet", known),
        _facts(fitted, say),
        _grids(fitted, say),
        tuple(check_row(check, say) for check in mine),
        seal.said,
    )


def _gap(fitted: FittedNumbers, say: Wording) -> str:
    gaps = fitted.found.seal.gaps
    return f"{say.short_length(first(gaps.least))} to {say.short_length(first(gaps.most))}"


def _facts(fitted: FittedNumbers, say: Wording) -> tuple[Fact, ...]:
    seal = fitted.found.seal
    stands = first(seal.wet_length)
    where = DRY if stands <= 0.0 else f"{say.length(stands)} of it, with {seal.lean}"
    origin = "by the sample on scales" if seal.sampled else "by [forces] seal_line"
    return (
        Fact("Length round the rim", say.length(first(seal.length)), "corners counted, without spare"),
        Fact("Corners", say.short_length(first(seal.radius)), "radius that it must lie round"),
        Fact("It must fill", _gap(fitted, say), f"they differ by {say.short_length(first(seal.gaps.spread))}"),
        Fact("Free height", say.short_length(first(seal.free))),
        Fact("Squeezed by", say.short_length(first(seal.squeeze)), "mean over the rim, on its stops"),
        Fact("It pushes", say.rule_value(first(seal.line), "N/m"), f"mean over the rim, {origin}"),
        Fact("All of it pushes", say.force(first(seal.force)), "up at the closed shell"),
        Fact("Each latch holds of it", say.force(first(seal.latch)), "wind, springs and bumps come on top"),
        Fact("Water stands along it", where),
        Fact("Its ends meet", "at the rear, where the roof is highest", "glued over the whole face"),
    )


def _grids(fitted: FittedNumbers, say: Wording) -> tuple[Grid, ...]:
    seal = fitted.found.seal
    wet = stretches(seal.wet[0], seal.x[0]) if seal.wet[0].any() else ()
    if not wet:
        return ()
    rows = []
    for one in wet:
        x, y = (float(v[0, one.lowest]) for v in (seal.x, seal.y))
        side = "left" if y > 0.0 else "right"
        rows.append((say.length(x), f"{say.length(abs(y))} to the {side}"))
    return (
        Grid(
            "Where a drain helps",
            ("From the rear edge", "From the middle"),
            tuple(rows),
            "Lowest places of each stretch of seal in water.",
        ),
    )


def _sample(say: Wording) -> str:
    """Return how long the sample is, a whole number in the file's units."""
    return say.short_length(SAMPLE) if say.units == "metric" else f"{SAMPLE / size_of('in'):.0f} in"


def seal_drawn(fitted: FittedNumbers, say: Wording) -> SealDrawn:
    """Return the seal from above, planned."""
    seal = fitted.found.seal
    return SealDrawn(
        path=tuple((float(x), float(y)) for x, y in zip(seal.x[0], seal.y[0], strict=True)),
        wet=tuple(bool(one) for one in seal.wet[0]),
        joint=(float(seal.x[0, seal.joint]), float(seal.y[0, seal.joint])),
        length=say.length(first(seal.length)),
        lean=seal.lean,
        sample=tuple(step.format(length=_sample(say)) for step in HOW_TO_WEIGH),
    )
