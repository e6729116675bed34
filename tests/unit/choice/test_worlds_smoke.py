"""The benchmark's worlds: its judge and the product's windows say the same of the same roof and springs.

The two are written apart: the judge from moments about the hinge, the windows from lengths and their rates. Beside
that only nitrogen's pressure is shared. Constructed here, no outside source.
"""

import importlib
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from loftwright.choice.odds import holds
from loftwright.choice.window import bounds, ends_from
from loftwright.core.motion import Array
from loftwright.mechanics.gas_spring import GasSpring, at_temperature

BENCHMARKS = Path(__file__).parents[3] / "benchmarks"


@pytest.fixture
def bench(monkeypatch: pytest.MonkeyPatch) -> dict[str, ModuleType]:
    monkeypatch.syspath_prepend(str(BENCHMARKS))
    return {name: importlib.import_module(f"worlds.{name}") for name in ("draw", "judge", "knowledge", "margin_search")}


@pytest.mark.parametrize("number", [0, 1, 2])
def test_judge_and_windows_agree(bench: dict[str, ModuleType], number: int) -> None:
    draw, knowledge = bench["draw"], bench["knowledge"]
    made = draw.world(number, 5)
    entries = made.entries
    random = made.random(90)
    rows = margin_rows(bench, made, random)
    agreed, good = 0, 0
    for _ in range(6):
        d = replace(knowledge.drawn(made, 1, random), apart=np.zeros(1))
        both = np.ones((1, draw.SPRINGS))
        springs = draw.Springs(
            (entries.force_1 * (1 + entries.tolerance * d.delivered))[:, None] * both,
            (entries.loop + entries.loop_doubt * d.loop)[:, None] * both,
            (entries.extended + entries.length_doubt * d.length)[:, None] * both,
            entries.ratio + entries.ratio_doubt * d.ratio,
            entries.stroke,
            entries.rod_diameter,
        )
        roof = draw.Roof(
            *(float(v[0]) for v in (d.lip, d.mass, d.centre_x, d.centre_z, d.drag, d.opening)),
            mount=np.array([v[0] for v in (d.foot_x, d.foot_z, d.head_x, d.head_z)]),
        )
        judged = bench["judge"].Judge(roof, springs).holds(rows)
        lift = knowledge.lift_of(d, upright=False)
        picked = entries.pick(rows[:, 0].astype(np.intp))
        said = holds(lift, picked, bounds(lift, made.pair, ends_from(rows[:, 1:]), picked))[:, 0]
        agreed += int((judged == said).sum())
        good += int(judged.sum())
    # Friction of a spring delivered stronger is counted a hair apart: cases within 0.2 N of a limit may differ.
    assert agreed >= 0.98 * 6 * len(rows)
    assert 0.05 < good / (6 * len(rows)) < 0.98


def margin_rows(bench: dict[str, ModuleType], made: object, random: np.random.Generator) -> Array:
    """Return fits round one that keeps its margins in the middle of all that is known."""
    draw, knowledge, margins = bench["draw"], bench["knowledge"], bench["margin_search"]
    fit, _ = margins.search(made, knowledge.middle(made), draw.nominal_springs(made.entries), random)  # type: ignore[attr-defined]
    rows = np.repeat(fit[None], 80, axis=0)
    rows[:, 1:] += 0.008 * random.normal(size=(80, 4))
    return np.asarray(rows)


def test_a_world_is_the_same_every_time(bench: dict[str, ModuleType]) -> None:
    one, two, other = (bench["draw"].world(number, 5) for number in (7, 7, 8))
    assert one.survey == two.survey
    assert np.array_equal(one.springs.force_1, two.springs.force_1)
    assert one.survey != other.survey


def test_the_warming_in_nested_form_is_that_of_the_product(bench: dict[str, ModuleType]) -> None:
    random = np.random.default_rng(3)
    force, ratio, loop = random.uniform(100, 800, 50), random.uniform(1.2, 1.45, 50), random.uniform(40, 120, 50)
    rod, kelvin = np.where(random.random(50) < 0.5, 0.008, 0.010), random.uniform(260, 320, 50)
    first, grown = bench["knowledge"].warmed(force, ratio, loop, rod, kelvin)
    expected = at_temperature(GasSpring(force, ratio, loop, force, force, rod), kelvin)
    np.testing.assert_allclose(first, expected.force_1, rtol=1e-12)
    np.testing.assert_allclose(grown, expected.ratio, rtol=1e-12)
