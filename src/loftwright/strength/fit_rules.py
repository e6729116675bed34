"""What can go wrong in how a shell sits on a roof and a hinge on its packer: every rule once."""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

_SEAT: Final = Source("derivation", "best rigid seat by linear programme, docs/theory-strength.md", "derivation")
_PACKER: Final = Source("derivation", "level plate over the roof's height field, docs/theory-strength.md", "derivation")

GAP_RANGE: Final = Rule(
    "FIT-501",
    "The gap is more uneven than the seal can follow",
    "The seal can follow the gap all round",
    "short m",
    "at most",
    "Where the gap is widest the seal no longer touches, or where it is narrowest the seal is crushed.",
    "Trim the rim to the roof, take a deeper and softer seal, or build the edge up with a shaped strip.",
    _SEAT,
)
SEAL_LOOSE: Final = Rule(
    "FIT-502",
    "The seal does not touch",
    "The seal touches",
    "short m",
    "at most",
    "Rain and dust blow in where a seal is hardly squeezed.",
    "Make the stops lower, put a strip under the seal there, or take a deeper seal.",
    _SEAT,
)
SEAL_CRUSHED: Final = Rule(
    "FIT-503",
    "The seal is crushed",
    "The seal has room",
    "short m",
    "at least",
    "A seal squeezed too far takes a lasting set, holds the roof off its latches and leaks later.",
    "Make the stops higher, trim the rim there, or take a softer seal.",
    _SEAT,
)
TRIM: Final = Rule(
    "FIT-504",
    "More must come off the rim than it can spare",
    "The rim can spare what must come off",
    "short m",
    "at most",
    "A rim cut back too far loses the flange that stiffens it and carries the seal.",
    "Trim only as far as the rim allows and fill the rest with a shaped strip, or take another shell.",
    _SEAT,
)
LAP: Final = Rule(
    "FIT-505",
    "The shell does not reach far enough past the hole",
    "The shell reaches past the hole all round",
    "short m",
    "at least",
    "The rim needs room beyond the hole for upstand, ring and seal.",
    "Make the hole smaller or rounder in the corners, move the shell, or take a larger one.",
    Source(
        "derivation",
        "distance between two rounded rectangles, docs/theory-strength.md; limit by judgement",
        "derivation",
    ),
)
PACKER_THIN: Final = Rule(
    "FIT-506",
    "A packer under a hinge comes out too thin",
    "The packers under the hinges are thick enough",
    "short m",
    "at least",
    "A packer cannot be thinner than nothing, and a thin edge splits.",
    "Set the hinges higher, or further back or forward where the roof lies lower.",
    _PACKER,
)
WEDGE: Final = Rule(
    "FIT-507",
    "A packer is too steep for one block and its bolts",
    "The packers are flat enough for one block",
    "1",
    "at most",
    "Bolts stand askew in the skin by the slope of the wedge; the steepest taper washers made level 14 %.",
    "Make the packer of two blocks with the bolts square to the roof, or move the hinges to where it is flatter.",
    Source("din-435", "square taper washers, taper 14 %; read in a public reproduction", "standard"),
)
ROCKS: Final = Rule(
    "FIT-508",
    "A packer with a flat underside rocks on the curved roof",
    "A packer with a flat underside beds down",
    "short m",
    "at most",
    "A block that touches at a line or in the middle works loose and lets water under.",
    "Shape its underside to the side template, or bed it in a thicker layer of filled resin.",
    _PACKER,
)
AXES: Final = Rule(
    "FIT-509",
    "The hinges must be truer than you can set them",
    "You can set the hinges true enough",
    "short m",
    "at most",
    "Pins out of one line use up their play, then bend their plates each time the roof turns.",
    "Set both on one long straight bar, choose hinges with more play or shorter pins, or set them further apart.",
    Source(
        "derivation", "pin in its bearing against the line through both hinges, docs/theory-strength.md", "derivation"
    ),
)
POINTS: Final = Rule(
    "FIT-510",
    "A measured point stands out of the curve of the others",
    "The measured points make one smooth curve",
    "short m",
    "at most",
    "A dent, a rib or a slip of the tape makes all that is reckoned from it wrong.",
    "Measure that point again, or take more points round it if there is a dent.",
    Source(
        "judgement", "least-squares surface through the points, docs/theory-strength.md; limit a setting", "judgement"
    ),
)
RIM_HEIGHT: Final = Rule(
    "FIT-511",
    "The file's rim height is not that of the fit",
    "The file's rim height is that of the fit",
    "short m",
    "at most",
    "Lip, handle and room are reckoned from the rim height of the file.",
    "Write the rim height of the fit into [shell] rim_height.",
    Source("judgement", "rim of the best seat on its stops, docs/theory-strength.md; limit a setting", "judgement"),
)
HINGE_HEIGHT: Final = Rule(
    "FIT-512",
    "The packers as made put the hinges at another height than the file",
    "The packers as made put the hinges at the file's height",
    "short m",
    "at most",
    "Movement, springs and room are reckoned from the hinge height of the file.",
    "Write the height that the packers give into [linkage] hinge, or make other packers.",
    _PACKER,
)
