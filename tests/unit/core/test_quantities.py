"""How quantities are read and written. The grammar is the product's own, so these are constructed cases."""

from __future__ import annotations

import math
import subprocess
import sys
from fractions import Fraction
from typing import Any

import pytest

from loftwright.core.amounts import QuantityError
from loftwright.core.errors import Bug, Fault, LoftwrightError
from loftwright.core.quantities import parse, parse_money
from loftwright.core.quantity_text import format_quantity, inch_text
from loftwright.core.uncertain import Provenance, Uncertain, even, exact, normal
from loftwright.core.units import CURRENCIES, Dimension, from_unit, size_of, to_unit

D = Dimension
INCH = 0.0254


def read(text: object, dimension: Dimension = D.LENGTH) -> Uncertain:
    return parse(text, dimension, unknown=(1.0, 2.0))


def refusal(text: object, dimension: Dimension = D.LENGTH, unknown: tuple[float, float] | None = (1.0, 2.0)) -> str:
    with pytest.raises(QuantityError) as caught:
        parse(text, dimension, unknown=unknown)
    return str(caught.value)


# --- numbers and units -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("1.9 m", 1.9),
        ("1.9m", 1.9),
        ("1,9 m", 1.9),
        ("0,125 m", 0.125),
        ("1,2345 m", 1.2345),
        (".5 m", 0.5),
        ("1.5e3 mm", 1.5),
        ("345 mm", 0.345),
        ("34.5 cm", 0.345),
        ("345 millimetres", 0.345),
        ("345 MM", 0.345),
        ("  345   mm  ", 0.345),
        ("345\u00a0mm", 0.345),
        ("-5 mm", -0.005),
        ("\u22125 mm", -0.005),
        ("\u20135 mm", -0.005),
        ("+5 mm", 0.005),
        ("0 mm", 0.0),
        ("8 in", 8 * INCH),
        ('8"', 8 * INCH),
        ("8\u2033", 8 * INCH),
        ("8''", 8 * INCH),
        ("1/2 in", 0.5 * INCH),
        ("1 / 2 in", 0.5 * INCH),
        ("5/2 in", 2.5 * INCH),
        ("3 1/2 in", 3.5 * INCH),
        ("3-1/2 in", 3.5 * INCH),
        ("3\u00bd in", 3.5 * INCH),
        ("3 \u00bd in", 3.5 * INCH),
        ("\u00bc in", 0.25 * INCH),
        ("\u215e in", 0.875 * INCH),
        ("-3 1/2 in", -3.5 * INCH),
        ("5 ft", 60 * INCH),
        ("5.5 ft", 66 * INCH),
        ("5 ft 3 in", 63 * INCH),
        ("5ft3in", 63 * INCH),
        ("5 ft 3 1/2 in", 63.5 * INCH),
        ("5 feet 3.5 inches", 63.5 * INCH),
        ("5'3\"", 63 * INCH),
        ("5' 3 1/2\"", 63.5 * INCH),
        ("5\u20323\u00be\u2033", 63.75 * INCH),
        ("5'", 60 * INCH),
        ("-5 ft 3 in", -63 * INCH),
        ("0 ft 3 in", 3 * INCH),
        ("-0 ft 3 in", -3 * INCH),
    ],
)
def test_lengths(text: str, metres: float) -> None:
    value = read(text)
    assert (value.nominal, value.shape, value.provenance) == (
        pytest.approx(metres, rel=1e-14),
        "exact",
        Provenance.GIVEN,
    )


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("46 kg", D.MASS, 46.0),
        ("46 Kg", D.MASS, 46.0),
        ("4 lb 6 oz", D.MASS, 4.375 * 0.45359237),
        ("118 lbs", D.MASS, 118 * 0.45359237),
        ("350 N", D.FORCE, 350.0),
        ("0.35 kN", D.FORCE, 350.0),
        ("10 kg", D.FORCE, 98.0665),
        ("10 kgf", D.FORCE, 98.0665),
        ("22 lb", D.FORCE, 22 * 0.45359237 * 9.80665),
        ("22 lb 8 oz", D.FORCE, 22.5 * 0.45359237 * 9.80665),
        ("12 N/100mm", D.LINE_FORCE, 120.0),
        ("12 N/100 mm", D.LINE_FORCE, 120.0),
        ("0.12 N/mm", D.LINE_FORCE, 120.0),
        ("10 kg/m", D.LINE_FORCE, 98.0665),
        ("400 N/mm", D.STIFFNESS, 4e5),
        ("35 deg", D.ANGLE, math.radians(35)),
        ("35\u00b0", D.ANGLE, math.radians(35)),
        ("0.5 rad", D.ANGLE, 0.5),
        ("-5 C", D.TEMPERATURE, 268.15),
        ("-5 \u00b0C", D.TEMPERATURE, 268.15),
        ("-5\u00b0 C", D.TEMPERATURE, 268.15),
        ("-5 degrees C", D.TEMPERATURE, 268.15),
        ("50 F", D.TEMPERATURE, 283.15),
        ("300 K", D.TEMPERATURE, 300.0),
        ("6 %", D.PERCENT, 0.06),
        ("6%", D.PERCENT, 0.06),
        ("6 percent", D.PERCENT, 0.06),
        ("2.5 m\u00b2", D.AREA, 2.5),
        ("2.5 sq m", D.AREA, 2.5),
        ("43.2 km/h", D.SPEED, 12.0),
        ("8 N m", D.MOMENT, 8.0),
        ("8 Nm", D.MOMENT, 8.0),
        ("8 N\u00b7m", D.MOMENT, 8.0),
        ("60 Pa", D.PRESSURE, 60.0),
        ("1 MPa", D.PRESSURE, 1e6),
        ("2 min", D.TIME, 120.0),
        ("450 gsm", D.AREAL_MASS, 0.45),
        ("60 kg/m3", D.DENSITY, 60.0),
        ("1.3", D.PLAIN, 1.3),
        (1.3, D.PLAIN, 1.3),
        (2, D.PLAIN, 2.0),
    ],
)
def test_other_dimensions(text: object, dimension: Dimension, si: float) -> None:
    value = read(text, dimension)
    assert (value.nominal, value.shape) == (pytest.approx(si, rel=1e-14), "exact")


def test_the_same_length_in_other_units_is_the_same_float() -> None:
    assert read("345 mm").nominal == read("34.5 cm").nominal == read("0.345 m").nominal == 0.345


# --- ranges ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    ["46 +- 2 kg", "46 kg +- 2 kg", "46 kg +- 2", "46 \u00b1 2 kg", "46 +/- 2 kg", "46+-2kg", "46 kg +- 2000 g"],
)
def test_plus_minus_is_two_standard_deviations(text: str) -> None:
    assert read(text, D.MASS) == Uncertain(46.0, 44.0, 48.0, "normal", Provenance.GIVEN)


@pytest.mark.parametrize(
    "text",
    ["40 .. 50 kg", "40 kg .. 50 kg", "40..50 kg", "40 kg .. 50", "40 to 50 kg", "40 kg TO 50 kg", "40 \u2026 50 kg"],
)
def test_two_ends_are_an_even_chance(text: str) -> None:
    assert read(text, D.MASS) == Uncertain(45.0, 40.0, 50.0, "even", Provenance.GIVEN)


def test_negative_ranges() -> None:
    assert (read("-10 .. -5 mm").low, read("-10 .. -5 mm").high) == (-0.01, -0.005)
    assert (read("-5 +- 10 mm").low, read("-5 +- 10 mm").high) == (-0.015, 0.005)


def test_plus_minus_a_percentage_is_a_share_of_the_value() -> None:
    value = read("46 kg +- 5 %", D.MASS)
    assert (value.shape, value.low, value.high) == ("normal", pytest.approx(43.7), pytest.approx(48.3))
    assert read("-40 mm +- 10 %").spread == pytest.approx(0.004)
    assert read("1.3 +- 10 %", D.PLAIN).spread == pytest.approx(0.13)


def test_in_a_percentage_plus_minus_means_points() -> None:
    assert read("6 +- 2 %", D.PERCENT) == Uncertain(0.06, 0.04, 0.08, "normal", Provenance.GIVEN)
    assert read("6 % +- 2 %", D.PERCENT) == read("6 +- 2 %", D.PERCENT)


def test_a_spread_of_temperature_has_no_shifted_zero() -> None:
    warm = read("68 +- 9 F", D.TEMPERATURE)
    assert (warm.nominal, warm.spread) == (pytest.approx(293.15), pytest.approx(5.0))
    mixed = read("20 C +- 3 K", D.TEMPERATURE)
    assert (mixed.low, mixed.high) == (pytest.approx(290.15), pytest.approx(296.15))


def test_a_range_of_no_width_is_exact() -> None:
    assert read("46 +- 0 kg", D.MASS) == exact(46.0)
    assert read("46 .. 46 kg", D.MASS) == exact(46.0)


def test_pairs_with_ranges() -> None:
    assert read("5 ft 3 in +- 1/4 in").spread == pytest.approx(0.25 * INCH)
    assert read("5 ft 3 in .. 5 ft 4 in").nominal == pytest.approx(63.5 * INCH)


# --- provenance and its defaults -------------------------------------------------------------------


@pytest.mark.parametrize("word", list(Provenance))
def test_the_word_behind_the_comma(word: Provenance) -> None:
    assert read(f"46 +- 2 kg, {word}", D.MASS).provenance is word
    assert read(f"46 +- 2 kg,{word.upper()}", D.MASS).provenance is word


def test_a_comma_before_a_space_ends_the_quantity() -> None:
    assert read("1,9 m, label") == exact(1.9, Provenance.LABEL)


@pytest.mark.parametrize(
    ("text", "dimension", "two_sd"),
    [
        ("1.9 m, measured", D.LENGTH, 0.003),
        ("46 kg, measured", D.MASS, 0.5),
        ("10 kg, measured", D.FORCE, 0.5 * 9.80665),
        ("35 deg, measured", D.ANGLE, math.radians(0.5)),
        ("15 C, measured", D.TEMPERATURE, 1.0),
    ],
)
def test_measured_without_a_range_has_the_doubt_of_the_instrument(
    text: str, dimension: Dimension, two_sd: float
) -> None:
    value = read(text, dimension)
    assert (value.shape, value.spread) == ("normal", pytest.approx(two_sd))


def test_what_no_household_instrument_reads_has_a_share_of_doubt() -> None:
    # Five per cent, two standard deviations: judgement.
    found = parse("400 kN/m, measured", Dimension.STIFFNESS, unknown=None)
    assert (found.low, found.high, found.shape) == (380_000.0, 420_000.0, "normal")


@pytest.mark.parametrize(
    ("text", "dimension", "half"),
    [
        ("46 kg, assumed", D.MASS, 4.6),
        ("-46 kg, assumed", D.MASS, 4.6),
        ("350 N, assumed", D.FORCE, 35.0),
        ("1.9 m, assumed", D.LENGTH, 0.19),
        ("40 mm, assumed", D.LENGTH, 0.005),
        ("50 mm, assumed", D.LENGTH, 0.005),
        ("15 C, assumed", D.TEMPERATURE, 3.0),
        ("35 deg, assumed", D.ANGLE, math.radians(2)),
        ("6 %, assumed", D.PERCENT, 0.006),
    ],
)
def test_assumed_without_a_range(text: str, dimension: Dimension, half: float) -> None:
    value = read(text, dimension)
    assert (value.shape, value.spread) == ("even", pytest.approx(half))
    assert value.is_open


def test_a_written_range_goes_before_the_default() -> None:
    assert read("46 +- 2 kg, assumed", D.MASS) == normal(46.0, 2.0, Provenance.ASSUMED)
    assert read("40 .. 50 kg, measured", D.MASS) == even(40.0, 50.0, Provenance.MEASURED)


@pytest.mark.parametrize(
    "text", ["unknown", "Unknown", "?", "don't know", "don\u2019t know", "dont know", "unknown, unknown"]
)
def test_unknown_is_the_range_passed_in(text: str) -> None:
    assert read(text) == even(1.0, 2.0, Provenance.UNKNOWN)


# --- prices ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "amount", "currency"),
    [
        ("120 EUR", 120.0, "EUR"),
        ("120 eur", 120.0, "EUR"),
        ("EUR 120", 120.0, "EUR"),
        ("\u20ac120", 120.0, "EUR"),
        ("\u20ac 120", 120.0, "EUR"),
        ("120,50 \u20ac", 120.5, "EUR"),
        ("\u00a340", 40.0, "GBP"),
        ("-\u00a340", -40.0, "GBP"),
        ("$40", 40.0, "USD"),
        ("300 SEK", 300.0, "SEK"),
    ],
)
def test_prices(text: str, amount: float, currency: str) -> None:
    assert parse_money(text) == (exact(amount), currency)


def test_prices_with_ranges() -> None:
    assert parse_money("\u00a340 .. \u00a360, assumed") == (even(40.0, 60.0), "GBP")
    assert parse_money("\u00a340 +- 5") == (normal(40.0, 5.0, Provenance.GIVEN), "GBP")
    assert parse_money("40 EUR, assumed") == (even(36.0, 44.0), "EUR")


def test_currency_codes_look_like_currency_codes() -> None:
    assert all(len(code) == 3 and code.isalpha() and code.isupper() for code in CURRENCIES)
    assert {"EUR", "GBP", "USD", "CHF", "DKK", "NOK", "SEK", "PLN", "CZK", "AUD", "CAD", "NZD", "JPY"} <= CURRENCIES


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "120",
            '"120": it has no unit, and a price needs one (€, £, $ or a currency code such as EUR); '
            'write "120 EUR", if that is what you mean.',
        ),
        ("\u00a340 .. \u20ac60", '"£40 .. €60": two currencies are written for one price; write both in one currency.'),
        ("\u00a340 EUR", '"£40 EUR": two currencies are written for one price; write one of them.'),
        (
            "120 EUX",
            '"120 EUX": "EUX" is no unit for a price (allowed: €, £, $ or a currency code such as EUR); '
            'write "EUR", if that is what you mean.',
        ),
        ("unknown", '"unknown": this one must be given; write it like "120 EUR".'),
    ],
)
def test_refused_prices(text: str, sentence: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_money(text)
    assert str(caught.value) == sentence


# --- refusals, word for word -----------------------------------------------------------------------

LENGTHS = "mm, cm, m, in or ft"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "1.9",
            f'"1.9": it has no unit, and a length needs one ({LENGTHS}); write "1.9 m", if that is what you mean.',
        ),
        ("0", f'"0": it has no unit, and a length needs one ({LENGTHS}); write "0 m", if that is what you mean.'),
        (1.9, f'1.9: it has no unit, and a length needs one ({LENGTHS}); write "1.9 m", if that is what you mean.'),
        (
            "1.9 .. 2",
            f'"1.9 .. 2": it has no unit, and a length needs one ({LENGTHS}); write "1.9 m", if that is what you mean.',
        ),
        (True, '"true": a length is wanted here; write it like "1.9 m".'),
        (None, '"None": a length is wanted here; write it like "1.9 m".'),
        ([1], '"[1]": a length is wanted here; write it like "1.9 m".'),
        ("", '"": nothing is written, and a length is wanted; write it like "1.9 m" or "unknown".'),
        ("   ", '"   ": nothing is written, and a length is wanted; write it like "1.9 m" or "unknown".'),
        ("46 kg", f'"46 kg": kg is a unit of mass, and a length is wanted here (in {LENGTHS}); write it like "1.9 m".'),
        ("5 m2", f'"5 m2": m2 is a unit of area, and a length is wanted here (in {LENGTHS}); write it like "1.9 m".'),
        ("46 mn", f'"46 mn": "mn" is no unit for a length (allowed: {LENGTHS}); write "mm", if that is what you mean.'),
        ("46 zz", f'"46 zz": "zz" is no unit for a length (allowed: {LENGTHS}); write it like "1.9 m".'),
        ("nan", '"nan": it must start with a number, as a length is wanted; write it like "1.9 m".'),
        ("inf m", '"inf m": it must start with a number, as a length is wanted; write it like "1.9 m".'),
        ("m", '"m": it must start with a number, as a length is wanted; write it like "1.9 m".'),
        ("5. m", '"5. m": it must start with a number, as a length is wanted; write it like "1.9 m".'),
        ("unknwon", '"unknwon": it starts with no number; write "unknown", if that is what you mean.'),
        ("about 46 mm", '"about 46 mm": it must start with a number; write "46 mm, assumed".'),
        # What would be refused in its turn is not proposed.
        ("about half", '"about half": it must start with a number, as a length is wanted; write it like "1.9 m".'),
        ("about 46", '"about 46": it must start with a number, as a length is wanted; write it like "1.9 m".'),
        ("1e999 m", '"1e999 m": the number is too large or too small for anything on a van; write the number again.'),
        ("1e-999 m", '"1e-999 m": the number is too large or too small for anything on a van; write the number again.'),
        (
            "1234567890123456789012345 m",
            '"1234567890123456789012345 m": the number has more digits than any tape or scale can show; '
            "write a shorter number.",
        ),
        (
            "1,900 mm",
            '"1,900 mm": 1,900 has what looks like a thousands mark, and these are not used; '
            "write 1900 or 1.9, whichever you mean.",
        ),
        (
            "1 900 mm",
            '"1 900 mm": 1 900 has what looks like a thousands mark, and these are not used; write 1900.',
        ),
        (
            "1.234,5 mm",
            '"1.234,5 mm": 1.234,5 has what looks like a thousands mark, and these are not used; '
            "write the number without them, like 1900 or 1.9.",
        ),
        ("2 3 m", '"2 3 m": there are two numbers where one is wanted; write it like "1.9 m".'),
        ("2 m 3 m", '"2 m 3 m": there are two numbers where one is wanted; write it like "1.9 m".'),
        ("1.9 m long", '"1.9 m long": "long" is left over at the end; write only number and unit, like "1.9 m".'),
        (
            "40-50 mm",
            '"40-50 mm": a dash between two numbers can be read two ways; write a range like "40 .. 50 kg".',
        ),
        ("50 .. 40 mm", '"50 .. 40 mm": the range runs backwards; write the smaller end first.'),
        (
            "1 .. 2 .. 3 m",
            '"1 .. 2 .. 3 m": there is more than one range; write it like "46 +- 2 kg" or "40 .. 50 kg".',
        ),
        (
            "1 +- 2 .. 3 m",
            '"1 +- 2 .. 3 m": there is more than one range; write it like "46 +- 2 kg" or "40 .. 50 kg".',
        ),
        ("1 m +- -3 mm", '"1 m +- -3 mm": what stands behind +- must not be negative; write it like "46 +- 2 kg".'),
        ("1 m +- -3 %", '"1 m +- -3 %": what stands behind +- must not be negative; write it like "46 +- 2 kg".'),
        ("3 mm +-", '"3 mm +-": a number is missing; write it like "1.9 m".'),
        ("+- 3 mm", '"+- 3 mm": a number is missing; write it like "1.9 m".'),
        (
            "5 ft 3 in +- 1/4",
            '"5 ft 3 in +- 1/4": one of the two numbers has no unit; write the unit behind both numbers.',
        ),
        ("5 ft 3", '"5 ft 3": after the feet come the inches and nothing else; write it like "5 ft 3 1/2 in".'),
        (
            "5 ft 14 in",
            '"5 ft 14 in": beside inches, the feet must be a whole number and the inches less than 12; '
            'write it like "5 ft 3 1/2 in" or in inches alone.',
        ),
        (
            "5.5 ft 3 in",
            '"5.5 ft 3 in": beside inches, the feet must be a whole number and the inches less than 12; '
            'write it like "5 ft 3 1/2 in" or in inches alone.',
        ),
        ("1/0 in", '"1/0 in": the fraction divides by nought; write the fraction again.'),
        (
            "3 5/2 in",
            '"3 5/2 in": a fraction behind a whole number must be less than one; '
            'write it like "3 1/2 in" or as a decimal number.',
        ),
        (
            "46 mm, mesured",
            '"46 mm, mesured": after the comma comes one word, given, measured, label, suggested, assumed or unknown, '
            'and not "mesured"; write "measured", if that is what you mean.',
        ),
        (
            "1, 9 m",
            '"1, 9 m": after the comma comes one word, given, measured, label, suggested, assumed or unknown, '
            'and not "9 m"; write one of these words or nothing.',
        ),
        (
            "46 mm, measured, label",
            '"46 mm, measured, label": there is more than one comma that ends the value; '
            'write it like "46 +- 2 kg, measured".',
        ),
        (
            "46 mm, unknown",
            '"46 mm, unknown": a single value cannot be unknown; '
            'write "unknown" alone, or a range like "40 .. 50 kg, unknown".',
        ),
        ("unknown, label", '"unknown, label": a value cannot be unknown and something else; write "unknown" alone.'),
        ('8 "x', '\'8 "x\': "x" is left over at the end; write only number and unit, like "1.9 m".'),
        (
            "5\x00 m",
            '"5\ufffd m": "\ufffd" is no unit for a length (allowed: mm, cm, m, in or ft); write it like "1.9 m".',
        ),
    ],
)
def test_refused_lengths(text: object, sentence: str) -> None:
    assert refusal(text) == sentence


@pytest.mark.parametrize(
    ("text", "dimension", "sentence"),
    [
        (
            "46 kq",
            D.MASS,
            '"46 kq": "kq" is no unit for a mass (allowed: kg, g, t, lb or oz); write "kg", if that is what you mean.',
        ),
        (
            "46 N",
            D.MASS,
            '"46 N": N is a unit of force, and a mass is wanted here (in kg, g, t, lb or oz); write it like "46 kg".',
        ),
        (
            "46 +- 5 %",
            D.MASS,
            '"46 +- 5 %": it has no unit, and a mass needs one (kg, g, t, lb or oz); '
            'write "46 kg", if that is what you mean.',
        ),
        (
            "4 lb 16 oz",
            D.MASS,
            '"4 lb 16 oz": beside ounces, the pounds must be a whole number and the ounces less than 16; '
            'write it like "4 lb 6 oz" or in ounces alone.',
        ),
        (
            "20\u00b0",
            D.TEMPERATURE,
            '"20°": ° is a unit of angle, and a temperature is wanted here (in C, F or K); write it like "15 C".',
        ),
        ("-300 C", D.TEMPERATURE, '"-300 C": it reaches below absolute zero, -273.15 C; write the temperature again.'),
        (
            "1 K, assumed",
            D.TEMPERATURE,
            '"1 K, assumed": it reaches below absolute zero, -273.15 C; write the temperature again.',
        ),
        (
            "-280 .. 5 C",
            D.TEMPERATURE,
            '"-280 .. 5 C": it reaches below absolute zero, -273.15 C; write the temperature again.',
        ),
        (
            "20 C +- 5 %",
            D.TEMPERATURE,
            '"20 C +- 5 %": a percentage of a temperature means nothing; write it like "15 +- 3 C".',
        ),
        ("6", D.PERCENT, '"6": it has no unit, and a percentage needs one (%); write "6 %", if that is what you mean.'),
        ("1.3 kg", D.PLAIN, '"1.3 kg": a bare number is wanted here, without kg; write it like "1.3".'),
        ("1.3 foo", D.PLAIN, '"1.3 foo": a bare number is wanted here, without "foo"; write it like "1.3".'),
        (math.nan, D.PLAIN, 'nan: it must start with a number, as a bare number is wanted; write it like "1.3".'),
        (math.inf, D.PLAIN, 'inf: it must start with a number, as a bare number is wanted; write it like "1.3".'),
        (1e300, D.PLAIN, "1e+300: the number is too large or too small for anything on a van; write the number again."),
        (
            "5 mPa",
            D.PRESSURE,
            '"5 mPa": "mPa" is no unit for a pressure (allowed: Pa, hPa, kPa, MPa, GPa, bar or psi); '
            'write "MPa", if that is what you mean.',
        ),
    ],
)
def test_refused_in_other_dimensions(text: object, dimension: Dimension, sentence: str) -> None:
    assert refusal(text, dimension) == sentence


def test_a_huge_whole_number_is_refused_without_being_printed() -> None:
    assert refusal(10**5000, D.PLAIN) == (
        "a whole number of more than 24 digits: the number is too large or too small for anything on a van; "
        "write the number again."
    )


def test_unknown_is_refused_where_the_value_must_be_given() -> None:
    assert refusal("unknown", unknown=None) == '"unknown": this one must be given; write it like "1.9 m".'
    assert refusal("", unknown=None) == '"": nothing is written, and a length is wanted; write it like "1.9 m".'


def test_a_long_text_is_cut_in_its_refusal() -> None:
    sentence = refusal("m" * 500)
    assert sentence == f'"{"m" * 57}...": it is too long to be one quantity; write it like "1.9 m".'


def test_a_refusal_becomes_a_fault_of_the_file() -> None:
    with pytest.raises(LoftwrightError) as caught:
        parse("46 kq", D.MASS, unknown=None)
    assert isinstance(caught.value, QuantityError)
    fault = caught.value.fault("[shell] mass")
    assert fault == Fault("[shell] mass", caught.value.given, caught.value.allowed, caught.value.do)
    assert fault.sentence() == (
        '[shell] mass is "46 kq": "kq" is no unit for a mass (allowed: kg, g, t, lb or oz); '
        'write "kg", if that is what you mean.'
    )


# --- writing ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "dimension", "metric", "imperial"),
    [
        ("1.9 m", D.LENGTH, "1.9 m", "74.80314961 in"),
        ("0.345 m", D.LENGTH, "345 mm", "13.58267717 in"),
        ("1.9 m +- 3 mm", D.LENGTH, "1.9 m +- 3 mm", "74.80314961 in +- 0.1181102362 in"),
        ("1.9 m, measured", D.LENGTH, "1.9 m, measured", "74.80314961 in, measured"),
        ("40 mm, assumed", D.LENGTH, "40 mm, assumed", "1.57480315 in, assumed"),
        ("30 .. 50 mm, unknown", D.LENGTH, "30 .. 50 mm, unknown", "1.181102362 in .. 1.968503937 in, unknown"),
        ("5 ft 3 1/2 in", D.LENGTH, "1.6129 m", "5 ft 3 1/2 in"),
        ("-3 1/2 in", D.LENGTH, "-88.9 mm", "-3 1/2 in"),
        ("6 ft", D.LENGTH, "1.8288 m", "6 ft 0 in"),
        ("3 1/2 +- 1/8 in", D.LENGTH, "88.9 +- 3.175 mm", "3 1/2 in +- 1/8 in"),
        ("0 mm", D.LENGTH, "0 mm", "0 in"),
        ("46 +- 2 kg", D.MASS, "46 +- 2 kg", "101.4126406 +- 4.409245244 lb"),
        ("10 kg", D.FORCE, "98.0665 N", "22.04622622 lb"),
        ("-5 +- 2 C", D.TEMPERATURE, "-5 +- 2 C", "23 +- 3.6 F"),
        ("-10 .. -5 C", D.TEMPERATURE, "-10 .. -5 C", "14 .. 23 F"),
        ("35 deg", D.ANGLE, "35 deg", "35 deg"),
        ("6 +- 2 %", D.PERCENT, "6 +- 2 %", "6 +- 2 %"),
        ("12 m/s", D.SPEED, "12 m/s", "26.8432355 mph"),
        ("1.2 .. 1.4", D.PLAIN, "1.2 .. 1.4", "1.2 .. 1.4"),
        ("46 kg, label", D.MASS, "46 kg, label", "101.4126406 lb, label"),
        ("46 +- 0 kg, assumed", D.MASS, "46 +- 0 kg, assumed", "101.4126406 +- 0 lb, assumed"),
    ],
)
def test_written_text(text: str, dimension: Dimension, metric: str, imperial: str) -> None:
    value = read(text, dimension)
    assert format_quantity(value, dimension) == metric
    assert format_quantity(value, dimension, "imperial") == imperial


def test_written_price() -> None:
    price, currency = parse_money("\u00a340 .. \u00a360")
    assert format_quantity(price, D.MONEY, currency=currency) == "40 .. 60 GBP"
    with pytest.raises(Bug):
        format_quantity(price, D.MONEY)


def test_fewer_digits_on_request() -> None:
    assert format_quantity(exact(0.72634518), D.LENGTH, digits=4) == "726.3 mm"
    assert format_quantity(exact(123456.0), D.FORCE, digits=3) == "123000 N"


def test_an_exact_unknown_still_reads_as_unknown() -> None:
    value = even(0.04, 0.04, Provenance.UNKNOWN)
    assert format_quantity(value, D.LENGTH) == "40 .. 40 mm, unknown"
    assert read("40 .. 40 mm, unknown") == value


def test_a_lopsided_value_cannot_be_written() -> None:
    with pytest.raises(Bug):
        format_quantity(even(1.0, 2.0, nominal=1.2), D.LENGTH)


@pytest.mark.parametrize(
    ("parts", "per_inch", "feet", "text"),
    [
        (0, 16, True, "0 in"),
        (8, 16, False, "1/2 in"),
        (56, 16, False, "3 1/2 in"),
        (56, 16, True, "3 1/2 in"),
        (12 * 16, 16, True, "1 ft 0 in"),
        (12 * 16 + 1, 16, True, "1 ft 1/16 in"),
        (-8 * 27, 8, True, "-2 ft 3 in"),
    ],
)
def test_inches_as_a_rule_reads_them(parts: int, per_inch: int, feet: bool, text: str) -> None:
    assert inch_text(parts, per_inch, feet=feet) == text
    assert read(text).nominal == pytest.approx(parts / per_inch * INCH, abs=1e-15)


# --- conversions -----------------------------------------------------------------------------------


def test_a_unit_of_two_dimensions_is_chosen_by_dimension() -> None:
    assert size_of("kg") == 1.0
    assert size_of("kg", D.FORCE) == 9.80665
    assert from_unit(2, "kg", D.FORCE) == pytest.approx(19.6133)
    assert to_unit(19.6133, "kg", D.FORCE) == pytest.approx(2.0)
    assert to_unit(293.15, "F") == pytest.approx(68.0)


@pytest.mark.parametrize(
    ("unit", "size", "zero"),
    [
        ("mm", Fraction(1, 1000), Fraction(0)),
        ("in", Fraction(254, 10000), Fraction(0)),
        ("ft", Fraction(3048, 10000), Fraction(0)),
        ("F", Fraction(5, 9), Fraction(273_15, 100) - Fraction(160, 9)),
    ],
)
def test_a_conversion_is_rounded_once(unit: str, size: Fraction, zero: Fraction) -> None:
    for k in range(-400, 400):
        value = k / 7 + k**3 / 1e4
        assert to_unit(value, unit) == float((Fraction(value) - zero) / size)


@pytest.mark.parametrize("call", [lambda: size_of("furlong"), lambda: to_unit(1.0, "kg", D.LENGTH)])
def test_a_unit_outside_the_table_is_our_own_mistake(call: Any) -> None:
    with pytest.raises(Bug):
        call()


def test_import_brings_no_heavy_library() -> None:
    code = (
        "import sys, loftwright.core.quantities, loftwright.core.wording\n"
        "print(sorted({'numpy', 'scipy', 'pydantic', 'pint', 'difflib'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_stones_are_not_taken_for_tonnes() -> None:
    with pytest.raises(QuantityError) as caught:
        read("7 st", D.MASS)
    assert caught.value.do.startswith("write it like")


def test_a_suggestion_is_as_firm_as_a_decision() -> None:
    assert read("46 kg, suggested", D.MASS) == Uncertain(46.0, 46.0, 46.0, "exact", Provenance.SUGGESTED)
    ranged = read("40 .. 50 kg, suggested", D.MASS)
    assert (ranged.low, ranged.high, ranged.is_open) == (40.0, 50.0, False)
