"""Every rule can be looked up: its own id, a known unit, a source in the bibliography, a page of its own.

That the tests have seen each rule hold and fail is asked at the end of a whole run: see tests/conftest.py.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from types import ModuleType
from typing import get_args

import pytest

from loftwright.core.checks import SourceKind
from loftwright.core.wording import RULE_UNITS

OPINION = {"judgement", "common practice", "derivation"}


def test_there_are_rules(generator: ModuleType) -> None:
    assert generator.all_rules()


def test_ids_are_unique(generator: ModuleType) -> None:
    count = Counter(rule.id for rule in generator.all_rules())
    assert [name for name, times in count.items() if times > 1] == []


@pytest.mark.parametrize("field", ["id", "title", "promise", "reason", "remedy"])
def test_texts_are_whole(generator: ModuleType, field: str) -> None:
    faults = [
        rule.id
        for rule in generator.all_rules()
        if getattr(rule, field).strip() != getattr(rule, field) or not getattr(rule, field)
    ]
    assert faults == []


def test_reason_and_remedy_are_sentences(generator: ModuleType) -> None:
    faults = [
        f"{rule.id}: {text}"
        for rule in generator.all_rules()
        for text in (rule.reason, rule.remedy)
        if not (text[0].isupper() and text.endswith("."))
    ]
    assert faults == []


def test_units_have_words(generator: ModuleType) -> None:
    assert [rule.id for rule in generator.all_rules() if rule.unit not in RULE_UNITS] == []
    assert set(generator.UNIT_WORDS) == RULE_UNITS


def test_sources_stand_in_the_bibliography(generator: ModuleType) -> None:
    known = generator.known_sources()
    faults = [
        f"{source.key} ({source.locator})"
        for source in generator.all_sources()
        if source.key not in known or source.kind not in get_args(SourceKind)
    ]
    assert faults == []


def test_a_source_of_others_says_where(generator: ModuleType) -> None:
    faults = [s.key for s in generator.all_sources() if s.kind not in OPINION and not s.locator]
    assert faults == []


def test_no_page_is_left_of_a_rule_that_is_gone(generator: ModuleType, root: Path) -> None:
    pages = {path.stem for path in (root / "docs" / "checks").glob("*.md")} - {"index"}
    assert pages == {rule.id for rule in generator.all_rules()}


def test_pages_that_sources_point_to_exist(generator: ModuleType, root: Path) -> None:
    named = {page for source in generator.all_sources() for page in re.findall(r"docs/[\w/-]+\.md", source.locator)}
    assert [page for page in sorted(named) if not (root / page).exists()] == []
