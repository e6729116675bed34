from __future__ import annotations

import os
from pathlib import Path

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.project.stored import keep, kept, kept_beside, stamp_of


def test_what_is_kept_comes_back_beside_what_was_there(tmp_path: Path) -> None:
    path = kept_beside(tmp_path / "roof.toml")
    assert path.name == "roof.kept.json"
    assert kept(path, "fold") is None
    keep(path, "fold", "a", {"places": [1.5]})
    keep(path, "laying", "b", [2])
    assert (kept(path, "fold"), kept(path, "laying")) == (("a", {"places": [1.5]}), ("b", [2]))
    keep(path, "fold", "c", [])
    assert (kept(path, "fold"), kept(path, "laying")) == (("c", []), ("b", [2]))


@pytest.mark.parametrize("text", ["", "[" * 200_000, "{", '{"form": 99, "answers": {}}', '{"form": 1, "answers": [3]}'])
def test_what_cannot_be_read_counts_as_not_there(tmp_path: Path, text: str) -> None:
    path = tmp_path / "roof.kept.json"
    path.write_text(text, encoding="utf-8")
    assert kept(path, "fold") is None


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    path = tmp_path / "roof.kept.json"
    os.mkfifo(path)
    assert kept(path, "fold") is None


def test_nothing_is_written_over_what_is_not_ours(tmp_path: Path) -> None:
    path, other = tmp_path / "roof.kept.json", tmp_path / "letters.txt"
    other.write_text("dear aunt", encoding="utf-8")
    path.symlink_to(other)
    with pytest.raises(ProjectFault, match="not a file of kept answers"):
        keep(path, "fold", "a", [])
    path.unlink()
    path.write_text("dear uncle", encoding="utf-8")
    with pytest.raises(ProjectFault, match="not a file of kept answers"):
        keep(path, "fold", "a", [])
    assert (other.read_text(encoding="utf-8"), path.read_text(encoding="utf-8")) == ("dear aunt", "dear uncle")


def test_an_older_form_of_ours_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "roof.kept.json"
    path.write_text('{"form": 0, "answers": {}}', encoding="utf-8")
    keep(path, "fold", "a", [])
    assert kept(path, "fold") == ("a", [])


def test_a_stamp_outlives_writing_and_reading() -> None:
    assert stamp_of({"a": [0.1 + 0.2, 1]}) == stamp_of({"a": (0.3, 1)})
    assert stamp_of({"a": [0.3001, 1]}) != stamp_of({"a": [0.3, 1]})
