"""How numbers are worded for people. Roundings are worked by hand from the exact factors of the units."""

from __future__ import annotations

import math

import pytest

from loftwright.core.errors import Bug
from loftwright.core.quantities import parse
from loftwright.core.uncertain import Provenance, even, exact, normal
from loftwright.core.units import Dimension
from loftwright.core.wording import RULE_UNITS, Wording

D = Dimension
METRIC = Wording()
IMPERIAL = Wording("imperial")
INCH = 0.0254


@pytest.mark.parametrize(
    ("metres", "text", "short"),
    [
        (0.0, "0 mm", "0 mm"),
        (-1e-9, "0 mm", "0 mm"),
        (0.0004, "0.4 mm", "0.4 mm"),
        (0.0099, "9.9 mm", "9.9 mm"),
        (0.00999, "10 mm", "10 mm"),
        (0.345, "345 mm", "345 mm"),
        (-0.05, "-50 mm", "-50 mm"),
        (0.9994, "999 mm", "999 mm"),
        (0.9996, "1.00 m", "1000 mm"),
        (1.9, "1.90 m", "1900 mm"),
    ],
)
def test_metric_lengths(metres: float, text: str, short: str) -> None:
    assert METRIC.length(metres) == text
    assert METRIC.short_length(metres) == short


@pytest.mark.parametrize(
    ("inches", "text", "short"),
    [
        (0.0, "0 in", "0 in"),
        (-1e-9, "0 in", "0 in"),
        (0.012, "0.012 in", "0.012 in"),
        (0.125, "1/8 in", "1/8 in"),
        (3.5, "3 1/2 in", "3 1/2 in"),
        (3.96, "3 15/16 in", "3 15/16 in"),
        (3.98, "4 in", "4 in"),
        (-3.5, "-3 1/2 in", "-3 1/2 in"),
        (23.96, "23 15/16 in", "23 15/16 in"),
        (23.98, "2 ft 0 in", "24 in"),
        (71.95, "6 ft 0 in", "71 15/16 in"),
        (74.8, "6 ft 2 3/4 in", "74 13/16 in"),
    ],
)
def test_imperial_lengths(inches: float, text: str, short: str) -> None:
    assert IMPERIAL.length(inches * INCH) == text
    assert IMPERIAL.short_length(inches * INCH) == short


def test_metric_words() -> None:
    w = METRIC
    assert (w.mass(62.04), w.mass(0.344), w.mass(118.4), w.mass(99.96)) == ("62.0 kg", "0.34 kg", "118 kg", "100 kg")
    assert (w.force(412.3), w.force(9.94), w.force(9.96), w.force(-0.01)) == ("412 N", "9.9 N", "10 N", "0 N")
    # 120.6 N / 9.80665 = 12.298 kg
    assert w.force_hand(120.6) == "12.3 kg"
    assert w.angle(math.radians(35.25)) == "35.2°"
    assert (w.temperature(288.15), w.temperature(272.9)) == ("15 °C", "0 °C")
    assert w.area(2.314) == "2.31 m²"
    assert (w.speed(0.42), w.speed(12.0)) == ("0.42 m/s", "12.0 m/s")
    assert w.moment(34.21) == "34.2 N m"
    assert (w.percent(0.065), w.percent(0.06), w.percent(0.354), w.fraction(1.0)) == ("6.5 %", "6 %", "35 %", "100 %")
    assert w.ratio(1.3) == "1.30"
    assert (w.time(2.44), w.time(45.2), w.time(600.0), w.time(9000.0)) == ("2.4 s", "45 s", "10 min", "2.5 h")
    assert w.money(1234.4, "EUR") == "1234 EUR"
    assert w.quantity(4e5, D.STIFFNESS) == "400 N/mm"
    assert w.quantity(60.0, D.PRESSURE) == "60 Pa"


def test_imperial_words() -> None:
    w = IMPERIAL
    # 62 kg / 0.45359237 = 136.7 lb; 412.3 N / 4.4482216 = 92.69 lb; 120.6 N / 4.4482216 = 27.11 lb
    assert w.mass(62.0) == "137 lb"
    assert w.force(412.3) == "92.7 lb"
    assert w.force_hand(120.6) == "27.1 lb"
    assert w.temperature(288.15) == "59 °F"
    # 2.314 / 0.09290304 = 24.908; 0.42 / 0.3048 = 1.378; 12 / 0.44704 = 26.84; 34.21 / 1.3558179 = 25.23
    assert w.area(2.314) == "24.9 sq ft"
    assert (w.speed(0.42), w.speed(12.0)) == ("1.4 ft/s", "27 mph")
    assert w.moment(34.21) == "25.2 lb ft"
    assert w.angle(0.5) == METRIC.angle(0.5)


@pytest.mark.parametrize("wording", [METRIC, IMPERIAL], ids=["metric", "imperial"])
def test_a_missing_value_is_a_dash(wording: Wording) -> None:
    words = [
        wording.length, wording.short_length, wording.mass, wording.force, wording.force_hand, wording.angle,
        wording.temperature, wording.area, wording.speed, wording.moment, wording.percent, wording.fraction,
        wording.ratio, wording.time,
    ]  # fmt: skip
    assert {word(None) for word in words} == {"–"}
    assert wording.money(None, "EUR") == wording.ranged(None, D.MASS) == wording.rule_value(None, "N") == "–"


@pytest.mark.parametrize("wording", [METRIC, IMPERIAL], ids=["metric", "imperial"])
@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_never_printed(wording: Wording, number: float) -> None:
    for call in (wording.length, wording.force, wording.percent, lambda v: wording.money(v, "EUR")):
        with pytest.raises(Bug):
            call(number)
    with pytest.raises(Bug):
        wording.rule_pair(1.0, number, "m")


@pytest.mark.parametrize("wording", [METRIC, IMPERIAL], ids=["metric", "imperial"])
@pytest.mark.parametrize("unit", sorted(RULE_UNITS))
def test_every_unit_of_a_rule_has_words(wording: Wording, unit: str) -> None:
    for value in (-1e-9, 0.0, 0.02, 1.0, 47.0, 2500.0):
        text = wording.rule_value(value, unit)
        assert text[0].isdigit()
        assert wording.rule_value(-value, unit).lstrip("-") == text.lstrip("-")


def test_a_rule_in_an_unknown_unit_is_our_own_mistake() -> None:
    with pytest.raises(Bug):
        METRIC.rule_value(1.0, "furlong")


def test_hand_forces_and_play_of_rules() -> None:
    assert METRIC.rule_value(98.0665, "hand N") == "10.0 kg"
    assert METRIC.rule_value(98.0665, "N") == "98 N"
    assert METRIC.rule_value(1.234, "short m") == "1234 mm"
    assert IMPERIAL.rule_value(1.234, "m") == "4 ft 5/8 in"


def test_a_pair_keeps_unlike_numbers_apart() -> None:
    assert METRIC.rule_pair(1.95, 1.9, "m") == ("1.95 m", "1.90 m")
    assert METRIC.rule_pair(1.9001, 1.9, "m") == ("1.9001 m", "1.9000 m")
    assert METRIC.rule_pair(0.004, 1.9, "m") == ("4.0 mm", "1.90 m")
    assert METRIC.rule_pair(0.9, 1.9, "m") == ("0.90 m", "1.90 m")
    assert METRIC.rule_pair(0.0, 1.9, "m") == ("0.00 m", "1.90 m")
    assert METRIC.rule_pair(0.06, 0.06, "fraction") == ("6 %", "6 %")
    assert METRIC.rule_pair(None, 0.06, "fraction") == ("–", "6 %")
    assert IMPERIAL.rule_pair(1.95, 1.9, "m") == ("6 ft 4 3/4 in", "6 ft 2 3/4 in")
    value, limit = IMPERIAL.rule_pair(1.9001, 1.9, "m")
    assert value != limit
    assert value.endswith(" in")


@pytest.mark.parametrize(
    ("text", "dimension", "metric"),
    [
        ("46 +- 2 kg", D.MASS, "46 ± 2 kg"),
        ("46 +- 0.5 kg", D.MASS, "46.0 ± 0.5 kg"),
        ("46 +- 1.5 kg", D.MASS, "46.0 ± 1.5 kg"),
        ("40 .. 50 kg", D.MASS, "40 to 50 kg"),
        ("1.9 m +- 3 mm", D.LENGTH, "1.900 ± 0.003 m"),
        ("345 +- 3 mm", D.LENGTH, "345 ± 3 mm"),
        ("0.1 .. 0.6 mm", D.LENGTH, "0.1 to 0.6 mm"),
        ("12 .. 18 C", D.TEMPERATURE, "12 to 18 °C"),
        ("15 +- 2 C", D.TEMPERATURE, "15 ± 2 °C"),
        ("20 +- 1 deg", D.ANGLE, "20 ± 1°"),
        ("6 +- 2 %", D.PERCENT, "6 ± 2 %"),
        ("1.2 .. 1.4", D.PLAIN, "1.2 to 1.4"),
        ("46 kg", D.MASS, "46.0 kg"),
        ("-5 .. 5 mm", D.LENGTH, "-5 to 5 mm"),
    ],
)
def test_a_range_shares_its_decimals(text: str, dimension: Dimension, metric: str) -> None:
    assert METRIC.ranged(parse(text, dimension, unknown=None), dimension) == metric


def test_nought_has_no_sign() -> None:
    assert METRIC.ranged(normal(-0.2, 3.0), D.MASS) == "0 ± 3 kg"
    assert METRIC.ranged(even(-0.04, 5.0), D.MASS) == "0 to 5 kg"
    assert METRIC.money(-0.2, "EUR") == "0 EUR"
    assert METRIC.temperature(273.0) == "0 °C"


def test_imperial_ranges() -> None:
    assert IMPERIAL.ranged(normal(63 * INCH, 0.25 * INCH), D.LENGTH) == "5 ft 3 in ± 1/4 in"
    assert IMPERIAL.ranged(even(60 * INCH, 66 * INCH), D.LENGTH) == "5 ft 0 in to 5 ft 6 in"
    assert IMPERIAL.ranged(normal(46.0, 2.0), D.MASS) == "101 ± 4 lb"


def test_a_range_too_narrow_to_show_reads_as_one_number() -> None:
    assert METRIC.ranged(normal(46.0, 1e-9), D.MASS) == "46.0 kg"
    assert METRIC.ranged(even(46.0, 46.000001), D.MASS) == "46.0000 kg"


def test_hand_forces_and_origin_of_a_range() -> None:
    assert METRIC.ranged(normal(98.0665, 9.80665), D.FORCE, hand=True) == "10 ± 1 kg"
    assert METRIC.ranged(normal(46.0, 2.0), D.MASS, origin=True) == "46 ± 2 kg, measured"
    assert METRIC.ranged(exact(46.0), D.MASS, origin=True) == "46.0 kg"
    assert METRIC.ranged(even(40.0, 50.0, Provenance.UNKNOWN), D.MASS, origin=True) == "40 to 50 kg, unknown"


def test_axes() -> None:
    label, factor = METRIC.hand_force_unit()
    assert (label, factor * 98.0665) == ("kg", pytest.approx(10.0))
    label, factor = IMPERIAL.hand_force_unit()
    assert (label, factor * 4.4482216152605) == ("lb", pytest.approx(1.0))
