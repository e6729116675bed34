"""The command on the cloth walls: walls."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast, get_args

import typer

from loftwright.cli import talk
from loftwright.cli.choosing import progress, stoppable
from loftwright.cli.options import Demo, FileToRead, Json, Strict, end_on, one_of, project_of
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import fit_to_write, write_all

if TYPE_CHECKING:
    from loftwright.answers.kept_walls import KeptWalls
    from loftwright.core.book_views import Paper, WallSheet
    from loftwright.core.wall_views import WallPage, WallPart
    from loftwright.project.model import Project


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command(epilog=WALLS_EXAMPLES)(walls)


WALLS_EXAMPLES = """\b
Examples:
  loftwright walls my-roof.toml
  loftwright walls my-roof.toml --part shape --brief
  loftwright walls my-roof.toml --fold --lay
  loftwright walls my-roof.toml --pdf walls.pdf --patterns patterns.pdf
  loftwright walls my-roof.toml --dxf walls.dxf --svg patterns/
  loftwright walls --demo fennimoor --json | python -m json.tool

Parts: shape, water, sewing, windows, metres, warmth, fold.
Sheets: panels, water, layout, sewing, bill, fold, tucking, trial.
--fold tries how the cloth folds, --lay how the pieces lie on the roll: each takes a minute or more and is kept beside
the file. Ctrl-C stops them.

\b
Exit codes: 0 answered, whatever the verdicts; 1 a verdict fails and --strict was given;
2 the input is at fault. "Not known yet" is no failure; with --part only its verdicts count."""


def walls(
    file: FileToRead = None,
    demo: Demo = None,
    part: Annotated[
        str | None,
        typer.Option(
            metavar="PART",
            help="One question alone: shape, water, sewing, windows, metres, warmth or fold.",
            show_default=False,
        ),
    ] = None,
    fold: Annotated[bool, typer.Option("--fold", help="Work out how the cloth folds; takes a minute or more.")] = False,
    lay: Annotated[bool, typer.Option("--lay", help="Work out how the pieces lie on the roll.")] = False,
    pdf: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Write all sheets on the walls.", show_default=False)
    ] = None,
    sheet: Annotated[
        str | None, typer.Option(metavar="NAME", help="With --pdf: this sheet alone.", show_default=False)
    ] = None,
    patterns: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Write the patterns at full size on tiles.", show_default=False)
    ] = None,
    long_page: Annotated[
        Path | None,
        typer.Option("--long", metavar="PATH", help="Write the patterns on long pages, full size.", show_default=False),
    ] = None,
    paper: Annotated[
        str | None, typer.Option(metavar="PAPER", help="Paper of tiles and sheets: a4 or letter.", show_default=False)
    ] = None,
    svg: Annotated[
        Path | None,
        typer.Option(metavar="FOLDER", help="Write each pattern as an SVG at full size.", show_default=False),
    ] = None,
    dxf: Annotated[
        Path | None, typer.Option(metavar="PATH", help="Write all patterns as a DXF drawing.", show_default=False)
    ] = None,
    take_over: Annotated[
        bool, typer.Option("--take-over", help="Write the cloth's weight and pushes into the file's other forces.")
    ] = False,
    brief: Annotated[bool, typer.Option("--brief", help="Keep the answers and the worst verdicts.")] = False,
    strict: Strict = False,
    as_json: Json = False,
) -> None:
    """Say how the cloth walls are cut and sewn, what they take of the roll, and where they go when the roof closes.

    Flat panels with error bars, water at the lower edge, windows, metres and price, warmth, and the fold: which way,
    how deep, how high. Results aid judgement: make one panel in paper before cloth is cut.
    """
    from loftwright.core.book_views import Paper, WallSheet
    from loftwright.core.wall_views import WALL_PARTS

    one = cast("WallPart | None", one_of("--part", part, WALL_PARTS))
    only = cast("WallSheet | None", one_of("--sheet", sheet, get_args(WallSheet)))
    on = cast("Paper | None", one_of("--paper", paper, get_args(Paper)))
    if only is not None and pdf is None:
        raise ProjectFault([Fault("--sheet", "given without --pdf", "a sheet is a PDF", f"add --pdf {only}.pdf")])
    if take_over and file is None:
        raise ProjectFault(
            [Fault("--take-over", "asked for with a demo", "a demo is not changed", "name a file of yours")]
        )
    project = project_of(file, demo)
    keep = () if file is None else (file,)
    fit_to_write(tuple(path for path in (pdf, patterns, long_page, dxf) if path is not None), keep=keep)
    if svg is not None:
        _fit_for_folder(svg)
    from loftwright.answers.wall_view import wall_page
    from loftwright.answers.walled_roof import walled_roof

    kept = _worked_out(project, file, fold=fold, lay=lay)
    outcome = walled_roof(project, kept)
    page = wall_page(outcome)
    papers = _papers(page, pdf, only, patterns, long_page, svg, dxf, on)
    if as_json:
        from loftwright.answers import numbers
        from loftwright.answers.wall_numbers import walled

        said = numbers.as_json(walled(outcome) if one is None else walled(outcome, (one,)))
    else:
        from loftwright.documents.wall_text import part_text, wall_text

        look = talk.look()
        said = wall_text(page, look, brief=brief) if one is None else part_text(page, one, look, brief=brief)
    write_all(papers, keep=keep)
    talk.answer(said)
    for path in papers:
        talk.note(f"Written: {path}")
    if take_over and file is not None:
        from loftwright.answers.taken_over import as_changes, left_alone
        from loftwright.project.file import edit

        edit(file, as_changes(outcome.numbers))
        talk.note(f"Written: {file}")
        for sentence in left_alone(outcome.numbers):
            talk.note(sentence)
    end_on(page.tally if one is None else page.section(one).tally, strict=strict)


def _fit_for_folder(folder: Path) -> None:
    """Refuse a folder that cannot be made. Errors: ProjectFault."""
    if folder.exists() and not folder.is_dir():
        raise ProjectFault([Fault("--svg", f"{folder} is a file", "a folder is wanted", "name another place")])
    if not folder.parent.is_dir():
        raise ProjectFault(
            [Fault("--svg", f"{folder.parent} is not there", "a folder to make it in is wanted", "make that first")]
        )


def _worked_out(project: Project, file: Path | None, *, fold: bool, lay: bool) -> KeptWalls:
    """Return what is kept of the slow answers, after those that were asked for."""
    from loftwright.answers.kept_reading import kept_now, kept_walls

    if not (fold or lay):
        return kept_walls(file, project)
    with progress() as tell, stoppable() as stopped:
        kept, done = kept_now(project, file, fold=fold, lay=lay, tell=tell, stopped=stopped.is_set)
    if not done:
        talk.note("Stopped. Only what had come to its end is kept.")
        raise KeyboardInterrupt
    return kept


def _papers(
    page: WallPage,
    pdf: Path | None,
    only: WallSheet | None,
    patterns: Path | None,
    long_page: Path | None,
    svg: Path | None,
    dxf: Path | None,
    paper: Paper | None,
) -> dict[Path, bytes]:
    """Return what was asked for on paper and in files, by where it goes."""
    found: dict[Path, bytes] = {}
    if pdf is not None:
        from loftwright.documents.wall_book import wall_pdf

        found[pdf] = wall_pdf(page, only=only, paper=paper).data
    if any(path is not None for path in (patterns, long_page, svg, dxf)):
        from loftwright.documents import wall_patterns

        if patterns is not None:
            found[patterns] = wall_patterns.tiles_pdf(page, paper)
        if long_page is not None:
            found[long_page] = wall_patterns.long_pdf(page)
        if dxf is not None:
            found[dxf] = wall_patterns.dxf(page)
        if svg is not None:
            from loftwright.project.file import said_of_disk

            with said_of_disk(svg, every=True):
                svg.mkdir(exist_ok=True)
            found |= {svg.joinpath(name): data for name, data in wall_patterns.svgs(page).items()}
    return found
