"""Sections on the choice of springs: zones, springs at hand with their test at home, readings of the built roof."""

from __future__ import annotations

import math
import tomllib
from typing import Any

import numpy as np
import pytest

from loftwright.core.lifting import Entries
from loftwright.core.uncertain import Provenance, exact, normal
from loftwright.mechanics.gas_spring import GasSpring, moving_in, moving_out
from loftwright.project import assemble
from loftwright.project.choice_sections import AtHand, Choice, HandReading, HomeTest, Tape, Zone
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import edited, loads
from loftwright.project.keys import Section, members
from loftwright.project.model import Project
from loftwright.project.points import Point
from loftwright.project.stock import PIECES_DOUBT, entries_of, home_force
from loftwright.project.zones import zones_of
from loftwright.reference.measuring import measurement, plain_path

NEW = {"choice": Choice, "zone": Zone, "at_hand": AtHand, "reading": HandReading, "tape": Tape}


def bare(name: str) -> str:
    """Return a demo without the sections on the choice of springs."""
    lines, kept, there = demo_text(name).splitlines(), [], True
    for line in lines:
        if line.startswith("["):
            there = line.strip("[]").split(".")[0] not in NEW
        if there:
            kept.append(line)
    return "\n".join(kept) + "\n"


# --- what files say ---------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_a_file_without_the_sections_means_what_it_did(name: str) -> None:
    project, full = loads(bare(name)), demo(name)
    assert project.choice == Choice(per_side_most=1, ratings=3, holes=5, hole_spacing=exact(0.025))
    assert project.zone == project.at_hand == project.reading == project.tape == ()
    others = set(Project.model_fields) - set(NEW)
    assert all(getattr(project, field) == getattr(full, field) for field in others)
    # Nothing that an answer on the roof draws comes from these sections.
    assert assemble.quantities(project) == assemble.quantities(full)


def test_what_is_left_out_is_taken_as_said() -> None:
    text = bare("fennimoor") + (
        '[[reading]]\nhow_open = "40 %"\nway = "pull down"\nforce = "6.1 kg, measured"\n'
        '[[tape]]\nstep = "hinges"\nwhat = "lip height"\nreads = "1.0 m"\n'
        '[[at_hand]]\nforce = "500 N"\nstroke = "250 mm"\nextended_length = "560 mm"\n'
    )
    project = loads(text)
    reading, tape, hand = project.reading[0], project.tape[0], project.at_hand[0]
    assert reading.temperature == project.temperatures.mild
    assert (reading.after, reading.scale, reading.spring, reading.foot, reading.head) == (
        1,
        "luggage scale",
        None,
        None,
        None,
    )
    assert reading.force.nominal == pytest.approx(6.1 * 9.80665)
    assert tape.how_open.nominal == 1.0
    assert (hand.pieces, hand.home_test, hand.force_is) == (2, None, "F1")
    assert hand.friction.provenance is Provenance.UNKNOWN


def test_an_unknown_word_of_a_spring_at_hand_widens_its_force() -> None:
    text = bare("fennimoor") + (
        '[[at_hand]]\nforce = "500 N"\nforce_is = "unknown"\nfriction = "40 N"\nfriction_is = "unknown"\n'
        'stroke = "250 mm"\nextended_length = "560 mm"\n'
    )
    hand = loads(text).at_hand[0]
    assert (hand.friction.low, hand.friction.high) == (40.0, 80.0)
    assert (hand.force.low, hand.force.high) == (460.0, 540.0)


def test_keys_can_be_changed_one_by_one() -> None:
    text = edited(demo_text("fennimoor"), {"at_hand.0.home_test.reads_in": "36 kg", "zone.0.from.x": "1.35 m"})
    project = loads(edited(text, {"choice.ratings": 4, "reading.0.way": "pull down"}))
    assert project.at_hand[0].home_test is not None
    assert project.at_hand[0].home_test.reads_in.nominal == pytest.approx(36 * 9.80665)
    assert project.zone[0].from_.x.nominal == 1.35
    assert (project.choice.ratings, project.reading[0].way) == (4, "pull down")


def test_what_is_measured_says_how_and_in_how_many_minutes() -> None:
    for path in ("at_hand.0.home_test.reads_in", "at_hand.0.home_test.reads_out"):
        known = measurement(path)
        assert known is not None
        assert known.minutes == 20
        assert "nobody in line with the rod" in known.how
    for path in ("zone.0.from.x", "reading.0.force", "tape.0.reads", "at_hand.0.stroke"):
        assert measurement(path) is not None, plain_path(path)


# --- the demo's tape, by trigonometry ---------------------------------------------------------------


def test_the_demos_tape_readings_agree_with_its_drawing() -> None:
    """Second way: points of the file turned about the hinge as complex numbers, computed here."""
    project = demo("fennimoor")

    def at(point: Point | None) -> complex:
        assert point is not None
        return complex(point.x.nominal, point.z.nominal)

    hinge, shell, spring = at(project.linkage.hinge), project.shell, project.spring[0]
    lip = complex(-shell.overhang_rear.nominal, shell.rim_height.nominal)

    def turned(point: complex, share: float) -> complex:
        return hinge + (point - hinge) * np.exp(-1j * share * project.linkage.opens.nominal)

    across = (project.linkage.spacing.nominal + shell.width.nominal) / 2
    for tape in project.tape:
        share = tape.how_open.nominal
        expected = {
            "lip height": turned(lip, share).imag,
            "diagonal": math.hypot(abs(lip - hinge), across),
            "spring length": abs(turned(at(spring.head), share) - at(spring.foot)),
        }[tape.what]
        assert tape.reads.nominal == pytest.approx(expected, abs=0.005)


# --- the test at home -------------------------------------------------------------------------------


def test_a_spring_with_known_forces_is_found_again() -> None:
    """A constructed case: a spring with known forces stands 400 mm from the edge of a plank of 1.2 m."""
    spring = GasSpring(*(np.array(v) for v in (600.0, 1.3, 50.0, 0.25, 0.58, 0.01)))
    middle = np.array([0.01])
    out, into = float(moving_out(spring, middle)[0]), float(moving_in(spring, middle)[0])
    # The scales carry what is left of the push by moments about the edge.
    test = HomeTest(
        reads_in=exact(into * 0.4 / 1.2), reads_out=exact(out * 0.4 / 1.2), plank=exact(1.2), spring_at=exact(0.4)
    )
    found = home_force(test, 1.3, 0.25)
    assert found.force_1 == pytest.approx(600.0)
    assert found.loop == pytest.approx(50.0)
    # Where it stands in the first 20 mm is not known: the force grows by a twentieth of its growth there, 0.9 %.
    assert found.force_doubt == pytest.approx(600.0 * (1 - 1 / 1.3) * 0.01 / 0.25)
    on_scales = HomeTest(reads_in=exact(into), reads_out=exact(out))
    assert home_force(on_scales, 1.3, 0.25).force_1 == pytest.approx(found.force_1)


def test_the_doubt_of_a_test_is_that_of_many_tests() -> None:
    """Second way: the readings and lengths drawn 20 000 times and their two standard deviations taken."""
    test = HomeTest(
        reads_in=normal(240.0, 5.0),
        reads_out=normal(220.0, 5.0),
        plank=normal(1.2, 0.006),
        spring_at=normal(0.4, 0.004),
    )
    found = home_force(test, 1.3, 0.25)
    draw = np.random.default_rng(7).standard_normal((5, 20_000)) / 2
    into, out = 240 + 5 * draw[0], 220 + 5 * draw[1]
    lever = (1.2 + 0.006 * draw[2]) / (0.4 + 0.004 * draw[3])
    middle = 0.01 + 0.01 * draw[4]
    force_1 = lever * out * (1 - (1 - 1 / 1.3) * middle / 0.25)
    assert found.force_1 == pytest.approx(force_1.mean(), rel=2e-3)
    assert found.force_doubt == pytest.approx(2 * force_1.std(), rel=0.03)
    loop = lever * (into - out)
    assert found.loop_doubt == pytest.approx(2 * loop.std(), rel=0.03)


def hand(**more: Any) -> AtHand:
    given = {
        "name": "pair",
        "pieces": 1,
        "force": exact(500.0, Provenance.LABEL),
        "force_is": "F1",
        "ratio": normal(1.3, 0.02),
        "friction": normal(40.0, 8.0),
        "friction_is": "full loop",
        "stroke": exact(0.25),
        "extended_length": normal(0.56, 0.002),
        "rod_diameter": exact(0.008),
        "tube_diameter": exact(0.018),
        "tolerance": exact(0.05),
        "end_limit": normal(1200.0, 200.0),
    }
    return AtHand(**{**given, **more})


def test_entries_are_what_a_list_of_springs_means() -> None:
    half = hand(
        friction=normal(20.0, 4.0), friction_is="half loop", force=exact(540.0, Provenance.LABEL), force_is="F3"
    )
    weighed = hand(force=normal(500.0, 10.0, Provenance.MEASURED), pieces=2)
    listed = entries_of([hand(), half, weighed])
    found = listed.entries
    assert found.force_1.tolist() == [500.0, 500.0, 500.0]
    assert found.loop.tolist() == [40.0, 40.0, 40.0]
    assert found.loop_doubt.tolist() == [8.0, 8.0, 8.0]
    assert found.ratio_doubt[0] == pytest.approx(0.02)
    assert found.length_doubt[0] == pytest.approx(0.002)
    # Listed: as delivered. Listed as F3: with the friction's doubt. Measured: as read.
    assert found.tolerance.tolist() == pytest.approx([0.05, math.hypot(0.05, 8 / 500), 0.02])
    assert found.end_limit.tolist() == [1000.0, 1000.0, 1000.0]
    assert listed.pieces.tolist() == [1, 1, 2]
    assert np.isnan(found.price).all()
    assert listed.said == ()


def test_alike_springs_share_a_body_and_others_do_not() -> None:
    stronger = hand(force=exact(700.0, Provenance.LABEL))
    longer = hand(stroke=exact(0.3), extended_length=normal(0.66, 0.002))
    body = entries_of([hand(), longer, stronger]).entries.body
    assert body[0] == body[2] != body[1]
    assert entries_of([]).entries.body.size == 0


def test_a_test_of_one_piece_says_less_of_two() -> None:
    test = HomeTest(reads_in=normal(540.0, 5.0), reads_out=normal(500.0, 5.0))
    one, two = entries_of([hand(home_test=test), hand(home_test=test, pieces=2)]).entries.tolerance
    assert two == pytest.approx(math.hypot(one, PIECES_DOUBT))


CHANGED: dict[str, Any] = {
    "name": "other",
    "pieces": 3,
    "force": exact(510.0, Provenance.LABEL),
    "force_is": "middle",
    "ratio": normal(1.35, 0.02),
    "friction": normal(50.0, 8.0),
    "friction_is": "half loop",
    "stroke": exact(0.26),
    "extended_length": normal(0.57, 0.002),
    "rod_diameter": exact(0.010),
    "tube_diameter": exact(0.022),
    "tolerance": exact(0.06),
    "end_limit": exact(800.0),
    "home_test": HomeTest(reads_in=exact(540.0), reads_out=exact(500.0)),
}
TEST = {"reads_in": exact(200.0), "reads_out": exact(180.0), "plank": exact(1.2), "spring_at": exact(0.4)}


def differs(one: Any, other: Any) -> bool:
    """Whether two lists of springs say different things."""
    mine, yours = ([getattr(x.entries, field) for field in Entries.__dataclass_fields__] for x in (one, other))
    return str([*mine, one.pieces]) != str([*yours, other.pieces])


def test_every_key_of_a_spring_at_hand_counts() -> None:
    assert set(CHANGED) == {member.key for member in members(AtHand)}
    assert set(TEST) == {member.key for member in members(HomeTest)}
    before = entries_of([hand()])
    assert not differs(before, entries_of([hand()]))
    for key, value in CHANGED.items():
        assert differs(before, entries_of([hand(**{key: value})])), key
    before = entries_of([hand(home_test=HomeTest(**TEST))])
    for key, value in TEST.items():
        after = HomeTest(**{**TEST, key: exact(value.nominal * 1.05)})
        assert differs(before, entries_of([hand(home_test=after)])), key


# --- zones ------------------------------------------------------------------------------------------


def test_every_key_of_a_zone_counts() -> None:
    text = demo_text("fennimoor")
    before = zones_of(loads(text)).pairs
    changes = {
        "zone.0.name": "frame",
        "zone.0.from.x": "1.35 m",
        "zone.0.from.z": "-60 mm",
        "zone.0.to.x": "1.65 m",
        "zone.0.to.z": "-10 mm",
        "zone.0.place": "630 mm",
        "choice.per_side_most": 2,
    }
    asked = {f"zone.0.{m.key}" for m in members(Zone) if m.key != "on"}
    assert asked == {path.removesuffix(".x").removesuffix(".z") for path in changes if path.startswith("zone")}
    for path, value in changes.items():
        assert zones_of(loads(edited(text, {path: value}))).pairs != before, path
    arms = demo_text("ottergate")
    assert zones_of(loads(edited(arms, {"zone.1.on": "shell"}))).pairs != zones_of(loads(arms)).pairs


def test_zones_pair_every_foot_with_every_head_on_another_part() -> None:
    arm = '\n[[zone]]\nname = "rear arm"\non = "arm b"\nfrom = ["60 in", "-4 in"]\nto = ["52 in", "-3 in"]\n'
    arm += 'place = "23 in"\n'
    found = zones_of(loads(demo_text("ottergate") + arm))
    names = {zone.name for zone in found.feet}
    assert names == {"wheel-arch frame", "upper half of the front arm", "rear arm"}
    assert [zone.name for zone in found.heads] == ["upper half of the front arm", "rear arm"]
    # Two on other parts for each of the van's; one each way between the arms; one and two springs a side.
    assert len(found.pairs) == 2 * (2 + 1 + 1)
    assert all(pair.foot.on != pair.head.on for pair in found.pairs)
    assert {pair.count for pair in found.pairs} == {2, 4}
    rear = found.heads[1]
    assert (rear.x_low, rear.x_high) == pytest.approx((52 * 0.0254, 60 * 0.0254))
    assert next(p for p in found.pairs if p.head is rear).sideways == pytest.approx(-0.5 * 0.0254)
    assert found.said == ()


def test_without_zones_the_springs_of_the_file_may_move_a_little_and_it_is_said() -> None:
    project = loads(bare("quellmere"))
    (pair,) = zones_of(project).pairs
    assert (pair.foot.x_low, pair.foot.x_high) == pytest.approx((0.456, 0.656))
    assert (pair.head.z_low, pair.head.z_high) == pytest.approx((0.038, 0.098))
    assert (pair.foot.on, pair.head.on, pair.sideways) == ("van", "shell", pytest.approx(0.01))
    assert zones_of(project).said == (
        "No [[zone]] is written: brackets may move 100 mm along and 30 mm up or down from where the springs of the "
        "file sit, not beyond the ends of the shell.",
    )


def test_bands_end_with_the_shell() -> None:
    text = bare("quellmere").replace('foot = ["556 mm", "-28 mm"]', 'foot = ["30 mm", "-28 mm"]')
    (pair,) = zones_of(loads(text)).pairs
    assert (pair.foot.x_low, pair.foot.x_high) == pytest.approx((-0.05, 0.13))


def test_without_zones_and_springs_it_is_said_that_nothing_is_known() -> None:
    text = bare("quellmere").partition("[[spring]]")[0]
    found = zones_of(loads(text))
    assert found.pairs == ()
    assert found.said == ("No [[zone]] and no [[spring]] is written: it is not said where brackets may sit.",)


def test_every_demo_holds_its_own_springs_in_its_zones() -> None:
    for name in DEMOS:
        project = demo(name)
        spring = project.spring[0]
        held = [
            zone.on == on and zone.x_low <= at.x.nominal <= zone.x_high and zone.z_low <= at.z.nominal <= zone.z_high
            for on, at, zones in (
                (spring.foot_on, spring.foot, zones_of(project).feet),
                (spring.head_on, spring.head, zones_of(project).heads),
            )
            for zone in zones
        ]
        assert sum(held) == 2, name


def test_the_new_sections_are_there_as_named() -> None:
    tables: dict[str, type[Section] | None] = {m.key: m.table for m in members(Project)}
    assert {key: tables[key] for key in NEW} == NEW
    keys = {key: {m.key for m in members(table)} for key, table in NEW.items()}
    assert keys["choice"] == {"catalogue", "per_side_most", "ratings", "holes", "hole_spacing"}
    assert keys["reading"] == {"after", "how_open", "way", "force", "scale", "temperature", "spring", "foot", "head"}
    assert tomllib.loads(demo_text("fennimoor"))["format"] == 1
