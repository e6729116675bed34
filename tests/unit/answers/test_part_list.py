"""The list of parts of one roof: amounts counted by hand from the sizes in its file, money added up a second way.

Exact constructed cases; sizes and counts are worked out here from first principles.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from loftwright.answers.kept_walls import NOTHING_KEPT
from loftwright.answers.part_design import designed
from loftwright.answers.part_lines import KEY, key_word, section_of_bar
from loftwright.answers.part_lines_frame import opening_edge
from loftwright.answers.part_list import PartsFound, part_list
from loftwright.answers.part_prices import set_account
from loftwright.core.checks import Check, Outcome, Verdict
from loftwright.core.fitting_views import Part
from loftwright.core.uncertain import even, exact
from loftwright.core.wording import Wording
from loftwright.plan.part_rules import NOT_HERE, TOO_DEAR, TOO_LONG
from loftwright.project.keys import members
from loftwright.project.model import Project
from loftwright.project.plan_sections import Bought

from .parts_cases import bought, plain_roof, with_bought, with_plan


@pytest.fixture(scope="module")
def roof() -> Project:
    return plain_roof()


@pytest.fixture(scope="module")
def outcome(roof: Project) -> Outcome[PartsFound]:
    return part_list(roof)


@pytest.fixture(scope="module")
def found(outcome: Outcome[PartsFound]) -> PartsFound:
    return outcome.numbers


def part(found: PartsFound, id_: str) -> Part:
    return next(line.part for line in found.lines if line.part.id == id_)


def judged(outcome: Outcome[PartsFound], rule: object) -> list[Check]:
    return [check for check in outcome.checks if check.rule is rule]


# --- what the design asks for ----------------------------------------------------------------------


def test_counts_by_hand(found: PartsFound) -> None:
    # Two hinges, two latches, one spring a side with two ends each, four bolts at each of four hinge plates.
    counts = {"hinge": 2, "latch": 2, "gas-spring": 2, "spring-bracket": 4, "ball-stud": 4, "corner-plate": 4}
    assert {id_: part(found, id_).quantity for id_ in counts} == counts
    bolts = [line.part for line in found.lines if line.part.id.startswith("hexagon-bolt")]
    assert sum(one.quantity for one in bolts) == 16
    nuts = [line.part for line in found.lines if line.part.id.startswith("self-locking-nut")]
    washers = [line.part for line in found.lines if "-washer-" in line.part.id]
    assert sum(one.quantity for one in nuts) == 16
    assert sum(one.quantity for one in washers) == 32


def test_bolts_reach_through_packers(found: PartsFound, roof: Project) -> None:
    shell, van = (line.part.id for line in found.lines if line.part.id.startswith("hexagon-bolt"))
    # On the van there is a packer of some 35 mm beside two thin sheets; on the shell none.
    assert shell == "hexagon-bolt-m8-x-30-mm-8-8"
    assert int(van.split("-")[4]) >= 35 + 20


def test_seal_round_rounded_corners(found: PartsFound, roof: Project) -> None:
    """Straight sides and four quarters of a circle, a second way to the same length."""
    length, width, r = (v.nominal for v in (roof.shell.length, roof.shell.width, roof.fit.corner_radius))
    around = 2 * (length - 2 * r) + 2 * (width - 2 * r) + 4 * (math.pi / 2) * r
    assert part(found, "rim-seal").quantity == pytest.approx(around, rel=1e-12)


def test_primer_for_the_cut_edge(found: PartsFound, roof: Project) -> None:
    asked = designed(roof, NOTHING_KEPT).asked
    radius = asked.held.found.opening.ring.plan.radius
    by_hand = 2 * (2.05 - 2 * radius) + 2 * (1.34 - 2 * radius) + 2 * math.pi * radius
    assert opening_edge(asked) == pytest.approx(by_hand, rel=1e-12)
    # Two coats of 8 m2 a litre on the edge and 20 mm of both faces.
    area = by_hand * (asked.number("body.skin") + 0.04)
    assert part(found, "zinc-primer").quantity == pytest.approx(1000 * area * 2 / 8000, rel=1e-9)


def test_rivets_at_their_pitch(found: PartsFound, roof: Project) -> None:
    rivets = part(found, "ring-rivet")
    assert rivets.quantity == math.ceil(2 * (2.05 + 1.34) / roof.ring.pitch.nominal) + 1
    assert (rivets.pack, rivets.unit) == (50.0, "pieces")


def test_every_part_has_a_word_a_source_and_is_bought_in_full(found: PartsFound) -> None:
    ids = [line.part.id for line in found.lines]
    assert len(set(ids)) == len(ids)
    for line in found.lines:
        assert KEY.fullmatch(line.part.id)
        assert line.part.source
        assert line.amount >= line.needed - 1e-9 >= line.part.quantity - 1e-6
    assert sum(id_.startswith("protect-") for id_ in ids) >= 5


def test_nothing_of_the_frame_without_a_trial_frame(roof: Project, found: PartsFound) -> None:
    without = part_list(with_plan(roof, trial_frame=False)).numbers
    timber = {line.part.id for line in found.lines if line.part.id.startswith("frame-")}
    assert timber
    assert {line.part.id for line in found.lines} - {line.part.id for line in without.lines} == timber
    assert [cut.metal for cut in without.cuts] == [True, True]


# --- bars ------------------------------------------------------------------------------------------


def test_the_ring_from_its_bars(found: PartsFound) -> None:
    ring = found.cuts[0]
    flat = found.lines[0].part
    across = 0.035
    lengths = sorted((p.label, round(p.length, 6)) for bar in ring.plan.bars for p in bar.pieces)
    long, short = round(2.05 + 2 * across, 6), round(1.34 + 2 * across, 6)
    assert lengths == [("long side", long)] * 2 + [("short side", short)] * 2
    # 4.24 + 2.82 m and kerfs are more than one bar of six metres; two hold them.
    assert (flat.quantity, len(ring.plan.bars), ring.plan.proved) == (2.0, 2, True)
    for bar in ring.plan.bars:
        used = sum(p.length for p in bar.pieces) + ring.plan.kerf * len(bar.pieces)
        assert used + bar.offcut == pytest.approx(bar.stock.length, abs=1e-9)
    assert all(p.ends == pytest.approx((math.pi / 4, math.pi / 4)) for bar in ring.plan.bars for p in bar.pieces)


def test_a_bar_that_is_too_short(roof: Project, outcome: Outcome[PartsFound]) -> None:
    assert all(check.verdict is Verdict.HOLDS for check in judged(outcome, TOO_LONG))
    short = part_list(with_plan(roof, bar=exact(2.0), trial_frame=False))
    (ring, latch) = sorted(judged(short, TOO_LONG), key=lambda check: -(check.value or 0.0))
    assert (ring.verdict, latch.verdict) == (Verdict.FAILS, Verdict.HOLDS)
    assert ring.value == pytest.approx(2.05 + 0.07)
    ordered = [line.part for line in short.numbers.lines if "long-side" in line.part.id]
    assert [(one.quantity, "ordered" in one.sold_as) for one in ordered] == [(2.0, True)]
    # What nobody knows for sure is said so.
    doubtful = part_list(with_plan(roof, bar=even(2.0, 6.0), trial_frame=False))
    assert judged(doubtful, TOO_LONG)[0].verdict is Verdict.NOT_KNOWN


def test_words_and_names() -> None:
    say = Wording()
    assert section_of_bar(say, "steel", "square tube", (0.02, 0.02, 0.0015))[0] == "tube-steel-20-20-1-5"
    assert section_of_bar(say, "steel", "square tube", (0.2, 0.02, 0.015))[0] == "tube-steel-200-20-15"
    assert key_word("=SUMME(A1)") == "summe-a1"
    assert key_word("rope", ("rope", "rope-2")) == "rope-3"


# --- money -----------------------------------------------------------------------------------------


def test_money_by_hand(roof: Project) -> None:
    found = part_list(
        with_bought(
            roof,
            bought("latch", ordered=2.0, price=exact(20.0)),
            bought("hinge", ordered=1.0, have=1.0, price=even(10.0, 12.0)),
            bought("tarpaulin", count=exact(3.0), price=exact(7.0), have=1.0),
        )
    ).numbers
    assert (found.account("latch").spent, found.account("latch").left) == (2.0, 0.0)
    assert (found.account("hinge").spent, found.account("hinge").left) == (1.0, 1.0)
    assert (found.account("tarpaulin").spent, found.account("tarpaulin").left) == (0.0, 2.0)
    money = found.money
    assert money.spent.low == pytest.approx(2 * 20 + 10)
    assert money.spent.high == pytest.approx(2 * 20 + 12)
    low = high = 0.0
    for account in found.accounts:
        if account.price is not None:
            low += (account.spent + account.left) * account.price[0]
            high += (account.spent + account.left) * account.price[1]
    assert (money.planned.low, money.planned.high) == pytest.approx((low, high))
    assert money.planned.low == pytest.approx(money.spent.low + money.left.low)
    assert float(found.cost.min()) >= low - 1e-6
    assert float(found.cost.max()) <= high + 1e-6
    assert np.ptp(found.cost) > 0.0


def test_a_set_stands_for_what_has_no_price(roof: Project, found: PartsFound) -> None:
    sealing = next(one for one in found.sets if "sealant" in one.name)
    mine = [line.part.id for line in found.lines if line.part.id in sealing.ids]
    assert len(mine) == 2
    assert found.account(sealing.price.path).left == 1.0
    assert {one.group for one in found.sets} == {"fasteners", "sealant", "tools & protection", "cloth"}
    half = part_list(with_bought(roof, bought("zinc-primer", price=exact(60.0)))).numbers
    assert half.account(sealing.price.path).left == 0.5
    none = part_list(
        with_bought(roof, *(bought(id_, price=exact(1.0)) for id_ in mine)),
    ).numbers
    assert sealing.price.path not in {one.id for one in none.accounts}
    by_id = {one.id: one for one in none.accounts}
    assert set_account(sealing, none.lines, by_id).left == 0.0


def test_the_table_is_left_out_in_another_currency(roof: Project) -> None:
    settings = roof.settings.model_copy(update={"currency": "SEK"})
    outcome = part_list(roof.model_copy(update={"settings": settings}))
    assert {price.of for price in outcome.numbers.prices.values()} <= {"your layer's"}
    assert outcome.numbers.sets == ()
    assert any("not in SEK" in said for said in outcome.assumptions)


# --- what is judged --------------------------------------------------------------------------------


def test_what_must_be_in_the_garage(roof: Project, outcome: Outcome[PartsFound], found: PartsFound) -> None:
    (fails,) = judged(outcome, NOT_HERE)
    wanted = [line for line in found.lines if line.part.before_cut]
    assert fails.verdict is Verdict.FAILS
    assert fails.value == len(wanted)
    there = [bought(line.part.id, have=line.part.quantity) for line in wanted]
    (holds,) = judged(part_list(with_bought(roof, *there)), NOT_HERE)
    assert holds.verdict is Verdict.HOLDS
    assert holds.value == 0.0
    (one,) = judged(part_list(with_bought(roof, *there[1:], bought(there[0].part, ordered=9.0))), NOT_HERE)
    assert (one.verdict, one.value) == (Verdict.FAILS, 1.0)


def test_money_set_aside(roof: Project, found: PartsFound) -> None:
    assert judged(part_list(roof), TOO_DEAR) == []
    (fails,) = judged(part_list(with_plan(roof, budget=exact(100.0))), TOO_DEAR)
    assert fails.verdict is Verdict.FAILS
    (unknown,) = judged(part_list(with_plan(roof, budget=exact(50_000.0))), TOO_DEAR)
    assert (unknown.verdict, unknown.inputs) == (Verdict.NOT_KNOWN, ("bought",))
    every = [bought(line.part.id, price=exact(1.0)) for line in found.lines]
    cheap = with_bought(roof, *every)
    total = part_list(cheap).numbers.money.planned.middle
    (holds,) = judged(part_list(with_plan(cheap, budget=exact(total + 1.0))), TOO_DEAR)
    (dear,) = judged(part_list(with_plan(cheap, budget=exact(total - 1.0))), TOO_DEAR)
    assert (holds.verdict, dear.verdict) == (Verdict.HOLDS, Verdict.FAILS)
    # A table's price that alone decides is asked for.
    rest = with_bought(roof, *(one for one in every if one.part != "latch"))
    (open_,) = judged(part_list(with_plan(rest, budget=exact(total + 40.0))), TOO_DEAR)
    assert open_.verdict is Verdict.NOT_KNOWN
    assert "latch" in (open_.unknown or "")


# --- keys ------------------------------------------------------------------------------------------


def seen(project: Project) -> tuple[Any, ...]:
    """Return what the list says of a project, to be told from that of another."""
    outcome = part_list(project)
    found = outcome.numbers
    return found.rows, found.accounts, found.money, found.cost.tolist(), outcome.checks


def test_every_key_of_what_is_bought_counts(roof: Project) -> None:
    plain = bought("latch", ordered=1.0, have=1.0, price=exact(12.0))
    own = bought("tarpaulin", ordered=1.0, have=1.0)
    before = seen(with_bought(roof, plain, own))
    changes: dict[str, Any] = {
        "part": "hinge",
        "name": "over-centre latch",
        "count": exact(6.0),
        "price": even(12.0, 15.0),
        "ordered": exact(2.0),
        "have": exact(2.0),
        "note": "from the boat shop",
    }
    assert set(changes) == {member.key for member in members(Bought)}
    for key, value in changes.items():
        changed = plain.model_copy(update={key: value})
        assert seen(with_bought(roof, changed, own)) != before, key
        mine = own.model_copy(update={key: value})
        assert seen(with_bought(roof, plain, mine)) != before, f"own part, {key}"


def test_own_parts_with_a_unit(roof: Project) -> None:
    rope = bought("rope", count=exact(12.5), note="in m; from the ferry")
    (row,) = part_list(with_bought(roof, rope)).numbers.own
    assert (row.unit, row.note, row.quantity) == ("m", "from the ferry", 12.5)
    (row,) = part_list(with_bought(roof, bought("rope", ordered=3.0))).numbers.own
    assert (row.unit, row.quantity, row.name) == ("pieces", 3.0, "rope")
