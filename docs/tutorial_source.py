"""Write docs/tutorial.md: every command in it is run, and what stands below it is what the program printed."""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import tempfile
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any
from unittest.mock import patch

COLUMNS = "80"
BOARD = "loftwright board --demo fennimoor"
NEW = (
    'loftwright new my-roof.toml --lifts "hinge front" --length "1.9 m" --width "1.2 m" --inside-height "1.45 m" '
    '--person "don\'t know"'
)
WITHOUT_UNIT = 'loftwright set my-roof.toml shell.mass="38"'
WEIGHED = (
    'loftwright set my-roof.toml shell.mass="38 +- 1 kg, measured" shell.centre="0.93 m +- 15 mm, measured" '
    'handle.strap_length="450 mm" requirements.prop_fitted=true'
)
MEASURED = (
    'loftwright set my-roof.toml shell.length="2.00 m, measured" shell.overhang_rear="50 mm" '
    'shell.rim_height="14 mm" forces.seal_line="35 +- 10 N/m, measured" forces.seal_height="8 mm, measured"'
)
SPRING = (
    'loftwright set my-roof.toml spring.0.force="480 N, label" spring.0.ratio="1.28, label" '
    'spring.0.friction="45 +- 15 N, measured"',
    'loftwright set my-roof.toml spring.0.stroke="230 mm, label" spring.0.extended_length="570 mm, label"',
    'loftwright set my-roof.toml spring.0.foot.x="1.38 m" spring.0.foot.z="-20 mm" spring.0.head.x="1.03 m" '
    'spring.0.head.z="50 mm"',
)
CHECK = "loftwright check my-roof.toml --brief"
FORCES = "loftwright forces my-roof.toml --every 25"
HOLD = "loftwright hold --demo fennimoor --brief"
WALLS = "loftwright walls --demo fennimoor --brief"
SCOUT = "loftwright scout --demo fennimoor --brief"
FITOUT = "loftwright fitout --demo fennimoor --brief"
PARTS = "loftwright parts --demo fennimoor"
PLAN = "loftwright plan --demo fennimoor --brief"
WHEN = 'loftwright set my-roof.toml plan.start="2027-04-03" plan.hours="7 h" plan.people=3'
TICK = 'loftwright plan my-roof.toml --tick measure-van --on 2027-04-03 --took "4 h"'
DRIVER = "loftwright handover --demo fennimoor --card driver"


@contextlib.contextmanager
def _elsewhere() -> Iterator[None]:
    """Work in a folder that is gone afterwards, on a terminal of a known width."""
    with (
        tempfile.TemporaryDirectory() as folder,
        contextlib.chdir(folder),
        patch.dict(os.environ, {"COLUMNS": COLUMNS, "NO_COLOR": "1"}),
    ):
        yield


def _run(line: str, code: int = 0) -> str:
    """Return what a command answers, or what it says when it refuses."""
    from loftwright.cli.main import run

    said, noted = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(noted):
        ended = run(shlex.split(line)[1:])
    if ended != code:
        raise RuntimeError(f"{line}\nended with {ended}, not {code}: {noted.getvalue()}")
    return (said if code == 0 else noted).getvalue().rstrip()


def _board(line: str) -> str:
    """Return what the board prints when it starts, with an address of the usual form; it ends at once."""
    from loftwright.cli.main import run

    def ended(app: Any, entry: object, sockets: object, *, ready: Callable[[], None]) -> None:
        ready()
        app.state.desk.close()
        raise KeyboardInterrupt

    said = io.StringIO()
    with (
        patch("loftwright.board.serve.serve", ended),
        patch("loftwright.board.secret.state_folder", lambda: Path("state").absolute()),
        contextlib.redirect_stdout(said),
        contextlib.redirect_stderr(said),
    ):
        code = run(shlex.split(line)[1:])
    text = re.sub(r":\d+/\?token=\w+", ":8719/?token=...", said.getvalue())
    lines = [one for one in text.splitlines() if one and not one.startswith(("Port ", "Stopped"))]
    if code != 130 or not any(one.endswith("token=...") for one in lines):
        raise RuntimeError(f"{line}\nended with {code}: {text}")
    return "\n".join(lines)


def _commands(*lines: str) -> str:
    return "\n".join(["```", *lines, "```"])


def _printed(*parts: str) -> str:
    return "\n".join(["```text", *"\n\n".join(parts).splitlines(), "```"])


def _head(text: str) -> str:
    return "\n".join(text.splitlines()[:2])


def _section(text: str, heading: str) -> str:
    """Return a heading that starts so and the lines below it, up to the next empty one."""
    lines = text.splitlines()
    start = next((i for i, line in enumerate(lines) if line.startswith(heading)), None)
    if start is None:
        raise RuntimeError(f"nothing is printed under {heading!r} any more")
    end = next((i for i in range(start, len(lines)) if not lines[i].strip()), len(lines))
    return "\n".join(lines[start:end])


def _block(text: str, number: int) -> str:
    """Return one of the blocks between empty lines, counted from 0."""
    return text.split("\n\n")[number].strip("\n")


def _cut(text: str, count: int) -> str:
    """Return the first lines."""
    lines = text.splitlines()
    return text if len(lines) <= count else "\n".join([*lines[:count], "..."])


def _verdicts(text: str, count: int) -> str:
    """Return the first verdicts; an indented line belongs to the one above."""
    heading, *body = _section(text, "Verdicts").splitlines()
    starts = [i for i, line in enumerate(body) if not line.startswith(" ")]
    cut = [*body[: starts[count]], "..."] if len(starts) > count else body
    return "\n".join([heading, *cut])


def _fails(text: str) -> Sequence[str]:
    return [line for line in text.splitlines() if line.startswith("FAILS")]


def page() -> str:
    """Return the text of the tutorial. Errors: RuntimeError when what it says is not so any more."""
    with _elsewhere():
        return _page()


def _page() -> str:
    demo = _run("loftwright demo")
    board = _board(BOARD)
    same = _run("loftwright check fennimoor.toml --brief")
    first = _run("loftwright check --demo fennimoor --brief")
    feel = _run("loftwright forces --demo fennimoor")
    new = _run(NEW)
    worth = _run("loftwright scout my-roof.toml --brief")
    sheet = _run("loftwright sheet my-roof.toml")
    unmeasured = _run(CHECK)
    refused = _run(WITHOUT_UNIT, code=2)
    weighed = _run(WEIGHED)
    after_weighing = _run(CHECK)
    _run(MEASURED)
    after_measuring = _run(CHECK)
    for line in SPRING:
        _run(line)
    settled = _run(CHECK)
    settled_feel = _run(FORCES)
    held = _run(HOLD)
    walls = _run(WALLS)
    begun = _run(SCOUT)
    fitout = _run(FITOUT)
    parts = _run(PARTS)
    plan = _run(PLAN)
    _run(WHEN)
    ticked = _run(TICK)
    driver = _run(DRIVER)
    if not _fails(after_measuring) or _fails(settled):
        raise RuntimeError("the spring of the tutorial must mend what fails: choose other numbers for it")
    return f"""# From nothing to an answer

What you see here was printed by the program; long answers are cut at `...`. After the first set-up each command
takes a second, those on strength, walls and parts a few the first time.

## 1. The made-up roof

```
python3 dev.py demo
```

This sets everything up in the folder `.venv` (once; a minute or three), then takes *Fennimoor* through everything: a
van whose owner builds a shell new from foam and plywood and hinges it at the front. Every place, person and number in
it is invented. At the end:

{_printed(demo)}

Open `demo-output/fennimoor.pdf`. It is one page: the roof closed, half and open; force curves; verdicts; what to do
next; cautions. `fennimoor-book.pdf` holds every answer on paper.

Fennimoor goes the whole way on this page: is it worth starting, here; the drawing board in 2; verdicts and feel in 3
and 4; whether it holds, its walls, what rides on it, what is bought, the order of work and the hand-over in 10 to 15.
In between, 5 to 9, you begin a file of your own.

Before anything was bought, its owner asked:

{_commands(SCOUT)}

{_printed(_head(begun), _section(begun, "Worth starting"), _cut(_section(begun, "Key figures"), 5))}

The program itself is `.venv/bin/loftwright` (on Windows `.venv\\Scripts\\loftwright`). Below it is called `loftwright`.

## 2. On the drawing board

{_commands(BOARD)}

{_printed(board)}

The browser opens at that address; Ctrl-C in the terminal ends the board. With nothing but `loftwright board` it begins
with the projects of the folder and the first questions for a new one, and the made-up roofs stand below:

![The first questions: which end lifts, what you have, five numbers, and what they come to](pictures/board-start.png)

Here Fennimoor is open. On the left the roof to scale and how it will feel, on the right what to do next, the odds, and
what is judged, worst first. Pull the slider: the roof opens, and an upright line goes through the curves.

![Fennimoor on the drawing board](pictures/board-drawing.png)

Drag a square, an end of a spring. Curves follow at once; rest, and odds and verdicts are those of the place where you
hold it. Nothing is saved before you let go, and *Undo* brings the old place back.

![The head of the spring while it is dragged](pictures/board-drag.png)

*What you have* and *How it moves* hold the numbers that are measured or decided, each with how well it is known.
Fennimoor brings readings of the finished roof along. To go the way from its beginning, take the four of them out on the
page *Proof*, under *Change a reading, or take it out*.

Now nobody has to find the springs by dragging. *What lifts it*, *Search for springs*: after some seconds it shows what
to measure first, the springs that meet everything in most roofs like this one, and rows of holes as insurance.

![Springs and holes that were found, with their odds](pictures/board-found.png)

*Fit this*, under the holes, writes springs and holes into the file as one change. *Side by side*, at the foot of the
page, shows the roof as it is now beside the roof before that change:

![The roof beside itself before the springs were fitted](pictures/board-beside.png)

Say it is built. *Proof* names the readings that teach most. With `--phone` the board lets a phone of your own network
in, and *Readings at the van* is made for it ([how](how-to/at-the-van.md)). **Two people, and the roof is propped
whenever nobody moves it.** Four readings, invented like the roof:

<img src="pictures/board-readings.png" width="360" alt="The fourth reading, typed on a phone">

The readings say how the built roof differs from its plan, how that changes the odds, and which hole is next:

![Proof: the readings agree, and another hole is better](pictures/board-proof.png)

*Papers* prints all of it: the build book, holes at full size, the steps of fitting, sheets for the van.

![Papers](pictures/board-papers.png)

Everything you did stands in `fennimoor.toml`, and the terminal answers from the same file, before and after:

{_commands("loftwright check fennimoor.toml --brief")}

{_printed(_head(same))}

Every page and every way to move a point: [design on the drawing board](how-to/board.md). The rest of this page goes the
same way in the terminal, from nothing, with a roof of your own.

## 3. Read the verdicts

{_commands("loftwright check --demo fennimoor --brief")}

{_printed(_head(first), _verdicts(first, 4))}

Worst first. `NOT KNOWN` is no fault: it hangs on something that nobody has measured, and the line says on what.
`holds` counts for little beside a small number of roofs: of 200 drawn from the ranges in the file, the others do not
hold. Without `--brief` each verdict also has its reason and its source. More:
[read the verdicts](how-to/read-the-verdicts.md).

## 4. How it feels

{_commands("loftwright forces --demo fennimoor")}

{_printed(_head(feel), _section(feel, "Push needed"))}

Read one column from top to bottom: what the hand must push at each opening. Cold and aged springs push least, so that
column is the hardest. Where a number is negative the roof rises by itself. The first row is special: closed, the
squeezed seal helps to lift.

{_printed(_section(feel, "When something fails"))}

That is why Fennimoor has a folding strut under the lip, and why you need a prop too. **Never go under a shell that gas
springs alone hold up.**

## 5. Your own file

Five questions; "don't know" is an answer to each. On a terminal they are asked; here they are given at once.

{_commands(NEW)}

{_printed(new)}

The file is complete: what you did not say stands there as `unknown`, `assumed` or `suggested`, with a note on what it
means and how to find it out. Is it worth starting?

{_commands("loftwright scout my-roof.toml --brief")}

{_printed(_head(worth), _section(worth, "Worth starting"), _section(worth, "Key figures"))}

## 6. Measure

{_commands("loftwright sheet my-roof.toml")}

{_printed(sheet)}

Print it, take it to van and shell with tape, bathroom scales and a level.
[How to measure the shell](how-to/measure-the-shell.md) says how, with what to take care of.

Before anything is measured, much of the answer is open, and the program says what to find out first:

{_printed(_head(unmeasured), _section(unmeasured, "Do next"))}

## 7. Put in what you found

In an editor, or from the terminal. A number without its unit is refused and nothing is written:

{_commands(WITHOUT_UNIT)}

{_printed(refused)}

{_commands(WEIGHED)}

{_printed(weighed)}

{_commands(CHECK)}

{_printed(_head(after_weighing), _verdicts(after_weighing, 2))}

`prop_fitted = true` is a promise: write it only if a prop or lock that cannot slip will be there, for without it the
roof fails by falling when one spring does.

Weight and centre are the two numbers that count most. Then measure how long the shell really is, because the part
that reaches beyond the hinge goes down; plan the rim a little higher; and squeeze a piece of the seal on kitchen
scales, since "unknown" may mean a seal that lifts half the shell:

{_commands(MEASURED, CHECK)}

{_printed(_head(after_measuring), _verdicts(after_measuring, 2))}

## 8. Change one thing, look again

The spring in the new file is only a start. Say there is a pair on a shelf whose label tells force, length and stroke,
and you have measured its friction. Where to bolt it is found by trying, on paper, until nothing fails:

{_commands(*SPRING, CHECK, FORCES)}

{_printed(_head(settled), _verdicts(settled, 4))}

{_printed(_section(settled_feel, "Push needed"))}

Nothing fails any more. What is left names what to measure next. Look at the odds too: a verdict that few roofs like
yours would meet may turn once you have measured.

Go on so: one change, one look. Weaker springs make it easier to pull down and harder to push up. Where it is too
strong closed and too weak open, not the force is wrong but the place. `loftwright check my-roof.toml --pdf roof.pdf
--html roof.html` writes the page and a version with a slider.

## 9. Let it choose

Nobody has to move brackets by trial. Say in the file where they may sit and whose list you buy from
([choose springs](how-to/choose-springs.md)); without that it looks round the holes that stand there, in a made-up list.

{_commands("loftwright choose my-roof.toml --brief")}

That tries more than a thousand springs in thousands of places on hundreds of roofs like yours. It names what to measure
first, the springs with their holes and how many of 100 roofs would meet everything, a row of holes as insurance with a
card that says which one to try next, and which forces to order together. With `--write` it fits the springs into your
file. On paper, with the holes at full size and a timber frame to try it all on:

{_commands("loftwright book my-roof.toml --as-planned")}

When the roof is built, write what the scales read into the file; `loftwright prove my-roof.toml` says what that
teaches and which hole is next.

## 10. Does it sit, will it hold

Before the saw comes out: does the rim sit on a roof that is curved both ways, which part goes first in a gust or on
the road, what does the hole take away and what does a ring give back, do bolts and sheet hold? Fennimoor's answer:

{_commands(HOLD)}

{_printed(_head(held), _section(held, "In short"))}

Below stand all verdicts, worst first. `--part wind` asks one question alone, `--pdf hold.pdf` prints the wind card, the
cut plan, templates at full size, the ring's cutting list and every hole; [will it hold](how-to/will-it-hold.md) says
which readings come first. On the board these are the pages *Fit*, *Wind and road*, *The opening* and *Joints*:

![The raised roof in a gust, with how much of its limit each part uses](pictures/board-wind.png)

Your own new file answers the same, mostly with "not known yet", and says what to measure first.

## 11. The cloth walls

When the frame stands, the cloth follows: how each panel is cut and how sure that is, rain at its lower edge, windows,
metres and price, warmth, and where half a metre of cloth goes when the roof comes down. Fennimoor's answer:

{_commands(WALLS)}

{_printed(_head(walls), _section(walls, "In short"))}

`--part shape` asks one question alone and names what to measure again. `--patterns patterns.pdf` prints the pieces at
full size; [cut the cloth](how-to/cut-the-cloth.md) goes from the first point to the last seam. Which way the cloth
folds is a matter of chance, so it is tried many times, on demand. What your new file answers before that:

{_commands("loftwright walls my-roof.toml --part fold")}

With `--fold` it is tried, which takes a minute or two, and kept beside the file;
[where the cloth goes](how-to/where-the-cloth-goes.md) says what to do about what it finds.

## 12. What rides on it

The seal under the rim, room to stand, a panel with its cable, a powered lift if there is one, the lining. Fennimoor has
a panel of 100 W:

{_commands(FITOUT)}

{_printed(_head(fitout), _section(fitout, "In short"))}

Flat and raised, by month, and which way the cab points best in winter: `--part panel`
([panel and wire](how-to/panel-and-wire.md)). What the seal pushes and the lining weighs goes back to the balance, once
you say so. On the board this is the page *What rides on it*:

![Room to stand, the panel's months, cable, fuse and loop, and what is judged](pictures/board-riding.png)

## 13. What is bought

Everything that the design implies, from bars to thread, with waste and in whole packs:

{_commands(PARTS)}

{_printed(_head(parts), _block(parts, 1), _cut(_section(parts, "Money"), 5), _section(parts, "To cut"))}

Prices go out to a spreadsheet and come back, into the project file:

{_commands("loftwright parts --demo fennimoor --csv parts.csv")}

In a file of your own `--read parts.csv` takes in what you filled in as `price`, `bought` and `have`
([parts and prices](how-to/parts-and-prices.md)).
On the board they are fields, and each bar is drawn with its pieces:

![Parts: money, what lies in the garage, the list with prices, bars with their pieces](pictures/board-parts.png)

## 14. In which order, until when

On Fennimoor most is done already:

{_commands(PLAN)}

{_printed(_head(plan), _block(plan, 1), _section(plan, "Can be begun now"))}

*Nights with the roof open* is a figure of its own. The timber frame and days off in a row shorten it most. Further down
stands the list before the cut: hard stops that are not met, and those that are met on numbers which nobody has
measured. **It is read on the evening before, and a list that says go is no permission.**

In your own file nothing is done yet. Say when you begin, and tick off the first task:

{_commands(WHEN, TICK)}

{_printed(_cut(ticked, 9))}

The rest is planned anew from there ([plan the work](how-to/plan-the-work.md)). On the board:

![Plan: the calendar, nights with the roof open, the list before the cut](pictures/board-plan.png)

## 15. Hand it over

When the shell is closed and sealed: first lift with the prop, readings, water from a hose, first fast road; a card for
service, one for the driver, a folder for the inspector, and fault finding by symptom. The driver's card:

{_commands(DRIVER)}

{_printed(_head(driver), _section(driver, "Driver's card"))}

[Hand over](how-to/hand-over.md) names the others, and [find what is wrong](how-to/troubleshooting.md) is for later.
`loftwright book` prints all of it as one book, or as single sheets with `--only`.

## Before you cut

A verdict aids judgement; it is no licence. Try hinges and springs on a timber frame first. Prop the shell whenever
anyone is under it. Ask an inspector or an engineer where you live before the roof is cut: crash strength, seat-belt
mounts, air bags, type approval and insurance may hang on it. What the program does not know:
[theory, section 20](theory.md#20-what-is-left-out); what has been checked: [validation](validation.md).
"""
