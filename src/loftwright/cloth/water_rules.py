"""Rules on the lower edge of the cloth: water that stands, splashes, creeps and is blown."""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

_SPLASH = Source(
    "hec-22",
    "running water by equation 4-2, read in public reproductions; over it the splash that the file gives, judgement",
    "handbook",
)

STAPLES: Final = Rule(
    "WATER-1401",
    "Water reaches the staples of the cloth",
    "The staples of the cloth stay above the water",
    "short m",
    "at least",
    "Every staple is a hole: water that reaches the line creeps along the shafts into wood and lining.",
    "Set the staple line higher, make the upstand taller, or park so that water runs away from it.",
    _SPLASH,
)
LAP: Final = Rule(
    "WATER-1402",
    "Wind drives rain up behind the cloth to the staples",
    "The cloth laps down far enough against driven rain",
    "short m",
    "at least",
    "The push of the wind holds up a column of water in the gap behind the lap: 39 mm in a gust of 25 m/s.",
    "Let the cloth hang further down outside the upstand, or press its hem on with a strip.",
    Source("derivation", "height of water that the wind's stagnation pressure holds up", "derivation"),
)
HEM: Final = Rule(
    "WATER-1403",
    "The hem of the cloth hangs in water and soaks it up",
    "The hem of the cloth hangs clear of the water",
    "short m",
    "at least",
    "Cloth that touches wet skin draws water up by its threads, far above the lap.",
    "Shorten the hem or raise the upstand with the staple line.",
    Source("common-practice", "a drip edge 8 mm clear of running water, no source", "common practice"),
)
UPSTAND: Final = Rule(
    "WATER-1404",
    "Water splashes over the edge round the hole",
    "The edge round the hole is higher than water splashes",
    "short m",
    "at least",
    "Drops that hit the skin jump, and running water climbs where it is stopped.",
    "Take a taller angle or add a strip of wood on the ring.",
    _SPLASH,
)
END_LAP: Final = Rule(
    "WATER-1405",
    "The ends of the cloth overlap too little",
    "The ends of the cloth overlap enough",
    "short m",
    "at least",
    "Where two ends meet, wind lifts the upper one and rain runs in at the side.",
    "Let the ends overlap further, the outer one open to the rear, or close them with a strip.",
    Source("common-practice", "50 mm, and no less than driven rain is pushed, no source", "common practice"),
)
