"""Coil springs, torsion springs and cords in the project file: every key counts, every fault is one sentence."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from loftwright.answers.forces import force_view
from loftwright.answers.judged_roof import draw_rows, judged_roof
from loftwright.answers.numbers import results
from loftwright.answers.side_view import scene
from loftwright.core.checks import Verdict
from loftwright.core.errors import ProjectFault
from loftwright.mechanics.feel import state
from loftwright.mechanics.lifter_rules import LIFTER_LENGTH
from loftwright.mechanics.rules import ONE_LOST
from loftwright.project.demos import demo_text
from loftwright.project.file import loads
from loftwright.project.model import Project, walk
from loftwright.reference.cautions import ALWAYS, WOUND

COIL = """
[[coil]]
name = "pulling spring"
foot = ["1.30 m", "-180 mm"]
head = ["2.00 m", "-150 mm"]
sideways = "0 .. 10 mm"
rate = "0.5 N/mm"
free_length = "500 mm"
initial = "20 N"
limit_length = "900 mm"
"""
TORSION = """
[[torsion]]
name = "bar"
moment = "20 N m"
per_degree = "0.4 N m"
"""
CORD = """
[[cord]]
foot = ["1.30 m", "-180 mm"]
head = ["1.95 m", "-100 mm"]
slack_length = "400 mm"
point = [{ length = "640 mm", force = "8 kg" }, { length = "800 mm", force = "13 kg" }]
lost = "10 %"
"""
ALL = COIL + TORSION + CORD


def with_gear(text: str, base: str = "fennimoor") -> Project:
    return loads(demo_text(base) + text)


@cache
def full() -> Project:
    return with_gear(ALL)


def test_every_quantity_is_asked_for() -> None:
    asked = set(draw_rows(full())[0].columns)
    gear = {path for path in walk(full()) if path.split(".")[0] in ("coil", "torsion", "cord")}
    # Coil: two ends, sideways, rate, free length, initial, limit; torsion: two; cord: two ends, sideways, slack,
    # two points, share lost.
    assert len(gear) == 9 + 2 + 11
    assert gear <= asked


@pytest.mark.parametrize(
    ("old", "new", "of"),
    [
        ('rate = "0.5 N/mm"', 'rate = "0.8 N/mm"', "pulling spring"),
        ('free_length = "500 mm"', 'free_length = "550 mm"', "pulling spring"),
        ('initial = "20 N"', 'initial = "60 N"', "pulling spring"),
        ('head = ["2.00 m", "-150 mm"]', 'head = ["1.90 m", "-150 mm"]', "pulling spring"),
        ('sideways = "0 .. 10 mm"', 'sideways = "200 mm"', "pulling spring"),
        ('name = "pulling spring"', 'name = "pulling spring"\nper_side = 2', "pulling spring"),
        ('initial = "20 N"\nlimit_length = "900 mm"', 'kind = "pushes"', "pulling spring"),
        ('moment = "20 N m"', 'moment = "30 N m"', "bar"),
        ('per_degree = "0.4 N m"', 'per_degree = "0.1 N m"', "bar"),
        ('name = "bar"', 'name = "bar"\nper_side = 2', "bar"),
        ('slack_length = "400 mm"', 'slack_length = "600 mm"', "elastic cord"),
        ('force = "8 kg"', 'force = "9 kg"', "elastic cord"),
        ('length = "640 mm"', 'length = "610 mm"', "elastic cord"),
        ('lost = "10 %"', 'lost = "30 %"', "elastic cord"),
        ('foot = ["1.30 m", "-180 mm"]\nhead = ["1.95', 'foot = ["1.20 m", "-180 mm"]\nhead = ["1.95', "elastic cord"),
    ],
)
def test_every_key_changes_what_the_hand_feels(old: str, new: str, of: str) -> None:
    from loftwright.answers.draws import Nominal
    from loftwright.answers.judged_roof import assembled, inputs_of
    from loftwright.mechanics.feel import feel

    def push(text: str) -> tuple[np.ndarray, np.ndarray]:
        project = with_gear(text)
        felt = feel(assembled(project, Nominal(inputs_of(project)), stations=21).roof)
        assert of in [lifter.name for lifter in felt.lifters]
        return felt.push_up[state("mild", "new")], felt.pull_down[state("mild", "new")]

    assert ALL.count(old) == 1
    before, after = push(ALL), push(ALL.replace(old, new))
    assert max(np.abs(a - b).max() for a, b in zip(before, after, strict=True)) > 0.3


def test_lengths_hold_and_fail() -> None:
    checks = [c for c in judged_roof(full()).checks if c.rule is LIFTER_LENGTH]
    assert len(checks) == 2
    assert all(c.verdict is Verdict.HOLDS for c in checks)
    short = judged_roof(with_gear(ALL.replace('limit_length = "900 mm"', 'limit_length = "550 mm"')))
    check = next(c for c in short.checks if c.rule is LIFTER_LENGTH and "pulling spring" in c.words)
    assert check.verdict is Verdict.FAILS


def without_springs(text: str) -> Project:
    """Return the demo without gas springs, and without a prop, on other springs alone."""
    before, _, after = demo_text("fennimoor").partition("[[spring]]")
    rest = after.partition("[temperatures]")[2].split("# Where brackets could go")[0].split("[[zone]]")[0]
    bare = f"{before}[temperatures]{rest}".replace("prop_fitted = true", "prop_fitted = false")
    return loads(bare + text)


def test_one_of_a_lifter_lost_is_judged_without_a_prop() -> None:
    weak_text = TORSION.replace("20 N m", "300 N m").replace("0.4 N m", "0.5 N m")
    strong_text = TORSION.replace("20 N m", "900 N m").replace("0.4 N m", "1 N m")
    weak, strong = without_springs(weak_text), without_springs(strong_text.replace('"bar"', '"bar"\nper_side = 4'))
    found = [next(c for c in judged_roof(p).checks if c.rule is ONE_LOST) for p in (strong, weak)]
    assert found[0].verdict is Verdict.HOLDS
    assert found[1].verdict is Verdict.FAILS
    numbers = judged_roof(weak).numbers
    assert [failure.what for failure in numbers.failures] == ["one bar lost"]


def test_they_are_told_in_tables_json_and_drawing() -> None:
    found = judged_roof(full())
    names = ["pulling spring", "bar", "elastic cord"]
    others = next(g for g in force_view(found.numbers).grids if g.title.startswith("What the other forces add"))
    assert set(names) <= {row[0] for row in others.rows}
    told = results(found)["lifters"]
    assert [one["name"] for one in told] == names
    assert told[1]["length_m"] is None
    # What each adds to the push is what the hand is spared.
    drive = found.numbers.felt.drive
    spared = -(drive.lifters_raising[0][0] / drive.hand_path[0])
    assert told[0]["adds_to_push_n"] == pytest.approx(spared.tolist(), rel=1e-6)
    assert [s.name for s in scene(found.numbers).springs][-2:] == ["pulling spring", "elastic cord"]
    assert results(found)["cautions"] == [WOUND, *ALWAYS]
    assert results(judged_roof(loads(demo_text("fennimoor"))))["cautions"] == list(ALWAYS)
    assert any("lift alike in cold, heat and age" in said for said in found.assumptions)
    assert not any("lift alike" in said for said in judged_roof(loads(demo_text("fennimoor"))).assumptions)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (TORSION.replace('name = "bar"', 'at = "arm a"'), "has no such pivot"),
        (COIL.replace("[[coil]]", '[[coil]]\nhead_on = "arm b"'), "there are no arms"),
        (COIL.replace('head = ["2.00 m", "-150 mm"]', 'head = ["1.30 m", "-180 mm"]'), "it lies on the foot"),
        (
            COIL.replace("[[coil]]", '[[coil]]\nkind = "pushes"').replace('limit_length = "900 mm"', ""),
            "wound so tight",
        ),
        (COIL.replace('limit_length = "900 mm"', 'limit_length = "400 mm"'), "gets longer than its free length"),
        (
            CORD.replace('point = [{ length = "640 mm", force = "8 kg" }, { length = "800 mm", force = "13 kg" }]', ""),
            "how hard the cord pulls",
        ),
        (CORD.replace('length = "800 mm"', 'length = "630 mm"'), "must be more than 640 mm"),
        (CORD.replace('force = "13 kg"', 'force = "5 kg"'), "pulls no less than"),
    ],
)
def test_every_fault_is_one_sentence(text: str, words: str) -> None:
    with pytest.raises(ProjectFault, match=words) as refusal:
        with_gear(text)
    assert len(refusal.value.faults) == 1


def test_torsion_at_the_hinge_needs_a_hinge() -> None:
    with pytest.raises(ProjectFault, match="has no such pivot"):
        with_gear(TORSION, "ottergate")
    assert with_gear(TORSION.replace('name = "bar"', 'at = "arm b"'), "ottergate").torsion[0].at == "arm b"


def test_both_ends_on_one_arm_move_nothing() -> None:
    both = COIL.replace("[[coil]]", '[[coil]]\nfoot_on = "arm a"\nhead_on = "arm a"')
    with pytest.raises(ProjectFault, match="both ends are on the same part"):
        with_gear(both, "ottergate")
