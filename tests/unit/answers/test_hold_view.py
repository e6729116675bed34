"""The page on fit and strength says what was found, in order and in the builder's units. Exact constructed cases."""

from __future__ import annotations

import math
import re
from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import pytest

from loftwright.answers.held_roof import HeldNumbers, held_roof
from loftwright.answers.hold_said import answer, first_to_give, nominal, part_of
from loftwright.answers.hold_view import hold_page
from loftwright.answers.hold_wind_view import lower_above
from loftwright.core.checks import Outcome, Rule, Source, Verdict, worst_first
from loftwright.core.hold_views import HOLD_PARTS, HoldPage
from loftwright.core.wording import Wording
from loftwright.project.demos import demo
from loftwright.project.file import read
from loftwright.strength.raised_shape import DIRECTIONS
from loftwright.strength.wind import gusts_of_beaufort, velocity_pressure

DEMOS = ("fennimoor", "ottergate")
SIDE = "side"


def _outcome(name: str) -> Outcome[HeldNumbers]:
    project = demo(name) if name != SIDE else read(Path(__file__).parents[2] / "roofs" / "side_hinge.toml")
    settings = project.settings.model_copy(update={"draws": 40})
    return held_roof(project.model_copy(update={"settings": settings}))


@pytest.fixture(scope="module")
def outcomes() -> dict[str, Outcome[HeldNumbers]]:
    return {name: _outcome(name) for name in (*DEMOS, SIDE)}


@pytest.fixture(scope="module")
def pages(outcomes: dict[str, Outcome[HeldNumbers]]) -> dict[str, HoldPage]:
    return {name: hold_page(outcome) for name, outcome in outcomes.items()}


def texts_of(value: object) -> list[str]:
    if isinstance(value, str):
        return [value]
    if isinstance(value, tuple):
        return [text for part in value for text in texts_of(part)]
    if is_dataclass(value):
        return [text for field in fields(value) for text in texts_of(getattr(value, field.name))]
    return []


@pytest.mark.parametrize("name", [*DEMOS, SIDE])
def test_every_judgement_stands_under_one_question(name: str, pages: dict[str, HoldPage]) -> None:
    page = pages[name]
    assert tuple(section.part for section in page.sections) == HOLD_PARTS
    assert sorted(row.title for section in page.sections for row in section.rows) == sorted(r.title for r in page.rows)
    for section in page.sections:
        assert all(part_of(row.id) == section.part for row in section.rows)
        order = [list(Verdict).index(row.verdict) for row in section.rows]
        assert order == sorted(order)
        assert section.says.endswith(".")
        assert 4 <= len(section.facts) <= 9


@pytest.mark.parametrize("name", [*DEMOS, SIDE])
def test_no_text_is_a_bare_number_or_none(name: str, pages: dict[str, HoldPage]) -> None:
    said = texts_of(pages[name])
    assert [text for text in said if re.search(r"\bnan\b|\binf\b|np\.|None(?! of)|\de-\d|\(\)", text)] == []
    for section in pages[name].sections:
        for grid in section.grids:
            assert all(len(row) == len(grid.headings) for row in grid.rows), grid.title


def test_imperial_pages_hold_no_metric_length(pages: dict[str, HoldPage]) -> None:
    figures = [fact.value for section in pages["ottergate"].sections for fact in section.facts]
    figures += [text for _, _, text in pages["ottergate"].plan.sizes]
    assert [text for text in figures if text.endswith((" mm", " m", " kg", " N", "m/s", "km/h"))] == []
    assert pages["ottergate"].gap is not None
    assert pages["ottergate"].gap.unit == "in"


RULE = Rule(
    "FIT-501",
    "The gap is too wide",
    "The gap is right",
    "m",
    "at most",
    "Why.",
    "Do.",
    Source("judgement", "", "judgement"),
)


def test_the_worst_judgement_decides_what_is_answered() -> None:
    holds, fails = RULE.judge(1.0, 2.0), RULE.judge(3.0, 2.0)
    unknown = RULE.not_known("the roof's crown")
    told = [answer(worst_first(checks), "It sits", "It does not sit", "so it is") for checks in (
        (holds,), (holds, unknown), (holds, unknown, fails), (fails, fails),
    )]  # fmt: skip
    assert told == [
        "It sits: so it is.",
        "Not known yet, measure first: the roof's crown; as far as known so it is.",
        "It does not sit: the gap is too wide; so it is.",
        "It does not sit: the gap is too wide, and 1 more; so it is.",
    ]


def test_what_gives_first_is_said_of_one_thing_and_of_several() -> None:
    assert first_to_give("left hinge") == "the left hinge gives way first"
    assert first_to_give("staples of the cloth") == "the staples of the cloth give way first"
    assert first_to_give("the free end") == "the free end sways too far first"


def test_it_is_lowered_above_what_nine_of_ten_outlast(
    outcomes: dict[str, Outcome[HeldNumbers]], pages: dict[str, HoldPage]
) -> None:
    held = outcomes["fennimoor"].numbers
    wind = held.found.wind
    gust = lower_above(held)
    assert gust <= nominal(wind.lower_above)
    assert gust <= wind.lower_nine_of_ten
    play = pages["fennimoor"].wind
    assert play is not None
    assert play.lower_above == Wording().gust(gust)
    assert play.lower_above in pages["fennimoor"].wind_card[0]
    # The forecast that is named, and every weaker one not named, on the safe side: second way, by the gusts it brings.
    height = nominal(held.found.basis.at("body.height"))
    named = re.search(r"when Beaufort (\d+)", pages["fennimoor"].wind_card[0])
    assert named is not None
    number = int(named[1])
    assert gusts_of_beaufort(number, height)[1] > gust >= gusts_of_beaufort(number - 1, height)[1]
    assert play.beaufort == f"when Beaufort {number} or more is forecast"
    # Rounded down: the figure never allows more wind than was found.
    assert float(play.lower_above.split()[0]) <= gust


def test_what_a_brace_leaves_of_the_sway(outcomes: dict[str, Outcome[HeldNumbers]]) -> None:
    """Constructed: the same roof with a sway, a share and a gust of its own put in."""
    found = outcomes["fennimoor"]
    wind = found.numbers.found.wind
    assert wind.brace is not None

    def fact(name: str, **put: object) -> tuple[str, str]:
        brace = replace(wind.brace, kind=put.pop("kind", "bar"))  # type: ignore[type-var]
        one = replace(wind, brace=brace, **put)  # type: ignore[arg-type]
        page = hold_page(replace(found, numbers=replace(found.numbers, found=replace(found.numbers.found, wind=one))))
        (said,) = (f for section in page.sections for f in section.facts if f.label == name)
        return said.value, said.note

    left, rows = "Sway left by the brace", wind.sway_ratio
    assert fact(left, sway_ratio=0.0 * rows + 0.4) == ("40 %", "worst side")
    assert fact(left, sway_ratio=0.0 * rows + 1.0)[0] == "all of it"
    assert fact(left, sway_ratio=0.0 * rows + 1.7)[0] == "more than without it"
    assert fact(left, sway_ratio=0.0 * rows + 1.7, kind="straps")[0] == "all of it"
    free = "Sway of the free end"
    assert fact(free, sway=0.0 * wind.sway + 2e-4)[0] == "less than 1 mm"
    assert fact(free, sway=0.0 * wind.sway + 0.0041)[0] == "4.1 mm"
    assert not fact(free)[1].endswith("anything holds it")
    assert fact(free, wanted=0.0 * wind.wanted + 50.0)[1].endswith("as long as anything holds it")


def test_a_roof_that_nothing_holds_is_not_raised(outcomes: dict[str, Outcome[HeldNumbers]]) -> None:
    found = outcomes["fennimoor"]
    none = replace(found.numbers.found.wind, lower_nine_of_ten=0.4)
    page = hold_page(replace(found, numbers=replace(found.numbers, found=replace(found.numbers.found, wind=none))))
    assert page.wind is not None
    assert page.wind.lower_above == "any wind"
    assert "Do not raise" in page.wind_card[0]


@pytest.mark.parametrize("name", [*DEMOS, SIDE])
def test_the_chart_goes_once_round_the_rim(
    name: str, outcomes: dict[str, Outcome[HeldNumbers]], pages: dict[str, HoldPage]
) -> None:
    chart, fit = pages[name].gap, outcomes[name].numbers.found.fit
    assert chart is not None
    assert chart.along[0] == 0.0
    assert list(chart.along) == sorted(chart.along)
    assert [place for _, place in chart.places] == [
        "left side",
        "front left corner",
        "front",
        "front right corner",
        "right side",
        "rear right corner",
        "rear",
        "rear left corner",
    ]
    # The left side of the rim is as long as the rim less its corners; one station's step is left over at its end.
    size = 0.01 if chart.unit == "mm" else 0.0254
    side = nominal(fit.shapes.rim.length) - 2.0 * nominal(fit.shapes.rim.radius)
    assert chart.places[2][0] * size == pytest.approx(
        side + 0.5 * math.pi * nominal(fit.shapes.rim.radius), abs=0.13 * side
    )


def test_arrows_are_the_picture_for_one_pascal(
    outcomes: dict[str, Outcome[HeldNumbers]], pages: dict[str, HoldPage]
) -> None:
    wind, play = outcomes["fennimoor"].numbers.found.wind, pages["fennimoor"].wind
    assert play is not None
    pressure = float(velocity_pressure(nominal(wind.wanted)))
    for direction, arrows in zip(DIRECTIONS, play.arrows, strict=True):
        pushes = {word: wind.picture[direction, word] for word in ("lifts", "presses")}
        drawn = [tuple(v * pressure for v in arrow.push) for arrow in arrows]
        assert any(
            all(a == pytest.approx(one.force, abs=1e-6) for a, one in zip(drawn, found, strict=True))
            for found in pushes.values()
        )


@pytest.mark.parametrize("name", [*DEMOS, SIDE])
def test_the_box_stands_over_its_opening(name: str, pages: dict[str, HoldPage]) -> None:
    play, plan = pages[name].wind, pages[name].plan
    assert play is not None
    half, length = plan.opening[1], plan.opening[2]
    hole = [(0.0, half, 0.0), (0.0, -half, 0.0), (length, -half, 0.0), (length, half, 0.0)]
    assert [corner == pytest.approx(spot, abs=1e-9) for corner, spot in zip(play.box[4:], hole, strict=True)] == [
        True
    ] * 4
    rim = play.box[:4]
    assert rim[0][0] < rim[3][0]
    assert rim[1][0] < rim[2][0]
    assert rim[1][1] < rim[0][1]
    assert rim[2][1] < rim[3][1]


def test_plan_and_templates_agree_with_the_cut(
    outcomes: dict[str, Outcome[HeldNumbers]], pages: dict[str, HoldPage]
) -> None:
    plan = pages["fennimoor"].plan
    project = outcomes["fennimoor"].numbers.project
    assert plan.opening[2] == pytest.approx(project.opening.length.nominal)
    assert 2 * plan.opening[1] == pytest.approx(project.opening.width.nominal)
    assert plan.roof[2] - plan.roof[0] == pytest.approx(project.body.roof_length.nominal)
    assert len(plan.bows) == len(project.bow)
    (corner,) = pages["fennimoor"].corners
    assert plan.radius is not None
    arc = corner.outline[1:-2]
    # Every point of the arc is one radius from its centre.
    assert [math.dist(spot, (plan.radius, plan.radius)) for spot in arc] == pytest.approx([plan.radius] * len(arc))


def test_packers_are_drawn_level_above_the_roof(
    outcomes: dict[str, Outcome[HeldNumbers]], pages: dict[str, HoldPage]
) -> None:
    packers = outcomes["fennimoor"].numbers.found.fit.packers
    assert packers is not None
    along = [one for one in pages["fennimoor"].packers if one.name.endswith("along")]
    for i, template in enumerate(along):
        tops = [z for _, z in template.outline[-2:]]
        assert tops[0] == pytest.approx(tops[1])
        # In the middle of the plate the roof is the origin: the top is the packer's thickness.
        assert tops[0] == pytest.approx(float(packers.made.middle[0, i]), abs=1e-6)


def test_the_list_before_the_cut_follows_the_judgements(
    outcomes: dict[str, Outcome[HeldNumbers]], pages: dict[str, HoldPage]
) -> None:
    for name in DEMOS:
        page = pages[name]
        verdicts = [list(Verdict).index(thing.verdict) for thing in page.before_the_cut]
        assert verdicts == sorted(verdicts)
        assert all(thing.do for thing in page.before_the_cut if thing.verdict is not Verdict.HOLDS)
        for section in page.sections:
            # What nobody has published stops no saw.
            asked = [row for row in section.rows if "no published figure" not in row.basis]
            worst = min((list(Verdict).index(row.verdict) for row in asked), default=None)
            told = [thing for thing in page.before_the_cut if thing.state == section.tally.text()]
            assert worst in [list(Verdict).index(thing.verdict) for thing in told]
    looked = {thing.what: thing.verdict for thing in pages["fennimoor"].before_the_cut}
    assert looked["No cable or pipe lies on the cut line"] is Verdict.HOLDS
    body = outcomes["fennimoor"].numbers.project
    blind = body.model_copy(
        update={
            "cut": body.cut.model_copy(update={"cables": "not looked yet"}),
            "settings": body.settings.model_copy(update={"draws": 20}),
        }
    )
    unseen = {thing.what: thing for thing in hold_page(held_roof(blind)).before_the_cut}
    assert unseen["No cable or pipe lies on the cut line"].verdict is Verdict.NOT_KNOWN
    assert unseen["No cable or pipe lies on the cut line"].state == "not looked"


@pytest.mark.parametrize("name", DEMOS)
def test_holes_are_all_counted(
    name: str, outcomes: dict[str, Outcome[HeldNumbers]], pages: dict[str, HoldPage]
) -> None:
    joints = outcomes[name].numbers.found.joints
    counted = sum(int(row[1]) for row in pages[name].holes.rows)
    assert counted == sum(joints.bolts.values())
