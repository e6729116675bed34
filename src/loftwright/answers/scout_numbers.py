"""Whether it is worth starting, as a plain dictionary ready for JSON; names and units as in `numbers`."""

from __future__ import annotations

from loftwright.answers.key_figures import Band
from loftwright.answers.numbers import Numbers, check_numbers, head, plain
from loftwright.answers.scout import ScoutNumbers
from loftwright.core.checks import Outcome
from loftwright.reference.cautions import ALWAYS


def scouted(outcome: Outcome[ScoutNumbers]) -> Numbers:
    """Return what `scout` says: the answer, why, the figures, costs and troubles."""
    found = outcome.numbers
    cost = found.cost
    done: Numbers = plain(
        {
            **head(found.found.project),
            "worth_starting": found.worth.value,
            "against": [check.rule.id for check in found.against],
            "troubles": [check.rule.id for check in found.troubles],
            "at_hand": sorted(found.at_hand),
            "scouting": {
                "headroom_won_m": _band(found.headroom_won),
                "standing_height_m": _band(found.standing_height),
                "lip_rise_m": _band(found.rise),
                "standing_length_m": _band(found.floor_length),
                "standing_area_m2": _band(found.floor_area),
                "mass_kg": _band(found.weight),
                "bare_mass_by_area_kg": _band(found.bare_by_area),
                "skin_area_m2": _band(found.skin_area),
                "cloth_area_m2": _band(found.cloth_area),
                "is_weighed": found.is_weighed,
            },
            "cost": {
                "currency": cost.currency,
                "low": found.cost_low,
                "high": found.cost_high,
                "dated": cost.dated,
                "parts": [
                    {"part": row.part, "count": row.count, "unit": row.unit, "low": row.low, "high": row.high}
                    for row in cost.rows
                ],
                "unpriced": list(cost.unpriced),
            },
            "checks": [check_numbers(check) for check in outcome.checks],
            "assumptions": list(outcome.assumptions),
            "cautions": list(ALWAYS),
        }
    )
    return done


def _band(band: Band) -> Numbers:
    return {"nominal": band.nominal, "low": band.low, "high": band.high}
