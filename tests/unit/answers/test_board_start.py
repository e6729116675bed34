"""The first questions: each answer may be missing or wrong, and the rest still answers."""

from __future__ import annotations

import pytest

from loftwright.answers.board_start import (
    LIFTS,
    NUMBERS,
    WAYS,
    Asked,
    Number,
    field_faults,
    look,
    new_text,
    slider_start,
    slider_texts,
    with_unit,
)
from loftwright.answers.scout import scout
from loftwright.answers.scout_view import scout_page
from loftwright.core.choices import Units
from loftwright.core.errors import ProjectFault
from loftwright.core.quantities import parse
from loftwright.core.uncertain import Provenance
from loftwright.project.catalogues import read_prices
from loftwright.project.file import loads
from loftwright.project.model import key_of
from loftwright.project.newfile import FiveAnswers, new_project

ALL = {
    "lifts": "hinge rear",
    "opening_length": "2.1 m",
    "opening_width": "1.25 m",
    "floor_to_roof": "1.42 m",
    "person_height": "1.81 m",
    "shell_mass": "62 +- 1 kg, measured",
}


def test_nothing_answered_still_answers() -> None:
    found = look(Asked.of({}))
    assert found.page is not None
    assert found.scene is not None
    assert found.poses is not None
    assert found.page.worth in ("yes", "probably")
    assert (found.faults, found.wrong, found.taken, found.at) == ((), (), (), ())


def test_it_says_what_scouting_the_same_answers_says() -> None:
    found = look(Asked.of({**ALL, "have_shell": "yes"}))
    rough = {name: f"{ALL[name]}, assumed" for name in ALL if name not in ("lifts", "shell_mass")}
    project = loads(new_project(FiveAnswers(**{**ALL, **rough})))
    assert found.page == scout_page(scout(project, read_prices(None), frozenset({"shell"})))
    assert float(project.shell.mass.nominal) == 62.0


@pytest.mark.parametrize("way", [way.word for way in WAYS])
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_way_has_a_drawing(way: str, units: Units) -> None:
    found = look(Asked.of({LIFTS: way, "units": units}))
    assert found.scene is not None
    assert not found.faults
    assert found.page is not None
    assert found.page.units == units


@pytest.mark.parametrize("number", NUMBERS, ids=lambda number: number.name)
@pytest.mark.parametrize("text", ["a lot", "-3 m", "99 m", "2 kg 3", "9999 kg", "1..2"])
def test_a_bad_number_has_its_sentence_and_the_rest_answers(number: object, text: str) -> None:
    name = number.name  # type: ignore[attr-defined]
    found = look(Asked.of({**ALL, name: text}))
    ((field, said),) = found.faults
    assert field == name
    assert said.endswith(".")
    assert text in said
    left = {key: value for key, value in ALL.items() if key != name}
    assert found.page == look(Asked.of(left)).page


def test_several_bad_answers_have_a_sentence_each() -> None:
    found = look(Asked.of({"lifts": "sideways", "opening_length": "long", "shell_mass": "heavy"}))
    assert {name for name, _ in found.faults} == {"lifts", "opening_length", "shell_mass"}
    assert found.page == look(Asked.of({})).page


@pytest.mark.parametrize(
    ("name", "text", "units", "taken"),
    [
        ("opening_length", "2.1", "metric", "2.1 m"),
        ("opening_length", "2,1", "metric", "2,1 m"),
        ("opening_length", "210", "metric", "210 cm"),
        ("opening_length", "2100", "metric", "2100 mm"),
        ("opening_length", "83", "imperial", "83 in"),
        ("opening_length", "7", "imperial", "7 ft"),
        ("shell_mass", "62", "metric", "62 kg"),
        ("shell_mass", "140", "imperial", "140 lb"),
        # No unit makes it possible, or two do.
        ("opening_length", "9", "metric", "9"),
        ("opening_length", "400", "metric", "400"),
        ("opening_length", "2.1 m", "imperial", "2.1 m"),
        ("opening_length", "about 2", "metric", "about 2"),
    ],
)
def test_a_number_without_a_unit_takes_the_only_one_that_fits(name: str, text: str, units: Units, taken: str) -> None:
    assert with_unit(name, text, units) == taken


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("number", NUMBERS, ids=lambda number: number.name)
def test_sliders_stop_at_answers_that_can_be_used(number: object, units: Units) -> None:
    texts = slider_texts(number, units)  # type: ignore[arg-type]
    key = key_of(number.path)  # type: ignore[attr-defined]
    values = [parse(text, key.dimension, unknown=None).nominal for text in texts]
    assert values == sorted(set(values))
    assert key.low <= values[0]
    assert values[-1] <= key.high
    start = slider_start(number, units)  # type: ignore[arg-type]
    assert key.unknown[0] <= values[start] <= key.unknown[1]
    name = number.name  # type: ignore[attr-defined]
    found = look(Asked.of({name: texts[start], "units": units}))
    assert found.at == ((name, start),)
    assert not found.faults


def test_the_new_file_holds_the_answers() -> None:
    project = loads(new_text(Asked.of({**ALL, "shell_mass": "62", "units": "metric"}), "Barn find"))
    assert project.name == "Barn find"
    assert project.linkage.end == "rear"
    assert project.opening.length.nominal == pytest.approx(2.1)
    assert project.shell.mass is not None
    assert project.shell.mass.nominal == pytest.approx(62.0)


def test_faults_of_the_new_file_name_their_fields() -> None:
    with pytest.raises(ProjectFault) as caught:
        new_text(Asked.of({"opening_width": "wide", "person_height": "tall"}), "x")
    at_fields, rest = field_faults(caught.value)
    assert [name for name, _ in at_fields] == ["opening_width", "person_height"]
    # In the words of the page, not of the file.
    assert at_fields[0][1].startswith('Width of the opening is "wide": ')
    assert not rest


def test_a_number_alone_is_rough_and_one_with_a_doubt_or_a_word_is_not() -> None:
    typed = {"opening_length": "2 m +- 1 cm", "opening_width": "1.2 m, measured", "shell_mass": "52"}
    project = loads(new_text(Asked.of(typed), "x"))
    # Assumed is within a tenth.
    assert (project.shell.mass.low, project.shell.mass.high) == pytest.approx((46.8, 57.2))
    assert project.shell.mass.provenance is Provenance.ASSUMED
    assert (project.opening.length.low, project.opening.length.high) == pytest.approx((1.99, 2.01))
    assert project.opening.width.provenance is Provenance.MEASURED


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("end", [0, -1])
@pytest.mark.parametrize("number", NUMBERS, ids=lambda number: number.name)
def test_the_ends_of_every_slider_are_taken_as_rough_ones(number: Number, end: int, units: Units) -> None:
    text = slider_texts(number, units)[end]
    assert look(Asked.of({number.name: text, "units": units})).faults == ()


@pytest.mark.parametrize("word", ["", "unknown", "don't know", "?"])
def test_dont_know_is_an_answer(word: str) -> None:
    assert Asked.of(dict.fromkeys(ALL, word)) == Asked.of({})
