"""The choice of springs as plain numbers ready for JSON: SI units, odds as shares."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loftwright.answers import numbers
from loftwright.answers.choose import Chosen
from loftwright.answers.choose_holes import HoleNumbers
from loftwright.answers.choose_search import Candidate
from loftwright.answers.roof_odds import Fails
from loftwright.answers.views import wording
from loftwright.core.lifting import Fit
from loftwright.core.motion import Array


def choice_numbers(chosen: Chosen) -> numbers.Numbers:
    """Return everything about the choice as a dictionary ready for JSON."""
    found = chosen.found
    return {
        **numbers.head(chosen.project),
        "measure": numbers.gains_numbers(chosen.gains),
        "leads": [{"title": task.how.title, "minutes": task.how.minutes} for task in chosen.leads],
        "odds_after_leads": chosen.together,
        "planned": chosen.planned,
        "planned_fails": _fails(chosen.planned_rest) if chosen.planned is not None else [],
        "best": None if chosen.best is None else _candidate(chosen, chosen.best),
        "others": [_candidate(chosen, one) for one in chosen.others],
        "prop_required": chosen.prop_needed,
        "holes": None if chosen.holes is None else _holes(chosen.holes),
        "ratings": None
        if chosen.ratings is None
        else {
            "odds": chosen.ratings.odds,
            "springs": [
                {"name": name, "force_1_n": float(force), "odds": each, **_mounted(chosen, fit)}
                for name, force, each, fit in zip(
                    chosen.ratings.names,
                    chosen.ratings.force_1,
                    chosen.ratings.each,
                    chosen.ratings.fits,
                    strict=True,
                )
            ],
        },
        "advice": [
            {
                "change": one.words(wording(chosen.project)),
                "sizes": {change.kind.name: size for change, size in one.change},
                "odds": one.odds,
                "frees": one.frees,
            }
            for one in chosen.advice
        ],
        "not_judged": [{"id": rule.id, "part": part} for rule, part in chosen.unjudged],
        "searched": {
            "springs": found.springs,
            "places": found.mounts,
            "scored": found.scored,
            "draws": found.draws,
            "claimed_on": 2 * chosen.draws,
            "stopped": found.stopped,
        },
        "assumptions": list(chosen.said),
    }


def _fails(rest: Sequence[Fails]) -> list[numbers.Numbers]:
    return [{"id": one.rule.id, "part": one.which, "share": one.share} for one in rest]


def _candidate(chosen: Chosen, one: Candidate) -> numbers.Numbers:
    entries, i, fit = chosen.listed.entries, one.fit.entry, one.fit
    price = float(entries.price[i])
    return {
        "name": one.drawn.roof.fitted[0].name,
        "odds": one.odds,
        "fails": _fails(one.rest),
        "per_side": one.pair.per_side,
        "force_1_n": entries.force_1[i],
        "ratio": entries.ratio[i],
        "loop_n": entries.loop[i],
        "stroke_m": entries.stroke[i],
        "extended_m": entries.extended[i],
        "rod_diameter_m": entries.rod_diameter[i],
        "tube_diameter_m": entries.tube_diameter[i],
        **_mounted(chosen, fit),
        "place_m": one.pair.foot.place,
        "sideways_m": one.pair.sideways,
        "price": None if math.isnan(price) else price,
        "currency": chosen.listed.currency or None,
    }


def _mounted(chosen: Chosen, fit: Fit) -> numbers.Numbers:
    pair = chosen.pairs[fit.pair]
    return {
        "foot": {"on": pair.foot.on, "x_m": fit.foot_x, "z_m": fit.foot_z},
        "head": {"on": pair.head.on, "x_m": fit.head_x, "z_m": fit.head_z},
    }


def _holes(row: HoleNumbers) -> numbers.Numbers:
    card, pair = row.card, row.pair

    def drilled(table: Array, on: str) -> list[numbers.Numbers]:
        return [{"on": on, "x_m": x, "z_m": z} for x, z in table.tolist()]

    return {
        "spring": row.name,
        "per_side": pair.per_side,
        "feet": drilled(row.feet, pair.foot.on),
        "heads": drilled(row.heads, pair.head.on),
        "places": [{"foot": i + 1, "head": j + 1} for i, j in row.places],
        "start": row.start + 1,
        "first_odds": row.first,
        "odds": row.odds,
        "odds_error": row.error,
        "card_odds": row.card_odds,
        "most_moves": None if card is None else card.most_moves,
        "card": []
        if card is None
        else [
            {
                "at": line.at + 1,
                "go": line.go + 1,
                "if": [
                    {"reading": READINGS[one.reading], "over": one.over, "limit": one.limit} for one in line.conditions
                ],
            }
            for line in card.lines
        ],
    }


READINGS = ("push_n", "pull_n", "rises_fraction", "day_c")
"""What the card asks for, with units."""
