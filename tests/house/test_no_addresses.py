"""Nothing in the repository names where packages are fetched from."""

from __future__ import annotations

import re

MARK = ":" + "//"
LOCK_LIKE = re.compile(r"(^|/)([^/]*(constraints|requirements)[^/]*\.txt|[^/]*\.lock|package-lock\.json|pylock[^/]*)$")
HOSTS = re.compile(
    "|".join(
        ("pypi" + r"\.org", "python" + r"hosted\.org", "registry" + r"\.npmjs", "anaconda" + r"\.org", "dev" + r"pi\b")
    )
)
INDEX_OPTION = re.compile(r"--(extra-)?index" + r"-url|--find" + r"-links|--trusted" + r"-host|\b(UV|PIP)_[A-Z_]*INDEX")


def test_lock_like_files_hold_no_address(texts: dict[str, str]) -> None:
    locks = [name for name in texts if LOCK_LIKE.search(name)]
    assert "constraints.txt" in locks
    assert [name for name in locks if MARK in texts[name]] == []


def test_no_registry_is_named(texts: dict[str, str]) -> None:
    assert [name for name, text in texts.items() if HOSTS.search(text) or INDEX_OPTION.search(text)] == []


def test_every_constraint_is_one_exact_version(texts: dict[str, str]) -> None:
    line = re.compile(r"[a-z0-9-]+==[0-9][0-9a-z.]*( ; .+)?")
    assert [text for text in texts["constraints.txt"].splitlines() if not line.fullmatch(text)] == []
