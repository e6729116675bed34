"""What can go wrong with walls that fold: every rule once, with reason, remedy and source."""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

_CHAIN: Final = Source("derivation", "elastic chain lowered between two clamps, docs/theory-walls.md", "derivation")
_CORNER: Final = Source(
    "derivation", "excess cloth of a turned corner, docs/theory-walls.md; crowding by trial", "derivation"
)
_LIMIT: Final = Source("judgement", "a setting of the project file", "judgement")
ORIFICE_SOURCE: Final = Source(
    "klote-smoke-control", "eq 3.4a, orifice equation (read in a public reproduction)", "handbook"
)

INWARD: Final = Rule(
    "STOW-1901",
    "The cloth may fall outward and be pinched",
    "The cloth always folds inward",
    "1",
    "at least",
    "Nothing but chance decides which way slack cloth falls, and cloth outside the seal is crushed and lets water in.",
    "Add cords or elastic that pull the middle of this wall inward, a few at each wall, not one loop round the rim.",
    _CHAIN,
)
TIP: Final = Rule(
    "STOW-1902",
    "The fold runs into what is inside",
    "The fold stays clear of what is inside",
    "short m",
    "at least",
    "One fold reaches in by up to half the wall's height and pushes against boards and cabinets that stand there.",
    "Move the board or cabinet back, or hold the cloth at mid-height so that it lies in two shallower folds.",
    _CHAIN,
)
BUNDLE: Final = Rule(
    "STOW-1903",
    "The folded wall is too thick for the room above it",
    "The folded wall has room above it",
    "short m",
    "at most",
    "A bundle higher than its room keeps the shell off its stops and is crushed each time.",
    "Make the room higher, move the latch bar back, or take thinner layers or ones that slip on one another.",
    _CHAIN,
)
CORNER: Final = Rule(
    "STOW-1904",
    "The cloth crowds at the corners and does not go in",
    "The crowded corners have room",
    "short m",
    "at most",
    "At each corner the fold has too much cloth, which piles up two to three times as high as on a straight wall.",
    "Stop the insulation short of the corners, leave it out of corner gussets, or take the lining down first.",
    _CORNER,
)
PUSH: Final = Rule(
    "STOW-1905",
    "The folded wall pushes the shell up against its latches",
    "The folded wall hardly pushes on the shell",
    "N/m",
    "at most",
    "Cloth that is squeezed pushes all round the rim, so that a little on each metre is much to latch.",
    "Make the room higher, or take thinner or more pliant layers.",
    _LIMIT,
)
AIR: Final = Rule(
    "STOW-1906",
    "Trapped air blows the cloth outward as the roof comes down",
    "The air gets out without blowing the cloth outward",
    "Pa",
    "at most",
    "With the doors shut the shell drives out air like a bellows, harder than the cords pull in.",
    "Open a door or a window before lowering, lower more slowly, or let the roof vent blow out.",
    ORIFICE_SOURCE,
)

HANG: Final = Rule(
    "STOW-1907",
    "The folded cloth hangs into what is below",
    "The folded cloth hangs clear of what is below",
    "short m",
    "at most",
    "Past the ring's top the fold hangs into the van, lies on the bed or boards there and is caught by what moves.",
    "Lower the bed board, widen the ring's top so that the cloth lies on it, or hold the cloth at mid-height.",
    _CHAIN,
)

FOLD_RULES: Final = (INWARD, TIP, BUNDLE, CORNER, PUSH, AIR, HANG)
