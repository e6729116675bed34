"""What is said of the parts as plain text, fitted to a width."""

from __future__ import annotations

from loftwright.answers.parts_view import piece_lines
from loftwright.core.parts_pages import BarsText, PartsGroup, PartsPage, PartText
from loftwright.documents.plain_text import Look, fact_lines, heading, points
from loftwright.documents.section_text import page_lines, page_text, verdict_lines

WHERE = {"in the garage": "[x]", "only ordered": "[o]", "not ordered": "[ ]", "": "[ ]"}
"""A box before each part; the word stands beside it where it is not empty."""


def parts_text(page: PartsPage, look: Look, *, brief: bool = False) -> str:
    """Return what `parts` says of one roof; `brief` keeps names and amounts, and the worst judgements."""
    lines = page_lines(page, look)
    lines += ["", *look.wrapped(page.says)]
    lines += heading(look, "Money") + fact_lines(page.money, look)
    lines += heading(look, f"Of {len(page.rows)} judgements {page.tally.text()}.")
    lines += verdict_lines(page.rows, look, brief=brief)
    for group in page.groups:
        lines += _group(group, look, brief=brief)
    if not brief:
        for bars in page.bars:
            lines += _bars(bars, look)
        lines += heading(look, "Assumed") + points(page.assumptions, look)
    return page_text(page, lines, look)


def _group(group: PartsGroup, look: Look, *, brief: bool) -> list[str]:
    title = group.title[0].upper() + group.title[1:]
    lines = heading(look, f"{title}, {group.planned}" if group.planned else title)
    for line in group.lines:
        lines += _line(line, look, brief=brief)
    return lines


def _line(line: PartText, look: Look, *, brief: bool) -> list[str]:
    alike = line.buy == line.needed or line.buy.startswith(f"{line.needed} x ")
    buy = line.buy if alike else f"{line.buy} (needed {line.needed})"
    lines = look.wrapped(f"{WHERE[line.status]} {buy}: {line.name}", 4, 0)
    if brief:
        return lines
    where = "" if line.status == "not ordered" else line.status
    cost = f"{line.price}: {line.cost}" if line.cost else line.price
    ordered = " and ".join(
        text
        for text in (
            f"{line.ordered} ordered" if line.ordered else "",
            f"{line.have} there" if line.have else "",
        )
        if text
    )
    when = "" if line.before_cut else "not before the cut"
    said = [text for text in (cost, where, ordered, when, line.note, line.remark) if text]
    return lines + look.wrapped(f"{'; '.join(said)} ({line.id}; from {line.source})", 4)


def _bars(bars: BarsText, look: Look) -> list[str]:
    lines = heading(look, f"To cut: {bars.title}") + look.wrapped(bars.says)
    for title, pieces, left in piece_lines(bars):
        lines += look.wrapped(f"{title}: {pieces}{'; ' + left if left else ''}", 2, 0)
    return lines + points(bars.said, look)
