"""KEY=VALUE as typed: each key decides what its text becomes. Exact constructed cases."""

from __future__ import annotations

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.project.typed import changes_of, typed


@pytest.mark.parametrize(
    ("path", "text", "value"),
    [
        ("name", "12", "12"),
        ("settings.draws", "60", 60),
        ("settings.draws", "-5", -5),
        ("settings.draws", "unknown", "unknown"),
        ("spring.0.per_side", "2", 2),
        ("requirements.prop_fitted", "true", True),
        ("item.1.removable", "False", False),
        ("item.1.removable", "perhaps", "perhaps"),
        ("shell.mass", "62", "62"),
        ("linkage.hinge.x", "2 m", "2 m"),
        ("no.such.key", "3", "3"),
    ],
)
def test_kinds(path: str, text: str, value: object) -> None:
    found = typed(path, text)
    assert (found, type(found)) == (value, type(value))


def test_the_first_equals_sign_parts_key_and_value() -> None:
    assert changes_of(["name = a=b", "shell.mass=62 kg"]) == {"name": "a=b", "shell.mass": "62 kg"}


def test_all_that_cannot_be_read_is_said() -> None:
    with pytest.raises(ProjectFault) as caught:
        changes_of(["name", "=3", "name=a", "name=b"])
    assert len(caught.value.faults) == 3
