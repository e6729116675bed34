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

BraceKind = Literal["bar", "straps", "arm"]
"""What keeps the free end from swaying."""

MetalName = Literal["steel", "aluminium", "stainless"]
"""Metal of a bar, a ring or a skin."""

RingShape = Literal["angle", "square tube", "channel", "flat"]
"""Cross-section of the ring round the opening."""

RingFixing = Literal["rivets", "bolts", "adhesive"]
"""What joins the ring to the roof's skin."""

Lookup = Literal["not looked yet", "none there", "out of the way", "in the way"]
"""What a look behind the lining says of a thing that a saw must not meet."""

JointPlace = Literal[
    "hinge on shell",
    "hinge on van",
    "spring on shell",
    "spring on van",
    "latch on shell",
    "latch on van",
    "brace on shell",
    "brace on van",
]
"""What a joint holds on to which body."""

LayerName = Literal["steel sheet", "aluminium sheet", "steel frame", "aluminium frame", "mat laminate", "plywood"]
"""What the thinnest layer under a bolt is made of."""

SeamRule = Literal["mid corner", "past the corner", "one strip"]
"""Where cloth panels meet: in the middle of each corner, past it along the sides, or at one single place."""

ClothRole = Literal["outer", "lining", "insulation"]
"""Which layer of a wall a cloth is."""

Grain = Literal["along the wall", "up the wall", "either way"]
"""Which way the roll runs in a wall."""

SeamKind = Literal["plain", "lapped", "felled"]
"""How two panels are sewn together."""

EdgeFinish = Literal["plain", "hem", "drip hem", "binding", "staple strip", "track", "zip"]
"""How an edge of a cloth ends; a drip hem is stapled along its line and hangs on below it."""

WindowOpens = Literal["zip", "hook tape", "fixed"]
"""How the layers of a window open."""

PullKind = Literal["none", "cords", "elastic"]
"""What draws the cloth inward: several cords to points inboard, or one elastic all round."""

ShellIs = Literal["bought", "built"]
"""Where the shell comes from."""
