"""The command that holds the built roof against its plan: prove."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from loftwright.cli import talk
from loftwright.cli.options import Demo, FileToRead, Json, project_of
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import fit_to_write, write_all


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command(epilog=PROVE_EXAMPLES)(prove)


PROVE_EXAMPLES = """\b
Examples:
  loftwright prove my-roof.toml
  loftwright prove my-roof.toml --brief
  loftwright prove my-roof.toml --svg readings.svg
  loftwright prove --demo fennimoor --json > proof.json

Readings stand in the file as [[reading]] (scale) and [[tape]] (tape measure)."""


def prove(
    file: FileToRead = None,
    demo: Demo = None,
    as_json: Json = False,
    svg: Annotated[
        Path | None,
        typer.Option(metavar="PATH", help="Write predicted against measured as an SVG drawing.", show_default=False),
    ] = None,
    brief: Annotated[bool, typer.Option("--brief", help="Leave learnt values and the list for the tape out.")] = False,
) -> None:
    """Hold readings of the built roof against its plan: what they say, and where the springs go next.

    Scale readings narrow weight, centre, force and friction; readings that contradict are flagged with the
    likeliest cause. Tape readings name the bracket that is off. Prop the roof whenever nobody moves it.
    """
    project = project_of(file, demo)
    keep = () if file is None else (file,)
    written = () if svg is None else (svg,)
    fit_to_write(written, keep=keep)
    from loftwright.answers.proof_holes import own_row
    from loftwright.answers.proof_view import proof_page, proven
    from loftwright.cli.choosing import list_for

    found = proven(project, own_row(project), list_for(project, file, None) if project.reading else None)
    page = proof_page(found)
    papers: dict[Path, bytes] = {}
    if svg is not None:
        if page.chart is None:
            raise ProjectFault(
                [
                    Fault(
                        "--svg",
                        "asked for without a reading",
                        "predicted against measured needs at least one [[reading]]",
                        "write the readings in the file first",
                    )
                ]
            )
        from loftwright.documents.reading_chart import reading_chart_svg

        papers[svg] = reading_chart_svg(page.chart).encode("utf-8")
    if as_json:
        from loftwright.answers import numbers
        from loftwright.answers.proof_numbers import proof_numbers

        said = numbers.as_json(proof_numbers(found))
    else:
        from loftwright.documents.proof_text import proof_text

        said = proof_text(page, talk.look(), brief=brief)
    write_all(papers, keep=keep)
    talk.answer(said)
    for path in papers:
        talk.note(f"Written: {path}")
