"""Two designs side by side: exact constructed cases; a design beside itself, one made change, and the two swapped."""

from __future__ import annotations

import re
import tomllib

import pytest

from loftwright.answers.beside_words import text_difference
from loftwright.answers.board_beside import beside, taken_over, value_differences
from loftwright.core.beside_views import Beside
from loftwright.core.wording import Wording
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import edited, loads

MINUS = "\u2212"


def side_by_side(text: str, other: str) -> Beside:
    return beside(loads(text), text, loads(other), other)


def swapped(difference: str) -> str:
    """Return a difference the other way round."""
    return difference.translate(str.maketrans({"+": MINUS, MINUS: "+"}))


@pytest.mark.parametrize("name", DEMOS)
def test_a_design_beside_itself_has_no_differences(name: str) -> None:
    found = side_by_side(demo_text(name), demo_text(name))
    assert found.values == ()
    assert found.judged == ()
    assert found.odds is not None
    assert {row.difference for row in (*found.figures, found.odds)} == {""}
    assert all(row.same for row in found.figures)
    assert len(found.figures) > 10


def test_comments_and_order_are_no_difference() -> None:
    text = demo_text("fennimoor")
    assert side_by_side(text, f"# another comment\n{text}").values == ()


def test_a_made_change_shows_exactly_that() -> None:
    text = demo_text("fennimoor")
    found = side_by_side(text, edited(text, {"spring.0.force": "820 N, label"}))
    (row,) = found.values
    assert row.path == "spring.0.force"
    assert (row.here, row.there, row.difference) == ("810 N, label", "820 N, label", "+10 N")
    assert (row.link.page, row.link.path) == ("/lifts", "spring.0.force")
    assert row.label == "side spring: force of one spring"


def test_a_change_of_the_roof_shows_in_its_figures() -> None:
    # Headroom is measured to the underside of what is added to the roof: the lining takes its own thickness off.
    text = demo_text("fennimoor")
    lower = edited(text, {"van.floor_to_roof": "1.405 m", "van.roof_build": "45 mm"})
    base = edited(text, {"van.floor_to_roof": "1.405 m", "van.roof_build": "25 mm"})
    found = side_by_side(base, lower)
    assert [(row.path, row.difference) for row in found.values] == [("van.roof_build", "+20 mm")]


@pytest.mark.parametrize(("one", "two"), [("fennimoor", "ottergate"), ("quellmere", "larkenmoor")])
def test_differences_are_antisymmetric(one: str, two: str) -> None:
    # Both in metric units: each is shown in those of the first.
    ours = edited(demo_text(one), {"settings.units": "metric"})
    theirs = edited(demo_text(two), {"settings.units": "metric"})
    there, back = side_by_side(ours, theirs), side_by_side(theirs, ours)
    assert there.odds is not None
    assert back.odds is not None
    assert back.odds.difference == swapped(there.odds.difference)
    figures = {row.label: (row.there, row.here, swapped(row.difference)) for row in there.figures}
    assert {row.label: (row.here, row.there, row.difference) for row in back.figures} == figures
    judged = {(r.title, r.verdict_there, r.verdict_here, r.there, r.here, swapped(r.difference)) for r in there.judged}
    turned = {(r.title, r.verdict_here, r.verdict_there, r.here, r.there, r.difference) for r in back.judged}
    assert turned == judged
    values = {row.path: (row.there, row.here, swapped(row.difference)) for row in there.values}
    assert {row.path: (row.here, row.there, row.difference) for row in back.values} == values
    assert any(row.difference for row in there.judged)


def test_judgements_come_worst_first() -> None:
    text = demo_text("fennimoor")
    found = side_by_side(text, edited(text, {"spring.0.force": "820 N, label"}))
    first = [row.same for row in found.judged]
    assert first == sorted(first)
    # Where a verdict turned, the danger is named, not the promise.
    assert found.judged[0].title == "The roof flies up when the panel is off"
    assert (found.judged[0].verdict_here, found.judged[0].verdict_there) == ("holds", "fails")


def test_the_other_is_shown_in_the_units_of_the_first() -> None:
    found = side_by_side(demo_text("fennimoor"), demo_text("ottergate"))
    assert found.there is not None
    assert found.there.units == "metric"
    assert not [row for row in found.figures if re.search(r"\d (lb|in|ft)\b", row.there)]
    # What stands in its file stays as it is written there.
    assert next(row for row in found.values if row.path == "spring.0.force").there == "67 lb, label"


def test_a_design_that_cannot_be_built_is_compared_by_its_file() -> None:
    text = demo_text("ottergate")
    other = edited(text, {"linkage.arm_a_shell.x": "20 in"})
    for found in (side_by_side(text, other), side_by_side(other, text)):
        assert (found.here, found.there, found.odds) == (None, None, None)
        assert "jam" in found.wrong[0]
        assert [row.path for row in found.values] == ["linkage.arm_a_shell.x"]


@pytest.mark.parametrize(
    ("here", "there", "difference"),
    [
        ("12.2 kg", "11.9 kg", f"{MINUS}0.3 kg"),
        ("-1.7 kg", "1.8 kg", "+3.5 kg"),
        ("345 mm", "1.20 m", "+855 mm"),
        ("from 38 % open", "from 45 % open", "+7 %"),
        ("falls in 0.6 s", "falls in 0.7 s", "+0.1 s"),
        ("\u00b1 44 N", "\u00b1 45 N", "+1 N"),
        ("stays up", "falls in 0.7 s", ""),
        ("15 N/m to 64 N/m", "11 N/m to 47 N/m", ""),
        ("", "12 kg", ""),
        ("46 of 100", "46 of 100", ""),
    ],
)
def test_differences_of_figures_as_they_are_shown(here: str, there: str, difference: str) -> None:
    assert text_difference(here, there, Wording()) == difference


def test_feet_and_inches_are_taken_off_each_other() -> None:
    assert text_difference("6 ft 2 3/4 in", "6 ft 1 in", Wording("imperial")) == f"{MINUS}1 3/4 in"


@pytest.mark.parametrize(
    ("one", "two"), [("fennimoor", "quellmere"), ("quellmere", "fennimoor"), ("ottergate", "larkenmoor")]
)
def test_taking_every_difference_over_one_by_one_leaves_none(one: str, two: str) -> None:
    text, other = demo_text(one), demo_text(two)
    paths = [row.path for row in value_differences(demo(one), text, demo(two), other)]
    for path in ["name", *paths]:
        text = taken_over(text, other, path)
    # A section that every project has stays, as a heading without keys.
    assert {key: value for key, value in tomllib.loads(text).items() if value != {}} == tomllib.loads(other)


def test_a_section_that_only_one_has_is_taken_over_whole() -> None:
    text, other = demo_text("ottergate"), demo_text("fennimoor")
    rows = {row.path: row for row in value_differences(demo("ottergate"), text, demo("fennimoor"), other)}
    assert (rows["bed"].here, rows["bed"].there) == ("", "as a whole")
    assert not [path for path in rows if path.startswith("bed.")]
    assert loads(taken_over(text, other, "bed")).bed == demo("fennimoor").bed
    assert loads(taken_over(other, text, "bed")).bed is None


def test_another_kind_of_linkage_is_taken_over_whole() -> None:
    text, other = demo_text("larkenmoor"), demo_text("quellmere")
    rows = list(value_differences(demo("larkenmoor"), text, demo("quellmere"), other))
    assert (rows[0].path, rows[0].here, rows[0].there) == ("linkage", "parallel arms", "hinge")
    after = taken_over(text, other, "linkage")
    assert tomllib.loads(after)["linkage"] == tomllib.loads(other)["linkage"]
    assert {**tomllib.loads(after), "linkage": 0} == {**tomllib.loads(text), "linkage": 0}


def test_taking_over_a_value_touches_no_other_line() -> None:
    text = demo_text("fennimoor")
    other = edited(text, {"spring.0.force": "820 N, label", "bed.height": "-200 mm"})
    after = taken_over(text, other, "spring.0.force")
    assert after == text.replace('force = "810 N, label"', 'force = "820 N, label"', 1)
