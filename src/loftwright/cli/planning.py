"""The commands on the order of work and on the hand-over: plan, handover."""

from __future__ import annotations

from typing import Annotated, cast

import typer

from loftwright.cli import talk
from loftwright.cli.options import Demo, FileToRead, Json, Strict, end_on, one_of, project_of
from loftwright.core.errors import Fault, ProjectFault


def add_to(app: typer.Typer) -> None:
    """Add these commands to the program."""
    app.command(epilog=PLAN_EXAMPLES)(plan)
    app.command(epilog=HANDOVER_EXAMPLES)(handover)


PLAN_EXAMPLES = """\b
Examples:
  loftwright plan my-roof.toml
  loftwright plan my-roof.toml --brief
  loftwright plan my-roof.toml --tick weigh-shell
  loftwright plan my-roof.toml --untick weigh-shell
  loftwright plan my-roof.toml --tick "cut-cloth" --on 2027-05-02 --took "4 h"
  loftwright plan --demo fennimoor --json | python -m json.tool

Days, hours, helpers and the timber frame stand under [plan], tasks of your own and hours of your own under [[todo]].

\b
Exit codes: 0 answered, whatever the verdicts; 1 a verdict fails and --strict was given;
2 the input is at fault. "Not known yet" is no failure."""


def plan(
    file: FileToRead = None,
    demo: Demo = None,
    tick: Annotated[
        str | None, typer.Option(metavar="TASK", help="Tick this task off in the file.", show_default=False)
    ] = None,
    untick: Annotated[
        str | None, typer.Option(metavar="TASK", help="Take the tick of this task away.", show_default=False)
    ] = None,
    on: Annotated[
        str | None,
        typer.Option(metavar="DAY", help="With --tick: the day, such as 2027-05-02.", show_default="today"),
    ] = None,
    took: Annotated[
        str | None,
        typer.Option(metavar="TIME", help='With --tick: working time, such as "4 h".', show_default=False),
    ] = None,
    brief: Annotated[
        bool, typer.Option("--brief", help="Keep the answer, what is next and what stops the cut.")
    ] = False,
    strict: Strict = False,
    as_json: Json = False,
) -> None:
    """Say what to do in which order, until when, and how long the roof is open.

    Tasks with their days, what sets the finish, the odds of the day you want, nights with the roof open with and
    without the timber frame, helpers, the list before the cut and the way back. Ticking off plans the rest anew.
    """
    if untick is not None and tick is not None:
        raise ProjectFault([Fault("--untick", "given beside --tick", "one of them at a time", "leave one out")])
    if tick is None and (on is not None or took is not None):
        raise ProjectFault(
            [
                Fault(
                    "--on" if on is not None else "--took", "given without --tick", "it belongs to a task", "add --tick"
                )
            ]
        )
    changed = tick if untick is None else untick
    if changed is not None and file is None:
        asked = "--tick" if untick is None else "--untick"
        raise ProjectFault([Fault(asked, "asked for with a demo", "a demo is not changed", "name a file of yours")])
    project = project_of(file, demo)
    if changed is not None and file is not None:
        from loftwright.answers.work_tick import tick_changes
        from loftwright.project.file import edit, stamp

        before = stamp(file)
        project = edit(file, tick_changes(project, changed, on, took, done=untick is None), stamp=before)
    from loftwright.answers.kept_reading import kept_walls
    from loftwright.answers.work_plan import work_plan
    from loftwright.answers.work_view import work_page

    outcome = work_plan(project, kept_walls(file, project), go=changed is None)
    page = work_page(outcome)
    if as_json:
        from loftwright.answers import numbers
        from loftwright.answers.work_numbers import work

        said = numbers.as_json(work(outcome))
    else:
        from loftwright.documents.work_text import ticked_text, work_text

        look = talk.look()
        said = work_text(page, look, brief=brief) if changed is None else ticked_text(page, look)
    talk.answer(said)
    if changed is not None:
        talk.note(f"Written: {file}")
    end_on(page.tally, strict=strict)


HANDOVER_EXAMPLES = """\b
Examples:
  loftwright handover my-roof.toml
  loftwright handover my-roof.toml --card driver
  loftwright handover my-roof.toml --card faults
  loftwright handover --demo fennimoor --json | python -m json.tool

Cards: commissioning, service, driver, inspector, faults."""


def handover(
    file: FileToRead = None,
    demo: Demo = None,
    card: Annotated[
        str | None,
        typer.Option(
            metavar="CARD",
            help="One card alone: commissioning, service, driver, inspector or faults.",
            show_default=False,
        ),
    ] = None,
    as_json: Json = False,
) -> None:
    """Print the cards of a finished roof: first lift and first road, service, driver, inspector, fault finding.

    Numbers are this roof's own. None of it is a crash or roll-over assessment: a local inspector or engineer decides.
    """
    from loftwright.core.work_pages import CARDS, Card

    one = cast("Card | None", one_of("--card", card, CARDS))
    project = project_of(file, demo)
    from loftwright.answers.hand_over import hand_over
    from loftwright.answers.hand_over_view import hand_over_page
    from loftwright.answers.kept_reading import kept_walls

    found = hand_over(project, kept_walls(file, project))
    if as_json:
        from loftwright.answers import numbers
        from loftwright.answers.work_numbers import handed_over

        talk.answer(numbers.as_json(handed_over(found, one)))
        return
    from loftwright.documents.handover_text import handover_text

    talk.answer(handover_text(hand_over_page(found), talk.look(), one))
