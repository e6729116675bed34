"""How the choice of springs is worded and drawn beside its figures: the same lines on a terminal and on a page."""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.core.choice_views import ChoicePage, HoleRow, SpringAnswer, Worth
from loftwright.core.wording import Wording
from loftwright.documents.ornaments import Ready
from loftwright.documents.roof_sheet import sentence
from loftwright.drawing.home_test import home_test_picture
from loftwright.drawing.odds_bar import odds_bar
from loftwright.drawing.svg import ornament, svg
from loftwright.drawing.tuning import hole_row

MEASURED, FAILING = 3, 4
"""How many measurements, and how many requirements that fail, are shown at first."""
ONE_ROW, TWO_ROWS = (172.0, 62.0), (112.0, 108.0)
"""Width and height of the picture of the holes [mm]: one row with a line of words below it, or one above the other."""


@dataclass(frozen=True, slots=True)
class ChoiceWords:
    """The lines and pictures of one choice; `measure`, `bars` and `other_bars` are as long as those of the page."""

    subtitle: str
    springs: str
    measure: tuple[str, ...]
    measure_bars: tuple[Ready, ...]
    planned_bar: Ready
    best_bar: Ready
    other_bars: tuple[Ready, ...]
    holes: str
    hole_lines: tuple[str, ...]
    holes_bar: Ready
    holes_picture: Ready
    card_note: str
    ratings_bar: Ready


def choice_words(page: ChoicePage) -> ChoiceWords:
    """Return what stands beside the figures of a choice; empty where there is nothing to say."""
    holes = page.holes
    return ChoiceWords(
        subtitle=sentence(page.subtitle),
        springs=springs_title(page),
        measure=tuple(worth_line(one) for one in page.measure),
        measure_bars=tuple(_bar(one.before, one.after) for one in page.measure),
        planned_bar=_bar(page.planned),
        best_bar=_bar(None if page.best is None else page.best.odds),
        other_bars=tuple(_bar(one.odds) for one in page.others),
        holes="" if holes is None else holes_title(holes),
        hole_lines=() if holes is None else hole_lines(holes),
        holes_bar=_bar(None if holes is None else holes.odds),
        holes_picture=Ready("") if holes is None else _picture(holes, Wording(page.units)),
        card_note="" if page.card is None else sentence(page.card.note),
        ratings_bar=_bar(None if page.ratings is None else page.ratings.odds),
    )


def springs_title(page: ChoicePage) -> str:
    """Return the title above the best springs; where nothing works, that they are not to be ordered."""
    if page.best is None:
        return ""
    return f"Nearest, not to be ordered: {page.best.name}" if page.in_the_way else f"Springs: {page.best.name}"


def worth_line(one: Worth) -> str:
    """Return one thing to measure: how long it takes, and the odds before and after."""
    return f"{one.title}{f' ({one.minutes} min)' if one.minutes else ''}: {one.gain}."


def other_line(other: SpringAnswer) -> str:
    """Return another choice in a line."""
    return f"{other.name}: {other.why}."


def holes_title(row: HoleRow) -> str:
    """Return the title above a row of holes."""
    if row.both:
        feet, heads = row.feet, row.heads
        return f"Holes: {len(feet)} in {feet[0].body} for feet, {len(heads)} in {heads[0].body} for heads"
    return f"A row of {len(row.rows[0])} holes in {row.rows[0][0].body}"


def hole_lines(row: HoleRow) -> tuple[str, ...]:
    """Return a line for each hole, for the other end, and for the places where both ends have several."""
    lines: list[str] = []
    for holes, end in ((row.feet, "Foot hole"), (row.heads, "Head hole")):
        for hole in holes if len(holes) > 1 else ():
            lines.append(
                f"{end if row.both else 'Hole'} {hole.name}: {hole.words}{'; start here' if hole.start else ''}."
            )
    if row.fixed is not None:
        lines.append(f"The other end in {row.fixed.body}: {row.fixed.words}.")
    if row.both:
        lines.append(f"Places: {'; '.join(one.words.removeprefix('place ') for one in row.places)}.")
    return tuple(lines)


def home_test_svg() -> Ready:
    """Return the picture of how a spring's force is taken at home."""
    return Ready(svg(home_test_picture(), ids="home-test", responsive=True))


def _bar(odds: int | None, after: int | None = None) -> Ready:
    return Ready("") if odds is None else Ready(ornament(odds_bar(odds, after), css="bar"))


def _picture(row: HoleRow, says: Wording) -> Ready:
    width, height = TWO_ROWS if row.both else ONE_ROW
    return Ready(svg(hole_row(row, says, width=width, height=height), ids="holes", responsive=True))
