"""The board against the network and against other pages of the same browser, through the real server.

A small application of our own stands behind the guard and notes what reaches it. In Chromium a page of another
origin tries what pages can try. That the attacks are real is seen on the same application without the guard.
"""

from __future__ import annotations

import contextlib
import http.client
import http.server
import json
import socket
import statistics
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
import uvicorn
import websockets.sync.client as sockets_client
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp
from starlette.websockets import WebSocket
from websockets.exceptions import ConnectionClosed, InvalidStatus

from loftwright.board.guard import MOST_BODY, MOST_HEADERS, MOST_MESSAGE, Entry
from loftwright.board.serve import listen, port_of, running

SECRET = "mass = 62 kg"

PAGE = """<!doctype html><html lang="en"><title>ours</title><link rel="icon" href="data:,">
<form method="post" action="/do/change"><input name="mass" value="63 kg"><button>Save</button></form>
<script type="module" src="/static/ours.js?v=1"></script></html>"""

OURS_JS = """const live = new WebSocket(`ws://${location.host}/live`);
live.onmessage = (event) => { document.title = event.data; };"""

PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" width="7" height="5"><rect width="7" height="5" fill="#000"/></svg>'


@dataclass
class Project:
    """What stands behind the guard: a state, and everything that reached it."""

    state: list[str] = field(default_factory=list)
    seen: list[str] = field(default_factory=list)

    def app(self, static: Path) -> Starlette:
        async def page(request: Request) -> Response:
            self.seen.append(f"{request.method} {request.url.path}")
            return HTMLResponse(PAGE)

        async def data(request: Request) -> Response:
            self.seen.append("GET /data")
            return PlainTextResponse(SECRET)

        async def script(request: Request) -> Response:
            self.seen.append("GET /script.js")
            return Response(f'window.stolen = "{SECRET}";', media_type="text/javascript")

        async def picture(request: Request) -> Response:
            self.seen.append("GET /picture")
            return Response(PICTURE, media_type="image/svg+xml")

        async def change(request: Request) -> Response:
            body = await request.body()
            self.seen.append("POST /do/change")
            self.state.append(body.decode())
            return PlainTextResponse("changed")

        async def fails(request: Request) -> Response:
            raise LookupError("on purpose")

        async def live(socket: WebSocket) -> None:
            await socket.accept()
            self.seen.append("open /live")
            await socket.send_text(SECRET)
            async for text in socket.iter_text():
                self.state.append(text)
                await socket.send_text(f"took {len(text)}")

        (static / "ours.js").write_text(OURS_JS, encoding="utf-8")
        return Starlette(
            routes=[
                Route("/", page),
                Route("/data", data),
                Route("/script.js", script),
                Route("/picture", picture),
                Route("/do/change", change, methods=["POST"]),
                Route("/fails", fails),
                WebSocketRoute("/live", live),
                Mount("/static", StaticFiles(directory=static)),
            ]
        )


@dataclass
class Board:
    """A running board."""

    entry: Entry
    project: Project

    @property
    def host(self) -> str:
        return f"127.0.0.1:{self.entry.port}"

    @property
    def known(self) -> dict[str, str]:
        return {"Host": self.host, "Cookie": f"{self.entry.cookie}={self.entry.token}"}

    def ask(
        self, method: str, path: str, headers: dict[str, str], body: Any = None, *, chunked: bool = False
    ) -> tuple[int, dict[str, str], bytes]:
        """Send one request as it stands and return status, headers and body."""
        connection = http.client.HTTPConnection("127.0.0.1", self.entry.port, timeout=10)
        with contextlib.closing(connection):
            connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            for name, value in headers.items():
                connection.putheader(name, value)
            connection.endheaders(body, encode_chunked=chunked)
            answer = connection.getresponse()
            found = {name.lower(): value for name, value in answer.getheaders()}
            return answer.status, found, answer.read()

    def connect(self, host: str = "", **headers: str) -> sockets_client.ClientConnection:
        """Open the websocket; a header that is empty is left out."""
        sent = {"Origin": self.entry.base, "Cookie": self.known["Cookie"], **headers}
        return sockets_client.connect(
            f"ws://{host or self.host}/live",
            sock=socket.create_connection(("127.0.0.1", self.entry.port)),
            additional_headers={name: value for name, value in sent.items() if value},
            proxy=None,
            max_size=None,
            close_timeout=1,
        )


@pytest.fixture
def board(tmp_path: Path) -> Iterator[Board]:
    project = Project()
    static = tmp_path / "static"
    static.mkdir()
    (tmp_path / "private.txt").write_text(SECRET, encoding="utf-8")
    with running(lambda entry: project.app(static)) as entry:
        yield Board(entry, project)


# --- pages, over the wire --------------------------------------------------------------------------


def test_the_printed_address_opens_it(board: Board) -> None:
    path = board.entry.address.removeprefix(board.entry.base)
    status, headers, _ = board.ask("GET", path, {"Host": board.host})
    assert (status, headers["location"]) == (303, f"{board.entry.base}/")
    cookie = headers["set-cookie"].split(";")[0]
    status, headers, body = board.ask("GET", "/data", {"Host": board.host, "Cookie": cookie})
    assert (status, body.decode(), headers["cache-control"]) == (200, SECRET, "no-store")
    assert "server" not in headers


def test_without_the_token_nothing_is_served(board: Board) -> None:
    for path in ("/", "/data", "/static/ours.js?v=1", "/nowhere", "/?token=guess"):
        assert board.ask("GET", path, {"Host": board.host})[0] == 401, path
    assert board.project.seen == []


@pytest.mark.parametrize("host", ["", "example.org", "127.0.0.1", "127.0.0.1:1"])
def test_another_host_is_refused(board: Board, host: str) -> None:
    assert board.ask("GET", "/data", {**board.known, "Host": host})[0] == 400
    assert board.project.seen == []


@pytest.mark.parametrize("version", ["HTTP/1.0", "HTTP/1.1"])
def test_a_request_without_host_is_refused(board: Board, version: str) -> None:
    with socket.create_connection(("127.0.0.1", board.entry.port), timeout=10) as wire:
        wire.sendall(f"GET /data {version}\r\nCookie: {board.known['Cookie']}\r\n\r\n".encode())
        assert wire.recv(4096).split()[1] == b"400"
    assert board.project.seen == []


def test_a_host_in_the_first_line_does_not_count(board: Board) -> None:
    with socket.create_connection(("127.0.0.1", board.entry.port), timeout=10) as wire:
        said = f"GET http://{board.host}/data HTTP/1.1\r\nHost: example.org\r\nCookie: {board.known['Cookie']}\r\n\r\n"
        wire.sendall(said.encode())
        assert wire.recv(4096).split()[1] == b"400"
    assert board.project.seen == []


def test_a_change_needs_the_own_origin(board: Board) -> None:
    for origin in ({}, {"Origin": "null"}, {"Origin": "http://127.0.0.1:1"}, {"Origin": "http://example.org"}):
        assert board.ask("POST", "/do/change", {**board.known, **origin, "Content-Length": "1"}, b"x")[0] == 403
    assert board.project.state == []
    own = {**board.known, "Origin": board.entry.base, "Content-Length": "1"}
    assert board.ask("POST", "/do/change", own, b"x")[0] == 200
    assert board.project.state == ["x"]


def test_a_forwarding_header_changes_nothing(board: Board) -> None:
    said = {"Host": "example.org", "Cookie": board.known["Cookie"], "X-Forwarded-Host": board.host}
    assert (
        board.ask("GET", "/data", {**said, "X-Forwarded-Proto": "https", "Forwarded": f"host={board.host}"})[0] == 400
    )


def test_a_long_body_is_refused_before_it_is_sent(board: Board) -> None:
    headers = {**board.known, "Origin": board.entry.base, "Content-Length": str(MOST_BODY + 1)}
    assert board.ask("POST", "/do/change", headers)[0] == 413
    assert board.project.seen == []


def test_a_body_in_chunks_without_length_is_cut(board: Board) -> None:
    headers = {**board.known, "Origin": board.entry.base, "Transfer-Encoding": "chunked"}
    piece = b"a" * 100_000
    assert board.ask("POST", "/do/change", headers, iter([piece] * 10), chunked=True)[0] == 200
    assert [len(text) for text in board.project.state] == [10 * len(piece)]
    # Ten bytes more are already too many; the end of the body is never sent.
    connection = http.client.HTTPConnection("127.0.0.1", board.entry.port, timeout=10)
    with contextlib.closing(connection):
        connection.putrequest("POST", "/do/change", skip_host=True)
        for name, value in headers.items():
            connection.putheader(name, value)
        connection.endheaders()
        for part in [piece] * 10 + [b"a" * 10]:
            connection.send(f"{len(part):x}\r\n".encode() + part + b"\r\n")
        assert connection.getresponse().status == 413
    assert len(board.project.state) == 1


def test_endless_headers_are_refused(board: Board) -> None:
    status, _, _ = board.ask("GET", "/data", {**board.known, "X-Long": "a" * (MOST_HEADERS - 1000)})
    assert status == 200
    board.project.seen.clear()
    assert board.ask("GET", "/data", {**board.known, "X-Long": "a" * MOST_HEADERS})[0] == 431
    # Without end: the server does not wait for it.
    with contextlib.suppress(ConnectionError), socket.create_connection(("127.0.0.1", board.entry.port)) as wire:
        wire.settimeout(10)
        wire.sendall(b"GET /data HTTP/1.1\r\nX-Long: " + b"a" * (20 * MOST_HEADERS))
        assert wire.recv(4096).split()[1] in (b"400", b"431")
    assert board.project.seen == []


@pytest.mark.parametrize(
    "path",
    [
        "/static/../private.txt",
        "/static/..%2fprivate.txt",
        "/static/..%2Fprivate.txt",
        "/static/%2e%2e/private.txt",
        "/static/%2e%2e%2fprivate.txt",
        "/static/..%5cprivate.txt",
        "/static/..%252fprivate.txt",
        "/static//../private.txt",
        "/static/./../private.txt",
        "/static/ours.js/../../private.txt",
    ],
)
def test_nothing_beside_the_static_files_is_read(board: Board, path: str) -> None:
    status, _, body = board.ask("GET", path, board.known)
    assert status in (400, 404)
    assert SECRET.encode() not in body


def test_a_bug_behind_it_still_carries_the_headers(board: Board) -> None:
    status, headers, body = board.ask("GET", "/fails", board.known)
    assert status == 500
    assert headers["x-frame-options"] == "DENY"
    assert headers["cache-control"] == "no-store"
    assert b"on purpose" not in body


# --- websockets, over the wire ---------------------------------------------------------------------


def test_our_own_page_has_its_websocket(board: Board) -> None:
    with board.connect() as live:
        assert live.recv(timeout=10) == SECRET


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"Cookie": ""}, 401),
        ({"Cookie": "loftwright-1=x"}, 401),
        ({"Origin": ""}, 403),
        ({"Origin": "null"}, 403),
        ({"Origin": "http://example.org"}, 403),
        ({"Origin": "http://127.0.0.1:1"}, 403),
        ({"host": "example.org"}, 400),
    ],
    ids=str,
)
def test_others_get_no_websocket(
    board: Board, headers: dict[str, str], status: int, caplog: pytest.LogCaptureFixture
) -> None:
    with pytest.raises(InvalidStatus) as refused:
        board.connect(**headers)
    assert refused.value.response.status_code == status
    assert refused.value.response.headers["X-Frame-Options"] == "DENY"
    # Whoever asks in vain cannot fill the terminal.
    assert caplog.messages == []
    assert board.project.seen == []


def test_a_long_message_ends_the_websocket(board: Board) -> None:
    with board.connect() as live:
        live.recv(timeout=10)
        live.send("a" * MOST_MESSAGE)
        assert live.recv(timeout=10) == f"took {MOST_MESSAGE}"
        live.send("a" * (MOST_MESSAGE + 1))
        with pytest.raises(ConnectionClosed) as ended:
            live.recv(timeout=10)
    assert ended.value.rcvd is not None
    assert ended.value.rcvd.code == 1009
    assert [len(text) for text in board.project.state] == [MOST_MESSAGE]


def test_a_long_message_in_pieces_ends_the_websocket(board: Board) -> None:
    with board.connect() as live:
        live.recv(timeout=10)
        with contextlib.suppress(ConnectionClosed):
            live.send("a" * (MOST_MESSAGE // 4) for _ in range(6))
        with pytest.raises(ConnectionClosed):
            live.recv(timeout=10)
    assert board.project.state == []


# --- where it listens, and how it ends -------------------------------------------------------------


def test_it_listens_on_this_computer_alone() -> None:
    found = listen(0)
    try:
        assert [one.getsockname()[0] for one in found] == ["127.0.0.1"]
    finally:
        for one in found:
            one.close()


@pytest.mark.skipif(sys.platform != "linux", reason="the whole of 127.0.0.0/8 is this computer on Linux only")
def test_a_shared_board_listens_on_two_addresses_and_nowhere_else(tmp_path: Path) -> None:
    project = Project()
    with running(lambda entry: project.app(tmp_path), lan="127.0.0.2") as entry:
        assert entry.phone == f"http://127.0.0.2:{entry.port}/?token={entry.token}"
        for address in ("127.0.0.1", "127.0.0.2"):
            connection = http.client.HTTPConnection(address, entry.port, timeout=10)
            with contextlib.closing(connection):
                connection.request("GET", "/data", headers={"Cookie": f"{entry.cookie}={entry.token}"})
                assert connection.getresponse().read() == SECRET.encode()
        with pytest.raises(ConnectionRefusedError):
            socket.create_connection(("127.0.0.3", entry.port), timeout=10).close()


def test_small_answers_do_not_wait_for_one_another(board: Board) -> None:
    # Head and body are two packets; held back until the first is acknowledged, the second takes some 40 ms.
    connection = http.client.HTTPConnection("127.0.0.1", board.entry.port, timeout=10)
    took = []
    with contextlib.closing(connection):
        for _ in range(30):
            started = time.perf_counter()
            connection.request("GET", "/data", headers=board.known)
            connection.getresponse().read()
            took.append(time.perf_counter() - started)
    assert statistics.median(took) < 0.03


def test_it_ends_soon_though_tabs_are_open(tmp_path: Path) -> None:
    project = Project()
    with contextlib.ExitStack() as tabs:
        with running(lambda entry: project.app(tmp_path)) as entry:
            board = Board(entry, project)
            for _ in range(10):
                tabs.enter_context(board.connect()).recv(timeout=10)
            # One that has not finished its request, and one that keeps its connection.
            half = tabs.enter_context(socket.create_connection(("127.0.0.1", entry.port)))
            half.sendall(b"POST /do/change HTTP/1.1\r\n")
            kept = http.client.HTTPConnection("127.0.0.1", entry.port)
            tabs.enter_context(contextlib.closing(kept))
            kept.request("GET", "/data", headers=board.known)
            kept.getresponse().read()
            started = time.perf_counter()
        assert time.perf_counter() - started < 2


# --- pages of other origins, in Chromium -----------------------------------------------------------

ATTACKS: dict[str, str] = {
    # Each returns what it could read, or null.
    "fetch": """async (base) => {
        try { return await (await fetch(base + '/data')).text(); } catch (e) { return null; } }""",
    "fetch with cookies": """async (base) => {
        try { return await (await fetch(base + '/data', {credentials: 'include'})).text(); }
        catch (e) { return null; } }""",
    "simple post": """async (base) => {
        await fetch(base + '/do/change', {method: 'POST', mode: 'no-cors', credentials: 'include', body: 'fetched'})
          .catch(() => null);
        return null; }""",
    "post with JSON": """async (base) => {
        await fetch(base + '/do/change', {method: 'POST', credentials: 'include', body: '{}',
          headers: {'Content-Type': 'application/json'}}).catch(() => null);
        return null; }""",
    "beacon": """async (base) => {
        navigator.sendBeacon(base + '/do/change', 'beacon');
        await new Promise((f) => setTimeout(f, 500)); return null; }""",
    "form": """async (base) => {
        const frame = document.createElement('iframe'); frame.name = 'target'; document.body.append(frame);
        const form = document.createElement('form'); form.method = 'post'; form.action = base + '/do/change';
        form.target = 'target'; const field = document.createElement('input'); field.name = 'mass';
        field.value = 'formed'; form.append(field); document.body.append(form);
        const done = new Promise((f) => { frame.onload = f; setTimeout(f, 1500); });
        form.submit(); await done; return null; }""",
    "image": """async (base) => {
        const image = new Image();
        const done = new Promise((f) => { image.onload = image.onerror = f; });
        image.src = base + '/picture'; await done;
        return image.naturalWidth ? `${image.naturalWidth} x ${image.naturalHeight}` : null; }""",
    "script": """async (base) => {
        const script = document.createElement('script');
        const done = new Promise((f) => { script.onload = script.onerror = f; });
        script.src = base + '/script.js'; document.body.append(script); await done; return window.stolen || null; }""",
    "style": """async (base) => {
        const link = document.createElement('link'); link.rel = 'stylesheet'; link.href = base + '/data';
        const done = new Promise((f) => { link.onload = link.onerror = f; });
        document.head.append(link); await done; return null; }""",
    "frame": """async (base) => {
        const frame = document.createElement('iframe');
        const done = new Promise((f) => { frame.onload = f; setTimeout(f, 1500); });
        frame.src = base + '/data'; document.body.append(frame); await done;
        try { return frame.contentDocument.body.innerText || null; } catch (e) { return null; } }""",
    "websocket": """async (base) => new Promise((found) => {
        const live = new WebSocket(base.replace('http', 'ws') + '/live');
        live.onmessage = (event) => {
          live.onmessage = null; live.send('by websocket'); setTimeout(() => found(event.data), 300); };
        live.onerror = live.onclose = () => found(null); })""",
}

READS = {"image": "7 x 5", "script": SECRET, "websocket": SECRET}
"""What an attack reads where there is no guard; browsers keep the rest from other origins by themselves."""
CHANGES = {"simple post": "fetched", "beacon": "beacon", "form": "mass=formed", "websocket": "by websocket"}
"""What it changes where there is no guard."""


class _Quiet(http.server.BaseHTTPRequestHandler):
    def do_GET(self) -> None:
        body = b'<!doctype html><title>theirs</title><link rel="icon" href="data:,"><body>theirs</body>'
        self.send_response(200)
        self.send_header("Content-Type", "text/html")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:
        pass


@pytest.fixture
def theirs() -> Iterator[int]:
    """Yield the port of a server of pages that are not ours."""
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), _Quiet)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    try:
        yield server.server_address[1]
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


@contextlib.contextmanager
def unguarded(app: ASGIApp) -> Iterator[str]:
    """Run an application without the guard and yield its address."""
    found = listen(0)
    server = uvicorn.Server(uvicorn.Config(app, loop="asyncio", ws="websockets-sansio", log_config=None))
    thread = threading.Thread(target=server.run, args=(list(found),))
    thread.start()
    try:
        while not server.started:
            time.sleep(0.01)
        yield f"http://127.0.0.1:{port_of(found)}"
    finally:
        server.should_exit = True
        thread.join()


@pytest.fixture
def tab(chromium: Any) -> Iterator[Any]:
    context = chromium.new_context()
    yield context.new_page()
    context.close()


def until(true: Callable[[], bool], page: Any) -> None:
    """Wait until something holds, at most five seconds."""
    for _ in range(100):
        if true():
            return
        page.wait_for_timeout(50)
    raise AssertionError("it never came true")


@pytest.mark.browser
def test_our_own_pages_work_in_the_browser(board: Board, tab: Any) -> None:
    complaints: list[str] = []
    # A plain text has no head that could say where its icon is: the browser then asks for one by itself.
    tab.on(
        "console",
        lambda message: None if message.location["url"].endswith("/favicon.ico") else complaints.append(message.text),
    )
    tab.goto(board.entry.address)
    assert tab.url == f"{board.entry.base}/"
    # The module of the page has opened its websocket.
    until(lambda: tab.title() == SECRET, tab)
    assert tab.evaluate("async () => (await fetch('/data')).text()") == SECRET
    answer = tab.evaluate("async () => (await fetch('/do/change', {method: 'POST', body: 'by script'})).text()")
    assert answer == "changed"
    # A form without any script.
    tab.click("button")
    tab.wait_for_url("**/do/change")
    assert board.project.state == ["by script", "mass=63+kg"]
    assert complaints == []
    # The token stands neither in the address nor where scripts can read it.
    assert board.entry.token not in tab.evaluate("document.cookie + location.href")


@pytest.mark.browser
@pytest.mark.parametrize("site", ["127.0.0.1", "localhost"])
@pytest.mark.parametrize("attack", ATTACKS)
def test_other_pages_read_and_change_nothing(board: Board, theirs: int, tab: Any, attack: str, site: str) -> None:
    # The browser knows the token: the board is open in it. 127.0.0.1 counts as the same site, localhost as another.
    tab.goto(board.entry.address)
    until(lambda: tab.title() == SECRET, tab)
    board.project.seen.clear()
    page = tab.context.new_page()
    page.goto(f"http://{site}:{theirs}/")
    assert page.evaluate(ATTACKS[attack], board.entry.base) is None
    assert board.project.seen == []
    assert board.project.state == []


@pytest.mark.browser
@pytest.mark.parametrize("attack", [name for name in ATTACKS if name in READS or name in CHANGES])
def test_without_the_guard_they_would(tmp_path: Path, theirs: int, tab: Any, attack: str) -> None:
    project = Project()
    with unguarded(project.app(tmp_path)) as base:
        tab.goto(f"http://127.0.0.1:{theirs}/")
        read = tab.evaluate(ATTACKS[attack], base)
        assert read == READS.get(attack)
        if attack in CHANGES:
            until(lambda: project.state == [CHANGES[attack]], tab)


@pytest.mark.browser
@pytest.mark.parametrize("site", ["127.0.0.1", "localhost"])
def test_a_window_that_another_page_opens_is_out_of_its_reach(board: Board, theirs: int, tab: Any, site: str) -> None:
    tab.goto(board.entry.address)
    page = tab.context.new_page()
    page.goto(f"http://{site}:{theirs}/")
    with tab.context.expect_page() as opened:
        page.evaluate("(base) => { window.other = window.open(base + '/'); }", board.entry.base)
    opened.value.wait_for_url(f"{board.entry.base}/")
    until(lambda: opened.value.title() == SECRET, page)
    assert opened.value.evaluate("window.opener") is None
    assert page.evaluate("window.other.closed")
    read = "() => { try { return window.other.document.title; } catch (e) { return null; } }"
    assert page.evaluate(read) in (None, "")
    assert board.project.state == []


@pytest.mark.browser
def test_a_link_on_another_page_leads_in(board: Board, theirs: int, tab: Any) -> None:
    tab.goto(f"http://localhost:{theirs}/")
    tab.evaluate("(to) => { location.href = to; }", board.entry.address)
    until(lambda: tab.title() == SECRET, tab)
    assert tab.url == f"{board.entry.base}/"


@pytest.mark.browser
def test_the_locked_page_says_how_to_get_in(board: Board, tab: Any) -> None:
    answer = tab.goto(f"{board.entry.base}/")
    assert answer.status == 401
    assert "Open the address that the program printed" in tab.inner_text("body")
    assert json.dumps(board.project.seen) == "[]"
