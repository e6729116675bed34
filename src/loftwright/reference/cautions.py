"""What is said wherever someone could be hurt. Common practice; the law of the place comes first."""

from __future__ import annotations

from typing import Final

ALWAYS: Final = (
    "Never work or reach under a shell that gas springs alone hold up: prop it.",
    "Never open, heat or drill a gas spring; it holds gas at about a hundred times the air's pressure.",
    "Cutting the roof can weaken the body in a crash or a roll-over, and touch seat-belt mounts, air bags, type "
    "approval and insurance. A local inspector or engineer decides, not this page.",
    "Nobody under the open shell while driving. Latch it, fit a second catch, and note the new height on the dash.",
    "Keep hands clear of arms, hinges and edges while the roof moves.",
    "Glass-fibre dust and resin vapour harm lungs and skin: mask, gloves, fresh air.",
    "Results aid judgement. They are no licence and no approval.",
)

WOUND: Final = (
    "Coil springs, torsion springs and cords pull hardest with the roof closed and whip when they slip: let them go "
    "slack before you undo a bolt, keep out of their line, and wear eye protection."
)
"""Said wherever a roof has any of them."""

DRILLING: Final = (
    "Before a hole is drilled, know what lies behind the skin: wiring, hoses, air bags, belt mounts. Set a depth stop, "
    "wear eye protection, stand on something that cannot tip, and clear every chip away: it rusts."
)
"""Said wherever holes are marked out."""

BOLTING: Final = (
    "While arms hang on one pin, or bolt holes are tried, props and two helpers hold the shell: arms shear fingers."
)
"""Said where bolt points are proposed."""

STRENGTH: Final = (
    "None of this is a crash or roll-over assessment: a local inspector or engineer decides what may be cut and "
    "fitted.",
    "Isolate the battery before cutting.",
    "Know what lies behind the skin before you cut: wiring, air bags, belt mounts.",
    "Swarf rusts and blinds: eye protection, gloves.",
    "Lower the roof above the gust that is named here; forecasts name the mean wind, gusts are far stronger.",
    "Nobody under the open shell while driving. Latch it, and fit a second catch.",
    "Prop the shell before anyone works or reaches under it.",
)
"""Said wherever fit and strength are judged."""

WALLS: Final = (
    "Check the square on the paper with a steel rule before any cloth is cut, and make one panel in paper first.",
    "Prop the shell while the cloth is fitted: springs alone do not hold it.",
    "Cloth is no fall protection: nobody leans on a wall or a window of cloth.",
    "Keep flames and heaters away from cloth, and a window or vent open when you cook or sleep.",
    "Keep fingers out of the fold while the roof comes down.",
    "Results aid judgement. They are no licence and no approval.",
)
"""Said wherever cloth walls are shown."""

FITTING: Final = (
    "Prop the shell before anyone reaches under it: neither springs nor actuators hold it for a person.",
    "A powered roof crushes: hold its switch by hand with the roof in sight, keep heads, hands and children away.",
    "A lit panel is always live: cover it before you touch its plugs, part it before the battery, and fuse the "
    "battery's end.",
    "Panels in series, or one above 60 V in the cold, give shocks that can kill: an electrician's work, not yours.",
    "Local rules for wiring in vehicles and a qualified electrician come before every figure here.",
    "What is screwed or glued to a roof can fly: look at its feet before every trip. None of this is a crash "
    "assessment.",
    "Results aid judgement. They are no licence and no approval.",
)
"""Said wherever seal, room, panel, lift and lining are shown."""
