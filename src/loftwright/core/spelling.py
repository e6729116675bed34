"""British and American spelling: one closed table of whole words, used wherever people read.

The program is written in British spelling. Words of the project file stay as the file writes them, since a builder
types them: keys ("[shell] centre"), paths ("shell.centre"), and the words of its lists ("glass-fibre").
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Final

from loftwright.core.choices import Spelling

WORDS: Final[dict[str, str]] = {
    "ageing": "aging",
    "aluminium": "aluminum",
    "analyse": "analyze",
    "analysed": "analyzed",
    "anticlockwise": "counterclockwise",
    "armour": "armor",
    "behaviour": "behavior",
    "behaviours": "behaviors",
    "cancelled": "canceled",
    "cancelling": "canceling",
    "catalogue": "catalog",
    "catalogues": "catalogs",
    "centimetre": "centimeter",
    "centimetres": "centimeters",
    "centre": "center",
    "centred": "centered",
    "centres": "centers",
    "centring": "centering",
    "colour": "color",
    "coloured": "colored",
    "colouring": "coloring",
    "colours": "colors",
    "defence": "defense",
    "draught": "draft",
    "draughts": "drafts",
    "favour": "favor",
    "favourable": "favorable",
    "favourite": "favorite",
    "fibre": "fiber",
    "fibreglass": "fiberglass",
    "fibres": "fibers",
    "generalised": "generalized",
    "grey": "gray",
    "greyer": "grayer",
    "greys": "grays",
    "harbour": "harbor",
    "honour": "honor",
    "judgement": "judgment",
    "judgements": "judgments",
    "kerb": "curb",
    "kerbs": "curbs",
    "kilometre": "kilometer",
    "kilometres": "kilometers",
    "labelled": "labeled",
    "labelling": "labeling",
    "labour": "labor",
    "learnt": "learned",
    "levelled": "leveled",
    "levelling": "leveling",
    "licence": "license",
    "licences": "licenses",
    "litre": "liter",
    "litres": "liters",
    "maximised": "maximized",
    "metre": "meter",
    "metres": "meters",
    "millimetre": "millimeter",
    "millimetres": "millimeters",
    "minimise": "minimize",
    "minimises": "minimizes",
    "modelled": "modeled",
    "modelling": "modeling",
    "mould": "mold",
    "moulded": "molded",
    "moulding": "molding",
    "mouldings": "moldings",
    "moulds": "molds",
    "neighbour": "neighbor",
    "neighbouring": "neighboring",
    "neighbours": "neighbors",
    "odour": "odor",
    "optimise": "optimize",
    "organise": "organize",
    "practise": "practice",
    "programme": "program",
    "programmes": "programs",
    "realise": "realize",
    "recognise": "recognize",
    "skilful": "skillful",
    "standardised": "standardized",
    "travelled": "traveled",
    "travelling": "traveling",
    "tyre": "tire",
    "tyres": "tires",
    "vapour": "vapor",
}
"""American spelling by the British one; plurals and other forms are words of their own."""

KEPT: Final = (
    r"\[{1,2}\w+\]{1,2}(?: \d+)? \w+",
    "glass-fibre",
    "aluminium-skin",
    '["\u201c]kerb["\u201d]',
    "&#34;kerb&#34;",
    '["\u201c]aluminium(?: sheet| frame)?["\u201d]',
    "&#34;aluminium(?: sheet| frame)?&#34;",
    "kerb, aluminium,? (?:and )?metre",
    r"[\w.-]+\.toml\b",
)
"""What is left as it is: a place of the file as faults name it, words of the file's lists, the choice itself, and
the names of files."""


@cache
def _pattern(own: tuple[str, ...]) -> re.Pattern[str]:
    kept = [*(re.escape(name) for name in sorted(own, key=len, reverse=True)), *KEPT]
    # A dot ties a word to a path of the file: "shell.centre" stays, "the centre." does not.
    words = "|".join(sorted(WORDS, key=len, reverse=True))
    return re.compile(rf"(?P<kept>{'|'.join(kept)})|(?<![\w.])(?P<word>{words})(?![\w]|\.\w)", re.IGNORECASE)


def _in_case(old: str, new: str) -> str:
    """Return a word in the capitals of another one."""
    if old.isupper() and len(old) > 1:
        return new.upper()
    return new[0].upper() + new[1:] if old[0].isupper() else new


def spelled(text: str, words: Spelling, own: tuple[str, ...] = ()) -> str:
    """Return a text in the spelling asked for; `own` are names that the builder gave, which stay as they are.

    >>> spelled("The kerb's Centre is grey; GREY fibres.", "curb")
    "The curb's Center is gray; GRAY fibers."
    >>> spelled('[shell] centre must lie near the centre of "glass-fibre"', "curb")
    '[shell] centre must lie near the center of "glass-fibre"'
    """
    if words == "kerb":
        return text

    def put(found: re.Match[str]) -> str:
        word = found["word"]
        return found[0] if word is None else _in_case(word, WORDS[word.lower()])

    return _pattern(own).sub(put, text)


def own_words(names: Iterator[str] | tuple[str, ...] | list[str]) -> tuple[str, ...]:
    """Return those of a builder's names that would be spelled otherwise, to be left as they are."""
    return tuple(dict.fromkeys(name for name in names if name and spelled(name, "curb") != name))
