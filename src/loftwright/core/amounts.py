"""One amount in a builder's words: the number, its unit, and why it cannot be read."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from loftwright.core.errors import Fault, LoftwrightError
from loftwright.core.units import UNITS, Dimension, Unit

_F = Fraction


class QuantityError(LoftwrightError):
    """A text that is no quantity of the kind wanted: what was given, what is allowed, what to do."""

    def __init__(self, given: str, allowed: str, do: str) -> None:
        self.given = given
        self.allowed = allowed
        self.do = do
        super().__init__(f"{given}: {allowed}; {do}.")

    def __reduce__(self) -> tuple[type[QuantityError], tuple[str, str, str]]:
        return type(self), (self.given, self.allowed, self.do)

    def fault(self, where: str) -> Fault:
        """Return the mistake with its place in the file."""
        return Fault(where, self.given, self.allowed, self.do)


NOUNS = {
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

_ROUGH = re.compile(r"(?:about|around|approx\.?|approximately|ca\.?|circa|roughly|~|≈)\s*", re.IGNORECASE)
LONGEST_NUMBER = 24
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

NUMBER = re.compile(
    r"""(?P<sign>[-+]?)\s*
    (?: (?P<whole>[0-9]+) [ -] (?P<top>[0-9]+) / (?P<bottom>[0-9]+)
      | (?P<top_alone>[0-9]+) / (?P<bottom_alone>[0-9]+)
      | (?P<mantissa>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+) (?:[eE](?P<exponent>[-+]?[0-9]+))?
    ) (?![0-9.,_/])""",
    re.VERBOSE,
)


def listed(words: Iterable[str], last: str = "or") -> str:
    """Return words as "a, b or c"."""
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} {last} {items[-1]}"


def _units_allowed(dimension: Dimension) -> str:
    if dimension is Dimension.MONEY:
        return "€, £, $ or a currency code such as EUR"
    return listed(unit.name for unit in UNITS[dimension])


def example_of(dimension: Dimension, number: str = "") -> str:
    """Return how an amount is written, in quotation marks."""
    usual, unit = _EXAMPLES[dimension]
    return f'"{number or usual} {unit}"' if unit else f'"{number or usual}"'


def quoted(text: str) -> str:
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


def nearest_word(word: str, candidates: Iterable[str]) -> str | None:
    """Return the candidate most like `word`, or None; of equals the first, and one of the same length before others."""
    from difflib import SequenceMatcher

    def likeness(candidate: str) -> float:
        alike = SequenceMatcher(None, word.casefold(), candidate.casefold()).ratio()
        return alike + (0.2 if len(candidate) == len(word) else 0.0)

    best = max((c for c in candidates if c), key=likeness, default=None)
    return best if best is not None and likeness(best) >= 0.65 else None


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with its unit; `pair` says that it was written in two units."""

    number: Fraction
    unit: Unit | None
    pair: bool = False


class AmountReader:
    """Reads one text for one dimension; every refusal quotes the text."""

    def __init__(self, given: str, dimension: Dimension) -> None:
        self.given = given
        self.dimension = dimension
        self.noun = NOUNS[dimension]

    def refuse(self, allowed: str, do: str) -> QuantityError:
        """Return the refusal of the whole text."""
        return QuantityError(self.given, allowed, do)

    def number(self, match: re.Match[str]) -> Fraction:
        """Return the number that `NUMBER` found."""
        if len(match.group()) > LONGEST_NUMBER:
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
        example = example_of(self.dimension)
        if anyone:
            written = text[: anyone[0]]
            if self.dimension is Dimension.PLAIN:
                raise self.refuse(f"a bare number is wanted here, without {written}", f"write it like {example}")
            raise self.refuse(
                f"{written} is a unit of {NOUNS[anyone[1]].split(' ', 1)[1]}, and {self.noun} is wanted here "
                f"(in {_units_allowed(self.dimension)})",
                f"write it like {example}",
            )
        word = re.match(r"[^\s0-9]+", text)
        written = word.group() if word else text
        if self.dimension is Dimension.PLAIN:
            raise self.refuse(f"a bare number is wanted here, without {quoted(written)}", f"write it like {example}")
        spellings = (s for unit in UNITS[self.dimension] for s in (unit.name, *unit.also))
        # Two letters say too little to guess by: stones are no tonnes.
        near = nearest_word(written, (s for s in spellings if len(written) > 2 or len(s) == len(written)))
        raise self.refuse(
            f"{quoted(written)} is no unit for {self.noun} (allowed: {_units_allowed(self.dimension)})",
            f'write "{near}", if that is what you mean' if near else f"write it like {example}",
        )

    def amount(self, text: str) -> Amount:
        """Return the number and unit that `text` consists of."""
        leading: Unit | None = None
        if self.dimension is Dimension.MONEY:
            prefix = re.match(r"(?P<sign>[-+]?)\s*(?P<unit>[€£$]|[A-Za-z]{3}(?=\s*[0-9]))\s*", text)
            found = _find(Dimension.MONEY, prefix["unit"]) if prefix else None
            if prefix and found:
                leading, text = found[2], prefix["sign"] + text[prefix.end() :]
        match = NUMBER.match(text)
        if not match:
            raise self.no_number(text)
        number = self.number(match)
        unit, rest = self.unit(text[match.end() :].lstrip())
        if leading:
            if unit:
                raise self.refuse("two currencies are written for one price", "write one of them")
            unit = leading
        if rest and unit and unit.name in _PAIRS and self.dimension in _PAIRED:
            second = NUMBER.match(rest)
            if second:
                return self.paired(number, match, unit, second, rest[second.end() :].lstrip())
        if rest:
            raise self.left_over(rest)
        return Amount(number, unit)

    def paired(self, number: Fraction, first: re.Match[str], unit: Unit, second: re.Match[str], rest: str) -> Amount:
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
        return Amount(-whole if first["sign"] == "-" else whole, small, pair=True)

    def no_number(self, text: str) -> QuantityError:
        """Return the refusal of a text that starts with no number."""
        example = example_of(self.dimension)
        rough = _ROUGH.match(text)
        if rough and self.is_whole(text[rough.end() :]):
            return self.refuse("it must start with a number", f'write "{text[rough.end() :]}, assumed"')
        if not text:
            return self.refuse("a number is missing", f"write it like {example}")
        if len(text) > 1 and text.isalpha() and nearest_word(text, ("unknown",)):
            return self.refuse("it starts with no number", 'write "unknown", if that is what you mean')
        return self.refuse(f"it must start with a number, as {self.noun} is wanted", f"write it like {example}")

    def is_whole(self, text: str) -> bool:
        """Return whether `text` is a number with all that it needs."""
        try:
            amount = self.amount(text)
        except QuantityError:
            return False
        return amount.unit is not None or self.dimension is Dimension.PLAIN

    def left_over(self, rest: str) -> QuantityError:
        """Return the refusal of what stands behind a whole amount."""
        if re.match(r"-\s*[0-9]", rest):
            return self.refuse("a dash between two numbers can be read two ways", 'write a range like "40 .. 50 kg"')
        if rest[0] in "0123456789":
            return self.refuse(
                "there are two numbers where one is wanted", f"write it like {example_of(self.dimension)}"
            )
        return self.refuse(
            f"{quoted(rest)} is left over at the end", f"write only number and unit, like {example_of(self.dimension)}"
        )

    def no_unit(self, number: str) -> QuantityError:
        """Return the refusal of a number without a unit."""
        return self.refuse(
            f"it has no unit, and {self.noun} needs one ({_units_allowed(self.dimension)})",
            f"write {example_of(self.dimension, number.strip())}, if that is what you mean",
        )

    def one_unit(self, first: Amount, second: Amount, body: str) -> tuple[Unit, Unit]:
        """Return the units of both amounts, one lending its unit to the other where that is clear."""
        if self.dimension is Dimension.PLAIN:
            return UNITS[Dimension.PLAIN][0], UNITS[Dimension.PLAIN][0]
        if (first.pair and second.unit is None) or (second.pair and first.unit is None):
            raise self.refuse("one of the two numbers has no unit", "write the unit behind both numbers")
        one, other = first.unit or second.unit, second.unit or first.unit
        if one is None or other is None:
            number = NUMBER.match(body)
            raise self.no_unit(number.group() if number else "")
        if self.dimension is Dimension.MONEY and one != other:
            raise self.refuse("two currencies are written for one price", "write both in one currency")
        return one, other

    def check_cold(self, low: Fraction) -> None:
        """Refuse a temperature below absolute zero."""
        if self.dimension is Dimension.TEMPERATURE and low < 0:
            raise self.refuse("it reaches below absolute zero, -273.15 C", "write the temperature again")


def clean(text: str) -> str:
    """Return `text` with look-alike signs made one and spaces made single."""
    same = text.translate(_SAME).replace("''", '"').replace("+/-", "+-").replace("+ / -", "+-")
    same = re.sub(r"\s*([/*])\s*", r"\1", same)
    same = re.sub(r"°\s+(?=[CFcf]\b)", "°", same)
    return re.sub(r"\s+", " ", same).strip()
