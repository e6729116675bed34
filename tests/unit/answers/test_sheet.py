"""The boxes of the measuring sheet: what is known is written in, what is not stands first with its range."""

from __future__ import annotations

import io
from typing import Any

import pypdf
import pytest

from loftwright.answers.sheet import MEASURED, NOT_NEEDED, OF_SPRING, POINTS, WHEN_OPEN, blank_page, sheet_page
from loftwright.core.uncertain import Provenance, even, exact, normal
from loftwright.core.views import Box
from loftwright.documents.measuring_sheet import ASKS, measuring_sheet_pdf
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import loads
from loftwright.project.model import Project, key_of, walk
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.reference.measuring import plain_path
from loftwright.reference.sheet_labels import LABELS


def changed(project: Project, section: str, **keys: Any) -> Project:
    return project.model_copy(update={section: getattr(project, section).model_copy(update=keys)})


GUESS = even(0.018, 0.028, Provenance.UNKNOWN)


def boxes(project: Project) -> dict[str, Box]:
    return {box.key: box for box in sheet_page(project).boxes}


def blank() -> Project:
    return loads(new_project(FiveAnswers()), "new.toml")


@pytest.mark.parametrize("project", [blank(), *map(demo, DEMOS)], ids=["blank", *DEMOS])
def test_every_box_of_the_sheet_is_answered_once_and_unknown_ones_first(project: Project) -> None:
    page = sheet_page(project)
    keys = [box.key for box in page.boxes]
    assert len(keys) == len(set(keys))
    asked = {ask.key for ask in ASKS}
    if project.linkage.kind != "hinge":
        asked.discard("linkage.hinge")
    assert asked <= set(keys)
    known = [box.value is not None for box in page.boxes]
    assert known == sorted(known)


@pytest.mark.parametrize("project", [blank(), *map(demo, DEMOS)], ids=["blank", *DEMOS])
def test_what_the_sheet_has_no_words_for_brings_its_own(project: Project) -> None:
    assert [box.key for box in sheet_page(project).boxes if box.key not in LABELS and not box.label] == []


def test_nothing_is_known_of_a_blank_project() -> None:
    found = boxes(blank())
    known = [box for box in found.values() if box.value is not None]
    assert {box.note for box in known} == {"suggested by the program"}
    assert all(box.light for box in known)
    assert "spring.force" in {box.key for box in known}
    assert found["van.floor_to_roof"].note == "guess 1.2 to 1.8 m"
    assert found["roof.upstand"].note == "assumed 35 to 45 mm"
    assert set(WHEN_OPEN) <= set(found)


@pytest.mark.parametrize(
    ("value", "box"),
    [
        (normal(1.42, 0.003), Box("van.floor_to_roof", "1.420 ± 0.003 m", "measured")),
        (exact(1.42), Box("van.floor_to_roof", "1.42 m", "your decision")),
        (exact(1.42, Provenance.LABEL), Box("van.floor_to_roof", "1.42 m", "from a label")),
        (even(1.4, 1.5, Provenance.ASSUMED), Box("van.floor_to_roof", None, "assumed 1.4 to 1.5 m")),
        (even(1.2, 1.8, Provenance.UNKNOWN), Box("van.floor_to_roof", None, "guess 1.2 to 1.8 m")),
    ],
)
def test_how_a_number_is_known(value: Any, box: Box) -> None:
    assert boxes(changed(demo("fennimoor"), "van", floor_to_roof=value))["van.floor_to_roof"] == box


def test_boxes_are_in_the_units_of_the_project() -> None:
    project = changed(demo("fennimoor"), "settings", units="imperial")
    project = changed(project, "van", floor_to_roof=exact(60 * 0.0254))
    assert boxes(project)["van.floor_to_roof"].value == "5 ft 0 in"


def test_a_point_with_one_guess_is_not_known() -> None:
    project = demo("fennimoor")
    hinge = project.linkage.hinge
    assert hinge is not None
    assert boxes(project)["linkage.hinge"].value is not None
    open_ = hinge.model_copy(update={"z": even(0.0, 0.05, Provenance.UNKNOWN)})
    box = boxes(changed(project, "linkage", hinge=open_))["linkage.hinge"]
    assert box.value is None
    assert box.note.startswith("guess ")
    assert box.note.endswith("0 to 50 mm")


def test_scale_readings_fill_the_weighing() -> None:
    project = demo("quellmere")
    assert project.weighing is not None
    lines = [reading for reading in project.weighing.reading if reading.at is not None]
    assert len(lines) >= 2
    found = boxes(project)
    for name, line in zip(("first", "second"), lines, strict=False):
        at, reads = found[f"weighing.{name}_at"], found[f"weighing.{name}_reads"]
        assert at.value is not None
        assert reads.value is not None
        assert line.reads is not None
        assert f"{line.reads.nominal:.1f}" in reads.value
    assert NOT_NEEDED in {box.value for box in found.values()} or found["weighing.whole"].value is not None


def test_weight_and_centre_in_the_file_spare_the_scales() -> None:
    project = changed(demo("fennimoor"), "shell", mass=normal(40.0, 1.0), centre=normal(1.0, 0.01))
    project = changed(project, "shell", overhang_rear=exact(0.05))
    found = boxes(project)
    assert found["weighing.whole"].value == "40 ± 1 kg"
    # From the rear rim: the centre's place in the van plus what reaches behind the opening.
    assert found["weighing.balance"].value == "1.05 ± 0.01 m"
    assert found["weighing.first_at"].value == NOT_NEEDED
    open_ = boxes(changed(project, "shell", centre=None))
    assert open_["weighing.first_at"].value is None
    assert open_["weighing.balance"].value is None


def test_springs_of_one_kind_none_and_two() -> None:
    project = demo("fennimoor")
    label = {
        key: exact(v, Provenance.LABEL)
        for key, v in {"force": 790.0, "rod_diameter": 0.010, "tube_diameter": 0.022}.items()
    }
    spring = project.spring[0].model_copy(update={**label, "force_is": "F3"})
    project = project.model_copy(update={"spring": (spring,)})
    one = boxes(project)
    assert one["spring.force"] == Box("spring.force", "790 N, F3", "from a label")
    assert one["spring.rod_diameter"].value == "10 mm"
    assert one["spring.tube_diameter"].value == "22 mm"
    unknown = boxes(project.model_copy(update={"spring": (spring.model_copy(update={"tube_diameter": GUESS}),)}))
    assert unknown["spring.rod_diameter"].value == "10 mm"
    assert unknown["spring.tube_diameter"].value is None
    none = boxes(project.model_copy(update={"spring": ()}))
    assert all(none[f"spring.{key}"].value is None for key in OF_SPRING)
    helper = spring.model_copy(update={"name": "helper", "force": even(300.0, 900.0, Provenance.UNKNOWN)})
    two = boxes(project.model_copy(update={"spring": (spring, helper)}))
    assert two["spring.0.force"].value == one["spring.force"].value
    assert two["spring.1.force"] == Box(
        "spring.1.force", None, "guess 300 to 900 N, F3", "helper: force on the label, and which"
    )


def test_a_guess_of_what_rides_on_the_shell_is_asked() -> None:
    project = demo("fennimoor")
    guess = project.item[0].model_copy(update={"mass": even(2.0, 9.0, Provenance.UNKNOWN)})
    found = boxes(project.model_copy(update={"item": (guess, *project.item[1:])}))
    assert found["item.0.mass"].value is None
    assert found["item.0.mass"].label == f"{guess.name}: weight"
    assert "item.1.mass" not in found


def test_what_is_settled_is_asked_no_more() -> None:
    project = demo("fennimoor")
    assert "forces.cloth_mass" in boxes(changed(project, "forces", cloth_mass=even(2.0, 9.0, Provenance.UNKNOWN)))
    assert "forces.cloth_mass" not in boxes(changed(project, "forces", cloth_mass=normal(3.0, 0.5)))


def test_keys_are_those_of_the_file() -> None:
    paths = {plain_path(path) for path in walk(blank())}
    assert {*MEASURED, *WHEN_OPEN} <= paths
    assert all(key_of(key) for key in (*MEASURED, *WHEN_OPEN))
    arms = {plain_path(path) for path in walk(demo("ottergate"))}
    guides = {"linkage.guide", "linkage.guide_far"}
    assert set(POINTS) - guides <= paths | arms
    assert all(key_of(f"{point}.x") for point in guides)


@pytest.mark.parametrize("project", [blank(), demo("ottergate")], ids=["blank", "ottergate"])
def test_the_sheet_is_one_page(project: Project) -> None:
    reader = pypdf.PdfReader(io.BytesIO(measuring_sheet_pdf(sheet_page(project))))
    assert len(reader.pages) == 1
    text = reader.pages[0].extract_text()
    assert "more boxes" not in text
    assert all(label in text for label in ("floor to roof skin", "handle: along, up"))


def test_a_blank_sheet_asks_everything() -> None:
    page = blank_page("imperial")
    reader = pypdf.PdfReader(io.BytesIO(measuring_sheet_pdf(page)))
    assert len(reader.pages) == 1
    assert f"{len(ASKS)} boxes are still empty" in reader.pages[0].extract_text().replace("\n", " ")


def test_what_is_not_judged_for_want_of_a_number_has_its_box() -> None:
    project = changed(demo("fennimoor"), "shell", twist_moment=None)
    spring = project.spring[0].model_copy(update={"bracket_limit": None, "place": even(0.4, 0.6, Provenance.UNKNOWN)})
    found = boxes(project.model_copy(update={"spring": (spring,)}))
    for key in ("shell.twist_moment", "spring.bracket_limit", "spring.place"):
        assert found[key].value is None
    known = changed(project, "shell", twist_moment=normal(80.0, 5.0))
    settled = spring.model_copy(update={"bracket_limit": exact(1500.0), "place": exact(0.5)})
    found = boxes(known.model_copy(update={"spring": (settled,)}))
    assert not {"shell.twist_moment", "spring.bracket_limit", "spring.place"} & set(found)


def test_every_box_names_its_key_in_the_file() -> None:
    page = sheet_page(blank())
    text = pypdf.PdfReader(io.BytesIO(measuring_sheet_pdf(page))).pages[0].extract_text().replace("\n", "")
    text = text.replace("\u200b", "").replace(" ", "")
    for key in ("shell.length", "weighing.reading.0.reads", "spring.0.force", "bed.from,bed.to", "person.reach"):
        assert key.replace(" ", "") in text
