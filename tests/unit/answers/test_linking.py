"""Where to bolt arms at hand, from the project file: found again, judged like any roof, every key counting."""

from __future__ import annotations

import json
from functools import cache

import numpy as np
import pytest

from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.linking import LinkNumbers, changes, gap_over_wanted, linked, wanted_of
from loftwright.answers.linking_numbers import linked_numbers
from loftwright.answers.linking_view import links_page
from loftwright.answers.numbers import as_json
from loftwright.core.errors import ProjectFault
from loftwright.documents.linking_text import links_svg, links_text
from loftwright.documents.plain_text import Look
from loftwright.mechanics.four_bar import FourBar, four_bar_travel
from loftwright.project.demos import demo, demo_text
from loftwright.project.file import edited, loads
from loftwright.project.keys import members
from loftwright.project.link_sections import Links
from loftwright.project.model import Project

INCH = 0.0254
ASKED = {
    "arm_a_length": '"380 mm"',
    "arm_b_length": '"330 mm"',
    "rise": '"700 mm"',
    "tilt": '"5 .. 20 deg"',
}


def with_links(keys: dict[str, str], base: str = "fennimoor") -> Project:
    lines = [f"{key} = {value}" for key, value in keys.items()]
    return loads("\n".join([demo_text(base), "[links]", *lines, ""]))


@cache
def free() -> LinkNumbers:
    return linked(with_links(ASKED))


@cache
def ottergate() -> tuple[list[float], dict[str, str]]:
    """Return the pins of the demo on arms [m], and how it would be asked for: lengths, plate, rise and slope alone."""
    link = demo("ottergate").linkage
    points = [link.arm_a_van, link.arm_a_shell, link.arm_b_van, link.arm_b_shell]
    pins = [v.nominal for p in points if p is not None for v in (p.x, p.z)]
    lip = (-2 * INCH, 0.375 * INCH)
    moved = four_bar_travel(FourBar(*(np.array([v]) for v in pins)), [link.opens.nominal], raises=lip)
    end = moved.travel.shell.point([lip[0]], [lip[1]])
    van, a, _, b = (float(v[0]) for v in moved.bar.lengths())
    tilt = np.degrees(abs(float(moved.travel.shell.phi[0, -1])))
    return pins, {
        "arm_a_length": f'"{a * 1000:.3f} mm"',
        "arm_b_length": f'"{b * 1000:.3f} mm"',
        "van_plate": f'"{van * 1000:.3f} mm"',
        "rise": f'"{float(end.z[0, -1] - end.z[0, 0]) * 1000:.3f} mm"',
        "tilt": f'"{tilt:.5f} deg"',
        "keep": '"shell pivots"',
    }


def test_the_demo_on_arms_is_found_again_to_a_millimetre() -> None:
    pins, asked = ottergate()
    found = linked(with_links(asked, "ottergate"))
    best = found.answers.best
    misses = [max(abs(p[i] - k) for p, k in zip(best.pins, pins, strict=True)) for i in range(len(best))]
    assert min(misses) < 1e-3


def test_answers_hold_when_the_whole_roof_is_judged() -> None:
    """Written into the file, each answer clears and grips as `check` judges it: another way through the package."""
    found = free()
    text = demo_text("fennimoor") + "\n[links]\n" + "\n".join(f"{k} = {v}" for k, v in ASKED.items())
    for number in (1, 2):
        roof = judged_roof(loads(edited(text, changes(found, number))))
        i = number - 1
        moved = roof.numbers.roof
        assert float(moved.transmission[0].min()) == pytest.approx(found.answers.best.grip[i], abs=2e-3)  # type: ignore[index]
        lip = moved.travel.shell.point(*moved.lip)
        assert float(lip.z[0, -1] - lip.z[0, 0]) == pytest.approx(0.7, abs=1e-3)
        space = roof.numbers.space
        assert float(space.rim[0].min()) == pytest.approx(found.rim[i], abs=3e-4)
        assert space.arms is not None
        assert float(space.arms.distance[0].min()) == pytest.approx(found.arms[i], abs=3e-4)
        values = {c.rule.id: c.value for c in roof.checks}
        assert values["MOVE-103"] is not None
        assert values["MOVE-103"] >= -3e-4


def test_gaps_are_asked_for_and_a_touching_way_is_refused() -> None:
    project = with_links(ASKED)
    best = free().answers.best
    gaps = gap_over_wanted(project, best.bar(), best.opens, best.sense)
    assert (gaps >= 0).all()
    tight = loads(demo_text("fennimoor").replace('clearance = "10 mm"', 'clearance = "100 mm"', 1))
    less = gap_over_wanted(tight, best.bar(), best.opens, best.sense)
    assert (less < 0).any()


COUNTS = {
    "arm_a_length": '"400 mm"',
    "arm_b_length": '"350 mm"',
    "van_plate": '"150 mm"',
    "shell_plate": '"150 mm"',
    "rise": '"600 mm"',
    "tilt": '"5 .. 12 deg"',
    "shift": '"0 .. 300 mm"',
    "van_from": '["1.6 m", "-150 mm"]',
    "van_to": '["1.95 m", "-20 mm"]',
    "shell_from": '["1.2 m", "-150 mm"]',
    "shell_to": '["1.9 m", "60 mm"]',
}
PAIRS = {"van_from": "van_to", "van_to": "van_from", "shell_from": "shell_to", "shell_to": "shell_from"}
OTHER_CORNER = {
    "van_from": '["1.5 m", "-160 mm"]',
    "van_to": '["2.0 m", "0 mm"]',
    "shell_from": '["1.1 m", "-160 mm"]',
    "shell_to": '["2.0 m", "80 mm"]',
}


@pytest.mark.parametrize("key", COUNTS)
def test_every_key_changes_what_is_asked(key: str) -> None:
    before = dict(ASKED)
    if key in PAIRS:
        before |= {key: OTHER_CORNER[key], PAIRS[key]: OTHER_CORNER[PAIRS[key]]}
    assert wanted_of(with_links(before)) != wanted_of(with_links({**before, key: COUNTS[key]}))


def test_every_key_of_the_arms_at_hand_counts() -> None:
    without = {k: v for k, v in ASKED.items() if k != "tilt"}
    one, other = (wanted_of(with_links({**without, "low_end_rise": f'"{mm} mm"'})) for mm in (50, 100))
    assert one.tilt != other.tilt
    # sin(slope) = difference of the rises over the shell's length.
    length = demo("fennimoor").shell.length.nominal
    assert np.sin(one.tilt[0]) * length == pytest.approx(0.65)
    _, asked = ottergate()
    kept = wanted_of(with_links(asked, "ottergate"))
    assert kept != wanted_of(with_links({**asked, "keep": '"nothing"'}, "ottergate"))
    assert {*COUNTS, "low_end_rise", "keep"} == {member.key for member in members(Links)}


def test_doubt_of_a_length_and_of_the_bolts_widens_the_seat() -> None:
    plain = wanted_of(with_links(ASKED)).doubts
    rough = wanted_of(with_links({**ASKED, "arm_b_length": '"330 +- 8 mm"'})).doubts
    assert rough[0] == plain[0]
    assert rough[1] > 0.008
    bolt = demo("fennimoor").settings.mounting_tolerance.nominal
    assert plain[0] == pytest.approx(np.sqrt(2) * bolt)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"tilt": None}, "write tilt or low_end_rise"),
        ({"low_end_rise": '"0 mm"'}, "take one of the two out"),
        ({"tilt": None, "low_end_rise": '"900 mm"'}, "the lip is the end that rises most"),
        ({"tilt": None, "rise": '"2 m"', "low_end_rise": '"0 mm"'}, "cannot stand so steep"),
        ({"keep": '"van pivots"'}, "no arms with pivots on the van"),
        ({"van_from": '["1 m", "0 mm"]'}, "a place has two corners"),
        ({"arm_c_length": '"1 m"'}, "not a known key"),
    ],
)
def test_every_fault_is_one_sentence(keys: dict[str, str | None], words: str) -> None:
    asked = {**ASKED, **keys}
    with pytest.raises(ProjectFault, match=words) as refusal:
        with_links({k: v for k, v in asked.items() if v is not None})
    assert len(refusal.value.faults) == 1
    assert refusal.value.faults[0].sentence().count("\n") == 0


def test_a_place_for_pivots_that_are_kept_is_refused() -> None:
    _, asked = ottergate()
    for extra in ({"shell_plate": '"190 mm"'}, {"shell_from": '["1 m", "0 mm"]', "shell_to": '["2 m", "0 mm"]'}):
        with pytest.raises(ProjectFault, match="the shell pivots are kept"):
            with_links({**asked, **extra}, "ottergate")


def test_without_the_section_it_says_what_to_add() -> None:
    with pytest.raises(ProjectFault, match=r"add \[links\]"):
        linked(demo("fennimoor"))


def test_a_number_that_is_not_there_is_refused() -> None:
    for number in (0, 99):
        with pytest.raises(ProjectFault, match="choose one that is listed"):
            changes(free(), number)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"rise": '"1.9 m"'}, "longer arms or less rise"),
        ({"van_from": '["0 m", "-50 mm"]', "van_to": '["10 mm", "0 mm"]'}, "outside its place"),
    ],
)
def test_no_answer_says_what_is_in_the_way(keys: dict[str, str], words: str) -> None:
    page = links_page(linked(with_links({**ASKED, **keys})))
    assert page.answers == ()
    assert words in page.none
    assert page.none in " ".join(links_text(page, Look()).split())


def test_text_picture_and_numbers_carry_every_answer() -> None:
    found = free()
    page = links_page(found)
    said = links_text(page, Look())
    count = len(found.answers.best)
    assert count >= 3
    assert [answer.number for answer in page.answers] == list(range(1, count + 1))
    assert all(f"\n{n}.\n" in said for n in range(1, count + 1))
    assert links_svg(page).count(">a<") == count
    told = json.loads(as_json(linked_numbers(found)))
    assert len(told["answers"]) == count
    assert told["answers"][0]["arm_a_van_m"] == pytest.approx(
        [found.answers.best.pins[0][0], found.answers.best.pins[1][0]]
    )
    assert told["answers"][0]["low_end_rise_m"] == pytest.approx(
        0.7 - demo("fennimoor").shell.length.nominal * np.sin(found.answers.best.tilt[0])
    )
