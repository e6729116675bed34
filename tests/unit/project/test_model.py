"""The model: what is said of every key, and that reading keeps to it."""

from __future__ import annotations

import copy
import math
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest
from pydantic import ValidationError

from loftwright.core.errors import Bug, ProjectFault
from loftwright.core.quantities import parse
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Provenance, exact
from loftwright.core.units import Dimension
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.keys import Key, Section, Spot, members
from loftwright.project.model import Project, key_of, walk
from loftwright.project.possible import impossible
from loftwright.project.reading import to_project


def all_keys(table: type[Section] = Project, at: str = "") -> Iterator[tuple[str, Key]]:
    for member in members(table):
        where = f"{at}{member.key}"
        if isinstance(member.about, Key):
            yield where, member.about
        elif isinstance(member.about, Spot):
            yield f"{where}.x", member.about.x
            yield f"{where}.z", member.about.z
        elif member.table is not None:
            yield from all_keys(member.table, f"{where}.")


KEYS = list(all_keys())
SI = {Dimension.ANGLE: "deg", Dimension.PERCENT: "%"}


@pytest.mark.parametrize(("where", "key"), KEYS, ids=[where for where, _ in KEYS])
def test_every_quantity_is_described_completely(where: str, key: Key) -> None:
    assert key.meaning
    assert not key.meaning.endswith(".")
    assert key.unknown_reason
    assert key.low < key.high
    assert key.unknown[0] < key.unknown[1]
    if not key.per:
        assert key.low <= key.unknown[0]
        assert key.unknown[1] <= key.high
    if key.default is not None:
        assert key.default_reason
        value = parse(key.default, key.dimension, unknown=key.unknown)
        assert key.per or key.low <= value.nominal <= key.high
    if key.same_as:
        assert key_of(key.same_as).dimension is key.dimension


def test_every_kind_of_key_has_a_meaning() -> None:
    def about(table: type[Section]) -> Iterator[Any]:
        for member in members(table):
            if member.about is not None:
                yield member.about
            elif member.table is not None:
                yield from about(member.table)

    found = list(about(Project))
    assert len(found) > 90
    assert all(note.meaning for note in found)


@pytest.mark.parametrize("name", DEMOS)
def test_walk_names_every_quantity_and_key_of_knows_it(name: str) -> None:
    values = walk(demo(name))
    assert len(values) > 75
    for path, value in values.items():
        key = key_of(path)
        assert key.low - 1e-9 <= value.low, path
        assert value.high <= key.high + 1e-9, path


def test_walk_writes_paths_as_the_file_has_them() -> None:
    values = walk(demo("quellmere"))
    assert values["weighing.reading.0.reads"].nominal == 29.0
    assert values["weighing.reading.4.balance"].nominal == 1.035
    assert values["spring.0.foot.z"] == demo("quellmere").spring[0].foot.z
    assert values["item.1.mass"].nominal == 2.0
    assert values["bed.from"].nominal == 0.1
    assert walk(demo("fennimoor"))["roof.profile.3.x"].nominal == 2.0
    assert key_of("roof.profile.3.x") is not key_of("roof.profile.3.z")


@pytest.mark.parametrize(
    "path", ["shell.weight", "shell", "spring.0.foot", "settings.units", "nothing.at.all", "linkage.hinge.y"]
)
def test_key_of_refuses_what_is_no_quantity(path: str) -> None:
    with pytest.raises(Bug, match="no quantity of the project"):
        key_of(path)


def test_the_model_is_frozen() -> None:
    project = demo("fennimoor")
    with pytest.raises(ValidationError):
        project.shell.length = exact(1.0)  # type: ignore[misc]


def test_a_project_is_equal_to_one_read_again() -> None:
    assert demo("ottergate") == demo("ottergate")
    assert demo("ottergate") != demo("quellmere")


# --- what is allowed, key by key ------------------------------------------------------------------


def slots(document: dict[str, Any], path: str) -> tuple[Any, Any]:
    """Return the holder in the tables of a file and the index in it for a path; missing tables are made."""
    steps: list[Any] = [int(step) if step.isdecimal() else step for step in path.split(".")]
    if steps[-1] in ("x", "z") and isinstance(member_at(path), Spot):
        steps[-1] = "xz".index(steps[-1])
    holder: Any = document
    for step, following in pairwise(steps):
        if isinstance(step, str) and step not in holder:
            holder[step] = ["0 mm", "0 mm"] if isinstance(following, int) else {}
        holder = holder[step]
    return holder, steps[-1]


def member_at(path: str) -> object:
    table: type[Section] | None = Project
    about: object = None
    for step in path.split(".")[:-1]:
        if table is not None and not step.isdecimal():
            member = next(m for m in members(table) if m.key == step)
            about, table = member.about, member.table
    return about


DOCUMENTS = {name: tomllib.loads(demo_text(name)) for name in DEMOS}


def shared_out() -> list[tuple[str, str]]:
    """Return every key of the demos once, entries of lists counted as one; the demos that hold it take turns."""
    holders: dict[str, dict[str, str]] = {}
    for name in DEMOS:
        for path in walk(demo(name)):
            kind = ".".join(step for step in path.split(".") if not step.isdecimal())
            holders.setdefault(kind, {}).setdefault(name, path)
    names = [sorted(paths)[turn % len(paths)] for turn, paths in enumerate(holders.values())]
    return [(name, paths[name]) for name, paths in zip(names, holders.values(), strict=True)]


PATHS = shared_out()


def with_value(name: str, path: str, value: object) -> dict[str, Any]:
    document = copy.deepcopy(DOCUMENTS[name])
    holder, index = slots(document, path)
    holder[index] = value
    return document


@pytest.mark.parametrize(("name", "path"), PATHS)
def test_both_bounds_of_every_key_hold(name: str, path: str) -> None:
    key = key_of(path)
    for bound, beyond in (
        (key.low, key.low - 0.02 * (key.high - key.low)),
        (key.high, key.high + 0.02 * (key.high - key.low)),
    ):
        inside = format_quantity(exact(bound), key.dimension, "metric", digits=15)
        assert walk(to_project(with_value(name, path, inside), name))[path].nominal == pytest.approx(
            bound, rel=1e-9, abs=1e-12
        )
        if key.dimension is Dimension.TEMPERATURE and beyond <= 0:
            continue
        outside = format_quantity(exact(beyond), key.dimension, "metric", digits=15)
        with pytest.raises(ProjectFault, match="must lie within") as caught:
            to_project(with_value(name, path, outside), name)
        assert len(caught.value.faults) == 1


@pytest.mark.parametrize(
    ("name", "path"),
    # A roof point at an unknown place is left out: see below.
    [(name, path) for name, path in PATHS if not (path.startswith("roof.profile") and path.endswith(".x"))],
)
def test_unknown_is_legal_for_every_key(name: str, path: str) -> None:
    value = walk(to_project(with_value(name, path, "unknown"), name))[path]
    key = key_of(path)
    assert value.provenance is Provenance.UNKNOWN or (path.endswith("force") and value.is_open)
    assert key.low <= value.low < value.high <= key.high
    assert all(map(math.isfinite, (value.low, value.nominal, value.high)))


@pytest.mark.parametrize(("name", "path"), PATHS)
def test_a_roof_with_one_unknown_can_still_be_built(name: str, path: str) -> None:
    assert impossible(to_project(with_value(name, path, "unknown"), name)) == []


def test_a_roof_point_at_an_unknown_place_is_left_out_and_said() -> None:
    project = to_project(with_value("fennimoor", "roof.profile.3.x", "unknown"), "fennimoor")
    assert len(project.roof.profile) == 4
    assert project.taken == ("[roof] profile 4 x is unknown: the point is left out.",)


# --- what is taken for unknown choices ------------------------------------------------------------


def test_an_unknown_choice_is_taken_and_said() -> None:
    project = to_project(with_value("fennimoor", "stop.kind", "don't know"), "fennimoor")
    assert project.stop.kind == "strap"
    assert project.taken == ('[stop] kind is unknown: taken as "strap" (the stop that is easiest to add).',)


def test_an_unknown_linkage_is_taken_from_the_pivots() -> None:
    document = with_value("ottergate", "linkage.kind", "unknown")
    document["linkage"]["end"] = "unknown"
    project = to_project(document, "ottergate")
    assert (project.linkage.kind, project.linkage.end) == ("four-bar", "front")
    rear = to_project(with_value("quellmere", "linkage.end", "unknown"), "quellmere")
    assert rear.linkage.end == "rear"
    assert rear.taken == ('[linkage] end is unknown: taken as "rear" (the pivots lie there).',)


def test_a_force_of_unknown_meaning_is_wider_by_half_the_loop() -> None:
    known = to_project(DOCUMENTS["fennimoor"], "fennimoor").spring[0]
    spring = to_project(with_value("fennimoor", "spring.0.force_is", "unknown"), "fennimoor").spring[0]
    half = known.friction.high / 2
    assert spring.force_is == "middle"
    assert (spring.force.low, spring.force.high) == pytest.approx((known.force.low - half, known.force.high + half))
    assert spring.force.is_open


def test_a_friction_of_unknown_meaning_may_be_twice_as_large() -> None:
    known = to_project(DOCUMENTS["quellmere"], "quellmere").spring[0]
    spring = to_project(with_value("quellmere", "spring.0.friction_is", "unknown"), "quellmere").spring[0]
    assert spring.friction_is == "full loop"
    assert (spring.friction.low, spring.friction.high) == pytest.approx((known.friction.low, 2 * known.friction.high))


def test_an_unknown_friction_leaves_the_force_something_to_push_with() -> None:
    document = with_value("fennimoor", "spring.0.friction", "unknown")
    document["spring"][0].update(force="80 N", force_is="F3")
    project = to_project(document, "fennimoor")
    friction = project.spring[0].friction
    # F1 = F3 - loop: 5 N are left of 80 N.
    assert (friction.low, friction.high) == (20.0, 75.0)
    assert friction.provenance is Provenance.UNKNOWN
    assert project.taken == (
        "[[spring]] 1 friction is unknown: taken as 20 N to 75 N, as the force leaves no room for more.",
    )
    assert impossible(project) == []


def test_an_unknown_force_is_more_than_the_friction_written_for_it() -> None:
    document = with_value("fennimoor", "spring.0.force", "unknown")
    document["spring"][0].update(friction="250 N", friction_is="half loop", force_is="F3")
    project = to_project(document, "fennimoor")
    assert (project.spring[0].force.low, project.spring[0].force.high) == (505.0, 1010.0)
    assert project.taken == ("[[spring]] 1 force is unknown: taken as 505 N to 1010 N, more than the friction.",)
    assert impossible(project) == []


def test_a_force_of_unknown_meaning_is_not_taken_as_what_it_cannot_be() -> None:
    document = with_value("fennimoor", "spring.0.force_is", "unknown")
    document["spring"][0].update(force="100 N", friction="120 N")
    project = to_project(document, "fennimoor")
    # As F1 the middle is 160 N. As F3 F1 would be -20 N; as the middle it is 40 N, 5 N when the middle is 65 N.
    assert (project.spring[0].force.low, project.spring[0].force.high) == (65.0, 160.0)
    assert project.taken[1] == (
        "[[spring]] 1 force_is is unknown: F3 is left out, since the friction would take all of the force or more."
    )
    assert impossible(project) == []


@pytest.mark.parametrize("force", ["20 N", "60 N", "unknown", "4900 N"])
@pytest.mark.parametrize("friction", ["0 N", "12 N", "unknown"])
@pytest.mark.parametrize("force_is", ["F1", "F3", "middle", "unknown"])
@pytest.mark.parametrize("friction_is", ["full loop", "half loop", "unknown"])
def test_unknown_springs_can_always_push(force: str, friction: str, force_is: str, friction_is: str) -> None:
    document = copy.deepcopy(DOCUMENTS["fennimoor"])
    document["spring"][0].update(force=force, friction=friction, force_is=force_is, friction_is=friction_is)
    project = to_project(document, "fennimoor")
    spring = project.spring[0]
    loop = spring.friction.high * (2 if spring.friction_is == "half loop" else 1)
    share = {"F1": 0.0, "middle": 0.5, "F3": 1.0}[spring.force_is]
    if "unknown" in (force, friction):
        assert spring.force.low - share * loop >= 5.0 - 1e-9
        assert impossible(project) == []
    else:
        assert bool(impossible(project)) == (spring.force.low - share * loop < 5.0)


# --- what is taken when a key is left out ---------------------------------------------------------


def test_the_handle_is_the_lip_when_left_out() -> None:
    for name, end in (("fennimoor", "front"), ("quellmere", "rear")):
        document = copy.deepcopy(DOCUMENTS[name])
        del document["handle"]
        project = to_project(document, name)
        rear = -project.shell.overhang_rear.nominal
        lip = rear if end == "front" else rear + project.shell.length.nominal
        assert project.handle.at.x.nominal == pytest.approx(lip)
        assert project.handle.at.x.provenance is Provenance.ASSUMED


def test_left_out_keys_follow_the_key_that_they_name() -> None:
    project = demo("quellmere")
    assert project.requirements.push_to_start == project.person.push_limit
    assert project.spring[0].end_margin == project.requirements.spring_margin
    document = copy.deepcopy(DOCUMENTS["quellmere"])
    del document["requirements"]["headroom_wanted"]
    assert to_project(document, "quellmere").requirements.headroom_wanted == project.person.height


def test_a_doubt_that_follows_from_a_word_is_narrowed_on_both_sides() -> None:
    play = to_project(with_value("fennimoor", "linkage.play", "0.3 mm, assumed"), "fennimoor").linkage.play
    assert (play.low, play.nominal, play.high) == pytest.approx((0.0, 0.0003, 0.0006))
    rim = to_project(with_value("fennimoor", "shell.overhang_rear", "0 mm, measured"), "fennimoor").shell.overhang_rear
    assert (rim.low, rim.high, rim.shape, rim.provenance) == (0.0, 0.0, "exact", Provenance.MEASURED)


def test_importing_the_model_needs_no_numerics() -> None:
    code = (
        "import sys, loftwright.project.file, loftwright.project.schema; "
        "print([m for m in ('numpy', 'scipy', 'tomlkit') if m in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
