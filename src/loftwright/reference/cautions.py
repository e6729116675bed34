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
