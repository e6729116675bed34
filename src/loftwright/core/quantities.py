"""Text to number: how a builder writes a quantity.

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

import re
from fractions import Fraction
from functools import lru_cache

from loftwright.core.amounts import (
    LONGEST_NUMBER,
    NOUNS,
    NUMBER,
    AmountReader,
    QuantityError,
    clean,
    example_of,
    listed,
    nearest_word,
    quoted,
)
from loftwright.core.errors import Bug
from loftwright.core.uncertain import Provenance, Shape, Uncertain, even
from loftwright.core.units import (
    ASSUMED_FIXED,
    ASSUMED_LEAST,
    ASSUMED_SHARE,
    MEASURED_DOUBT,
    MEASURED_SHARE,
    UNITS,
    Dimension,
    Unit,
)

_F = Fraction

_THOUSANDS = re.compile(
    r"[0-9][.,][0-9]+[.,][0-9]"  # 1,234.5
    r"|(?<![0-9.,/])[1-9][0-9]{0,2}(?:[, _'][0-9]{3})+(?![0-9/])"  # 1,234 and 1 234
)
_SPREAD = re.compile(r"\s*\+-\s*")
_BETWEEN = re.compile(r"\s*\.{2,3}\s*|\s+to\s+", re.IGNORECASE)
_ENDS_VALUE = re.compile(r",(?:\s+|(?=[A-Za-z]))")
_PERCENT_END = re.compile(r"\s*(?:%|per ?cent)$", re.IGNORECASE)
_PLAINLY = re.compile(r"(-?[0-9]{1,7}(?:\.[0-9]{1,15})?)(?: (\S.*))?")
_SPELT = {
    dimension: {spelling: unit for unit in reversed(units) for spelling in (unit.name, *unit.also)}
    for dimension, units in UNITS.items()
}
_UNKNOWN = {"unknown", "not known", "don't know", "dont know", "do not know", "?"}
_LONGEST_TEXT = 120


def _uncertain(nominal: Fraction, half: Fraction, shape: Shape, provenance: Provenance) -> Uncertain:
    if float(nominal - half) == float(nominal + half):
        shape = "exact"
    return Uncertain(float(nominal), float(nominal - half), float(nominal + half), shape, provenance)


def without_range(nominal: Fraction, dimension: Dimension, provenance: Provenance) -> Uncertain:
    """Return a value written without range, with the doubt that its provenance brings."""
    if provenance is Provenance.MEASURED:
        doubt = MEASURED_DOUBT.get(dimension, abs(nominal) * MEASURED_SHARE)
        return _uncertain(nominal, doubt, "normal", provenance)
    if provenance is Provenance.ASSUMED:
        half = ASSUMED_FIXED.get(dimension)
        if half is None:
            half = max(abs(nominal) * ASSUMED_SHARE, ASSUMED_LEAST.get(dimension, _F(0)))
        return _uncertain(nominal, half, "even", provenance)
    value = float(nominal)
    return Uncertain(value, value, value, "exact", provenance)


def _provenance(reader: AmountReader, word: str | None) -> Provenance:
    if word is None:
        return Provenance.GIVEN
    folded = word.strip().casefold()
    if folded in list(Provenance):
        return Provenance(folded)
    words = listed(p.value for p in Provenance)
    near = nearest_word(folded, (p.value for p in Provenance))
    raise reader.refuse(
        f"after the comma comes one word, {words}, and not {quoted(word)}",
        f'write "{near}", if that is what you mean' if near else "write one of these words or nothing",
    )


def _read(text: object, dimension: Dimension, unknown: tuple[float, float] | None) -> tuple[Uncertain, Unit | None]:
    """Return the value that `text` means, and the unit it was written in (None when it is unknown)."""
    if isinstance(text, bool) or not isinstance(text, (str, int, float)):
        raise QuantityError(
            quoted(str(text).casefold() if isinstance(text, bool) else str(text)),
            f"{NOUNS[dimension]} is wanted here",
            f"write it like {example_of(dimension)}",
        )
    if isinstance(text, str):
        written, given = text, quoted(text)
    else:
        huge = isinstance(text, int) and abs(text) >= 10**LONGEST_NUMBER
        written = given = "1e99" if huge else str(text) if isinstance(text, int) else repr(float(text))
        given = "a whole number of more than 24 digits" if huge else given
    reader = AmountReader(given, dimension)
    if len(written) > _LONGEST_TEXT:
        raise reader.refuse("it is too long to be one quantity", f"write it like {example_of(dimension)}")
    whole = clean(written)
    if not whole:
        do = f"write it like {example_of(dimension)}"
        do = do if unknown is None else f'{do} or "unknown"'
        raise reader.refuse(f"nothing is written, and {reader.noun} is wanted", do)

    body, *words = (part.strip() for part in _ENDS_VALUE.split(whole))
    if len(words) > 1:
        raise reader.refuse("there is more than one comma that ends the value", 'write it like "46 +- 2 kg, measured"')
    if body.casefold() in _UNKNOWN:
        if words and words[0].strip().casefold() != Provenance.UNKNOWN:
            raise reader.refuse("a value cannot be unknown and something else", 'write "unknown" alone')
        if unknown is None:
            raise reader.refuse("this one must be given", f"write it like {example_of(dimension)}")
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
    value = without_range(nominal, dimension, provenance)
    reader.check_cold(_F(value.low))
    return value, unit


def _with_spread(reader: AmountReader, left: str, right: str, provenance: Provenance) -> tuple[Uncertain, Unit]:
    """Return "left +- right"."""
    dimension = reader.dimension
    first = reader.amount(left)
    share = _PERCENT_END.search(right) if dimension is not Dimension.PERCENT else None
    if share and (first.unit is not None or dimension is Dimension.PLAIN):
        if dimension is Dimension.TEMPERATURE:
            raise reader.refuse("a percentage of a temperature means nothing", 'write it like "15 +- 3 C"')
        points = NUMBER.fullmatch(right[: share.start()])
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


def _with_ends(reader: AmountReader, left: str, right: str, provenance: Provenance) -> tuple[Uncertain, Unit]:
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
    return _kept(text, dimension, unknown) if isinstance(text, str) else _read(text, dimension, unknown)[0]


@lru_cache(maxsize=8192)
def _kept(text: str, dimension: Dimension, unknown: tuple[float, float] | None) -> Uncertain:
    """Return what `parse` does; the same defaults and values are read again with every change of a file."""
    found = _plainly(text, dimension)
    return _read(text, dimension, unknown)[0] if found is None else found


def _plainly(text: str, dimension: Dimension) -> Uncertain | None:
    """Return what a bare decimal number with its unit means, several times as fast; None where more is written."""
    match = _PLAINLY.fullmatch(text)
    unit = None if match is None else _SPELT[dimension].get(match[2] or "")
    if match is None or unit is None:
        return None
    value = without_range(unit.si(_F(match[1])), dimension, Provenance.GIVEN)
    return None if dimension is Dimension.TEMPERATURE and value.low < 0 else value


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
