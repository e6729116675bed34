"""The command that says where to bolt lifting arms that are at hand: links."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from loftwright.cli import talk
from loftwright.cli.options import Demo, FileToRead, Json, project_of
from loftwright.core.writing import fit_to_write, write_all


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command(epilog=LINKS_EXAMPLES)(links)


LINKS_EXAMPLES = """\b
Examples:
  loftwright links my-roof.toml
  loftwright links my-roof.toml --svg ways.svg
  loftwright links my-roof.toml --write 2      (puts the second way into [linkage])
  loftwright links my-roof.toml --json"""


def links(
    file: FileToRead = None,
    demo: Demo = None,
    as_json: Json = False,
    svg: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Write a picture of every way as SVG.", show_default=False)
    ] = None,
    write: Annotated[
        int | None,
        typer.Option(metavar="N", help="Put the N-th way into [linkage] of the file.", show_default=False),
    ] = None,
) -> None:
    """Say where to bolt lifting arms that are at hand, several ways, best first.

    The file's section [links] says how long the arms are and what is wanted: how far the lip rises, how the open
    shell may slope, and where pivots may sit. Every way seats flat, reaches that pose, clears and does not jam.
    """
    project = project_of(file, demo)
    fit_to_write(() if svg is None else (svg,), keep=() if file is None else (file,))
    from loftwright.answers import numbers
    from loftwright.answers.linking import changes, linked
    from loftwright.answers.linking_view import links_page

    found = linked(project)
    written = None if write is None else changes(found, write)
    page = links_page(found)
    if as_json:
        from loftwright.answers.linking_numbers import linked_numbers

        said = numbers.as_json(linked_numbers(found))
    else:
        from loftwright.documents.linking_text import links_text

        said = links_text(page, talk.look())
    if svg is not None and page.answers:
        from loftwright.documents.linking_text import links_svg

        write_all({svg: links_svg(page).encode("utf-8")}, keep=() if file is None else (file,))
    if written is not None:
        write_into(file, written)
    talk.answer(said)
    if svg is not None:
        talk.note(f"Written: {svg}" if page.answers else "No picture was written: there is no answer.")
    if written is not None:
        talk.note(f"Written: way {write} into [linkage] of {file}; check the roof again.")


def write_into(file: Path | None, written: dict[str, str | int | bool | None]) -> None:
    """Write an answer into the project file, or say that a demo cannot be written to."""
    from loftwright.core.errors import Fault, ProjectFault
    from loftwright.project.file import edit

    if file is None:
        do = "make a file of it with loftwright new --demo"
        raise ProjectFault([Fault("--write", "given without a file", "a demo is not written to", do)])
    edit(file, written)
