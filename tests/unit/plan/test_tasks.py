"""Tasks as a network: circles, wrong names, paths."""

from __future__ import annotations

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.core.work import After, Hours, Task
from loftwright.plan.tasks import all_before, network, without

HOUR = Hours(1.0, 1.0, 1.0)


def task(name: str, *after: str) -> Task:
    return Task(name, f"do {name}", HOUR, tuple(After(each) for each in after))


def test_a_circle_is_refused_with_its_names_in_order() -> None:
    with pytest.raises(ProjectFault) as refused:
        network([task("a"), task("b", "a", "d"), task("c", "b"), task("d", "c"), task("e", "d")])
    said = str(refused.value)
    assert "b (do b) -> c (do c) -> d (do d) -> b (do b)" in said
    assert "do a" not in said
    assert "do e" not in said


def test_a_task_after_itself_is_a_circle() -> None:
    with pytest.raises(ProjectFault, match="circle"):
        network([task("a", "a")])


def test_every_wrong_name_is_listed_at_once() -> None:
    with pytest.raises(ProjectFault) as refused:
        network([task("a", "nobody"), task("a", "no one")])
    assert len(refused.value.faults) == 3


def test_order_follows_the_links_whatever_the_list() -> None:
    net = network([task("c", "b"), task("b", "a"), task("a")])
    assert [net.tasks[i].id for i in net.order] == ["a", "b", "c"]
    assert all_before(net)[net.number("c")] == {1, 2}


def test_taking_one_out_joins_what_it_parted() -> None:
    kept = without([task("a"), task("b", "a"), task("c", "b"), task("d", "c", "a")], frozenset({"b", "c"}))
    assert [(t.id, [a.id for a in t.after]) for t in kept] == [("a", []), ("d", ["a"])]


@pytest.mark.parametrize("three", [(2.0, 1.0, 3.0), (-1.0, 0.0, 1.0), (1.0, 3.0, 2.0)])
def test_estimates_must_be_in_order(three: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="least"):
        Hours(*three)
