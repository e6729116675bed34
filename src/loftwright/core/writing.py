"""Writing files so that nothing half done is ever left: all of them are ready before the first is put in place."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from loftwright.core.errors import Fault, ProjectFault


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


def put(path: Path, data: bytes, *, like: Path | None = None) -> None:
    """Put `data` at `path` in one step: written beside it, forced to disk, then renamed over it.

    It gets the rights of `like` (left out: of the file that is there already). Errors: OSError; nothing is left then.
    """
    part = _beside(path, data, path if like is None else like)
    try:
        os.replace(part, path)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise
    _sync_folder(path.parent)


def _beside(target: Path, data: bytes, like: Path) -> Path:
    """Write `data` to a new file beside its place, forced to disk; without `like`, with a new file's usual rights."""
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if like.exists():
            shutil.copymode(like, part)
        else:
            mask = os.umask(0)
            os.umask(mask)
            part.chmod(0o666 & ~mask)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise
    return part


def _sync_folder(folder: Path) -> None:
    """Force the renaming to disk where the system lets a folder be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _failed(target: Path, error: OSError) -> Fault:
    why = (error.strerror or "unknown error").casefold()
    return Fault(str(target), f"not written ({why})", "the place must be writable", "choose another or make room")
