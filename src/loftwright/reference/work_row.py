"""One row of the standard list of tasks, and how it is written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loftwright.core.work import WaitKind

Flag = Literal["hinge", "arms", "brace", "panel", "lining", "walls", "trial", "bought", "built", "laminate", "springs"]
"""What a roof may have, or how it is made; a task may be there only with some of them, or only without."""

Three = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class StandardTask:
    """One task of the standard list; hours [h] and wait [h] each as least, likeliest and most.

    `after` names what comes before: with "~" in front this task does not wait for its curing or delivery.
    """

    id: str
    name: str
    hours: Three
    after: tuple[str, ...]
    wait: Three = (0.0, 0.0, 0.0)
    wait_is: WaitKind = ""
    helpers: int = 0
    tools: tuple[str, ...] = ()
    when: frozenset[Flag] = frozenset()
    unless: frozenset[Flag] = frozenset()
    roof_open: bool = False
    weather: bool = False
    one_day: str = ""
    note: str = ""


def row(
    name: str,
    words: str,
    hours: Three,
    after: str = "",
    *,
    wait: Three = (0.0, 0.0, 0.0),
    wait_is: WaitKind = "",
    helpers: int = 0,
    tools: str = "",
    when: tuple[Flag, ...] = (),
    unless: tuple[Flag, ...] = (),
    roof_open: bool = False,
    weather: bool = False,
    one_day: str = "",
    note: str = "",
) -> StandardTask:
    """Return one row; `after` are ids parted by spaces, `tools` names parted by commas."""
    return StandardTask(
        id=name,
        name=words,
        hours=hours,
        after=tuple(after.split()),
        wait=wait,
        wait_is=wait_is,
        helpers=helpers,
        tools=tuple(tool.strip() for tool in tools.split(",") if tool.strip()),
        when=frozenset(when),
        unless=frozenset(unless),
        roof_open=roof_open,
        weather=weather,
        one_day=one_day,
        note=note,
    )
