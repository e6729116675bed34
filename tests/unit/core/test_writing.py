"""Files are written whole or not at all. Exact constructed cases."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import Any

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.core.writing import fit_to_write, get, put_kept, put_new, read_only, write_all


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


def test_put_kept_puts_both_in_place(tmp_path: Path) -> None:
    path, kept = tmp_path / "a", tmp_path / "a.before"
    path.write_bytes(b"1")
    path.chmod(0o640)
    found = put_kept(path, b"22", before=b"1", kept=kept)
    assert found is not None
    assert os.path.samestat(found, path.stat())
    assert (found.st_size, found.st_mtime_ns) == (2, path.stat().st_mtime_ns)
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"a": b"22", "a.before": b"1"}
    if os.name == "posix":
        assert [stat.S_IMODE(p.stat().st_mode) for p in (path, kept)] == [0o640, 0o640]


@pytest.mark.parametrize("there", [b"2", b"11", b"", None])
def test_put_kept_leaves_what_it_does_not_know(tmp_path: Path, there: bytes | None) -> None:
    path = tmp_path / "a"
    if there is not None:
        path.write_bytes(there)
    assert put_kept(path, b"3", before=b"1", kept=tmp_path / "a.before") is None
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == ({} if there is None else {"a": there})


@pytest.mark.parametrize("failing", ["chmod", "stat"])
def test_rights_that_cannot_be_given_leave_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"1")
    real = getattr(Path, failing)

    def fail(at: Path, *given: Any, **more: Any) -> Any:
        if at.name.endswith(".part"):
            raise OSError(1, "Operation not permitted")
        return real(at, *given, **more)

    monkeypatch.setattr(Path, failing, fail)
    with pytest.raises(OSError, match="not permitted"):
        put_kept(path, b"2", before=b"1", kept=tmp_path / "a.before")
    if failing == "chmod":
        with pytest.raises(ProjectFault):
            write_all({path: b"2"})
    monkeypatch.undo()
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {"a": b"1"}


@pytest.mark.parametrize(("rights", "refused"), [(0o444, True), (0o400, True), (0o644, False), (0o600, False)])
def test_read_only_goes_by_the_rights_of_the_file(tmp_path: Path, rights: int, refused: bool) -> None:
    (tmp_path / "a").write_bytes(b"1")
    (tmp_path / "a").chmod(rights)
    assert read_only(tmp_path / "a") is refused
    assert not read_only(tmp_path / "none")
