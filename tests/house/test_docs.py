"""What a builder can type or read has its place in docs/, and the generated pages are up to date."""

from __future__ import annotations

import re
from pathlib import Path
from types import ModuleType

import pytest


def test_generated_pages_are_up_to_date(generator: ModuleType, root: Path) -> None:
    docs = root / "docs"
    stale = [
        path
        for path, text in generator.pages().items()
        if not (docs / path).exists() or (docs / path).read_text(encoding="utf-8") != text
    ]
    assert stale == [], "run: python3 dev.py pages"


def test_every_command_and_option_is_explained(generator: ModuleType) -> None:
    faults = []
    for name, command in generator.commands().items():
        if not command.help:
            faults.append(name)
        faults += [f"{name} {option}" for option, _, text in generator.parameters(command) if not text]
    assert faults == []


def test_every_command_is_in_the_readme(generator: ModuleType, root: Path) -> None:
    readme = (root / "README.md").read_text(encoding="utf-8")
    assert [name for name in generator.commands() if f"loftwright {name}" not in readme] == []


def test_every_command_that_pages_name_exists(generator: ModuleType, texts: dict[str, str]) -> None:
    known = set(generator.commands())
    named = {
        (path, name)
        for path, text in texts.items()
        if path.endswith(".md")
        for name in re.findall(r"^(?:\$ )?loftwright ([a-z][a-z-]*)", text, re.MULTILINE)
        + re.findall(r"`loftwright ([a-z][a-z-]*)", text)
    }
    assert {(path, name) for path, name in named if name not in known} == set()


def test_every_key_is_explained(generator: ModuleType) -> None:
    faults = [
        f"{path}.{member.key}"
        for path, _, members in generator.project_keys()
        for member in members
        if not all(generator.describe(member)[:2])
    ]
    assert faults == []


LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)]*)?\)")


def test_links_between_pages_lead_somewhere(texts: dict[str, str], root: Path) -> None:
    broken = [
        f"{name}: {target}"
        for name, text in texts.items()
        if name.endswith(".md")
        for target in LINK.findall(text)
        if ":" not in target and not (root / name).parent.joinpath(target).exists()
    ]
    assert broken == []


@pytest.mark.parametrize("folder", ["docs/decisions"])
def test_decisions_are_numbered_without_gaps(root: Path, folder: str) -> None:
    numbers = [int(path.name[:4]) for path in sorted((root / folder).glob("0*.md"))]
    assert numbers == list(range(1, len(numbers) + 1))
