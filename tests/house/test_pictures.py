"""Every page of the drawing board is pictured in docs/, and every picture that is named is there, whole and small."""

from __future__ import annotations

import posixpath
import re
import runpy
import struct
import zlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.board.app import pages

FOLDER = "docs/pictures"
MOST_ONE, MOST_ALL = 200_000, 2_000_000
"""Bytes of one picture and of all together."""
NAMED = re.compile(r'!\[[^\]]+\]\(([^)\s]+\.png)\)|<img src="([^"]+\.png)"[^>]* alt="[^"]+">')
MARK = b"\x89PNG\r\n\x1a\n"


@pytest.fixture(scope="module")
def camera(root: Path) -> dict[str, Any]:
    """Return what stands in the script that takes the pictures."""
    return runpy.run_path(str(root / "docs" / "take_pictures.py"))


@pytest.fixture
def named(texts: dict[str, str]) -> set[str]:
    """Return the pictures that pages show, with words for those who do not see them."""
    return {
        posixpath.normpath(posixpath.join(posixpath.dirname(name), first or second))
        for name, text in texts.items()
        if name.endswith(".md")
        for first, second in NAMED.findall(text)
    }


def chunks(data: bytes) -> list[tuple[bytes, bytes]]:
    """Return kind and content of each chunk of a PNG file; what the standard asks of each is asserted."""
    assert data.startswith(MARK)
    found, at = [], len(MARK)
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        kind, content = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length : at + 12 + length]) == (zlib.crc32(kind + content),)
        found.append((kind, content))
        at += 12 + length
    assert found[0][0] == b"IHDR"
    assert found[-1] == (b"IEND", b"")
    return found


def pixels(data: bytes) -> np.ndarray:
    """Return the colours of a PNG file with a palette whose lines are not filtered."""
    found = dict(chunks(data))
    width, height, depth, kind, _, _, woven = struct.unpack(">IIBBBBB", found[b"IHDR"])
    assert (kind, woven) == (3, 0)
    palette = np.frombuffer(found[b"PLTE"], np.uint8).reshape(-1, 3)
    assert len(palette) <= 256
    lines = np.frombuffer(zlib.decompress(found[b"IDAT"]), np.uint8).reshape(height, -1)
    assert not lines[:, 0].any()
    bits = np.unpackbits(lines[:, 1:], axis=1)[:, : width * depth].reshape(height, width, depth)
    return palette[(bits * (1 << np.arange(depth)[::-1])).sum(axis=-1)]


def test_every_page_of_the_board_has_a_picture(camera: dict[str, Any], named: set[str]) -> None:
    assert set(camera["PAGES"]) == set(pages())
    assert [name for name in camera["PAGES"].values() if f"{FOLDER}/board-{name}.png" not in named] == []


def test_every_picture_that_is_named_is_there(root: Path, named: set[str]) -> None:
    assert [name for name in sorted(named) if not (root / name).is_file()] == []
    assert {path.relative_to(root).as_posix() for path in (root / FOLDER).iterdir()} <= named


def test_pictures_are_whole_and_small(root: Path) -> None:
    sizes = {}
    for path in (root / FOLDER).glob("*.png"):
        data = path.read_bytes()
        assert chunks(data)
        sizes[path.name] = len(data)
    assert {name: size for name, size in sizes.items() if size > MOST_ONE} == {}
    assert sum(sizes.values()) < MOST_ALL


@pytest.mark.parametrize("count", [2, 3, 5, 16, 17, 256])
def test_few_colours_are_kept_as_they_are(camera: dict[str, Any], count: int) -> None:
    colours = np.stack([np.arange(count), 255 - np.arange(count), np.arange(count) % 7], axis=1).astype(np.uint8)
    drawn = colours[np.arange(13 * 29).reshape(13, 29) % count]
    assert np.array_equal(pixels(camera["png"](drawn)), drawn)


def test_many_colours_become_few_that_lie_near(camera: dict[str, Any]) -> None:
    rows, columns = np.mgrid[:40, :64]
    drawn = np.stack([rows * 6, columns * 4, (rows + columns) * 2], axis=-1).astype(np.uint8)
    drawn[:30, :50] = (253, 252, 249)
    made = pixels(camera["png"](drawn))
    assert np.array_equal(made[:30, :50], drawn[:30, :50])
    assert np.abs(made.astype(int) - drawn).max() < 32
