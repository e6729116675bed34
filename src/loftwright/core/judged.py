"""A rule put to many roofs at once, before anyone decides what the draws say together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule
from loftwright.core.motion import Array


@dataclass(frozen=True, slots=True)
class Judged:
    """Value and limit of one rule for every draw, each [draws], in the rule's unit.

    `which` names the part when a rule is put to several. A value or limit of None cannot be
    computed before `unknown` is measured; `missing` is the name of the input that is then wanting
    ("bracket_limit", "twist_moment"), `index` the part it belongs to.
    """

    rule: Rule
    value: Array | None
    limit: Array | None
    which: str = ""
    unknown: str = ""
    missing: str = ""
    index: int = 0


def against(rule: Rule, value: ArrayLike, limit: ArrayLike, which: str = "") -> Judged:
    """Return `value` against `limit`, both in the rule's unit, brought to one shape [...]; `which` names the part."""
    found, allowed = np.broadcast_arrays(np.asarray(value, dtype=np.float64), np.asarray(limit, dtype=np.float64))
    return Judged(rule, np.asarray(found), np.asarray(allowed), which)
