"""The closed table of units, and the doubt that a value brings when none is written."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache

from loftwright.core.errors import Bug


class Dimension(StrEnum):
    """What kind of quantity a place in the file expects; the SI unit in which it is held stands behind it."""

    LENGTH = "length"  # m
    MASS = "mass"  # kg
    FORCE = "force"  # N
    ANGLE = "angle"  # rad
    TEMPERATURE = "temperature"  # K
    AREA = "area"  # m2
    SPEED = "speed"  # m/s
    MOMENT = "moment"  # N m
    STIFFNESS = "stiffness"  # N/m
    LINE_FORCE = "line_force"  # N/m
    PRESSURE = "pressure"  # Pa
    PERCENT = "percent"  # a ratio: 6 % is 0.06
    TIME = "time"  # s
    MONEY = "money"  # in its own currency
    AREAL_MASS = "areal_mass"  # kg/m2
    DENSITY = "density"  # kg/m3
    PLAIN = "plain"  # a bare number


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: value in SI = zero + size * number. `also` lists its other spellings."""

    name: str
    size: Fraction
    also: tuple[str, ...] = ()
    zero: Fraction = Fraction(0)

    def si(self, number: Fraction) -> Fraction:
        """Return `number` of this unit in SI."""
        return self.zero + self.size * number


_F = Fraction
_G0 = _F("9.80665")
STANDARD_GRAVITY = float(_G0)
"""Standard acceleration of free fall [m/s2], exact. Source: 3rd CGPM (1901), declaration on the meaning of weight."""

_IN = _F("0.0254")
_FT = 12 * _IN
_YD = 3 * _FT
_LB = _F("0.45359237")
_OZ = _LB / 16
_DEG = _F(math.pi) / 180

CURRENCIES: frozenset[str] = frozenset(
    """AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF
    CHF CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL
    HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL
    MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON
    RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH
    UGX USD UYU UZS VES VND VUV WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG""".split()  # noqa: SIM905
)
"""Currency codes in use. Source: ISO 4217, list one, from memory."""

_SYMBOLS = {"EUR": ("€",), "GBP": ("£",), "USD": ("$",)}

UNITS: dict[Dimension, tuple[Unit, ...]] = {
    Dimension.LENGTH: (
        Unit("mm", _F("0.001"), ("millimetre", "millimetres", "millimeter", "millimeters")),
        Unit("cm", _F("0.01"), ("centimetre", "centimetres", "centimeter", "centimeters")),
        Unit("m", _F(1), ("metre", "metres", "meter", "meters")),
        Unit("in", _IN, ('"', "inch", "inches")),
        Unit("ft", _FT, ("'", "foot", "feet")),
    ),
    Dimension.MASS: (
        Unit("kg", _F(1), ("kgs", "kilo", "kilos", "kilogram", "kilograms")),
        Unit("g", _F("0.001"), ("gram", "grams")),
        Unit("t", _F(1000), ("tonne", "tonnes")),
        Unit("lb", _LB, ("lbs", "pound", "pounds")),
        Unit("oz", _OZ, ("ounce", "ounces")),
    ),
    # Scales read kilograms and pounds, so a force field takes them as the weight of that mass under standard gravity.
    Dimension.FORCE: (
        Unit("N", _F(1), ("newton", "newtons")),
        Unit("kN", _F(1000)),
        Unit("daN", _F(10)),
        Unit("kgf", _G0, ("kp",)),
        Unit("kg", _G0, ("kgs", "kilo", "kilos", "kilogram", "kilograms")),
        Unit("g", _G0 / 1000, ("gram", "grams", "gf")),
        Unit("lbf", _LB * _G0),
        Unit("lb", _LB * _G0, ("lbs", "pound", "pounds")),
        Unit("oz", _OZ * _G0, ("ounce", "ounces", "ozf")),
    ),
    Dimension.ANGLE: (
        Unit("deg", _DEG, ("°", "degree", "degrees")),
        Unit("rad", _F(1), ("radian", "radians")),
    ),
    Dimension.TEMPERATURE: (
        Unit("C", _F(1), ("°C", "degC", "deg C", "degree C", "degrees C", "celsius"), _F("273.15")),
        Unit("F", _F(5, 9), ("°F", "degF", "deg F", "degree F", "degrees F", "fahrenheit"), _F("459.67") * 5 / 9),
        Unit("K", _F(1), ("kelvin",)),
    ),
    Dimension.AREA: (
        Unit("m2", _F(1), ("m²", "m^2", "sq m", "square metre", "square metres")),
        Unit("cm2", _F("0.0001"), ("cm²", "cm^2", "sq cm")),
        Unit("mm2", _F("0.000001"), ("mm²", "mm^2", "sq mm")),
        Unit("in2", _IN**2, ("in²", "in^2", "sq in")),
        Unit("ft2", _FT**2, ("ft²", "ft^2", "sq ft", "square foot", "square feet")),
    ),
    Dimension.SPEED: (
        Unit("m/s", _F(1), ("metres per second", "meters per second")),
        Unit("mm/s", _F("0.001"), ("millimetres per second", "millimeters per second")),
        Unit("km/h", _F(5, 18), ("kph", "kmh")),
        Unit("mph", 1760 * _YD / 3600, ("mi/h", "miles per hour")),
        Unit("ft/s", _FT, ("fps",)),
        Unit("kn", _F(1852, 3600), ("kt", "knot", "knots")),
    ),
    Dimension.MOMENT: (
        Unit("N m", _F(1), ("Nm", "N*m")),
        Unit("kN m", _F(1000), ("kNm", "kN*m")),
        Unit("N mm", _F("0.001"), ("Nmm", "N*mm")),
        Unit("kg m", _G0, ("kgm", "kg*m", "kgf m", "kgf*m")),
        Unit(
            "lb ft",
            _LB * _G0 * _FT,
            ("lbf ft", "ft lb", "ft lbf", "lb*ft", "ft*lb", "lbf*ft", "ft*lbf", "ft-lb", "lb-ft"),
        ),
        Unit(
            "lb in",
            _LB * _G0 * _IN,
            ("lbf in", "in lb", "in lbf", "lb*in", "in*lb", "lbf*in", "in*lbf", "in-lb", "lb-in"),
        ),
    ),
    Dimension.STIFFNESS: (
        Unit("N/mm", _F(1000)),
        Unit("N/cm", _F(100)),
        Unit("N/m", _F(1)),
        Unit("kN/m", _F(1000)),
        Unit("kg/mm", 1000 * _G0, ("kgf/mm",)),
        Unit("kg/cm", 100 * _G0, ("kgf/cm",)),
        Unit("lb/in", _LB * _G0 / _IN, ("lbf/in",)),
        Unit("lb/ft", _LB * _G0 / _FT, ("lbf/ft",)),
    ),
    Dimension.LINE_FORCE: (
        Unit("N/m", _F(1)),
        Unit("N/cm", _F(100)),
        Unit("N/mm", _F(1000)),
        Unit("kN/m", _F(1000)),
        Unit("N/100mm", _F(10), ("N/100 mm",)),
        Unit("kg/m", _G0, ("kgf/m",)),
        Unit("lb/ft", _LB * _G0 / _FT, ("lbf/ft",)),
        Unit("lb/in", _LB * _G0 / _IN, ("lbf/in",)),
    ),
    Dimension.PRESSURE: (
        Unit("Pa", _F(1), ("N/m2", "N/m²")),
        Unit("hPa", _F(100), ("mbar",)),
        Unit("kPa", _F(1000)),
        Unit("MPa", _F(1000000), ("N/mm2", "N/mm²")),
        Unit("GPa", _F(1000000000)),
        Unit("bar", _F(100000)),
        Unit("psi", _LB * _G0 / _IN**2, ("lb/in2", "lbf/in2")),
    ),
    Dimension.PERCENT: (Unit("%", _F("0.01"), ("percent", "per cent")),),
    Dimension.TIME: (
        Unit("s", _F(1), ("sec", "secs", "second", "seconds")),
        Unit("ms", _F("0.001")),
        Unit("min", _F(60), ("mins", "minute", "minutes")),
        Unit("h", _F(3600), ("hr", "hrs", "hour", "hours")),
        Unit("d", _F(86400), ("day", "days")),
    ),
    Dimension.MONEY: tuple(
        Unit(code, _F(1), _SYMBOLS.get(code, ())) for code in sorted(CURRENCIES, key=lambda c: (c not in _SYMBOLS, c))
    ),
    Dimension.AREAL_MASS: (
        Unit("kg/m2", _F(1), ("kg/m²", "kg/m^2", "kg/sq m")),
        Unit("g/m2", _F("0.001"), ("g/m²", "g/m^2", "g/sq m", "gsm")),
        Unit("lb/ft2", _LB / _FT**2, ("lb/ft²", "lb/ft^2", "lb/sq ft")),
        Unit("oz/yd2", _OZ / _YD**2, ("oz/yd²", "oz/yd^2", "oz/sq yd")),
        Unit("oz/ft2", _OZ / _FT**2, ("oz/ft²", "oz/ft^2", "oz/sq ft")),
    ),
    Dimension.DENSITY: (
        Unit("kg/m3", _F(1), ("kg/m³", "kg/m^3")),
        Unit("g/cm3", _F(1000), ("g/cm³", "g/cm^3", "kg/l")),
        Unit("lb/ft3", _LB / _FT**3, ("lb/ft³", "lb/ft^3")),
    ),
    Dimension.PLAIN: (Unit("", _F(1)),),
}
"""Every unit that may be written, by dimension; nothing else is understood."""

MEASURED_DOUBT: dict[Dimension, Fraction] = {
    Dimension.LENGTH: _F("0.003"),
    Dimension.MASS: _F("0.5"),
    Dimension.FORCE: _F("0.5") * _G0,
    Dimension.ANGLE: _DEG / 2,
    Dimension.TEMPERATURE: _F(1),
}
"""Two standard deviations of a measured value written without "+-" [SI]: tape, scales, angle gauge, thermometer."""

MEASURED_SHARE = _F(1, 20)
"""The same as a share of the value, where no household instrument has a doubt of its own (line force, moment,
stiffness, speed and the like). Kind: judgement."""

ASSUMED_SHARE = _F(1, 10)
"""Half range of an assumed value written without a range, as a share of the value."""
ASSUMED_LEAST: dict[Dimension, Fraction] = {Dimension.LENGTH: _F("0.005")}
"""The least half range of an assumed value [SI]."""
ASSUMED_FIXED: dict[Dimension, Fraction] = {Dimension.TEMPERATURE: _F(3), Dimension.ANGLE: 2 * _DEG}
"""Half range of an assumed value where a share of it would mean nothing [SI]."""


@cache
def _unit(name: str, dimension: Dimension | None) -> Unit:
    for kind in UNITS if dimension is None else (dimension,):
        for unit in UNITS[kind]:
            if name == unit.name or name in unit.also:
                return unit
    raise Bug(f"no unit {name!r} in the table")


@cache
def size_of(unit: str, dimension: Dimension | None = None) -> float:
    """Return how much one `unit` is in SI, without any shift of zero. Without dimension, "kg" and "lb" are masses."""
    return float(_unit(unit, dimension).size)


def to_unit(value: float, unit: str, dimension: Dimension | None = None) -> float:
    """Return `value` [SI] as a number of `unit`. Without dimension, "kg" and "lb" are masses.

    >>> to_unit(0.345, "mm")
    345.0
    """
    found = _unit(unit, dimension)
    zero, size = found.zero, found.size
    above, below = value.as_integer_ratio()
    # The quotient of two whole numbers is rounded once: the very number that fractions give, several times as fast.
    return ((above * zero.denominator - zero.numerator * below) * size.denominator) / (
        below * zero.denominator * size.numerator
    )


def from_unit(number: float, unit: str, dimension: Dimension | None = None) -> float:
    """Return `number` of `unit` in SI. Without dimension, "kg" and "lb" are masses.

    >>> from_unit(68, "F")
    293.15
    """
    return float(_unit(unit, dimension).si(_F(number)))
