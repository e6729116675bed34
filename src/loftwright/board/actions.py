"""What every page can do to the open project: change, add, take out, undo, redo, take or keep after another program."""

from __future__ import annotations

from pathlib import Path

from loftwright.answers.board_home import change_words
from loftwright.answers.fields import changes_from
from loftwright.answers.grips import grips
from loftwright.answers.trial import trial
from loftwright.board.desk import Desk
from loftwright.board.said import OF_FILE, SEEN, Action, Form, Said, refused
from loftwright.core.errors import CannotAssemble, Fault, ProjectFault
from loftwright.project.typed import typed
from loftwright.project.written import WAS_FIELD, needs_seen, place_of, unlike

WHAT = "what"
"""The field of a form that says in words what it changes, for the undo button."""
JOIN = "join"
THEIRS = "theirs"
"""The field of the notice's form that says which version of another program it showed."""
ANY_FILE = ("open", "demo", "begin", "reading_add")
"""What can be done from a page of another file: opening one, and readings, which look at it themselves."""


def is_of_other_file(desk: Desk, name: str, form: Form) -> bool:
    """Whether a form comes from a page of another file than the open one, and must not change this one."""
    mark = form.get(OF_FILE, "")
    return bool(mark) and name not in ANY_FILE and (desk.history is None or mark != desk.history.mark)


def _plain(form: Form) -> dict[str, str]:
    return {name: text for name, text in form.items() if name not in (WHAT, JOIN, "back", OF_FILE, SEEN)}


def _seen(desk: Desk, form: Form) -> str | None:
    """Return the text of the file that a form showed, None where it does not say.

    Errors: ProjectFault where that version is forgotten.
    """
    stamp = form.get(SEEN, "")
    text = desk.open.text_of(stamp) if stamp else None
    if stamp and text is None:
        allowed = "what you changed in it cannot be told any more, and nothing was done"
        raise ProjectFault([Fault("The page", "of an older version of the file", allowed, "load it again")])
    return text


def require_as_seen(desk: Desk, form: Form, path: str) -> None:
    """Refuse what names a place of the file where something else stands by now than the form showed.

    Errors: ProjectFault.
    """
    seen = _seen(desk, form)
    if seen is not None and unlike(desk.open.text, seen, path):
        what = form.get(WHAT) or path
        allowed = "the file was changed after the page showed it, and nothing was done"
        raise ProjectFault([Fault(what, "not what it was", allowed, "look at the page again")])


async def change(desk: Desk, form: Form) -> Said:
    """Write the values of a form that differ from those of the file."""
    history, fields = desk.open, _plain(form)
    seen = _seen(desk, form) if needs_seen(fields) else None
    changes = changes_from(history.project, history.text, fields, seen)
    if not changes:
        return Said(True, "Nothing was changed.")
    what = form.get(WHAT) or change_words(list(changes))
    desk.change(changes, what, join=form.get(JOIN, ""))
    return Said(True, f"Saved: {what}.")


async def place(desk: Desk, form: Form) -> Said:
    """Write the place of a point that was typed; what cannot be put together then turns back, as when it is dragged."""
    history, fields = desk.open, _plain(form)
    for grip in grips(history.project):
        # The drawing shows places in its own words, not in those of the file.
        for path, text in ((grip.x_path, grip.x_text), (grip.z_path, grip.z_text)):
            was = f"{path}{WAS_FIELD}"
            if fields.get(was) == text:
                del fields[was]
    changes = changes_from(history.project, history.text, fields)
    if not changes:
        return Said(True, "Nothing was changed.")
    try:
        trial(history.tried(changes))
    except CannotAssemble as error:
        said = refused(error).said
        return Said(False, said, ((place_of(next(iter(changes))), said),))
    what = form.get(WHAT) or change_words(list(changes))
    desk.change(changes, what)
    return Said(True, f"Saved: {what}.")


async def add(desk: Desk, form: Form) -> Said:
    """Add an entry or a section with what it needs."""
    what = form.get(WHAT) or "an entry"
    entries = _plain(form)
    for path in entries:
        require_as_seen(desk, form, path)
    desk.change({path: typed(path, text) for path, text in entries.items()}, f"{what[0].lower()}{what[1:]}")
    return Said(True, f"Done: {what[0].lower()}{what[1:]}. Fill in what you know.")


async def remove(desk: Desk, form: Form) -> Said:
    """Take an entry out."""
    what = form.get(WHAT) or form["path"]
    require_as_seen(desk, form, form["path"])
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
    desk.take_theirs(form.get(THEIRS))
    return Said(True, f"Read again: {desk.open.path.name}. Undo brings yours back.")


async def mine(desk: Desk, form: Form) -> Said:
    """Write the project as it is on the board over what another program left."""
    desk.keep_mine(form.get(THEIRS))
    return Said(True, f"Written: {desk.open.path.name}. The other version is kept beside it.")


async def open_file(desk: Desk, form: Form) -> Said:
    """Open another project of the folder."""
    desk.take(Path(form["file"]))
    return Said(True, f"Opened: {desk.open.path.name}.", go="/")


ACTIONS: dict[str, Action] = {
    "change": change,
    "place": place,
    "add": add,
    "remove": remove,
    "undo": undo,
    "redo": redo,
    "theirs": theirs,
    "mine": mine,
    "open": open_file,
}
