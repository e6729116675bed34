"""The powered lift and the lining, ready to show."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.fitted_lift import COLD, DAYS, NO_ARM, LiftFound
from loftwright.answers.fitted_lining import LiningFound
from loftwright.answers.fitted_roof import NO_LINING, FittedNumbers
from loftwright.answers.fitted_wire import next_rating
from loftwright.answers.fitting_said import bare, energy, first, of_part
from loftwright.answers.hold_said import answer
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.fitting_pages import FittingSection, LiftDrawn
from loftwright.core.units import Dimension
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import Wording

R_VALUE: Final = 5.678
"""Square feet, degrees Fahrenheit and hours for one BTU in 1 m2 K/W: NIST SP 811, Appendix B, from memory."""


def lift_section(fitted: FittedNumbers, checks: tuple[Check, ...], say: Wording) -> FittingSection:
    """Return what is said about the powered lift."""
    power, mine = fitted.found.lift, of_part(checks, "lift")
    title, rows = "Powered lift", tuple(check_row(check, say) for check in mine)
    if power.lift is None:
        facts: tuple[Fact, ...] = ()
        if power.instead is not None:
            one = power.instead
            facts = (
                Fact(
                    "In place of the springs",
                    f"{one.count} actuators of {say.force(first(one.force))}",
                    f'each, stroke {say.short_length(first(one.used))}, in the places of "{one.name}"',
                ),
            )
        says = "No powered lift is planned." if fitted.project.lift is None else NO_ARM
        return FittingSection("lift", title, says, facts, (), rows, power.said)
    lift = power.lift
    most = max(first(one.most) for one in lift.worst)
    known = f"each of {lift.count} needs {say.force(most)} at most and opens in {say.time(first(lift.opening.time))}"
    return FittingSection(
        "lift",
        title,
        answer(mine, "The lift does", "The lift does not do yet", known),
        _lift_facts(lift, say),
        (_days(lift, say),),
        rows,
        power.said,
    )


def _lift_facts(lift: LiftFound, say: Wording) -> tuple[Fact, ...]:
    both = np.asarray(lift.opening.energy + lift.closing.energy)
    return (
        Fact("Stroke used", say.short_length(first(lift.spare.used))),
        Fact(
            "Stroke to spare",
            f"{say.short_length(first(lift.spare.inward))} drawn in, {say.short_length(first(lift.spare.outward))} out",
        ),
        Fact("Opens in", say.time(first(lift.opening.time))),
        Fact("Current of all together", bare(first(lift.opening.current), "A", say), "greatest, cold and wet"),
        Fact("Fuse for them", _fuse(first(lift.opening.current), say), "the next usual one, at the battery"),
        Fact("Energy of opening and closing once", bare(first(both), "W h", say)),
        Fact("Rod bends at", say.force(first(lift.buckles)), "reached out, without a margin"),
        Fact("On what is caught at the lip", say.force(float(lift.closing_edge[0].max())), "greatest, coming down"),
        Fact("Shell twisted if they run apart", say.angle(first(lift.twisted)), "one motor 5 % faster, one slower"),
        Fact("By hand with them undone", say.force_hand(first(lift.by_hand)), "push up at the handle, cold and wet"),
    )


def _fuse(current: float, say: Wording) -> str:
    found = next_rating(current)
    return "none is large enough" if found is None else bare(found, "A", say)


def _days(lift: LiftFound, say: Wording) -> Grid:
    rows = tuple(
        (name, say.force(first(one.push)), say.force(first(one.pull)))
        for (name, _, _), one in zip(DAYS, lift.worst, strict=True)
    )
    return Grid(
        "What one actuator must do",
        ("Day", "Pushes", "Pulls"),
        rows,
        "Greatest over the travel, up and down, with the springs as they stand in the file.",
    )


def lift_drawn(fitted: FittedNumbers) -> LiftDrawn | None:
    """Return the force of one actuator over the travel, planned; None without a lift."""
    lift = fitted.found.lift.lift
    if lift is None:
        return None
    share = fitted.found.basis.roof.travel.fraction
    return LiftDrawn(
        tuple(float(v) for v in share),
        tuple(float(v) for v in lift.raising[COLD][0]),
        tuple(float(v) for v in lift.lowering[COLD][0]),
        fitted.rows.inputs["lift.force"].value.nominal,
    )


def resistance_words(resistance: float, say: Wording) -> str:
    """Return a resistance to heat [m2 K/W]; in imperial files as their R-value.

    >>> resistance_words(1.0, Wording()), resistance_words(1.0, Wording("imperial"))
    ('R 1.00 m²K/W', 'R-value 5.68 ft² °F h/BTU')
    """
    if say.units == "metric":
        return f"R {say.ratio(resistance)} m²K/W"
    return f"R-value {say.ratio(resistance * R_VALUE)} ft² °F h/BTU"


def loss_words(transmittance: float, say: Wording) -> str:
    """Return how much heat goes through [W/(m2 K)], in the file's units."""
    if say.units == "metric":
        return f"U {say.ratio(transmittance)} W/m²K"
    return f"U {say.ratio(transmittance / R_VALUE)} BTU/(h ft² °F)"


def lining_section(fitted: FittedNumbers, checks: tuple[Check, ...], say: Wording) -> FittingSection:
    """Return what is said about the lining."""
    lining, mine = fitted.found.lining, of_part(checks, "lining")
    if lining is None:
        return FittingSection("lining", "Lining and lamps", "No lining is planned.", (), (), (), (NO_LINING,))
    known = (
        f"{say.mass(first(lining.weight.mass))} on {say.area(first(lining.ceiling) + first(lining.cheeks))}, "
        f"{resistance_words(first(lining.warm), say)}"
    )
    return FittingSection(
        "lining",
        "Lining and lamps",
        answer(mine, "The lining fits", "The lining does not fit yet", known),
        _lining_facts(lining, say),
        (),
        tuple(check_row(check, say) for check in mine),
        lining.said,
    )


def _lining_facts(lining: LiningFound, say: Wording) -> tuple[Fact, ...]:
    warm, bare_r = first(lining.warm), first(lining.bare)
    return (
        Fact("Under the top", say.area(first(lining.ceiling))),
        Fact("Cheeks all round", say.area(first(lining.cheeks))),
        Fact("Strip round the cut edge", say.area(first(lining.edge))),
        Fact("Thickness", say.short_length(first(lining.given.thickness)), "insulation and board"),
        Fact(
            "Weight",
            say.mass(first(lining.weight.mass)),
            f"{say.quantity(first(lining.given.per_area), Dimension.AREAL_MASS)}; its middle lies "
            f"{say.length(first(lining.weight.x))} along and {say.short_length(first(lining.weight.z))} up",
        ),
        Fact(
            "Resistance to heat",
            resistance_words(warm, say),
            f"{resistance_words(bare_r, say)} without; {loss_words(1 / warm, say)}",
        ),
        Fact(
            "Hollow of the shell",
            say.short_length(first(lining.hollow)),
            f"at its lowest end; the fold counts on {say.short_length(first(lining.cavity))}",
        ),
        Fact("Lamps", bare(first(lining.power), "W", say), f"{bare(first(lining.current), 'A', say)} at 12 V"),
        Fact("An evening of light", energy(first(lining.evening), say)),
        Fact("Strip round the ceiling", say.length(first(lining.strip))),
        Fact("Cable under the ceiling", say.length(first(lining.cable)), "along one side and to the middle of an end"),
    )
