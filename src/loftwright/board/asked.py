"""What the guard reads of a request: who asks, from where, for what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from starlette.types import Scope

Headers = list[tuple[bytes, bytes]]


@dataclass(frozen=True, slots=True)
class Asked:
    """One request, as it is judged before anybody else sees it."""

    method: str
    path: bytes
    query: bytes
    headers: Headers
    is_socket: bool

    @classmethod
    def of(cls, scope: Scope) -> Asked:
        """Return what a request asks."""
        path = scope.get("raw_path") or scope["path"].encode("utf-8")
        headers = [(bytes(name).lower(), bytes(value)) for name, value in scope["headers"]]
        is_socket = scope["type"] == "websocket"
        return cls("GET" if is_socket else scope["method"], path, scope.get("query_string", b""), headers, is_socket)

    def all(self, name: bytes) -> list[str]:
        """Return every value of a header."""
        return [value.decode("latin-1").strip() for key, value in self.headers if key == name]

    def one(self, name: bytes) -> str | None:
        """Return the value of a header, None where it is missing or stands there twice."""
        found = self.all(name)
        return found[0] if len(found) == 1 else None

    @property
    def head(self) -> bytes:
        """Address and headers, to be counted."""
        return b"".join([self.path, self.query, *(part for pair in self.headers for part in pair)])

    @property
    def only_reads(self) -> bool:
        """Whether the method changes nothing."""
        return self.method in ("GET", "HEAD")

    def cookies(self, name: str) -> Iterator[str]:
        """Yield every value of a cookie; servers of other ports may have set others beside it."""
        for line in self.all(b"cookie"):
            for pair in line.split(";"):
                key, _, value = pair.strip().partition("=")
                if key == name:
                    yield value

    def tokens(self) -> list[str]:
        """Return the tokens in the address."""
        return [pair[6:].decode("latin-1") for pair in self.query.split(b"&") if pair.startswith(b"token=")]

    def without_token(self) -> str:
        """Return path and query without the token."""
        rest = b"&".join(pair for pair in self.query.split(b"&") if pair and not pair.startswith(b"token="))
        return b"?".join([self.path, rest] if rest else [self.path]).decode("latin-1")

    def is_versioned_file(self) -> bool | None:
        """Return whether the address of a file of the board names its version; None for a page."""
        if not self.path.startswith(b"/static/"):
            return None
        return any(pair.startswith(b"v=") and pair != b"v=" for pair in self.query.split(b"&"))
