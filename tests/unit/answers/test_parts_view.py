"""The parts as a page, as text and as JSON: complete, in the reader's units, and in agreement with one another."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loftwright.answers import numbers
from loftwright.answers.part_list import PartsFound, part_list
from loftwright.answers.parts_numbers import parts_numbers
from loftwright.answers.parts_view import amount_text, parts_page, piece_lines, price_text, sold_as
from loftwright.core.checks import Outcome
from loftwright.core.parts_pages import PartsPage
from loftwright.core.uncertain import even, exact
from loftwright.core.wording import Wording
from loftwright.documents.parts_text import parts_text
from loftwright.documents.plain_text import Look
from loftwright.plan.quantities_of import primer_part
from loftwright.reference.consumables import PRIMER_TIN
from tests.unit.answers.json_keys import keys_of

from .parts_cases import bought, plain_roof, with_bought, with_plan


@pytest.fixture(scope="module")
def outcome() -> Outcome[PartsFound]:
    parts = (
        bought("latch", ordered=2.0, price=exact(20.0), note="in the blue box"),
        bought("hinge", have=2.0, price=even(10.0, 12.5)),
        bought("rope", count=exact(4.0), price=exact(3.0), note="in m; from the ferry"),
    )
    return part_list(with_plan(with_bought(plain_roof(), *parts), budget=exact(900.0), bar=exact(2.0)))


@pytest.fixture(scope="module")
def page(outcome: Outcome[PartsFound]) -> PartsPage:
    return parts_page(outcome)


def test_the_page_holds_every_part(page: PartsPage, outcome: Outcome[PartsFound]) -> None:
    found = outcome.numbers
    assert [line.id for line in page.lines] == [row.id for row in found.rows]
    assert page.groups[-1].title == "your own"
    for line in page.lines:
        assert all((line.name, line.needed, line.buy, line.price, line.status, line.source))
    by_id = {line.id: line for line in page.lines}
    assert by_id["latch"].status == "only ordered"
    assert (by_id["latch"].price, by_id["latch"].cost) == ("20 EUR each, yours", "40 EUR")
    assert by_id["latch"].remark == "in the blue box"
    assert by_id["hinge"].status == "in the garage"
    assert (by_id["hinge"].price, by_id["hinge"].cost) == ("10 to 12.50 EUR each, yours", "0 EUR")
    assert (by_id["rope"].needed, by_id["rope"].cost, by_id["rope"].entry) == ("4.00 m", "12 EUR", 2)
    assert by_id["zinc-primer"].price == "in a set"
    assert {fact.label for fact in page.money} >= {"Planned", "Spent", "Left to pay", "Set aside", "No price yet"}
    assert next(fact.value for fact in page.money if fact.label == "Spent") == "40 EUR"


def test_bars_have_a_word_for_every_piece(page: PartsPage, outcome: Outcome[PartsFound]) -> None:
    assert page.bars
    for bars in page.bars:
        assert len(bars.words) == len(bars.plan.bars)
        for bar, word in zip(bars.plan.bars, bars.words, strict=True):
            assert len(word.lengths) == len(bar.pieces)
        assert len(piece_lines(bars)) == len(bars.words)
    timber = next(bars for bars in page.bars if "softwood" in bars.title)
    letters = {piece.label for bar in timber.plan.bars for piece in bar.pieces}
    assert all(f"{letter} (" in timber.said[0] for letter in letters)
    ring = next(bars for bars in page.bars if "angle" in bars.title)
    assert any("longer than any bar" in said for said in ring.said)


def test_the_text_says_it_all_and_briefly(page: PartsPage) -> None:
    whole, brief = parts_text(page, Look()), parts_text(page, Look(), brief=True)
    flat = " ".join(whole.split())
    for line in page.lines:
        assert line.name in flat
        assert f"({line.id}; from {line.source})" in flat
    assert "To cut: " in whole
    assert "To cut: " not in brief
    assert len(brief) < 0.6 * len(whole)
    assert all(len(line) <= 80 for line in whole.splitlines())


def test_packs_are_said_in_the_units_of_the_reader() -> None:
    primer, resin = primer_part(0.01, "rim"), replace(primer_part(0.01, "rim"), unit="kg", pack=5.0)
    assert sold_as(primer, Wording()) == f"tin of {PRIMER_TIN * 1000:.0f} ml"
    # A US fluid ounce is 29.5735 ml, a pound 0.45359237 kg.
    assert sold_as(primer, Wording("imperial")) == f"tin of {PRIMER_TIN * 1000 / 29.5735:.1f} fl oz"
    assert sold_as(resin, Wording()) == "tin of 5.0 kg"
    assert sold_as(resin, Wording("imperial")) == "tin of 11.0 lb"
    assert sold_as(replace(primer, packed_in="", sold_as="box of 50"), Wording("imperial")) == "box of 50"


def test_words_for_amounts_and_prices() -> None:
    metric, imperial = Wording(), Wording("imperial")
    assert amount_text(3.0, "pieces", metric) == "3"
    assert amount_text(0.5, "l", metric) == "500 ml"
    # A US fluid ounce is 29.5735 ml.
    assert amount_text(0.295735, "l", imperial) == "10.0 fl oz"
    assert amount_text(3.048, "m", imperial).startswith("10 ft")
    assert price_text((0.25, 0.5), "EUR") == "0.25 to 0.50 EUR"
    assert price_text((120.4, 120.4), "EUR") == "120 EUR"


# --- JSON ------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def told(outcome: Outcome[PartsFound]) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(numbers.as_json(parts_numbers(outcome)))
    return found


def test_every_key_is_explained_and_no_other(told: dict[str, Any], root: Path) -> None:
    text = (root / "docs" / "reference" / "json-parts.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (`.*?) \|", text, re.MULTILINE)
    named = {key for row in rows for key in re.findall(r"`([\w.]+)`", row)}
    plain = {key for key in keys_of(told) if key.split(".")[0] not in ("format", "made_with", "project")}
    found = {key for key in plain if not key.startswith(("checks.", "money.groups.", "money.sets.price."))}
    found |= {f"money.groups.{key}" for key in told["money"]["groups"][0]} | {"money.sets.price"}
    assert found - named - {"own.price", "parts.price"} == set()
    parents = {key.rpartition(".")[0] for key in named}
    assert named - found - parents - {"parts.price", "own.price", "checks"} == set()


def test_json_agrees_with_the_page(told: dict[str, Any], page: PartsPage) -> None:
    verdicts = [check["verdict"] for check in told["checks"]]
    assert told["tally"]["fails"] == verdicts.count("fails") == page.tally.fails
    assert [part["id"] for part in (*told["parts"], *told["own"])] == [line.id for line in page.lines]
    for part in told["parts"]:
        assert part["buy"] == pytest.approx(part["packs"] * part["pack"])
    for bars in told["bars"]:
        for bar in bars["bars"]:
            used = sum(piece["length_m"] + bars["kerf_m"] for piece in bar["pieces"])
            assert used + bar["offcut_m"] <= bar["length_m"] + bars["kerf_m"] + 1e-9
    money = told["money"]
    assert money["planned"]["low"] == pytest.approx(money["spent"]["low"] + money["left"]["low"])
    assert money["budget"] == {"low": 900.0, "nominal": 900.0, "high": 900.0}
