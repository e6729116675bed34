"""What can give way when wind blows on the open roof: every rule once, with reason, remedy and source.

None of this is a crash or roll-over assessment.
"""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

_SUPPORTS: Final = Source(
    "derivation", "rigid shell on elastic supports, docs/theory-strength.md; wanted gust by judgement", "derivation"
)

HINGES: Final = Rule(
    "HOLD-701",
    "The hinges give way in the gust",
    "The hinges outlast the gust",
    "m/s",
    "at least",
    "Wind from the side pushes the hinges along their pins and twists their plates.",
    "Set the hinges further apart, take thicker plates with a plate beneath the skin, or brace the free end.",
    _SUPPORTS,
)
ARMS: Final = Rule(
    "HOLD-702",
    "A lifting arm or its bracket gives way in the gust",
    "Lifting arms and brackets outlast the gust",
    "m/s",
    "at least",
    "Flat arms are strong along their line and weak sideways; brackets carry what the arms bring.",
    "Take thicker arms or a wider bracket, or add a brace that takes the sideways force.",
    _SUPPORTS,
)
BRACE: Final = Rule(
    "HOLD-703",
    "The brace gives way in the gust",
    "The brace outlasts the gust",
    "m/s",
    "at least",
    "The brace carries most of the sideways wind at the free end.",
    "Take a thicker bar, set it flatter across, or use one on either side.",
    _SUPPORTS,
)
TOP_STOP: Final = Rule(
    "HOLD-704",
    "The top stop or strap gives way in the gust",
    "The top stop or strap outlasts the gust",
    "m/s",
    "at least",
    "Wind from the open end lifts the shell against whatever ends its travel.",
    "Use two stronger straps, set further from the hinge.",
    _SUPPORTS,
)
SWAY: Final = Rule(
    "HOLD-705",
    "The free end sways too far in the gust",
    "The free end stands still in the gust",
    "m/s",
    "at least",
    "A free end that sways works its hinges loose, wears the cloth and wakes the sleepers.",
    "Brace the free end across, or set the hinges further apart on stiffer plates.",
    Source("common-practice", "well braced roofs stand still in gusts of about 18 m/s", "common practice"),
)
LOOSE: Final = Rule(
    "HOLD-706",
    "Nothing holds the open roof in the gust",
    "Something holds the open roof in the gust",
    "m/s",
    "at least",
    "Straps do not press, stops do not pull and springs give: a wind that lifts or slams may meet no resistance.",
    "Add a strap against lifting and a prop or lock against slamming.",
    Source(
        "derivation", "no set of supports balances the load with small motions, docs/theory-strength.md", "derivation"
    ),
)
STEADIED: Final = Rule(
    "HOLD-707",
    "The brace hardly steadies the free end",
    "The free end stands still with its brace",
    "1",
    "at most",
    "A steep bar, or one with much play, takes little of the sway; a single bar pulls the shell over as wind lifts it.",
    "Lay the bar flatter across, take crossed straps or two bars instead, and take out the play.",
    Source(
        "derivation", "sway with the brace over sway without, docs/theory-strength.md; limit by judgement", "derivation"
    ),
)
