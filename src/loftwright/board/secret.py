"""The secret of this user, from which the tokens of boards are made.

It survives a restart, so that a tab which is still open comes back. Nobody else may read it.
"""

from __future__ import annotations

import contextlib
import hashlib
import hmac
import os
import secrets
import stat
import sys
from pathlib import Path
from typing import Final

SECRET_BYTES: Final = 32
TOKEN_LETTERS: Final = 32
"""Hexadecimal digits of a token, 128 bits: enough never to be guessed, and a QR code that fits a small terminal."""
FILE: Final = "board-secret"
OTHERS: Final = 0o077
"""Rights of everybody else."""


def state_folder() -> Path:
    """Return where this user's programs keep what they remember."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "loftwright"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "loftwright"
    given = os.environ.get("XDG_STATE_HOME", "")
    return (Path(given) if Path(given).is_absolute() else home / ".local" / "state") / "loftwright"


def secret(folder: Path, *, new: bool = False) -> bytes | None:
    """Return the secret that is kept in a folder, made where there is none or where others may have read it.

    With `new` it is made anew, which ends all tokens of before. None: the folder cannot be used.
    """
    place = folder.joinpath(FILE)
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if os.name == "posix":
            if folder.stat().st_uid != os.geteuid():
                return None
            if stat.S_IMODE(folder.stat().st_mode) & OTHERS:
                folder.chmod(0o700)
        found = None if new else _read(place)
        return found or _make(place)
    except OSError:
        return None


def passing() -> bytes:
    """Return a secret that is kept nowhere."""
    return secrets.token_bytes(SECRET_BYTES)


def token(secret: bytes, folder: Path, port: int) -> str:
    """Return the token of the board of a project's folder on a port."""
    said = f"{folder.resolve()}:{port}".encode("utf-8", "surrogateescape")
    return hmac.new(secret, said, hashlib.sha256).hexdigest()[:TOKEN_LETTERS]


def _read(path: Path) -> bytes | None:
    """Return the secret of a file that is this user's alone, else None."""
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | _BINARY)
    except OSError:
        return None
    with os.fdopen(handle, "rb") as file:
        found = os.fstat(handle)
        if not stat.S_ISREG(found.st_mode):
            return None
        if os.name == "posix" and (found.st_uid != os.geteuid() or found.st_mode & OTHERS):
            return None
        data = file.read(SECRET_BYTES)
    return data if len(data) == SECRET_BYTES else None


def _make(path: Path) -> bytes:
    """Put a new secret at its place in one step. Errors: OSError."""
    made = passing()
    part = path.with_name(f".{path.name}.{secrets.token_hex(6)}.part")
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(made)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, path)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise
    return made


_BINARY: Final = getattr(os, "O_BINARY", 0)
