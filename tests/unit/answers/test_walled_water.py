"""Rain at the lower edge: exact constructed cases of a flat and a crowned roof, and verdicts on both sides."""

from __future__ import annotations

import re
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from loftwright.answers.draws import Nominal, rows
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.judging import decide
from loftwright.answers.wall_water_view import edges_of, water_section
from loftwright.answers.walled_water import OVER_TOP, WaterFound, the_water
from loftwright.cloth.rims import Heights, rounded
from loftwright.cloth.water_rules import END_LAP, HEM, LAP, STAPLES
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.wording import Wording
from loftwright.project.assemble_walls import open_pose
from loftwright.project.assemble_water import lid_sheds
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.newfile import FiveAnswers, new_project

ROOF = """
format = 1
name = "invented"
[settings]
draws = 50
[van]
[roof]
crown = "{crown} mm"
camber = "0 mm"
upstand = "{upstand} mm"
[opening]
length = "2 m"
width = "1.2 m"
[shell]
mass = "40 kg"
[linkage]
kind = "hinge"
end = "front"
opens = "30 deg"
hinge = ["2.03 m", "30 mm"]
spacing = "1 m"
[body]
roof_length = "3 m"
roof_width = "1.6 m"
rear_edge = "0.4 m"
[wind]
gust = "20 m/s"
[water]
parked = "{parked} deg"
splash = "10 mm"
lap = "{lap} mm"
end_lap = "60 mm"
"""


def roof(*, crown: float = 20.0, upstand: float = 100.0, parked: float = 0.0, lap: float = 50.0) -> Project:
    """Return an invented roof, sizes in millimetres and degrees."""
    return loads(ROOF.format(crown=crown, upstand=upstand, parked=parked, lap=lap))


@dataclass(frozen=True)
class Lines:
    """What water asks of the lines."""

    lower: Any
    skin: Any


def lines_of(base: Basis, staples: float) -> Any:
    """Return a line that runs `staples` [m] over the crowned skin of a hole 2 m by 1.2 m, of 100 mm corners."""
    crown = base.full(base.at("roof.crown"))
    skin = rounded(0.0 * crown, 2.0, 1.2, 0.1, Heights(height=0.0, crown=crown))
    return Lines(rounded(0.0 * crown, 2.0, 1.2, 0.1, Heights(height=staples, crown=crown)), skin.points[..., 2])


def water_of(project: Project, staples: float = 0.088) -> WaterFound:
    """Return the answer for the planned roof."""
    base = basis(project, Nominal(inputs_of(project)))[0]
    return the_water(base, lines_of(base, staples))


def checks_of(found: WaterFound, rule: Rule) -> dict[str, Check]:
    checks = {}
    for one in found.judged:
        if one.rule is rule:
            assert one.value is not None
            assert one.limit is not None
            checks[one.which] = one.rule.judge(float(one.value[0]), float(one.limit[0]))
    return checks


def test_heights_of_a_level_roof() -> None:
    """Parked level, a crowned roof sheds all water outward at its sides: nothing stands or runs there."""
    side = water_of(roof()).at("side")
    assert side.staples[0] == pytest.approx(0.088)
    assert side.upstand[0] == pytest.approx(0.100)
    assert side.hem[0] == pytest.approx(0.038)
    assert side.lap[0] == pytest.approx(0.050)
    assert side.water[0] == 0.0
    assert side.splash[0] == pytest.approx(0.010)
    # A parabola that falls 20 mm over half of 1.2 m falls by 4 x 20 / 1200 at its end.
    assert side.toward[0] == pytest.approx(-4 * 0.020 / 1.2)


def test_wind_holds_up_water() -> None:
    """Half rho v^2 over the weight of water: 0.5 x 1.25 x 400 / 9810 = 25.5 mm (computed here)."""
    assert water_of(roof()).at("front").driven[0] == pytest.approx(0.5 * 1.25 * 20.0**2 / 9810.0)


def test_water_runs_where_the_van_leans() -> None:
    level, leans = water_of(roof()), water_of(roof(parked=4.0))
    assert level.at("front").water[0] == 0.0
    assert leans.at("front").water[0] > 0.0
    # 0.4 m of roof behind the hole, 0.6 m before it: more rain comes from before.
    assert leans.at("front").running[0] > leans.at("rear").running[0]
    assert leans.at("corner").running[0] == pytest.approx(leans.at("front").running[0])


SHELL = (2.2, 1.4)
"""The lid of the constructed cases, length and width [m]."""


def lidded(linkage: str) -> tuple[Project, Basis]:
    text = re.sub(
        r"(?s)\[shell\].*?\[body\]",
        f'[shell]\nlength = "2.2 m"\nwidth = "1.4 m"\n[linkage]\n{linkage}[body]',
        ROOF.format(crown=0, upstand=100, parked=4, lap=50),
    )
    project = loads(text)
    return project, basis(project, Nominal(inputs_of(project)))[0]


HINGE = 'kind = "hinge"\nend = "{end}"\nopens = "30 deg"\nhinge = ["{x} m", "30 mm"]\n'
GUIDES = (
    'kind = "guides"\nend = "rear"\nrise = "0.5 m"\nguide = ["0.2 m", "0 mm"]\nguide_length = "0.3 m"\n'
    'guide_friction = "0.2"\n'
)


@pytest.mark.parametrize(
    ("linkage", "lean", "sheds"),
    [
        (HINGE.format(end="front", x=2.03), 30.0, (1.0, 0.0, 0.0)),
        (HINGE.format(end="rear", x=-0.03), 30.0, (0.0, 1.0, 0.0)),
        (HINGE.format(end="left", x=-0.03), 30.0, (0.0, 0.0, 1.0)),
        (GUIDES, 0.0, (0.0, 0.0, 0.5)),
    ],
)
def test_the_raised_lid_sheds_at_its_low_end(linkage: str, lean: float, sheds: tuple[float, ...]) -> None:
    """A lid of 2.2 by 1.4 m, seen from above: all of it at the hinge's end, or half at each side of a level one."""
    project, base = lidded(linkage)
    plan = SHELL[0] * SHELL[1] * np.cos(np.radians(lean))
    found = lid_sheds(project, base.at, open_pose(base.roof)[2])
    assert [float(one[0]) for one in found] == pytest.approx([plan * share for share in sheds], abs=1e-9)


def test_the_lid_s_rain_runs_along_the_low_end() -> None:
    """Flat skin, 4 degrees: 1.2 m of edge times 0.6 m before the hole, and the lid; HEC-22, equation 4-2, by hand."""
    _, base = lidded(HINGE.format(end="front", x=2.03))
    water = the_water(base, lines_of(base, 0.088))
    fall = np.tan(np.radians(4.0))
    flow = 100.0 / 1000.0 / 3600.0 * (1.2 * 0.6 + SHELL[0] * SHELL[1] * np.cos(np.radians(30.0)))
    spread = (flow * 0.011 / (0.376 * fall ** (5.0 / 3.0) * np.sqrt(fall))) ** 0.375
    assert water.at("front").running[0] == pytest.approx(fall * spread)
    assert any("raised lid" in sentence for sentence in water.said)


def test_splash_that_nobody_measured_is_a_range() -> None:
    """10 to 30 mm, judgement: a line 25 mm high is safe in drizzle and not in a cloudburst."""
    text = ROOF.format(crown=20, upstand=100, parked=0, lap=10).replace('splash = "10 mm"\n', "")
    project = loads(text)
    splash = project.water.splash
    assert (splash.low, splash.nominal, splash.high) == pytest.approx((0.010, 0.020, 0.030))
    for staples, verdict in ((0.025, Verdict.NOT_KNOWN), (0.045, Verdict.HOLDS)):
        drawn, found = _drawn(project, staples)
        one = next(one for one in found.judged if one.rule is STAPLES and one.which == "side")
        check = decide(one, drawn, np.ones(drawn.count, dtype=np.bool_))
        assert check.verdict is verdict
        assert check.inputs[0] == "water.splash"


def test_only_cloth_with_ends_is_judged_by_them() -> None:
    sewn = loads(ROOF.format(crown=20, upstand=100, parked=0, lap=50).replace('end_lap = "60 mm"\n', ""))
    assert checks_of(water_of(sewn), END_LAP) == {}
    assert checks_of(water_of(roof()), END_LAP)["corner"].verdict is Verdict.HOLDS
    for project, there in ((sewn, False), (roof(), True)):
        drawn, found = _drawn(project)
        walls: Any = SimpleNamespace(found=SimpleNamespace(water=found), rows=drawn)
        labels = [fact.label for fact in water_section(walls, (), Wording()).facts]
        assert ("Ends of the cloth overlap" in labels) is there


def test_what_barely_holds_is_said_to() -> None:
    drawn, found = _drawn(roof())
    walls: Any = SimpleNamespace(found=SimpleNamespace(water=found), rows=drawn)
    for holding, words in (
        (0.395, "Rain stays out, but barely (79 of 200 roofs like yours): "),
        (0.9, "Rain stays out: "),
    ):
        basis_of = f"{round(200 * holding)} of 200 roofs like yours hold"
        check = HEM.judge(0.012, 0.010, basis=basis_of, holding=holding)
        sure = STAPLES.judge(0.09, 0.02, basis="200 of 200 roofs like yours hold", holding=1.0)
        assert water_section(walls, (check, sure), Wording()).says.startswith(words)


def test_staples_that_water_reaches_are_refused() -> None:
    assert checks_of(water_of(roof(parked=4.0)), STAPLES)["front"].verdict is Verdict.HOLDS
    low = water_of(roof(parked=4.0), staples=0.012)
    assert checks_of(low, STAPLES)["front"].verdict is Verdict.FAILS


def test_lap_against_wind_and_hem_over_water() -> None:
    long, short = water_of(roof(parked=4.0, lap=50.0)), water_of(roof(parked=4.0, lap=20.0))
    assert checks_of(long, LAP)["front"].verdict is Verdict.HOLDS
    assert checks_of(short, LAP)["front"].verdict is Verdict.FAILS
    assert checks_of(long, HEM)["front"].verdict is Verdict.HOLDS
    assert checks_of(water_of(roof(parked=4.0, lap=88.0)), HEM)["front"].verdict is Verdict.FAILS


def test_a_line_over_the_upstand_is_said() -> None:
    assert OVER_TOP in water_of(roof(upstand=40.0)).said
    assert OVER_TOP not in water_of(roof()).said


def test_a_profile_tells_the_fall_at_each_end() -> None:
    """A roof that falls to its rear end only: 30 mm there, level in front."""
    text = ROOF.format(crown=0, upstand=100, parked=0, lap=50).replace(
        "[opening]", 'profile = [["0 m", "-30 mm"], ["1 m", "0 mm"], ["2 m", "0 mm"]]\n[opening]'
    )
    project = loads(text)
    base = basis(project, Nominal(inputs_of(project)))[0]
    found = the_water(base, lines_of(base, 0.088))
    assert found.at("rear").toward[0] < found.at("front").toward[0]


def _drawn(project: Project, staples: float = 0.088) -> tuple[Any, WaterFound]:
    nominal = Nominal(inputs_of(project))
    base, sense = basis(project, nominal)
    the_water(base, lines_of(base, staples))
    drawn = rows(nominal.inputs, nominal.asked, 50, 1)
    many = basis(project, drawn, sense)[0]
    return drawn, the_water(many, lines_of(many, staples))


@pytest.mark.parametrize("name", DEMOS)
def test_every_row_is_finite(name: str) -> None:
    drawn, found = _drawn(demo(name))
    assert {"water.parked", "water.splash", "water.lap", "wind.gust"} <= drawn.columns.keys()
    for one in found.judged:
        assert one.value is not None
        assert one.limit is not None
        assert np.isfinite(np.broadcast_to(one.value, drawn.count)).all()
        assert np.isfinite(np.broadcast_to(one.limit, drawn.count)).all()


def test_a_new_file_has_an_answer() -> None:
    project = loads(new_project(FiveAnswers()))
    assert {section.place for section in water_of(project).sections} == {"front", "rear", "side", "corner"}


@pytest.mark.parametrize(("units", "staples"), [("metric", "88 mm"), ("imperial", "3 7/16 in")])
def test_what_is_shown(units: Any, staples: str) -> None:
    """88 mm is 3.46 in: 3 7/16 to the sixteenth (computed here)."""
    drawn, found = _drawn(roof(parked=4.0))
    walls: Any = SimpleNamespace(found=SimpleNamespace(water=found), rows=drawn)
    checks = tuple(check for rule in (STAPLES, LAP) for check in checks_of(found, rule).values())
    section = water_section(walls, checks, Wording(units))
    assert section.part == "water"
    assert section.says.startswith("Rain stays out: ")
    assert staples in section.says
    assert len(section.rows) == len(checks)
    assert [row[0] for row in section.grids[0].rows] == ["Front", "Rear", "Sides", "Corners"]
    assert all(row[4] == staples for row in section.grids[0].rows)
    edges = edges_of(walls, Wording(units))
    assert all(edge.line == pytest.approx(0.088) and edge.hem == pytest.approx(0.038) for edge in edges)
    assert all(("staples", 0.0, edge.line, staples) in edge.sizes for edge in edges)


def test_a_staple_line_in_the_water_is_said() -> None:
    drawn, found = _drawn(roof(parked=4.0), staples=0.012)
    walls: Any = SimpleNamespace(found=SimpleNamespace(water=found), rows=drawn)
    front = edges_of(walls, Wording())[0]
    assert front.says.startswith("Water reaches the staples: raise their line by ")
    assert front.hem == 0.0
    assert water_section(walls, tuple(checks_of(found, STAPLES).values()), Wording()).says.startswith("Rain gets in: ")


def test_no_lap_serves_wind_and_hem_on_a_low_line() -> None:
    """Driven rain stands 25.5 mm high; 30 mm of staples leave 22 mm over level ground: 3.5 mm are wanting."""
    drawn, found = _drawn(roof(), staples=0.030)
    walls: Any = SimpleNamespace(found=SimpleNamespace(water=found), rows=drawn)
    notes = {fact.label: fact.note for fact in water_section(walls, (), Wording()).facts}
    assert "a staple line 3.5 mm higher" in notes["Longest lap whose hem stays dry"]
    drawn, found = _drawn(roof())
    walls = SimpleNamespace(found=SimpleNamespace(water=found), rows=drawn)
    notes = {fact.label: fact.note for fact in water_section(walls, (), Wording()).facts}
    assert notes["Longest lap whose hem stays dry"].endswith("the wind asks for less")
