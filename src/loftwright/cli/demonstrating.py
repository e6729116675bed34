"""The command that takes a made-up project through everything."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loftwright.cli import talk
from loftwright.cli.options import Json
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import write_all

if TYPE_CHECKING:
    from loftwright.project.model import Project

DEMO_FOLDER = "demo-output"

Step = Callable[[str], None]
Papers = dict[str, bytes]
"""File name to contents."""


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command("demo", epilog=DEMO_EXAMPLES)(show_demo)


DEMO_EXAMPLES = """\b
Examples:
  loftwright demo
  loftwright demo --name ottergate --out ottergate-papers"""


def show_demo(
    out: Annotated[Path, typer.Option(metavar="FOLDER", help="Where to put the papers.")] = Path(DEMO_FOLDER),
    name: Annotated[
        str, typer.Option(metavar="NAME", help="Which demo: fennimoor, ottergate, quellmere or larkenmoor.")
    ] = "fennimoor",
    as_json: Json = False,
) -> None:
    """Take a made-up project through everything, and leave its papers in a folder.

    The project file, the page about the roof as PDF and as HTML, the springs to choose, the build book, the
    measuring sheet, the force curves, whether it is worth starting, and the results as JSON.
    """
    from loftwright.core.stopwatch import Stopwatch

    watch = Stopwatch()

    def step(what: str) -> None:
        talk.note(f"{watch.text():>6}  {what}")

    step("reading the project")
    from loftwright.answers import numbers
    from loftwright.project.demos import demo_text
    from loftwright.project.file import loads, write_new

    text = demo_text(name)
    project = loads(text, f"{name}.toml")
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        why = (error.strerror or "unknown error").casefold()
        raise ProjectFault(
            [Fault(str(out), f"not to be made ({why})", "the papers need a folder", "choose another with --out")]
        ) from None
    said, answers = _answers(project, step)
    every = answers | _held(project, step) | _chosen(project, step) | _worth(project, step)
    papers = {out / f"{name}{end}": data for end, data in every.items()}
    step("writing the papers")
    write_all(papers)
    kept = out / f"{name}.toml"
    if not kept.is_file() or kept.read_bytes() != text.encode("utf-8"):
        write_new(kept, text, over=True)
    step("done")
    if as_json:
        written = {"written": [str(path) for path in (*papers, kept)]}
        talk.answer(numbers.as_json({**numbers.head(project), **written}))
        return
    talk.answer(f"{project.name}: {said}. The papers are in {out}:\n")
    there = {path.name for path in (*papers, kept)}
    for end, what in (
        (".pdf", "the page about the roof: drawing, force curves, verdicts"),
        (".html", "the same to move with a slider, in a browser"),
        ("-choose.txt", "which springs in which holes, as loftwright choose prints it"),
        ("-book.pdf", "the build book: every answer on paper, holes at full size"),
        ("-prove.txt", "what readings on the finished roof say"),
        ("-measuring-sheet.pdf", "what to measure, to take to the van"),
        ("-scout.txt", "whether it is worth starting"),
        ("-check.txt", "every verdict, as loftwright check prints it"),
        ("-forces.txt", "the hand force, as loftwright forces prints it"),
        ("-forces.svg", "the force curves alone"),
        ("-hold.txt", "does it sit, will it hold, as loftwright hold prints it"),
        ("-hold.pdf", "the same on paper: wind card, cut plan, templates, every hole"),
        (".json", "all results in SI units"),
        ("-scout.json", "the same of scouting"),
        (".toml", "the project file: copy it and change a number"),
    ):
        if f"{name}{end}" in there:
            talk.answer(f"  {f'{name}{end}':<32}{what}\n")
    named = f'"{kept}"' if " " in str(kept) else kept
    talk.answer(f"The roof on the drawing board, in your browser: loftwright board {named}\n")


def _answers(project: Project, step: Step) -> tuple[str, Papers]:
    """Return the count of verdicts in words, and the papers of the roof as planned, by the end of their name."""
    from loftwright.answers import numbers
    from loftwright.answers.forces import force_view
    from loftwright.answers.judged_roof import judged_roof
    from loftwright.answers.sheet import sheet_page
    from loftwright.answers.views import roof_page, tally
    from loftwright.documents.force_curves import force_curves_svg
    from loftwright.documents.measuring_sheet import measuring_sheet_pdf
    from loftwright.documents.plain_text import Look, check_text, forces_text
    from loftwright.documents.roof_html import roof_html
    from loftwright.documents.roof_sheet import roof_sheet_pdf

    step(f"balancing {project.settings.draws} roofs like it, cold to hot, new and aged")
    outcome = judged_roof(project)
    page = roof_page(outcome)
    step("drawing the page about the roof and the measuring sheet")
    return tally(outcome).text(), {
        "-check.txt": check_text(page, Look()).encode("utf-8"),
        "-forces.txt": forces_text(force_view(outcome.numbers), Look()).encode("utf-8"),
        ".json": numbers.as_json(numbers.results(outcome)).encode("utf-8"),
        "-forces.svg": force_curves_svg(page.chart).encode("utf-8"),
        ".pdf": roof_sheet_pdf(page),
        ".html": roof_html(page).encode("utf-8"),
        "-measuring-sheet.pdf": measuring_sheet_pdf(sheet_page(project)),
    }


def _chosen(project: Project, step: Step) -> Papers:
    """Return the papers on the choice of springs, the readings of the built roof where there are any, and the book."""
    from loftwright.answers.book import book_page, proof_of
    from loftwright.answers.choice_view import choice_page
    from loftwright.answers.choose import choose
    from loftwright.answers.hole_words import hand_of
    from loftwright.documents.book import book_pdf
    from loftwright.documents.choice_text import choice_text
    from loftwright.documents.plain_text import Look
    from loftwright.documents.proof_text import proof_text
    from loftwright.project.spring_list import read_springs

    step("choosing springs and holes")
    found = choose(project, read_springs(), hand=hand_of(project.settings.units))
    papers = {"-choose.txt": choice_text(choice_page(found), Look()).encode("utf-8")}
    step("holding readings against the plan")
    proof = proof_of(project, found)
    if proof is not None:
        papers["-prove.txt"] = proof_text(proof, Look()).encode("utf-8")
    step("printing the build book")
    page = book_page(project, chosen=found, missing="", proof=proof, hold=True, walls=True, rest=True)
    papers["-book.pdf"] = book_pdf(page).data
    return papers


def _held(project: Project, step: Step) -> Papers:
    """Return the papers on whether it sits and holds."""
    from loftwright.answers.held_roof import held_roof
    from loftwright.answers.hold_view import hold_page
    from loftwright.documents.hold_book import hold_pdf
    from loftwright.documents.hold_text import hold_text
    from loftwright.documents.plain_text import Look

    step("asking whether it sits, and whether it holds in wind and on the road")
    page = hold_page(held_roof(project))
    return {"-hold.txt": hold_text(page, Look()).encode("utf-8"), "-hold.pdf": hold_pdf(page).data}


def _worth(project: Project, step: Step) -> Papers:
    """Return the papers on whether it is worth starting."""
    from loftwright.answers import numbers
    from loftwright.answers.scout import scout
    from loftwright.answers.scout_numbers import scouted
    from loftwright.answers.scout_view import scout_page
    from loftwright.documents.plain_text import Look, scout_text
    from loftwright.project.catalogues import read_prices

    step("asking whether it is worth starting")
    worth = scout(project, read_prices())
    return {
        "-scout.txt": scout_text(scout_page(worth), Look()).encode("utf-8"),
        "-scout.json": numbers.as_json(scouted(worth)).encode("utf-8"),
    }
