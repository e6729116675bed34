"""Where the springs of a built roof should go, in words."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from loftwright.answers.hole_words import place
from loftwright.answers.moved_roof import judged_in, looked_apart
from loftwright.answers.proof import Proof
from loftwright.answers.proof_moves import End, JudgedMove
from loftwright.core.views import Fact
from loftwright.core.wording import Wording, hundredths


def move_facts(moves: Sequence[JudgedMove], say: Wording) -> tuple[Fact, ...]:
    """Return every move with its odds, best first."""
    here = next((one for one in moves if one.kind == "stay"), None)
    return () if here is None else tuple(_fact(one, here, say) for one in moves)


def _fact(one: JudgedMove, here: JudgedMove, say: Wording) -> Fact:
    odds = f"{hundredths(one.odds)} of 100"
    if one.kind == "stay":
        return Fact(f"Stay with {one.words}", odds)
    if one.kind == "another hole":
        return Fact(f"Go to {one.words}", odds)
    at = [f"{end} {_place(one, end, say)}" for end in one.new]
    new = f"drill {'a new hole' if len(at) == 1 else 'new holes'}: {' and '.join(at)}" if at else ""
    notes = []
    if one.spring:
        sizes = f"stroke {say.short_length(one.stroke)}, extended {say.short_length(one.extended)}"
        notes.append(f"F1 {say.force(one.force_1)}, {sizes}")
    notes += [f"the {end} {_from(one, here, end, say)} from now" for end in one.new]
    if not one.spring:
        return Fact(new[0].upper() + new[1:], odds, "; ".join(notes))
    then = f"and {new}" if new else f"for {one.words}"
    return Fact(f'Order "{one.spring}" {then}', odds, "; ".join(notes))


def _place(one: JudgedMove, end: End, say: Wording) -> str:
    return place(getattr(one.fit, f"{end}_x"), getattr(one.fit, f"{end}_z"), say)


def _from(one: JudgedMove, here: JudgedMove, end: End, say: Wording) -> str:
    by = [getattr(one.fit, f"{end}_{axis}") - getattr(here.fit, f"{end}_{axis}") for axis in "xz"]
    along = f"{say.short_length(abs(by[0]))} to the {'cab' if by[0] > 0 else 'rear'}"
    return f"{along} and {say.short_length(abs(by[1]))} {'up' if by[1] > 0 else 'down'}"


def moves_note(moves: Sequence[JudgedMove], proof: Proof) -> str:
    """Return how the odds of the moves were found, and how sure they are."""
    if not moves:
        return ""
    count = judged_in(proof).stop
    doubt = max(2.0 * float(np.sqrt(one.odds * (1.0 - one.odds) / count)) for one in moves)
    said = [f"Each judged by every rule in {count} roofs as they are known after the readings"]
    said.append(f"give or take {max(1, hundredths(doubt))} of 100.")
    if len(moves) > 1:
        said.append("What takes more work is named only where it promises clearly more.")
    else:
        said.append("No other hole, new hole or other force of the list promises so much more that the work pays.")
    if not looked_apart(proof) and any(one.kind not in ("stay", "another hole") for one in moves):
        said.append("What is new was looked for in the same roofs, and promises a little too much.")
    if any(one.spring for one in moves):
        said.append("Springs to order are new ones, as far off their list as it allows for.")
    return ", ".join(said[:2]) + "".join(f" {one}" for one in said[2:])
