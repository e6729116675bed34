"""The fold at one place in words: how deep, how far it hangs, how high and how hard, and which way it goes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from loftwright.answers.fold_found import OUTWARD, PlaceFound
from loftwright.answers.hold_said import capital, nominal
from loftwright.cloth.fold_ways import LEAST_STARTS, could_still
from loftwright.core.units import Dimension
from loftwright.core.wording import Wording

NOT_KNOWN: Final = "not known yet: try it in cheap cloth"
LEAST_HANG: Final = 0.005
"""Cloth that hangs less far below the ring lies on it [m]."""
OUTWARD_TIP: Final = "outside"
UP_TO: Final = "up to about"


def known_text(deep: PlaceFound, say: Wording) -> str:
    """Return how deep the fold is at the deepest place, and where the cloth is then: below the ring or upon it."""
    name, hangs = deep.at.name, hang_text(deep, say)
    if deep.falls_out:
        return f"the {name}: {OUTWARD}"
    if deep.at.sheared:
        return f"how far the {name} reaches in is {NOT_KNOWN}"
    known = f"the {name} reaches in by {tip_text(deep, say)}"
    if hangs:
        return f"{known} and {'hangs' if deep.kept is not None else 'may hang'} below the ring by {hangs}"
    if deep.thick is not None:
        known += f" and stands about {say.short_length(nominal(deep.thick))} high"
    return known


def span(low: float, high: float, word: Callable[[float], str]) -> str:
    """Return a range as text, one number where both read alike; `word` words one number."""
    ends = [word(v) for v in (low, high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def tip_text(one: PlaceFound, say: Wording) -> str:
    """Return how far the fold reaches in, as text."""
    low, high = (nominal(end) for end in one.reach.depth)
    if one.falls_out:
        return f"{OUTWARD_TIP}, unless drawn in"
    if one.at.sheared:
        return f"not known yet, {span(low, high, say.short_length)}"
    if one.kept is not None and "in" not in one.kept.ways:
        return OUTWARD_TIP
    if one.kept is None and nominal(one.reach.hang[1]) > 0.0:
        return f"{UP_TO} {say.short_length(high)}"
    return span(low, high, say.short_length)


def hang_text(one: PlaceFound, say: Wording) -> str:
    """Return how far the fold hangs below the ring, as text; empty where it does not."""
    low, high = (nominal(end) for end in one.reach.hang)
    if high < LEAST_HANG or one.falls_out:
        return ""
    if one.kept is None or one.at.sheared:
        return f"{UP_TO} {say.short_length(high)}"
    if one.reach.lies:
        return f"{say.short_length(one.reach.lowest)}, lying on what is there"
    return span(low, high, say.short_length)


def bundle_text(one: PlaceFound, say: Wording) -> str:
    """Return how high the bundle stands above the ring, as text; empty without a layer."""
    if one.quick is None or one.thick is None:
        return ""
    return span(nominal(one.quick.bundle[0]), nominal(one.quick.bundle[1]), say.short_length)


def push_text(one: PlaceFound, say: Wording) -> str:
    """Return how hard the folded wall pushes the shell up for each metre, as text; empty without a layer."""
    if one.quick is None or one.push is None:
        return ""
    if one.kept is not None:
        return say.quantity(nominal(one.push), Dimension.LINE_FORCE)
    low, high = (nominal(v) for v in one.quick.push)
    return span(low, high, lambda v: say.quantity(v, Dimension.LINE_FORCE))


def way_text(one: PlaceFound) -> str:
    """Return which way the fold goes, as text."""
    if one.at.sheared:
        return NOT_KNOWN
    if one.falls_out:
        return OUTWARD
    if one.kept is None:
        return "in, by the pull" if one.sure else "not known yet"
    return one.ways.said


def place_says(one: PlaceFound, say: Wording) -> str:
    """Return the fold at one place in a sentence."""
    name, deep = capital(one.at.name), tip_text(one, say)
    if one.at.sheared:
        return f"{name}: which way it goes and how deep is {NOT_KNOWN}; it may reach in {deep.partition(', ')[2]}."
    if one.falls_out:
        return f"{name}: {OUTWARD}."
    if one.kept is None:
        way = "drawn in by the pull" if one.sure else "which way it goes is not known yet"
        return f"{name}: by a quick estimate it reaches in {deep}; {way}."
    total, went = len(one.kept.ways), one.ways.count("in")
    if total < LEAST_STARTS:
        return f"{name}: {went} of {total} starts went in, too few to tell a habit from a chance."
    text = f"{name}: {one.ways.said}, {went} of {total} starts went in"
    if went:
        text += f", {deep} deep"
    if one.ways.said == "always in":
        text += f"; that still leaves {round(100 * could_still(total))} in 100 other ways open"
    return f"{text}."
