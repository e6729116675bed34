"""What every page can do to the open project: change, add, take out, undo, redo, take or keep after another program."""

from __future__ import annotations

from pathlib import Path

from loftwright.answers.board_home import change_words
from loftwright.answers.fields import changes_from
from loftwright.board.desk import Desk
from loftwright.board.said import Action, Form, Said
from loftwright.project.typed import typed

WHAT = "what"
"""The field of a form that says in words what it changes, for the undo button."""
JOIN = "join"


def _plain(form: Form) -> dict[str, str]:
    return {name: text for name, text in form.items() if name not in (WHAT, JOIN, "back")}


async def change(desk: Desk, form: Form) -> Said:
    """Write the values of a form that differ from those of the file."""
    history = desk.open
    changes = changes_from(history.project, history.text, _plain(form))
    if not changes:
        return Said(True, "Nothing was changed.")
    what = form.get(WHAT) or change_words(list(changes))
    desk.change(changes, what, join=form.get(JOIN, ""))
    return Said(True, f"Saved: {what}.")


async def add(desk: Desk, form: Form) -> Said:
    """Add an entry or a section with what it needs."""
    what = form.get(WHAT, "an entry")
    desk.change({path: typed(path, text) for path, text in _plain(form).items()}, f"{what[0].lower()}{what[1:]}")
    return Said(True, f"Done: {what[0].lower()}{what[1:]}. Fill in what you know.")


async def remove(desk: Desk, form: Form) -> Said:
    """Take an entry out."""
    what = form.get(WHAT) or form["path"]
    desk.remove(form["path"], f"{what} taken out")
    return Said(True, f"Taken out: {what}. Undo brings it back.")


async def undo(desk: Desk, form: Form) -> Said:
    """Go back before the last change."""
    what = desk.open.undoable
    desk.undo()
    return Said(True, f"Undone: {what}.")


async def redo(desk: Desk, form: Form) -> Said:
    """Make the last undone change again."""
    what = desk.open.redoable
    desk.redo()
    return Said(True, f"Done again: {what}.")


async def theirs(desk: Desk, form: Form) -> Said:
    """Take the file as another program left it."""
    desk.take_theirs()
    return Said(True, f"Read again: {desk.open.path.name}. Undo brings yours back.")


async def mine(desk: Desk, form: Form) -> Said:
    """Write the project as it is on the board over what another program left."""
    desk.keep_mine()
    return Said(True, f"Written: {desk.open.path.name}. The other version is kept beside it.")


async def open_file(desk: Desk, form: Form) -> Said:
    """Open another project of the folder."""
    desk.take(Path(form["file"]))
    return Said(True, f"Opened: {desk.open.path.name}.", go="/")


ACTIONS: dict[str, Action] = {
    "change": change,
    "add": add,
    "remove": remove,
    "undo": undo,
    "redo": redo,
    "theirs": theirs,
    "mine": mine,
    "open": open_file,
}
