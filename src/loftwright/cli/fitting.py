"""The command on what rides on the roof and goes into it: fitout."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, cast

import typer

from loftwright.cli import talk
from loftwright.cli.options import Demo, FileToRead, Json, Strict, end_on, one_of, project_of

if TYPE_CHECKING:
    from loftwright.core.fitting_pages import FittingPart


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command(epilog=FITOUT_EXAMPLES)(fitout)


FITOUT_EXAMPLES = """\b
Examples:
  loftwright fitout my-roof.toml
  loftwright fitout my-roof.toml --part panel
  loftwright fitout my-roof.toml --part seal --brief
  loftwright fitout --demo fennimoor --json | python -m json.tool
  loftwright fitout my-roof.toml --strict && echo "nothing fails"

Parts: seal, standing, panel, lift, lining.

\b
Exit codes: 0 answered, whatever the verdicts; 1 a verdict fails and --strict was given;
2 the input is at fault. "Not known yet" is no failure; with --part only its verdicts count."""


def fitout(
    file: FileToRead = None,
    demo: Demo = None,
    part: Annotated[
        str | None,
        typer.Option(
            metavar="PART", help="One question alone: seal, standing, panel, lift or lining.", show_default=False
        ),
    ] = None,
    brief: Annotated[bool, typer.Option("--brief", help="Keep the answers and the worst verdicts.")] = False,
    strict: Strict = False,
    as_json: Json = False,
) -> None:
    """Say what the fit-out takes and does: seal, room to stand, panel and wire, powered lift, lining.

    How long and how stiff the seal is, who stands upright where, what the panel gives each month flat and raised,
    which cable and fuse, what an actuator must push, what the lining weighs.
    """
    from loftwright.core.fitting_pages import FITTING_PARTS

    one = cast("FittingPart | None", one_of("--part", part, FITTING_PARTS))
    project = project_of(file, demo)
    from loftwright.answers.fitted_roof import fitted_roof
    from loftwright.answers.fitting_view import fitting_page

    outcome = fitted_roof(project)
    page = fitting_page(outcome)
    if as_json:
        from loftwright.answers import numbers
        from loftwright.answers.fitting_numbers import fitted_out

        said = numbers.as_json(fitted_out(outcome) if one is None else fitted_out(outcome, (one,)))
    else:
        from loftwright.documents.fitting_text import fitting_text, part_text

        look = talk.look()
        said = fitting_text(page, look, brief=brief) if one is None else part_text(page, one, look, brief=brief)
    talk.answer(said)
    end_on(page.tally if one is None else page.section(one).tally, strict=strict)
