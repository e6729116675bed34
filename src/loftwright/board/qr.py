"""A QR code in the letters of a terminal, to be read by the camera of a phone."""

from __future__ import annotations

from itertools import zip_longest

import segno

QUIET = 4
"""Empty modules around the code, which readers need."""
BLACK_ON_WHITE = "\x1b[38;5;16;48;5;231m"
AS_BEFORE = "\x1b[0m"
LETTERS = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
"""By whether the upper and the lower module of a letter are inked."""


def matrix(text: str) -> tuple[tuple[bool, ...], ...]:
    """Return the modules of the code of a text, row by row, True where dark, without the quiet zone."""
    made = segno.make_qr(text, error="l")
    return tuple(tuple(bool(module) for module in row) for row in made.matrix)


def terminal(text: str, *, colour: bool = True) -> str:
    """Return the code of a text as lines for a terminal, two rows of modules a line.

    With `colour` it is black on white whatever colours the terminal has; without, the light modules are inked, which
    is right on a dark terminal.
    """
    rows = matrix(text)
    side = (False,) * QUIET
    empty = (*side, *(False for _ in rows[0]), *side)
    whole = [*[empty] * QUIET, *((*side, *row, *side) for row in rows), *[empty] * QUIET]
    lines = [
        "".join(LETTERS[upper == colour, lower == colour] for upper, lower in zip(above, below, strict=True))
        for above, below in zip_longest(whole[::2], whole[1::2], fillvalue=empty)
    ]
    return "".join(f"{BLACK_ON_WHITE}{line}{AS_BEFORE}\n" if colour else f"{line}\n" for line in lines)
