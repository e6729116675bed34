"""What every page on fit and strength is written with: one answer in a sentence, gusts in words, shares as text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.answers.draws import followed
from loftwright.answers.held_gusts import HIGHEST
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.odds_words import measurable, settle
from loftwright.core.checks import Check, Verdict
from loftwright.core.hold_views import HoldPart
from loftwright.core.wording import Wording
from loftwright.reference.wind import BEAUFORT
from loftwright.strength.wind import beauforts_of_gust, gusts_of_beaufort

PART_OF: Final[dict[str, HoldPart]] = {
    "FIT": "fit",
    **dict.fromkeys(("WIND", "HOLD", "BRACE"), "wind"),
    **dict.fromkeys(("SHELL", "ROAD"), "road"),
    **dict.fromkeys(("CUT", "RING"), "opening"),
    "JOINT": "joints",
    "VAN": "van",
}
"""The question under which a judgement stands, by the beginning of its rule's id."""
ON_VAN: Final = ("WIND-608",)
"""Judgements on the parked van as a whole."""
LATCHES_COME_DOWN: Final = ("BRACE-811", "BRACE-813")
"""Judgements on the latches as the shell is closed: they stand with the road."""
KEY: Final = re.compile(r" \([a-z_]+(?:\.[a-z0-9_]+)+\)")
"""A key of the file in brackets: a sentence for plain faces goes without, the judgement below it names it."""
LEAST_SWAY: Final = 0.001
"""Sway under this [m] is not told apart."""
SURE: Final = 0.9
"""Share of the drawn roofs from which on a judgement is said to hold without a word on its odds [1]: judgement."""
ODDS: Final = 10.0
"""Nine of ten roofs do better than what is said "for nine of ten roofs like yours" [percent]."""


def part_of(rule: str) -> HoldPart:
    """Return the question under which a rule's judgements stand. Errors: KeyError for a rule of another kind."""
    if rule in ON_VAN:
        return "van"
    return "road" if rule in LATCHES_COME_DOWN else PART_OF[rule.partition("-")[0]]


def of_part(checks: Iterable[Check], part: HoldPart) -> tuple[Check, ...]:
    """Return the judgements of one question in the order in which they come."""
    return tuple(check for check in checks if part_of(check.rule.id) == part)


def nominal(value: ArrayLike) -> float:
    """Return the nominal row's number; its unit stays."""
    return float(np.ravel(np.asarray(value, dtype=np.float64))[0])


def given(held: HeldNumbers, path: str) -> float:
    """Return the nominal value of a key of the file, whether or not it counts on this roof; its unit stays."""
    path = followed(held.rows.inputs, path)
    return held.rows.inputs[path].value.nominal


def nine_of_ten(held: HeldNumbers, value: ArrayLike) -> float:
    """Return what nine of ten drawn roofs reach at least; without draws the nominal number. Its unit stays."""
    rows = np.asarray(value, dtype=np.float64)
    drawn = rows[held.rows.draws] if rows.ndim else rows
    return float(np.percentile(drawn, ODDS)) if drawn.size else nominal(rows)


def lower(text: str) -> str:
    """Return a text that goes on in a sentence."""
    return text[:1].lower() + text[1:]


def capital(text: str) -> str:
    """Return a text that begins a sentence."""
    return text[:1].upper() + text[1:]


def percent(part: float, say: Wording) -> str:
    """Return a share [1] as a percentage: whole ones from ten on.

    >>> percent(0.0149, Wording()), percent(0.148, Wording())
    ('1.5 %', '15 %')
    """
    return say.percent(round(part, 3))


def share(low: float, high: float | None, say: Wording) -> str:
    """Return one share or a range of it [1] as percentages.

    >>> share(0.31, 0.44, Wording()), share(0.31, 0.312, Wording()), share(0.0051, 0.015, Wording())
    ('31 to 44 %', '31 %', '0.5 to 1.5 %')
    """
    ends = [percent(v, say) for v in (low, low if high is None else high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0].removesuffix(' %')} to {ends[1]}"


def gust_text(gust: float, say: Wording) -> str:
    """Return a gust at a limit [m/s]; what is beyond those looked at says so."""
    return f"above {say.gust(HIGHEST)}" if gust >= HIGHEST - 1e-6 else say.gust(gust)


def sway_text(sway: float, say: Wording) -> str:
    """Return how far something sways [m]: nothing in wind stands stiller than can be seen.

    >>> sway_text(0.0, Wording()), sway_text(0.0031, Wording()), sway_text(0.0, Wording("imperial"))
    ('less than 1 mm', '3.1 mm', 'less than 0.04 in')
    """
    if sway >= LEAST_SWAY:
        return say.short_length(sway)
    return "less than " + ("1 mm" if say.units == "metric" else "0.04 in")


def beaufort(gust: float, roof_height: float) -> str:
    """Return what wind may hold such a gust [m/s] at a roof's height [m].

    >>> beaufort(18.0, 2.4)
    'about Beaufort 7 to 8'
    """
    low, high = beauforts_of_gust(max(gust, 0.0), roof_height)
    return f"about Beaufort {low}" if low == high else f"about Beaufort {low} to {high}"


def when_forecast(gust: float, roof_height: float) -> str:
    """Return in which forecast a roof that bears no gust above `gust` [m/s] at a height [m] is to be lowered.

    The lowest Beaufort number that may bring a stronger gust: the safe end of what wind may hold it.

    >>> when_forecast(17.0, 2.4), when_forecast(17.5, 2.4)
    ('when Beaufort 6 or more is forecast', 'when Beaufort 7 or more is forecast')
    """
    number = next(n for n in range(len(BEAUFORT)) if float(gusts_of_beaufort(n, roof_height)[1]) > gust)
    return f"when Beaufort {number} {'' if number == len(BEAUFORT) - 1 else 'or more '}is forecast"


def first_to_give(name: str) -> str:
    """Return a clause that says of a thing in wind that it is the first at its limit."""
    if name == "the free end":
        return "the free end sways too far first"
    if name == "the whole roof":
        return "nothing holds the open roof"
    article = name if name.startswith(("the ", "one ")) else f"the {name}"
    many = name.split()[0] in ("seams", "staples", "screws", "strip") or name.endswith(("hinges", "arms"))
    return f"{article} {'give' if many else 'gives'} way first"


def barely(checks: Iterable[Check], good: str) -> str:
    """Return `good`, and that it is barely so where fewer than `SURE` of the drawn roofs hold one that holds."""
    held = [check for check in checks if check.verdict is Verdict.HOLDS and check.holding is not None]
    worst = min(held, key=lambda check: check.holding or 0.0, default=None)
    if worst is None or (worst.holding or 0.0) >= SURE:
        return good
    return f"{good}, but barely ({worst.basis.removesuffix(' hold')})"


def answer(checks: Iterable[Check], good: str, bad: str, known: str) -> str:
    """Return the answer to one question in a sentence: `good` or `bad`, or what to measure, and what is known.

    `known` goes on in the sentence. The worst judgement decides; `checks` are the deciding ones, worst first.
    """
    every = tuple(checks)
    fails = tuple(check for check in every if check.verdict is Verdict.FAILS)
    if fails:
        more = "" if len(fails) == 1 else f", and {len(fails) - 1} more"
        return f"{bad}: {lower(fails[0].words)}{more}; {known}."
    asked = tuple(check.unknown or "" for check in every if check.verdict is Verdict.NOT_KNOWN)
    first = next((unknown for unknown in asked if measurable(unknown)), None)
    if first is not None:
        return f"Not known yet, {KEY.sub('', settle(first))}; as far as known {known}."
    if asked:
        # Nobody can settle it, so no answer waits for it; its remedy stands with its verdict.
        return f"{good} as far as anyone can say ({KEY.sub('', asked[0])}): {known}."
    return f"{good}: {known}."
