"""The secret and the tokens made from it: kept for this user alone, the same after a restart, new when asked for."""

from __future__ import annotations

import hashlib
import hmac
import os
import stat
from pathlib import Path

import pytest

from loftwright.board.secret import FILE, passing, secret, state_folder, token

posix = pytest.mark.skipif(os.name != "posix", reason="rights of files are those of Unix")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "state" / "loftwright"


def test_it_survives_a_restart(folder: Path) -> None:
    made = secret(folder)
    assert made is not None
    assert len(made) == 32
    assert secret(folder) == made
    assert [path.name for path in folder.iterdir()] == [FILE]


def test_a_new_one_is_made_when_asked_for(folder: Path) -> None:
    made = secret(folder)
    new = secret(folder, new=True)
    assert new not in (None, made)
    assert secret(folder) == new


@posix
def test_nobody_else_may_read_it(folder: Path) -> None:
    before = os.umask(0)
    try:
        secret(folder)
    finally:
        os.umask(before)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE((folder / FILE).stat().st_mode) == 0o600


@posix
@pytest.mark.parametrize("rights", [0o640, 0o604, 0o620, 0o644])
def test_one_that_others_could_read_or_write_is_made_anew(folder: Path, rights: int) -> None:
    made = secret(folder)
    (folder / FILE).chmod(rights)
    new = secret(folder)
    assert new not in (None, made)
    assert stat.S_IMODE((folder / FILE).stat().st_mode) == 0o600


@posix
def test_a_folder_that_others_could_enter_is_closed(folder: Path) -> None:
    folder.mkdir(parents=True)
    folder.chmod(0o777)
    assert secret(folder) is not None
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


@posix
def test_a_link_is_not_followed(folder: Path, tmp_path: Path) -> None:
    folder.mkdir(parents=True)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.write_bytes(b"x" * 32)
    elsewhere.chmod(0o600)
    (folder / FILE).symlink_to(elsewhere)
    assert secret(folder) not in (None, b"x" * 32)
    assert elsewhere.read_bytes() == b"x" * 32
    assert not (folder / FILE).is_symlink()


def test_half_a_file_is_made_anew(folder: Path) -> None:
    folder.mkdir(parents=True, mode=0o700)
    (folder / FILE).write_bytes(b"short")
    (folder / FILE).chmod(0o600)
    made = secret(folder)
    assert made is not None
    assert len(made) == 32


def test_none_where_nothing_can_be_kept(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder", encoding="utf-8")
    assert secret(tmp_path / "file" / "loftwright") is None
    assert len(passing()) == 32
    assert passing() != passing()


def test_the_token_is_the_keyed_hash_of_folder_and_port(tmp_path: Path) -> None:
    key = bytes(range(32))
    said = f"{tmp_path.resolve()}:8719".encode()
    assert token(key, tmp_path, 8719) == hmac.new(key, said, hashlib.sha256).hexdigest()[:32]
    assert token(key, tmp_path / "below" / "..", 8719) == token(key, tmp_path, 8719)
    others = {token(key, tmp_path, 8720), token(key, tmp_path.parent, 8719), token(bytes(32), tmp_path, 8719)}
    assert len(others | {token(key, tmp_path, 8719)}) == 4


@posix
@pytest.mark.parametrize(
    ("platform", "given", "end"),
    [
        ("linux", "/somewhere/state", "/somewhere/state/loftwright"),
        ("linux", "", "~/.local/state/loftwright"),
        ("linux", "not/absolute", "~/.local/state/loftwright"),
        ("darwin", "", "~/Library/Application Support/loftwright"),
    ],
)
def test_where_it_lies(platform: str, given: str, end: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_STATE_HOME", given)
    monkeypatch.setattr("sys.platform", platform)
    assert str(state_folder()) == end.replace("~", str(tmp_path))


def test_where_it_lies_on_windows(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LOCALAPPDATA", "local")
    monkeypatch.setattr("sys.platform", "win32")
    assert state_folder() == Path("local") / "loftwright"
