"""What the sheets on fit and strength say of every roof: lists to tick, orders of work, and what is not assessed.

Common practice of the trade, no source; the law of the place comes first.
"""

from __future__ import annotations

from typing import Final

NOT_ASSESSED: Final = (
    "A crash, a roll-over, or what the roof does for those inside in either.",
    "Seat belts and their mounts, air bags and what sets them off.",
    "Type approval, registration and insurance.",
    "Fatigue over years, corrosion of what is not seen, repairs under paint and filler.",
    "Quality of welds, bonds and laminate as made.",
)
DRIVER: Final = (
    "Nobody under the open shell; roof down, latched on every latch, second catch on.",
    "Cloth folded in all round, no strap outside.",
    "Height noted on the dash; look at bridges and branches.",
    "Stop soon after setting off and look at every latch again.",
)
NIGHT: Final = (
    "Look up the gusts of the forecast, not the mean wind; on a hill, a shore or in a gap between houses add to them.",
    "Brace in, straps tight, lines stowed.",
    "Gusts near the figure above: sleep with the roof down.",
    "Snow or rain pools on the shell: lower it and clear it.",
)
MARKING: Final = (
    "Lining out, battery isolated, cables and bows found and marked from inside.",
    "Pencil the middle line of the roof, from two points that are as far from the left as from the right gutter.",
    "Square to it the rear edge of the opening, then the front edge, both by tape from the middle line.",
    "Pencil both long sides; tick off each length of the drawing at both ends.",
    "Measure both diagonals of the sharp corners. They must agree before anything else is drawn.",
    "Lay the corner templates on, draw the arcs, mark the ring's outer edge and the holes for the saw.",
    "Tape over the line against scratches; pencil it again on the tape.",
    "Hold the ring in place from inside, before the cut, and see that it lies on bows and skin.",
)
FITTING: Final = (
    "Cut and deburr the pieces, try them dry from inside, before the hole is cut where bows allow it.",
    "Shore the roof from the floor beside every bow that is cut, until the ring is fast.",
    "Cut out, file the edge smooth, prime bare metal at once; let it dry.",
    "Bed the ring, pull it up with clamps from the corners to the middle of the sides, then rivet or bolt.",
    "Measure the door diagonals again: what they say settles what the ring gives back.",
)
SURVEY: Final = (
    ("Cables and lamps", "Roof loom, interior lamps, aerial, sensors. Pull back, tie away, mark where they run."),
    ("Air bags along the roof", "Curtain bags, their gas generators and clips: keep clear, never drill near them."),
    ("Belt mounts", "Upper anchors and what carries them. Nothing is cut or drilled there."),
    ("Bows", "Where each runs, how it is joined to the skin and at its ends; which ones are cut."),
    ("Side rails and gutters", "Where the closed section begins. The cut stays clear of it."),
    ("Lining, foam, bitumen", "What burns or smokes is taken out round the cut; wet cloth ready."),
    ("Hoses and drains", "Sunroof drains, washer hose, heater or air ducts."),
    ("Rust, filler, old repairs", "Tap and look: thin or filled skin holds no bolt."),
)
CUTTING_CAUTIONS: Final = (
    "Isolate the battery before cutting; unplug what the maker of the van says must be unplugged.",
    "Swarf rusts and blinds: eye protection, gloves, hearing protection, a sheet over seats and glass; clear it away "
    "after every cut.",
    "Support what is cut out: it falls, and it is sharp. Nobody below.",
)
