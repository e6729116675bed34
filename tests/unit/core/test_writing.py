"""Files are written whole or not at all. Exact constructed cases."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.core.writing import fit_to_write, get, put_new, write_all


def test_all_are_written(tmp_path: Path) -> None:
    write_all({tmp_path / "a": b"1", tmp_path / "b": b"2"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"1", "b": b"2"}


@pytest.mark.parametrize("failing", ["fsync", "replace"])
def test_a_failure_leaves_nothing_half_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str) -> None:
    (tmp_path / "a").write_bytes(b"before")

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, failing, fail)
    with pytest.raises(ProjectFault, match=r"a is not written \(no space left on device\)"):
        write_all({tmp_path / "a": b"1", tmp_path / "b": b"2"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"before"}


def test_the_second_is_ready_before_the_first_is_put_in_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at_once: list[int] = []
    real = os.replace

    def watched(source: Path, target: Path) -> None:
        at_once.append(sum(path.name.endswith(".part") for path in tmp_path.iterdir()))
        real(source, target)

    monkeypatch.setattr(os, "replace", watched)
    write_all({tmp_path / "a": b"1", tmp_path / "b": b"2"})
    assert at_once == [2, 1]


@pytest.mark.skipif(os.name != "posix", reason="rights as POSIX has them")
def test_the_mask_of_the_process_is_never_touched(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # It belongs to every thread: another thread's new file would get the wrong rights meanwhile.
    before = os.umask(0o027)
    try:
        monkeypatch.setattr(os, "umask", lambda _: pytest.fail("the mask was changed"))
        write_all({tmp_path / "a": b"1"})
        put_new(tmp_path / "b", b"2")
    finally:
        monkeypatch.undo()
        os.umask(before)
    assert [stat.S_IMODE((tmp_path / name).stat().st_mode) for name in "ab"] == [0o640, 0o640]


@pytest.mark.parametrize("linked", [True, False])
def test_a_new_file_is_put_only_where_nothing_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, linked: bool) -> None:
    if not linked:

        def refuse(*_: object) -> None:
            raise PermissionError(1, "Operation not permitted")

        # What a disk without second names for a file says.
        monkeypatch.setattr(os, "link", refuse)
    put_new(tmp_path / "a", b"1")
    with pytest.raises(FileExistsError):
        put_new(tmp_path / "a", b"2")
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"1"}


def test_a_file_is_read_up_to_a_bound(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"x" * 1000)
    assert get(path, 1000, "a text") == b"x" * 1000
    with pytest.raises(ProjectFault, match=r"a is larger than 0.000999 MB: a text is a short text"):
        get(path, 999, "a text")


def test_every_place_at_fault_is_said(tmp_path: Path) -> None:
    (tmp_path / "read").touch()
    (tmp_path / "folder").mkdir()
    wanted = [tmp_path / name for name in ("read", "folder", "none/a", "a", "./a")]
    with pytest.raises(ProjectFault) as caught:
        fit_to_write(wanted, keep=[tmp_path / "read"])
    assert [fault.given for fault in caught.value.faults] == [
        "a file that is read here",
        "a folder",
        "in a folder that is not there",
        "named twice",
    ]


@pytest.mark.skipif(os.name != "posix", reason="links and pipes as POSIX has them")
def test_a_link_stays_and_a_pipe_is_refused(tmp_path: Path) -> None:
    (tmp_path / "real").write_bytes(b"0")
    (tmp_path / "link").symlink_to("real")
    write_all({tmp_path / "link": b"1"})
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_bytes() == b"1"
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(ProjectFault, match="no plain file"):
        write_all({tmp_path / "pipe": b"1"})
