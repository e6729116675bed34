"""Names of new project files: what is refused in a sentence, what is made of the rest."""

from __future__ import annotations

from pathlib import PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loftwright.answers.new_name import LONGEST_NAME, SUFFIX, file_name, fresh_name
from loftwright.core.errors import ProjectFault


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("my roof", "my-roof.toml"),
        ("  My  Roof! ", "my-roof.toml"),
        ("roof.toml", "roof.toml"),
        ("v1.2 (new)", "v1-2-new.toml"),
        ("Dachträger", "dachträger.toml"),
        ("_x_", "x.toml"),
        ("x" * LONGEST_NAME, "x" * LONGEST_NAME + SUFFIX),
        ("console", "console.toml"),
    ],
)
def test_letters_and_digits_make_the_files_name(name: str, file: str) -> None:
    assert file_name(name) == file


@pytest.mark.parametrize(
    ("name", "word"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("../x", "path"),
        ("a/b", "path"),
        ("a\\b", "path"),
        (".hidden", "path"),
        ("..", "path"),
        ("con", "device"),
        ("NUL", "device"),
        ("com1.toml", "device"),
        ("x" * (LONGEST_NAME + 1), "the most"),
        ("###", "letters"),
        ("a\nb", "cannot be seen"),
        ("a\u202eb", "cannot be seen"),
        ("a\x00b", "cannot be seen"),
    ],
)
def test_what_no_file_can_be_called_is_one_sentence(name: str, word: str) -> None:
    with pytest.raises(ProjectFault) as caught:
        file_name(name)
    (fault,) = caught.value.faults
    assert word in fault.sentence()
    assert fault.sentence().count("\n") == 0


@given(st.text(max_size=80))
def test_whatever_is_typed_stays_in_the_folder(name: str) -> None:
    try:
        made = file_name(name)
    except ProjectFault:
        return
    assert made.endswith(SUFFIX)
    assert made.isprintable()
    for kind in (PurePosixPath, PureWindowsPath):
        assert kind(made).name == made
        assert not kind(made).is_absolute()
    assert not PureWindowsPath(made).is_reserved()
    assert not made.startswith((".", "-"))
    assert len(made.encode("utf-8")) < 255


def test_a_fresh_name_is_of_no_file_that_is_there() -> None:
    assert fresh_name([]) == "my roof"
    assert fresh_name(["my-roof.toml", "other.toml"]) == "my roof 2"
    assert fresh_name(["my-roof.toml", "my-roof-2.toml"]) == "my roof 3"
