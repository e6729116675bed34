"""The force tables: what each force adds, and what is said of letting go. Exact constructed cases."""

from __future__ import annotations

import itertools
import re

import numpy as np
import pytest

from loftwright.answers.forces import adds_to_pull, adds_to_push, force_view
from loftwright.answers.judged_roof import judged_roof
from loftwright.core.errors import Bug
from loftwright.mechanics.feel import STATES
from loftwright.project.demos import DEMOS, demo
from loftwright.project.file import edited, loads


@pytest.mark.parametrize("name", DEMOS)
def test_what_the_forces_add_makes_up_the_whole_push(name: str) -> None:
    """Weight, springs, friction and what the other forces add are the push and the pull, at every station."""
    found = judged_roof(demo(name)).numbers
    drive, path = found.felt.drive, found.felt.drive.hand_path[0]
    for row in range(len(STATES)):
        up = drive.weight[0] + sum(s[row, 0] for s in drive.springs_raising) - drive.friction[0]
        down = drive.weight[0] + sum(s[row, 0] for s in drive.springs_lowering) + drive.friction[0]
        heat, _ = STATES[row]
        # Wet cloth and a load on top weigh on cold days only; the pull of tight cloth is told apart.
        loads = (*found.felt.loads, *found.felt.wet) if heat == "cold" else found.felt.loads
        pushes = -up / path + sum(adds_to_push(found, load) for load in loads)
        pulls = down / path + sum(adds_to_pull(found, load) for load in loads)
        np.testing.assert_allclose(pushes, found.felt.push_up[row, 0], rtol=1e-9, atol=1e-9)
        np.testing.assert_allclose(pulls, found.felt.pull_down[row, 0], rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize("name", DEMOS)
def test_letting_go_covers_the_whole_travel(name: str) -> None:
    view = force_view(judged_roof(demo(name)).numbers)
    assert len(view.let_go) == len(STATES)
    for _, said in view.let_go:
        stretches = said.split("; ")
        assert stretches[-1].endswith(("up to open", "everywhere"))
        ends = [float(end) for end in re.findall(r"up to ([\d.]+) %", said)]
        assert ends == sorted(ends)
        words = [stretch.split()[0] for stretch in stretches]
        assert all(a != b for a, b in itertools.pairwise(words))


def test_a_roof_without_springs_falls_everywhere() -> None:
    from loftwright.project.demos import demo_text

    text = demo_text("fennimoor")
    cut = text[: text.index("[[spring]]")] + text[text.index("[temperatures]") :]
    # Readings of the tape on springs go with them.
    cut = cut[: cut.index("[[tape]]")]
    text = edited(cut, {"forces.seal_line": "30 N/m", "linkage.friction": "0 N m"})
    view = force_view(judged_roof(loads(text)).numbers)
    assert {said for _, said in view.let_go} == {"falls everywhere"}
    assert re.match(r"Everything removable taken off, .*: near closed it still needs \d", view.losses[-1])
    assert view.losses[-1].endswith("with 0 m/s.")
    assert not any(grid.title.startswith("One of") for grid in view.grids)


def test_a_grid_must_have_rows() -> None:
    with pytest.raises(Bug, match="every 0 percent"):
        force_view(judged_roof(demo("fennimoor")).numbers, every=0)
