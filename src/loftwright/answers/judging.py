"""From judgements of many rows to one check: nominal, odds, or not known yet.

If one assumed or unknown input alone flips the verdict, the answer is not known yet and names the
input with the biggest swing; otherwise it is the nominal verdict, with "N of 200 hold" beside it. What
nobody can measure at home, such as how the wind treats this very roof, widens the odds alone.
"""

from __future__ import annotations

import numpy as np

from loftwright.answers.draws import Rows
from loftwright.core.checks import Check
from loftwright.core.errors import Bug
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.mechanics.rules import POSSIBLE

STRONGEST = 3
"""How many inputs are named beside a check."""


def _margin(judged: Judged, possible: Flags) -> Array:
    """Return the margin of every row; a roof that cannot be put together holds nothing."""
    if judged.value is None or judged.limit is None:
        raise Bug(f"{judged.rule.id}: no margin without value and limit")
    value, limit = (np.broadcast_to(v, possible.size) for v in (judged.value, judged.limit))
    margin = limit - value if judged.rule.sense == "at most" else value - limit
    if judged.rule is POSSIBLE:
        return np.asarray(margin)
    # Worse than any roof that stands, yet a number.
    lost = -1.0 - 10.0 * float(np.abs(margin[possible]).max())
    return np.asarray(np.where(possible, margin, lost))


MISSING = {"bracket_limit": "spring.{index}.bracket_limit", "twist_moment": "shell.twist_moment"}
"""Path in the project file of what a judgement of the movement can lack; others name the path itself."""


def decide(judged: Judged, rows: Rows, possible: Flags) -> Check:
    """Return the one check that the rows of a judgement amount to.

    `possible` [rows] says which rows can be put together at all; the nominal row must be one of them.
    """
    if judged.value is None or judged.limit is None:
        value = None if judged.value is None else float(np.broadcast_to(judged.value, rows.count)[0])
        path = MISSING.get(judged.missing, judged.missing).format(index=judged.index)
        asked = (path,) if path else ()
        return judged.rule.not_known(judged.unknown, value=value, inputs=asked, part=judged.which)
    margin = _margin(judged, possible)
    value, limit = (float(np.broadcast_to(v, rows.count)[0]) for v in (judged.value, judged.limit))
    swing = {path: abs(float(margin[high] - margin[low])) for path, (low, high) in rows.alone.items()}
    strongest = sorted((p for p in swing if swing[p] > 0), key=lambda p: (-swing[p], p))
    inputs = tuple(strongest[:STRONGEST])
    nominal = margin[0] >= 0
    flips = [
        path
        for path in strongest
        if rows.inputs[path].value.is_open
        and not rows.inputs[path].by_nature
        and any((margin[row] >= 0) != nominal for row in rows.alone[path])
    ]
    hold = int(np.count_nonzero(margin[rows.draws] >= 0))
    drawn = rows.draws.stop - rows.draws.start
    holding = hold / drawn
    odds = f"{hold} of {drawn} roofs like yours hold"
    if flips:
        first = rows.inputs[flips[0]]
        return judged.rule.not_known(
            first.measure,
            value=value,
            limit=limit,
            odds=odds,
            inputs=(flips[0], *(p for p in inputs if p != flips[0])),
            part=judged.which,
            holding=holding,
        )
    return judged.rule.judge(value, limit, basis=odds, inputs=inputs, part=judged.which, holding=holding)
