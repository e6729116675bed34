"""How a shell sits, from the file to the judgements: exact constructed cases, computed here from first principles.

No printed source: every figure follows from the parabola through two ends and a middle.
"""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from loftwright.answers.draws import Nominal, Rows, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.held_fit import YOURS, FitFound, gap_chart, sits
from loftwright.answers.held_packers import HingePackers, templates
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project
from loftwright.strength.fit_rules import GAP_RANGE, HINGE_HEIGHT, LAP, PACKER_THIN, RIM_HEIGHT, SEAL_LOOSE, TRIM

SIDE = Path(__file__).parents[2] / "roofs" / "side_hinge.toml"

FLAT_RIM = {"rim_front": "0 mm", "rim_rear": "0 mm", "rim_sides": "0 mm", "rim_twist": "0 mm"}
SEAL = {"seal_least": "8 mm", "seal_most": "16 mm", "corner_radius": "0 mm", "axis_height": "12 mm"}


def roof(
    *,
    crown: str = "0 mm",
    camber: str = "0 mm",
    fit: dict[str, str] | None = None,
    shell: str = "",
    more: str = "",
    end: str = "front",
    size: tuple[str, str, str, str] = ("2 m", "1.2 m", "2.2 m", "1.32 m"),
    overhang: str = 'overhang_rear = "0.1 m"',
    hinge: str = '["2.05 m", "50 mm"]',
    profile: str = "",
) -> Project:
    """Return a roof whose opening and shell are of round sizes."""
    keys = "".join(f'{name} = "{value}"\n' for name, value in {**FLAT_RIM, **SEAL, **(fit or {})}.items())
    return loads(
        f'format = 1\nname = "plain"\n[settings]\ndraws = 50\n[roof]\ncrown = "{crown}"\ncamber = "{camber}"\n{profile}'
        f'[opening]\nlength = "{size[0]}"\nwidth = "{size[1]}"\n'
        f'[shell]\nlength = "{size[2]}"\nwidth = "{size[3]}"\n{overhang}\nmass = "45 kg"\n{shell}\n'
        f'[linkage]\nkind = "hinge"\nend = "{end}"\nopens = "30 deg"\nhinge = {hinge}\nspacing = "1 m"\n'
        f'[cut]\ncorner_radius = "50 mm"\n[fit]\n{keys}{more}'
    )


def nominal(project: Project) -> FitFound:
    return sits(basis(project, Nominal(inputs_of(project)))[0])


def drawn(project: Project) -> tuple[FitFound, Basis, Rows]:
    asked = Nominal(inputs_of(project))
    first, sense = basis(project, asked)
    sits(first)
    all_rows = rows(asked.inputs, asked.asked, project.settings.draws, project.settings.seed)
    base = basis(project, all_rows, sense)[0]
    return sits(base), base, all_rows


def check(found: FitFound, rule: Rule, which: str = "") -> Check:
    (one,) = (judged for judged in found.judged if judged.rule is rule and which in ("", judged.which))
    assert one.value is not None
    assert one.limit is not None
    return rule.judge(float(one.value[0]), float(one.limit[0]))


def on_hinges(found: FitFound) -> HingePackers:
    assert found.packers is not None
    return found.packers


def test_a_flat_rim_lies_on_a_flat_roof_and_the_stops_share_the_seal() -> None:
    found = nominal(roof())
    assert found.seat.largest[0] == pytest.approx(0.0, abs=1e-12)
    assert found.stand[0] == pytest.approx(0.012)
    assert found.rim_height[0] == pytest.approx(0.012)
    np.testing.assert_allclose(found.stops.height, 0.012, atol=1e-12)
    assert found.trim.largest[0] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("crown", "verdict"), [("6 mm", Verdict.HOLDS), ("7 mm", Verdict.FAILS)])
def test_crown_over_the_opening_becomes_a_gap_along_the_sides(crown: str, verdict: Verdict) -> None:
    """A dome that rises c over 1.2 m rises c (1.32 / 1.2)^2 over the rim; that is the gap, in 8 mm of seal."""
    found = nominal(roof(crown=crown))
    assert found.seat.largest[0] == pytest.approx(float(crown[0]) / 1000 * 1.21)
    assert check(found, GAP_RANGE).verdict is verdict


@pytest.mark.parametrize(("crown", "verdict"), [("6 mm", Verdict.HOLDS), ("10 mm", Verdict.FAILS)])
def test_stops_never_crush_a_seal_that_cannot_follow(crown: str, verdict: Verdict) -> None:
    """Seal of 8 to 16 mm: shared evenly while it can follow, else at its least where the gap is narrowest."""
    found = nominal(roof(crown=crown))
    gap = float(crown[:-3]) / 1000 * 1.21
    assert found.stand[0] == pytest.approx(max((0.024 - gap) / 2, 0.008))
    assert float(found.seal_height.max()) == pytest.approx(float(found.stand[0]) + gap)
    assert check(found, SEAL_LOOSE).verdict is verdict


@pytest.mark.parametrize(("allowance", "verdict"), [("5 mm", Verdict.HOLDS), ("4 mm", Verdict.FAILS)])
def test_what_the_seal_cannot_follow_must_come_off_the_rim(allowance: str, verdict: Verdict) -> None:
    found = nominal(roof(crown="10 mm", fit={"trim_allowance": allowance}))
    assert found.trim.largest[0] == pytest.approx(0.0121 - 0.008)
    assert check(found, TRIM).verdict is verdict


def test_a_rim_moulded_to_the_roof_leaves_no_gap() -> None:
    bent = {"rim_front": "12.1 mm", "rim_rear": "12.1 mm", "rim_sides": "6.05 mm"}
    found = nominal(roof(crown="10 mm", camber="5 mm", fit=bent))
    assert found.seat.largest[0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("width", "verdict"), [("1.27 m", Verdict.HOLDS), ("1.25 m", Verdict.FAILS)])
def test_the_rim_reaches_past_the_hole_by_its_overhang(width: str, verdict: Verdict) -> None:
    found = nominal(roof(size=("2 m", "1.2 m", "2.2 m", width)))
    assert found.lap[0] == pytest.approx((float(width[:4]) - 1.2) / 2)
    assert check(found, LAP).verdict is verdict


@pytest.mark.parametrize(("written", "verdict"), [("15 mm", Verdict.HOLDS), ("20 mm", Verdict.FAILS)])
def test_the_rim_height_of_the_file_is_held_against_that_of_the_fit(written: str, verdict: Verdict) -> None:
    found = nominal(roof(shell=f'rim_height = "{written}"'))
    assert check(found, RIM_HEIGHT).verdict is verdict
    assert any("closed rim stands 12 mm" in said for said in found.said) is (verdict is Verdict.FAILS)


def test_a_packer_is_what_is_left_between_plate_and_roof() -> None:
    """On z = -c (2 y / W)^2 - a (2 (x - L/2) / L)^2, at x = 2.05 m, y = 0.5 m, over the roof at x = y = 0."""
    under = -0.018 * (1.0 / 1.2) ** 2 - 0.008 * 1.05**2 + 0.008
    found = on_hinges(nominal(roof(crown="18 mm", camber="8 mm")))
    np.testing.assert_allclose(found.made.middle[0], 0.050 - 0.012 - under, atol=1e-12)
    # Plate 60 mm wide: the roof falls outwards, so outer edges are thicker.
    rear_inner, rear_outer, _, _ = found.made.corners[0, 0]
    assert rear_outer - rear_inner == pytest.approx(0.018 * (1.06**2 - 0.94**2) / 1.44)
    assert found.least_height[0] == pytest.approx(0.050 - float(found.made.thinnest.min()) + 0.003)


@pytest.mark.parametrize(("least", "verdict"), [("37 mm", Verdict.HOLDS), ("39 mm", Verdict.FAILS)])
def test_a_packer_may_come_out_thinner_than_can_be_made(least: str, verdict: Verdict) -> None:
    found = nominal(roof(fit={"packer_least": least}))
    assert check(found, PACKER_THIN, "left").verdict is verdict


@pytest.mark.parametrize(("made", "verdict"), [("40 mm", Verdict.HOLDS), ("42 mm", Verdict.FAILS)])
def test_packers_as_made_say_where_the_hinge_is(made: str, verdict: Verdict) -> None:
    found = nominal(roof(fit={"packer": made}))
    moved = on_hinges(found).moved
    assert moved is not None
    assert moved[0] == pytest.approx(float(made[:2]) / 1000 - 0.038)
    assert check(found, HINGE_HEIGHT).verdict is verdict
    assert any("hinge axis 54 mm" in said for said in found.said) is (verdict is Verdict.FAILS)


def test_without_made_packers_their_height_is_not_judged() -> None:
    found = nominal(roof())
    assert on_hinges(found).pins is None
    assert HINGE_HEIGHT not in {judged.rule for judged in found.judged}


def test_a_side_hinge_is_the_same_roof_turned() -> None:
    """Turned by a quarter about z, width for length and crown for camber: gap, reach and packers are the same."""
    bent = {"rim_front": "3 mm", "rim_rear": "3 mm", "rim_sides": "1 mm", "plate_length": "90 mm"}
    along = nominal(roof(crown="12 mm", camber="7 mm", fit={**bent, "plate_width": "50 mm"}))
    turned = {**bent, "rim_front": "1 mm", "rim_rear": "1 mm", "rim_sides": "3 mm"}
    side = nominal(
        roof(
            crown="7 mm",
            camber="12 mm",
            end="right",
            size=("1.2 m", "2 m", "1.32 m", "2.2 m"),
            overhang='overhang_left = "0.1 m"',
            fit={**turned, "plate_length": "50 mm", "plate_width": "90 mm"},
        )
    )
    for name in ("stand", "lap", "rim_height"):
        assert getattr(side, name)[0] == pytest.approx(getattr(along, name)[0], abs=1e-9), name
    assert side.seat.largest[0] == pytest.approx(along.seat.largest[0], abs=1e-9)
    np.testing.assert_allclose(on_hinges(side).made.corners, on_hinges(along).made.corners, atol=1e-12)
    assert (on_hinges(side).sides, on_hinges(along).sides) == (("rear", "front"), ("right", "left"))


def test_a_measured_profile_tells_the_camber_that_nobody_stretched() -> None:
    points = ", ".join(f'["{x} m", "{-24 * x * (x - 2):.2f} mm"]' for x in (0.0, 0.5, 1.0, 1.5, 2.0))
    known = nominal(roof(camber="24 mm"))
    told = nominal(roof(camber="unknown", profile=f"profile = [{points}]\n"))
    np.testing.assert_allclose(told.seat.gap, known.seat.gap, atol=1e-9)
    np.testing.assert_allclose(on_hinges(told).made.middle, on_hinges(known).made.middle, atol=1e-9)


def measured(uneven: float) -> str:
    """Return fifteen points on a roof that bends unevenly along its length."""
    return "".join(
        f'[[roof_point]]\nx = "{x} m"\ny = "{y} m"\nheight = "{1000 * uneven * (x - 1) ** 3:.2f} mm"\n'
        for x in (0.0, 0.5, 1.0, 1.5, 2.0)
        for y in (-0.5, 0.0, 0.5)
    )


def test_the_shell_is_shifted_only_where_points_make_it_worth_while() -> None:
    """A rim bent like x^2 finds its bend on a roof that rises like x^3 by moving; never past what the lap allows."""
    bent = {"rim_sides": "4 mm", "slide": "40 mm"}
    assert nominal(roof(fit=bent, camber="4 mm")).seat.shift[0] == 0.0
    found = nominal(roof(fit=bent, more=measured(-0.020)))
    assert 0.0 < abs(found.seat.shift[0]) <= 0.030 + 1e-12
    assert found.lap[0] >= 0.030 - 1e-12
    held = nominal(roof(fit={**bent, "slide": "0 mm"}, more=measured(-0.020)))
    assert found.seat.largest[0] < held.seat.largest[0]


def test_other_shells_are_ranked_beside_yours() -> None:
    def other(name: str, rise: str, width: str) -> str:
        rim = "".join(f'{key} = "{rise}"\n' for key in ("rim_front", "rim_rear"))
        return (
            f'[[candidate]]\nname = "{name}"\nlength = "2.2 m"\nwidth = "{width}"\n{rim}'
            'rim_sides = "0 mm"\nrim_twist = "0 mm"\n'
        )

    more = other("moulded", "12.1 mm", "1.32 m") + other("narrow", "10 mm", "1.21 m")
    found = nominal(roof(crown="10 mm", more=more))
    assert found.ranking is not None
    assert found.ranking.order == ("moulded", YOURS, "narrow")
    assert found.ranking.covers == (True, True, False)


def test_an_unmeasured_rim_is_asked_for() -> None:
    found, base, all_rows = drawn(roof(crown="6 mm", fit={"rim_sides": "unknown"}))
    (gap,) = (judged for judged in found.judged if judged.rule is GAP_RANGE)
    said = decide(gap, all_rows, base.roof.possible)
    assert said.verdict is Verdict.NOT_KNOWN
    assert said.inputs[0] == "fit.rim_sides"


def test_the_chart_carries_the_seal_round_the_rim() -> None:
    found, _, all_rows = drawn(roof(crown="6 mm", fit={"rim_sides": "0 .. 4 mm", "corner_radius": "60 mm"}))
    chart = gap_chart(found, all_rows.draws)
    assert np.all(np.diff(chart.arc) > 0.0)
    np.testing.assert_allclose(chart.rim - chart.roof, chart.nominal, atol=1e-12)
    assert np.all(chart.low <= chart.high)
    assert np.any(chart.high - chart.low > 0.0005)
    assert (chart.seal_least, chart.seal_most) == (0.008, 0.016)


@pytest.mark.parametrize("view", ["along", "across"])
def test_templates_are_as_thick_as_the_packer(view: str) -> None:
    found = on_hinges(nominal(roof(crown="18 mm", camber="8 mm")))
    outlines = templates(found, view)
    np.testing.assert_allclose(outlines[:, :, 1].max(axis=1), found.made.middle[0], atol=1e-12)


PROJECTS = {
    **{name: demo(name) for name in DEMOS},
    **{
        lifts: loads(new_project(FiveAnswers(lifts)))
        for lifts in ("hinge front", "hinge rear", "arms", "level arms", "scissor")
    },
    "side": loads(SIDE.read_text(encoding="utf-8")),
    "guides": loads(
        re.sub(
            r"(?s)\[linkage\].*?\n\n",
            '[linkage]\nkind = "guides"\nend = "rear"\nrise = "0.4 m"\nguide = ["1.9 m", "-0.2 m"]\n'
            'guide_length = "0.3 m"\nguide_friction = "unknown"\n\n',
            demo_text("quellmere"),
        )
    ),
}


@pytest.mark.parametrize("name", PROJECTS)
def test_every_kind_of_roof_is_judged(name: str) -> None:
    """Each has its gap judged; packers belong to hinges alone, and what is left out is said."""
    project = PROJECTS[name]
    found, base, all_rows = drawn(project)
    assert found.seat.gap.shape == (base.rows, 96)
    assert float(found.seat.gap.min()) >= 0.0
    checks = [decide(judged, all_rows, base.roof.possible) for judged in found.judged]
    assert GAP_RANGE in {one.rule for one in checks}
    hinged = project.linkage.kind == "hinge"
    assert (PACKER_THIN in {one.rule for one in checks}) is hinged
    assert any(said.startswith("Packers are reckoned for hinges only") for said in found.said) is not hinged


@pytest.mark.parametrize("name", PROJECTS)
def test_every_key_of_the_fit_is_asked_for(name: str) -> None:
    project = PROJECTS[name]
    asked = set(drawn(project)[2].columns)
    of_hinges = {"plate_length", "plate_width", "axis_height", "packer_least", "packer"}
    sections = ("fit.", "roof_point.", "rim_point.", "candidate.")
    left = {path for path in inputs_of(project) if path.startswith(sections)} - asked
    allowed = set() if project.linkage.kind == "hinge" else {f"fit.{key}" for key in of_hinges}
    assert left <= allowed
