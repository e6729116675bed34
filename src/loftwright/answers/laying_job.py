"""Laying the pieces on their rolls as work that takes long: what it reads, the work itself, and its answer read again.

Whoever keeps the answer keeps the job's `stamp` with it; `kept_reading` says whether a kept one is of the project as it
is. Everything here is of the planned roof, no draws.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import Any, Final

from loftwright.cloth.laying import checked, lay, too_wide
from loftwright.cloth.laying_library import Tell
from loftwright.cloth.laying_shapes import RollPiece, turned
from loftwright.cloth.metres import split_to_fit, up_the_wall
from loftwright.core.pattern import LaidPiece, Layout, PatternPiece
from loftwright.project.model import Project
from loftwright.project.sewing_sections import Layer
from loftwright.project.stored import stamp_of

SECONDS: Final = 12.0
"""Time of the library's search for each material [s]."""
CLEARANCE: Final = 0.002
"""Room between two pieces on the roll [m]: a scissors' cut."""
SEED: Final = 0
ROLL: Final = (1.5, 0.015)
"""Width and selvedge [m] of a roll where no [[layer]] is written: a common roll."""
SHEETS: Final = ("clear sheet", "insect screen", "curtain")
"""Materials that are no [[layer]]: laid as rectangles, see `walled_metres`."""
_DIGITS: Final = 6
"""Decimals of a metre to which outlines are rounded, so that the same project has the same stamp."""


@dataclass(frozen=True, slots=True)
class RollAsked:
    """The pieces of one material and the usable `width` of its roll [m].

    `layer`: its number in the file from nought, None where no layer is written; `as_cut` the pieces with the wall's
    length along x, `pieces` as they may lie on the roll; `joined`: those wider than the roll, which `pieces` then holds
    as parts to be joined.
    """

    material: str
    layer: int | None
    width: float
    pieces: tuple[RollPiece, ...]
    as_cut: tuple[RollPiece, ...]
    joined: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LayingJob:
    """Everything that the laying reads, as plain numbers: by material its roll's usable width [m] and its pieces."""

    rolls: tuple[tuple[str, float, tuple[RollPiece, ...]], ...]
    seconds: float = SECONDS
    clearance: float = CLEARANCE
    seed: int = SEED

    @property
    def stamp(self) -> str:
        """The mark of what the answer is worked out from."""
        rolls = [[name, width, [asdict(piece) for piece in pieces]] for name, width, pieces in self.rolls]
        return stamp_of(["laying", rolls, self.clearance, self.seed])


def roll_pieces(pieces: tuple[PatternPiece, ...], layer: Layer | None) -> tuple[RollPiece, ...]:
    """Return pieces as they are laid: their outer cut lines [m], and how the cloth of their layer lets them be turned.

    A layer with a way up is not turned at all; one whose grain goes either way, by quarters; others half round.
    """
    turns: Any = "grain"
    if layer is not None:
        turns = "nap" if layer.nap else "quarter" if layer.grain == "either way" else "grain"
    return tuple(
        RollPiece(
            piece.number,
            tuple((round(x, _DIGITS), round(y, _DIGITS)) for x, y in piece.of("cut")[0].flattened()[:-1]),
            piece.count,
            turns,
        )
        for piece in pieces
        if piece.of("cut")
    )


def rolls_of(project: Project, pieces: tuple[PatternPiece, ...]) -> tuple[RollAsked, ...]:
    """Return what is laid on which roll: one for each [[layer]], or one of all cloth where none is written."""
    layers: list[tuple[str, int | None, Layer | None]] = [
        (layer.name, number, layer) for number, layer in enumerate(project.layer)
    ]
    if not layers:
        first = next((piece.material for piece in pieces if piece.material not in SHEETS), "")
        layers = [(first, None, None)]
    found: list[RollAsked] = []
    for name, number, layer in layers:
        mine = [p for p in pieces if p.material == name or (layer is None and p.material not in SHEETS)]
        if any(one.material == name for one in found) or not mine:
            continue
        width, selvedge = ROLL if layer is None else (layer.roll_width.nominal, layer.selvedge.nominal)
        as_cut = roll_pieces(tuple(mine), layer)
        found.append(_asked(name, number, round(width - 2.0 * selvedge, _DIGITS), as_cut, project, layer))
    return tuple(found)


def _asked(
    name: str, number: int | None, width: float, as_cut: tuple[RollPiece, ...], project: Project, layer: Layer | None
) -> RollAsked:
    upward = layer is not None and layer.grain == "up the wall"
    lying = tuple(up_the_wall(piece) for piece in as_cut) if upward else as_cut
    wide = too_wide(lying, width)
    if not wide:
        return RollAsked(name, number, width, lying, as_cut)
    # Only what does not fit is joined out of parts, each with its height along the roll.
    allowance = project.sewing.seam_allowance.nominal
    parts = split_to_fit(tuple(piece for piece in as_cut if piece.number in wide), width, allowance)
    rest = tuple(piece for piece in lying if piece.number not in wide)
    return RollAsked(name, number, width, (*rest, *parts), as_cut, wide)


def laying_job(project: Project) -> LayingJob:
    """Return what the laying reads of a project, its pieces by the functions that the answer on the walls uses.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    # The answer on the walls reads this module, so its pieces are asked for only now.
    from loftwright.answers.walled_pieces import nominal_pieces

    return job_of(project, nominal_pieces(project))


def job_of(project: Project, pieces: tuple[PatternPiece, ...]) -> LayingJob:
    """Return what the laying reads, from pieces that are there already."""
    return LayingJob(tuple((one.material, one.width, one.pieces) for one in rolls_of(project, pieces)))


class _StoppedError(Exception):
    """The work is no longer wanted."""


def work_laying(
    job: LayingJob, tell: Tell | None = None, stopped: Callable[[], bool] | None = None
) -> list[dict[str, Any]] | None:
    """Return for every material its pieces and how they lie, as numbers, texts, lists and tables; None where stopped.

    `tell(share, text)` hears how far it is [1]. Our own repeatable rule is always worked out and stands wherever the
    library gives nothing shorter. A material of which a part fits no roll is left out.
    """
    found: list[dict[str, Any]] = []
    count = max(len(job.rolls), 1)
    for number, (material, width, pieces) in enumerate(job.rolls):

        def hear(share: float, text: str, number: int = number, material: str = material) -> None:
            if stopped is not None and stopped():
                raise _StoppedError
            if tell is not None:
                tell((number + share) / count, f"{material}: {text}")

        try:
            hear(0.0, "laying the pieces")
            layout = lay(
                pieces,
                width,
                seed=job.seed,
                seconds=job.seconds,
                tell=hear,
                clearance=job.clearance,
                material=material,
            )
        except _StoppedError:
            return None
        except ValueError:
            continue
        found.append(_plain(layout, pieces))
    if tell is not None:
        tell(1.0, "laid")
    return found


def _plain(layout: Layout, pieces: tuple[RollPiece, ...]) -> dict[str, Any]:
    return {
        "material": layout.material,
        "width": layout.width,
        "length": layout.length,
        "how": layout.how,
        "pieces": [
            {
                "number": piece.number,
                "outline": [list(point) for point in piece.outline],
                "count": piece.count,
                "turns": piece.turns,
            }
            for piece in pieces
        ],
        "laid": [{"number": laid.number, "turned": laid.turned, "at": _moved(laid, pieces)} for laid in layout.pieces],
    }


def _moved(laid: LaidPiece, pieces: tuple[RollPiece, ...]) -> list[float]:
    """Return how far a laid piece is moved after its turn [m]."""
    piece = next(one for one in pieces if one.number == laid.number)
    first = turned(piece.points, laid.turned)[0]
    return [laid.outline[0][0] - float(first[0]), laid.outline[0][1] - float(first[1])]


def read_laying(answer: Any) -> tuple[Layout, ...]:
    """Return the layouts of an answer as it was kept, each checked anew against the pieces it was worked out from.

    What cannot be read, and every layout with overlapping, missing or wrongly turned pieces, is left out.
    """
    found = []
    for one in answer if isinstance(answer, list) else []:
        try:
            found.append(_read(one))
        except (KeyError, TypeError, ValueError, IndexError, AttributeError, OverflowError):
            continue
    return tuple(found)


def _read(one: dict[str, Any]) -> Layout:
    pieces = tuple(
        RollPiece(
            str(piece["number"]),
            tuple((_finite(x), _finite(y)) for x, y in piece["outline"]),
            int(piece["count"]),
            piece["turns"],
        )
        for piece in one["pieces"]
    )
    named = {piece.number: piece for piece in pieces}
    laid = []
    for at in one["laid"]:
        angle, shift = _finite(at["turned"]), [_finite(part) for part in at["at"]]
        points = turned(named[at["number"]].points, angle)
        outline = tuple((float(x) + shift[0], float(y) + shift[1]) for x, y in points)
        laid.append(LaidPiece(str(at["number"]), outline, angle))
    layout = Layout(str(one["material"]), _finite(one["width"]), _finite(one["length"]), tuple(laid), str(one["how"]))
    return checked(layout, pieces, clearance=CLEARANCE)


def _finite(value: Any) -> float:
    number = float(value)
    if not math.isfinite(number):
        raise ValueError("no number")
    return number
