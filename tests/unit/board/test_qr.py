"""The QR code in the terminal shows exactly the modules of the address, light on dark or dark on light.

Second way: the letters are read back into modules and compared with those of the encoder for the same address.
"""

from __future__ import annotations

import pytest
import segno

from loftwright.board.guard import Entry
from loftwright.board.qr import AS_BEFORE, BLACK_ON_WHITE, terminal

LONGEST = Entry("f" * 32, 65535, "192.168.178.255").phone
SHORTEST = Entry("0" * 32, 80, "10.0.0.2").phone

UPPER, LOWER = {"▀", "█"}, {"▄", "█"}


def read_back(text: str, *, inked_is_dark: bool) -> list[list[bool]]:
    rows = []
    for line in text.splitlines():
        rows.append([(letter in UPPER) is inked_is_dark for letter in line])
        rows.append([(letter in LOWER) is inked_is_dark for letter in line])
    return rows


@pytest.mark.parametrize("colour", [True, False])
@pytest.mark.parametrize("address", [LONGEST, SHORTEST])
def test_the_letters_are_the_code_of_the_address(address: str, colour: bool) -> None:
    text = terminal(address, colour=colour)
    if colour:
        assert all(line.startswith(BLACK_ON_WHITE) and line.endswith(AS_BEFORE) for line in text.splitlines())
        text = text.replace(BLACK_ON_WHITE, "").replace(AS_BEFORE, "")
    rows = read_back(text, inked_is_dark=colour)
    expected = [[bool(module) for module in row] for row in segno.make_qr(address, error="l").matrix_iter(border=4)]
    assert rows[: len(expected)] == expected
    assert not any(any(row) for row in rows[len(expected) :])


def test_another_address_is_another_code() -> None:
    assert LONGEST is not None
    assert terminal(LONGEST) != terminal(LONGEST[:-1] + "0")


def test_it_fits_a_usual_terminal() -> None:
    assert LONGEST is not None
    lines = terminal(LONGEST, colour=False).splitlines()
    assert max(len(line) for line in lines) <= 80
    assert len(lines) <= 24
    assert len({len(line) for line in lines}) == 1
