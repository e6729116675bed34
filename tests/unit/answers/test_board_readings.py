"""What is to be read at the van, and what is typed there. Second ways and exact constructed cases."""

from __future__ import annotations

from math import cos, sin

import pytest

from loftwright.answers.board_readings import (
    SHARES,
    reading_changes,
    reading_plan,
    reading_sheet,
    stands,
    tape_changes,
)
from loftwright.core.choice_views import Hole, HoleRow, Place
from loftwright.core.errors import ProjectFault
from loftwright.project.demos import demo, demo_text
from loftwright.project.file import loads
from loftwright.project.rewriting import edited


def test_lip_heights_are_those_of_a_shell_that_turns_about_its_hinge() -> None:
    """A second way: the lip turned about the hinge; closed it stands 10 mm above the roof, 60 mm behind the edge."""
    project = demo("fennimoor")
    hinge_x, hinge_z, opens = 2.055, 0.035, project.linkage.opens
    assert opens is not None
    stations = reading_plan(project).stations
    assert len(stations) >= 4
    for one in stations:
        angle = float(one.how_open.removesuffix(" %")) / 100 * opens.nominal
        height = hinge_z + (hinge_x + 0.06) * sin(angle) + (0.010 - hinge_z) * cos(angle)
        assert one.lip == f"{1000 * height:.0f} mm"


@pytest.mark.parametrize("name", ["fennimoor", "ottergate", "quellmere", "larkenmoor"])
def test_each_way_is_read_at_two_openings_as_far_apart_as_a_scale_shows(name: str) -> None:
    stations = reading_plan(demo(name)).stations
    for way in ("push up", "pull down"):
        some = [one for one in stations if one.way == way]
        first = [one for one in some if one.first]
        assert first == [some[0], some[-1]]
    # One way up, then one way down: nobody lifts the roof twice.
    opened = [float(one.how_open.removesuffix(" %")) for one in stations]
    ups = [one.way == "push up" for one in stations].count(True)
    assert opened[:ups] == sorted(opened[:ups])
    assert opened[ups:] == sorted(opened[ups:], reverse=True)
    assert all(value / 100 in SHARES for value in opened)


def test_without_a_spring_there_is_nothing_to_pull_down() -> None:
    text = demo_text("quellmere")
    start = text.index("[[spring]]")
    end = text.find("\n[", start + 5)
    bare = loads(text[:start] + (text[end + 1 :] if end > 0 else ""))
    assert not bare.spring
    plan = reading_plan(bare)
    assert {one.way for one in plan.stations} == {"push up"}
    assert not any("spring length" in line for line in reading_sheet(bare).tape)


def test_a_hole_that_was_picked_is_written_with_its_spring() -> None:
    project = demo("fennimoor")
    feet = tuple(Hole(str(k + 1), "the van", 1051.0 + 25 * k, 67.0, k == 0, "") for k in range(2))
    row = HoleRow(
        feet,
        (Hole("", "the shell", 900.0, 60.0, False, ""),),
        (Place(1, 0, 0, True, "hole 1"), Place(2, 1, 0, False, "hole 2")),
        80,
        70,
        75,
        "",
    )
    holes = reading_plan(project, row).holes
    assert [one.label for one in holes] == ["hole 1", "hole 2"]
    typed = {"how_open": "30", "way": "push up", "force": "6", "hole": holes[1].word}
    changes, _ = reading_changes(project, typed)
    number = len(project.reading)
    assert changes[f"reading.{number}.spring"] == project.spring[0].name
    assert changes[f"reading.{number}.foot.x"] == "1.076 m"
    assert changes[f"reading.{number}.foot.z"] == "67 mm"
    assert f"reading.{number}.head.x" not in changes
    # The file takes it.
    after = loads(edited(demo_text("fennimoor"), changes))
    foot = after.reading[-1].foot
    assert foot is not None
    assert (foot.x.nominal, foot.z.nominal) == (1.076, 0.067)


def test_an_entry_stands_only_where_all_of_it_does() -> None:
    project, text = demo("fennimoor"), demo_text("fennimoor")
    typed = {"how_open": "30", "way": "push up", "force": "6", "temperature": "16"}
    changes, _ = reading_changes(project, typed)
    assert not stands(text, changes)
    after = edited(text, changes)
    assert stands(after, changes)
    assert not stands(after, reading_changes(project, typed | {"force": "6.1"})[0])
    assert not stands(after, reading_changes(project, typed | {"after": "2"})[0])


@pytest.mark.parametrize(
    ("typed", "written"),
    [("2538", "2538 mm, measured"), ("2,5 m", "2,5 m, measured"), ("2.538 m, assumed", "2.538 m, assumed")],
)
def test_a_tape_reading_is_measured_unless_it_says_otherwise(typed: str, written: str) -> None:
    project = demo("fennimoor")
    changes, _ = tape_changes(project, {"step": "hinges", "what": "diagonal", "how_open": "0", "reads": typed})
    assert changes[f"tape.{len(project.tape)}.reads"] == written


def test_every_mistake_is_named_at_once() -> None:
    with pytest.raises(ProjectFault) as error:
        reading_changes(demo("fennimoor"), {"how_open": "", "way": "", "force": "", "temperature": "hot"})
    assert [fault.where for fault in error.value.faults] == [
        "How far open",
        "Which way",
        "What the scale read",
        "How warm",
    ]
