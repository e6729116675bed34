"""What cannot be in the section on lifting arms that are at hand."""

from __future__ import annotations

import math
from collections.abc import Iterator

from loftwright.core.errors import Fault
from loftwright.project.link_sections import Links
from loftwright.project.model import Project
from loftwright.project.possible_springs import said

STEEPEST = math.radians(60)
"""The steepest open shell [rad]."""


def links_faults(project: Project) -> Iterator[Fault]:
    """Yield the faults of [links], in the order of the file."""
    links = project.links
    if links is None:
        return
    yield from _pose(project, links)
    yield from _kept(project, links)
    for one, other in (("van_from", "van_to"), ("shell_from", "shell_to")):
        if (getattr(links, one) is None) != (getattr(links, other) is None):
            missing = one if getattr(links, one) is None else other
            yield Fault(
                f"[links] {missing}", "missing", "a place has two corners", "write it, or take the other corner out"
            )


def _pose(project: Project, links: Links) -> Iterator[Fault]:
    low = links.low_end_rise
    if links.tilt is None and low is None:
        yield Fault("[links] tilt", "missing", "how the open shell slopes", "write tilt or low_end_rise")
    if links.tilt is not None and low is not None:
        yield Fault("[links] tilt", "written", "low_end_rise says it already", "take one of the two out")
    if low is None:
        return
    if low.nominal > links.rise.nominal:
        yield Fault(
            "[links] low_end_rise",
            said(project, low.nominal),
            f"the lip is the end that rises most, by {said(project, links.rise.nominal)}",
            'swap the two and the "end" of [linkage], or correct one',
        )
    elif links.rise.nominal - low.nominal > math.sin(STEEPEST) * project.shell.length.nominal:
        yield Fault(
            "[links] low_end_rise",
            said(project, low.nominal),
            f"a shell {said(project, project.shell.length.nominal)} long cannot stand so steep",
            "write a smaller rise or a larger low_end_rise",
        )


def _kept(project: Project, links: Links) -> Iterator[Fault]:
    if links.keep == "nothing":
        return
    side = links.keep.split()[0]
    link = project.linkage
    if any(getattr(link, f"arm_{arm}_{side}") is None for arm in "ab"):
        yield Fault(
            "[links] keep",
            f'"{links.keep}"',
            f"[linkage] has no arms with pivots on the {side}",
            'write keep = "nothing", or both pivots there',
        )
    for name in (f"{side}_plate", f"{side}_from", f"{side}_to"):
        if getattr(links, name) is not None:
            yield Fault(
                f"[links] {name}",
                "written",
                f"the {side} pivots are kept and lie where [linkage] has them",
                "take it out",
            )
