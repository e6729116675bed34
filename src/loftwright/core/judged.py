"""A rule put to many roofs at once, before anyone decides what the draws say together."""

from __future__ import annotations

from dataclasses import dataclass

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
