"""The commands that answer: check, forces, scout, sheet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from loftwright.cli import talk
from loftwright.cli.options import (
    Demo,
    FileToRead,
    InsideHeight,
    Json,
    Length,
    Lifts,
    Person,
    Strict,
    Units,
    Width,
    end_on,
    five_answers,
    project_of,
)
from loftwright.core.writing import fit_to_write, write_all

SHEET_NAME = "measuring-sheet.pdf"


def add_to(app: typer.Typer) -> None:
    """Add these commands to the program."""
    app.command(epilog=CHECK_EXAMPLES)(check)
    app.command(epilog=FORCES_EXAMPLES)(forces)
    app.command(epilog=SCOUT_EXAMPLES)(scout)
    app.command(epilog=SHEET_EXAMPLES)(sheet)


def _inputs(*paths: Path | None) -> tuple[Path, ...]:
    return tuple(path for path in paths if path is not None)


CHECK_EXAMPLES = """\b
Examples:
  loftwright check my-roof.toml
  loftwright check my-roof.toml --brief
  loftwright check --demo fennimoor --pdf roof.pdf --html roof.html
  loftwright check my-roof.toml --json | python -m json.tool
  loftwright check my-roof.toml --strict && echo "nothing fails"

--strict ends with 1 when a verdict fails; "not known yet" is no failure."""


def check(
    file: FileToRead = None,
    demo: Demo = None,
    as_json: Json = False,
    pdf: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Write the one-page PDF about the roof.", show_default=False)
    ] = None,
    html: Annotated[
        Path | None,
        typer.Option(metavar="PATH", help="Write one self-contained page with a slider.", show_default=False),
    ] = None,
    brief: Annotated[bool, typer.Option("--brief", help="Leave reasons, sources and assumptions out.")] = False,
    strict: Strict = False,
) -> None:
    """Say what holds, what fails and what is not known yet, worst first.

    Each verdict has its value, limit and margin, how many of a set of roofs like yours hold, what to change,
    and where the rule comes from. Below stand the cautions and what to do next.
    """
    project = project_of(file, demo)
    fit_to_write(_inputs(pdf, html), keep=_inputs(file))
    from loftwright.answers import numbers
    from loftwright.answers.judged_roof import judged_roof
    from loftwright.answers.views import roof_page, tally

    outcome = judged_roof(project)
    page = roof_page(outcome)
    papers: dict[Path, bytes] = {}
    if pdf is not None:
        from loftwright.documents.roof_sheet import roof_sheet_pdf

        papers[pdf] = roof_sheet_pdf(page)
    if html is not None:
        from loftwright.documents.roof_html import roof_html

        papers[html] = roof_html(page).encode("utf-8")
    if as_json:
        said = numbers.as_json(numbers.judged(outcome))
    else:
        from loftwright.documents.plain_text import check_text

        said = check_text(page, talk.look(), brief=brief)
    write_all(papers, keep=_inputs(file))
    talk.answer(said)
    for path in papers:
        talk.note(f"Written: {path}")
    end_on(tally(outcome), strict=strict)


FORCES_EXAMPLES = """\b
Examples:
  loftwright forces my-roof.toml
  loftwright forces my-roof.toml --every 5
  loftwright forces my-roof.toml --svg curves.svg
  loftwright forces --demo ottergate --json > forces.json"""


def forces(
    file: FileToRead = None,
    demo: Demo = None,
    as_json: Json = False,
    svg: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Write the curves as an SVG drawing.", show_default=False)
    ] = None,
    every: Annotated[int, typer.Option(min=1, max=50, metavar="N", help="One row of the table every N percent.")] = 10,
) -> None:
    """Show the hand force over the whole travel, springs cold, mild and hot, new and aged.

    Push up and pull down at the handle, length and force of each spring, what the other forces add, what the
    roof does when it is let go, and what happens when a spring is lost. Negative: it goes by itself.
    """
    project = project_of(file, demo)
    fit_to_write(_inputs(svg), keep=_inputs(file))
    from loftwright.answers import numbers
    from loftwright.answers.chart_view import force_chart
    from loftwright.answers.forces import force_view
    from loftwright.answers.judged_roof import judged_roof
    from loftwright.answers.views import wording

    outcome = judged_roof(project)
    papers: dict[Path, bytes] = {}
    if svg is not None:
        from loftwright.documents.force_curves import force_curves_svg

        papers[svg] = force_curves_svg(force_chart(outcome.numbers, wording(project))).encode("utf-8")
    if as_json:
        said = numbers.as_json(numbers.forces(outcome))
    else:
        from loftwright.documents.plain_text import forces_text

        said = forces_text(force_view(outcome.numbers, every=every), talk.look())
    write_all(papers, keep=_inputs(file))
    talk.answer(said)
    for path in papers:
        talk.note(f"Written: {path}")


SCOUT_EXAMPLES = """\b
Examples:
  loftwright scout                                      (asks five questions)
  loftwright scout my-roof.toml
  loftwright scout my-roof.toml --at-hand shell --at-hand springs
  loftwright scout --lifts "hinge front" --length "2.1 m" --width "don't know"
  loftwright scout my-roof.toml --prices my-prices.csv --json"""


def scout(
    file: FileToRead = None,
    demo: Demo = None,
    lifts: Lifts = None,
    length: Length = None,
    width: Width = None,
    inside_height: InsideHeight = None,
    person: Person = None,
    at_hand: Annotated[
        list[str] | None,
        typer.Option(metavar="WHAT", help="What is there already: shell, hinges or springs.", show_default=False),
    ] = None,
    prices: Annotated[
        Path | None,
        typer.Option(metavar="CSV", help="A price table of your own.", show_default=False),
    ] = None,
    units: Units = "metric",
    as_json: Json = False,
    brief: Annotated[bool, typer.Option("--brief", help="Leave reasons and sources out.")] = False,
) -> None:
    """Say whether it is worth starting: yes, probably or no, and why.

    Headroom won, floor to stand on, rough weight, a band of costs and the three likeliest troubles: from a
    project file, a demo, or five answers, each of which may be "don't know".
    """
    given = {
        "lifts": lifts,
        "opening_length": length,
        "opening_width": width,
        "floor_to_roof": inside_height,
        "person_height": person,
    }
    from loftwright.answers.scout import scout as scouted
    from loftwright.answers.scout_view import scout_page
    from loftwright.project.catalogues import read_prices
    from loftwright.project.from_answers import at_hand_of, project_from, without_answers

    there = at_hand_of(at_hand or ())
    if file is None and demo is None:
        project = project_from(five_answers(given, ask=True), units)
    else:
        without_answers(given)
        project = project_of(file, demo)
    outcome = scouted(project, read_prices(prices), there)
    if as_json:
        from loftwright.answers import numbers, scout_numbers

        talk.answer(numbers.as_json(scout_numbers.scouted(outcome)))
    else:
        from loftwright.documents.plain_text import scout_text

        talk.answer(scout_text(scout_page(outcome), talk.look(), brief=brief))


SHEET_EXAMPLES = """\b
Examples:
  loftwright sheet my-roof.toml                  (writes my-roof-measuring-sheet.pdf)
  loftwright sheet my-roof.toml --pdf to-van.pdf
  loftwright sheet                               (a blank one: measuring-sheet.pdf)
  loftwright sheet my-roof.toml --json           (prints what is asked, writes nothing)"""


def sheet(
    file: FileToRead = None,
    demo: Demo = None,
    pdf: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Where to write the sheet.", show_default=False)
    ] = None,
    units: Annotated[str | None, typer.Option(metavar="UNITS", help="metric or imperial, for a blank sheet.")] = None,
    as_json: Json = False,
) -> None:
    """Write the measuring sheet: one page to take to the van and the shell.

    Pictures of what to lay where, and boxes to fill; what the project knows already is written in, what it
    does not know comes first. Without a project the boxes are empty.
    """
    from loftwright.answers import numbers
    from loftwright.answers.sheet import blank_page, sheet_page
    from loftwright.documents.measuring_sheet import measuring_sheet_pdf
    from loftwright.project.from_answers import units_of

    name = SHEET_NAME
    if file is None and demo is None:
        page = blank_page(units_of(units or "metric"))
        said = numbers.asked(None, page)
    else:
        project = project_of(file, demo)
        page = sheet_page(project)
        said = numbers.asked(project, page)
        name = f"{file.stem if file is not None else demo}-{SHEET_NAME}"
    target = pdf if pdf is not None or as_json else Path(name)
    if target is not None:
        write_all({target: measuring_sheet_pdf(page)}, keep=_inputs(file))
    if as_json:
        talk.answer(numbers.as_json({**said, "written": [str(path) for path in _inputs(target)]}))
    else:
        talk.answer(f"Written: {target}\n")
