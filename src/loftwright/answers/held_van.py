"""What the raised roof adds to the van: its weight and height, how it stands, and what lies on the closed roof."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.project.assemble import thickness
from loftwright.project.assemble_panel import middle_disagrees
from loftwright.project.assemble_shell import TopSkin, top_skin
from loftwright.project.assemble_van import brought, on_top, on_van, stops_of
from loftwright.strength.on_van import Stops, both, sign_height, static_stability_factor
from loftwright.strength.on_van_rules import (
    FOOT_CRACKS,
    FOOT_SAGS,
    SNOW_CRACKS,
    TopLimits,
    TopLoads,
    judge_on_van,
    judge_top,
    top_loads,
)

if TYPE_CHECKING:
    from loftwright.answers.held_opening import OpeningFound

SIGN_SPARE: Final = 0.02
"""What the driver's sign allows for the tape, for hard tyres and for an empty van [m]: judgement."""
FOOT_SAG: Final = 0.020
"""Most that the skin may give under a foot [m]: judgement, before it marks the lining."""

WEIGHT_NOTE: Final = "Springs, hinges, latches and a brace are left out of the added weight."
FOOTING_NOTE: Final = "The footing only compares the van with itself before; it does not say whether a van rolls over."
RIBS_NOTE: Final = (
    "A single skin is taken to lie on ribs or battens 0.4 m apart; two skins on a core reach from side to side."
)
SNOW_NOTE: Final = (
    "Snow on the closed roof is taken as wet; a person stands in its middle, and nobody stands on it in snow."
)


@dataclass(frozen=True, slots=True)
class VanFound:
    """The van with its roof, arrays [rows] unless said otherwise.

    `added` mass, `bare` and `whole` mass of the van before and after [kg]; height of the centre above ground `before`
    and `after` [m], static stability factor `footing_before` and `footing_after` [1]; `added_height` [m] of what was
    added; overall `height` closed [m] and the number for the driver's `sign` [m]. `stops` are the places on which the
    closed shell rests (hinges first), `stops_foot` and `stops_snow` [N] what each takes, [rows, stops]; a negative one
    is held down by latches. `top_loads` of the skin are None where its build is not known.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    added: Array
    added_height: Array
    bare: Array
    whole: Array
    before: Array
    after: Array
    footing_before: Array
    footing_after: Array
    height: Array
    sign: Array
    stops: Stops
    top_loads: TopLoads | None


def carried(base: Basis, opening: OpeningFound) -> VanFound:
    """Return what the roof adds to the van; `opening` gives the masses of ring and cut sheet [kg]."""
    at, project, roof, outline = base.at, base.project, base.roof, base.outline
    added = brought(at, roof, opening.ring_mass, opening.cut_mass)
    asked = on_van(project, at, roof, outline, added)
    whole, track = both(asked.van, added), at("body.track")
    judged = [_named(one) for one in judge_on_van(asked)]
    stops = stops_of(project, at, roof)
    skin = top_skin(project, at, outline, thickness(project, at))
    found, top = _top(base, stops, skin)
    return VanFound(
        judged=(*judged, *found),
        said=(WEIGHT_NOTE, FOOTING_NOTE, RIBS_NOTE, SNOW_NOTE, *middle_disagrees(project, at, outline)),
        added=base.full(added.mass),
        added_height=base.full(added.height),
        bare=base.full(asked.van.mass),
        whole=base.full(whole.mass),
        before=base.full(asked.van.height),
        after=base.full(whole.height),
        footing_before=base.full(static_stability_factor(track, asked.van.height)),
        footing_after=base.full(static_stability_factor(track, whole.height)),
        height=base.full(asked.height),
        sign=base.full(sign_height(asked.height + SIGN_SPARE)),
        stops=stops,
        top_loads=top,
    )


def _named(one: Judged) -> Judged:
    """Return a judgement with the path of the file's key in place of the name that it lacks."""
    missing = f"body.{one.missing}" if one.missing else ""
    return Judged(one.rule, one.value, one.limit, one.which, one.unknown, missing, one.index)


def _top(base: Basis, stops: Stops, skin: TopSkin | None) -> tuple[list[Judged], TopLoads | None]:
    """Return the judgements of the closed roof under a foot and under snow, those that apply."""
    top = on_top(base.project, base.at, base.roof)
    walked = base.project.body.walked_on
    rules = (FOOT_CRACKS, FOOT_SAGS, SNOW_CRACKS) if walked else (SNOW_CRACKS,)
    if skin is None:
        unknown = "what the shell is built from ([shell] made_of)"
        return [Judged(rule, None, None, "", unknown) for rule in rules if rule is not FOOT_SAGS], None
    loads = top_loads(skin.field, stops, top)
    limits = TopLimits(skin.strength, skin.safety, np.full(base.rows, FOOT_SAG))
    return [one for one in judge_top(loads, limits) if one.rule in rules], loads
