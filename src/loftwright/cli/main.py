"""The program `loftwright`: its commands, and how it ends.

Exit codes: 0 answered, whatever the verdicts; 1 a verdict fails and --strict was given; 2 something in the
input is at fault; 70 a bug of ours; 130 stopped from the keyboard.
"""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Sequence
from functools import cache
from typing import Annotated, cast

import typer
from typer.core import TyperGroup

from loftwright.cli import (
    answering,
    boarding,
    booking,
    choosing,
    demonstrating,
    filing,
    fitting,
    holding,
    linking,
    listing,
    planning,
    proving,
    talk,
    walling,
)
from loftwright.cli.options import FAILED
from loftwright.core.errors import LoftwrightError
from loftwright.core.version import MADE_WITH

ANSWERED, AT_FAULT, BUG, STOPPED = 0, 2, 70, 130
DEBUG = "--debug"

app = typer.Typer(
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    add_completion=False,
    epilog="\b\nExamples:\n"
    "  loftwright board --demo fennimoor   a made-up roof on the drawing board\n"
    "  loftwright board my-roof.toml       your own, from a few questions on\n"
    "  loftwright demo                     the papers of the made-up roof\n"
    "  loftwright check my-roof.toml       what holds, what fails, what is not known yet\n"
    "  loftwright hold my-roof.toml        does it sit, will it hold: wind, road, hole, joints\n"
    "  loftwright walls my-roof.toml       how the cloth is cut, and where it goes\n"
    "  loftwright parts my-roof.toml       what to buy, what it costs, how bars are cut\n\n"
    "\b\nExit codes: 0 answered, whatever the verdicts; 1 a verdict fails and --strict\n"
    "was given; 2 the input is at fault; 70 a bug of ours; 130 stopped.",
)


@app.callback(invoke_without_command=True)
def top(
    context: typer.Context,
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
    debug: Annotated[bool, typer.Option(DEBUG, help="Show where in the program a bug struck.")] = False,
) -> None:
    """Answers for people who build a lifting roof for their own van.

    What the shell weighs and where, how it moves, how it will feel, and what is not known yet. Everything
    runs on this computer; nothing is sent anywhere. The results aid judgement: they are no licence.
    """
    if version:
        talk.answer(f"{MADE_WITH}\n")
    elif context.invoked_subcommand is None:
        talk.answer(f"{context.get_help()}\n")


answering.add_to(app)
holding.add_to(app)
walling.add_to(app)
fitting.add_to(app)
listing.add_to(app)
planning.add_to(app)
choosing.add_to(app)
booking.add_to(app)
filing.add_to(app)
demonstrating.add_to(app)
linking.add_to(app)
proving.add_to(app)
boarding.add_to(app)


@cache
def _command() -> TyperGroup:
    return cast(TyperGroup, typer.main.get_command(app))


def run(arguments: Sequence[str]) -> int:
    """Run one command line and return the exit code; nothing gets out but what is meant for people."""
    talk.prepare()
    debug = DEBUG in arguments
    try:
        wanted = [word for word in arguments if word != DEBUG]
        code = _command().main(wanted, prog_name="loftwright", standalone_mode=False)
        talk.flush()
        return code if isinstance(code, int) else ANSWERED
    except SystemExit as end:
        if isinstance(end.__context__, BrokenPipeError):
            # The toolkit ends like this when the reader of a help text has gone away.
            talk.leave()
            return ANSWERED
        if isinstance(end.code, str):
            talk.note(end.code)
        return end.code if isinstance(end.code, int) else ANSWERED if end.code is None else FAILED
    except LoftwrightError as error:
        talk.faults(error)
        return AT_FAULT
    except typer.TyperException as error:
        _usage(error)
        return AT_FAULT
    except (KeyboardInterrupt, typer.Abort):
        talk.note("\nStopped.")
        return STOPPED
    except OSError as error:
        if debug:
            traceback.print_exc()
        talk.leave()
        talk.note(f"The computer refused ({error.strerror or error}): check the place, its rights and its room.")
        return AT_FAULT
    except Exception as error:
        if debug:
            traceback.print_exc()
        else:
            talk.note(
                f"This is a bug in Loftwright ({type(error).__name__}: {' '.join(str(error).split())}): "
                f"run it again with {DEBUG} and report what it prints."
            )
        return BUG


def _usage(error: typer.TyperException) -> None:
    said = " ".join(error.format_message().split())
    talk.note(said if said.endswith((".", "?")) else f"{said}.")
    context = getattr(error, "ctx", None)
    path = context.command_path if context is not None else "loftwright"
    talk.note(f"Try: {path} --help")


def app_main() -> None:
    """Run the command line of this process and end it."""
    # Many small systems are solved side by side: threads for each of them only get in one another's way.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.exit(run(sys.argv[1:]))
