"""What a form changes in the text of a file: exact constructed cases of fresh and stale forms."""

from __future__ import annotations

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.project.written import changed, needs_seen, unlike

THEN = 'name = "a"\n[shell]\nmass = "62 kg, measured"\nwidth = "1.5 m"\n'
NOW = THEN.replace("62 kg", "70 kg")


def test_what_is_as_it_was_shown_is_no_change() -> None:
    form = {"shell.mass": "62 kg", "shell.mass@word": "measured", "shell.width": "1.4 m"}
    assert changed(NOW, form, THEN) == {"shell.width": "1.4 m"}
    assert changed(NOW, form | {"shell.mass@was": "62 kg", "shell.mass@word@was": "measured"}) == {
        "shell.width": "1.4 m"
    }
    # Without a word on what was shown, what is sent is meant.
    assert changed(NOW, form) == {"shell.mass": "62 kg, measured", "shell.width": "1.4 m"}


def test_another_value_than_the_one_shown_is_refused_unless_it_is_the_new_one() -> None:
    form = {"shell.mass": "65 kg", "shell.mass@word": "measured"}
    for given, seen in ((form, THEN), (form | {"shell.mass@was": "62 kg", "shell.mass@word@was": "measured"}, None)):
        with pytest.raises(ProjectFault) as raised:
            changed(NOW, given, seen)
        (fault,) = raised.value.faults
        assert fault.where == "[shell] mass"
        assert changed(NOW, given | {"shell.mass": "70 kg"}, seen) == {}
        assert changed(THEN, given, seen) == {"shell.mass": "65 kg, measured"}


def test_which_forms_need_the_version_that_was_shown() -> None:
    assert needs_seen({"a": "1", "b": "2", "b@was": "2"})
    assert not needs_seen({"b": "2", "b@word": "", "b@was": "2", "b@word@was": ""})
    assert not needs_seen({})


def test_entries_are_unlike_when_their_list_is_longer() -> None:
    one, two = ("[[zone]]\na = 1\n" * count for count in (1, 2))
    assert unlike(one, two, "zone.0")
    assert not unlike(two + "[bed]\nx = 1\n", two, "zone.0")
    assert unlike(two, two.replace("a = 1", "a = 2", 1), "zone.0")
    assert not unlike(two, two.replace("a = 1", "a = 2", 1), "zone.1")
