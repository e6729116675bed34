"""Number to text for project files: what `quantities.parse` reads back as the same value."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Final

from loftwright.core.choices import Units
from loftwright.core.errors import Bug
from loftwright.core.quantities import without_range
from loftwright.core.uncertain import Provenance, Uncertain
from loftwright.core.units import CURRENCIES, Dimension, size_of, to_unit

# Unit in which a file is written: (below this SI magnitude, unit), the last for all above.
_WRITTEN: dict[Units, dict[Dimension, tuple[tuple[float, str], ...]]] = {
    "metric": {
        Dimension.LENGTH: ((1.0, "mm"), (math.inf, "m")),
        Dimension.MASS: ((math.inf, "kg"),),
        Dimension.FORCE: ((math.inf, "N"),),
        Dimension.ANGLE: ((math.inf, "deg"),),
        Dimension.TEMPERATURE: ((math.inf, "C"),),
        Dimension.AREA: ((math.inf, "m2"),),
        Dimension.SPEED: ((math.inf, "m/s"),),
        Dimension.MOMENT: ((math.inf, "N m"),),
        Dimension.STIFFNESS: ((math.inf, "N/mm"),),
        Dimension.LINE_FORCE: ((math.inf, "N/m"),),
        Dimension.PRESSURE: ((1e3, "Pa"), (1e6, "kPa"), (math.inf, "MPa")),
        Dimension.PERCENT: ((math.inf, "%"),),
        Dimension.TIME: ((600.0, "s"), (36000.0, "min"), (math.inf, "h")),
        Dimension.AREAL_MASS: ((math.inf, "kg/m2"),),
        Dimension.DENSITY: ((math.inf, "kg/m3"),),
        Dimension.PLAIN: ((math.inf, ""),),
    },
    "imperial": {
        Dimension.LENGTH: ((math.inf, "in"),),
        Dimension.MASS: ((math.inf, "lb"),),
        Dimension.FORCE: ((math.inf, "lb"),),
        Dimension.TEMPERATURE: ((math.inf, "F"),),
        Dimension.AREA: ((math.inf, "ft2"),),
        Dimension.SPEED: ((5.0, "ft/s"), (math.inf, "mph")),
        Dimension.MOMENT: ((math.inf, "lb ft"),),
        Dimension.STIFFNESS: ((math.inf, "lb/in"),),
        Dimension.LINE_FORCE: ((math.inf, "lb/ft"),),
        Dimension.PRESSURE: ((math.inf, "psi"),),
        Dimension.AREAL_MASS: ((math.inf, "lb/ft2"),),
        Dimension.DENSITY: ((math.inf, "lb/ft3"),),
    },
}


MARK: Final[dict[Units, Fraction]] = {"metric": Fraction(1, 1000), "imperial": Fraction(254, 10000) / 16}
"""What stands between two marks of a tape [m]: a millimetre, or a sixteenth of an inch."""


def on_tape(length: float, units: Units) -> float:
    """Return a length [m] at the nearest mark of a tape.

    >>> on_tape(1.0804, "metric"), on_tape(1.0, "imperial") / 0.0254
    (1.08, 39.375)
    """
    return float(round(Fraction(length) / MARK[units]) * MARK[units])


def _number_text(number: float, digits: int = 15) -> str:
    """Return `number` to `digits` significant digits, without exponent, trailing zeros or a minus before nought."""
    if math.isfinite(number) and abs(number) < 1e-12:
        return "0"
    text = f"{number:.{digits}g}"
    if "e" in text:
        text = f"{float(text):.{max(0, digits - 1 - math.floor(math.log10(abs(number))))}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    return text


def inch_text(parts: int, per_inch: int, *, feet: bool) -> str:
    """Return `parts` of 1/`per_inch` inch as a rule reads them: "3 1/2 in", or with `feet` "5 ft 3 1/2 in".

    >>> inch_text(1016, 16, feet=True)
    '5 ft 3 1/2 in'
    >>> inch_text(-3, 8, feet=False)
    '-3/8 in'
    """
    whole, part = divmod(abs(parts), per_inch)
    count, inches = divmod(whole, 12) if feet else (0, whole)
    words = [f"{count} ft"] if count else []
    rest = str(Fraction(part, per_inch)) if part else ""
    number = " ".join(([str(inches)] if inches or not rest else []) + ([rest] if rest else []))
    return ("-" if parts < 0 else "") + " ".join([*words, f"{number} in"])


def format_quantity(
    value: Uncertain, dimension: Dimension, units: Units = "metric", *, currency: str = "", digits: int = 10
) -> str:
    """Return a text for a project file that `parse` reads back as the same value, to `digits` significant digits.

    A price needs its `currency`. Raises Bug for a value whose nominal is not in the middle of its range: the
    file's grammar has no words for that.

    >>> from loftwright.core.quantities import parse
    >>> format_quantity(parse("46 +- 2 kg, measured", Dimension.MASS, unknown=None), Dimension.MASS)
    '46 +- 2 kg, measured'
    >>> format_quantity(parse("1.6129 m", Dimension.LENGTH, unknown=None), Dimension.LENGTH, "imperial")
    '5 ft 3 1/2 in'
    """
    middle = (value.low + value.high) / 2
    if not math.isclose(value.nominal, middle, rel_tol=1e-9, abs_tol=1e-9 * value.spread + 1e-15):
        raise Bug(f"{value} cannot be written: its nominal is not in the middle of its range")
    if dimension is Dimension.MONEY and currency not in CURRENCIES:
        raise Bug(f"a price cannot be written in the currency {currency!r}")

    def unit_for(magnitude: float) -> str:
        if dimension is Dimension.MONEY:
            return currency
        steps = _WRITTEN[units].get(dimension) or _WRITTEN["metric"][dimension]
        return next(unit for below, unit in steps if magnitude < below or below == math.inf)

    def amount(si: float, unit: str, *, shifted: bool = True) -> str:
        number = to_unit(si, unit, dimension) if shifted else si / size_of(unit, dimension)
        sixteenths = number * 16
        if unit == "in" and math.isclose(sixteenths, round(sixteenths), rel_tol=1e-11, abs_tol=1e-9):
            return inch_text(round(sixteenths), 16, feet=abs(number) >= 24)
        return f"{_number_text(number, digits)} {unit}".strip()

    def bare(text: str, unit: str) -> str:
        return text.removesuffix(unit).rstrip() if unit else text

    word = "" if value.provenance is Provenance.GIVEN else f", {value.provenance.value}"
    unit = unit_for(max(abs(value.low), abs(value.high)))
    plain = amount(value.nominal, unit) + word
    if value.provenance is not Provenance.UNKNOWN:
        usual = without_range(Fraction(value.nominal), dimension, value.provenance)
        tolerance = 1e-10 * max(abs(value.low), abs(value.high))
        apart = max(abs(usual.low - value.low), abs(usual.high - value.high))
        if usual.shape == value.shape and apart <= tolerance:
            return plain
    if value.shape == "even" or (value.shape == "exact" and value.provenance is Provenance.UNKNOWN):
        low, high = amount(value.low, unit), amount(value.high, unit)
        return (f"{low} .. {high}" if unit == "in" else f"{bare(low, unit)} .. {high}") + word
    half_unit = unit if dimension is Dimension.TEMPERATURE else unit_for(value.spread)
    nominal, half = amount(value.nominal, unit), amount(value.spread, half_unit, shifted=False)
    if half_unit == unit and unit != "in":
        return f"{bare(nominal, unit)} +- {half}{word}"
    return f"{nominal} +- {half}{word}"
