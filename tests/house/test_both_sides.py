"""What counts as having seen a rule hold or fail: an assertion that compares its verdict or margin."""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="module")
def conftest(request: pytest.FixtureRequest, root: Path) -> ModuleType:
    """Return the module that watches what tests read."""
    found = request.config.pluginmanager.get_plugin(str(root / "tests" / "conftest.py"))
    assert isinstance(found, ModuleType)
    return found


@pytest.mark.parametrize(
    ("line", "counts"),
    [
        ("assert check.verdict is Verdict.HOLDS", True),
        ("assert rule.judge(1, 2).margin < 0", True),
        ("assert found and check.margin == -7.0", True),
        ("assert [(c.rule, c.verdict) for c in checks] == [(RULE, Verdict.FAILS)]", True),
        ("assert all(c.verdict is Verdict.FAILS for c in checks)", True),
        ("if check.verdict is Verdict.HOLDS: pass", False),
        ("print(check.verdict)", False),
        ("verdict = check.verdict", False),
        ("assert check.verdict", False),
        ("assert said == [words[c.verdict] for c in checks]", False),
        ("assert (promise if check.verdict is Verdict.HOLDS else title) in page", False),
        ("assert [c for c in checks if c.verdict is Verdict.HOLDS] == []", False),
    ],
)
def test_only_an_assertion_that_compares_counts(conftest: ModuleType, tmp_path: Path, line: str, counts: bool) -> None:
    path = tmp_path / "lines.py"
    path.write_text(f"\n{line}\n")
    assert conftest.comparing_lines(str(path)) == (frozenset({2}) if counts else frozenset())
