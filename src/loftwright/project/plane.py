"""The plane in which the shell moves, and which keys of the file hold its sizes there.

Hinged at an end or on arms: the plane along the van, x from the rear edge of the opening towards the cab. Hinged at a
side: the plane across the van as it is seen from behind, x from the left edge of the opening to the right. A shell
hinged at the right then moves as one hinged at the front does, one hinged at the left as one hinged at the rear.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, cast

from loftwright.core.choices import SIDES, Edge, End
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.uncertain import Uncertain
from loftwright.project.model import Project


@dataclass(frozen=True, slots=True)
class Plane:
    """Paths of the sizes in the plane, and words for its two ends.

    `opening`, `shell`: sizes along x; `opening_across`, `shell_across`: sizes across it; `overhang`: how far the rim
    reaches beyond the edge from which x counts; `heights` of the shell from `near`, the end at that edge, to `far`.
    """

    near: Edge
    far: Edge
    opening: str
    opening_across: str
    shell: str
    shell_across: str
    overhang: str
    heights: tuple[str, str, str]

    @property
    def measure(self) -> str:
        """What to do where an x is wrong."""
        where = "towards the cab" if self.far == "front" else "to the right, as seen from behind"
        return f"measure from the {self.near} edge of the opening {where}"

    def said(self, path: str) -> str:
        """Return a key of the plane as messages write it."""
        section, name = path.split(".")
        return f"[{section}] {name}"


LENGTHWISE: Final = Plane(
    near="rear",
    far="front",
    opening="opening.length",
    opening_across="opening.width",
    shell="shell.length",
    shell_across="shell.width",
    overhang="shell.overhang_rear",
    heights=("shell.height_rear", "shell.height_middle", "shell.height_front"),
)
CROSSWISE: Final = Plane(
    near="left",
    far="right",
    opening="opening.width",
    opening_across="opening.length",
    shell="shell.width",
    shell_across="shell.length",
    overhang="shell.overhang_left",
    heights=("shell.height_left", "shell.height_middle", "shell.height_right"),
)

SIDE_NOTES: Final = (
    "The roof is hinged at a side and reckoned in the plane across the van: the outline of shell and roof there is "
    "taken alike from rear to front.",
    'Where "left and right" is said of hinges and springs, those at the rear and at the front are meant.',
)
"""What is taken of a shell hinged at a side."""


def plane_of(project: Project) -> Plane:
    """Return the plane in which the shell of a project moves."""
    return CROSSWISE if project.linkage.end in SIDES else LENGTHWISE


def end_in_plane(project: Project) -> End:
    """Return the end at which the shell stays low, named as for a shell that moves along the van."""
    end = {"left": "rear", "right": "front"}.get(project.linkage.end, project.linkage.end)
    return cast(End, end)


def written(project: Project, path: str) -> Uncertain:
    """Return the quantity of one of the plane's keys."""
    section, name = path.split(".")
    return cast(Uncertain, getattr(getattr(project, section), name))


def size(project: Project, path: str) -> float:
    """Return the nominal value of one of the plane's keys [m]."""
    return written(project, path).nominal


def lengthwise_only(project: Project, what: str) -> None:
    """Refuse what is not made yet for a shell hinged at a side; `what` with its verb, as in "a book is".

    Raises ProjectFault for a project hinged at a side.
    """
    if plane_of(project) is CROSSWISE:
        raise ProjectFault(
            [
                Fault(
                    "[linkage] end",
                    f'"{project.linkage.end}"',
                    f"{what} not made yet for a roof hinged at a side",
                    "ask check, forces, scout and choose about it",
                )
            ]
        )
