"""Words of which a value is exactly one."""

from __future__ import annotations

from typing import Final, Literal

Units = Literal["metric", "imperial"]
"""System of units in which people read."""

Spelling = Literal["kerb", "curb"]
"""How words are spelled that Britain and America spell unlike; named by how each calls the edge round the opening."""

End = Literal["front", "rear"]
"""The end at which the shell is hinged or its arms stand."""

Edge = Literal["front", "rear", "left", "right"]
"""An edge of the shell: one of its ends or sides."""

SIDES: Final[tuple[Edge, ...]] = ("left", "right")
"""Edges along the van."""

LinkageKind = Literal["hinge", "four-bar", "parallel arms", "scissor", "guides"]

ArmName = Literal["arm a", "arm b"]

BodyName = Literal["van", "shell", "arm a", "arm b"]

Temperature = Literal["cold", "mild", "hot", "sun"]
"""Temperature of a spring; "sun" is one heated under the closed shell."""

Age = Literal["new", "aged"]

ForceIs = Literal["F1", "F3", "middle"]
"""Which force of a gas spring a list gives."""

FrictionIs = Literal["full loop", "half loop"]
"""What a list means by a gas spring's friction."""

ItemKind = Literal["panel", "vent", "lining", "handle", "other"]
"""What rides on the shell."""
