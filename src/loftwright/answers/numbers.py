"""Results as plain dictionaries, ready for JSON: SI units, radians, the unit at the end of each name.

Every document has the same head, and a key means the same wherever it stands. Nothing is rounded to fewer
than nine digits; a number that is none is a bug and never written. The keys are explained in
docs/reference/json.md.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from loftwright.answers.forces import adds_to_pull, adds_to_push, lifter_adds
from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.key_figures import curve_band, how_far_open, key_figures
from loftwright.answers.next_steps import do_next
from loftwright.answers.roof_odds import Gain, RoofOdds
from loftwright.answers.views import cautions_of, provenance_note, tally
from loftwright.core.checks import Check, Outcome
from loftwright.core.errors import Bug
from loftwright.core.motion import Array, Travel, first_row
from loftwright.core.uncertain import Uncertain
from loftwright.core.units import Dimension
from loftwright.core.version import MADE_WITH
from loftwright.core.views import SheetPage
from loftwright.core.wording import Wording
from loftwright.mechanics import weigh
from loftwright.mechanics.balance import Lifter
from loftwright.mechanics.failing import Failure
from loftwright.mechanics.feel import NEVER, STATES, state
from loftwright.mechanics.reactions import Reactions
from loftwright.project.model import Project, key_of, walk
from loftwright.reference.measuring import plain_path

FORMAT = 1
"""Version of the results' form. It rises when a key changes its meaning or goes, not when one is added."""

DIGITS = 9

_SI = {"hand N": "N", "short m": "m", "fraction": "1", "count": "1", "yes or no": "1"}

_UNITS = {
    Dimension.LENGTH: "m",
    Dimension.MASS: "kg",
    Dimension.FORCE: "N",
    Dimension.ANGLE: "rad",
    Dimension.TEMPERATURE: "K",
    Dimension.AREA: "m2",
    Dimension.SPEED: "m/s",
    Dimension.MOMENT: "N m",
    Dimension.STIFFNESS: "N/m",
    Dimension.LINE_FORCE: "N/m",
    Dimension.PRESSURE: "Pa",
    Dimension.PERCENT: "1",
    Dimension.TIME: "s",
    Dimension.AREAL_MASS: "kg/m2",
    Dimension.DENSITY: "kg/m3",
    Dimension.PLAIN: "1",
}

Numbers = dict[str, Any]


def unit_of(dimension: Dimension) -> str:
    """Return the SI unit in which results of a dimension are given."""
    return _UNITS[dimension]


def plain(value: Any, at: str = "") -> Any:
    """Return a value as JSON knows it: lists, dictionaries, finite numbers, texts. `at` names the place in messages."""
    if isinstance(value, Mapping):
        return {str(key): plain(part, f"{at}.{key}") for key, part in value.items()}
    if isinstance(value, np.ndarray):
        return plain(value.tolist(), at)
    if isinstance(value, (bool, np.bool_)):
        return bool(value)
    if isinstance(value, (int, np.integer)):
        return int(value)
    if isinstance(value, (float, np.floating)):
        if not math.isfinite(value):
            raise Bug(f"{at.lstrip('.')}: {value} is no result")
        return float(f"{value:.{DIGITS}g}") + 0.0
    if value is None or isinstance(value, str):
        return str(value) if isinstance(value, str) else None
    if isinstance(value, Sequence):
        return [plain(part, f"{at}.{number}") for number, part in enumerate(value)]
    raise Bug(f"{at.lstrip('.')}: a {type(value).__name__} is no result")


def as_json(numbers: Mapping[str, Any]) -> str:
    """Return results as a JSON text."""
    return json.dumps(plain(numbers), ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def head(project: Project) -> Numbers:
    """Return what every document starts with."""
    return {
        "format": FORMAT,
        "made_with": MADE_WITH,
        "project": {
            "name": project.name,
            "linkage": project.linkage.kind,
            "end": project.linkage.end,
            "draws": project.settings.draws,
            "seed": project.settings.seed,
        },
    }


def judged(outcome: Outcome[RoofNumbers]) -> Numbers:
    """Return what `check` says: verdicts worst first, key figures, what to do next, what was assumed."""
    return {**head(outcome.numbers.project), **_judged(outcome)}


def forces(outcome: Outcome[RoofNumbers]) -> Numbers:
    """Return the forces over the travel, and what happens when it is let go or something fails."""
    return {**head(outcome.numbers.project), **_forces(outcome.numbers)}


def results(outcome: Outcome[RoofNumbers]) -> Numbers:
    """Return everything known of one roof as a dictionary ready for JSON, in SI units and radians."""
    done: Numbers = plain({**judged(outcome), **_forces(outcome.numbers)})
    return done


def asked(project: Project | None, page: SheetPage) -> Numbers:
    """Return what a measuring sheet asks: every box, and what the project, if there is one, knows of it so far."""
    known = {} if project is None else walk(project)
    start = {"format": FORMAT, "made_with": MADE_WITH, "project": None} if project is None else head(project)
    return {
        **start,
        "boxes": [
            {
                "key": box.key,
                "known": box.value is not None,
                "values": [
                    {"key": path, **_uncertain(value), "unit": _UNITS[key_of(path).dimension]}
                    for path, value in known.items()
                    if box.key in (path, plain_path(path))
                ],
            }
            for box in page.boxes
        ],
    }


def _uncertain(value: Uncertain) -> Numbers:
    return {
        "nominal": value.nominal,
        "low": value.low,
        "high": value.high,
        "shape": value.shape,
        "provenance": value.provenance.value,
    }


def check_numbers(check: Check) -> Numbers:
    """Return one judgement."""
    rule = check.rule
    return {
        "id": rule.id,
        "title": rule.title,
        "part": check.part,
        "verdict": check.verdict.value,
        "sense": rule.sense,
        "unit": _SI.get(rule.unit, rule.unit),
        "value": check.value,
        "limit": check.limit,
        "margin": check.margin,
        "odds": check.basis,
        "holding": check.holding,
        "measure": check.unknown,
        "inputs": list(check.inputs),
        "reason": rule.reason,
        "remedy": rule.remedy,
        "source": {"kind": rule.source.kind, "key": rule.source.key, "locator": rule.source.locator},
    }


def _judged(outcome: Outcome[RoofNumbers]) -> Numbers:
    found = outcome.numbers
    count = tally(outcome)
    return {
        "odds": _odds(found.odds),
        "tally": {"fails": count.fails, "not_known": count.not_known, "holds": count.holds},
        "checks": [check_numbers(check) for check in outcome.checks],
        "figures": _figures(found),
        "weighing": _weighing(found),
        "do_next": [
            {"title": step.title, "minutes": step.minutes, "how": step.how, "why": step.why}
            for step in do_next(outcome, Wording(found.project.settings.units))
        ],
        "assumptions": list(outcome.assumptions),
        "provenance": provenance_note(found.rows),
        "cautions": list(cautions_of(found.project)),
    }


def _odds(odds: RoofOdds) -> Numbers:
    return {
        "meets": odds.meets,
        "apart_from_what_always_fails": odds.apart,
        "fails": [{"id": one.rule.id, "part": one.which, "share": one.share} for one in odds.rest],
        "not_judged": [{"id": rule.id, "part": part} for rule, part in odds.unjudged],
        "best_force_factor": odds.factor,
        "best_force_meets": odds.best,
        "measure": gains_numbers(odds.gains),
    }


def gains_numbers(gains: Sequence[Gain]) -> list[Numbers]:
    """Return what to measure, the greatest gain per minute first."""
    return [
        {
            "title": gain.task.how.title,
            "minutes": gain.task.how.minutes,
            "inputs": list(gain.task.paths),
            "before": gain.before,
            "after": gain.after,
        }
        for gain in gains
    ]


def _figures(found: RoofNumbers) -> Numbers:
    key, body = key_figures(found), found.roof.body
    return {
        "standing_height_m": key.standing_height,
        "closed_top_m": key.closed_top,
        "standing_height_won_m": key.standing_height_won,
        "standing_area_m2": key.standing_area,
        "lip_rise_m": key.lip_rise,
        "opens_rad": None if found.roof.travel.slides else key.opens,
        "slides_m": key.opens if found.roof.travel.slides else None,
        "handle_above_feet_m": key.handle_height,
        "strap_needed_m": key.strap_needed,
        "mass_kg": key.mass.nominal,
        "mass_low_kg": key.mass.low,
        "mass_high_kg": key.mass.high,
        "centre_x_m": body.x[0],
        "centre_z_m": body.z[0],
        "inertia_kg_m2": body.inertia[0],
        "rises_from_fraction": key.rises_from if key.rises_from < NEVER else None,
        "rests_on_seal_at_m": key.rests_at,
        "latch_hold_n": key.latch_hold,
        "prop_required": key.prop_required,
        "prop_load_n": key.prop_load,
        "most_on_pin_n": key.most_on_pin,
        "unequal_springs_n": key.unequal,
    }


def _weighing(found: RoofNumbers) -> Numbers | None:
    weighed = found.weighed
    if weighed is None:
        return None
    if isinstance(weighed, weigh.NotEnough):
        return {
            "enough": False,
            "missing": weighed.missing,
            "mass_kg": weighed.mass,
            "mass_two_sd_kg": None,
            "centre_from_rear_rim_m": weighed.centre,
            "centre_two_sd_m": None,
            "centre_above_rim_m": None,
        }
    two_sd = weighed.two_sd
    return {
        "enough": True,
        "missing": None,
        "mass_kg": weighed.mass,
        "mass_two_sd_kg": two_sd[0],
        "centre_from_rear_rim_m": weighed.centre,
        "centre_two_sd_m": two_sd[1],
        "centre_above_rim_m": weighed.height,
    }


def _forces(found: RoofNumbers) -> Numbers:
    roof, felt = found.roof, found.felt
    travel = roof.travel
    return {
        "travel": {
            "fraction": travel.fraction,
            "opening_rad": None if travel.slides else how_far_open(found),
            "slid_m": how_far_open(found) if travel.slides else None,
            "shell_x_m": first_row(travel.shell.x),
            "shell_z_m": first_row(travel.shell.z),
            "shell_phi_rad": first_row(travel.shell.phi),
            "lip_z_m": felt.lip.z[0],
            "handle_x_m": felt.hand.x[0],
            "handle_z_m": felt.hand.z[0],
        },
        "forces": [_state(found, row) for row in range(len(STATES))],
        "quick": {"push_up_n": found.quick.push_up[0], "pull_down_n": found.quick.pull_down[0]},
        "springs": [_spring(found, index) for index in range(len(roof.fitted))],
        "other_forces": [
            {
                "name": load.name,
                "adds_to_push_n": adds_to_push(found, load),
                "adds_to_pull_n": adds_to_pull(found, load),
            }
            for load in (*felt.loads, *felt.wet, felt.cloth)
        ],
        "lifters": [_lifter(found, lifter) for lifter in felt.lifters],
        "pins": [
            {
                "at": name,
                "raising_x_n": _where_bounded(up[0], found.up),
                "raising_z_n": _where_bounded(up[1], found.up),
                "lowering_x_n": _where_bounded(down[0], found.down),
                "lowering_z_n": _where_bounded(down[1], found.down),
            }
            for name, up, down in zip(_held_at(travel), found.up.at_van, found.down.at_van, strict=True)
        ],
        "failures": [_failure(failure) for failure in found.failures],
        "panel_off": None
        if found.flight is None
        else {"push_needed_n": found.flight.push[0], "speed_m_s": found.flight.speed[0]},
    }


def _held_at(travel: Travel) -> tuple[str, ...]:
    """Return what the van's forces are on, in the order of `Reactions.at_van`."""
    if travel.slides:
        return ("upper end of the shoes", "lower end of the shoes")
    return ("arm a", "arm b") if travel.arms else ("hinge",)


def _where_bounded(force: Array, at: Reactions) -> list[float | None]:
    """Return a pin's force over the nominal travel, with nothing where a dead point leaves it without bound."""
    forces, bounded = first_row(force), first_row(at.bounded)
    return [float(f) if b else None for f, b in zip(forces, bounded, strict=True)]


def _state(found: RoofNumbers, row: int) -> Numbers:
    heat, age = STATES[row]
    felt = found.felt
    push, pull = (curve_band(forces[row], found) for forces in (felt.push_up, felt.pull_down))
    return {
        "temperature": heat,
        "age": age,
        "temperature_k": np.atleast_1d(getattr(found.roof.climate, heat))[0],
        "push_up_n": felt.push_up[row, 0],
        "push_up_low_n": push[0],
        "push_up_high_n": push[1],
        "pull_down_n": felt.pull_down[row, 0],
        "pull_down_low_n": pull[0],
        "pull_down_high_n": pull[1],
        "let_go": found.goes[row].astype(int),
    }


def _spring(found: RoofNumbers, index: int) -> Numbers:
    fitted, push = found.roof.fitted[index], found.felt.springs[index]
    row = state("mild", "new")
    return {
        "name": fitted.name,
        "count": fitted.mount.count,
        "length_m": first_row(push.line.length),
        "pushed_in_m": first_row(found.felt.compressions[index]),
        "raising_n": push.raising[row, 0],
        "lowering_n": push.lowering[row, 0],
        "end_force_n": first_row(found.felt.end_force[index]),
        "sideways_n": first_row(found.felt.end_force[index] * np.abs(push.line.along_y)),
    }


def _lifter(found: RoofNumbers, lifter: Lifter) -> Numbers:
    up, down = lifter_adds(found, lifter)
    return {
        "name": lifter.name,
        "count": lifter.count,
        "adds_to_push_n": up,
        "adds_to_pull_n": down,
        "length_m": None if lifter.length is None else first_row(lifter.length),
        "room_m": None if lifter.room is None else float(np.atleast_1d(lifter.room)[0]),
    }


def _failure(failure: Failure) -> Numbers:
    run = failure.release
    return {
        "what": failure.what,
        "falls": run.moves[0],
        "spare_pull_n": failure.holds_with[0],
        "time_s": run.time[0],
        "speed_m_s": run.speed[0],
        "reached_fraction": run.reached[0],
        "twist_moment_n_m": None if failure.twist_moment is None else failure.twist_moment[0],
        "prop_load_n": failure.prop_load[0],
    }
