"""The smallest change that frees a roof: constructed odds with a known threshold."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from loftwright.choice.advice import Kind, advise
from loftwright.core.errors import Bug

LIGHTER = Kind("kg off", 0.5, 20, 60.0, frozenset({"start"}))
HIGHER = Kind("mm up", 5.0, 16, 10.0, frozenset({"start", "stays up"}))
SOFTER = Kind("N more", 10.0, 5, 30.0, frozenset({"pull"}))


class Roof:
    """Odds that rise with what is changed; every trial is noted."""

    def __init__(self, **need: float) -> None:
        self.need, self.asked = need, []

    def __call__(self, change: Mapping[str, float]) -> float:
        self.asked.append(dict(change))
        return min(1.0, 0.9 * sum(size / self.need.get(name.split()[0], 1e9) for name, size in change.items()))


def test_smallest_size_of_every_kind_that_is_enough() -> None:
    roof = Roof(kg=6.2, mm=31.0)
    got = advise([LIGHTER, HIGHER, SOFTER], roof, 0.9, {"start": 0.7, "pull": 0.1})
    assert [freed.sizes for freed in got.freed] == [(("mm up", 35.0),), (("kg off", 6.5),)]
    assert [freed.effort for freed in got.freed] == pytest.approx([10 * 35 / 80, 60 * 6.5 / 10])
    assert got.nearest is None
    assert got.trials == len(roof.asked) <= 16


def test_said_only_after_it_was_tried() -> None:
    roof = Roof(kg=3.3, mm=44.0)
    for freed in advise([LIGHTER, HIGHER], roof, 0.9).freed:
        assert dict(freed.sizes) in roof.asked
        assert freed.odds == Roof(kg=3.3, mm=44.0)(dict(freed.sizes)) >= 0.9


def test_what_fails_most_is_helped_first() -> None:
    roof = Roof()
    advise([LIGHTER, HIGHER, SOFTER], roof, 0.9, {"pull": 0.9, "start": 0.2}, most_trials=1)
    assert list(roof.asked[0]) == ["N more"]


@pytest.mark.parametrize("most", [0, 1, 3, 7, 12, 40])
def test_never_more_trials_than_allowed(most: int) -> None:
    for roof in (Roof(kg=5.0, mm=40.0), Roof(kg=16.0, mm=130.0), Roof()):
        calls = []

        def confirmed(change: Mapping[str, float], roof: Roof = roof, calls: list[object] = calls) -> float:
            calls.append(change)
            return roof(change) - 0.02

        got = advise([LIGHTER, HIGHER, SOFTER], roof, 0.9, most_trials=most, confirmed=confirmed)
        assert got.trials == len(roof.asked) <= most


def test_two_kinds_where_one_is_not_enough() -> None:
    # Alone at most 10 / 16 and 80 / 130 of what is needed; together more than enough.
    roof = Roof(kg=16.0, mm=130.0)
    got = advise([LIGHTER, HIGHER, SOFTER], roof, 0.9)
    (freed,) = got.freed
    sizes = dict(freed.sizes)
    assert set(sizes) == {"kg off", "mm up"}
    assert freed.odds >= 0.9
    # Neither can be smaller by a step.
    for kind in (LIGHTER, HIGHER):
        assert Roof(kg=16.0, mm=130.0)({**sizes, kind.name: sizes[kind.name] - kind.step}) < 0.9


def test_a_large_change_can_overshoot() -> None:
    def hump(change: Mapping[str, float]) -> float:
        return 0.95 if 15 <= change["mm up"] <= 50 else 0.1

    assert advise([HIGHER], hump, 0.9).freed[0].sizes == (("mm up", 15.0),)


def test_nothing_helps_and_the_nearest_is_named() -> None:
    got = advise([LIGHTER, HIGHER, SOFTER], Roof(mm=400.0, kg=900.0), 0.9, most_trials=60)
    assert got.freed == ()
    assert got.nearest is not None
    assert dict(got.nearest.sizes) == {"kg off": 10.0, "mm up": 80.0}
    assert got.nearest.odds == pytest.approx(0.9 * (80 / 400 + 10 / 900))
    assert got.nearest.effort == pytest.approx(70.0)
    assert advise([], Roof(), 0.9).nearest is None


def test_fresh_draws_must_agree() -> None:
    got = advise([HIGHER], Roof(mm=31.0), 0.9, confirmed=Roof(mm=43.0))
    assert got.freed[0].sizes == (("mm up", 45.0),)
    assert got.freed[0].odds == pytest.approx(0.9 * 45 / 43)
    assert advise([HIGHER], Roof(mm=31.0), 0.9, confirmed=lambda _: 0.5).freed == ()


def test_kinds_have_different_names() -> None:
    with pytest.raises(Bug):
        advise([HIGHER, HIGHER], Roof(), 0.9)
