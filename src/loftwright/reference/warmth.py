"""Heat and water vapour: resistances of surfaces, what the layers of a wall conduct, what people breathe out."""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Source

ISO_6946: Final = Source(
    "iso-6946",
    "R = Rsi + sum of d/lambda + Rse, surface resistances Rsi 0.13 (sideways), 0.10 (upward), 0.17 (downward), "
    "Rse 0.04; read in public reproductions",
    "standard",
)
INSIDE: Final = 0.13
"""Resistance of the still air inside a wall, heat flowing sideways [m2 K/W]; `ISO_6946`."""
INSIDE_UP: Final = 0.10
"""The same under a roof, heat flowing upward [m2 K/W]; `ISO_6946`."""
INSIDE_DOWN: Final = 0.17
"""The same over a floor, heat flowing downward [m2 K/W]; `ISO_6946`."""
OUTSIDE: Final = 0.04
"""Resistance of the moving air outside [m2 K/W]; `ISO_6946`."""

# Heat that goes through, W/(m K): typical figures, from memory; fleece and wadding lie between 0.035 and 0.045.
CANVAS: Final = 0.06
"""Woven canvas [W/(m K)]: typical, from memory."""
FLEECE: Final = 0.040
"""Fleece or wadding, dry and not pressed [W/(m K)]: typical, from memory."""
CLEAR_SHEET: Final = 0.17
"""Clear plasticised sheet [W/(m K)]: typical, from memory."""
LAMINATE: Final = 0.20
"""Glass fibre laminate [W/(m K)]: typical, from memory."""
FOAM: Final = 0.035
"""Closed foam [W/(m K)]: typical, from memory."""

MAGNUS: Final = Source(
    "sonntag-1990",
    "Magnus parameters over water 6.112 hPa, 17.62, 243.12 C, for -45 to 60 C; read in two public reproductions",
    "paper",
)
MAGNUS_PRESSURE: Final = 611.2
"""Pressure of saturated vapour over water at 0 C [Pa]; `MAGNUS`."""
MAGNUS_FACTOR: Final = 17.62
"""Factor of the exponent [1]; `MAGNUS`."""
MAGNUS_TEMPERATURE: Final = 243.12
"""Temperature of the exponent [K]; `MAGNUS`."""
FREEZING: Final = 273.15
"""0 C [K]."""
VAPOUR_GAS: Final = 461.5
"""Gas constant of water vapour [J/(kg K)]: 8314.5 / 18.015."""

BREATHED: Final = (0.030, 0.050)
"""Water given off by a sleeping person, least and most [kg/h].

From memory: 0.040 is the figure usual in British practice (BS 5250). A public table of moisture sources gives 40 to
60 g/h for a person sitting (read); the lower end is judgement.
"""
BREATHED_SOURCE: Final = Source(
    "bs-5250", "40 g an hour for a person asleep, from memory; range by judgement", "standard"
)
