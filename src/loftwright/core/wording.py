"""The one place where numbers become text for people: screen, terminal and paper say the same.

Project files are written by `quantity_text.format_quantity`, which keeps every digit; here digits are kept to
what a person can use. Nothing here prints "-0" or a number that is none; a missing value reads "–".
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from loftwright.core.choices import Units
from loftwright.core.errors import Bug
from loftwright.core.quantity_text import inch_text
from loftwright.core.uncertain import Provenance, Uncertain
from loftwright.core.units import Dimension, size_of, to_unit

MISSING = "–"

# Beside the dimensions, three ways of reading one of them: a force as a scale shows it, a length in the
# small unit only, and a share of the travel.
_HAND = "hand"
_SHORT = "short"
_Step = tuple[str, float, int]  # unit, used below this number of it, decimals

_D = Dimension
_DIMENSION_OF: dict[str, Dimension] = {_HAND: _D.FORCE, _SHORT: _D.LENGTH}

_METRIC: dict[str, tuple[_Step, ...]] = {
    _D.LENGTH: (("mm", 10, 1), ("mm", 1000, 0), ("m", math.inf, 2)),
    _SHORT: (("mm", 10, 1), ("mm", math.inf, 0)),
    _D.MASS: (("kg", 1, 2), ("kg", 100, 1), ("kg", math.inf, 0)),
    _D.FORCE: (("N", 10, 1), ("N", math.inf, 0)),
    _HAND: (("kg", 100, 1), ("kg", math.inf, 0)),
    _D.ANGLE: (("deg", math.inf, 1),),
    _D.TEMPERATURE: (("C", math.inf, 0),),
    _D.AREA: (("m2", math.inf, 2),),
    _D.SPEED: (("m/s", 10, 2), ("m/s", math.inf, 1)),
    _D.MOMENT: (("N m", 100, 1), ("N m", math.inf, 0)),
    _D.STIFFNESS: (("N/mm", 10, 1), ("N/mm", math.inf, 0)),
    _D.LINE_FORCE: (("N/m", 10, 1), ("N/m", math.inf, 0)),
    _D.PRESSURE: (
        ("Pa", 10, 2),
        ("Pa", 1000, 0),
        ("kPa", 100, 1),
        ("kPa", 1000, 0),
        ("MPa", 100, 1),
        ("MPa", math.inf, 0),
    ),
    _D.PERCENT: (("%", 10, 1), ("%", math.inf, 0)),
    _D.TIME: (("s", 10, 1), ("s", 120, 0), ("min", 120, 0), ("h", math.inf, 1)),
    _D.AREAL_MASS: (("kg/m2", math.inf, 2),),
    _D.DENSITY: (("kg/m3", 10, 1), ("kg/m3", math.inf, 0)),
    _D.PLAIN: (("", 10, 2), ("", 100, 1), ("", math.inf, 0)),
}
_IMPERIAL: dict[str, tuple[_Step, ...]] = {
    **_METRIC,
    _D.LENGTH: (("in", math.inf, 2),),
    _SHORT: (("in", 1, 3), ("in", math.inf, 2)),
    _D.MASS: (("lb", 1, 2), ("lb", 100, 1), ("lb", math.inf, 0)),
    _D.FORCE: (("lb", 1, 2), ("lb", 100, 1), ("lb", math.inf, 0)),
    _HAND: (("lb", 100, 1), ("lb", math.inf, 0)),
    _D.TEMPERATURE: (("F", math.inf, 0),),
    _D.AREA: (("ft2", math.inf, 1),),
    _D.SPEED: (("ft/s", 15, 1), ("mph", math.inf, 0)),
    _D.MOMENT: (("lb ft", 100, 1), ("lb ft", math.inf, 0)),
    _D.STIFFNESS: (("lb/in", 10, 1), ("lb/in", math.inf, 0)),
    _D.LINE_FORCE: (("lb/ft", 10, 1), ("lb/ft", math.inf, 0)),
    _D.PRESSURE: (("Pa", 10, 2), ("psi", 1, 3), ("psi", 10, 2), ("psi", 1000, 1), ("psi", math.inf, 0)),
    _D.AREAL_MASS: (("lb/ft2", math.inf, 2),),
    _D.DENSITY: (("lb/ft3", math.inf, 1),),
}

# How a unit is shown where that differs from how it is written in a file.
_SHOWN = {
    "deg": "°",
    "C": " °C",
    "F": " °F",
    "m2": " m²",
    "ft2": " sq ft",
    "kg/m2": " kg/m²",
    "kg/m3": " kg/m³",
    "lb/ft2": " lb/sq ft",
    "lb/ft3": " lb/cu ft",
    "": "",
}

_LITRE = 1e-3
_FLUID_OUNCE = 29.5735295625e-6
"""Of the United States [m3]."""

# What a rule's unit is read as.
_RULE_KINDS: dict[str, str] = {
    "N": _D.FORCE,
    "hand N": _HAND,
    "m": _D.LENGTH,
    "short m": _SHORT,
    "kg": _D.MASS,
    "rad": _D.ANGLE,
    "s": _D.TIME,
    "m/s": _D.SPEED,
    "N m": _D.MOMENT,
    "N/m": _D.LINE_FORCE,
    "Pa": _D.PRESSURE,
    "m2": _D.AREA,
    "1": _D.PLAIN,
    "count": _D.PLAIN,
    "yes or no": _D.PLAIN,
    "fraction": _D.PERCENT,
}
WHOLE: frozenset[str] = frozenset({"count", "yes or no"})
"""Units of rules on what is counted, or is there (1) or not (0)."""
RULE_UNITS: frozenset[str] = frozenset(_RULE_KINDS)
"""Every unit that a rule may be stated in."""

_MOST_EXTRA_DECIMALS = 4
_FEET_FROM_INCHES = 24
_TRIMMED = ("%",)


def _fixed(number: float, decimals: int) -> str:
    """Return `number` with `decimals` places; nought has no sign."""
    text = f"{number:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0 else text


def _shown(unit: str) -> str:
    return _SHOWN.get(unit, f" {unit}")


def _checked(value: float) -> float:
    if not math.isfinite(value):
        raise Bug(f"{value} is no number to print")
    return float(value)


@dataclass(frozen=True, slots=True)
class Wording:
    """Words numbers in one system of units. Values are in SI; None reads "–".

    >>> metric, imperial = Wording("metric"), Wording("imperial")
    >>> metric.length(1.9), metric.length(0.345), imperial.length(1.9)
    ('1.90 m', '345 mm', '6 ft 2 3/4 in')
    >>> metric.force(120.0), metric.force_hand(120.0), imperial.force_hand(120.0)
    ('120 N', '12.2 kg', '27.0 lb')
    """

    units: Units = "metric"

    def length(self, metres: float | None) -> str:
        """Return a length [m]: millimetres up to a metre; feet and inches to 1/8 from two feet, below to 1/16 inch."""
        return self._text(metres, _D.LENGTH)

    def short_length(self, metres: float | None) -> str:
        """Return a length [m] in millimetres or inches only, as on a drawing."""
        return self._text(metres, _SHORT)

    def drill(self, metres: float | None) -> str:
        """Return the diameter of a drill [m] to a tenth of a millimetre or to 1/64 inch.

        >>> Wording().drill(0.0066), Wording("imperial").drill(0.0067564)
        ('6.6 mm', '17/64 in')
        """
        if metres is None:
            return MISSING
        if self.units == "imperial":
            return inch_text(round(_checked(metres) / size_of("in") * 64), 64, feet=False)
        return self._in(metres, _SHORT, "mm", 1)

    def mass(self, kilograms: float | None) -> str:
        """Return a mass [kg]."""
        return self._text(kilograms, _D.MASS)

    def force(self, newtons: float | None) -> str:
        """Return a force in a part [N], as spring lists and bracket sheets give it."""
        return self._text(newtons, _D.FORCE)

    def force_hand(self, newtons: float | None) -> str:
        """Return the force of a hand [N] as bathroom scales show it, in kilograms or pounds."""
        return self._text(newtons, _HAND)

    def angle(self, radians: float | None) -> str:
        """Return an angle [rad] in degrees."""
        return self._text(radians, _D.ANGLE)

    def temperature(self, kelvin: float | None) -> str:
        """Return a temperature [K] in degrees Celsius or Fahrenheit."""
        return self._text(kelvin, _D.TEMPERATURE)

    def area(self, square_metres: float | None) -> str:
        """Return an area [m2]."""
        return self._text(square_metres, _D.AREA)

    def volume(self, cubic_metres: float | None) -> str:
        """Return a volume of what comes in tins [m3]: millilitres up to a litre, or fluid ounces of the United States.

        >>> Wording().volume(0.00031), Wording().volume(0.0025), Wording("imperial").volume(0.00031)
        ('310 ml', '2.50 l', '10.5 fl oz')
        """
        if cubic_metres is None:
            return MISSING
        value = _checked(cubic_metres)
        if self.units == "imperial":
            return f"{_fixed(value / _FLUID_OUNCE, 1)} fl oz"
        millilitres = value / _LITRE * 1000
        if round(abs(millilitres)) >= 1000:
            return f"{_fixed(value / _LITRE, 2)} l"
        return f"{_fixed(millilitres, 0 if round(abs(millilitres), 1) >= 10 else 1)} ml"

    def speed(self, metres_per_second: float | None) -> str:
        """Return a speed [m/s]."""
        return self._text(metres_per_second, _D.SPEED)

    def gust(self, metres_per_second: float | None) -> str:
        """Return a gust [m/s] in whole metres per second or miles per hour, rounded down: it is a warning.

        >>> Wording().gust(14.7), Wording("imperial").gust(14.7)
        ('14 m/s', '32 mph')
        """
        return self._rounded_down(metres_per_second, "m/s" if self.units == "metric" else "mph")

    def driving(self, metres_per_second: float | None) -> str:
        """Return the speed of a van [m/s] in whole kilometres or miles per hour, rounded down.

        >>> Wording().driving(25.0), Wording("imperial").driving(25.0)
        ('90 km/h', '55 mph')
        """
        return self._rounded_down(metres_per_second, "km/h" if self.units == "metric" else "mph")

    def _rounded_down(self, speed: float | None, unit: str) -> str:
        if speed is None:
            return MISSING
        return f"{math.floor(to_unit(_checked(speed), unit, _D.SPEED) + 1e-6)} {unit}"

    def moment(self, newton_metres: float | None) -> str:
        """Return a moment [N m]."""
        return self._text(newton_metres, _D.MOMENT)

    def percent(self, ratio: float | None) -> str:
        """Return a ratio as a percentage: 0.065 reads "6.5 %"."""
        return self._text(ratio, _D.PERCENT)

    def fraction(self, share: float | None) -> str:
        """Return a share of the travel, 0 closed to 1 open, as a percentage."""
        return self._text(share, _D.PERCENT)

    def ratio(self, number: float | None) -> str:
        """Return a bare number."""
        return self._text(number, _D.PLAIN)

    def whole(self, value: float | None, unit: str) -> str:
        """Return a whole number with a unit that both systems share: watts, volts, watt hours.

        >>> Wording().whole(87.6, "W h"), Wording("imperial").whole(-0.2, "V")
        ('88 W h', '0 V')
        """
        return MISSING if value is None else f"{_fixed(_checked(value), 0)} {unit}"

    def time(self, seconds: float | None) -> str:
        """Return a time [s]."""
        return self._text(seconds, _D.TIME)

    def money(self, amount: float | None, currency: str) -> str:
        """Return a price in whole units of its own currency."""
        return MISSING if amount is None else f"{_fixed(_checked(amount), 0)} {currency}"

    def quantity(self, value: float | None, dimension: Dimension) -> str:
        """Return a value [SI] of any dimension but money."""
        return self._text(value, dimension)

    def rule_value(self, value: float | None, unit: str) -> str:
        """Return a value, limit or margin of a rule stated in `unit`.

        `unit` is one of `RULE_UNITS`: SI, with "hand N" for what a hand feels, "short m" for play and gaps, and whole
        numbers for what is counted or is there (1) or not (0).

        >>> Wording().rule_value(0.0004, "short m"), Wording().rule_value(2.0, "count")
        ('0.4 mm', '2')
        """
        if value is not None and unit in WHOLE:
            return f"{value:.0f}".replace("-0", "0")
        return self._text(value, self._rule_kind(unit))

    def rule_pair(self, value: float | None, limit: float | None, unit: str) -> tuple[str, str]:
        """Return a rule's value and limit in one unit, with up to four more decimals where unlike numbers read alike.

        >>> Wording().rule_pair(147.2, 147.1, "hand N")
        ('15.01 kg', '15.00 kg')
        """
        if unit in WHOLE:
            return self.rule_value(value, unit), self.rule_value(limit, unit)
        kind = self._rule_kind(unit)
        own = self._text(value, kind), self._text(limit, kind)
        if value is None or limit is None or value == limit or (own[0] != own[1] and self._in_inches(kind)):
            return own
        name, decimals = self._step(kind, max(abs(value), abs(limit)))
        texts = own
        for extra in range(_MOST_EXTRA_DECIMALS + 1):
            texts = self._in(value, kind, name, decimals + extra), self._in(limit, kind, name, decimals + extra)
            if texts[0] != texts[1]:
                break
        # Beside metres a few millimetres would read as nought.
        shown = [float(text.rstrip("°").split()[0]) for text in texts]
        hidden = any(number and not seen for number, seen in zip((value, limit), shown, strict=True))
        return own if hidden and own[0] != own[1] else texts

    def rule_margin(self, margin: float, value: float, limit: float, unit: str) -> str:
        """Return a rule's margin in the unit in which `rule_pair` words its value and limit.

        >>> Wording().rule_margin(0.09e6, 12.91e6, 13.0e6, "Pa")
        '0.1 MPa'
        """
        if unit in WHOLE:
            return self.rule_value(margin, unit)
        kind = self._rule_kind(unit)
        own = self._text(margin, kind)
        if self._in_inches(kind):
            return own
        name, decimals = self._step(kind, max(abs(value), abs(limit)))
        for extra in range(_MOST_EXTRA_DECIMALS + 1):
            text = self._in(margin, kind, name, decimals + extra)
            if margin == 0 or float(text.rstrip("°").split()[0]):
                return text
        return own

    def ranged(self, value: Uncertain | None, dimension: Dimension, *, hand: bool = False, origin: bool = False) -> str:
        """Return a value with its range: "46 ± 2 kg" for a normal spread, "40 to 50 kg" for an even one.

        Both numbers share their decimals, as many as the range needs. `hand` words a force as scales show it;
        `origin` adds how the value came to be known, unless it is a plain decision.
        """
        if value is None:
            return MISSING
        kind: str = _HAND if hand and dimension is _D.FORCE else dimension
        text = self._ranged(value, kind)
        return f"{text}, {value.provenance.value}" if origin and value.provenance is not Provenance.GIVEN else text

    def hand_force_unit(self) -> tuple[str, float]:
        """Return label and factor of an axis of hand forces: newtons times factor is the number on the axis."""
        unit = "kg" if self.units == "metric" else "lb"
        return unit, 1 / size_of(unit, _D.FORCE)

    def _rule_kind(self, unit: str) -> str:
        if unit not in _RULE_KINDS:
            raise Bug(f"a rule stated in {unit!r} has no wording")
        return _RULE_KINDS[unit]

    def _in_inches(self, kind: str) -> bool:
        return self.units == "imperial" and kind in (_D.LENGTH, _SHORT)

    def _dimension(self, kind: str) -> Dimension:
        return _DIMENSION_OF[kind] if kind in _DIMENSION_OF else Dimension(kind)

    def _step(self, kind: str, magnitude: float) -> tuple[str, int]:
        """Return unit and decimals for a value of this magnitude [SI]; the rounded number decides."""
        table = _METRIC if self.units == "metric" else _IMPERIAL
        if kind not in table:
            raise Bug(f"{kind} has no wording of its own")
        for unit, below, decimals in table[kind]:
            if below == math.inf or round(magnitude / size_of(unit, self._dimension(kind)), decimals) < below:
                return unit, decimals
        raise Bug(f"the table of {kind} has no last step")

    def _in(self, value: float, kind: str, unit: str, decimals: int) -> str:
        return _fixed(to_unit(_checked(value), unit, self._dimension(kind)), decimals) + _shown(unit)

    def _text(self, value: float | None, kind: str) -> str:
        if value is None:
            return MISSING
        number = _checked(value)
        if self._in_inches(kind):
            return self._inches(number, feet=kind == _D.LENGTH)
        unit, decimals = self._step(kind, abs(number))
        plain = _fixed(to_unit(number, unit, self._dimension(kind)), decimals)
        if float(plain) == 0:
            plain = "0"
        elif unit in _TRIMMED and "." in plain:
            plain = plain.rstrip("0").rstrip(".")
        return plain + _shown(unit)

    def _inches(self, metres: float, *, feet: bool) -> str:
        """Return a length as a rule reads it; below 1/16 inch in thousandths, as feeler gauges are marked."""
        inches = metres / size_of("in")
        if round(abs(inches), 3) < 1 / 16:
            text = _fixed(inches, 3)
            return "0 in" if float(text) == 0 else f"{text} in"
        if feet and round(abs(inches) * 16) >= _FEET_FROM_INCHES * 16:
            return inch_text(round(inches * 8), 8, feet=True)
        return inch_text(round(inches * 16), 16, feet=False)

    def _ranged(self, value: Uncertain, kind: str) -> str:
        if value.shape == "exact":
            return self._text(value.nominal, kind)
        if self._in_inches(kind):
            if value.shape == "normal":
                return f"{self._text(value.nominal, kind)} ± {self._text(value.spread, _SHORT)}"
            low, high = self._text(value.low, kind), self._text(value.high, kind)
            return low if low == high else f"{low} to {high}"
        dimension = self._dimension(kind)
        unit, _ = self._step(kind, max(abs(value.low), abs(value.high)))
        half = value.spread / size_of(unit, dimension)
        ends = [to_unit(v, unit, dimension) for v in (value.low, value.high)]
        for decimals in range(_MOST_EXTRA_DECIMALS + 1):
            if value.shape == "normal" and abs(round(half, decimals) - half) <= 0.1 * half:
                break
            if value.shape == "even" and all(abs(round(end, decimals) - end) <= 0.1 * half for end in ends):
                break
        if value.shape == "normal":
            spread = _fixed(half, decimals)
            if float(spread) == 0:
                return self._text(value.nominal, kind)
            return f"{_fixed(to_unit(value.nominal, unit, dimension), decimals)} ± {spread}{_shown(unit)}"
        low, high = (_fixed(end, decimals) for end in ends)
        return f"{low}{_shown(unit)}" if low == high else f"{low} to {high}{_shown(unit)}"


def hundredths(share: float) -> int:
    """Return a share [1] as so many out of 100; 0 and 100 are kept for none and all.

    >>> [hundredths(share) for share in (0.0, 0.001, 0.614, 0.997, 1.0)]
    [0, 1, 61, 99, 100]
    """
    if share <= 0.0:
        return 0
    if share >= 1.0:
        return 100
    return min(max(round(100.0 * share), 1), 99)
