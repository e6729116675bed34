"""What is read off the drawing at one station."""

from __future__ import annotations

import pytest

from loftwright.answers.readouts import spring_length
from loftwright.core.wording import Wording


@pytest.mark.parametrize(
    ("length", "said"),
    [
        (0.712, "712 mm, 42 mm too long for it"),
        (0.67, "670 mm"),
        # Less than half a millimetre beyond reads as nothing.
        (0.6704, "670 mm"),
        (0.5, "500 mm"),
        (0.4, "400 mm"),
        (0.385, "385 mm, 15 mm too short for it"),
    ],
)
def test_a_length_that_the_spring_cannot_have_is_marked(length: float, said: str) -> None:
    assert spring_length(Wording("metric"), (0.4, 0.67), length) == said
