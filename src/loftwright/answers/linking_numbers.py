"""Where to bolt lifting arms that are at hand, as a plain dictionary ready for JSON: SI units, radians."""

from __future__ import annotations

from typing import Any

from loftwright.answers.linking import LinkNumbers, low_rise
from loftwright.answers.linking_view import links_page
from loftwright.answers.numbers import head
from loftwright.project.linkage_section import ARM_PINS


def linked_numbers(found: LinkNumbers) -> dict[str, Any]:
    """Return everything as a dictionary ready for JSON, in SI units and radians."""
    wanted, best, sifted = found.wanted, found.answers.best, found.answers.sifted
    lows = low_rise(found)
    page = links_page(found)
    return {
        **head(found.project),
        "asked": {
            "arm_a_m": wanted.arm_a,
            "arm_b_m": wanted.arm_b,
            "van_plate_m": wanted.van_plate,
            "shell_plate_m": wanted.shell_plate,
            "rise_m": wanted.rise,
            "tilt_rad": list(wanted.tilt),
            "shift_m": list(wanted.shift),
            "transmission_min_rad": wanted.grip,
        },
        "tried": sifted.tried,
        "left": {
            "arms_long_enough": sifted.reach,
            "pivots_in_place": sifted.in_zone,
            "goes_the_whole_way": sifted.move,
            "keeps_its_grip": sifted.grip,
            "clears": sifted.clear,
        },
        "answers": [
            {
                "number": i + 1,
                **{f"{name}_m": [best.pins[2 * k][i], best.pins[2 * k + 1][i]] for k, name in enumerate(ARM_PINS)},
                "opens_rad": best.opens[i],
                "rise_m": best.rise[i],
                "low_end_rise_m": lows[i],
                "tilt_rad": best.tilt[i],
                "shift_m": best.shift[i],
                "fore_and_aft_m": best.sway[i],
                "transmission_rad": best.grip[i],
                "transmission_at": best.grip_at[i],
                "from_dead_point_rad": best.off_dead[i],
                "rim_gap_m": found.rim[i],
                "edge_gap_m": found.edge[i],
                "arm_gap_m": found.arms[i],
                "arm_head_gap_m": found.head[i],
                "bed_gap_m": None if found.bed is None else found.bed[i],
                "seat_doubt_m": best.seat[i],
                "grade": best.grade[i],
            }
            for i in range(len(best))
        ],
        "why_none": page.none or None,
        "assumptions": list(page.assumptions),
        "cautions": [caution.text for caution in page.cautions],
    }
