"""Who is let in to the drawing board, and what every answer of it carries.

A page of any other site that is open in the same browser can send requests to this computer. So every request, on
this computer too, must know the token, must name this server as its host, and must not come from a page of another
origin. All of it holds for pages and for websockets, before anything else has seen the request.
"""

from __future__ import annotations

import asyncio
import hmac
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from loftwright.board.asked import Asked, Headers

MOST_BODY: Final = 1_000_000
"""A longer body of a request is refused [bytes]."""
MOST_MESSAGE: Final = 1_000_000
"""A longer message on a websocket ends it [bytes]."""
MOST_HEADERS: Final = 32_768
"""Longer addresses and headers of a request, together, are refused [bytes]. Other servers of this computer add their
cookies."""
WRONG_TOKEN_WAIT: Final = 0.2
"""Seconds before the answer to a wrong token."""
LOOPBACK: Final = "127.0.0.1"

CLOSED_BEFORE_OPEN, TOO_LONG = 4401, 1009
"""Codes that end a websocket: before it was open; for a message that is too long."""


@dataclass(frozen=True, slots=True)
class Entry:
    """The way in to one running board: its token, its port, and the address in the own network where it is shared."""

    token: str
    port: int
    lan: str | None = None

    @property
    def base(self) -> str:
        """The address on this computer without the token, without a slash at its end."""
        return f"http://{LOOPBACK}:{self.port}"

    @property
    def address(self) -> str:
        """The address on this computer with the token."""
        return f"{self.base}/?token={self.token}"

    @property
    def phone(self) -> str | None:
        """The address for other devices in the own network, with the token; None where it is not shared."""
        return None if self.lan is None else f"http://{self.lan}:{self.port}/?token={self.token}"

    @property
    def hosts(self) -> frozenset[str]:
        """What a request may name as its host."""
        names = (LOOPBACK, "localhost", "[::1]", *(() if self.lan is None else (self.lan,)))
        # Browsers leave the usual port out.
        ends = ("", ":80") if self.port == 80 else (f":{self.port}",)
        return frozenset(f"{name}{end}" for name in names for end in ends)

    @property
    def cookie(self) -> str:
        """The name of the cookie; browsers keep no cookies apart by port, so the port is in it."""
        return f"loftwright-{self.port}"


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a request is turned away: status, heading and a sentence on what to do."""

    status: int
    title: str
    do: str

    def page(self) -> bytes:
        """Return it as a short page."""
        text = (
            '<!doctype html>\n<html lang="en">\n<meta charset="utf-8">\n'
            '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
            f"<title>{self.title}</title>\n<h1>{self.title}</h1>\n<p>{self.do}</p>\n</html>\n"
        )
        return text.encode()


WRONG_HOST = Refusal(
    400, "This is not the address of the drawing board", "Open the address that the program printed, as it stands."
)
BAD_LENGTH = Refusal(400, "This request cannot be read", "Its length is no number. Load the page again.")
FOREIGN = Refusal(
    403,
    "Another page asked for this",
    "The drawing board answers only to its own pages. Open the address that the program printed.",
)
NO_TOKEN = Refusal(
    401,
    "The drawing board is locked",
    "Open the address that the program printed when it started; it ends in ?token= and letters and digits. "
    "When the terminal is gone, start loftwright board again.",
)
LONG_HEADERS = Refusal(431, "The address or the cookies are too long", "Delete the cookies of this address.")
TOO_LARGE = Refusal(413, "Too much at once", "More than 1 MB was sent. Nothing of it was taken.")


class Guard:
    """An ASGI application that stands around another and lets in who may come in.

    It covers pages and websockets and passes the start and the end of the server on; nothing else gets through.
    """

    def __init__(self, app: ASGIApp, entry: Entry) -> None:
        self.app = app
        self.entry = entry
        self._hosts = entry.hosts
        self._token = entry.token.encode()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request, one websocket, or the life of the server."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] in ("http", "websocket"):
            await self._let_in(scope, receive, send)

    async def _let_in(self, scope: Scope, receive: Receive, send: Send) -> None:
        asked = Asked.of(scope)
        marked = self._marked(asked, send)
        refusal = self._refusal(asked)
        if refusal is not None:
            await _refuse(refusal, asked, scope, marked)
        elif self._is_one(asked.tokens()) and asked.only_reads and not asked.is_socket:
            await self._go_on(asked, marked, cookie=True)
        elif not self._is_one(asked.cookies(self.entry.cookie)):
            if asked.tokens() or any(asked.cookies(self.entry.cookie)):
                await asyncio.sleep(WRONG_TOKEN_WAIT)
            await _refuse(NO_TOKEN, asked, scope, marked)
        elif asked.is_socket:
            await self._socket(scope, receive, send)
        elif asked.tokens() and asked.only_reads:
            await self._go_on(asked, marked, cookie=False)
        else:
            await self._request(asked, scope, receive, marked)

    # --- who may come in -----------------------------------------------------------------------------

    def _refusal(self, asked: Asked) -> Refusal | None:
        if len(asked.head) > MOST_HEADERS:
            return LONG_HEADERS
        host = asked.one(b"host")
        if host is None or host.lower() not in self._hosts:
            return WRONG_HOST
        own = f"http://{host.lower()}"
        origins = [origin.lower() for origin in asked.all(b"origin")]
        if any(origin != own for origin in origins):
            return FOREIGN
        site = asked.one(b"sec-fetch-site")
        if not (asked.only_reads and not asked.is_socket):
            # Browsers name the origin here; who does not is no page of ours.
            return None if origins or (site == "same-origin" and not asked.is_socket) else FOREIGN
        if site in (None, "same-origin", "none"):
            return None
        # A link somewhere else may lead here, but no other page may load this as a picture, a script or a frame.
        opened = asked.one(b"sec-fetch-mode") == "navigate" and asked.one(b"sec-fetch-dest") == "document"
        return None if opened else FOREIGN

    def _is_one(self, tokens: Iterator[str] | list[str]) -> bool:
        """Return whether the token is among some, in a time that does not tell how near they come."""
        found = [hmac.compare_digest(token.encode(), self._token) for token in tokens]
        return any(found)

    async def _go_on(self, asked: Asked, send: Send, *, cookie: bool) -> None:
        """Lead to the same page without the token in its address."""
        host = asked.one(b"host") or ""
        # The host stands in it: a path that starts with two slashes would lead elsewhere.
        headers: Headers = [(b"location", f"http://{host}{asked.without_token()}".encode("latin-1"))]
        if cookie:
            crumb = f"{self.entry.cookie}={self.entry.token}; HttpOnly; Path=/; SameSite=Lax"
            headers.append((b"set-cookie", crumb.encode()))
        await _answer(303, headers, b"", send)

    # --- how much may come in ------------------------------------------------------------------------

    async def _request(self, asked: Asked, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on once its body is there; it is counted as it comes in."""
        length = asked.one(b"content-length") or "0"
        if not length.isdecimal():
            return await _refuse(BAD_LENGTH, asked, scope, send)
        if int(length[:20]) > MOST_BODY:
            return await _refuse(TOO_LARGE, asked, scope, send)
        body = bytearray()
        more = True
        while more:
            message = await receive()
            if message["type"] != "http.request":
                return None
            body.extend(message.get("body", b""))
            if len(body) > MOST_BODY:
                return await _refuse(TOO_LARGE, asked, scope, send)
            more = message.get("more_body", False)
        whole: list[Message] = [{"type": "http.request", "body": bytes(body), "more_body": False}]

        async def given() -> Message:
            return whole.pop() if whole else await receive()

        return await self.app(scope, given, send)

    async def _socket(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a websocket on; one message that is too long ends it."""
        ended = asyncio.Event()

        async def counted() -> Message:
            message = await receive()
            if message["type"] == "websocket.receive" and _size(message) > MOST_MESSAGE:
                ended.set()
                await send({"type": "websocket.close", "code": TOO_LONG, "reason": "The message is too long."})
                return {"type": "websocket.disconnect", "code": TOO_LONG, "reason": "The message is too long."}
            return message

        async def sent(message: Message) -> None:
            if not ended.is_set():
                await send(message)

        await self.app(scope, counted, sent)

    # --- what every answer carries -------------------------------------------------------------------

    def _marked(self, asked: Asked, send: Send) -> Send:
        """Return `send` with our headers on every answer, in place of those of the same name."""

        async def marked(message: Message) -> None:
            if message["type"] in ("http.response.start", "websocket.http.response.start"):
                ours = self._headers(asked, message["status"])
                names = {name for name, _ in ours}
                kept = [(name, value) for name, value in message.get("headers", ()) if name.lower() not in names]
                message = {**message, "headers": [*kept, *ours]}
            await send(message)

        return marked

    def _headers(self, asked: Asked, status: int) -> Headers:
        host = (asked.one(b"host") or "").lower()
        live = f" ws://{host}" if host in self._hosts else ""
        versioned = asked.is_versioned_file() if status in (200, 206, 304) else None
        keep = {None: "no-store", False: "private, no-cache", True: "private, max-age=31536000, immutable"}[versioned]
        headers = {**HEADERS, "Content-Security-Policy": POLICY.format(live=live), "Cache-Control": keep}
        return [(name.lower().encode(), value.encode()) for name, value in headers.items()]


POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'{live}; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
"""What a page may load and ask. Some browsers do not count websockets of the same origin as 'self'."""

HEADERS: Final = {
    "X-Content-Type-Options": "nosniff",
    # Nothing goes to other sites. With "no-referrer" a form of our own pages would be sent without its origin.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Frame-Options": "DENY",
    "Permissions-Policy": "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()",
}


def _size(message: Message) -> int:
    """Return the size of a message of a websocket [bytes]."""
    text = message.get("text")
    return len(message.get("bytes") or b"") if text is None else len(text.encode("utf-8", "surrogatepass"))


async def _refuse(refusal: Refusal, asked: Asked, scope: Scope, send: Send) -> None:
    """Turn a request away; a websocket before it is open."""
    if asked.is_socket and "websocket.http.response" not in (scope.get("extensions") or {}):
        await send({"type": "websocket.close", "code": CLOSED_BEFORE_OPEN})
        return
    headers: Headers = [(b"content-type", b"text/html; charset=utf-8")]
    await _answer(refusal.status, headers, refusal.page(), send, "websocket.http" if asked.is_socket else "http")


async def _answer(status: int, headers: Headers, body: bytes, send: Send, kind: str = "http") -> None:
    length = (b"content-length", str(len(body)).encode())
    await send({"type": f"{kind}.response.start", "status": status, "headers": [*headers, length]})
    await send({"type": f"{kind}.response.body", "body": body, "more_body": False})
