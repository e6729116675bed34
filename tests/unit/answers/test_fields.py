"""Forms of the board: every key of the file is a field once, texts stay as written, what is added reads."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import lru_cache

import pytest

from loftwright.answers.decisions import DECISIONS
from loftwright.answers.fields import changes_from, fieldsets
from loftwright.answers.judged_roof import judged_roof
from loftwright.core.errors import Bug
from loftwright.core.field_views import Field, FieldSet, HowTo
from loftwright.project.demos import DEMOS, demo_text
from loftwright.project.file import edited, loads
from loftwright.project.keys import Section, Spot, members
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.project.typed import typed
from loftwright.project.written import fault_of, joined, with_word, without_word, written

BARE = """format = 1
name = "bare"
[opening]
length = "2 m"
width = "1.2 m"
[linkage]
kind = "hinge"
end = "rear"
opens = "28 deg"
hinge = ["-45 mm", "35 mm"]
"""
SPREAD = """format = 1
name = 'Two "words"'   # a note
[settings]
units = "metric"
draws = 60
[roof]
profile = [["0 m", "0 mm"], "unknown", ["1,00 m", "-10 mm, measured"], ["2 m", "0.0 mm"]]
upstand = "?"
[opening]
length = "2 m"
width = "1.2 m"
[shell]
mass = "46 +- 2 kg,measured"
made_of = "unknown"
[linkage]
kind = "hinge"
end = "rear"
opens = "28  deg, suggested"
hinge = ["-45 mm", "35 mm"]
[handle]
at = "unknown"
[requirements]
prop_fitted = true
[[spring]]
name = "left"
per_side = 1
foot = ["0.5 m", "-60 mm"]
head = ["0.9 m", "50 mm"]
force = "40 kg, label"
ratio = 1.30
stroke = "0.3 m"
extended_length = "0.7 m"
place = "don't know"
[[reading]]
how_open = "50 %"
way = "push up"
force = "5 kg"
spring = "left"
"""
EVERYTHING = f"""{SPREAD}foot = ["0.5 m", "-60 mm"]
[bed]
from = "0.2 m"
to = "1 m"
height = "-0.3 m"
[weighing]
reading = [{{ at = "0.1 m", other = "1.9 m", reads = "24 kg" }}, {{ whole = "47 kg" }}, {{ balance = "1.03 m" }}]
tilt = {{ angle = "30 deg", at = "0.1 m", other = "1.9 m", reads = "24 kg" }}
[links]
arm_a_length = "0.4 m"
arm_b_length = "0.4 m"
rise = "0.6 m"
tilt = "10 deg"
[[item]]
name = "vent"
mass = "2 kg"
x = "1 m"
z = "0.2 m"
[[coil]]
foot = ["0.4 m", "-0.2 m"]
head = ["0 m", "-0.1 m"]
rate = "1 N/mm"
free_length = "0.3 m"
[[torsion]]
moment = "9 N m"
per_degree = "0.1 N m"
[[cord]]
foot = ["0.4 m", "-0.2 m"]
head = ["0 m", "-0.1 m"]
slack_length = "0.3 m"
point = [{{ length = "0.5 m", force = "90 N" }}]
[[zone]]
name = "low"
on = "van"
from = ["0.4 m", "-0.1 m"]
to = ["0.5 m", "0 m"]
[[zone]]
name = "high"
on = "shell"
from = ["0.8 m", "0 m"]
to = ["1 m", "0.1 m"]
[[at_hand]]
force = "400 N"
stroke = "0.3 m"
extended_length = "0.7 m"
home_test = {{ reads_in = "30 kg", reads_out = "27 kg" }}
[[tape]]
step = "hinges"
what = "lip height"
reads = "0.9 m"
[[roof_point]]
x = "1 m"
y = "-0.4 m"
height = "-12 mm"
[[rim_point]]
x = "1 m"
y = "0.5 m"
gap = "4 mm"
[[candidate]]
length = "2.1 m"
width = "1.3 m"
[brace]
kind = "bar"
[[bow]]
at = "1 m"
[[joint]]
at = "brace on van"
layer = "steel frame"
thickness = "2 mm"
[[lower_point]]
x = "1 m"
y = "-0.6 m"
z = "20 mm"
[[upper_point]]
x = "1 m"
y = "0.6 m"
z = "40 mm"
[[seam]]
at = "1 m"
[[layer]]
name = "canvas"
[[window]]
width = "0.5 m"
height = "0.2 m"
[panel]
power = "100"
loop_van = ["0.1 m", "-50 mm"]
loop_shell = ["0.2 m", "50 mm"]
[lift]
foot = ["0.9 m", "-120 mm"]
head = ["1.2 m", "60 mm"]
[lining]
board = "3 mm"
[[bought]]
part = "seal"
[[todo]]
task = "weigh"
[[spring]]
name = "drilled"
foot = ["0.5 m", "-60 mm"]
head = ["0.9 m", "50 mm"]
force = "400 N"
stroke = "0.3 m"
extended_length = "0.7 m"
feet = [["0.5 m", "-60 mm"], ["0.53 m", "-60 mm"]]
heads = [["0.9 m", "50 mm"]]
"""
SIDE = BARE.replace('"rear"', '"left"')
GUIDES = BARE.replace('"hinge"', '"guides"').replace('opens = "28 deg"\nhinge =', 'rise = "0.4 m"\nguide =') + (
    'guide_length = "0.3 m"\nguide_friction = "unknown"\n'
)
TEXTS = {
    **{name: demo_text(name) for name in DEMOS},
    "bare": BARE,
    "spread": SPREAD,
    "everything": EVERYTHING,
    "hinged at a side": SIDE,
    "in guides": GUIDES,
    **{
        f"new, {lifts}, {units}": new_project(FiveAnswers(lifts), units)
        for lifts in ("hinge front", "arms", "level arms", "scissor")
        for units in ("metric", "imperial")
    },
}


@lru_cache(maxsize=64)
def sets(text: str) -> tuple[FieldSet, ...]:
    """Return every set of every page."""
    project = loads(text)
    return tuple(one for page in DECISIONS for one in fieldsets(project, text, page.path))


def fields(text: str) -> dict[str, Field]:
    """Return every field by its path; none stands twice."""
    every = [field for one in sets(text) for field in one.fields]
    found = {field.path: field for field in every}
    assert len(found) == len(every)
    return found


def plain(path: str) -> str:
    return ".".join(step for step in path.split(".") if not step.isdecimal())


def keys(section: type[Section] = Project, before: str = "") -> Iterator[str]:
    """Yield every value that a file may hold, list numbers left out."""
    for member in members(section):
        at = f"{before}{member.key}"
        if isinstance(member.about, Spot):
            yield from (f"{at}.x", f"{at}.z")
        elif member.about is not None:
            yield at
        else:
            assert member.table is not None
            yield from keys(member.table, f"{at}.")


def leaves(value: object, path: str = "") -> Iterator[tuple[str, str]]:
    """Yield what a parsed file holds, under its paths, by a walk of its own."""
    if isinstance(value, dict):
        for key, part in value.items():
            yield from leaves(part, f"{path}.{key}".lstrip("."))
    elif isinstance(value, list) and len(value) == 2 and all(isinstance(part, str) for part in value):
        yield from ((f"{path}.{axis}", part) for axis, part in zip("xz", value, strict=True))
    elif isinstance(value, list):
        for number, part in enumerate(value):
            yield from leaves(part, f"{path}.{number}")
    else:
        yield path, str(value).lower() if isinstance(value, bool) else str(value)


# --- all of the file ------------------------------------------------------------------------------------


def test_every_key_is_a_field_on_one_page() -> None:
    project, pages = loads(EVERYTHING), {}
    for page in DECISIONS:
        for one in fieldsets(project, EVERYTHING, page.path):
            for field in one.fields:
                pages.setdefault(plain(field.path), set()).add(page.path)
    assert set(pages) == set(keys()) - {"format"}
    assert [path for path, found in pages.items() if len(found) > 1] == []


@pytest.mark.parametrize("name", TEXTS)
def test_every_written_value_stands_as_it_is_written(name: str) -> None:
    text = TEXTS[name]
    found = fields(text)
    there = dict(leaves(written(text).tables))
    assert len(there) > 8
    for path, value in there.items():
        if path == "format":
            continue
        # A point written as one word stands for both of its values.
        for at in [path] if path in found else [f"{path}.x", f"{path}.z"]:
            assert (found[at].text, found[at].given) == (value, True)
    stands = {path for path, field in found.items() if field.given}
    assert {path.removesuffix(".x").removesuffix(".z") for path in stands} == {
        path.removesuffix(".x").removesuffix(".z") for path in there
    } - {"format"}


@pytest.mark.parametrize("name", TEXTS)
def test_a_form_that_is_sent_back_changes_nothing(name: str) -> None:
    text = TEXTS[name]
    form = {path: field.text for path, field in fields(text).items()}
    assert changes_from(loads(text), text, form) == {}


@pytest.mark.parametrize("name", DEMOS)
def test_every_text_written_again_leaves_the_file_as_it_is(name: str) -> None:
    text = demo_text(name)
    given = {path: typed(path, field.text) for path, field in fields(text).items() if field.given}
    assert edited(text, given) == text


@pytest.mark.parametrize("name", TEXTS)
def test_every_text_can_be_read_by_itself(name: str) -> None:
    assert [
        (path, fault)
        for path, field in fields(TEXTS[name]).items()
        if (text := field.text or field.placeholder) and (fault := fault_of(path, text))
    ] == []


def additions(names: Iterable[str], most: int) -> Iterator[tuple[str, str]]:
    """Yield what every kind of addition makes of the first `most` of these texts that offer it, and its label."""
    tried: Counter[str] = Counter()
    for name in names:
        for add in (add for one in sets(TEXTS[name]) for add in one.adds):
            kind = f"{add.label} {sorted(plain(path) for path, _ in add.changes)}"
            tried[kind] += 1
            if tried[kind] <= most:
                yield edited(TEXTS[name], {path: typed(path, value) for path, value in add.changes}), add.label
    assert len(tried) > 25


@pytest.mark.parametrize("name", TEXTS)
def test_additions_are_offered_by_name(name: str) -> None:
    adds = [add for one in sets(TEXTS[name]) for add in one.adds]
    assert len(adds) > 10
    assert all(add.label and add.changes for add in adds)


@pytest.mark.slow
def test_every_addition_makes_a_file_that_reads() -> None:
    for text, label in additions(reversed(TEXTS), 3):
        loads(text, label)


@pytest.mark.slow
def test_a_roof_with_an_addition_can_be_judged() -> None:
    for text, label in additions(("bare", "fennimoor", "in guides", "ottergate"), 2):
        judged_roof(loads(text, label))


@pytest.mark.slow
@pytest.mark.parametrize("name", ["bare", "ottergate"])
def test_additions_can_follow_each_other(name: str) -> None:
    text = TEXTS[name]
    for _ in range(2):
        for page in DECISIONS:
            for path in [one.path for one in fieldsets(loads(text), text, page.path) if one.adds]:
                there = fieldsets(loads(text), text, page.path)
                adds = next((one.adds for one in there if one.path == path), ())
                if adds:
                    text = edited(text, {at: typed(at, value) for at, value in adds[-1].changes})
                    loads(text, path)
    assert len(loads(text).zone) >= 3


def test_no_more_is_offered_than_a_list_holds() -> None:
    text = BARE
    for _ in range(5):
        (add,) = next(one.adds for one in sets(text) if one.path == "roof.profile")
        text = edited(text, dict(add.changes))
    assert len(loads(text).roof.profile) == 6
    torsion = "".join('[[torsion]]\nmoment = "9 N m"\nper_degree = "0 N m"\n' for _ in range(4))
    assert next(one.adds for one in sets(BARE + torsion) if one.path == "torsion") == ()
    assert next(one.adds for one in sets(GUIDES) if one.path == "torsion") == ()


# --- words ----------------------------------------------------------------------------------------------

CODE = re.compile(r"_|\[|\]|\bNone\b|\bUncertain\b|\btrue\b|\bfalse\b")


@pytest.mark.parametrize("name", TEXTS)
def test_labels_are_plain_and_differ(name: str) -> None:
    for one in sets(TEXTS[name]):
        labels = [field.label for field in one.fields]
        assert len(set(labels)) == len(labels), one.title
        assert [label for label in labels if CODE.search(label) or not label[0].isupper()] == []
        names = [field.text for field in one.fields if field.path.endswith("name")]
        assert not CODE.search(one.title) or any(name in one.title for name in names)


@pytest.mark.parametrize("name", TEXTS)
def test_what_is_said_beside_a_field_is_plain(name: str) -> None:
    for one in sets(TEXTS[name]):
        assert not CODE.search(one.note)
        for field in one.fields:
            for text in (field.help, field.left_out, field.allowed, field.usual, field.doubt, field.likely):
                assert not CODE.search(text), field.path
            for option in (*field.choices, *field.words):
                assert not CODE.search(option.label), field.path


def test_sets_are_in_the_order_of_the_page() -> None:
    text = demo_text("quellmere")
    titles = [one.title for one in fieldsets(loads(text), text, "/have")]
    assert titles == [
        "Van",
        "Opening",
        "The van's own roof",
        "Line of the van's roof",
        "Shell",
        "Item 1: roof vent",
        "Item 2: old ladder rail",
        "What rides on the shell",
        "Weighing",
        *(f"Weighing {number}" for number in range(1, 6)),
        "Weighings",
        "Weighing with the shell tilted",
        "Who lifts it",
        "Bed board",
    ]


def test_there_are_no_fields_on_pages_without_any() -> None:
    project = loads(BARE)
    assert fieldsets(project, BARE, "/") == fieldsets(project, BARE, "/papers") == ()
    with pytest.raises(Bug):
        fieldsets(project, BARE, "/elsewhere")


# --- one field ------------------------------------------------------------------------------------------


def test_a_measured_weight() -> None:
    found = fields(SPREAD)["shell.mass"]
    assert found.text == "46 +- 2 kg,measured"
    assert (found.label, found.kind, found.given) == ("Weight of the bare shell", "quantity", True)
    assert (found.word, found.doubt) == ("measured", "taken as 46 ± 2 kg")
    assert found.allowed == "between 3 kg and 250 kg"
    assert found.measure is not None
    assert found.measure.title == "Weigh the shell"
    assert (found.left_out, found.placeholder, found.likely) == ("", "", "")


def test_a_word_for_not_known_in_the_builders_own_way() -> None:
    found = fields(SPREAD)
    assert (found["roof.upstand"].text, found["roof.upstand"].word) == ("?", "unknown")
    assert found["roof.upstand"].likely == "anything from 20 to 60 mm: from a low angle to a tall channel"
    # 0.4 to 0.5 times an opening of 1.2 m.
    assert found["spring.0.place"].text == "don't know"
    assert found["spring.0.place"].likely.startswith("anything from 480 to 600 mm")
    assert found["shell.made_of"].likely.startswith("taken as “not known”")
    assert (found["handle.at.x"].text, found["handle.at.z"].text) == ("unknown", "unknown")


def test_a_bare_number_keeps_its_spelling() -> None:
    assert fields(SPREAD)["spring.0.ratio"].text == "1.30"


def test_points_that_are_left_out_do_not_shift_the_others() -> None:
    found = fields(SPREAD)
    assert [found[f"roof.profile.{number}.x"].text for number in range(4)] == ["0 m", "unknown", "1,00 m", "2 m"]
    assert [found[f"roof.profile.{number}.z"].doubt for number in range(4)] == ["", "", "taken as -10 ± 3 mm", ""]
    assert found["roof.profile.2.x"].label == "Roof point 3, along"


def test_what_is_taken_when_nothing_is_written() -> None:
    found = fields(SPREAD)
    built = found["van.roof_build"]
    assert (built.given, built.text, built.placeholder) == (False, "", "25 mm, assumed")
    assert built.left_out == "left out: 25 mm, assumed (a lined roof with thin insulation)"
    reach = found["person.reach"]
    assert (reach.placeholder, reach.left_out) == ("unknown", "left out: not known")
    assert reach.likely.startswith("anything from")
    assert found["shell.twist_moment"].left_out == ("left out: from the weight on its corner, else twist is not judged")
    assert found["handle.strap_length"].placeholder == "0 mm"
    assert found["requirements.push_to_start"].left_out == "left out: as “Most that you will push up”"
    assert found["stop.kind"].placeholder == "strap"
    assert found["stop.kind"].left_out == "left out: a strap (the stop that is easiest to add)"
    assert found["settings.seed"].placeholder == "1"


def test_defaults_are_said_in_inches_to_those_who_read_them() -> None:
    text = BARE.replace("[opening]", '[settings]\nunits = "imperial"\n[opening]')
    found = fields(text)["requirements.clearance"]
    assert found.placeholder == "0.3937 in"
    assert found.allowed == "between 0 in and 3.937 in"


def test_forces_of_the_hand_are_bounded_as_scales_read_them() -> None:
    # 600 N over 9.80665 N for each kilogram.
    assert fields(BARE)["requirements.pull_to_latch"].allowed == "between 0 kg and 61.2 kg"
    assert fields(SPREAD)["spring.0.force"].allowed == "between 20 N and 5000 N"


def test_requirements_are_shared_out_by_page() -> None:
    project = loads(BARE)
    moves = next(one for one in fieldsets(project, BARE, "/moves") if one.path == "requirements")
    lifts = next(one for one in fieldsets(project, BARE, "/lifts") if one.path == "requirements")
    assert (moves.title, lifts.title) == ("What you ask of its movement", "What you ask of the lifting")
    assert moves.fields[0].path == "requirements.headroom_wanted"
    assert lifts.fields[0].path == "requirements.push_to_start"


def test_kinds_and_choices() -> None:
    found = fields(EVERYTHING)
    kinds = {path: found[path].kind for path in ("linkage.kind", "linkage.hinge.x", "linkage.hinge.z", "item.0.x")}
    assert kinds == {
        "linkage.kind": "choice",
        "linkage.hinge.x": "point-x",
        "linkage.hinge.z": "point-z",
        "item.0.x": "point-x",
    }
    assert found["requirements.prop_fitted"].kind == "yesno"
    assert [option.word for option in found["requirements.prop_fitted"].choices] == ["true", "false", "unknown"]
    assert found["spring.0.per_side"].kind == "count"
    assert found["spring.0.per_side"].allowed == "a whole number from 1 to 4"
    assert found["name"].kind == "word"
    assert found["name"].text == 'Two "words"'
    assert [option.word for option in found["reading.0.spring"].choices] == ["left", "drilled"]
    assert found["stop.kind"].choices[0].label == "a strap"


def test_what_this_kind_of_roof_does_not_have_is_folded_away() -> None:
    hinged, armed, side = fields(BARE), fields(demo_text("ottergate")), fields(SIDE)
    assert hinged["linkage.arm_a_van.x"].advanced
    assert not hinged["linkage.hinge.x"].advanced
    assert armed["linkage.hinge.x"].advanced
    assert not armed["linkage.arm_b_shell.z"].advanced
    assert hinged["shell.height_left"].advanced
    assert not side["shell.height_left"].advanced
    assert side["shell.height_rear"].advanced
    assert side["linkage.hinge.x"].label == "Hinge, across"
    assert "left edge" in side["linkage.hinge.x"].help
    assert armed["fit.axis_height"].advanced
    assert not hinged["fit.axis_height"].advanced


def test_what_must_be_written_hangs_on_the_kind_of_roof() -> None:
    def needed(text: str) -> set[str]:
        return {path for path, field in fields(text).items() if field.required and path.startswith("linkage")}

    both = {"linkage.kind", "linkage.end"}
    arms = {f"linkage.arm_{arm}_{side}.{axis}" for arm in "ab" for side in ("van", "shell") for axis in "xz"}
    assert needed(BARE) == {*both, "linkage.opens", "linkage.hinge.x", "linkage.hinge.z"}
    assert needed(demo_text("ottergate")) == {*both, "linkage.opens", *arms}
    shoes = {"linkage.guide.x", "linkage.guide.z", "linkage.guide_length", "linkage.guide_friction"}
    assert needed(GUIDES) == {*both, "linkage.rise", *shoes}


def test_what_does_not_hold_is_said_beside_its_inputs() -> None:
    text = demo_text("quellmere")
    project = loads(text)
    checks = judged_roof(project).checks
    found = {f.path: f for one in fieldsets(project, text, "/lifts", checks) for f in one.fields}
    calm = {f.path: f for one in fieldsets(project, text, "/lifts") for f in one.fields}
    limit = found["spring.0.bracket_limit"]
    assert limit.matters == "The spring brackets carry too much (side spring)"
    # The chance of what is delivered is settled by the force itself.
    assert found["spring.0.force"].matters.startswith("The open roof falls when one spring fails")
    assert found["spring.0.tolerance"].matters == ""
    assert all(field.matters == "" for field in calm.values())
    shell = {f.path: f for one in fieldsets(project, text, "/have", checks) for f in one.fields}
    assert not shell["shell.twist_moment"].advanced
    assert shell["roof.crown"].advanced


def test_what_cannot_go_alone_has_no_button() -> None:
    found = {one.path: one for one in sets(EVERYTHING)}
    assert found["bed"].can_remove == "Take the bed out"
    assert found["spring.1.feet.0"].can_remove == "Take this hole out"
    assert found["roof.profile.0"].can_remove == "Take this point out"
    assert found["cord.0.point.0"].can_remove == ""
    assert found["shell"].can_remove == ""
    assert found["at_hand.0.home_test"].title == "Springs at hand 1, test at home"


# --- what was typed ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("shell.mass", "46 kg"),
        ("shell.mass", "unknown"),
        ("spring.3.foot.x", "1/2 in"),
        ("linkage.hinge.z", "-10 mm, measured"),
        ("weighing.reading.2.balance", "1.03 m +- 15 mm"),
        ("weighing.tilt.angle", "30 deg"),
        ("shell.height_left", "20 cm"),
        ("spring.0.per_side", "2"),
        ("requirements.prop_fitted", "true"),
        ("item.0.x", "1 m"),
        ("roof.profile.4.z", "-1 cm"),
        ("cord.0.point.1.length", "0.6 m"),
        ("stop.kind", "strap"),
        ("roof_point.1.x", "1 m"),
        ("rim_point.0.y", "-40 cm"),
        ("brace.kind", "straps"),
        ("road.speed", "68 mph"),
        ("wind.cloth_strength", "60 lb/in"),
        ("hinges.turning", "20 lb ft"),
        ("body.side_area", "80 ft2"),
        ("joint.0.bolt", "1/4"),
    ],
)
def test_what_can_be_read_has_no_fault(path: str, text: str) -> None:
    assert fault_of(path, text) is None


@pytest.mark.parametrize(
    ("path", "text", "words"),
    [
        ("shell.mass", "46", ('"46"', "it has no unit")),
        ("shell.mass", "1 kg", ("must lie within 3 kg to 250 kg",)),
        ("shell.mass", "46 mm", ("a mass is wanted",)),
        ("spring.2.foot.x", "90 m", ("foot x", "-3 m to 6 m")),
        ("spring.2.heads.1.z", "nonsense", ("heads 1 z", "must start with a number")),
        ("at_hand.0.home_test.plank", "10 mm", ("200 mm to 4 m",)),
        ("cord.0.point.1.force", "-1 N", ("0.1 N to 5000 N",)),
        ("weighing.tilt.angle", "80 deg", ("5 deg to 60 deg",)),
        ("item.0.z", "7 m", ("-2 m to 1.5 m",)),
        ("spring.0.per_side", "9", ("from 1 to 4",)),
        ("stop.kind", "rope", ("must be one of",)),
        ("settings.currency", "euro", ("three capital letters",)),
        ("joint.0.bolt", "M7", ("M6",)),
        ("roof_point.0.x", "9 m", ("-3 m to 6 m",)),
        ("name", "", ("1 to 200 characters",)),
        ("spring.0.force", " ", ("nothing is written",)),
    ],
)
def test_what_cannot_be_read_is_said_in_a_sentence(path: str, text: str, words: tuple[str, ...]) -> None:
    fault = fault_of(path, text)
    assert fault is not None
    said = fault.sentence()
    assert [word for word in words if word not in said] == []
    assert said.endswith(".")


def test_one_value_is_refused_as_the_whole_file_is() -> None:
    with pytest.raises(Exception, match="must lie within") as refused:
        loads(BARE.replace('length = "2 m"', 'length = "9 m"'))
    fault = fault_of("opening.length", "9 m")
    assert fault is not None
    assert fault.sentence() in str(refused.value)


def test_how_a_value_can_be_known_is_offered_in_words() -> None:
    text = BARE.replace('["-45 mm", "35 mm"]', '["-45 mm, suggested", "35 mm"]')
    found = fields(text)
    usual = ["your decision", "measured", "from a label", "assumed", "not known"]
    assert [option.label for option in found["linkage.hinge.z"].words] == usual
    # That the program suggested it is kept where it stands, and offered nowhere else.
    offered = {option.word: option.label for option in found["linkage.hinge.x"].words}
    assert offered["suggested"] == "suggested"
    assert sorted(offered.values()) == sorted([*usual, "suggested"])
    assert found["linkage.kind"].words == found["settings.draws"].words == found["name"].words == ()


def test_what_a_list_says_for_nothing_chosen_is_short() -> None:
    found = fields(BARE)
    assert found["settings.words"].usual == "as usual: British"
    assert found["requirements.prop_fitted"].usual == "as usual: no"
    assert found["linkage.kind"].usual == "not written"
    assert max(len(field.usual) for text in TEXTS.values() for field in fields(text).values()) < 50


def test_bounds_are_said_in_the_builders_units() -> None:
    fault = fault_of("opening.length", "9 in", "imperial")
    assert fault is not None
    assert "15.75 in to 157.5 in" in fault.sentence()


def test_changes_of_a_form() -> None:
    project = loads(SPREAD)

    def of(**form: str) -> dict[str, str | int | bool | None]:
        return changes_from(project, SPREAD, {path.replace("__", "."): text for path, text in form.items()})

    assert of(shell__mass="46 +- 2 kg,measured") == {}
    assert of(shell__mass=" 47 kg ") == {"shell.mass": "47 kg"}
    assert of(shell__mass="") == {"shell.mass": None}
    assert of(shell__thickness="") == {}
    assert of(settings__draws="60", spring__0__per_side="2") == {"spring.0.per_side": 2}
    assert of(requirements__prop_fitted="false") == {"requirements.prop_fitted": False}
    assert of(spring__0__ratio="1.30") == {}
    # Readings that name the spring go with it.
    assert of(spring__0__name="right") == {"spring.0.name": "right", "reading.0.spring": "right"}
    loads(edited(SPREAD, of(spring__0__name="right")))


def test_a_form_may_ask_for_text_and_word_apart() -> None:
    project = loads(SPREAD)
    path = "shell.mass"
    for text, word, wanted in (
        ("46 +- 2 kg", "label", {path: "46 +- 2 kg, label"}),
        ("47 kg", "measured", {path: "47 kg, measured"}),
        ("47 kg, assumed", "measured", {path: "47 kg, assumed"}),
        ("46 kg", "", {path: "46 kg"}),
        ("46 kg", "unknown", {path: "unknown"}),
        ("", "measured", {path: None}),
    ):
        assert changes_from(project, SPREAD, {path: text, f"{path}@word": word}) == wanted
    assert changes_from(project, SPREAD, {"roof.upstand": "30 mm", "roof.upstand@word": "unknown"}) == {
        "roof.upstand": "30 mm"
    }


@pytest.mark.parametrize("name", TEXTS)
def test_text_and_word_sent_back_apart_change_nothing(name: str) -> None:
    text, form = TEXTS[name], {}
    for path, field in fields(text).items():
        form[path] = field.text
        if field.kind in ("quantity", "point-x", "point-z"):
            form[path], form[f"{path}@word"] = without_word(field.text)
    assert any(word for path, word in form.items() if path.endswith("@word")) or name in ("bare", "hinged at a side")
    assert changes_from(loads(text), text, form) == {}


# --- how a value is known -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("46 +- 2 kg, measured", ("46 +- 2 kg", "measured")),
        ("1,9 m", ("1,9 m", "")),
        ("1,9 m,label", ("1,9 m", "label")),
        ("40 .. 50 kg, unknown", ("40 .. 50 kg", "unknown")),
        ("46 kg, given", ("46 kg", "")),
        ("46 kg, guessed", ("46 kg, guessed", "")),
        ("don't know", ("", "unknown")),
        ("", ("", "")),
    ],
)
def test_text_and_word(text: str, parts: tuple[str, str]) -> None:
    assert without_word(text) == parts


@pytest.mark.parametrize(
    ("text", "word", "after"),
    [
        ("46 kg", "measured", "46 kg, measured"),
        ("46 +- 2 kg, assumed", "measured", "46 +- 2 kg, measured"),
        ("46 kg, measured", "", "46 kg"),
        ("46 kg, measured", "given", "46 kg"),
        ("46 kg, measured", "unknown", "unknown"),
        ("40 to 50 kg", "unknown", "40 to 50 kg, unknown"),
        ("unknown", "measured", "unknown"),
        ("", "measured", ""),
        ("", "unknown", "unknown"),
        ("5 ft 3 1/2 in", "label", "5 ft 3 1/2 in, label"),
    ],
)
def test_another_word(text: str, word: str, after: str) -> None:
    assert with_word(text, word) == after


def test_a_word_left_standing_does_not_drop_a_number() -> None:
    assert joined("unknown", "46 kg", "unknown") == "46 kg"
    assert joined("unknown", "", "measured") == "unknown"
    assert joined("", "", "") == ""


def test_how_a_thing_is_measured_comes_along() -> None:
    assert fields(BARE)["person.height"].measure == HowTo("Measure yourself", 2, "Stand against a door frame in shoes.")
