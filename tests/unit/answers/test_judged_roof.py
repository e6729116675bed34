"""One project through every domain: draws that cannot be built, dead points, what is shared, and what is kept.

Numbers: computed here from first principles.
"""

from __future__ import annotations

import importlib.util
import json
import math
import sys
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from loftwright.answers.judged_roof import RoofNumbers, judged_roof, likely_rows
from loftwright.answers.numbers import as_json, forces, results
from loftwright.core.checks import Check, Outcome, Verdict
from loftwright.mechanics import rules
from loftwright.mechanics.feel import state
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import edited, loads

_PATH = Path(__file__).parents[1] / "mechanics" / "lids.py"


def _lids() -> ModuleType:
    spec = importlib.util.spec_from_file_location("lids", _PATH)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["lids"] = module
    spec.loader.exec_module(module)
    return module


lids = _lids()

PINS = {
    "arm_a_van": (1.8, -0.05),
    "arm_a_shell": (1.4, 0.05),
    "arm_b_van": (1.2, -0.3),
    "arm_b_shell": (0.8, -0.2),
}


def named(found: Outcome[RoofNumbers], rule: Any) -> Check:
    return next(check for check in found.checks if check.rule is rule)


# --- draws that cannot be put together ----------------------------------------------------------------


def loose(doubt: str, seed: int = 1) -> Outcome[RoofNumbers]:
    """Return the lid on arms whose eight places are known to `doubt` only."""
    changes: dict[str, Any] = {
        f"linkage.{pin}.{axis}": f"{value} m +- {doubt}"
        for pin, place in PINS.items()
        for axis, value in zip("xz", place, strict=True)
    }
    return judged_roof(loads(lids.text(changes | {"settings.seed": seed}, arms=True)))


def test_draws_whose_arms_do_not_reach_hold_nothing() -> None:
    found = loose("200 mm, measured")
    rows, roof = found.numbers.rows, found.numbers.roof
    drawn = roof.possible[rows.draws]
    reach = int(drawn.sum())
    assert 50 < reach < 190
    joined = int(roof.reaches[rows.draws].sum())
    assert joined >= reach
    assert named(found, rules.POSSIBLE).basis == f"{joined} of 200 roofs like yours hold"
    for check in found.checks:
        assert check.holding is None or check.holding <= reach / 200 or check.rule is rules.POSSIBLE
    np.testing.assert_array_equal(found.numbers.likely, rows.draws.start + np.flatnonzero(drawn))


def test_draws_whose_arms_do_not_reach_have_no_say_in_what_is_likely() -> None:
    found = loose("200 mm, measured")
    # Written as JSON, a number that is none is refused.
    whole = json.loads(as_json(results(found)))
    assert whole
    felt, likely = found.numbers.felt, found.numbers.likely
    for hand in (felt.push_up, felt.pull_down):
        assert np.isfinite(hand).all()
        assert np.isfinite(np.quantile(hand[:, likely], (0.05, 0.95), axis=1)).all()


@pytest.mark.parametrize("seed", range(1, 11))
def test_no_seed_refuses_a_plan_that_can_be_built(seed: int) -> None:
    found = loose("200 mm, measured", seed)
    assert found.numbers.likely.size > 50
    for check in found.checks:
        assert check.value is None or math.isfinite(check.value)


def test_places_that_are_a_guess_leave_open_whether_the_arms_reach() -> None:
    # Each place alone and even, up to 0.3 m off: some of them keep the arms from reaching.
    check = named(loose("300 mm, assumed"), rules.POSSIBLE)
    assert check.verdict is Verdict.NOT_KNOWN
    assert check.inputs[0].startswith("linkage.arm_")


def test_where_no_draw_can_be_built_the_plan_itself_is_shown() -> None:
    drawn = loose("3 mm, measured").numbers.rows
    none = np.zeros(drawn.count, dtype=bool)
    assert likely_rows(drawn, none).tolist() == [0]
    none[drawn.draws.start + 4] = True
    assert likely_rows(drawn, none).tolist() == [drawn.draws.start + 4]


@pytest.mark.parametrize("state_of_item", ["weighed", "remove"])
@pytest.mark.parametrize("seed", range(1, 11))
def test_a_panel_that_weighs_almost_all_there_is_refuses_no_draw(seed: int, state_of_item: str) -> None:
    # A panel of 24 kg within the 30 kg weighed, each known to 2.9 kg: in some draws it is more than nine tenths of it.
    panel = lids.PANEL.replace('"10 kg"', '"24 +- 2.9 kg, measured"').replace('"add"', f'"{state_of_item}"')
    changes = {"settings.seed": seed, "shell.mass": "30 +- 2.9 kg, measured"}
    found = judged_roof(loads(lids.text(changes, extra=panel))).numbers
    at = found.rows
    left = found.roof.body_without if state_of_item == "weighed" else found.roof.body
    assert left is not None
    assert left.mass[0] == pytest.approx(6.0)
    whole, off = at("shell.mass"), at("item.0.mass")
    assert (off > 0.9 * whole).any()
    np.testing.assert_allclose(left.mass[1:], np.maximum(whole - off, 0.1 * whole)[1:])
    assert np.isfinite(found.felt.push_up).all()


# --- dead points --------------------------------------------------------------------------------------


def flat(opens: float, rise: float) -> dict[str, Any]:
    """Return arms of 0.4 m whose van pins lie level, and shell pins too; closed they rise to the rear by `rise` deg."""
    changes: dict[str, Any] = {"linkage.opens": f"{opens} deg"}
    lean = math.radians(rise)
    for arm, x in (("a", 1.8), ("b", 1.2)):
        changes |= {
            f"linkage.arm_{arm}_van.x": f"{x} m",
            f"linkage.arm_{arm}_van.z": "-50 mm",
            f"linkage.arm_{arm}_shell.x": f"{x - 0.4 * math.cos(lean):.9f} m",
            f"linkage.arm_{arm}_shell.z": f"{-0.05 + 0.4 * math.sin(lean):.9f} m",
        }
    return changes


DEAD = {"closed": (60.0, 0.0), "on the way": (60.0, -20.0), "open": (60.0, -60.0)}


@pytest.mark.parametrize("kind", ["four-bar", "parallel arms"])
@pytest.mark.parametrize("where", DEAD)
def test_arms_that_lie_in_line_with_the_shell_are_answered(where: str, kind: str) -> None:
    opens, rise = DEAD[where]
    found = judged_roof(loads(lids.text({**flat(opens, rise), "linkage.kind": kind}, arms=True)))
    numbers = found.numbers
    assert named(found, rules.TRANSMISSION).verdict is Verdict.FAILS
    if where != "open":
        assert named(found, rules.LINES_UP).verdict is Verdict.FAILS
    # Marked where the arms are within a few degrees of the line, and there alone.
    swing = np.abs(np.degrees(numbers.roof.travel.q[0]) + rise)
    for pins in (numbers.up, numbers.down):
        bounded = pins.bounded[0] if pins.bounded.ndim > 1 else pins.bounded
        assert not bounded[swing.argmin()]
        assert bounded[swing > 8.0].all()
    # The arms' own lean sets the pins' forces: moments of springs and weight over 0.6 m between the arms, times the
    # sine of what is left of the lean. Nothing beyond a few degrees of it is given out.
    springs = 2 * max(float(force[0].max()) for force in numbers.felt.end_force)
    least = math.sin(math.radians(swing[bounded].min()))
    assert 0 < numbers.most_on_pin < (40 * lids.G + springs) * 2.0 / 0.6 / least
    assert numbers.most_on_pin < 20 * (40 * lids.G + springs)
    assert json.loads(as_json(results(found)))


# --- inputs that are one ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_keys_that_follow_another_hold_its_very_draws(name: str) -> None:
    rows = judged_roof(demo(name)).numbers.rows
    follows = {path: known.same_as for path, known in rows.inputs.items() if known.same_as}
    assert follows
    seen = 0
    for path, other in follows.items():
        try:
            one = rows(path)
        except KeyError:
            continue
        np.testing.assert_array_equal(one, rows(other))
        assert path not in rows.alone
        seen += 1
    assert seen


# --- what is not known of the shell ------------------------------------------------------------------


@pytest.mark.parametrize("key", ["mass", "centre", "centre_height", "thickness"])
def test_unknown_is_the_same_as_left_out(key: str) -> None:
    line = next(one for one in lids.LID.splitlines(keepends=True) if one.startswith(f"{key} = "))
    without = lids.LID.replace(line, "")
    unknown, absent = (
        judged_roof(loads(text)).numbers for text in (lids.LID.replace(line, f'{key} = "unknown"\n'), without)
    )
    np.testing.assert_array_equal(unknown.felt.push_up, absent.felt.push_up)
    np.testing.assert_array_equal(unknown.roof.body.z, absent.roof.body.z)
    np.testing.assert_array_equal(unknown.around.thickness, absent.around.thickness)


def test_a_centre_by_shape_rides_on_the_shell() -> None:
    # Where the shell sits over the opening and how high its rim lies is told by the tape; the centre goes with them.
    text = "".join(
        one for one in lids.LID.splitlines(keepends=True) if not one.startswith(("centre = ", "centre_height = "))
    )
    changes = {"shell.overhang_rear": "60 +- 40 mm, measured", "shell.rim_height": "15 +- 10 mm, measured"}
    moved = edited(text, changes | {"shell.length": "2.1 m"})
    found = judged_roof(loads(moved)).numbers
    at, body = found.rows, found.roof.body
    for path, centre, sign in (("shell.overhang_rear", body.x, -1), ("shell.rim_height", body.z, 1)):
        low, high = at.alone[path]
        assert centre[high] - centre[low] == pytest.approx(sign * (at(path)[high] - at(path)[low]))


# --- states -------------------------------------------------------------------------------------------


def test_rain_in_the_file_moves_the_cold_states_alone() -> None:
    text = demo_text("fennimoor")
    dry, wet = (
        judged_roof(loads(edited(text, {"forces.wet_extra": f"{w} kg", "forces.load_on_top": f"{w} kg"}))).numbers
        for w in (0, 9)
    )
    for heat, age in (("mild", "new"), ("hot", "new"), ("hot", "aged"), ("sun", "new")):
        row = state(heat, age)
        np.testing.assert_array_equal(dry.felt.push_up[row, 0], wet.felt.push_up[row, 0])
    for age in ("new", "aged"):
        row = state("cold", age)
        assert (wet.felt.push_up[row, 0] > dry.felt.push_up[row, 0] + 20.0).all()


# --- kept answers -------------------------------------------------------------------------------------


def arrays(part: object, at: str = "answer") -> Iterator[tuple[str, np.ndarray]]:
    """Yield every array of an answer with its place."""
    if isinstance(part, np.ndarray):
        yield at, part
    elif isinstance(part, tuple | list):
        for i, one in enumerate(part):
            yield from arrays(one, f"{at}.{i}")
    elif isinstance(part, dict):
        for key, one in part.items():
            yield from arrays(one, f"{at}.{key}")
    elif is_dataclass(part) and not isinstance(part, type):
        for field in fields(part):
            yield from arrays(getattr(part, field.name), f"{at}.{field.name}")


@pytest.mark.parametrize("name", DEMOS)
def test_kept_answers_cannot_be_written_over(name: str) -> None:
    found = judged_roof(demo(name)).numbers
    every = list(arrays(found))
    assert len(every) > 100
    assert [at for at, values in every if values.flags.writeable] == []
    with pytest.raises(ValueError, match="read-only"):
        found.felt.push_up[0, 0, 0] = 1.0
    with pytest.raises(ValueError, match="read-only"):
        found.rows.columns[next(iter(found.rows.columns))][0] = 1.0


def test_the_greatest_force_on_a_pin_is_that_of_one_side() -> None:
    # Without springs, up to 45 degrees: hand and hinge pair share 40 kg, each of two hinges takes a quarter.
    cut = lids.LID[: lids.LID.index("[[spring]]")] + lids.LID[lids.LID.index("[temperatures]") :]
    found = judged_roof(loads(cut)).numbers
    assert found.most_on_pin == pytest.approx(40 * lids.G / 4)
    # With 8 kg of snow on a cold day, its share of a quarter too.
    snow = judged_roof(loads(edited(cut, {"forces.load_on_top": "8 kg"}))).numbers
    assert snow.most_on_pin == pytest.approx(48 * lids.G / 4)


def test_a_dead_point_is_written_as_nothing_and_twist_on_arms_as_not_reckoned() -> None:
    opens, rise = DEAD["closed"]
    found = judged_roof(loads(lids.text({**flat(opens, rise), "linkage.kind": "parallel arms"}, arms=True)))
    written = json.loads(as_json(forces(found)))
    bounded = np.atleast_2d(found.numbers.up.bounded)[0]
    assert not bounded.all()
    for pin in written["pins"]:
        for name in ("raising_x_n", "raising_z_n", "lowering_x_n", "lowering_z_n"):
            assert [value is None for value in pin[name]] == [not b for b in bounded]
    assert [failure["twist_moment_n_m"] for failure in written["failures"]] == [None]
