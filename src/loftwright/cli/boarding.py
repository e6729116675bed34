"""The command that opens the drawing board in the browser."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from loftwright.cli import talk
from loftwright.cli.options import FileToRead
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.writing import fit_to_write

if TYPE_CHECKING:
    from loftwright.board.guard import Entry

STOPPED = 130
"""Exit code after Ctrl-C."""


def add_to(app: typer.Typer) -> None:
    """Add this command to the program."""
    app.command(epilog=BOARD_EXAMPLES)(board)


BOARD_EXAMPLES = """\b
Examples:
  loftwright board my-roof.toml
  loftwright board                         (the project files of this folder)
  loftwright board --demo fennimoor
  loftwright board my-roof.toml --phone    (also for a phone in your own network)

A FILE that is not there yet begins with a few questions. Only this computer can reach the board, and only with
the address that is printed; with --phone, whoever has the other address can, within your network."""


def board(
    file: FileToRead = None,
    demo: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="Put a demo into this folder and open it: fennimoor, ottergate, quellmere or larkenmoor.",
            show_default=False,
        ),
    ] = None,
    port: Annotated[
        int | None,
        typer.Option(metavar="N", help="Where to listen; 0 takes any.", show_default="8719, or the next that is free"),
    ] = None,
    phone: Annotated[
        bool, typer.Option("--phone", help="Let a phone in your own network in too, by an address and a QR code.")
    ] = False,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Print the address, open no browser.")] = False,
    new_token: Annotated[
        bool, typer.Option("--new-token", help="Make addresses anew; all that were printed before open nothing.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print the addresses as one line of JSON.")] = False,
) -> None:
    """Open the drawing board in the browser: move things and see at once what becomes of the roof.

    Every change is written into the file at once. Ctrl-C ends the board.
    """
    if port is not None:
        from loftwright.board.serve import HIGHEST_PORT

        if not 0 <= port <= HIGHEST_PORT:
            do = "leave --port out and a free one is found"
            raise ProjectFault([Fault("The port", str(port), f"0 to {HIGHEST_PORT}", do)])
    folder, path = _place(file, demo)
    lan = None
    if phone:
        from loftwright.board.serve import lan_address

        lan = lan_address()

    from loftwright.board.app import build
    from loftwright.board.desk import Desk
    from loftwright.board.guard import Entry
    from loftwright.board.serve import DEFAULT_PORT, listen, port_of, serve

    sockets = listen(port, lan)
    try:
        found = port_of(sockets)
        entry = Entry(_token(folder, found, new=new_token), found, lan)
        if port is None and found != DEFAULT_PORT:
            talk.note(f"Port {DEFAULT_PORT} is taken; this is {found}.")

        def ready() -> None:
            _say(entry, path, as_json=as_json)
            if not no_browser and sys.stdout is not None and sys.stdout.isatty():
                _open_browser(entry.address)

        serve(build(Desk(folder, path)), entry, sockets, ready=ready)
    except KeyboardInterrupt:
        talk.note("\nStopped.")
        raise typer.Exit(STOPPED) from None
    finally:
        for one in sockets:
            one.close()


def _place(file: Path | None, demo: str | None) -> tuple[Path, Path | None]:
    """Return the project's folder and the file to open or to make; None where the board shows what is there.

    What cannot be opened is refused here, before anything is started. Errors: ProjectFault.
    """
    if file is not None and demo is not None:
        do = "leave one of them out"
        raise ProjectFault([Fault("The project", "named twice", "name one file, or one demo with --demo", do)])
    if file is None and demo is None:
        return Path.cwd(), None
    if file is not None and file.is_dir():
        return file, None
    from loftwright.project.file import read, write_new

    if demo is not None:
        from loftwright.project.newfile import from_demo

        text = from_demo(demo)
        file = Path(f"{demo}.toml")
        if not file.exists():
            write_new(file, text)
            talk.note(f"Written: {file}")
    assert file is not None
    if file.exists():
        read(file)
    else:
        fit_to_write([file])
    return file.resolve().parent, file.resolve()


def _token(folder: Path, port: int, *, new: bool) -> str:
    """Return the token of this board; where no secret can be kept, one that ends with it, and say so."""
    from loftwright.board import secret

    place = secret.state_folder()
    kept = secret.secret(place, new=new)
    if kept is None:
        talk.note(f"The address below opens this run only: nothing can be kept in {place}.")
        kept = secret.passing()
    return secret.token(kept, folder, port)


def _say(entry: Entry, path: Path | None, *, as_json: bool) -> None:
    """Print the ways in; on standard output the address alone."""
    if as_json:
        said = {"address": entry.address, "phone": entry.phone, "file": None if path is None else str(path)}
        talk.answer(f"{json.dumps(said, ensure_ascii=False)}\n")
    else:
        talk.answer(f"{entry.address}\n")
    if entry.phone is not None:
        _say_phone(entry.phone)
    what = "this folder" if path is None else path.name if path.exists() else f"{path.name}, which is made there"
    talk.note(f"The drawing board of {what} is at this address. Ctrl-C ends it.")


def _say_phone(address: str) -> None:
    """Print the address for a phone, its code, and what it means to share it."""
    talk.note(f"For a phone in the same network: {address}")
    if sys.stderr is not None and sys.stderr.isatty():
        from loftwright.board.qr import terminal

        talk.note(terminal(address, colour=not _plain()).rstrip("\n"))
    talk.note(
        "Anyone in this network who has this address can change the project. What is sent is not encrypted: use your "
        "own network. When the phone finds nothing, a firewall on this computer keeps it out."
    )


def _plain() -> bool:
    return bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"


def _open_browser(address: str) -> None:
    """Open the address in the browser of the desktop, where there is one; the board does not wait for it."""
    import threading
    import webbrowser

    try:
        browser = webbrowser.get()
    except webbrowser.Error:
        return
    # One that runs in the terminal would take it over.
    if getattr(browser, "basename", "") not in IN_TERMINAL:
        threading.Thread(target=browser.open, args=(address,), daemon=True).start()


IN_TERMINAL = ("www-browser", "links", "elinks", "lynx", "w3m")
