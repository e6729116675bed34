"""The slow answers on the walls: worked out, kept beside the file, and whether each is of the project as it is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from loftwright.answers.fold_job import FoldJob, fold_job, work_fold
from loftwright.answers.fold_read import read_fold
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptPlace, KeptWalls
from loftwright.answers.laying_job import LayingJob, laying_job, read_laying, work_laying
from loftwright.core.errors import CannotAssemble, ProjectFault
from loftwright.core.pattern import Layout
from loftwright.core.wall_views import Freshness
from loftwright.project.model import Project
from loftwright.project.stored import keep, kept, kept_beside

FOLD: Final = "fold"
LAYING: Final = "laying"
"""Names under which the answers are kept."""


def kept_walls(path: Path | None, project: Project) -> KeptWalls:
    """Return what is kept beside the project file at `path`; nothing where there is no file.

    An answer that cannot be read counts as not there. Only for answers that are there the job of the project is put
    together, to compare stamps; a planned roof that cannot be put together has none that is fresh.
    """
    if path is None:
        return NOTHING_KEPT
    beside = kept_beside(path)
    try:
        state = beside.stat()
    except OSError:
        return NOTHING_KEPT
    fold, fold_stamp, laid, laid_stamp = _read(beside, state.st_mtime_ns, state.st_size)
    return KeptWalls(
        fold,
        _freshness(fold_stamp, project, FOLD) if fold else "none",
        laid,
        _freshness(laid_stamp, project, LAYING) if laid else "none",
    )


@lru_cache(maxsize=4)
def _read(beside: Path, _changed: int, _size: int) -> tuple[tuple[KeptPlace, ...], str, tuple[Layout, ...], str]:
    """Return the kept answers with their stamps; time and size of the file stand for what is in it."""
    places: tuple[KeptPlace, ...] = ()
    laid: tuple[Layout, ...] = ()
    fold, laying = kept(beside, FOLD), kept(beside, LAYING)
    if fold is not None:
        try:
            places = read_fold(fold[1])
        except ValueError:
            places = ()
    if laying is not None:
        laid = read_laying(laying[1])
    return places, "" if fold is None else fold[0], laid, "" if laying is None else laying[0]


def _freshness(stamp: str, project: Project, name: str) -> Freshness:
    return "fresh" if stamp == _stamp(project, name) else "stale"


@lru_cache(maxsize=8)
def _stamp(project: Project, name: str) -> str:
    """Return the stamp of the project's job, empty where it cannot be put together."""
    try:
        return fold_job(project).stamp if name == FOLD else laying_job(project).stamp
    except (CannotAssemble, ProjectFault):
        return ""


def keep_fold(path: Path, job: FoldJob, answer: Any) -> None:
    """Keep the answer of `job` beside the project file at `path`. Errors: ProjectFault where it cannot be written."""
    keep(kept_beside(path), FOLD, job.stamp, answer)


def keep_laying(path: Path, job: LayingJob, answer: Any) -> None:
    """Keep the answer of `job` beside the project file at `path`. Errors: ProjectFault where it cannot be written."""
    keep(kept_beside(path), LAYING, job.stamp, answer)


Tell = Callable[[float, str], None]


def kept_now(
    project: Project,
    path: Path | None,
    *,
    fold: bool,
    lay: bool,
    tell: Tell | None = None,
    stopped: Callable[[], bool] | None = None,
) -> tuple[KeptWalls, bool]:
    """Work out the slow answers that are asked for; return what is kept then, and whether they came to their end.

    Each is kept beside the project file at `path` as soon as it is done, where there is one. `tell(share, text)` hears
    how far it is [1]. Errors: ProjectFault or CannotAssemble.
    """
    told = tell or (lambda _share, _text: None)
    both, found = fold and lay, kept_walls(path, project)
    if fold:
        job = fold_job(project)
        answer = work_fold(job, lambda share, text: told(share * (0.7 if both else 1.0), text), stopped)
        if not answer["complete"]:
            return found, False
        found = replace(found, fold=read_fold(answer), fold_is="fresh")
        if path is not None:
            keep_fold(path, job, answer)
    if lay:
        rolls = laying_job(project)
        laid = work_laying(rolls, lambda share, text: told(0.7 + 0.3 * share if both else share, text), stopped)
        if laid is None:
            return found, False
        found = replace(found, laid=read_laying(laid), laid_is="fresh")
        if path is not None:
            keep_laying(path, rolls, laid)
    return found, True
