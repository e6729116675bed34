"""The ways in which a roof can move, as forms offer them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.core.choices import Edge, LinkageKind
from loftwright.project.model import Project


@dataclass(frozen=True, slots=True)
class Way:
    """A way of moving: its name in forms, what people read, the kind, and the edge that stays low (None: as it is)."""

    name: str
    label: str
    kind: LinkageKind
    end: Edge | None = None


WAYS: Final = (
    Way("hinge front", "Hinged at the front, towards the cab", "hinge", "front"),
    Way("hinge rear", "Hinged at the rear", "hinge", "rear"),
    Way("hinge left", "Hinged along the left side", "hinge", "left"),
    Way("hinge right", "Hinged along the right side", "hinge", "right"),
    Way("four-bar", "Two unlike lifting arms a side", "four-bar"),
    Way("parallel arms", "Two equal lifting arms a side, level", "parallel arms"),
    Way("scissor", "Two crossing arms a side, level", "scissor"),
    Way("guides", "Posts that slide in guides", "guides"),
)
"""All ways of moving, in the order in which forms offer them."""


def way_of(project: Project) -> str:
    """Return the name of the way in which a roof moves."""
    link = project.linkage
    return next(way.name for way in WAYS if way.kind == link.kind and way.end in (None, link.end))
