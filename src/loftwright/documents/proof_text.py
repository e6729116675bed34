"""What readings on the built roof say, as plain text."""

from __future__ import annotations

from loftwright.core.choice_views import ProofPage
from loftwright.documents.plain_text import Look, as_text, caution_lines, fact_lines, heading

MOST_PRESSING = 5
"""How many cautions a brief page has: those of reading the built roof, and the first of the standing ones."""


def proof_text(page: ProofPage, look: Look, *, brief: bool = False) -> str:
    """Return what `prove` says; `brief` leaves learnt values, the list for the tape and most cautions out."""
    lines = [look.bold(page.name), *look.wrapped(page.subtitle)]
    lines += heading(look, "What the readings say") + look.wrapped(page.verdict)
    lines += heading(look, "Which hole next") + look.wrapped(page.next_hole)
    if page.holes is not None:
        named = [hole for row in page.holes.rows for hole in row]
        said = [f"hole {hole.name}: {hole.words}" for hole in named]
        said += [place.words for place in page.holes.places] if page.holes.both else []
        lines += look.wrapped("; ".join(said) + ".")
    if page.moves:
        lines += heading(look, "Where the springs go, best first") + fact_lines(page.moves, look)
        lines += look.wrapped(page.moves_note)
    if page.rows:
        before, after = page.odds_before, page.odds_after
        then = f", {after} of 100 after them" if page.cleared else ""
        lines += look.wrapped(f"Everything holds: {before} of 100 before the readings{then}.")
        lines += heading(look, "Measured, and expected before any reading")
        for row in page.rows:
            mark = "  STRANGE" if row.strange else ""
            lines += look.wrapped(f"{row.what}{mark}", 2, 0)
            lines += look.wrapped(f"measured {row.measured}, expected {row.expected}, off {row.off}", 2)
    if page.learnt and not brief:
        lines += heading(look, "Learnt; ranges hold 19 of 20") + fact_lines(page.learnt, look)
    lines += heading(look, "Tape") + look.wrapped(page.tape_verdict)
    if not brief:
        lines += fact_lines(page.tape, look)
    lines += caution_lines(page.cautions[:MOST_PRESSING] if brief else page.cautions, look)
    return as_text(lines)
