"""The guard alone: each of its rules on both sides of its limit, for pages and for websockets.

Exact constructed cases, handed over as a server hands requests over.
"""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any

import pytest
from starlette.types import Message, Receive, Scope, Send

from loftwright.board import guard as guarding
from loftwright.board.guard import MOST_BODY, MOST_HEADERS, MOST_MESSAGE, Entry, Guard

PORT = 8719
TOKEN = "0123456789abcdef0123456789abcdef"
HOST = f"127.0.0.1:{PORT}"
OWN = f"http://{HOST}"
ENTRY = Entry(TOKEN, PORT)
SHARED = Entry(TOKEN, PORT, "192.168.4.20")
COOKIE = f"loftwright-{PORT}={TOKEN}"
KNOWN = {"host": HOST, "cookie": COOKIE}
ELSEWHERE = "http://example.org"


@pytest.fixture(autouse=True)
def _no_waiting(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guarding, "WRONG_TOKEN_WAIT", 0)


@dataclass
class Room:
    """An application that notes what reaches it."""

    paths: list[str] = field(default_factory=list)
    bodies: list[bytes] = field(default_factory=list)
    headers: list[tuple[bytes, bytes]] = field(default_factory=list)
    messages: list[Message] = field(default_factory=list)
    lives: int = 0
    status: int = 200

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            self.lives += 1
            return
        self.paths.append(scope["path"])
        if scope["type"] == "websocket":
            while (message := await receive())["type"] != "websocket.disconnect":
                self.messages.append(message)
                await send({"type": "websocket.accept" if len(self.messages) == 1 else "websocket.send"})
            await send({"type": "websocket.send", "text": "too late"})
            return
        body, more = b"", True
        while more:
            message = await receive()
            body += message["body"]
            more = message["more_body"]
        self.bodies.append(body)
        await send({"type": "http.response.start", "status": self.status, "headers": self.headers})
        await send({"type": "http.response.body", "body": b"what only we may read"})


@dataclass
class Answer:
    """What came back."""

    sent: list[Message]
    read: int

    @property
    def status(self) -> int:
        return int(self.sent[0].get("status", 0))

    @property
    def body(self) -> bytes:
        return b"".join(message.get("body", b"") for message in self.sent)

    def header(self, name: str) -> str | None:
        found = [value for key, value in self.sent[0]["headers"] if key.lower() == name.lower().encode()]
        assert len(found) <= 1, name
        return found[0].decode() if found else None


def call(room: Any, entry: Entry, scope: Scope, messages: list[Message]) -> Answer:
    sent: list[Message] = []
    read = 0

    async def receive() -> Message:
        nonlocal read
        read += 1
        return messages[read - 1]

    async def send(message: Message) -> None:
        sent.append(message)

    # In a thread of its own: while a browser is open, this one has a loop already.
    with ThreadPoolExecutor(1) as pool:
        pool.submit(lambda: asyncio.run(Guard(room, entry)(scope, receive, send))).result()
    return Answer(sent, read)


Pairs = dict[str, str] | list[tuple[str, str]]


def raw(headers: Pairs) -> list[tuple[bytes, bytes]]:
    pairs = headers.items() if isinstance(headers, dict) else headers
    return [(name.encode(), value.encode("latin-1")) for name, value in pairs]


def ask(
    room: Room,
    headers: Pairs,
    path: str = "/",
    *,
    method: str = "GET",
    entry: Entry = ENTRY,
    chunks: tuple[bytes, ...] = (b"",),
) -> Answer:
    path, _, query = path.partition("?")
    scope = {"type": "http", "method": method, "path": path, "raw_path": path.encode(), "query_string": query.encode()}
    messages: list[Message] = [
        {"type": "http.request", "body": chunk, "more_body": number < len(chunks)}
        for number, chunk in enumerate(chunks, 1)
    ]
    return call(room, entry, {**scope, "headers": raw(headers)}, messages)


def connect(
    room: Room, headers: Pairs, *texts: str | bytes, denial: bool = True, entry: Entry = ENTRY, path: str = "/live"
) -> Answer:
    path, _, query = path.partition("?")
    scope = {"type": "websocket", "path": path, "raw_path": path.encode(), "query_string": query.encode()}
    extensions = {"websocket.http.response": {}} if denial else {}
    messages: list[Message] = [
        {"type": "websocket.connect"},
        *(
            {"type": "websocket.receive", "text": text}
            if isinstance(text, str)
            else {"type": "websocket.receive", "bytes": text}
            for text in texts
        ),
        {"type": "websocket.disconnect", "code": 1000},
    ]
    return call(room, entry, {**scope, "headers": raw(headers), "extensions": extensions}, messages)


# --- the token -------------------------------------------------------------------------------------


def test_the_cookie_lets_in() -> None:
    room = Room()
    assert ask(room, KNOWN).body == b"what only we may read"
    assert room.paths == ["/"]


@pytest.mark.parametrize(
    "cookie",
    [
        None,
        "",
        f"loftwright-{PORT}=",
        f"loftwright-{PORT}={TOKEN[:-1]}",
        f"loftwright-{PORT}={TOKEN}0",
        f"loftwright-{PORT}={TOKEN.upper()}",
        f"loftwright-{PORT}=ä",
        f"loftwright-8720={TOKEN}",
        f"token={TOKEN}",
    ],
)
def test_no_or_another_token_is_turned_away_with_a_page_that_says_what_to_do(cookie: str | None) -> None:
    room = Room()
    answer = ask(room, {"host": HOST} if cookie is None else {"host": HOST, "cookie": cookie})
    assert answer.status == 401
    assert room.paths == []
    assert b"Open the address that the program printed" in answer.body
    assert TOKEN.encode() not in answer.body


@pytest.mark.parametrize("method", ["HEAD", "POST", "PUT", "DELETE", "OPTIONS"])
def test_no_method_is_excepted_from_the_token(method: str) -> None:
    room = Room()
    assert ask(room, {"host": HOST, "origin": OWN}, method=method).status == 401
    assert room.paths == []


def test_static_files_are_not_excepted_from_the_token() -> None:
    room = Room()
    assert ask(room, {"host": HOST}, "/static/base.css?v=1").status == 401
    assert room.paths == []


def test_a_wrong_token_is_answered_after_a_while(monkeypatch: pytest.MonkeyPatch) -> None:
    waited = []

    async def sleep(seconds: float) -> None:
        waited.append(seconds)

    monkeypatch.setattr(guarding, "WRONG_TOKEN_WAIT", 0.2)
    monkeypatch.setattr(guarding.asyncio, "sleep", sleep)
    ask(Room(), {"host": HOST})
    assert waited == []
    ask(Room(), {"host": HOST}, "/?token=wrong")
    ask(Room(), {"host": HOST, "cookie": f"loftwright-{PORT}=wrong"})
    assert waited == [0.2, 0.2]


def test_the_cookie_is_found_among_those_of_other_servers() -> None:
    room = Room()
    others = f'a="x;y"; loftwright-{PORT}=stale; broken; {COOKIE}; loftwright-1=0'
    assert ask(room, {"host": HOST, "cookie": others}).status == 200
    assert ask(room, [("host", HOST), ("cookie", "a=1"), ("cookie", COOKIE)]).status == 200


def test_the_first_visit_sets_the_cookie_and_goes_on_without_the_token() -> None:
    room = Room()
    answer = ask(room, {"host": HOST}, f"/lifting?token={TOKEN}&at=0.5")
    assert answer.status == 303
    assert answer.header("location") == f"{OWN}/lifting?at=0.5"
    assert answer.header("set-cookie") == f"{COOKIE}; HttpOnly; Path=/; SameSite=Lax"
    assert room.paths == []


def test_a_stale_token_in_the_address_goes_on_by_the_cookie() -> None:
    answer = ask(Room(), KNOWN, "/?token=stale")
    assert (answer.status, answer.header("location"), answer.header("set-cookie")) == (303, f"{OWN}/", None)


def test_a_path_with_two_slashes_leads_nowhere_else() -> None:
    answer = ask(Room(), KNOWN, "//example.org/?token=x")
    assert answer.header("location") == f"{OWN}//example.org/"


def test_a_token_in_the_address_does_not_let_a_change_in() -> None:
    room = Room()
    answer = ask(room, {"host": HOST, "origin": OWN}, f"/do/change?token={TOKEN}", method="POST")
    assert answer.status == 401
    assert room.paths == []


# --- the host --------------------------------------------------------------------------------------


@pytest.mark.parametrize("host", [HOST, f"localhost:{PORT}", f"LocalHost:{PORT}", f"[::1]:{PORT}"])
def test_own_hosts_are_served(host: str) -> None:
    assert ask(Room(), {"host": host, "cookie": COOKIE}).status == 200


WRONG_HOSTS = [
    {},
    {"host": ""},
    {"host": "127.0.0.1"},
    {"host": "localhost"},
    {"host": "127.0.0.1:8720"},
    {"host": f"example.org:{PORT}"},
    {"host": f"127.0.0.1.example.org:{PORT}"},
    {"host": f"192.168.4.20:{PORT}"},
    {"host": f"0.0.0.0:{PORT}"},
    {"host": f"{HOST}@example.org"},
]


@pytest.mark.parametrize("host", WRONG_HOSTS, ids=str)
def test_other_hosts_are_refused_even_with_the_token(host: dict[str, str]) -> None:
    room = Room()
    assert ask(room, {**host, "cookie": COOKIE}).status == 400
    assert connect(room, {**host, "cookie": COOKIE, "origin": OWN}).status == 400
    assert room.paths == []


def test_a_host_that_is_named_twice_is_refused() -> None:
    assert ask(Room(), [("host", HOST), ("host", HOST), ("cookie", COOKIE)]).status == 400


def test_the_phone_s_address_is_a_host_only_where_it_is_shared() -> None:
    phone = {"host": f"192.168.4.20:{PORT}", "cookie": COOKIE}
    assert ask(Room(), phone).status == 400
    assert ask(Room(), phone, entry=SHARED).status == 200
    assert ask(Room(), KNOWN, entry=SHARED).status == 200
    assert ask(Room(), {**phone, "host": f"192.168.4.21:{PORT}"}, entry=SHARED).status == 400


def test_the_usual_port_may_be_left_out() -> None:
    entry = Entry(TOKEN, 80)
    assert ask(Room(), {"host": "127.0.0.1", "cookie": f"loftwright-80={TOKEN}"}, entry=entry).status == 200


# --- the origin ------------------------------------------------------------------------------------

FOREIGN = [
    "null",
    "",
    ELSEWHERE,
    "http://127.0.0.1:8720",
    "http://127.0.0.1",
    f"https://{HOST}",
    f"http://localhost:{PORT}",
]


@pytest.mark.parametrize("origin", FOREIGN)
@pytest.mark.parametrize("method", ["GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS"])
def test_a_foreign_origin_is_refused_on_any_request(origin: str, method: str) -> None:
    room = Room()
    headers = {**KNOWN, "origin": origin, "sec-fetch-site": "same-origin"}
    assert ask(room, headers, method=method).status == 403
    assert room.paths == []


@pytest.mark.parametrize("origin", FOREIGN)
def test_a_foreign_origin_gets_no_websocket(origin: str) -> None:
    room = Room()
    assert connect(room, {**KNOWN, "origin": origin}).status == 403
    assert room.paths == []


def test_one_foreign_origin_beside_the_own_is_refused() -> None:
    assert ask(Room(), [*KNOWN.items(), ("origin", OWN), ("origin", ELSEWHERE)]).status == 403


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS"])
def test_a_change_must_say_where_it_comes_from(method: str) -> None:
    room = Room()
    assert ask(room, KNOWN, method=method).status == 403
    assert ask(room, {**KNOWN, "sec-fetch-site": "none"}, method=method).status == 403
    assert ask(room, {**KNOWN, "sec-fetch-site": "same-site"}, method=method).status == 403
    assert room.paths == []
    assert ask(room, {**KNOWN, "origin": OWN}, method=method).status == 200
    assert ask(room, {**KNOWN, "sec-fetch-site": "same-origin"}, method=method).status == 200


def test_a_websocket_must_name_its_origin() -> None:
    room = Room()
    assert connect(room, KNOWN).status == 403
    assert connect(room, {**KNOWN, "sec-fetch-site": "same-origin"}).status == 403
    assert room.paths == []
    assert connect(room, {**KNOWN, "origin": OWN}).sent[0]["type"] == "websocket.accept"


@pytest.mark.parametrize("site", ["cross-site", "same-site", "unheard-of"])
@pytest.mark.parametrize(
    ("mode", "dest"),
    [
        ("no-cors", "image"),
        ("no-cors", "script"),
        ("navigate", "iframe"),
        ("navigate", "object"),
        ("cors", "empty"),
        (None, None),
    ],
)
def test_other_pages_load_nothing_of_ours(site: str, mode: str | None, dest: str | None) -> None:
    room = Room()
    said = {"sec-fetch-site": site, "sec-fetch-mode": mode, "sec-fetch-dest": dest}
    headers = {**KNOWN, **{name: value for name, value in said.items() if value is not None}}
    assert ask(room, headers, "/static/base.css").status == 403
    assert room.paths == []


@pytest.mark.parametrize("site", ["cross-site", "same-site", "same-origin", "none"])
def test_a_link_may_lead_here(site: str) -> None:
    headers = {**KNOWN, "sec-fetch-site": site, "sec-fetch-mode": "navigate", "sec-fetch-dest": "document"}
    assert ask(Room(), headers).status == 200
    assert ask(Room(), {**headers, "cookie": ""}, f"/?token={TOKEN}").status == 303


def test_our_own_pages_load_our_files() -> None:
    headers = {**KNOWN, "sec-fetch-site": "same-origin", "sec-fetch-mode": "no-cors", "sec-fetch-dest": "image"}
    assert ask(Room(), headers, "/static/picture.png").status == 200


# --- websockets ------------------------------------------------------------------------------------


@pytest.mark.parametrize("cookie", [{}, {"cookie": f"loftwright-{PORT}=wrong"}], ids=["none", "wrong"])
def test_a_websocket_without_the_token_is_not_opened(cookie: dict[str, str]) -> None:
    room = Room()
    headers = {"host": HOST, "origin": OWN, **cookie}
    answer = connect(room, headers)
    assert answer.status == 401
    assert [message["type"] for message in answer.sent] == [
        "websocket.http.response.start",
        "websocket.http.response.body",
    ]
    assert connect(room, headers, denial=False).sent == [{"type": "websocket.close", "code": 4401}]
    assert connect(room, headers, path=f"/live?token={TOKEN}").status == 401
    assert room.paths == []


def test_messages_are_passed_on_up_to_the_limit() -> None:
    room = Room()
    connect(room, {**KNOWN, "origin": OWN}, "a" * MOST_MESSAGE, b"a" * MOST_MESSAGE, "ä" * (MOST_MESSAGE // 2))
    assert len(room.messages) == 4


@pytest.mark.parametrize("text", ["a" * (MOST_MESSAGE + 1), b"a" * (MOST_MESSAGE + 1), "ä" * (MOST_MESSAGE // 2 + 1)])
def test_a_longer_message_ends_the_websocket(text: str | bytes) -> None:
    room = Room()
    answer = connect(room, {**KNOWN, "origin": OWN}, text)
    assert [message["type"] for message in room.messages] == ["websocket.connect"]
    assert [(message["type"], message.get("code")) for message in answer.sent] == [
        ("websocket.accept", None),
        ("websocket.close", 1009),
    ]


# --- how much --------------------------------------------------------------------------------------

POST = {**KNOWN, "origin": OWN}


def test_a_body_up_to_the_limit_arrives_whole() -> None:
    room = Room()
    half = b"a" * (MOST_BODY // 2)
    assert ask(room, {**POST, "content-length": str(MOST_BODY)}, method="POST", chunks=(half, b"", half)).status == 200
    assert room.bodies == [b"a" * MOST_BODY]


def test_a_longer_body_is_refused_before_it_is_read() -> None:
    room = Room()
    answer = ask(room, {**POST, "content-length": str(MOST_BODY + 1)}, method="POST")
    assert (answer.status, answer.read, room.paths) == (413, 0, [])
    answer = ask(room, {**POST, "content-length": "9" * 5000}, method="POST")
    assert (answer.status, answer.read, room.paths) == (413, 0, [])


def test_a_body_without_length_is_counted_as_it_comes() -> None:
    room = Room()
    chunk = b"a" * (MOST_BODY // 4)
    answer = ask(room, POST, method="POST", chunks=(chunk,) * 10)
    assert (answer.status, answer.read, room.paths) == (413, 5, [])


def test_address_and_headers_are_counted() -> None:
    room = Room()
    left = MOST_HEADERS - len("/") - sum(len(name + value) for name, value in KNOWN.items()) - len("x-long")
    assert ask(room, {**KNOWN, "x-long": "a" * left}).status == 200
    assert ask(room, {**KNOWN, "x-long": "a" * (left + 1)}).status == 431
    assert ask(room, KNOWN, "/?" + "a" * MOST_HEADERS).status == 431
    assert connect(room, {**KNOWN, "origin": OWN, "x-long": "a" * left}).status == 431
    assert room.paths == ["/"]


def test_a_length_that_lies_helps_nobody() -> None:
    room = Room()
    chunk = b"a" * (MOST_BODY // 2 + 1)
    assert ask(room, {**POST, "content-length": "5"}, method="POST", chunks=(chunk, chunk)).status == 413
    assert ask(room, {**POST, "content-length": "-5"}, method="POST").status == 400
    assert room.paths == []


def test_a_body_is_read_only_of_who_may_come_in() -> None:
    answer = ask(Room(), {"host": HOST, "origin": OWN}, method="POST", chunks=(b"a",))
    assert (answer.status, answer.read) == (401, 0)


def test_a_reader_who_went_away_reaches_nobody() -> None:
    room = Room()
    scope = {"type": "http", "method": "POST", "path": "/", "query_string": b"", "headers": raw(POST)}
    messages: list[Message] = [
        {"type": "http.request", "body": b"half", "more_body": True},
        {"type": "http.disconnect"},
    ]
    assert call(room, ENTRY, scope, messages).sent == []
    assert room.paths == []


# --- headers ---------------------------------------------------------------------------------------

ALWAYS = {
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "x-frame-options": "DENY",
    "cache-control": "no-store",
}
DIRECTIVES = {
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "font-src 'self'",
    f"connect-src 'self' ws://{HOST}",
    "form-action 'self'",
    "frame-ancestors 'none'",
    "base-uri 'none'",
}


@pytest.mark.parametrize(
    ("headers", "path", "status"),
    [
        (KNOWN, "/", 200),
        ({"host": HOST}, "/", 401),
        ({"host": HOST}, f"/?token={TOKEN}", 303),
        ({**KNOWN, "origin": ELSEWHERE}, "/", 403),
        ({**KNOWN, "content-length": "9999999"}, "/", 413),
    ],
)
def test_every_answer_carries_the_headers(headers: dict[str, str], path: str, status: int) -> None:
    answer = ask(Room(), headers, path)
    assert answer.status == status
    assert {name: answer.header(name) for name in ALWAYS} == ALWAYS
    policy = answer.header("content-security-policy")
    assert policy is not None
    assert set(policy.split("; ")) == DIRECTIVES
    assert "unsafe" not in policy
    permissions = answer.header("permissions-policy")
    assert permissions is not None
    assert all(part.strip().endswith("=()") for part in permissions.split(","))


def test_a_wrong_host_is_not_repeated_in_the_policy() -> None:
    answer = ask(Room(), {"host": "example.org; script-src *", "cookie": COOKIE})
    assert answer.status == 400
    assert {name: answer.header(name) for name in ALWAYS} == ALWAYS
    assert "example.org" not in str(answer.header("content-security-policy"))


def test_refused_websockets_carry_the_headers() -> None:
    answer = connect(Room(), {**KNOWN, "origin": ELSEWHERE})
    assert {name: answer.header(name) for name in ALWAYS} == ALWAYS


def test_a_page_cannot_loosen_them() -> None:
    room = Room()
    room.headers = [
        (b"Content-Security-Policy", b"default-src *"),
        (b"cache-control", b"public"),
        (b"X-FRAME-OPTIONS", b"ALLOWALL"),
        (b"content-type", b"text/html"),
    ]
    answer = ask(room, KNOWN)
    assert answer.header("cache-control") == "no-store"
    assert answer.header("x-frame-options") == "DENY"
    assert answer.header("content-type") == "text/html"
    assert "*" not in str(answer.header("content-security-policy"))


@pytest.mark.parametrize(
    ("path", "status", "kept"),
    [
        ("/static/base.css?v=3", 200, "private, max-age=31536000, immutable"),
        ("/static/base.css?v=3", 304, "private, max-age=31536000, immutable"),
        ("/static/base.css", 200, "private, no-cache"),
        ("/static/base.css?v=", 200, "private, no-cache"),
        ("/static/base.css?v=3", 404, "no-store"),
        ("/page?v=3", 200, "no-store"),
        ("/page/static/?v=3", 200, "no-store"),
    ],
)
def test_only_files_with_their_version_are_kept(path: str, status: int, kept: str) -> None:
    room = Room()
    room.status = status
    assert ask(room, KNOWN, path).header("cache-control") == kept


# --- what else comes through -----------------------------------------------------------------------


def test_the_life_of_the_server_is_passed_on_and_nothing_else() -> None:
    room = Room()
    call(room, ENTRY, {"type": "lifespan"}, [])
    assert room.lives == 1
    assert call(room, ENTRY, {"type": "something", "path": "/"}, []).sent == []
    assert room.paths == []


def test_the_ways_in() -> None:
    assert ENTRY.address == f"http://127.0.0.1:8719/?token={TOKEN}"
    assert ENTRY.phone is None
    assert SHARED.phone == f"http://192.168.4.20:8719/?token={TOKEN}"
