"""The server of the drawing board: where it listens, how it runs, how it ends."""

from __future__ import annotations

import contextlib
import errno
import ipaddress
import logging
import secrets
import signal
import socket
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from typing import Final

import uvicorn
from starlette.types import ASGIApp

from loftwright.board.guard import LOOPBACK, MOST_HEADERS, MOST_MESSAGE, Entry, Guard
from loftwright.core.errors import Fault, ProjectFault

DEFAULT_PORT: Final = 8719
TRIES: Final = 21
"""Ports that are tried when none is named: the usual one and the next twenty."""
HIGHEST_PORT: Final = 65535
BACKLOG: Final = 128
MOST_CONNECTIONS: Final = 200
"""Connections at the same time; each tab holds one for as long as it is open, and a few for a moment."""
GRACE: Final = 1
"""Seconds that open tabs are given when the server ends."""
SOME_OTHER_NETWORK: Final = "192.0.2.1"
"""An address that is kept for examples and belongs to nobody."""

_BUSY: Final = (errno.EADDRINUSE, getattr(errno, "WSAEADDRINUSE", errno.EADDRINUSE))


def lan_address() -> str:
    """Return this computer's address in its own network; nothing is sent to find it. Errors: ProjectFault."""
    found = _outgoing() or _named()
    do = "join your own network (Wi-Fi or cable), or leave --phone out"
    if found is None:
        raise ProjectFault([Fault("The network of this computer", "not there", "a phone needs one to come in by", do)])
    if ipaddress.ip_address(found).is_global:
        given = f"{found}, which the whole internet can reach"
        raise ProjectFault([Fault("The address of this computer", given, "the board is for your own network", do)])
    return found


def _outgoing() -> str | None:
    """Return the address from which this computer would send elsewhere; a datagram socket sends nothing to connect."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect((SOME_OTHER_NETWORK, 9))
        except OSError:
            return None
        return _usable(probe.getsockname()[0])


def _named() -> str | None:
    """Return the address that this computer knows for its own name."""
    try:
        return _usable(socket.gethostbyname(socket.gethostname()))
    except OSError:
        return None


def _usable(address: str) -> str | None:
    found = ipaddress.ip_address(address)
    return None if found.is_loopback or found.is_unspecified else address


def listen(port: int | None = None, lan: str | None = None) -> tuple[socket.socket, ...]:
    """Return sockets that listen on this computer and, with `lan`, on that address, on the same port.

    Without `port` the usual one or the next that is free; 0 takes any. Errors: ProjectFault.
    """
    hosts = (LOOPBACK,) if lan is None else (LOOPBACK, lan)
    if port is not None:
        try:
            return _bound(hosts, port)
        except OSError as error:
            raise ProjectFault([_refused(port, error)]) from None
    for tried in range(DEFAULT_PORT, DEFAULT_PORT + TRIES):
        try:
            return _bound(hosts, tried)
        except OSError as error:
            if error.errno not in _BUSY:
                raise ProjectFault([_refused(tried, error)]) from None
    do = "end what listens there, or name another with --port"
    raise ProjectFault(
        [Fault(f"Every port from {DEFAULT_PORT} to {DEFAULT_PORT + TRIES - 1}", "taken", "the board needs one", do)]
    )


def port_of(sockets: Sequence[socket.socket]) -> int:
    """Return the port on which sockets listen."""
    port: int = sockets[0].getsockname()[1]
    return port


def _bound(hosts: Sequence[str], port: int) -> tuple[socket.socket, ...]:
    with contextlib.ExitStack() as stack:
        made: list[socket.socket] = []
        for host in hosts:
            # With the protocol named, small answers are sent at once; else each waits some 40 ms for the one before.
            one = stack.enter_context(socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP))
            # Elsewhere this lets a port be taken again at once; on Windows it would let others take it away.
            if sys.platform == "win32":
                one.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
            else:
                one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            one.bind((host, port_of(made) if made else port))
            one.listen(BACKLOG)
            made.append(one)
        stack.pop_all()
        return tuple(made)


def _refused(port: int, error: OSError) -> Fault:
    if error.errno in _BUSY:
        do = "choose another, or leave --port out and a free one is found"
        return Fault(f"Port {port}", "taken", "another program listens there", do)
    if error.errno == errno.EACCES:
        return Fault(f"Port {port}", "kept by the system", "ports from 1024 on are for everybody", "choose one of them")
    why = (error.strerror or "unknown error").casefold()
    return Fault(f"Port {port}", f"not to be had ({why})", "the board must listen somewhere", "choose another")


class _Server(uvicorn.Server):
    """A server that says when it listens."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self._ready()


def _server(app: ASGIApp, entry: Entry, ready: Callable[[], None]) -> _Server:
    config = uvicorn.Config(
        Guard(app, entry),
        # Our own sockets are handed over; nothing is listened to by name.
        host=LOOPBACK,
        port=entry.port,
        loop="asyncio",
        http="h11",
        h11_max_incomplete_event_size=MOST_HEADERS,
        ws="websockets-sansio",
        ws_max_size=MOST_MESSAGE,
        ws_per_message_deflate=False,
        log_config=None,
        log_level="error",
        access_log=False,
        proxy_headers=False,
        server_header=False,
        workers=1,
        limit_concurrency=MOST_CONNECTIONS,
        timeout_keep_alive=30,
        timeout_graceful_shutdown=GRACE,
    )
    logging.getLogger("uvicorn.error").addFilter(_is_news)
    return _Server(config, ready)


def _is_news(record: logging.LogRecord) -> bool:
    """Leave out what is no fault: a websocket that the guard refused, and tabs that were open at the end."""
    return not str(record.msg).startswith(("ASGI callable returned without", "Cancel %s running"))


def serve(
    app: ASGIApp, entry: Entry, sockets: Sequence[socket.socket], *, ready: Callable[[], None] = lambda: None
) -> None:
    """Serve an application behind the guard until it is stopped from the keyboard.

    `ready` is called once it listens. Raises KeyboardInterrupt when Ctrl-C has ended it in order.
    """
    with contextlib.ExitStack() as stack:
        for one in sockets:
            stack.enter_context(one)
        server = _server(app, entry, ready)
        stack.enter_context(_ended_with_the_terminal(server))
        server.run(list(sockets))


@contextlib.contextmanager
def _ended_with_the_terminal(server: uvicorn.Server) -> Iterator[None]:
    """Let the server end in order when its terminal is closed, so that its processes end too."""
    hang_up = getattr(signal, "SIGHUP", None)
    if hang_up is None or signal.getsignal(hang_up) is not signal.SIG_DFL:
        yield
        return
    signal.signal(hang_up, server.handle_exit)
    try:
        yield
    finally:
        signal.signal(hang_up, signal.SIG_DFL)


@contextlib.contextmanager
def running(build: Callable[[Entry], ASGIApp], *, token: str | None = None, lan: str | None = None) -> Iterator[Entry]:
    """Run an application behind the guard in a thread, on a port that is free, and yield the way in to it.

    `yielded.address` is the address with the token. Meant for tests and for measuring.
    """
    sockets = listen(0, lan)
    entry = Entry(secrets.token_hex(16) if token is None else token, port_of(sockets), lan)
    ready = threading.Event()
    server = _server(build(entry), entry, ready.set)
    thread = threading.Thread(target=server.run, args=(list(sockets),), daemon=True)
    thread.start()
    try:
        if not ready.wait(20):
            raise TimeoutError("the server has not started")
        yield entry
    finally:
        server.should_exit = True
        thread.join(20)
        for one in sockets:
            one.close()
