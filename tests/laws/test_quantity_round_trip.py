"""What holds for every quantity: written and read back it is the same; no text whatever breaks the reader."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from loftwright.core.amounts import QuantityError
from loftwright.core.choices import Units
from loftwright.core.quantities import parse, parse_money
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Provenance, Uncertain, even, exact, normal
from loftwright.core.units import CURRENCIES, UNITS, Dimension, from_unit, to_unit
from loftwright.core.wording import Wording

WITH_UNITS = [d for d in Dimension if d is not Dimension.MONEY]
SYSTEMS: list[Units] = ["metric", "imperial"]
NUMBERS = st.one_of(st.floats(-1e6, 1e6), st.floats(-1.0, 1.0), st.integers(-2000, 2000).map(float))


@st.composite
def values(draw: st.DrawFn, dimension: Dimension) -> Uncertain:
    """Draw a value of any shape and origin that a file can hold."""
    nominal = draw(NUMBERS)
    half = abs(draw(NUMBERS)) * draw(st.sampled_from([0.0, 1e-3, 1.0]))
    if dimension is Dimension.TEMPERATURE:
        nominal, half = 273.15 + abs(nominal), min(half, 200.0)
    origin = draw(st.sampled_from(Provenance))
    kind = draw(st.sampled_from(["exact", "normal", "even"]))
    if kind == "normal":
        return normal(nominal, half, origin)
    if kind == "even":
        return even(nominal - half, nominal + half, origin)
    return exact(nominal, origin)


@pytest.mark.parametrize("units", SYSTEMS)
@pytest.mark.parametrize("dimension", WITH_UNITS, ids=str)
@given(data=st.data(), digits=st.sampled_from([6, 10]))
def test_written_and_read_back(dimension: Dimension, units: Units, data: st.DataObject, digits: int) -> None:
    value = data.draw(values(dimension))
    text = format_quantity(value, dimension, units, digits=digits)
    back = parse(text, dimension, unknown=None)
    largest = max(abs(value.low), abs(value.high))
    # Each number written is off by half its last digit at most, a temperature by that of its own scale; an end
    # of a range is made of two of them. Below 1e-12 of the unit written, a number reads nought.
    step = 10.0 ** (1 - digits) * largest + 2e-12 * max(float(u.size) for u in UNITS[dimension])
    for ours, theirs in ((back.nominal, value.nominal), (back.low, value.low), (back.high, value.high)):
        assert ours == pytest.approx(theirs, rel=0, abs=step), text
    assert back.provenance is value.provenance
    if value.spread > 2 * step:
        assert back.shape == value.shape, text


@given(st.integers(-(10**7), 10**7), st.integers(0, 10**5), st.sampled_from(sorted(CURRENCIES)))
def test_prices_written_and_read_back(cents: int, half: int, currency: str) -> None:
    price = normal(cents / 100, half / 100, Provenance.GIVEN)
    back, code = parse_money(format_quantity(price, Dimension.MONEY, currency=currency))
    assert code == currency
    assert (back.nominal, back.spread) == (pytest.approx(price.nominal), pytest.approx(price.spread, abs=1e-9))


@pytest.mark.parametrize("dimension", WITH_UNITS, ids=str)
@given(data=st.data())
def test_a_value_does_not_hang_on_its_unit(dimension: Dimension, data: st.DataObject) -> None:
    number = data.draw(st.integers(0, 99999)) / 100
    one, other = data.draw(st.sampled_from(UNITS[dimension])), data.draw(st.sampled_from(UNITS[dimension]))
    si = from_unit(number, one.name, dimension)
    again = to_unit(si, other.name, dimension)
    zero_si = max(abs(si), float(one.zero), float(other.zero))
    assert from_unit(again, other.name, dimension) == pytest.approx(si, rel=1e-13, abs=1e-13 * zero_si)
    assert parse(f"{number} {one.name}".strip(), dimension, unknown=None).nominal == pytest.approx(si, rel=1e-14)


@pytest.mark.parametrize("dimension", WITH_UNITS, ids=str)
def test_every_spelling_reads_as_its_unit(dimension: Dimension) -> None:
    for unit in UNITS[dimension]:
        for spelling in (unit.name, *unit.also):
            for text in (f"37.5 {spelling}", f"37.5{spelling}", f"37,5 {spelling}"):
                assert parse(text, dimension, unknown=None).nominal == float(unit.si(type(unit.size)(75, 2))), text


@given(st.integers(0, 999), st.integers(0, 99), st.sampled_from(["mm", "m", "in", "ft"]))
def test_a_decimal_comma_is_a_decimal_point_and_a_minus_is_a_mirror(whole: int, cents: int, unit: str) -> None:
    point = parse(f"{whole}.{cents:02d} {unit}", Dimension.LENGTH, unknown=None)
    comma = parse(f"{whole},{cents:02d} {unit}", Dimension.LENGTH, unknown=None)
    minus = parse(f"-{whole}.{cents:02d} {unit}", Dimension.LENGTH, unknown=None)
    assert point == comma
    assert minus.nominal == -point.nominal


@given(st.integers(0, 40), st.integers(0, 11), st.integers(0, 15))
def test_feet_and_inches_add_up(feet: int, inches: int, sixteenths: int) -> None:
    whole = parse(f"{feet} ft {inches} {sixteenths}/16 in", Dimension.LENGTH, unknown=None).nominal
    decimal = parse(f"{feet * 12 + inches + sixteenths / 16} in", Dimension.LENGTH, unknown=None).nominal
    assert whole == decimal


WORDS = re.split(
    r"\|",
    "1|9|0|1.9|1,9|1,900|3 1/2|1/0|½|-|−|+|+-|±|..|…| to | |, |,|m|mm|ft|in|'|\"|kg|lb|oz|N|N m|C|°|%|€|EUR|measured|"
    "unknown|?|e|e9|1e400|nan|inf|/|*|100|\x00|\ud800|٣|²",
)
PIECES = st.lists(st.one_of(st.sampled_from(WORDS), st.text(max_size=3)), max_size=8).map("".join)


def sentence_or_value(text: str, dimension: Dimension, unknown: tuple[float, float] | None) -> str | Uncertain:
    try:
        return parse(text, dimension, unknown=unknown)
    except QuantityError as error:
        return str(error)


@given(PIECES, st.sampled_from(Dimension), st.sampled_from([None, (1.0, 2.0)]))
@example("1" * 5000, Dimension.LENGTH, None)
@example("1/" + "9" * 100 + " m", Dimension.LENGTH, None)
def test_any_text_is_a_value_or_one_clear_sentence(
    text: str, dimension: Dimension, unknown: tuple[float, float] | None
) -> None:
    answer = sentence_or_value(text, dimension, unknown)
    if isinstance(answer, str):
        assert re.fullmatch(r"""(".*"|'.*'): [^\n]+; [^\n]+\.""", answer)
        answer.encode("utf-8")
    else:
        assert math.isfinite(answer.low)
        assert answer.low <= answer.nominal <= answer.high
        assert math.isfinite(answer.high)


@given(st.floats(-20.0, 20.0), st.sampled_from(SYSTEMS))
def test_a_worded_length_reads_back_to_its_last_digit(metres: float, units: Units) -> None:
    # Half a centimetre at most in metres, half a millimetre below one; half of 1/8 inch, of 1/16 below two feet.
    text = Wording(units).length(metres)
    back = parse(text, Dimension.LENGTH, unknown=None).nominal
    if units == "metric":
        within = 0.005 if abs(metres) >= 0.9995 else 0.0005
    else:
        within = 0.0254 / (16 if abs(metres) >= 0.6 else 32)
    assert abs(back - metres) <= within * (1 + 1e-9), text
    assert not text.startswith("-0 ")


@given(
    st.floats(0.0, 5000.0),
    st.floats(0.0, 5000.0),
    st.sampled_from(SYSTEMS),
    st.sampled_from(["N", "hand N", "kg", "1"]),
)
def test_worded_numbers_keep_their_order(one: float, other: float, units: Units, unit: str) -> None:
    low, high = sorted((one, other))
    words = Wording(units).rule_pair(low, high, unit)
    numbers = [float(word.split()[0]) for word in words]
    assert numbers[0] <= numbers[1]
    if high - low > 0.01 * max(high, 1.0):
        assert words[0] != words[1]
