"""Pages of the board: every key of the file and every rule has one, and judgements are counted once."""

from __future__ import annotations

from types import ModuleType

import pytest

from loftwright.answers.decisions import DECISIONS, PAGE_OF_RULE, decisions, key_behind, link_of, page_of, page_of_rule
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.views import tally
from loftwright.core.checks import Check, Rule, Source, Tally
from loftwright.core.errors import Bug
from loftwright.core.field_views import Link
from loftwright.project.demos import DEMOS, demo
from loftwright.project.keys import members
from loftwright.project.model import Project, key_of, walk


def test_the_order_of_the_decisions() -> None:
    wanted = ("have", "fit", "moves", "lifts", "walls", "wind", "opening", "joints", "riding", "parts", "plan", "proof")
    assert [page.path for page in DECISIONS] == [f"/{name}" for name in ("", *wanted, "papers", "settings")]
    assert [page.path for page in DECISIONS if not page.decides] == ["/settings"]


@pytest.mark.parametrize(
    ("path", "page"),
    [
        ("van.floor_to_roof", "/have"),
        ("weighing.reading.2.balance", "/have"),
        ("linkage.hinge.x", "/moves"),
        ("requirements.headroom_wanted", "/moves"),
        ("requirements.pull_to_latch", "/lifts"),
        ("spring.0.foot.x", "/lifts"),
        ("at_hand.1.home_test.plank", "/lifts"),
        ("tape.0.reads", "/proof"),
        ("settings.units", "/settings"),
        ("name", "/settings"),
        ("roof_point.0.x", "/fit"),
        ("candidate.1.rim_twist", "/fit"),
        ("brace.kind", "/wind"),
        ("road.speed", "/wind"),
        ("bow.2.at", "/opening"),
        ("ring.metal", "/opening"),
        ("joint.0.bolt", "/joints"),
        ("walls.ease", "/walls"),
        ("layer.1.bends", "/walls"),
        ("stow.pull", "/walls"),
        ("panel.use", "/riding"),
        ("bought.2.price", "/parts"),
        ("todo.0.done", "/plan"),
        ("safety.load", "/joints"),
    ],
)
def test_a_key_has_its_page(path: str, page: str) -> None:
    assert page_of(path) == page


def test_what_is_no_key_has_no_page() -> None:
    with pytest.raises(Bug):
        page_of("curtain.colour")


def test_every_section_stands_on_one_page() -> None:
    held = [part for page in DECISIONS for part in page.holds]
    assert len(held) == len(set(held))
    sections = {member.key for member in members(Project)} - {"format"}
    whole = {part for part in held if "." not in part}
    # Requirements alone are spread over pages, key by key.
    spread = {part.split(".")[0] for part in held if "." in part}
    assert whole | spread == sections
    assert spread == {"requirements"}
    table = next(member.table for member in members(Project) if member.key == "requirements")
    assert table is not None
    assert {part for part in held if "." in part} == {f"requirements.{member.key}" for member in members(table)}


def test_every_rule_has_a_page_and_no_other(generator: ModuleType) -> None:
    ids = {rule.id for rule in generator.all_rules()}
    assert set(PAGE_OF_RULE) <= ids
    assert {page_of_rule(one) for one in ids} <= {page.path for page in DECISIONS}


@pytest.mark.parametrize("name", DEMOS)
def test_every_judgement_is_counted_once(name: str) -> None:
    outcome = judged_roof(demo(name))
    counts = [decision.tally for decision in decisions(outcome.checks)]
    assert Tally(*(sum(getattr(one, part) for one in counts) for part in ("fails", "not_known", "holds"))) == tally(
        outcome
    )


def test_counts_of_a_demo_by_hand() -> None:
    # Of this roof LIFT-214 fails and four rules of springs wait; all else holds.
    counts = {decision.path: decision.tally for decision in decisions(judged_roof(demo("quellmere")).checks)}
    assert (counts["/lifts"].fails, counts["/lifts"].not_known) == (1, 4)
    # The scales agree, and the closed shell is clear of the bed.
    assert counts["/have"] == Tally(fails=0, not_known=0, holds=2)
    assert counts["/"] == counts["/proof"] == counts["/papers"] == Tally(0, 0, 0)


@pytest.mark.parametrize("name", DEMOS)
def test_every_input_leads_to_a_key_of_the_file(name: str) -> None:
    project = demo(name)
    checks = judged_roof(project).checks
    assert checks
    for check in checks:
        link = link_of(project, check)
        assert link.page in {page.path for page in DECISIONS}
        assert link.label
        for path in check.inputs:
            assert key_of(key_behind(path))
        assert (link.path == "") == (not check.inputs)


@pytest.mark.parametrize("name", DEMOS)
def test_every_drawn_input_is_settled_by_a_key(name: str) -> None:
    outcome = judged_roof(demo(name))
    drawn = outcome.numbers.rows.columns
    assert set(drawn) - set(walk(outcome.numbers.project)), "some inputs are no keys of the file"
    for path in drawn:
        assert key_of(key_behind(path))


def made(rule: str, *inputs: str) -> Check:
    """Return a judgement of a rule with this id."""
    source = Source("judgement", "", "judgement")
    return Rule(rule, "bad", "good", "m", "at most", "Why.", "Do.", source).judge(1.0, 2.0, inputs=inputs)


def test_where_a_click_leads() -> None:
    project = demo("quellmere")
    assert link_of(project, made("MOVE-103")) == Link("/moves", "", "How it moves")
    assert link_of(project, made("LIFT-204", "spring.0.delivered", "shell.mass")) == Link(
        "/lifts", "spring.0.force", "side spring: force of one spring"
    )
    assert link_of(project, made("LIFT-201", "spring.0.foot.x")) == Link(
        "/lifts", "spring.0.foot.x", "side spring: foot, along"
    )
    assert link_of(project, made("PLAN-101", "van.floor_to_roof")) == Link(
        "/have", "van.floor_to_roof", "Floor to roof skin"
    )
    assert link_of(project, made("LIFT-214", "shell.centre_above_rim")) == Link(
        "/have", "shell.centre_height", "Shell: how high its weight sits above the roof"
    )
