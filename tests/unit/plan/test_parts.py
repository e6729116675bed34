"""The list of parts: waste, packs, order, what is put together and what is always there. Exact constructed cases."""

from __future__ import annotations

from dataclasses import replace

import pytest

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import GROUPS, Part
from loftwright.plan.parts import best_pack, line_of, listed, merged, packs_for, protection
from loftwright.reference.consumables import PROTECTION

SEAL = Part("rim-seal", "rim seal", "seal", 7.4, "m", 0.05, 1.0, source="seal.length")
RIVETS = Part("rivet-4", "blind rivet 4 mm", "fasteners", 101, "pieces", 0.1, 50.0, note="sides")


def test_waste_then_whole_packs() -> None:
    seal, rivets = line_of(SEAL), line_of(RIVETS)
    assert (seal.needed, seal.packs, seal.amount) == (pytest.approx(7.77), 8, 8.0)
    # 111.1 rivets are 112; three boxes of fifty.
    assert (rivets.needed, rivets.packs, rivets.amount) == (112.0, 3, 150.0)


def test_a_full_pack_needs_no_second() -> None:
    assert packs_for(0.1 + 0.2, 0.1) == 3
    assert packs_for(0.0, 5.0) == 0
    for amount, pack in ((-1.0, 1.0), (1.0, 0.0), (float("nan"), 1.0)):
        with pytest.raises(Bug):
            packs_for(amount, pack)
    with pytest.raises(Bug):
        line_of(replace(SEAL, waste=-0.1))


def test_a_large_pack_where_little_is_left_over() -> None:
    assert best_pack(4.3, (1.0, 5.0, 25.0)) == 5.0
    assert best_pack(4.0, (1.0, 5.0, 25.0)) == 1.0
    assert best_pack(0.2, (1.0, 5.0)) == 1.0


def test_like_parts_are_added_before_they_are_rounded() -> None:
    ends = replace(RIVETS, quantity=30.0, note="ends; sides", source="cut", before_cut=False)
    (one,) = merged([RIVETS, ends])
    assert (one.quantity, one.note, one.source, one.before_cut) == (131.0, "sides; ends", "cut", True)
    # 131 and a tenth is 145: three boxes, where apart it would be four.
    assert line_of(one).packs == 3
    assert line_of(RIVETS).packs + line_of(ends).packs == 4
    with pytest.raises(Bug, match="rivet-4"):
        merged([RIVETS, replace(RIVETS, name="something else")])


def test_protection_is_always_in_the_list() -> None:
    names = {line.part.id for line in listed([])}
    assert names == {worn.id for worn in PROTECTION}
    said = " ".join(part.name for part in protection())
    assert all(word in said for word in ("gloves", "mask", "goggles"))
    own = replace(protection()[0], quantity=4.0)
    assert [line.needed for line in listed([own]) if line.part.id == own.id] == [4.0]


def test_lines_stand_group_by_group() -> None:
    lines = listed([SEAL, RIVETS, replace(SEAL, id="none", quantity=0.0)])
    groups = [line.part.group for line in lines]
    assert groups == sorted(groups, key=GROUPS.index)
    assert "none" not in {line.part.id for line in lines}
    assert list(dict.fromkeys(groups)) == ["fasteners", "seal", "tools & protection"]
