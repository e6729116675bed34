"""What rides on the roof and goes into it. Second ways and constructed cases; nothing here is a measured roof."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from loftwright.answers.fitted_panel import months_of
from loftwright.answers.fitted_roof import FittedFound, FittedNumbers, find, fitted_roof
from loftwright.answers.fitted_seal import outward, steps
from loftwright.answers.fitted_sun import DULL
from loftwright.answers.fitting_panel_view import COMPASS
from loftwright.answers.held_basis import basis
from loftwright.answers.held_fit import sits
from loftwright.answers.held_road import on_the_road
from loftwright.answers.taken_fit import place_of, taken_fit
from loftwright.core.checks import Check, Outcome, Verdict
from loftwright.core.motion import Array
from loftwright.fitout.clear_sky import clear_year
from loftwright.fitout.sun import panel_face
from loftwright.fitout.sun_energy import GROUND, Weather, energy, headings, light_on
from loftwright.mechanics.feel import state
from loftwright.plan.scout import Pose, headroom
from loftwright.project import assemble
from loftwright.project.assemble_walls import open_pose
from loftwright.project.file import edit, loads, read
from loftwright.project.model import Project
from tests.unit.answers.fitted_cases import LIFT, LINING, PANEL, SAMPLE, SIDE, text, without_springs


def nominal(project: Project) -> FittedFound:
    """Return the planned row alone: cheap."""
    values = assemble.quantities(project)
    return find(basis(project, lambda path: np.array([values[path].value.nominal]))[0])


@pytest.fixture(scope="module")
def outcome() -> Outcome[FittedNumbers]:
    return fitted_roof(loads(text()))


@pytest.fixture(scope="module")
def found(outcome: Outcome[FittedNumbers]) -> FittedFound:
    return outcome.numbers.found


def check_of(outcome: Outcome[FittedNumbers], rule: str, part: str = "") -> Check:
    return next(one for one in outcome.checks if one.rule.id == rule and one.part == part)


# --- seal -------------------------------------------------------------------------------------------


def test_the_seal_is_as_long_as_the_line_through_its_stations(found: FittedFound) -> None:
    """Second way: chords between stations; a corner of five stations is short by 1 in 150."""
    seal = found.seal
    around = np.hypot(np.roll(seal.x, -1, axis=-1) - seal.x, np.roll(seal.y, -1, axis=-1) - seal.y).sum(axis=-1)
    assert np.allclose(seal.length, around, rtol=2e-3)
    assert np.all(around <= seal.length)
    assert np.allclose(seal.step.sum(axis=-1), seal.length)


def test_stretches_of_stations_share_the_loop_evenly() -> None:
    """Exact: four stations at 0, 1, 3, 6 of a loop of 10."""
    assert steps(np.array([[0.0, 1.0, 3.0, 6.0]]), np.array([10.0]))[0].tolist() == [2.5, 1.5, 2.5, 3.5]


def test_outward_of_a_circle_is_its_radius() -> None:
    """Exact by symmetry, counter-clockwise from above with y to the left."""
    turn = np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False)
    nx, ny = outward(np.cos(turn), np.sin(turn))
    assert np.allclose(nx, np.cos(turn))
    assert np.allclose(ny, np.sin(turn))


def test_the_push_follows_the_sample_on_scales(found: FittedFound) -> None:
    """By hand: 9 N on 0.2 m for 6 mm of squeeze, straight: 7.5 N/m for each millimetre."""
    seal = found.seal
    fill = sits(found.basis).seal_height[0]
    each = 7500.0 * np.maximum(0.014 - fill, 0.0)
    assert float(seal.force[0]) == pytest.approx(float(np.sum(each * seal.step[0])))
    assert seal.sampled
    x, held, latch = seal.x[0], 2.055, 2.06 - 2.12 + 0.04
    moment = float(np.sum(each * seal.step[0] * (held - x)))
    assert float(seal.latch[0]) == pytest.approx(moment / (held - latch - 0.0) / 4.0, rel=0.02)


def test_on_a_level_flat_roof_water_stands_all_round() -> None:
    """Constructed: no crown, no profile, the van level. The crowned one of the demo lets it off."""
    flat = text(more="")
    for curved in ('crown = "18 mm, measured"', 'camber = "6 mm, measured"'):
        flat = flat.replace(curved, curved.split("=")[0] + '= "0 mm"')
    flat = flat[: flat.index("profile = [")] + flat[flat.index("]\ncrown") + 2 :]
    flat = flat.replace("[water]\n", '[water]\nparked = "0 deg"\n')
    wet = fitted_roof(loads(flat))
    assert check_of(wet, "SEAL-2002").verdict is Verdict.FAILS
    assert float(wet.numbers.found.seal.wet_length[0]) == pytest.approx(float(wet.numbers.found.seal.length[0]))
    assert check_of(fitted_roof(loads(text(more=""))), "SEAL-2002").verdict is Verdict.HOLDS


def test_a_stiff_seal_kinks_in_the_corners() -> None:
    for bend, verdict in (("60 mm, measured", Verdict.HOLDS), ("150 mm, measured", Verdict.FAILS)):
        one = fitted_roof(loads(text(more=f'\n[seal]\nbend = "{bend}"\n')))
        assert check_of(one, "SEAL-2001").verdict is verdict


# --- room to stand ----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["ottergate", "larkenmoor"])
def test_the_map_agrees_with_the_line_of_the_ceiling(name: str) -> None:
    """Second way: intervals of the ceiling line cut exactly, without cells; demos without a bed."""
    project = loads(text(name, ""))
    one = nominal(project)
    dx, dz, phi = open_pose(one.basis.roof)
    floor = np.array([project.van.floor_to_roof.nominal])
    build = np.array([project.van.roof_build.nominal])
    exact = headroom(one.basis.outline, Pose(dx, dz, phi), floor, build, one.standing.need)
    cell = 2 * 0.05 * float(np.asarray(one.basis.outline.opening_width)[0])
    assert float(one.standing.area[0]) == pytest.approx(float(exact.floor_area[0]), abs=cell)
    assert float(one.standing.highest[0]) == pytest.approx(float(exact.best[0]), abs=0.03)


def test_the_bed_takes_floor_and_a_lining_takes_height() -> None:
    bare = nominal(loads(text(more=""))).standing
    lined = nominal(loads(text(more=LINING))).standing
    assert float(bare.highest[0] - lined.highest[0]) == pytest.approx(0.023, abs=0.004)
    longer = nominal(loads(text(more="").replace('from = "0.95 m"', 'from = "0.55 m"'))).standing
    assert float(bare.area[0] - longer.area[0]) == pytest.approx(0.4 * 1.38, abs=0.08)


def test_hinged_at_the_left_the_right_side_is_high() -> None:
    """Frame: y to the left, so that the high side has the lower y; the map is the van's."""
    one = nominal(loads(SIDE)).standing
    assert one.opened.shape[1:] == (one.y.size, one.x.size)
    assert one.x.size > one.y.size
    middle = one.x.size // 2
    line = one.opened[0, :, middle]
    assert one.y[int(line.argmax())] < -0.2
    assert line.max() > line[-3] + 0.3
    assert one.y[0] < 0.0 < one.y[-1]


def test_a_taller_wish_fails() -> None:
    for height, verdict in (("1.80 m", Verdict.HOLDS), ("2.4 m", Verdict.FAILS)):
        one = fitted_roof(loads(text("larkenmoor", f'\n[standing]\nheight = "{height}"\n')))
        assert check_of(one, "ROOM-2101").verdict is verdict
        assert check_of(one, "ROOM-2102").verdict is verdict


# --- panel and wire ---------------------------------------------------------------------------------


def test_rows_between_latitudes_agree_with_the_sun_followed_for_each(outcome: Outcome[FittedNumbers]) -> None:
    """Second way: each drawn row's own latitude and slope, without a table."""
    numbers, panel = outcome.numbers, outcome.numbers.found.panel
    assert panel is not None
    at, last = numbers.rows, numbers.rows.count - 1
    pick = slice(last - 2, last + 1)
    latitude, cloud, losses = (at(f"panel.{name}")[pick] for name in ("latitude", "cloud", "losses"))
    turned = -panel.raised_tilt[pick]  # hinged at the front, the cab end stays low
    days = clear_year(latitude)
    share = 1.0 - cloud
    weather = Weather(share, np.full(3, DULL), np.array(GROUND))
    light = light_on(days, panel_face(headings(16), turned[:, None]), weather)
    own = energy(light, at("panel.power")[pick], 1.0 - losses)
    assert np.allclose(panel.raised[pick], own, rtol=0.01, atol=0.5)


def test_the_best_heading_turns_the_raised_panel_to_noon() -> None:
    """By thought: a lid low at the front faces forward, low at the rear backward, low at the left to the left."""
    side = SIDE + PANEL
    for file, cab in ((text(more=PANEL), "S"), (text("quellmere", PANEL), "N"), (side, "W")):
        panel = nominal(loads(file)).panel
        assert panel is not None
        assert COMPASS[panel.best] == cab


def test_months_run_over_the_turn_of_the_year() -> None:
    assert months_of(11, 2) == (10, 11, 0, 1)
    assert months_of(5, 5) == (4,)


def test_use_that_is_covered_and_use_that_is_not() -> None:
    for use, verdict in (("60", Verdict.HOLDS), ("900", Verdict.FAILS)):
        one = fitted_roof(loads(text(more=PANEL.replace('use = "260', f'use = "{use}'))))
        (check,) = (c for c in one.checks if c.rule.id == "SUN-2301")
        assert check.verdict is verdict


def test_the_cable_loses_what_ohm_says(found: FittedFound) -> None:
    """By hand: 4 mm2 has 4.95 ohm for 1000 m at 20 C (IEC 60228), 1.18 of it at 65 C; 8 m there and back."""
    assert found.panel is not None
    wire = found.panel.wire
    assert float(wire.lost[0]) == pytest.approx(8.0 * 4.95e-3 * 1.18 * 100.0 / 19.0, rel=1e-3)
    assert wire.next_fuse == 15.0
    assert not wire.placed
    assert np.all(wire.loop.free >= wire.loop.longest)


def test_the_fuse_at_the_battery_bears_what_the_controller_gives() -> None:
    """By hand: 100 W at 11.5 V are 8.7 A, more than the panel's 5.8 A; with a quarter more 10.9 A."""
    for fuse, verdict in (("10", Verdict.FAILS), ("15", Verdict.HOLDS)):
        one = fitted_roof(loads(text(more=PANEL.replace('fuse = "7.5', f'fuse = "{fuse}'))))
        assert check_of(one, "WIRE-2403", "at the battery").verdict is verdict
        assert check_of(one, "WIRE-2402", "at the battery").verdict is Verdict.HOLDS
    # A panel without a step down in voltage: its own short-circuit current is the greater.
    strong = nominal(loads(text(more=PANEL.replace('"5.8,', '"9.7,'))))
    assert strong.panel is not None
    assert strong.panel.wire.next_fuse == 15.0
    assert any("controller to battery must bear" in line for line in strong.panel.said)


def test_a_panel_that_hands_may_not_touch_is_told() -> None:
    """By hand: 40 V at work are 56 V in cold sun unloaded, 45 V are 63 V."""
    for volts, told in (("40", False), ("45", True)):
        panel = nominal(loads(text(more=PANEL + f'volts = "{volts}, label"\n'))).panel
        assert panel is not None
        assert any("leave it to an electrician" in line for line in panel.said) is told


def test_what_latches_hold_of_the_panel_is_what_the_road_is_reckoned_with() -> None:
    """Second way: what holds the lip down with the panel on feet less that without, against the panel's own moments."""
    stands, lies = (nominal(loads(text(more=PANEL.replace("20 mm", gap)))) for gap in ("20 mm", "0 mm"))
    assert stands.panel is not None
    with_it, without = on_the_road(stands.basis), on_the_road(lies.basis)
    assert float(stands.panel.latches[0]) > 100.0
    # The drag on its edge, about 0.3 m over the hinge, is the small rest.
    assert float(with_it.line[0] - without.line[0]) == pytest.approx(float(stands.panel.latches[0]), rel=0.05)
    assert float(with_it.lift[0] - without.lift[0]) == pytest.approx(float(stands.panel.lift[0]), rel=1e-6)
    assert float(with_it.fastest[0]) < float(without.fastest[0])
    assert any(line.startswith("The panel on its feet is counted") for line in with_it.said)


def test_the_open_height_is_that_of_the_highest_corner() -> None:
    """By hand: the lid turns by 28 degrees about its hinge at 2.055 m, 35 mm; its rear top lies at -60 mm, 220 mm."""
    turned = np.radians(28.0)
    by_hand = 1.94 + 0.035 + np.sin(turned) * (2.055 + 0.06) + np.cos(turned) * (0.220 - 0.035)
    assert float(nominal(loads(text(more=""))).standing.height_open[0]) == pytest.approx(by_hand, abs=0.002)


def test_a_loop_too_short_and_a_fuse_too_large_are_told() -> None:
    placed = PANEL + 'loop_van = ["2.0 m", "-30 mm"]\nloop_shell = ["1.7 m", "90 mm"]\nloop_length = "{}"\n'
    for length, fuse, verdict in (("0.7 m", "7.5", Verdict.HOLDS), ("0.3 m", "60", Verdict.FAILS)):
        more = placed.format(length).replace('fuse = "7.5', f'fuse = "{fuse}')
        one = fitted_roof(loads(text(more=more)))
        assert check_of(one, "WIRE-2404").verdict is verdict
        assert check_of(one, "WIRE-2402", "at the battery").verdict is verdict


def test_no_panel_no_sun_library() -> None:
    """What takes half a second to load is not loaded for nothing."""
    code = (
        "import sys; from loftwright.project.demos import demo; "
        "from loftwright.answers.fitted_roof import fitted_rows; "
        "fitted_rows(demo('quellmere')); sys.exit('pvlib' in sys.modules or 'pandas' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False, timeout=60).returncode == 0


# --- powered lift -----------------------------------------------------------------------------------


def _work(force: Array, along: Array) -> float:
    middle = (force[1:] + force[:-1]) / 2
    return float(np.sum(middle * np.diff(along)))


def test_actuators_do_the_work_that_a_hand_would(found: FittedFound) -> None:
    """Second way: push at the handle times how far the hand moves, instead of push times stroke."""
    lift, base = found.lift.lift, found.basis
    assert lift is not None
    cold = state("cold", "aged")
    drive = base.felt.drive.at(cold)
    by_hand = drive.push_up[0] * drive.hand_path[0]
    assert lift.count * _work(lift.raising[0][0], lift.line.length[0]) == pytest.approx(
        _work(by_hand, base.roof.travel.q[0]), rel=0.03
    )
    # Leverage is what the length's differences say.
    slope = np.gradient(lift.line.length[0], base.roof.travel.q[0])
    assert np.allclose(lift.line.rate[0][1:-1], slope[1:-1], rtol=0.02, atol=2e-3)


def test_in_place_of_the_springs_they_need_what_a_lift_alone_needs() -> None:
    """Two ways to one force: springs taken out of the balance, and a roof without springs with a lift there."""
    instead = nominal(loads(text(more=""))).lift.instead
    alone = nominal(loads(without_springs(text(more=LIFT)))).lift.lift
    assert instead is not None
    assert alone is not None
    most = max(float(one.most[0]) for one in alone.worst)
    assert float(instead.force[0]) == pytest.approx(most, rel=1e-6)
    assert float(instead.used[0]) == pytest.approx(float(alone.spare.used[0]), rel=1e-9)


def test_a_weak_lift_stalls_and_a_short_one_does_not_reach(outcome: Outcome[FittedNumbers]) -> None:
    weak = LIFT.replace("1500 N", "600 N").replace('stroke = "0.25 m', 'stroke = "0.15 m')
    one = fitted_roof(loads(text(more=weak)))
    day = "on a cold wet day, springs aged"
    assert check_of(outcome, "LIFTER-2201", day).verdict is Verdict.HOLDS
    assert check_of(one, "LIFTER-2201", day).verdict is Verdict.FAILS
    assert check_of(outcome, "LIFTER-2205", "reached out").verdict is Verdict.HOLDS
    assert check_of(one, "LIFTER-2205", "reached out").verdict is Verdict.FAILS


def test_a_current_limit_spares_what_is_caught(outcome: Outcome[FittedNumbers]) -> None:
    limited = nominal(loads(text(more=LIFT + "cut_off = true\n"))).lift.lift
    free = outcome.numbers.found.lift.lift
    assert limited is not None
    assert free is not None
    assert limited.closing_edge[0].max() < free.closing_edge[0].max()


def test_a_lift_on_arms_that_are_not_there_is_left_alone() -> None:
    one = nominal(loads(text(more=LIFT + 'foot_on = "arm a"\n')))
    assert one.lift.lift is None
    assert one.lift.judged == ()
    assert "no such arm" in one.lift.said[0]


# --- lining -----------------------------------------------------------------------------------------


def test_the_lining_of_a_box_is_that_of_a_box() -> None:
    """Constructed: a shell of even height; areas and weight by hand."""
    box = text(more=LINING)
    for old in ('height_rear = "210 mm"', 'height_middle = "250 mm"', 'height_front = "185 mm"'):
        box = box.replace(old, old.split("=")[0] + '= "200 mm"')
    lining = nominal(loads(box)).lining
    assert lining is not None
    long, wide, high = 2.12 - 2 * 0.034, 1.50 - 2 * 0.034, 0.200 - 0.034
    assert float(lining.ceiling[0]) == pytest.approx(long * wide)
    assert float(lining.cheeks[0]) == pytest.approx(2 * high * (long + wide))
    per = 0.020 * 37.5 + 1.75
    assert float(lining.weight.mass[0]) == pytest.approx(per * (long * wide + 2 * high * (long + wide)))
    assert float(lining.weight.x[0]) == pytest.approx(2.12 / 2 - 0.06)


def test_a_thick_lining_takes_the_room_of_the_fold() -> None:
    for thick, verdict in (("20 mm", Verdict.HOLDS), ("60 mm", Verdict.FAILS)):
        one = fitted_roof(loads(text(more=LINING.replace('"20 mm"', f'"{thick}"'))))
        assert check_of(one, "LINING-2501").verdict is verdict


def test_what_is_offered_can_be_written_and_counts(tmp_path: Path) -> None:
    path = tmp_path / "roof.toml"
    path.write_text(text(more=LINING + SAMPLE), encoding="utf-8")
    seals = {"forces.seal_line", "forces.seal_height"}
    # What was measured is not replaced by what is reckoned.
    assert not {one.path for one in taken_fit(fitted_roof(read(path)).numbers)} & seals
    edit(path, {"forces.seal_line": "unknown", "forces.seal_height": "5 .. 12 mm, assumed"})
    before = fitted_roof(read(path)).numbers
    assert {one.path for one in taken_fit(before)} >= {*seals, "item.2.mass"}
    assert all("nine of ten" in one.sentence for one in taken_fit(before) if one.path in seals)
    edit(path, {one.path: one.text for one in taken_fit(before)})
    after = nominal(read(path))
    lining = before.found.lining
    assert lining is not None
    gained = float(after.basis.roof.body.mass[0] - before.found.basis.roof.body.mass[0])
    assert gained == pytest.approx(float(lining.weight.mass[0]), rel=0.05)
    # Offered once more it is the same entry, now there.
    assert place_of(read(path)) == (2, False)
    assert {one.path for one in taken_fit(fitted_roof(read(path)).numbers)} >= {"item.2.mass"}


def test_a_lining_that_was_weighed_with_the_shell_offers_nothing() -> None:
    one = fitted_roof(loads(text(more=LINING + "there = true\n")))
    assert taken_fit(one.numbers) == ()


def test_a_lining_heavier_than_planned_is_told() -> None:
    item = '\n[[item]]\nname = "boards"\nkind = "lining"\nmass = "{}"\nx = "1 m"\nz = "0.15 m"\n'
    for mass, verdict in (("20 kg", Verdict.HOLDS), ("3 kg", Verdict.FAILS)):
        one = fitted_roof(loads(text(more=item.format(mass) + LINING)))
        assert check_of(one, "LINING-2502").verdict is verdict
