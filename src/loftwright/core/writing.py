"""Reading plain files up to a bound, and writing files so that nothing half done is ever left.

What is written stands ready beside its place before the first file is put there.
"""

from __future__ import annotations

import contextlib
import os
import secrets
import stat
from collections.abc import Mapping, Sequence
from pathlib import Path

from loftwright.core.errors import Fault, ProjectFault


def get(path: Path, most: int, wanted: str, otherwise: str = "") -> bytes:
    """Return the bytes of a plain file, at most `most` of them; pipes, devices and folders are not read.

    `wanted` says what is looked for ("a project file"), `otherwise` what to do where it is not there.
    Errors: ProjectFault.
    """
    try:
        _require_plain(path.stat(), path, wanted)
        # Not waiting, and looked at again: between the look and the opening a pipe may have come to lie there.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as file:
            _require_plain(os.fstat(handle), path, wanted)
            data = file.read(most + 1)
    except (FileNotFoundError, NotADirectoryError):
        do = f"check its name{otherwise}"
        raise ProjectFault([Fault(str(path), "not there", f"{wanted} is wanted", do)]) from None
    except OSError as error:
        given = f"not readable ({_why(error)})"
        raise ProjectFault([Fault(str(path), given, f"{wanted} is wanted", "check its rights")]) from None
    if len(data) > most:
        given = f"larger than {most / 1e6:g} MB"
        raise ProjectFault(
            [Fault(path.name, given, f"{wanted} is a short text", "check that you named the right file")]
        )
    return data


def _require_plain(found: os.stat_result, path: Path, wanted: str) -> None:
    if stat.S_ISDIR(found.st_mode):
        raise ProjectFault([Fault(str(path), "a folder", f"{wanted} is wanted", "name the file in it")])
    if not stat.S_ISREG(found.st_mode):
        raise ProjectFault(
            [Fault(str(path), "a pipe or a device", f"{wanted} is wanted", "save it as a file and name that")]
        )


def fit_to_write(targets: Sequence[Path], keep: Sequence[Path] = ()) -> None:
    """Refuse places that cannot be written to; `keep` are files that must not be written over. Errors: ProjectFault."""
    faults = []
    seen: set[Path] = set()
    kept = {path.resolve() for path in keep}
    for target in targets:
        place = target.resolve()
        if place in kept:
            faults.append(
                Fault(str(target), "a file that is read here", "it must not be written over", "choose another name")
            )
        elif place in seen:
            faults.append(Fault(str(target), "named twice", "each paper needs its own file", "choose another name"))
        elif place.is_dir():
            faults.append(Fault(str(target), "a folder", "a file name is wanted", "add a name to it"))
        elif place.exists() and not place.is_file():
            faults.append(Fault(str(target), "no plain file", "a file name is wanted", "choose another name"))
        elif not place.parent.is_dir():
            faults.append(Fault(str(target), "in a folder that is not there", "it cannot be written", "make it first"))
        elif not os.access(place.parent, os.W_OK):
            faults.append(
                Fault(str(target), "in a folder that you may not write to", "it cannot be written", "choose another")
            )
        seen.add(place)
    if faults:
        raise ProjectFault(faults)


def write_all(papers: Mapping[Path, bytes], keep: Sequence[Path] = ()) -> None:
    """Write files, each in one step, after all were written beside their places. Errors: ProjectFault."""
    fit_to_write(tuple(papers), keep)
    ready: list[tuple[Path, Path]] = []
    try:
        for target, data in papers.items():
            try:
                ready.append((_beside(target.resolve(), data, target.resolve()), target))
            except OSError as error:
                raise ProjectFault([_failed(target, error)]) from None
        for part, target in ready:
            try:
                os.replace(part, target.resolve())
            except OSError as error:
                raise ProjectFault([_failed(target, error)]) from None
    finally:
        for part, _ in ready:
            with contextlib.suppress(OSError):
                part.unlink()


def put_kept(path: Path, data: bytes, *, before: bytes, kept: Path) -> os.stat_result | None:
    """Put `data` at `path` and `before`, which lies there now, at `kept`; both get the rights of the file there.

    Both stand ready beside their places before the first is renamed. Returned is what the system says of the new file;
    None where something else than `before` lies at `path` by then: nothing is done in that case.
    Errors: OSError; the file is whole then, old or new, and nothing half done is left.
    """
    parts = []
    try:
        parts.append(_beside(kept, before, path))
        parts.append(_beside(path, data, path))
        found = parts[1].stat()
        if not _holds(path, before):
            return None
        os.replace(parts[0], kept)
        os.replace(parts[1], path)
    finally:
        for part in parts:
            with contextlib.suppress(OSError):
                part.unlink()
    _sync_folder(path.parent)
    return found


def read_only(path: Path) -> bool:
    """Whether a file may not be written: its own rights forbid it to everybody, or to who runs this."""
    try:
        return not path.stat().st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH) or not os.access(path, os.W_OK)
    except OSError:
        return False


def put_new(path: Path, data: bytes) -> None:
    """Put `data` at `path`, where nothing may be yet, not even a link. Errors: FileExistsError, OSError.

    Where the disk knows no second name for a file, it is written in place, and taken away if that fails.
    """
    part = _beside(path, data, None)
    try:
        os.link(part, path)
    except FileExistsError:
        raise
    except OSError:
        _write(path, data, _NEW)
    finally:
        with contextlib.suppress(OSError):
            part.unlink()
    _sync_folder(path.parent)


_NEW = 0o666
"""Rights of a new file, of which the system takes away what this process keeps to itself."""


def _beside(target: Path, data: bytes, like: Path | None) -> Path:
    """Write `data` to a new file beside its place, forced to disk; without `like`, with a new file's usual rights."""
    rights = stat.S_IMODE(like.stat().st_mode) if like is not None and like.exists() else None
    part = target.with_name(f".{target.name}.{secrets.token_hex(6)}.part")
    _write(part, data, _NEW if rights is None else 0o600)
    if rights is not None:
        try:
            part.chmod(rights)
        except BaseException:
            with contextlib.suppress(OSError):
                part.unlink()
            raise
    return part


def _holds(path: Path, data: bytes) -> bool:
    """Whether a plain file lies there with just these bytes."""
    try:
        return get(path, len(data), "") == data
    except ProjectFault:
        return False


def _write(part: Path, data: bytes, rights: int) -> None:
    """Make a file that must not be there yet, forced to disk; nothing is left where that fails."""
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), rights)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise


def _sync_folder(folder: Path) -> None:
    """Force the renaming to disk where the system lets a folder be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _failed(target: Path, error: OSError) -> Fault:
    return Fault(
        str(target), f"not written ({_why(error)})", "the place must be writable", "choose another or make room"
    )


def _why(error: OSError) -> str:
    return (error.strerror or "unknown error").casefold()
