"""Spelling in what is ready to show: the text between the tags of a page, and the texts in data for a page or paper.

What a builder typed stands in attributes and in text areas and stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from loftwright.core.choices import Spelling
from loftwright.core.spelling import own_words, spelled
from loftwright.core.views import RoofPage

_PIECES: Final = re.compile(
    r"(?P<whole><(?P<name>script|style|textarea)\b.*?</(?P=name)\s*>|<!--.*?-->)|(?P<tag><[^>]*>)|(?P<text>[^<]+)",
    re.DOTALL | re.IGNORECASE,
)
_READ: Final = re.compile(r"(?P<before>\s(?:title|aria-label|aria-valuetext|placeholder)=\")(?P<text>[^\"]*)(?=\")")
"""Attributes that people read."""


def respelled_page(page: str, words: Spelling, own: tuple[str, ...] = ()) -> str:
    """Return HTML or SVG with the texts that people read in the spelling asked for."""
    if words == "kerb":
        return page

    def attribute(found: re.Match[str]) -> str:
        return f"{found['before']}{spelled(found['text'], words, own)}"

    def piece(found: re.Match[str]) -> str:
        if found["text"] is not None:
            return spelled(found["text"], words, own)
        return found[0] if found["tag"] is None else _READ.sub(attribute, found["tag"])

    return _PIECES.sub(piece, page)


MACHINE: Final = frozenset(
    (
        *("path", "x_path", "z_path", "x_where", "z_where", "x_text", "z_text"),
        *("kind", "body", "foot_on", "head_on", "name", "id"),
        *("file", "mark", "run", "key", "way", "usual", "set_now"),
    )
)
"""Keys of a page's data whose values its script sends back or compares: nobody reads them there."""


def respelled(value: Any, words: Spelling, own: tuple[str, ...] = (), *, keep: frozenset[str] = frozenset()) -> Any:
    """Return data with every text in it in the spelling asked for, drawings as well.

    Keys stay as they are, and whatever stands under those of `keep`.
    """
    if words == "kerb":
        return value
    if isinstance(value, str):
        return respelled_page(value, words, own) if value.lstrip().startswith("<") else spelled(value, words, own)
    if isinstance(value, Mapping):
        return {key: part if key in keep else respelled(part, words, own, keep=keep) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [respelled(part, words, own, keep=keep) for part in value]
    return value


def own_of(page: RoofPage) -> tuple[str, ...]:
    """Return the names that the builder gave on a page about a roof, as far as spelling would change them."""
    scene = page.scene
    return own_words([page.name, *(spring.name for spring in scene.springs), *(item.name for item in scene.items)])
