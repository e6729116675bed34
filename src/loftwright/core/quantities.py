"""Text to number and back: how a builder writes a quantity, and the closed table of units.

A quantity is read with the dimension that its place expects:

    number      1.9   1,9   .5   3/4   3 1/2   3-1/2   3½   -5   1.5e3
    amount      number unit   5 ft 3 1/2 in   5'3"   8"   4 lb 6 oz   €120
    value       amount   amount +- amount   amount +- number %   amount .. amount   amount to amount
    text        value   value, measured|label|assumed|unknown|given   unknown   ?   don't know

A comma between digits is a decimal comma; a comma before a space or a letter ends the value. Thousands
marks are refused, since "1,900" may mean 1.9 or 1900. In "46 +- 2 kg" one unit serves both numbers. In a
field that is itself a percentage, "6 +- 2 %" means two points; elsewhere a percentage is a share of the value.

What the range means: "+-" is two standard deviations of a normal spread; ".." is an even chance within.
Without either: a measured value gets the tape's or the scale's own doubt (`MEASURED_DOUBT`, elsewhere
`MEASURED_SHARE`), an assumed one an even range (`ASSUMED_SHARE`, `ASSUMED_LEAST`, `ASSUMED_FIXED`), a label or a
plain decision none.

Arithmetic runs in exact fractions and is rounded once, so "345 mm" and "0.345 m" are the same float.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from typing import Literal

from loftwright.core.errors import Bug, Fault, LoftwrightError
from loftwright.core.uncertain import Provenance, Shape, Uncertain, even

UnitSystem = Literal["metric", "imperial"]


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


class QuantityError(LoftwrightError):
    """A text that is no quantity of the kind wanted: what was given, what is allowed, what to do."""

    def __init__(self, given: str, allowed: str, do: str) -> None:
        self.given = given
        self.allowed = allowed
        self.do = do
        super().__init__(f"{given}: {allowed}; {do}.")

    def fault(self, where: str) -> Fault:
        """Return the mistake with its place in the file."""
        return Fault(where, self.given, self.allowed, self.do)


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


STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s2], exact. Source: 3rd CGPM (1901), declaration on the meaning of weight."""

_F = Fraction
_G0 = _F("9.80665")
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

_NOUNS = {
    Dimension.LENGTH: "a length",
    Dimension.MASS: "a mass",
    Dimension.FORCE: "a force",
    Dimension.ANGLE: "an angle",
    Dimension.TEMPERATURE: "a temperature",
    Dimension.AREA: "an area",
    Dimension.SPEED: "a speed",
    Dimension.MOMENT: "a moment",
    Dimension.STIFFNESS: "a stiffness",
    Dimension.LINE_FORCE: "a force per length",
    Dimension.PRESSURE: "a pressure",
    Dimension.PERCENT: "a percentage",
    Dimension.TIME: "a time",
    Dimension.MONEY: "a price",
    Dimension.AREAL_MASS: "a weight by area",
    Dimension.DENSITY: "a density",
    Dimension.PLAIN: "a bare number",
}

_EXAMPLES = {
    Dimension.LENGTH: ("1.9", "m"),
    Dimension.MASS: ("46", "kg"),
    Dimension.FORCE: ("350", "N"),
    Dimension.ANGLE: ("35", "deg"),
    Dimension.TEMPERATURE: ("15", "C"),
    Dimension.AREA: ("2.5", "m2"),
    Dimension.SPEED: ("12", "m/s"),
    Dimension.MOMENT: ("8", "N m"),
    Dimension.STIFFNESS: ("400", "N/mm"),
    Dimension.LINE_FORCE: ("120", "N/m"),
    Dimension.PRESSURE: ("60", "Pa"),
    Dimension.PERCENT: ("6", "%"),
    Dimension.TIME: ("4", "s"),
    Dimension.MONEY: ("120", "EUR"),
    Dimension.AREAL_MASS: ("9.5", "kg/m2"),
    Dimension.DENSITY: ("60", "kg/m3"),
    Dimension.PLAIN: ("1.3", ""),
}

# A larger unit may be followed by its smaller one: name of the smaller, how many make the larger.
_PAIRS = {"ft": ("in", 12), "lb": ("oz", 16)}
_PAIR_WORDS = {"ft": ("feet", "inches", '"5 ft 3 1/2 in"'), "lb": ("pounds", "ounces", '"4 lb 6 oz"')}
_PAIRED = (Dimension.LENGTH, Dimension.MASS, Dimension.FORCE)

_UNKNOWN = {"unknown", "not known", "don't know", "dont know", "do not know", "?"}
_ROUGH = re.compile(r"(?:about|around|approx\.?|approximately|ca\.?|circa|roughly|~|≈)\s*", re.IGNORECASE)
_LONGEST_TEXT = 120
_LONGEST_NUMBER = 24
_LARGEST_EXPONENT = 15

_FRACTION_SIGNS = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}
_SAME = str.maketrans(
    {
        **dict.fromkeys("\u2212\u2012\u2013\u2014\u2010\u2011", "-"),
        **dict.fromkeys("\u00a0\u2007\u2009\u200a\u202f\t", " "),
        **dict.fromkeys("\u2018\u2019\u2032\u00b4", "'"),
        **dict.fromkeys("\u201c\u201d\u2033", '"'),
        **dict.fromkeys("\u00b7\u22c5\u00d7", "*"),
        "\u2044": "/",
        "\u00b1": "+-",
        "\u2026": "..",
        "\u00ba": "°",
        "\u2103": "°C",
        "\u2109": "°F",
        **{sign: f" {text}" for sign, text in _FRACTION_SIGNS.items()},
    }
)

_NUMBER = re.compile(
    r"""(?P<sign>[-+]?)\s*
    (?: (?P<whole>[0-9]+) [ -] (?P<top>[0-9]+) / (?P<bottom>[0-9]+)
      | (?P<top_alone>[0-9]+) / (?P<bottom_alone>[0-9]+)
      | (?P<mantissa>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+) (?:[eE](?P<exponent>[-+]?[0-9]+))?
    ) (?![0-9.,_/])""",
    re.VERBOSE,
)
_THOUSANDS = re.compile(
    r"[0-9][.,][0-9]+[.,][0-9]"  # 1,234.5
    r"|(?<![0-9.,/])[1-9][0-9]{0,2}(?:[, _'][0-9]{3})+(?![0-9/])"  # 1,234 and 1 234
)
_SPREAD = re.compile(r"\s*\+-\s*")
_BETWEEN = re.compile(r"\s*\.{2,3}\s*|\s+to\s+", re.IGNORECASE)
_ENDS_VALUE = re.compile(r",(?:\s+|(?=[A-Za-z]))")
_PERCENT_END = re.compile(r"\s*(?:%|per ?cent)$", re.IGNORECASE)


def _listed(words: Iterable[str], last: str = "or") -> str:
    """Return words as "a, b or c"."""
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} {last} {items[-1]}"


def _units_allowed(dimension: Dimension) -> str:
    if dimension is Dimension.MONEY:
        return "€, £, $ or a currency code such as EUR"
    return _listed(unit.name for unit in UNITS[dimension])


def _example(dimension: Dimension, number: str = "") -> str:
    usual, unit = _EXAMPLES[dimension]
    return f'"{number or usual} {unit}"' if unit else f'"{number or usual}"'


def _quoted(text: str) -> str:
    """Return `text` in quotation marks, cut if long, with nothing unprintable in it."""
    short = text if len(text) <= 60 else f"{text[:57]}..."
    clean = "".join(c if c.isprintable() else "\ufffd" for c in short)
    return f"'{clean}'" if '"' in clean else f'"{clean}"'


@cache
def _spellings(
    dimension: Dimension | None, any_case: bool
) -> tuple[re.Pattern[str], dict[str, tuple[Dimension, Unit]]]:
    """Return a pattern for the units of a dimension, or of all, longest first, and what each spelling means."""
    table: dict[str, tuple[Dimension, Unit]] = {}
    for kind in UNITS if dimension is None else (dimension,):
        for unit in UNITS[kind]:
            for spelling in (unit.name, *unit.also):
                # mPa is not MPa, and lower-case words are not currencies where no price is expected.
                if any_case and (spelling in ("MPa", "GPa") or (dimension is None and kind is Dimension.MONEY)):
                    continue
                if spelling:
                    table.setdefault(spelling.casefold() if any_case else spelling, (kind, unit))
    parts = []
    for spelling in sorted(table, key=len, reverse=True):
        ends_freely = spelling in ("'", '"')
        before_digit = table[spelling][1].name in _PAIRS
        guard = "" if ends_freely else "(?![A-Za-z/²³°%^*])" if before_digit else "(?![A-Za-z0-9/²³°%^*])"
        parts.append(re.escape(spelling) + guard)
    return re.compile("|".join(parts) or "(?!)", re.IGNORECASE if any_case else 0), table


def _find(dimension: Dimension | None, text: str) -> tuple[int, Dimension, Unit] | None:
    """Return length, dimension and unit of the longest spelling at the start of `text`."""
    for any_case in (False, True):
        pattern, table = _spellings(dimension, any_case)
        match = pattern.match(text)
        if match:
            kind, unit = table[match.group().casefold() if any_case else match.group()]
            return match.end(), kind, unit
    return None


def _near(word: str, candidates: Iterable[str]) -> str | None:
    """Return the candidate most like `word`, or None; of equals the first, and one of the same length before others."""
    from difflib import SequenceMatcher

    def likeness(candidate: str) -> float:
        alike = SequenceMatcher(None, word.casefold(), candidate.casefold()).ratio()
        return alike + (0.2 if len(candidate) == len(word) else 0.0)

    best = max((c for c in candidates if c), key=likeness, default=None)
    return best if best is not None and likeness(best) >= 0.65 else None


@dataclass(frozen=True, slots=True)
class _Amount:
    """A number with its unit; `pair` says that it was written in two units."""

    number: Fraction
    unit: Unit | None
    pair: bool = False


class _Reader:
    """Reads one text for one dimension; every refusal quotes the text."""

    def __init__(self, given: str, dimension: Dimension) -> None:
        self.given = given
        self.dimension = dimension
        self.noun = _NOUNS[dimension]

    def refuse(self, allowed: str, do: str) -> QuantityError:
        return QuantityError(self.given, allowed, do)

    def number(self, match: re.Match[str]) -> Fraction:
        if len(match.group()) > _LONGEST_NUMBER:
            raise self.refuse("the number has more digits than any tape or scale can show", "write a shorter number")
        sign = -1 if match["sign"] == "-" else 1
        top, bottom = match["top"] or match["top_alone"], match["bottom"] or match["bottom_alone"]
        if bottom is not None:
            if int(bottom) == 0:
                raise self.refuse("the fraction divides by nought", "write the fraction again")
            if match["whole"] is not None and int(top) >= int(bottom):
                raise self.refuse(
                    "a fraction behind a whole number must be less than one",
                    'write it like "3 1/2 in" or as a decimal number',
                )
            return sign * (int(match["whole"] or 0) + _F(int(top), int(bottom)))
        exponent = int(match["exponent"] or 0)
        value = _F(0)
        if abs(exponent) <= _LARGEST_EXPONENT:
            value = _F(match["mantissa"].replace(",", ".")) * _F(10) ** exponent
        if abs(exponent) > _LARGEST_EXPONENT or value >= 10**_LARGEST_EXPONENT:
            raise self.refuse("the number is too large or too small for anything on a van", "write the number again")
        return sign * value

    def unit(self, text: str) -> tuple[Unit | None, str]:
        """Return the unit at the start of `text`, if any, and what follows."""
        if not text or text[0] in "0123456789+-.,":
            return None, text
        own, anyone = _find(self.dimension, text), _find(None, text)
        if own and (not anyone or own[0] >= anyone[0]):
            return own[2], text[own[0] :].lstrip()
        example = _example(self.dimension)
        if anyone:
            written = text[: anyone[0]]
            if self.dimension is Dimension.PLAIN:
                raise self.refuse(f"a bare number is wanted here, without {written}", f"write it like {example}")
            raise self.refuse(
                f"{written} is a unit of {_NOUNS[anyone[1]].split(' ', 1)[1]}, and {self.noun} is wanted here "
                f"(in {_units_allowed(self.dimension)})",
                f"write it like {example}",
            )
        word = re.match(r"[^\s0-9]+", text)
        written = word.group() if word else text
        if self.dimension is Dimension.PLAIN:
            raise self.refuse(f"a bare number is wanted here, without {_quoted(written)}", f"write it like {example}")
        near = _near(written, (s for unit in UNITS[self.dimension] for s in (unit.name, *unit.also)))
        raise self.refuse(
            f"{_quoted(written)} is no unit for {self.noun} (allowed: {_units_allowed(self.dimension)})",
            f'write "{near}", if that is what you mean' if near else f"write it like {example}",
        )

    def amount(self, text: str) -> _Amount:
        """Return the number and unit that `text` consists of."""
        leading: Unit | None = None
        if self.dimension is Dimension.MONEY:
            prefix = re.match(r"(?P<sign>[-+]?)\s*(?P<unit>[€£$]|[A-Za-z]{3}(?=\s*[0-9]))\s*", text)
            found = _find(Dimension.MONEY, prefix["unit"]) if prefix else None
            if prefix and found:
                leading, text = found[2], prefix["sign"] + text[prefix.end() :]
        match = _NUMBER.match(text)
        if not match:
            raise self.no_number(text)
        number = self.number(match)
        unit, rest = self.unit(text[match.end() :].lstrip())
        if leading:
            if unit:
                raise self.refuse("two currencies are written for one price", "write one of them")
            unit = leading
        if rest and unit and unit.name in _PAIRS and self.dimension in _PAIRED:
            second = _NUMBER.match(rest)
            if second:
                return self.paired(number, match, unit, second, rest[second.end() :].lstrip())
        if rest:
            raise self.left_over(rest)
        return _Amount(number, unit)

    def paired(self, number: Fraction, first: re.Match[str], unit: Unit, second: re.Match[str], rest: str) -> _Amount:
        """Return feet with inches or pounds with ounces, as a number of the smaller unit."""
        small_name, count = _PAIRS[unit.name]
        large_word, small_word, example = _PAIR_WORDS[unit.name]
        small, rest = self.unit(rest)
        if small is None or small.name != small_name or rest:
            raise self.refuse(
                f"after the {large_word} come the {small_word} and nothing else", f"write it like {example}"
            )
        parts = self.number(second)
        if number.denominator != 1 or second["sign"] or not 0 <= parts < count:
            raise self.refuse(
                f"beside {small_word}, the {large_word} must be a whole number and the {small_word} less than {count}",
                f"write it like {example} or in {small_word} alone",
            )
        whole = abs(number) * count + parts
        return _Amount(-whole if first["sign"] == "-" else whole, small, pair=True)

    def no_number(self, text: str) -> QuantityError:
        example = _example(self.dimension)
        rough = _ROUGH.match(text)
        if rough and rough.end() < len(text):
            return self.refuse("it must start with a number", f'write "{text[rough.end() :]}, assumed"')
        if not text:
            return self.refuse("a number is missing", f"write it like {example}")
        if len(text) > 1 and text.isalpha() and _near(text, ("unknown",)):
            return self.refuse("it starts with no number", 'write "unknown", if that is what you mean')
        return self.refuse(f"it must start with a number, as {self.noun} is wanted", f"write it like {example}")

    def left_over(self, rest: str) -> QuantityError:
        if re.match(r"-\s*[0-9]", rest):
            return self.refuse("a dash between two numbers can be read two ways", 'write a range like "40 .. 50 kg"')
        if rest[0] in "0123456789":
            return self.refuse("there are two numbers where one is wanted", f"write it like {_example(self.dimension)}")
        return self.refuse(
            f"{_quoted(rest)} is left over at the end", f"write only number and unit, like {_example(self.dimension)}"
        )

    def no_unit(self, number: str) -> QuantityError:
        return self.refuse(
            f"it has no unit, and {self.noun} needs one ({_units_allowed(self.dimension)})",
            f"write {_example(self.dimension, number.strip())}, if that is what you mean",
        )

    def one_unit(self, first: _Amount, second: _Amount, body: str) -> tuple[Unit, Unit]:
        """Return the units of both amounts, one lending its unit to the other where that is clear."""
        if self.dimension is Dimension.PLAIN:
            return UNITS[Dimension.PLAIN][0], UNITS[Dimension.PLAIN][0]
        if (first.pair and second.unit is None) or (second.pair and first.unit is None):
            raise self.refuse("one of the two numbers has no unit", "write the unit behind both numbers")
        one, other = first.unit or second.unit, second.unit or first.unit
        if one is None or other is None:
            number = _NUMBER.match(body)
            raise self.no_unit(number.group() if number else "")
        if self.dimension is Dimension.MONEY and one != other:
            raise self.refuse("two currencies are written for one price", "write both in one currency")
        return one, other

    def check_cold(self, low: Fraction) -> None:
        if self.dimension is Dimension.TEMPERATURE and low < 0:
            raise self.refuse("it reaches below absolute zero, -273.15 C", "write the temperature again")


def _clean(text: str) -> str:
    """Return `text` with look-alike signs made one and spaces made single."""
    same = text.translate(_SAME).replace("''", '"').replace("+/-", "+-").replace("+ / -", "+-")
    same = re.sub(r"\s*([/*])\s*", r"\1", same)
    same = re.sub(r"°\s+(?=[CFcf]\b)", "°", same)
    return re.sub(r"\s+", " ", same).strip()


def _uncertain(nominal: Fraction, half: Fraction, shape: Shape, provenance: Provenance) -> Uncertain:
    if float(nominal - half) == float(nominal + half):
        shape = "exact"
    return Uncertain(float(nominal), float(nominal - half), float(nominal + half), shape, provenance)


def _without_range(nominal: Fraction, dimension: Dimension, provenance: Provenance) -> Uncertain:
    """Return a value written without range, with the doubt that its provenance brings."""
    if provenance is Provenance.MEASURED:
        doubt = MEASURED_DOUBT.get(dimension, abs(nominal) * MEASURED_SHARE)
        return _uncertain(nominal, doubt, "normal", provenance)
    if provenance is Provenance.ASSUMED:
        half = ASSUMED_FIXED.get(dimension)
        if half is None:
            half = max(abs(nominal) * ASSUMED_SHARE, ASSUMED_LEAST.get(dimension, _F(0)))
        return _uncertain(nominal, half, "even", provenance)
    return _uncertain(nominal, _F(0), "exact", provenance)


def _provenance(reader: _Reader, word: str | None) -> Provenance:
    if word is None:
        return Provenance.GIVEN
    folded = word.strip().casefold()
    if folded in list(Provenance):
        return Provenance(folded)
    words = _listed(p.value for p in Provenance)
    near = _near(folded, (p.value for p in Provenance))
    raise reader.refuse(
        f"after the comma comes one word, {words}, and not {_quoted(word)}",
        f'write "{near}", if that is what you mean' if near else "write one of these words or nothing",
    )


def _read(text: object, dimension: Dimension, unknown: tuple[float, float] | None) -> tuple[Uncertain, Unit | None]:
    """Return the value that `text` means, and the unit it was written in (None when it is unknown)."""
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise QuantityError(
            _quoted(str(text).casefold() if isinstance(text, bool) else str(text)),
            f"{_NOUNS[dimension]} is wanted here",
            f"write it like {_example(dimension)}",
        )
    if isinstance(text, str):
        written, given = text, _quoted(text)
    else:
        huge = isinstance(text, int) and abs(text) >= 10**_LONGEST_NUMBER
        written = given = "1e99" if huge else str(text) if isinstance(text, int) else repr(float(text))
        given = "a whole number of more than 24 digits" if huge else given
    reader = _Reader(given, dimension)
    if len(written) > _LONGEST_TEXT:
        raise reader.refuse("it is too long to be one quantity", f"write it like {_example(dimension)}")
    whole = _clean(written)
    if not whole:
        do = f"write it like {_example(dimension)}"
        do = do if unknown is None else f'{do} or "unknown"'
        raise reader.refuse(f"nothing is written, and {reader.noun} is wanted", do)

    body, *words = (part.strip() for part in _ENDS_VALUE.split(whole))
    if len(words) > 1:
        raise reader.refuse("there is more than one comma that ends the value", 'write it like "46 +- 2 kg, measured"')
    if body.casefold() in _UNKNOWN:
        if words and words[0].strip().casefold() != Provenance.UNKNOWN:
            raise reader.refuse("a value cannot be unknown and something else", 'write "unknown" alone')
        if unknown is None:
            raise reader.refuse("this one must be given", f"write it like {_example(dimension)}")
        return even(unknown[0], unknown[1], Provenance.UNKNOWN), None
    provenance = _provenance(reader, words[0] if words else None)

    thousands = _THOUSANDS.search(body)
    if thousands:
        digits = thousands.group()
        if re.fullmatch(r"[0-9]+,[0-9]{3}", digits):
            small = digits.replace(",", ".").rstrip("0").rstrip(".")
            do = f"write {digits.replace(',', '')} or {small}, whichever you mean"
        elif re.fullmatch(r"[0-9]+(?:[ _'][0-9]{3})+", digits):
            do = "write " + re.sub("[ _']", "", digits)
        else:
            do = "write the number without them, like 1900 or 1.9"
        raise reader.refuse(f"{digits} has what looks like a thousands mark, and these are not used", do)

    spread, between = _SPREAD.split(body), _BETWEEN.split(body)
    if len(spread) > 2 or len(between) > 2 or len(spread) + len(between) > 3:
        raise reader.refuse("there is more than one range", 'write it like "46 +- 2 kg" or "40 .. 50 kg"')
    if len(spread) == 2:
        return _with_spread(reader, spread[0], spread[1], provenance)
    if len(between) == 2:
        return _with_ends(reader, between[0], between[1], provenance)

    amount = reader.amount(body)
    if amount.unit is None and dimension is not Dimension.PLAIN:
        raise reader.no_unit(body)
    unit = amount.unit or UNITS[Dimension.PLAIN][0]
    if provenance is Provenance.UNKNOWN:
        raise reader.refuse(
            "a single value cannot be unknown", 'write "unknown" alone, or a range like "40 .. 50 kg, unknown"'
        )
    nominal = unit.si(amount.number)
    value = _without_range(nominal, dimension, provenance)
    reader.check_cold(_F(value.low))
    return value, unit


def _with_spread(reader: _Reader, left: str, right: str, provenance: Provenance) -> tuple[Uncertain, Unit]:
    """Return "left +- right"."""
    dimension = reader.dimension
    first = reader.amount(left)
    share = _PERCENT_END.search(right) if dimension is not Dimension.PERCENT else None
    if share and (first.unit is not None or dimension is Dimension.PLAIN):
        if dimension is Dimension.TEMPERATURE:
            raise reader.refuse("a percentage of a temperature means nothing", 'write it like "15 +- 3 C"')
        points = _NUMBER.fullmatch(right[: share.start()])
        if not points:
            raise reader.no_number(right[: share.start()])
        unit = first.unit or UNITS[Dimension.PLAIN][0]
        number = reader.number(points)
        half = abs(unit.si(first.number)) * number / 100
    elif share:
        raise reader.no_unit(left)
    else:
        second = reader.amount(right)
        unit, half_unit = reader.one_unit(first, second, left)
        number = second.number
        half = half_unit.size * number
    if number < 0:
        raise reader.refuse("what stands behind +- must not be negative", 'write it like "46 +- 2 kg"')
    nominal = unit.si(first.number)
    reader.check_cold(nominal - half)
    return _uncertain(nominal, half, "normal", provenance), unit


def _with_ends(reader: _Reader, left: str, right: str, provenance: Provenance) -> tuple[Uncertain, Unit]:
    """Return "left .. right"."""
    first, second = reader.amount(left), reader.amount(right)
    low_unit, high_unit = reader.one_unit(first, second, left)
    low, high = low_unit.si(first.number), high_unit.si(second.number)
    if low > high:
        raise reader.refuse("the range runs backwards", "write the smaller end first")
    reader.check_cold(low)
    middle = (low + high) / 2
    shape: Shape = "even" if float(high) > float(low) else "exact"
    return Uncertain(float(middle), float(low), float(high), shape, provenance), low_unit


def parse(text: object, dimension: Dimension, *, unknown: tuple[float, float] | None) -> Uncertain:
    """Return the value in SI that a builder's `text` means.

    `unknown` is the range [SI] that the word "unknown" stands for; None where the value must be given.
    `text` is what stands in the file: a bare number is read as its text, so it is refused wherever a unit is
    needed, and anything but text and numbers is refused. For a price use `parse_money`, which keeps the currency.

    Raises QuantityError, one sentence that quotes the text.

    >>> parse("46 +- 2 kg, measured", Dimension.MASS, unknown=None)
    Uncertain(nominal=46.0, low=44.0, high=48.0, shape='normal', provenance=<Provenance.MEASURED: 'measured'>)
    >>> parse("5 ft 3 1/2 in", Dimension.LENGTH, unknown=None).nominal
    1.6129
    >>> parse("10 kg", Dimension.FORCE, unknown=None).nominal
    98.0665
    """
    return _read(text, dimension, unknown)[0]


def parse_money(text: object) -> tuple[Uncertain, str]:
    """Return a price in its own currency, and the currency's three-letter code.

    €, £ and $ stand for EUR, GBP and USD.

    >>> price, currency = parse_money("£40")
    >>> price.nominal, currency
    (40.0, 'GBP')
    """
    value, unit = _read(text, Dimension.MONEY, None)
    if unit is None:
        raise Bug("a price was read without its currency")
    return value, unit.name


def _unit(name: str, dimension: Dimension | None) -> Unit:
    for kind in UNITS if dimension is None else (dimension,):
        for unit in UNITS[kind]:
            if name == unit.name or name in unit.also:
                return unit
    raise Bug(f"no unit {name!r} in the table")


def size_of(unit: str, dimension: Dimension | None = None) -> float:
    """Return how much one `unit` is in SI, without any shift of zero. Without dimension, "kg" and "lb" are masses."""
    return float(_unit(unit, dimension).size)


def to_unit(value: float, unit: str, dimension: Dimension | None = None) -> float:
    """Return `value` [SI] as a number of `unit`. Without dimension, "kg" and "lb" are masses.

    >>> to_unit(0.345, "mm")
    345.0
    """
    found = _unit(unit, dimension)
    return float((_F(value) - found.zero) / found.size)


def from_unit(number: float, unit: str, dimension: Dimension | None = None) -> float:
    """Return `number` of `unit` in SI. Without dimension, "kg" and "lb" are masses.

    >>> from_unit(68, "F")
    293.15
    """
    return float(_unit(unit, dimension).si(_F(number)))


# Unit in which a file is written: (below this SI magnitude, unit), the last for all above.
_WRITTEN: dict[UnitSystem, dict[Dimension, tuple[tuple[float, str], ...]]] = {
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
    rest = str(_F(part, per_inch)) if part else ""
    number = " ".join(([str(inches)] if inches or not rest else []) + ([rest] if rest else []))
    return ("-" if parts < 0 else "") + " ".join([*words, f"{number} in"])


def format_quantity(
    value: Uncertain, dimension: Dimension, units: UnitSystem = "metric", *, currency: str = "", digits: int = 10
) -> str:
    """Return a text for a project file that `parse` reads back as the same value, to `digits` significant digits.

    A price needs its `currency`. Raises Bug for a value whose nominal is not in the middle of its range: the
    file's grammar has no words for that.

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
        usual = _without_range(_F(value.nominal), dimension, value.provenance)
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
