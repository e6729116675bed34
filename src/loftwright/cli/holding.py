"""The command that says whether the roof sits and holds: hold."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast, get_args

import typer

from loftwright.cli import talk
from loftwright.cli.options import Demo, FileToRead, Json, Strict, end_on, one_of, project_of
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import fit_to_write, write_all

if TYPE_CHECKING:
    from loftwright.core.book_views import HoldSheet
    from loftwright.core.hold_views import HoldPart


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command(epilog=HOLD_EXAMPLES)(hold)


HOLD_EXAMPLES = """\b
Examples:
  loftwright hold my-roof.toml
  loftwright hold my-roof.toml --part wind --brief
  loftwright hold my-roof.toml --pdf strength.pdf
  loftwright hold my-roof.toml --sheet corners --pdf corners.pdf
  loftwright hold --demo fennimoor --json | python -m json.tool
  loftwright hold my-roof.toml --strict && echo "nothing fails"

Parts: fit, wind, road, opening, joints, van.
Sheets: fit, packers, wind-card, cut-plan, corners, ring, holes, inspector, before-the-cut.

\b
Exit codes: 0 answered, whatever the verdicts; 1 a verdict fails and --strict was given;
2 the input is at fault. "Not known yet" is no failure; with --part only its verdicts count."""


def hold(
    file: FileToRead = None,
    demo: Demo = None,
    part: Annotated[
        str | None,
        typer.Option(
            metavar="PART", help="One question alone: fit, wind, road, opening, joints or van.", show_default=False
        ),
    ] = None,
    pdf: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Write all sheets on fit and strength.", show_default=False)
    ] = None,
    sheet: Annotated[
        str | None, typer.Option(metavar="NAME", help="With --pdf: this sheet alone.", show_default=False)
    ] = None,
    brief: Annotated[bool, typer.Option("--brief", help="Keep the answers and the worst verdicts.")] = False,
    strict: Strict = False,
    as_json: Json = False,
) -> None:
    """Say whether the roof sits and holds: fit, wind, road, the hole in the roof, joints, weights.

    Which part gives first, at which gust or speed, what to change, and what nobody can know without measuring. None
    of it is a crash or roll-over assessment: a local inspector or engineer decides.
    """
    from loftwright.core.book_views import HoldSheet
    from loftwright.core.hold_views import HOLD_PARTS

    one = cast("HoldPart | None", one_of("--part", part, HOLD_PARTS))
    only = cast("HoldSheet | None", one_of("--sheet", sheet, get_args(HoldSheet)))
    if only is not None and pdf is None:
        raise ProjectFault([Fault("--sheet", "given without --pdf", "a sheet is a PDF", f"add --pdf {only}.pdf")])
    project = project_of(file, demo)
    keep = () if file is None else (file,)
    fit_to_write(() if pdf is None else (pdf,), keep=keep)
    from loftwright.answers.held_roof import held_roof
    from loftwright.answers.hold_view import hold_page

    outcome = held_roof(project)
    page = hold_page(outcome)
    papers: dict[Path, bytes] = {}
    if pdf is not None:
        from loftwright.documents.hold_book import hold_pdf

        papers[pdf] = hold_pdf(page, only=only).data
    if as_json:
        from loftwright.answers import numbers
        from loftwright.answers.hold_numbers import held

        said = numbers.as_json(held(outcome) if one is None else held(outcome, (one,)))
    else:
        from loftwright.documents.hold_text import hold_text, part_text

        look = talk.look()
        said = hold_text(page, look, brief=brief) if one is None else part_text(page, one, look, brief=brief)
    write_all(papers, keep=keep)
    talk.answer(said)
    for path in papers:
        talk.note(f"Written: {path}")
    end_on(page.tally if one is None else page.section(one).tally, strict=strict)
