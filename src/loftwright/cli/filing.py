"""The commands that make and change files: new, set, schema."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from loftwright.cli import talk
from loftwright.cli.options import (
    InsideHeight,
    Json,
    Length,
    Lifts,
    Person,
    Units,
    Width,
    five_answers,
)
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import fit_to_write, write_all


def add_to(app: typer.Typer) -> None:
    """Add these commands to the program."""
    app.command(epilog=NEW_EXAMPLES)(new)
    app.command("set", epilog=SET_EXAMPLES)(set_values)
    app.command(epilog=SCHEMA_EXAMPLES)(schema)


NEW_EXAMPLES = """\b
Examples:
  loftwright new my-roof.toml                     (asks five questions)
  loftwright new my-roof.toml --demo fennimoor
  loftwright new my-roof.toml --lifts arms --length "6 ft 10 in" --units imperial
  loftwright new my-roof.toml --lifts "hinge rear" --inside-height "don't know"

A file that is there already is left alone; with --force it is kept as NAME.previous."""


def new(
    path: Annotated[Path, typer.Argument(metavar="PATH", help="The file to make, such as my-roof.toml.")],
    demo: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="Start from a demo: fennimoor, ottergate, quellmere or larkenmoor.",
            show_default=False,
        ),
    ] = None,
    lifts: Lifts = None,
    length: Length = None,
    width: Width = None,
    inside_height: InsideHeight = None,
    person: Person = None,
    name: Annotated[
        str | None, typer.Option(metavar="TEXT", help="What to call the project.", show_default="the file's name")
    ] = None,
    units: Units = "metric",
    force: Annotated[bool, typer.Option("--force", help="Write over a file; it is kept as NAME.previous.")] = False,
    as_json: Json = False,
) -> None:
    """Make a commented project file from five answers, or from a demo.

    Each answer may be "don't know". What is left out is asked for on a terminal, and taken as not known
    elsewhere. The file says what each number means and how to find it out.
    """
    from loftwright.answers import numbers
    from loftwright.project.file import write_new
    from loftwright.project.from_answers import units_of, without_answers
    from loftwright.project.newfile import from_demo, new_project

    given = {
        "lifts": lifts,
        "opening_length": length,
        "opening_width": width,
        "floor_to_roof": inside_height,
        "person_height": person,
    }
    known = units_of(units)
    if path.exists() and not path.is_dir() and not force:
        do = f"choose another name, or add --force to keep it as {path.name}.previous"
        raise ProjectFault([Fault(str(path), "there already", "nothing was written over", do)])
    fit_to_write([path])
    if demo is not None:
        without_answers(given)
        text = from_demo(demo)
    else:
        text = new_project(five_answers(given, ask=True), known, name or path.stem)
    project = write_new(path, text, over=force)
    if as_json:
        talk.answer(numbers.as_json({**numbers.head(project), "written": [str(path)]}))
    else:
        talk.answer(f"Written: {path}\n")
        talk.note(f"Next: loftwright check {path}, or loftwright sheet {path} for what to measure.")


SET_EXAMPLES = """\b
Examples:
  loftwright set my-roof.toml shell.mass="64 +- 1 kg, measured"
  loftwright set my-roof.toml spring.0.force="850 N" spring.0.foot.x="1.40 m"
  loftwright set my-roof.toml weighing.reading.0.whole="64 kg, measured"
  loftwright set my-roof.toml settings.units=imperial requirements.prop_fitted=true

Lists count from 0; the number after the last adds an entry. All changes are made, or none."""


def set_values(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The project file to change.")],
    changes: Annotated[list[str], typer.Argument(metavar="KEY=VALUE...", help="Keys and what is to stand there.")],
    as_json: Json = False,
) -> None:
    """Change keys of a project file; comments and order stay, the version before is kept.

    The whole file is judged first. When anything in it is at fault, nothing is written.
    """
    from loftwright.answers import numbers
    from loftwright.project.file import PREVIOUS, edit
    from loftwright.project.typed import changes_of

    wanted = changes_of(changes)
    project = edit(file, wanted)
    if as_json:
        talk.answer(numbers.as_json({**numbers.head(project), "changed": list(wanted), "written": [str(file)]}))
    else:
        for key, value in wanted.items():
            talk.answer(f"{key} = {json.dumps(value, ensure_ascii=False)}\n")
        talk.note(f"Written: {file}; the version before is {file.name}{PREVIOUS}.")


SCHEMA_EXAMPLES = """\b
Examples:
  loftwright schema > loftwright.schema.json
  loftwright schema --out loftwright.schema.json"""


def schema(
    out: Annotated[
        Path | None,
        typer.Option(metavar="PATH", help="Write it to a file instead of printing it.", show_default=False),
    ] = None,
) -> None:
    """Print the JSON Schema of the project file, for editors that check and complete TOML."""
    from loftwright.project.schema import json_schema

    text = f"{json.dumps(json_schema(), indent=1, ensure_ascii=False)}\n"
    if out is None:
        talk.answer(text)
    else:
        write_all({out: text.encode("utf-8")})
        talk.answer(f"Written: {out}\n")
