"""Names that a builder gave, which no spelling changes."""

from __future__ import annotations

from loftwright.core.spelling import own_words
from loftwright.project.model import Project

NAMED = ("spring", "coil", "torsion", "cord", "item", "zone", "at_hand", "candidate")
"""Lists of the file whose entries have names."""


def own_names(project: Project) -> tuple[str, ...]:
    """Return the names of a project and its parts, as far as another spelling would change them."""
    parts = (part.name for name in NAMED for part in getattr(project, name))
    return own_words([project.name, *parts])
