"""What several commands take alike, and how a project is found from it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loftwright.cli import talk
from loftwright.core.errors import Fault, ProjectFault

if TYPE_CHECKING:
    from loftwright.core.checks import Tally
    from loftwright.project.model import Project
    from loftwright.project.newfile import FiveAnswers

FileToRead = Annotated[Path | None, typer.Argument(metavar="FILE", help="The project file.", show_default=False)]
Demo = Annotated[
    str | None,
    typer.Option(
        metavar="NAME",
        help="Take a demo instead of a file: fennimoor, ottergate, quellmere or larkenmoor.",
        show_default=False,
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print the results as JSON, in SI units.")]
Strict = Annotated[bool, typer.Option("--strict", help="End with exit code 1 when a verdict fails.")]
Units = Annotated[str, typer.Option(metavar="UNITS", help="metric or imperial.")]

Lifts = Annotated[
    str | None,
    typer.Option(
        metavar="HOW",
        help='Which end stays low (hinged), or arms? "hinge front", "hinge rear", "arms", "level arms" or "scissor".',
        show_default=False,
    ),
]
Length = Annotated[
    str | None, typer.Option(metavar="LENGTH", help='Opening along the van, such as "2.1 m".', show_default=False)
]
Width = Annotated[
    str | None, typer.Option(metavar="LENGTH", help='Opening across the van, such as "4 ft 1 in".', show_default=False)
]
InsideHeight = Annotated[
    str | None,
    typer.Option(metavar="LENGTH", help="Inside floor to the outer skin of the roof.", show_default=False),
]
Person = Annotated[str | None, typer.Option(metavar="LENGTH", help="Height of the tallest person.", show_default=False)]

FAILED = 1
"""Exit code where a verdict fails and that was asked for."""

DONT_KNOW = "don't know"

QUESTIONS = (
    ("lifts", 'Which end stays low (hinged), or arms? "hinge front", "hinge rear", "arms", "level arms" or "scissor"'),
    ("opening_length", 'How long is the opening, along the van (such as "2.1 m")'),
    ("opening_width", "How wide is the opening, across the van"),
    ("floor_to_roof", "How high is it from the inside floor to the outside of the roof"),
    ("person_height", "How tall is the tallest person who will stand there"),
)

_A_LENGTH = f'a length with its unit, such as "2.1 m", "4 ft 1 in" or "1.9 m, measured", or "{DONT_KNOW}".'
CHOICES = {
    "lifts": '"hinge front": the hinge sits at the cab\'s end and the rear rises; "hinge rear": the other way round; '
    f'"arms": the whole shell swings up on arms; "level arms": it rises level on two equal arms a side; "scissor": '
    f'it rises straight up on crossing arms; or "{DONT_KNOW}".',
    "opening_length": f"Along the van, where the roof is cut: {_A_LENGTH}",
    "opening_width": f"Across the van, where the roof is cut: {_A_LENGTH}",
    "floor_to_roof": f"From the floor inside to the outer skin of the roof: {_A_LENGTH}",
    "person_height": f"In shoes: {_A_LENGTH}",
}
"""What is said to a question mark."""


def project_of(file: Path | None, demo: str | None) -> Project:
    """Return the project in a file, or a demo. Errors: ProjectFault."""
    if file is not None and demo is None:
        from loftwright.answers.own_names import own_names
        from loftwright.project.file import read

        found = read(file)
        talk.spell(found.settings.words, own_names(found))
        return found
    if demo is not None and file is None:
        from loftwright.project import demos

        return demos.demo(demo)
    given = "missing" if file is None else "named twice"
    raise ProjectFault(
        [Fault("The project", given, "name one file, or one demo with --demo", "loftwright new makes a file")]
    )


def five_answers(given: dict[str, str | None], *, ask: bool) -> FiveAnswers:
    """Return the five answers; those left out are asked for when a person is there, else they are not known."""
    from loftwright.project.newfile import FiveAnswers, new_project

    new_project(FiveAnswers(**given))
    missing = [key for key, _ in QUESTIONS if given[key] is None]
    if missing and ask and talk.asks_back():
        talk.note(f'Five questions; "{DONT_KNOW}" is an answer to each, and Enter says it.')
        for key, question in QUESTIONS:
            if key in missing:
                given = {**given, key: _asked(key, question)}
    elif missing:
        talk.note(f"Taken as not known: {', '.join(key.replace('_', ' ') for key in missing)}.")
    return FiveAnswers(**given)


def _asked(key: str, question: str) -> str:
    """Ask until the answer can be used."""
    from loftwright.project.newfile import FiveAnswers, new_project

    while True:
        said: str = typer.prompt(question, default=DONT_KNOW, err=True)
        if said.strip() == "?":
            talk.note(CHOICES[key])
            continue
        try:
            new_project(FiveAnswers(**{key: said}))
        except ProjectFault as error:
            for fault in error.faults:
                talk.note(fault.sentence())
        else:
            return said


def one_of(option: str, given: str | None, allowed: tuple[str, ...]) -> str | None:
    """Return what was given if it is allowed. Errors: ProjectFault."""
    if given is None or given in allowed:
        return given
    raise ProjectFault([Fault(option, f'"{given}"', f"one of {', '.join(allowed)}", "choose one of these")])


def end_on(counted: Tally, *, strict: bool) -> None:
    """End the program with its exit code where a verdict fails and `strict` was asked for."""
    if strict and counted.fails:
        raise typer.Exit(FAILED)
