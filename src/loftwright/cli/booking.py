"""The command that writes the build book and its single sheets: book."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast

import typer

from loftwright.cli import talk
from loftwright.cli.choosing import list_for, progress, stoppable
from loftwright.cli.options import Demo, FileToRead, Json, one_of, project_of
from loftwright.core.errors import ProjectFault
from loftwright.core.writing import fit_to_write, write_all

if TYPE_CHECKING:
    from loftwright.answers.choose import Chosen
    from loftwright.core.book_views import BookSheet, Paper
    from loftwright.project.model import Project


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command(epilog=BOOK_EXAMPLES)(book)


BOOK_EXAMPLES = """\b
Examples:
  loftwright book my-roof.toml --pdf book.pdf
  loftwright book my-roof.toml --only card --pdf card.pdf
  loftwright book my-roof.toml --only drilling --paper letter --pdf holes.pdf
  loftwright book my-roof.toml --as-planned --only shopping --pdf shopping.pdf
  loftwright book my-roof.toml --as-planned --pdf book.pdf   (no search for springs)
  loftwright book --demo fennimoor --pdf book.pdf --json

\b
Sheets for --only: card, drilling, request, steps, frame, home-test, readings;
fit-out; shopping, bars; calendar, tasks, open-roof, go, way-back;
first-lift, service, dash (to cut out for the driver), folder (for the inspector), faults."""

WITHOUT_SPRINGS = frozenset({"steps", "home-test"})
"""Sheets that say the same whatever the springs."""


def book(
    file: FileToRead = None,
    demo: Demo = None,
    pdf: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Where to write the book, or the sheet.", show_default=False)
    ] = None,
    only: Annotated[
        str | None,
        typer.Option(
            metavar="SHEET",
            help="One sheet alone, such as card, drilling, shopping, go or dash; all of them stand below.",
            show_default=False,
        ),
    ] = None,
    paper: Annotated[
        str | None,
        typer.Option(
            metavar="SIZE", help="a4 or letter; left out: a4 for metric units, letter for imperial.", show_default=False
        ),
    ] = None,
    frame_height: Annotated[
        str,
        typer.Option(
            metavar="HEIGHT", help="Timber frame: low, or true (the roof as high above the ground as above the floor)."
        ),
    ] = "low",
    springs: Annotated[
        Path | None,
        typer.Option(metavar="CSV", help="A list of springs to choose from, as for choose.", show_default=False),
    ] = None,
    as_planned: Annotated[
        bool, typer.Option("--as-planned", help="Take the springs of the file; do not search for better ones.")
    ] = False,
    as_json: Json = False,
) -> None:
    """Write the build book: all answers on paper, or one of its sheets alone.

    What to measure, how the roof moves and feels, chosen springs, holes at full size, tuning card, supplier request,
    fitting steps, a home test of springs, a timber frame to try it all on, whether it sits and holds with the cut plan
    and every template, the cloth walls, what rides on the roof, what to buy, the order of work with go or no-go, cards
    for the hand-over, and sheets for readings. Sheets on fit and strength alone: loftwright hold --pdf; on the walls:
    loftwright walls --pdf, and their patterns at full size: loftwright walls --patterns.
    """
    from loftwright.core.book_views import BOOK_SHEETS, REST_SHEETS

    sheet = cast("BookSheet | None", one_of("--only", only, BOOK_SHEETS))
    size = cast("Paper | None", one_of("--paper", paper, ("a4", "letter")))
    height = one_of("--frame-height", frame_height, ("low", "true"))
    project = project_of(file, demo)
    if pdf is None and not as_json:
        name = file.stem if file is not None else demo
        pdf = Path(f"{name}-{sheet or 'book'}.pdf")
    keep = () if file is None else (file,)
    targets = () if pdf is None else (pdf,)
    fit_to_write(targets, keep=keep)
    from loftwright.answers import book as answers
    from loftwright.answers.kept_reading import kept_walls
    from loftwright.answers.kept_walls import NOTHING_KEPT
    from loftwright.core.stopwatch import Stopwatch
    from loftwright.documents.book import book_pdf

    watch = Stopwatch()

    whole = sheet is None or sheet in REST_SHEETS
    chosen, missing = (None, answers.NOT_SEARCHED)
    if not as_planned and sheet not in (*WITHOUT_SPRINGS, *REST_SHEETS):
        chosen, missing = _chosen(project, file, springs)
    page = answers.book_page(
        project,
        chosen=chosen,
        missing=missing,
        proof=answers.proof_of(project, chosen) if sheet in (None, "readings") else None,
        height=answers.height_of(height or "low"),
        hold=sheet is None,
        walls=sheet is None,
        rest=whole,
        kept=kept_walls(file, project) if whole else NOTHING_KEPT,
    )
    printed = book_pdf(page, paper=size, only=sheet)
    write_all(dict.fromkeys(targets, printed.data), keep=keep)
    if as_json:
        from loftwright.answers import numbers

        talk.answer(
            numbers.as_json(
                {
                    "pages": printed.pages,
                    "chapters": [{"title": title, "page": page} for title, page in printed.chapters if title],
                    "written": [str(path) for path in targets],
                }
            )
        )
    else:
        talk.answer(f"Written: {pdf}\n")
    sheets = "1 page" if printed.pages == 1 else f"{printed.pages} pages"
    talk.note(f"{sheets} in {watch.text()}.")


def _chosen(project: Project, file: Path | None, springs: Path | None) -> tuple[Chosen | None, str]:
    """Return the choice of springs, or why there is none."""
    from loftwright.answers.choose import choose
    from loftwright.answers.choose_search import Work
    from loftwright.answers.hole_words import hand_of

    listed = list_for(project, file, springs)
    try:
        with progress() as tell, stoppable() as stopped:
            found = choose(
                project,
                listed,
                hand=hand_of(project.settings.units),
                work=Work(None, tell, stopped.is_set),
            )
    except ProjectFault as error:
        return None, " ".join(fault.sentence() for fault in error.faults)
    if stopped.is_set():
        talk.note("Stopped: no book was written.")
        raise KeyboardInterrupt
    return found, ""
