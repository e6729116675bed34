"""What a builder can type or read has its place in docs/, and the generated pages are up to date."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

from loftwright.project.keys import Section, members
from loftwright.project.model import Project


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


def tables(section: type[Section] = Project, heading: str = "Keys outside any section") -> Iterator[tuple[str, str]]:
    """Yield every key of the project file under the heading of the page on which it must stand."""
    for member in members(section):
        if section is not Project or member.table is None:
            yield heading, member.key
        if member.table is not None and member.about is None:
            name = f"[[{member.key}]]" if member.many else f"[{member.key}]"
            below = f"`{name}`" if section is Project else f"`{member.key}` in {heading}"
            yield from tables(member.table, below)


def test_every_key_is_explained(generator: ModuleType) -> None:
    chapters = re.split(r"^##+ (.+)$", generator.project_page(), flags=re.MULTILINE)
    rows: dict[tuple[str, str], list[str]] = {}
    for heading, text in zip(chapters[1::2], chapters[2::2], strict=True):
        for row in re.findall(r"^\| `(\w+)` \|(.+)\|$", text, re.MULTILINE):
            rows[heading, row[0]] = [cell.strip() for cell in row[1].split("|")]
    keys = list(tables())
    assert len(keys) > 100
    assert set(rows) == set(keys)
    # What it is, what is allowed and what holds when it is left out; a table's own keys say what is allowed.
    bare = [
        key
        for key, (what, allowed, _, left_out) in rows.items()
        if not what or not left_out or not (allowed or "see below" in what)
    ]
    assert bare == []


def test_every_entry_of_the_bibliography_is_used(generator: ModuleType, texts: dict[str, str]) -> None:
    named = {source.key for source in generator.all_sources()}
    pages = "".join(text for name, text in texts.items() if name.startswith("docs/") and name.endswith(".md"))
    unused = [
        key
        for key, entry in generator.bibliography().items()
        if named.isdisjoint({key, entry.get("label", key)}) and f"`{key}`" not in pages
    ]
    assert unused == []


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
