"""Rules on the warmth of the walls: water on their inside, and what a heater must make up."""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

DRIPS: Final = Rule(
    "WARM-1801",
    "Water settles on the inside of the wall on a cold night",
    "The inside of the wall stays dry on a cold night",
    "fraction",
    "at most",
    "Where the inner face is colder than the dew point of the air, the breath of sleepers runs down it onto the bed.",
    "Open a vent on each side, add a layer of fleece, or heat without a flame that burns in the room.",
    Source(
        "sonntag-1990", "dew point by the Magnus formula; face by ISO 6946, as written beside the formula", "derivation"
    ),
)
HEATER: Final = Rule(
    "WARM-1802",
    "The heater cannot make up what the walls lose",
    "The heater makes up what the walls lose",
    "1",
    "at most",
    "Single cloth loses many times the heat of an insulated wall, and air exchanged comes on top.",
    "Add a layer of fleece, fold the roof down on the coldest nights, or take a stronger heater.",
    Source("iso-6946", "U times area times difference of temperature; read in public reproductions", "standard"),
)
