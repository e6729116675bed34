"""The command on what is bought: parts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loftwright.cli import talk
from loftwright.cli.options import Demo, FileToRead, Json, Strict, end_on, project_of
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import fit_to_write, write_all

if TYPE_CHECKING:
    from loftwright.answers.part_list import PartsFound
    from loftwright.core.checks import Outcome
    from loftwright.project.model import Project


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command(epilog=PARTS_EXAMPLES)(parts)


PARTS_EXAMPLES = """\b
Examples:
  loftwright parts my-roof.toml
  loftwright parts my-roof.toml --brief
  loftwright parts my-roof.toml --csv parts.csv
  loftwright parts my-roof.toml --read parts.csv
  loftwright parts --demo fennimoor --json | python -m json.tool

--csv writes the list for a spreadsheet: one part a line, with price, bought, have and note to fill in. --read takes
such a list back into the file's [[bought]]; empty cells leave the file as it is, comments stay, and a part that the
design does not know becomes one of your own. A price is of one unit: "12.50", or a range "10 .. 15".

\b
Exit codes: 0 answered, whatever the verdicts; 1 a verdict fails and --strict was given;
2 the input is at fault. "Not known yet" is no failure."""


def parts(
    file: FileToRead = None,
    demo: Demo = None,
    csv: Annotated[
        Path | None,
        typer.Option("--csv", metavar="PATH", help="Write the list for a spreadsheet.", show_default=False),
    ] = None,
    read: Annotated[
        Path | None,
        typer.Option(
            "--read",
            metavar="CSV",
            help="Take prices, amounts and notes from a list into the file.",
            show_default=False,
        ),
    ] = None,
    comma: Annotated[
        bool, typer.Option("--comma", help="With --csv: decimal commas, and semicolons between cells.")
    ] = False,
    brief: Annotated[bool, typer.Option("--brief", help="Keep names, amounts and the worst verdicts.")] = False,
    strict: Strict = False,
    as_json: Json = False,
) -> None:
    """List everything that is bought, say what it costs, and how bars are cut.

    Everything the design implies, with waste and in whole packs: what must be there before the cut, what is in the
    garage, what has no price yet. Metal bars and the trial frame's timber are cut with the least waste.
    """
    if read is not None and file is None:
        raise ProjectFault([Fault("--read", "asked for with a demo", "a demo is not changed", "name a file of yours")])
    if comma and csv is None:
        raise ProjectFault([Fault("--comma", "given without --csv", "it is how a list is written", "add --csv PATH")])
    project = project_of(file, demo)
    keep = tuple(path for path in (file, read) if path is not None)
    fit_to_write(() if csv is None else (csv,), keep=keep)
    outcome = _found(project, file)
    if read is not None and file is not None:
        outcome = _taken_back(read, file, outcome)
    from loftwright.answers.parts_view import parts_page

    page = parts_page(outcome)
    if as_json:
        from loftwright.answers import numbers
        from loftwright.answers.parts_numbers import parts_numbers

        said = numbers.as_json(parts_numbers(outcome))
    else:
        from loftwright.documents.parts_text import parts_text

        said = parts_text(page, talk.look(), brief=brief)
    if csv is not None:
        from loftwright.project.parts_table import parts_bytes

        write_all(
            {csv: parts_bytes(outcome.numbers.rows, decimal="comma" if comma else "point")},
            keep=keep,
        )
    talk.answer(said)
    if csv is not None:
        talk.note(f"Written: {csv}")
    end_on(page.tally, strict=strict)


def _found(project: Project, file: Path | None) -> Outcome[PartsFound]:
    from loftwright.answers.kept_reading import kept_walls
    from loftwright.answers.part_list import part_list

    return part_list(project, kept_walls(file, project))


def _taken_back(read: Path, file: Path, outcome: Outcome[PartsFound]) -> Outcome[PartsFound]:
    """Take a list into the file and return the parts as they then are. Errors: ProjectFault; nothing is written."""
    from loftwright.answers.part_bought import read_back
    from loftwright.project.file import edit

    back = read_back(read, outcome.numbers)
    for sentence in back.said:
        talk.note(sentence)
    if not back.changes:
        talk.note(f"{read} says nothing that {file} does not say already.")
        return outcome
    project = edit(file, back.changes)
    talk.note(f"Written: {file}, parts changed: {back.known}, of your own: {back.own}")
    return _found(project, file)
