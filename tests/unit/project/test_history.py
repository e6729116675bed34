"""A project file kept open: every change on disk at once, nobody's work written over, every step taken back."""

from __future__ import annotations

import errno
import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loftwright.core.errors import NewerFormat, ProjectFault
from loftwright.project import history as module
from loftwright.project.demos import DEMOS, demo_text
from loftwright.project.differences import MOST_DIFFERENCES
from loftwright.project.file import PREVIOUS, edit, loads, read, stamp
from loftwright.project.history import MOST_STEPS, History
from loftwright.project.keys import Section, Spot, members
from loftwright.project.model import Project

TEXT = demo_text("fennimoor")
MASS = 'mass = "62 +- 1 kg, measured"        # with its lining, on two bathroom scales'


def with_mass(mass: str) -> str:
    assert TEXT.count(MASS) == 1
    return TEXT.replace(MASS, MASS.replace("62 +- 1 kg, measured", mass))


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    path = tmp_path / "roof.toml"
    path.write_bytes(TEXT.encode())
    return path


@pytest.fixture
def opened(roof: Path) -> History:
    return History.open(roof)


def names(roof: Path) -> list[str]:
    return sorted(path.name for path in roof.parent.iterdir())


def refused(action: Callable[[], object]) -> str:
    with pytest.raises(ProjectFault) as caught:
        action()
    return str(caught.value)


# --- changes, back and forth ----------------------------------------------------------------------


def test_an_opened_file_is_as_it_lies_there(opened: History, roof: Path) -> None:
    assert opened.path == roof
    assert opened.text == TEXT
    assert opened.project == loads(TEXT)
    assert opened.stamp == stamp(roof)
    assert (opened.undoable, opened.redoable) == ("", "")
    assert opened.elsewhere() is None


def test_what_cannot_be_used_is_not_opened(roof: Path) -> None:
    roof.write_text("format = 1\n")
    assert "roof.toml cannot be used as it stands" in refused(lambda: History.open(roof))
    assert "is not there" in refused(lambda: History.open(roof.with_name("none.toml")))
    roof.write_text('format = 7\nname = "x"\n')
    with pytest.raises(NewerFormat):
        History.open(roof)


def test_a_change_is_written_at_once_and_the_version_before_is_kept(opened: History, roof: Path) -> None:
    project = opened.change({"shell.mass": "50 kg"}, "mass of the lid")
    assert roof.read_text() == opened.text == with_mass("50 kg")
    assert project == opened.project == read(roof)
    assert roof.with_name("roof.toml" + PREVIOUS).read_text() == TEXT
    assert opened.stamp == stamp(roof)
    assert opened.undoable == "mass of the lid"
    assert opened.elsewhere() is None
    assert names(roof) == ["roof.toml", "roof.toml.previous"]


def test_undo_and_redo_bring_comments_back(opened: History, roof: Path) -> None:
    opened.remove("item.0", "panel taken out")
    assert "The solar panel: bolted on" not in roof.read_text()
    after = opened.text
    assert opened.undo() == loads(TEXT)
    assert roof.read_text() == TEXT
    assert (opened.undoable, opened.redoable) == ("", "panel taken out")
    opened.redo()
    assert roof.read_text() == after
    assert (opened.undoable, opened.redoable) == ("panel taken out", "")


def test_nothing_to_undo_is_one_sentence(opened: History) -> None:
    assert refused(opened.undo) == "roof.toml is as it was: there is nothing to undo; make a change first."
    assert refused(opened.redo) == "roof.toml is as it was: there is nothing to do again; make a change first."


def test_a_new_change_ends_what_could_be_done_again(opened: History, roof: Path) -> None:
    opened.change({"shell.mass": "50 kg"}, "first")
    opened.undo()
    opened.change({"shell.mass": "51 kg"}, "second")
    assert (opened.undoable, opened.redoable) == ("second", "")
    opened.undo()
    assert roof.read_text() == TEXT


def test_an_equal_change_writes_nothing_and_is_no_step(opened: History, roof: Path) -> None:
    opened.change({"shell.mass": "50 kg"}, "first")
    opened.undo()
    before = roof.stat()
    assert opened.change({"shell.mass": "62 +- 1 kg, measured"}, "nothing") == loads(TEXT)
    assert opened.replace(TEXT, "nothing") == loads(TEXT)
    assert (roof.stat().st_ino, roof.stat().st_mtime_ns) == (before.st_ino, before.st_mtime_ns)
    assert (opened.undoable, opened.redoable) == ("", "first")


def test_a_change_with_faults_leaves_everything(opened: History, roof: Path) -> None:
    opened.change({"shell.mass": "50 kg"}, "first")
    kept = roof.with_name("roof.toml" + PREVIOUS).read_bytes()
    for action in (
        lambda: opened.change({"shell.mass": "50 m"}, "wrong"),
        lambda: opened.change({"shell.mas": "50 kg"}, "wrong"),
        lambda: opened.replace("format = 1\n", "wrong"),
        lambda: opened.replace("no toml", "wrong"),
        lambda: opened.replace(TEXT + "# \ud800\n", "wrong"),
        lambda: opened.replace(TEXT + "#" * 1_000_000, "wrong"),
        lambda: opened.remove("spring.0", "wrong"),
        lambda: opened.remove("shell", "wrong"),
        lambda: opened.remove("spring.7", "wrong"),
        lambda: opened.remove("links", "wrong"),
        lambda: opened.remove("handle.at", "wrong"),
        lambda: opened.remove("", "wrong"),
    ):
        assert refused(action).startswith("The change cannot be made, and roof.toml was left as it was (")
    assert roof.read_text() == opened.text == with_mass("50 kg")
    assert roof.with_name("roof.toml" + PREVIOUS).read_bytes() == kept
    assert opened.project == loads(opened.text)
    assert opened.undoable == "first"


def test_a_whole_text_is_put_in_its_place(opened: History, roof: Path) -> None:
    other = demo_text("quellmere")
    assert opened.replace("\ufeff" + other, "the demo Quellmere") == loads(other)
    assert roof.read_text() == other
    opened.undo()
    assert roof.read_text() == TEXT


def test_small_moves_of_one_thing_are_one_step(opened: History, roof: Path) -> None:
    opened.change({"shell.mass": "50 kg"}, "mass")
    for x in range(3):
        opened.change({"spring.0.foot.x": f"{1500 + x} mm"}, f"foot to {1500 + x}", join="spring.0.foot.x")
    assert opened.undoable == "foot to 1502"
    opened.undo()
    assert roof.read_text() == with_mass("50 kg")
    assert (opened.undoable, opened.redoable) == ("mass", "foot to 1502")
    opened.redo()
    assert '["1502 mm", "-36 mm"]' in roof.read_text()


def test_moves_with_something_between_are_steps_of_their_own(opened: History) -> None:
    def move(x: int, join: str = "foot") -> None:
        opened.change({"spring.0.foot.x": f"{x} mm"}, str(x), join=join)

    move(1500)
    opened.change({"shell.mass": "50 kg"}, "mass")
    move(1501)
    move(1502, "head")
    opened.undo()
    opened.redo()
    move(1503, "head")
    opened.undo()
    move(1504, "head")
    undone = []
    while opened.undoable:
        undone.append(opened.undoable)
        opened.undo()
    assert undone == ["1504", "1502", "1501", "mass", "1500"]


def test_a_move_after_undo_does_not_join_what_was_before(opened: History, roof: Path) -> None:
    opened.change({"shell.mass": "50 kg"}, "first", join="mass")
    opened.change({"person.reach": "2 m"}, "between")
    opened.undo()
    opened.change({"shell.mass": "51 kg"}, "second", join="mass")
    opened.undo()
    assert roof.read_text() == with_mass("50 kg")
    assert opened.undoable == "first"


def test_moves_that_end_where_they_began_leave_no_step(opened: History, roof: Path) -> None:
    opened.change({"shell.mass": "50 kg"}, "away", join="mass")
    opened.change({"shell.mass": "62 +- 1 kg, measured"}, "and back", join="mass")
    assert roof.read_text() == TEXT
    assert opened.undoable == ""


def test_the_oldest_of_many_steps_is_forgotten(opened: History, roof: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert MOST_STEPS >= 100
    monkeypatch.setattr(module, "MOST_STEPS", 3)
    for mass in (50, 51, 52, 53, 54):
        opened.change({"shell.mass": f"{mass} kg"}, str(mass))
    for _ in range(3):
        opened.undo()
    assert opened.undoable == ""
    assert roof.read_text() == with_mass("51 kg")


def test_after_a_new_start_the_file_is_the_last_accepted_state(opened: History, roof: Path) -> None:
    opened.change({"shell.mass": "50 kg"}, "first")
    again = History.open(roof)
    assert (again.project, again.text, again.undoable) == (opened.project, opened.text, "")


def test_a_byte_order_mark_and_windows_line_ends_stay(roof: Path) -> None:
    roof.write_bytes(b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode())
    opened = History.open(roof)
    opened.change({"shell.mass": "50 kg"}, "mass")
    assert roof.read_bytes() == b"\xef\xbb\xbf" + with_mass("50 kg").replace("\n", "\r\n").encode()
    opened.remove("bed", "bed")
    assert roof.read_bytes().replace(b"\r\n", b"").count(b"\n") == 0
    opened.undo()
    opened.undo()
    assert roof.read_bytes() == b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode()


@pytest.mark.skipif(os.name != "posix", reason="links and rights as POSIX has them")
def test_a_link_is_followed_and_rights_stay(roof: Path) -> None:
    link = roof.with_name("link.toml")
    link.symlink_to(roof.name)
    roof.chmod(0o640)
    opened = History.open(link)
    opened.change({"shell.mass": "50 kg"}, "mass")
    assert link.is_symlink()
    assert roof.read_text() == with_mass("50 kg")
    assert [roof.with_name(name).stat().st_mode & 0o777 for name in ("roof.toml", "roof.toml.previous")] == [0o640] * 2


OTHERS = {name: demo_text(name) for name in ("quellmere", "larkenmoor")}

ACTIONS = st.one_of(
    st.tuples(st.just("change"), st.sampled_from(["50 kg", "51 kg", "unknown", "3 m"]), st.sampled_from(["", "mass"])),
    st.tuples(st.just("replace"), st.sampled_from(sorted(OTHERS))),
    st.tuples(st.just("remove"), st.sampled_from(["item.0", "bed", "spring.0.feet.0"])),
    st.tuples(st.just("undo")),
    st.tuples(st.just("redo")),
)


@settings(max_examples=15, deadline=None)
@given(actions=st.lists(ACTIONS, max_size=10))
def test_whatever_is_done_the_file_is_the_text_and_undo_leads_back(
    tmp_path_factory: pytest.TempPathFactory, actions: list[tuple[str, ...]]
) -> None:
    roof = tmp_path_factory.mktemp("roof") / "roof.toml"
    roof.write_bytes(TEXT.encode())
    opened = History.open(roof)
    back: list[str] = []
    forth: list[str] = []
    joins: list[str] = []
    for number, (kind, *rest) in enumerate(actions):
        before = opened.text
        try:
            if kind == "change":
                opened.change({"shell.mass": rest[0]}, f"step {number}", join=rest[1])
            elif kind == "replace":
                opened.replace(OTHERS[rest[0]], f"step {number}")
            elif kind == "remove":
                opened.remove(rest[0], f"step {number}")
            elif kind == "undo":
                opened.undo()
                forth.append(before)
                assert opened.text == back.pop()
                joins.clear()
            else:
                opened.redo()
                back.append(before)
                assert opened.text == forth.pop()
                joins.clear()
        except ProjectFault:
            assert opened.text == before
        if kind in ("change", "replace", "remove") and opened.text != before:
            join = rest[1] if kind == "change" else ""
            if join and joins[-1:] == [join]:
                if back[-1] == opened.text:
                    back.pop()
                    joins.pop()
            else:
                back.append(before)
                joins.append(join)
            forth.clear()
        assert roof.read_bytes() == opened.text.encode()
        assert opened.project == loads(opened.text)
        assert bool(opened.undoable) == bool(back)
        assert bool(opened.redoable) == bool(forth)


# --- trying -----------------------------------------------------------------------------------------


def every_path(table: type[Section], there: Any, prefix: str = "") -> Iterator[str]:
    """Yield the path of every value that a file may hold: in entries that are there and one more."""
    for member in members(table):
        path = f"{prefix}{member.key}"
        inner = there.get(member.key) if isinstance(there, dict) else None
        numbers = range(len(inner or []) + 1) if member.many else [None]
        for number in numbers:
            at = path if number is None else f"{path}.{number}"
            part = inner[number] if inner and number is not None and number < len(inner) else inner
            if isinstance(member.about, Spot):
                yield from (f"{at}.x", f"{at}.z")
            elif member.table is not None:
                yield from every_path(member.table, part, f"{at}.")
            else:
                yield at


def outcome(action: Callable[[], Project]) -> Project | str:
    try:
        return action()
    except ProjectFault as fault:
        return f"{type(fault).__name__}: {fault}"


VALUES: tuple[str | int | bool | None, ...] = (
    "unknown",
    None,
    "1.1 m",
    "12 kg, measured",
    "van",
    True,
    2,
    "half \ud800",
)


@pytest.mark.parametrize("shift", range(2))
@pytest.mark.parametrize("name", DEMOS)
def test_what_is_tried_is_what_a_change_would_make(tmp_path: Path, name: str, shift: int) -> None:
    import tomllib

    text = demo_text(name)
    (tmp_path / "copy").mkdir()
    roof, copy = tmp_path / "roof.toml", tmp_path / "copy" / "roof.toml"
    roof.write_text(text)
    opened = History.open(roof)
    paths = list(every_path(Project, tomllib.loads(text)))
    assert len(paths) > 200
    seen = {True: 0, False: 0}
    for number, path in enumerate(paths[shift::18]):
        changes = {path: VALUES[(number + shift) % len(VALUES)]}
        copy.write_text(text)
        tried = outcome(lambda: opened.tried(changes))  # noqa: B023
        assert tried == outcome(lambda: edit(copy, changes)), changes  # noqa: B023
        seen[isinstance(tried, Project)] += 1
    assert min(seen.values()) > 3
    assert roof.read_text() == opened.text == text


@pytest.mark.parametrize(
    "changes",
    [
        {"spring.0.foot.x": "1.5 m", "spring.0.foot.z": "-30 mm"},
        {"spring.0.feet.0.x": "1.5 m", "spring.0.feet.0.z": "-30 mm", "spring.0.feet.1.x": "1.6 m"},
        {"spring.1.name": "helper", "spring.1.foot.x": "1.4 m"},
        {"handle.at.x": None, "handle.at.z": None},
        {"handle.at.x": None},
        {"handle.at": None},
        {"spring.0.own_speed": None, "weighing.tilt.angle": None, "bed.from": None},
        {"at_hand.0.home_test.plank": None, "at_hand.0.home_test.spring_at": None},
        {"links.van_from.x": "1 m"},
        {"format": 2},
        {"format": 7},
        {"choice.catalogue": "not-there.csv"},
        {"": "1 m"},
        {"shell": "1 m"},
        {"spring": "1 m"},
        {"spring.0": None},
        {"spring.0.foot.y": "1 m"},
        {"spring.99999999999.name": "x"},
        {"spring.-1.name": "x"},
        {"shell.mas": None},
    ],
)
def test_whole_sets_of_changes_are_tried_as_they_would_be_made(
    opened: History, tmp_path: Path, changes: dict[str, str | int | bool | None]
) -> None:
    (tmp_path / "copy").mkdir()
    copy = tmp_path / "copy" / "roof.toml"
    copy.write_text(TEXT)
    assert outcome(lambda: opened.tried(changes)) == outcome(lambda: edit(copy, changes))
    assert opened.text == TEXT
    assert outcome(lambda: opened.tried({})) == loads(TEXT)


def test_a_try_is_not_carried_into_the_next(opened: History) -> None:
    opened.tried({"shell.mass": "50 kg", "spring.0.feet.0.x": "1.5 m"})
    assert opened.tried({"shell.centre_height": "90 mm"}) == loads(
        TEXT.replace('thickness = "34 mm"\n', 'thickness = "34 mm"\ncentre_height = "90 mm"\n')
    )


# --- another program ------------------------------------------------------------------------------

CHANGES: tuple[Callable[[History], Project], ...] = (
    lambda it: it.change({"shell.mass": "55 kg"}, "mine"),
    lambda it: it.replace(demo_text("quellmere"), "mine"),
    lambda it: it.remove("bed", "mine"),
    lambda it: it.undo(),
    lambda it: it.redo(),
)


@pytest.fixture
def midway(opened: History) -> History:
    """A history with something to undo and something to do again."""
    opened.change({"shell.mass": "50 kg"}, "first")
    opened.change({"shell.mass": "51 kg"}, "second")
    opened.undo()
    return opened


@pytest.mark.parametrize("action", CHANGES)
@pytest.mark.parametrize("later", [True, False])
def test_a_file_changed_elsewhere_is_never_written_over(
    midway: History, roof: Path, action: Callable[[History], Project], later: bool
) -> None:
    signs = roof.stat()
    theirs = with_mass("58 kg").encode()
    roof.write_bytes(theirs)
    if not later:
        # Even within the same tick of the disk's clock, with the same size.
        os.utime(roof, ns=(signs.st_atime_ns, signs.st_mtime_ns))
        assert len(theirs) == signs.st_size
    said = refused(lambda: action(midway))
    assert said == (
        "roof.toml is not as it was read: it was changed in another program and your change was not made; "
        "take the file as it is now, or keep this version."
    )
    assert roof.read_bytes() == theirs
    assert midway.text == with_mass("50 kg")
    assert (midway.undoable, midway.redoable) == ("first", "second")
    found = midway.elsewhere()
    assert found is not None
    assert found.kind == "changed"
    assert found.said == "roof.toml was changed in another program: 1 value differs."
    assert found.differences == (("shell.mass", "50 kg", "58 kg"),)
    assert found.faults == ()


@pytest.mark.parametrize("action", CHANGES)
def test_a_change_at_the_last_moment_is_not_written_over(
    midway: History, roof: Path, monkeypatch: pytest.MonkeyPatch, action: Callable[[History], Project]
) -> None:
    theirs = with_mass("58 kg").encode()
    real = os.fsync
    kept = roof.with_name("roof.toml" + PREVIOUS).read_bytes()

    def slow(handle: int) -> None:
        real(handle)
        roof.write_bytes(theirs)

    monkeypatch.setattr(os, "fsync", slow)
    assert "roof.toml is not as it was read" in refused(lambda: action(midway))
    assert roof.read_bytes() == theirs
    assert roof.with_name("roof.toml" + PREVIOUS).read_bytes() == kept
    assert names(roof) == ["roof.toml", "roof.toml.previous"]
    assert midway.text == with_mass("50 kg")


def test_a_touched_file_is_no_change(opened: History, roof: Path) -> None:
    os.utime(roof, ns=(1, 1))
    assert opened.elsewhere() is None
    roof.unlink()
    roof.write_bytes(TEXT.encode())
    assert opened.elsewhere() is None
    opened.change({"shell.mass": "50 kg"}, "mass")


def test_a_file_that_looks_the_same_is_not_read(opened: History, roof: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = time.time_ns() - 10 * 10**9
    os.utime(roof, ns=(old, old))
    assert opened.elsewhere() is None
    read_again = []
    monkeypatch.setattr(module, "look", lambda *given: read_again.append(given))
    assert opened.elsewhere() is None
    assert not read_again
    roof.write_bytes(TEXT.encode())
    opened.elsewhere()
    assert len(read_again) == 1


def test_a_changed_file_is_read_once_while_it_stays_so(
    opened: History, roof: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    roof.write_bytes(with_mass("58 kg").encode())
    old = time.time_ns() - 10 * 10**9
    os.utime(roof, ns=(old, old))
    found = opened.elsewhere()
    assert found is not None
    monkeypatch.setattr(module, "look", lambda *_: pytest.fail("it was read again"))
    assert opened.elsewhere() is found


def test_a_change_within_the_same_tick_of_the_clock_is_seen(opened: History, roof: Path) -> None:
    assert opened.elsewhere() is None
    signs = roof.stat()
    roof.write_bytes(with_mass("58 +- 1 kg, measured").encode())
    os.utime(roof, ns=(signs.st_atime_ns, signs.st_mtime_ns))
    assert roof.stat().st_size == signs.st_size
    found = opened.elsewhere()
    assert found is not None
    assert found.kind == "changed"


def test_a_second_change_within_the_same_tick_is_seen(opened: History, roof: Path) -> None:
    now = time.time_ns()
    for mass in ("58 kg", "59 kg"):
        roof.write_bytes(with_mass(mass).encode())
        os.utime(roof, ns=(now, now))
        found = opened.elsewhere()
        assert found is not None
        assert found.differences == (("shell.mass", "62 +- 1 kg, measured", mass),)


def test_theirs_is_taken_as_one_step(midway: History, roof: Path) -> None:
    roof.write_bytes(with_mass("58 kg").encode())
    assert midway.take_theirs() == loads(with_mass("58 kg"))
    assert midway.text == roof.read_text() == with_mass("58 kg")
    assert midway.elsewhere() is None
    assert (midway.undoable, midway.redoable) == ("change made in another program", "")
    midway.undo()
    assert roof.read_text() == with_mass("50 kg")
    midway.redo()
    assert roof.read_text() == with_mass("58 kg")


def test_mine_is_kept_and_theirs_can_be_had_back(midway: History, roof: Path) -> None:
    roof.write_bytes(with_mass("58 kg").encode())
    assert midway.keep_mine() == loads(with_mass("50 kg"))
    assert roof.read_text() == midway.text == with_mass("50 kg")
    assert roof.with_name("roof.toml" + PREVIOUS).read_text() == with_mass("58 kg")
    assert midway.elsewhere() is None
    texts = []
    while midway.undoable:
        midway.undo()
        texts.append(roof.read_text())
    assert texts == [with_mass("58 kg"), with_mass("50 kg"), TEXT]


def test_with_nothing_changed_elsewhere_nothing_is_taken_or_kept(midway: History, roof: Path) -> None:
    before = roof.stat().st_ino
    assert midway.take_theirs() == midway.keep_mine() == loads(with_mass("50 kg"))
    assert roof.stat().st_ino == before
    assert (midway.undoable, midway.redoable) == ("first", "second")


def test_differences_are_values_by_their_paths(opened: History, roof: Path) -> None:
    theirs = TEXT.replace('["1.496 m", "-36 mm"]', '["1.496 m", "-40 mm"]')
    theirs = theirs.replace("removable = true\n\n[[item]]", "\n[[item]]")
    theirs = theirs.replace('camber = "6 mm, measured"\n', "").replace("draws = 200", "draws = 300")
    theirs = theirs.replace(
        'own_speed = "0.2 m/s, label"\n', 'own_speed = "0.2 m/s, label"\nfeet = [["1.5 m", "-36 mm"]]\n'
    )
    last = theirs.rindex("[[tape]]")
    theirs = theirs[:last] + theirs[theirs.index("\n\n", last) :] + '\n[weighing]\nreading = [{ whole = "62 kg" }]\n'
    roof.write_text(theirs)
    found = opened.elsewhere()
    assert found is not None
    expected = {
        ("settings.draws", "200", "300"),
        ("roof.camber", "6 mm, measured", ""),
        ("item.0.removable", "true", ""),
        ("spring.0.foot.z", "-36 mm", "-40 mm"),
        ("tape", "5 entries", "4 entries"),
        ("weighing.reading", "", "1 entry"),
        ("spring.0.feet", "", "1 entry"),
    }
    assert found.faults == ()
    assert set(found.differences) == expected
    assert found.said == "roof.toml was changed in another program: 7 values differ."


def test_only_comments_differ(opened: History, roof: Path) -> None:
    roof.write_text(TEXT + "# a word\n")
    found = opened.elsewhere()
    assert found is not None
    assert found.said == (
        "roof.toml was changed in another program: no value differs, only comments or the order of lines."
    )
    assert found.differences == ()


def test_the_list_of_differences_is_short(opened: History, roof: Path) -> None:
    roof.write_text(demo_text("quellmere"))
    found = opened.elsewhere()
    assert found is not None
    assert len(found.differences) == MOST_DIFFERENCES
    assert int(found.said.split()[-3]) > MOST_DIFFERENCES


BROKEN: tuple[tuple[bytes, str], ...] = (
    (with_mass("58 m").encode(), "[shell] mass"),
    (b"format = 1\nname = \n", "line 2 of roof.toml is not readable"),
    (b"", "format"),
    (b"\xff\xfe\x00", "not text in UTF-8"),
)


@pytest.mark.parametrize(("data", "fault"), BROKEN)
def test_a_file_that_cannot_be_used_is_not_taken(midway: History, roof: Path, data: bytes, fault: str) -> None:
    roof.write_bytes(data)
    found = midway.elsewhere()
    assert found is not None
    assert found.kind == "unreadable"
    assert found.said == "roof.toml was changed in another program and cannot be used as it stands."
    assert any(fault in sentence for sentence in found.faults)
    said = refused(midway.take_theirs)
    assert said.splitlines() == [
        "roof.toml on disk cannot be taken, and this version stays as it was:",
        *found.faults,
    ]
    for action in CHANGES:
        assert "roof.toml is not as it was read" in refused(lambda: action(midway))  # noqa: B023
    assert roof.read_bytes() == data
    assert midway.text == with_mass("50 kg")
    midway.keep_mine()
    assert roof.read_text() == with_mass("50 kg")
    assert roof.with_name("roof.toml" + PREVIOUS).read_bytes() == data
    assert (midway.undoable, midway.redoable) == ("first", "second")
    assert midway.elsewhere() is None


def test_what_is_no_file_any_more_is_left_alone(midway: History, roof: Path) -> None:
    roof.unlink()
    roof.mkdir()
    found = midway.elsewhere()
    assert found is not None
    assert found.kind == "unreadable"
    assert "is a folder" in found.faults[0]
    for action in (*CHANGES, lambda it: it.take_theirs(), lambda it: it.keep_mine()):
        refused(lambda: action(midway))  # noqa: B023
    assert roof.is_dir()
    assert midway.text == with_mass("50 kg")


def test_a_file_too_large_is_left_alone(midway: History, roof: Path) -> None:
    data = b"#" * 1_000_001
    roof.write_bytes(data)
    assert "cannot be kept beside it" in refused(midway.keep_mine)
    assert roof.read_bytes() == data


def test_a_deleted_file_is_written_again_only_when_asked(midway: History, roof: Path) -> None:
    roof.unlink()
    found = midway.elsewhere()
    assert found is not None
    assert (found.kind, found.said) == ("gone", "roof.toml is no longer there: it was deleted or moved.")
    for action in CHANGES:
        assert refused(lambda: action(midway)) == (  # noqa: B023
            "roof.toml is no longer there: it was deleted or moved and nothing was changed; "
            "put it back, or keep this version, which writes it again."
        )
    assert "there is nothing to take" in refused(midway.take_theirs)
    assert not roof.exists()
    assert midway.keep_mine() == loads(with_mass("50 kg"))
    assert roof.read_text() == midway.text == with_mass("50 kg")
    assert midway.elsewhere() is None
    assert (midway.undoable, midway.redoable) == ("first", "second")
    midway.redo()
    assert roof.read_text() == with_mass("51 kg")


def test_a_folder_that_is_gone_is_said(midway: History, roof: Path) -> None:
    moved = roof.parent.with_name("moved")
    roof.parent.rename(moved)
    found = midway.elsewhere()
    assert found is not None
    assert found.kind == "gone"
    refused(lambda: midway.change({"shell.mass": "55 kg"}, "mine"))
    assert refused(midway.keep_mine) == (
        f"{roof} is not written: its folder {roof.parent} is no longer there; "
        "put the folder back and repeat the change."
    )
    moved.rename(roof.parent)
    assert midway.elsewhere() is None
    midway.redo()


def test_a_file_that_comes_back_at_the_last_moment_is_left(
    midway: History, roof: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    roof.unlink()
    real = os.fsync

    def slow(handle: int) -> None:
        real(handle)
        roof.write_text("theirs")

    monkeypatch.setattr(os, "fsync", slow)
    assert "came back just now" in refused(midway.keep_mine)
    assert roof.read_text() == "theirs"


# --- the disk ---------------------------------------------------------------------------------------

WRITES: tuple[Callable[[History], Project], ...] = (*CHANGES, lambda it: it.keep_mine())


REFUSALS = {
    errno.ENOSPC: "there is no room left on its disk and the change was not written; make room",
    errno.EACCES: "in a folder that you may not write to: it was left as it was",
    errno.EROFS: "in a folder that you may not write to: it was left as it was",
    errno.EIO: "the disk refused it (input/output error)",
}

STEPS = ("open", "write", "fsync", "chmod", "replace")
"""What is done to write a file, twice each: for the version before and for the new one."""


@pytest.mark.parametrize(
    ("action", "step", "nth", "number"),
    [
        *((action, step, nth, errno.ENOSPC) for action in WRITES[::5] for step in STEPS for nth in (1, 2)),
        *((action, "fsync", 2, errno.ENOSPC) for action in WRITES),
        *((WRITES[0], step, 2, number) for step in ("open", "replace") for number in REFUSALS),
    ],
)
def test_whatever_the_disk_refuses_the_file_stays_whole(
    midway: History,
    roof: Path,
    monkeypatch: pytest.MonkeyPatch,
    action: Callable[[History], Project],
    step: str,
    nth: int,
    number: int,
) -> None:
    before = with_mass("50 kg")
    if action is WRITES[-1]:
        before = with_mass("58 kg")
        roof.write_text(before)
    calls = 0

    def failing(real: Callable[..., Any], counts: Callable[..., bool]) -> Callable[..., Any]:
        def call(*given: Any, **more: Any) -> Any:
            nonlocal calls
            if counts(*given):
                calls += 1
                if calls == nth:
                    raise OSError(number, os.strerror(number))
            return real(*given, **more)

        return call

    with monkeypatch.context() as patch:
        if step == "open":
            patch.setattr(os, "open", failing(os.open, lambda _, flags, *__: bool(flags & os.O_CREAT)))
        elif step == "write":
            real = os.fdopen

            def opened(handle: int, mode: str = "r", *given: Any, **more: Any) -> Any:
                file = real(handle, mode, *given, **more)
                return Full(file, failing(file.write, lambda *_: True)) if "w" in mode else file

            patch.setattr(os, "fdopen", opened)
        elif step == "chmod":
            patch.setattr(Path, "chmod", failing(Path.chmod, lambda *_: True))
        else:
            patch.setattr(os, step, failing(getattr(os, step), lambda *_: True))
        assert REFUSALS[number] in refused(lambda: action(midway))
    assert calls == nth
    assert roof.read_text() == before
    assert names(roof) == ["roof.toml", "roof.toml.previous"]
    assert midway.text == with_mass("50 kg")
    assert midway.project == loads(midway.text)
    assert (midway.undoable, midway.redoable) == ("first", "second")
    action(midway)
    assert roof.read_text() == midway.text


class Full:
    """A file on a disk without room: the first bytes are written, then it fails."""

    def __init__(self, file: Any, write: Callable[..., Any]) -> None:
        self.file, self.give = file, write

    def __enter__(self) -> Full:
        return self

    def __exit__(self, *_: object) -> None:
        self.file.close()

    def write(self, data: bytes) -> None:
        self.file.write(data[:10])
        self.file.flush()
        self.give(data[10:])

    def flush(self) -> None:
        self.file.flush()

    def fileno(self) -> int:
        return int(self.file.fileno())


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a device that is always full")
def test_a_full_device_is_said_as_a_full_disk(midway: History, roof: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.open

    def full(path: Any, flags: int, *given: Any) -> int:
        if flags & os.O_CREAT:
            os.close(real(path, flags, *given))
            return real("/dev/full", os.O_WRONLY)
        return real(path, flags, *given)

    monkeypatch.setattr(os, "open", full)
    for action in CHANGES:
        assert "there is no room left on its disk" in refused(lambda: action(midway))  # noqa: B023
    assert roof.read_text() == midway.text == with_mass("50 kg")
    assert names(roof) == ["roof.toml", "roof.toml.previous"]


@pytest.mark.parametrize("action", WRITES)
def test_a_file_that_may_only_be_read_is_not_replaced(
    midway: History, roof: Path, action: Callable[[History], Project]
) -> None:
    before = with_mass("50 kg")
    if action is WRITES[-1]:
        before = with_mass("58 kg")
        roof.write_text(before)
    roof.chmod(0o444)
    assert refused(lambda: action(midway)) == (
        f"{roof} is a file that may only be read: it was left as it was; "
        "change the rights of the file, or use a copy elsewhere."
    )
    assert roof.read_text() == before
    assert midway.text == with_mass("50 kg")
    roof.chmod(0o644)
    action(midway)
    assert roof.read_text() == midway.text


def test_a_file_of_somebody_else_is_not_replaced(midway: History, roof: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Rights do not bind an administrator, so the system's answer is played.
    monkeypatch.setattr(os, "access", lambda path, _: Path(path) != roof)
    assert "a file that may only be read" in refused(midway.undo)
    assert roof.read_text() == with_mass("50 kg")


def test_versions_to_which_undo_leads_are_listed_once(tmp_path: Path) -> None:
    roof = tmp_path / "roof.toml"
    roof.write_text(demo_text("fennimoor"), encoding="utf-8")
    opened = History.open(roof)
    assert opened.versions() == ()
    opened.change({"shell.mass": "50 kg"}, "weighed")
    heavy = opened.text
    opened.change({"shell.mass": "51 kg"}, "weighed again")
    assert [(one.before, one.text) for one in opened.versions()] == [
        ("weighed again", heavy),
        ("", demo_text("fennimoor")),
    ]
    # A content that comes back is one version, and that of now is none.
    opened.change({"shell.mass": "50 kg"}, "back")
    assert [one.before for one in opened.versions()] == ["back", ""]
    assert opened.stamp not in {one.stamp for one in opened.versions()}


def test_only_the_version_that_was_shown_is_taken_or_written_over(midway: History, roof: Path) -> None:
    roof.write_text(with_mass("58 kg"), encoding="utf-8")
    found = midway.elsewhere()
    assert found is not None
    roof.write_text(with_mass("59 kg"), encoding="utf-8")
    for action in (midway.take_theirs, midway.keep_mine):
        assert "changed once more" in refused(lambda action=action: action(found.stamp))
        assert roof.read_text() == with_mass("59 kg")
    roof.unlink()
    assert "changed once more" in refused(lambda: midway.keep_mine(found.stamp))
    gone = midway.elsewhere()
    assert gone is not None
    assert gone.stamp == ""
    midway.keep_mine(gone.stamp)
    assert roof.read_text() == with_mass("50 kg")


def test_versions_are_found_by_their_stamps(opened: History, tmp_path: Path) -> None:
    first, mark = opened.stamp, opened.mark
    opened.change({"shell.mass": "50 kg"}, "mass")
    second = opened.stamp
    assert (opened.text_of(first), opened.text_of(second)) == (TEXT, with_mass("50 kg"))
    opened.undo()
    assert opened.text_of(second) == with_mass("50 kg")
    assert opened.text_of("0") is None
    twin = tmp_path / "folder"
    twin.mkdir()
    (twin / opened.path.name).write_text(TEXT, encoding="utf-8")
    other = History.open(twin / opened.path.name)
    assert opened.mark == mark != other.mark
    assert opened.stamp == other.stamp == first
