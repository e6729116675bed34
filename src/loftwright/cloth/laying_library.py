"""Laying by a library of true-shape strip packing, in a process of its own.

The library is compiled code: whatever becomes of it, a crash, a hang or a wrong answer, this program goes on.
"""

from __future__ import annotations

import json
import math
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import numpy as np

from loftwright.cloth import laying_search
from loftwright.cloth.laying_shapes import TURNS, RollPiece, grown, turned
from loftwright.core.motion import Array

Tell = Callable[[float, str], None]
"""Hears how far the work is [1] and what is being done; may raise to stop it."""

GRACE: Final = 5.0
"""How long the library may overrun its time before its process is ended [s]."""
_LEAST = 5e-6
"""Growth that covers the library's single precision [m]."""
_MM = 1000.0
_TICK = 0.05
PROGRAM: Final = Path(laying_search.__file__)
"""The small program that calls the library."""


def _answer(asked: dict[str, Any], seconds: float, tell: Tell | None, program: Path) -> dict[str, Any] | None:
    """Run the program on `asked`; None where it fails or takes longer than `seconds` and `GRACE`."""
    with tempfile.TemporaryFile() as given, tempfile.TemporaryFile() as said:
        given.write(json.dumps(asked).encode())
        given.seek(0)
        try:
            # -P: the program's own folder is no place to import from.
            process = subprocess.Popen(
                [sys.executable, "-P", str(program)], stdin=given, stdout=said, stderr=subprocess.DEVNULL
            )
        except OSError:
            return None
        begin = time.monotonic()
        try:
            while process.poll() is None:
                spent = time.monotonic() - begin
                if spent > seconds + GRACE:
                    return None
                if tell is not None:
                    tell(min(spent / max(seconds, _TICK), 0.99), "laying the pieces")
                time.sleep(_TICK)
        finally:
            if process.poll() is None:
                process.kill()
            process.wait()
        if process.returncode != 0:
            return None
        said.seek(0)
        try:
            found = json.loads(said.read())
        except ValueError:
            return None
        return found if isinstance(found, dict) else None


def laid_by_library(
    pieces: tuple[RollPiece, ...],
    width: float,
    *,
    gap: float,
    seed: int,
    seconds: float,
    tell: Tell | None = None,
    program: Path = PROGRAM,
) -> tuple[tuple[int, float, Array], ...] | None:
    """Return for each piece laid its index, turn [rad] and outline [m]; None where the library gave no answer.

    width: of the strip [m]; gap: room between two pieces [m]; seconds: time for the search [s], in whole seconds,
    at least one; the process is ended `GRACE` later. What is returned is not yet checked.
    """
    growth = gap / 2.0 + _LEAST
    compress = round(0.2 * seconds)
    asked: dict[str, Any] = {
        "width": (width + 2.0 * growth) * _MM,
        "seed": seed,
        "explore": max(1, round(seconds - compress)),
        "compress": compress,
        "items": [
            {
                "outline": (grown(piece.points, growth) * _MM).tolist(),
                "count": piece.count,
                "turns": None if piece.turns == "free" else [math.degrees(angle) for angle in TURNS[piece.turns]],
            }
            for piece in pieces
        ],
    }
    found = _answer(asked, asked["explore"] + compress, tell, program)
    if found is None:
        return None
    try:
        laid = []
        for index, degrees, x, y in found["placed"]:
            angle = math.radians(degrees) % (2.0 * math.pi)
            shift = np.array([x, y], dtype=np.float64) / _MM - growth
            laid.append((int(index), angle, turned(pieces[int(index)].points, angle) + shift))
    except (KeyError, TypeError, ValueError, IndexError, OverflowError):
        return None
    return tuple(laid)
