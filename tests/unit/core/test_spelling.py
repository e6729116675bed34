"""British and American spelling: every word of the table, whole words only, and what must stay."""

from __future__ import annotations

import pytest

from loftwright.core.spelling import WORDS, own_words, spelled
from loftwright.project.keys import Choice, Section, members
from loftwright.project.model import Project


@pytest.mark.parametrize(("british", "american"), WORDS.items())
def test_every_word_in_its_own_case(british: str, american: str) -> None:
    text = f"{british}, {british.capitalize()} ({british.upper()}). The {british}."
    wanted = f"{american}, {american.capitalize()} ({american.upper()}). The {american}."
    assert spelled(text, "curb") == wanted
    # American text stays, and so does everything where British words are wanted.
    assert spelled(wanted, "curb") == wanted
    assert spelled(text, "kerb") == text


# What Britain and America spell unlike, by any dictionary; from the outside, not from the table.
DICTIONARY = {
    "kerb": "curb",
    "aluminium": "aluminum",
    "centre": "center",
    "metre": "meter",
    "colour": "color",
    "grey": "gray",
    "mould": "mold",
    "tyre": "tire",
    "labour": "labor",
    "fibre": "fiber",
    "programme": "program",
}


@pytest.mark.parametrize(("british", "american"), DICTIONARY.items())
def test_words_of_the_dictionary_with_their_plurals(british: str, american: str) -> None:
    assert spelled(british, "curb") == american
    if british not in ("aluminium", "labour"):
        assert spelled(f"{british}s", "curb") == f"{american}s"


@pytest.mark.parametrize(
    "text",
    [
        "perimetre",
        "kerbstone",
        "centre_height",
        "shell.centre",
        "[shell] centre",
        "[[spring]] 2 centre",
        '"glass-fibre"',
        'must be "kerb" or "curb"',
        "British: kerb, aluminium, metre",
        "aluminium-skin",
        "otherwise, raise, promise and noise",
        "",
    ],
)
def test_what_is_no_word_of_its_own_or_belongs_to_the_file_stays(text: str) -> None:
    assert spelled(text, "curb") == text


def test_a_stop_after_a_word_ends_the_sentence() -> None:
    assert spelled("From the centre.", "curb") == "From the center."
    assert spelled("From the centre. Then", "curb") == "From the center. Then"


def test_names_of_the_builder_stay() -> None:
    own = own_words(["Grey lid", "side spring", "Grey lid"])
    assert own == ("Grey lid",)
    # Within a sentence as well, where it begins small.
    assert spelled("Grey lid: the grey lid of grey fibre", "curb", own) == "Grey lid: the grey lid of gray fiber"


def words_of_the_file(section: type[Section] = Project) -> set[str]:
    """Return every word of the closed lists of a project file."""
    found: set[str] = set()
    for member in members(section):
        if isinstance(member.about, Choice):
            found |= set(member.words)
        if member.table is not None:
            found |= words_of_the_file(member.table)
    return found


def test_words_that_a_builder_types_into_the_file_are_shown_as_they_are_typed() -> None:
    words = words_of_the_file() - {"kerb", "curb"}
    assert "glass-fibre" in words
    assert {word for word in words if spelled(f'"{word}"', "curb") != f'"{word}"'} == set()
