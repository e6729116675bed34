"""The odds of a roof in words: the first thing that any face shows."""

from __future__ import annotations

from collections.abc import Sequence

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.roof_odds import MUCH_BETTER, Fails, Gain
from loftwright.core.views import DoNext
from loftwright.core.wording import Wording, hundredths

NAMED = 2
"""How many of the requirements that fail are named."""


def of_100(share: float) -> str:
    """Return a share in words.

    >>> of_100(0.614)
    '61 of 100'
    """
    return f"{hundredths(share)} of 100"


def lower(text: str) -> str:
    """Return a text as part of a sentence."""
    return text[:1].lower() + text[1:]


NO_MEASURING = ("work out ", "write a [[")
"""Beginnings of what is to be done where nothing is to be measured."""


def measurable(unknown: str) -> bool:
    """Whether somebody with the roof before them can settle what is not known yet."""
    return not unknown.startswith("no published figure")


def settle(unknown: str) -> str:
    """Return what to do about something that is not known yet, as part of a sentence.

    >>> settle("measure the camber (roof.camber)")
    'measure first: the camber (roof.camber)'
    >>> settle("no published figure for so long a hole")
    'no published figure for so long a hole'
    """
    if not measurable(unknown) or unknown.startswith(NO_MEASURING):
        return unknown
    return f"measure first: {unknown.removeprefix('measure ')}"


def odds_line(found: RoofNumbers) -> str:
    """Return out of 100 roofs how many meet everything, without a stop at its end."""
    odds = found.odds
    said = f"{of_100(odds.meets)} roofs like yours meet everything"
    if not found.roof.fitted and odds.meets == 0.0:
        return f"{said}: no gas springs are chosen yet"
    if odds.apart is None:
        return said
    titles = [lower(one.rule.title) for one in odds.rest if one.share >= 1.0]
    more = f"; and {len(titles) - NAMED} more" if len(titles) > NAMED else ""
    return f"{said}: {'; '.join(titles[:NAMED])}{more}. Everything else is met by {of_100(odds.apart)}"


def odds_note(found: RoofNumbers) -> str:
    """Return what fails in the rest, and what could not be judged, in sentences; nothing where there is neither."""
    odds = found.odds
    rest = [one for one in odds.rest if one.share < 1.0]
    said = []
    if rest:
        said.append(f"Most of the rest: {'; '.join(_fails(one) for one in rest[:NAMED])}.")
    if odds.unjudged:
        titles = dict.fromkeys(lower(rule.title) for rule, _ in odds.unjudged)
        said.append(f"Not judged yet and left out: {'; '.join(titles)}.")
    return " ".join(said)


def _fails(one: Fails) -> str:
    part = f", {one.which}" if one.which else ""
    return f"{lower(one.rule.title)}{part} ({of_100(one.share)})"


def gain_words(gain: Gain) -> str:
    """Return what a measurement adds to the odds."""
    return f"{hundredths(gain.before)} to {of_100(gain.after)}"


BY_COMMAND = "(loftwright choose)"
"""How the terminal and paper are told where springs are chosen; the board leads there by a link."""


def next_best(found: RoofNumbers, say: Wording, open_steps: Sequence[DoNext] = ()) -> str:
    """Return what is best done next for the odds, in a sentence without a stop at its end.

    Where no reading alone adds to the odds, the first of `open_steps` that can be measured is named.
    """
    force = better_force(found, say)
    if force is not None:
        return f"Next: {lower(force.title)}: {force.why}"
    if found.odds.gains:
        best = found.odds.gains[0]
        return f"Next: {lower(best.task.how.title)}, {best.task.how.minutes} min: {gain_words(best)}"
    if not found.roof.fitted:
        return f"Next: choose springs {BY_COMMAND}"
    if found.odds.meets >= 1.0:
        return ""
    measured = next((step for step in open_steps if step.minutes is not None), None)
    if measured is not None:
        return (
            f"Next: {lower(measured.title)}, {measured.minutes} min (most open verdicts hang on it), or look for other "
            f"springs or holes {BY_COMMAND}: no reading alone adds 1 of 100"
        )
    return f"Next: no reading alone adds 1 of 100; look for other springs or holes {BY_COMMAND}"


def better_force(found: RoofNumbers, say: Wording) -> DoNext | None:
    """Return that springs of another force would do better in the same holes, where they clearly would."""
    odds = found.odds
    if odds.factor is None or len(found.roof.fitted) != 1 or odds.best - odds.planned < MUCH_BETTER:
        return None
    now = float(found.roof.fitted[0].mount.spring.force_1[0])
    word = "stronger" if odds.factor > 1 else "weaker"
    return DoNext(
        f"Take {word} springs for the same holes, about {say.force(round(now * odds.factor, -1))}",
        None,
        "",
        f"{hundredths(odds.planned)} to {of_100(odds.best)} roofs like yours meet everything",
    )


def gain_steps(found: RoofNumbers) -> tuple[DoNext, ...]:
    """Return what to measure for the odds, the greatest gain per minute first."""
    return tuple(
        DoNext(
            gain.task.how.title,
            gain.task.how.minutes,
            gain.task.how.how,
            f"{gain_words(gain)} roofs like yours meet everything, with springs ordered to suit",
        )
        for gain in found.odds.gains
    )
