"""By how much one figure differs from another, from the figures as they are shown."""

from __future__ import annotations

import re
from typing import Final

from loftwright.core.amounts import QuantityError
from loftwright.core.quantities import parse
from loftwright.core.units import Dimension
from loftwright.core.wording import Wording

PLUS, MINUS = "+", "\u2212"
_FIGURE: Final = re.compile(r"([^\d-]*)(-?\d+(?:\.\d+)?)(\D*)")
_LENGTHS: Final = re.compile(r"-?[\d ./]+(?:mm|cm|m|in|ft[\d ./]*(?:in)?)")


def sign(more: float) -> str:
    """Return the sign of a difference."""
    return MINUS if more < 0 else PLUS


def text_difference(here: str, there: str, say: Wording) -> str:
    """Return by how much a figure differs from another, both as they are shown; empty for words and where they agree.

    >>> text_difference("12.2 kg", "11.9 kg", Wording()), text_difference("345 mm", "1.20 m", Wording())
    ('−0.3 kg', '+855 mm')
    >>> text_difference("from 23 % open", "from 9 % open", Wording())
    '−14 %'
    >>> text_difference("from 23 % open", "never to the top", Wording())
    ''
    """
    if here == there:
        return ""
    one, two = _FIGURE.fullmatch(here), _FIGURE.fullmatch(there)
    if one and two and one[1] == two[1] and one[3] == two[3]:
        decimals = max(len(found[2].partition(".")[2]) for found in (one, two))
        more = float(two[2]) - float(one[2])
        # Among words only the unit right behind the figure belongs to it.
        unit = " ".join(["", *one[3].split()[:1]]) if one[1].strip("\u00b1 ") else one[3]
        return f"{sign(more)}{abs(more):.{decimals}f}{unit}"
    if not (_LENGTHS.fullmatch(here) and _LENGTHS.fullmatch(there)):
        return ""
    try:
        a, b = (parse(text, Dimension.LENGTH, unknown=None).nominal for text in (here, there))
    except QuantityError:
        return ""
    return sign(b - a) + say.length(abs(b - a))
