"""Reading, changing and writing: nothing is lost, nothing half written."""

from __future__ import annotations

import difflib
import errno
import os
import re
import stat
import sys
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loftwright.core.errors import NewerFormat, ProjectFault
from loftwright.core.uncertain import Provenance
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import MOST_BYTES, PREVIOUS, edit, edited, folder_projects, loads, read, stamp, write_new
from loftwright.project.model import walk
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.project.reading import to_project


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    path = tmp_path / "roof.toml"
    path.write_text(demo_text("fennimoor"), encoding="utf-8")
    return path


def changed_lines(before: str, after: str) -> list[str]:
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[0] in "+-"]


# --- reading --------------------------------------------------------------------------------------


def test_read_gives_the_project_of_the_text(roof: Path) -> None:
    assert read(roof) == read(str(roof)) == demo("fennimoor")


def test_values_keep_range_and_provenance(roof: Path) -> None:
    edit(roof, {"requirements.push_to_start": "19 kg", "temperatures.cold": "0 C"})
    project = read(roof)
    assert project.shell.mass is not None
    assert (project.shell.mass.low, project.shell.mass.high) == (61, 63)
    assert project.shell.mass.provenance is Provenance.MEASURED
    assert project.spring[0].force.provenance is Provenance.LABEL
    assert project.temperatures.cold.nominal == pytest.approx(273.15)
    assert project.requirements.push_to_start.nominal == pytest.approx(19 * 9.80665)


def test_a_byte_order_mark_and_windows_line_ends_are_read(roof: Path) -> None:
    roof.write_bytes(b"\xef\xbb\xbf" + demo_text("fennimoor").replace("\n", "\r\n").encode())
    assert read(roof) == demo("fennimoor")


def test_unreadable_file_is_one_sentence(roof: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        # Rights do not bind an administrator, so the system's refusal is played.
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    with pytest.raises(ProjectFault, match=r"not readable \(permission denied\)"):
        read(roof)


@pytest.mark.skipif(os.name != "posix", reason="pipes and devices as POSIX has them")
def test_a_pipe_or_a_device_is_refused_at_once(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    for path in (pipe, Path("/dev/zero")):
        for use in (read, stamp, lambda at: edit(at, {"shell.mass": "50 kg"})):
            with pytest.raises(ProjectFault) as caught:
                use(path)
            (fault,) = caught.value.faults
            assert fault.sentence() == (
                f"{path} is a pipe or a device: a project file is wanted; save it as a file and name that."
            )


def test_a_newer_format_is_told_apart() -> None:
    with pytest.raises(NewerFormat) as caught:
        loads("format = 7\nsomething = { quite = 'new' }\n", "roof.toml")
    assert (
        str(caught.value) == "format of roof.toml is 7: this version reads format 1; use a newer version of Loftwright."
    )


JUNK = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.text(max_size=30),
        st.sampled_from(["unknown", "0 mm", "-3 kg", "1e14 m", "nan", "5 C", "1 .. 2 m", "2,5 m, measured", "inf kg"]),
    ),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=8), inner, max_size=3)),
    max_leaves=5,
)


@settings(max_examples=300, deadline=None)
@given(data=st.data(), name=st.sampled_from(sorted(DEMOS)))
def test_anything_in_place_of_a_key_is_a_fault_or_finite(data: st.DataObject, name: str) -> None:
    import tomllib

    document = tomllib.loads(demo_text(name))
    holder = document
    while True:
        keys = sorted(holder) if isinstance(holder, dict) else list(range(len(holder)))
        key = data.draw(st.sampled_from(keys))
        if not isinstance(holder[key], (dict, list)) or not holder[key] or data.draw(st.booleans()):
            break
        holder = holder[key]
    holder[key] = data.draw(JUNK)
    try:
        project = to_project(document, name)
    except ProjectFault as fault:
        sentences = [f.sentence() for f in fault.faults]
    else:
        sentences = ["good"]
        assert all(abs(value.low) < 1e9 and abs(value.high) < 1e9 for value in walk(project).values())
    assert sentences
    assert all(sentence.isprintable() for sentence in sentences)


# --- changing the text ----------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_a_change_to_what_stands_there_leaves_every_byte(name: str) -> None:
    text = demo_text(name)
    assert edited(text, {}) == text
    assert edited(text, {"name": loads(text).name, "opening.length": demo_value(text, "opening", "length")}) == text


def demo_value(text: str, section: str, key: str) -> str:
    import tomllib

    value = tomllib.loads(text)[section][key]
    assert isinstance(value, str)
    return value


def test_one_change_touches_one_line_and_keeps_its_comment() -> None:
    before = demo_text("fennimoor")
    after = edited(before, {"shell.mass": "46 +- 2 kg, measured"})
    assert changed_lines(before, after) == [
        '- mass = "62 +- 1 kg, measured"        # with its lining, on two bathroom scales',
        '+ mass = "46 +- 2 kg, measured"        # with its lining, on two bathroom scales',
    ]


def test_points_lists_words_and_numbers_are_changed_in_place() -> None:
    before = demo_text("quellmere")
    changes: dict[str, str | int | bool] = {
        "spring.0.foot.x": "590 mm",
        "weighing.reading.4.balance": "1.04 m +- 10 mm, measured",
        "settings.units": "imperial",
        "spring.0.per_side": 2,
        "item.0.removable": True,
    }
    after = edited(before, changes)
    project = loads(after)
    assert project.spring[0].foot.x.nominal == 0.59
    assert project.weighing is not None
    assert project.weighing.reading[4].balance is not None
    assert project.weighing.reading[4].balance.nominal == 1.04
    assert project.settings.units == "imperial"
    assert project.item[0].removable
    lines = changed_lines(before, after)
    assert '+   { balance = "1.04 m +- 10 mm, measured" },  # over the pipe' in lines
    (old,) = [line for line in before.splitlines() if line.startswith("foot = ")]
    assert f'+ foot = ["590 mm", {old.split(", ", 1)[1]}' in lines
    assert len(lines) == 4 * 2 + 1


def test_a_roof_point_keeps_the_comments_of_its_list() -> None:
    before = demo_text("fennimoor")
    after = edited(before, {"roof.profile.4.z": "-20 mm, measured"})
    assert changed_lines(before, after) == [
        '-   ["2.6 m", "-15 mm, measured"],     # above the seats',
        '+   ["2.6 m", "-20 mm, measured"],     # above the seats',
    ]


def test_an_added_key_stands_before_the_comment_of_the_next_section() -> None:
    before = demo_text("fennimoor")
    after = edited(before, {"shell.centre_height": "90 mm"})
    lines = after.splitlines()
    place = lines.index('centre_height = "90 mm"')
    assert lines[place - 1] == 'thickness = "34 mm"'
    assert lines[place + 1 : place + 3] == ["", "# The solar panel: bolted on after weighing, and taken off in winter."]
    assert changed_lines(before, after) == ['+ centre_height = "90 mm"']


def test_keys_are_added_to_the_right_one_of_several_tables() -> None:
    after = edited(demo_text("quellmere"), {"item.0.removable": True, "item.1.removable": False})
    assert [item.removable for item in loads(after).item] == [True, False]


def test_a_missing_section_is_added_at_the_end() -> None:
    before = demo_text("ottergate")
    after = edited(before, {"bed.from": "0 in", "bed.to": "30 in", "bed.height": "-14 in"})
    assert after == before + '\n[bed]\nfrom = "0 in"\nto = "30 in"\nheight = "-14 in"\n'
    assert loads(after).bed is not None


def test_a_file_without_a_last_line_end_can_be_added_to() -> None:
    before = demo_text("ottergate").partition("\n# Where brackets could go")[0].rstrip("\n")
    for changes in (
        {"requirements.twist_limit": "3 deg"},
        {"bed.from": "0 in", "bed.to": "30 in", "bed.height": "-14 in"},
    ):
        after = edited(before, changes)
        assert after.startswith(before + "\n")
        loads(after)


def test_half_of_an_unknown_point_can_be_set() -> None:
    text = demo_text("fennimoor").replace('at = ["-60 mm", "10 mm"]', 'at = "unknown"')
    at = loads(edited(text, {"handle.at.x": "-50 mm"})).handle.at
    assert at.x.nominal == -0.05
    assert at.z.provenance is Provenance.UNKNOWN


def test_an_entry_can_be_added_to_a_list() -> None:
    text = new_project(FiveAnswers("hinge front", "1.9 m", "1.2 m"))
    line = {"at": "100 mm", "other": "1.9 m", "reads": "20 kg, measured"}
    thing = {"name": "rack", "mass": "3 kg", "x": "1 m", "z": "0.2 m", "removable": True}
    changes = {
        **{f"weighing.reading.0.{key}": value for key, value in line.items()},
        "weighing.reading.1.balance": "1.0 m",
        **{f"item.0.{key}": value for key, value in thing.items()},
    }
    after = edited(text, changes)
    assert after.startswith(text)
    found = tomllib.loads(after)
    assert found["weighing"]["reading"] == [line, {"balance": "1.0 m"}]
    assert found["item"] == [thing]
    assert len(loads(after).item) == 1
    more = edited(after, {"weighing.reading.2.whole": "40 kg", "item.1.name": "vent"})
    assert tomllib.loads(more)["weighing"]["reading"][2] == {"whole": "40 kg"}
    assert [item["name"] for item in tomllib.loads(more)["item"]] == ["rack", "vent"]


def test_a_further_spring_stands_before_the_comment_of_the_next_section() -> None:
    text = demo_text("fennimoor")
    count = len(tomllib.loads(text)["spring"])
    after = edited(text, {f"spring.{count}.name": "helper", f"spring.{count}.foot.x": "1.4 m"})
    assert [line for line in after.splitlines() if line not in text.splitlines()] == [
        'name = "helper"',
        'foot = ["1.4 m", "unknown"]',
    ]
    added = after.index('name = "helper"')
    following = re.search(r"(?m)(^#.*\n)*^\[(?!\[spring)", after[added:])
    assert following is not None
    assert following[0] in text
    assert tomllib.loads(after)["spring"][:count] == tomllib.loads(text)["spring"]


@pytest.mark.parametrize(
    ("path", "do"),
    [
        ("weighing.reading.1.at", "the next one is weighing.reading.0"),
        ("item.4.mass", "the next one is item.0"),
        ("roof.profile.7.x", "the next one is roof.profile.0"),
    ],
)
def test_an_entry_that_is_not_the_next_is_refused(path: str, do: str) -> None:
    with pytest.raises(ProjectFault, match="counted from 0") as caught:
        edited(new_project(FiveAnswers("hinge front", "1.9 m")), {path: "1 m"})
    assert caught.value.faults[0].do == do


def test_windows_line_ends_stay(roof: Path) -> None:
    roof.write_bytes(demo_text("fennimoor").replace("\n", "\r\n").encode())
    edit(roof, {"shell.mass": "60 kg", "shell.centre_height": "90 mm"})
    data = roof.read_bytes()
    assert b'mass = "60 kg"' in data
    assert data.replace(b"\r\n", b"").count(b"\n") == 0


# --- writing --------------------------------------------------------------------------------------


def test_edit_writes_and_keeps_the_previous_version(roof: Path) -> None:
    before = roof.read_bytes()
    project = edit(roof, {"shell.mass": "50 kg"})
    assert project == read(roof)
    assert project.shell.mass is not None
    assert project.shell.mass.nominal == 50
    assert roof.with_name("roof.toml" + PREVIOUS).read_bytes() == before
    assert sorted(p.name for p in roof.parent.iterdir()) == ["roof.toml", "roof.toml.previous"]


def test_a_change_that_makes_a_fault_writes_nothing(roof: Path) -> None:
    before = roof.read_bytes()
    for changes in ({"shell.mass": "50 m"}, {"opening.length": "3 m"}, {"shell.mas": "50 kg"}, {"settings.draws": 3}):
        with pytest.raises(ProjectFault):
            edit(roof, changes)
    assert roof.read_bytes() == before
    assert [p.name for p in roof.parent.iterdir()] == ["roof.toml"]


def test_no_change_writes_nothing(roof: Path) -> None:
    before = roof.stat().st_mtime_ns
    edit(roof, {"shell.mass": "62 +- 1 kg, measured"})
    assert roof.stat().st_mtime_ns == before
    assert [p.name for p in roof.parent.iterdir()] == ["roof.toml"]


@pytest.mark.parametrize("failing", ["replace", "fsync"])
def test_a_failure_while_writing_leaves_the_file_whole(
    roof: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    before = roof.read_bytes()

    def fail(*_: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(os, failing, fail)
    with pytest.raises(OSError, match="disk full"):
        edit(roof, {"shell.mass": "50 kg"})
    assert roof.read_bytes() == before
    assert [p.name for p in roof.parent.iterdir()] == ["roof.toml"]


@pytest.mark.parametrize("number", [errno.EACCES, errno.EROFS])
def test_a_folder_without_rights_is_said_with_the_file(
    roof: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    before = roof.read_bytes()

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "replace", fail)
    with pytest.raises(ProjectFault, match=r"roof\.toml is in a folder that you may not write to: it was left as"):
        edit(roof, {"shell.mass": "50 kg"})
    assert roof.read_bytes() == before


@pytest.mark.parametrize("changes", [{"shell.mass": "50 m"}, {"shell.mas": "50 kg"}, {"item.9.mass": "3 kg"}])
def test_a_change_that_is_refused_says_that_the_file_stays(roof: Path, changes: dict[str, str]) -> None:
    with pytest.raises(ProjectFault) as caught:
        edit(roof, changes)
    assert caught.value.title == "The change cannot be made, and roof.toml was left as it was (1 fault):"


def test_a_stamp_guards_against_a_change_meanwhile(roof: Path) -> None:
    mark = stamp(roof)
    edit(roof, {"shell.mass": "50 kg"}, stamp=mark)
    with pytest.raises(ProjectFault, match="not as it was read"):
        edit(roof, {"shell.mass": "51 kg"}, stamp=mark)
    assert edit(roof, {"shell.mass": "51 kg"}, stamp=stamp(roof)).shell.mass is not None


@pytest.mark.skipif(sys.platform == "win32", reason="rights and links as POSIX has them")
def test_rights_and_links_stay(roof: Path) -> None:
    roof.chmod(0o640)
    link = roof.with_name("link.toml")
    link.symlink_to(roof.name)
    edit(link, {"shell.mass": "50 kg"})
    assert link.is_symlink()
    assert stat.S_IMODE(roof.stat().st_mode) == 0o640
    assert b'"50 kg"' in roof.read_bytes()


def test_write_new_refuses_a_file_that_is_there_and_keeps_it(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    write_new(path, demo_text("fennimoor"))
    with pytest.raises(ProjectFault, match="nothing was written over"):
        write_new(path, demo_text("ottergate"))
    assert read(path).name == "Fennimoor"
    write_new(path, demo_text("ottergate"), over=True)
    assert read(path).name == "Ottergate"
    assert read(path.with_name("new.toml" + PREVIOUS)).name == "Fennimoor"
    with pytest.raises(ProjectFault):
        write_new(tmp_path / "bad.toml", "format = 1\n")
    assert not (tmp_path / "bad.toml").exists()


def test_write_new_leaves_what_comes_to_lie_there_meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "new.toml"
    real = os.link

    def slow(part: Path, target: Path) -> None:
        path.write_text("somebody else's")
        real(part, target)

    monkeypatch.setattr(os, "link", slow)
    with pytest.raises(ProjectFault, match="nothing was written over"):
        write_new(path, demo_text("fennimoor"))
    assert {p.name: p.read_text() for p in tmp_path.iterdir()} == {"new.toml": "somebody else's"}


@pytest.mark.skipif(sys.platform == "win32", reason="links as POSIX has them")
def test_write_new_does_not_write_through_a_link_to_nothing(tmp_path: Path) -> None:
    link = tmp_path / "new.toml"
    link.symlink_to("elsewhere.toml")
    for over in (False, True):
        with pytest.raises(ProjectFault, match="nothing was written over"):
            write_new(link, demo_text("fennimoor"), over=over)
    assert [p.name for p in tmp_path.iterdir()] == ["new.toml"]


@pytest.mark.skipif(sys.platform == "win32", reason="rights as POSIX has them")
def test_a_new_file_has_the_usual_rights(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.write_text("")
    write_new(tmp_path / "new.toml", demo_text("fennimoor"))
    assert stat.S_IMODE((tmp_path / "new.toml").stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)


def test_a_file_that_may_only_be_read_is_not_replaced(roof: Path) -> None:
    before = roof.read_bytes()
    roof.chmod(0o444)
    for action in (
        lambda: edit(roof, {"shell.mass": "50 kg"}),
        lambda: write_new(roof, demo_text("ottergate"), over=True),
    ):
        with pytest.raises(ProjectFault, match=r"roof\.toml is a file that may only be read: it was left as it was"):
            action()
    assert roof.read_bytes() == before
    assert [p.name for p in roof.parent.iterdir()] == ["roof.toml"]


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EDQUOT])
def test_a_full_disk_is_said(roof: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    before = roof.read_bytes()

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", fail)
    for action in (
        lambda: edit(roof, {"shell.mass": "50 kg"}),
        lambda: write_new(roof.with_name("new.toml"), demo_text("ottergate")),
    ):
        with pytest.raises(ProjectFault, match="there is no room left on its disk and the change was not written"):
            action()
    assert {p.name: p.read_bytes() for p in roof.parent.iterdir()} == {"roof.toml": before}


# --- looking into a folder ------------------------------------------------------------------------


def test_project_files_of_a_folder_are_found_by_name(tmp_path: Path) -> None:
    for name, text in {
        "b.toml": demo_text("fennimoor"),
        "A.TOML": demo_text("quellmere"),
        "faulty.toml": 'format = 9\nname = "newer"\n',
        "text.txt": demo_text("fennimoor"),
        "other.toml": '[project]\nname = "x"\n',
        "no-name.toml": "format = 1\n",
        "odd.toml": 'format = true\nname = "x"\n',
        "broken.toml": 'format = 1\nname = "x"\n[',
        "deep.toml": "a = " + "[" * 5000,
        "large.toml": 'format = 1\nname = "x"\n' + "#" * MOST_BYTES,
    }.items():
        (tmp_path / name).write_text(text)
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe")
    (tmp_path / "folder.toml").mkdir()
    assert [path.name for path in folder_projects(tmp_path)] == ["A.TOML", "b.toml", "faulty.toml"]


def test_a_folder_that_cannot_be_looked_into_holds_none(roof: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert folder_projects(roof.parent / "none") == ()
    assert folder_projects(roof) == ()
    assert folder_projects("nul\0") == ()
    assert folder_projects(str(roof.parent)) == (roof,)

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    assert folder_projects(roof.parent) == ()


@pytest.mark.skipif(os.name != "posix", reason="pipes and links as POSIX has them")
def test_pipes_and_links_to_nothing_are_no_projects(roof: Path) -> None:
    os.mkfifo(roof.with_name("pipe.toml"))
    roof.with_name("link.toml").symlink_to("nowhere")
    assert folder_projects(roof.parent) == (roof,)
