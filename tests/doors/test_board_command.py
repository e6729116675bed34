"""The command that opens the board, as a person or a script meets it: addresses, refusals, restart, end.

Exact constructed cases, in a process of its own.
"""

from __future__ import annotations

import contextlib
import http.client
import json
import os
import re
import select
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
import websockets.sync.client as sockets_client

from loftwright.board import serve
from loftwright.board.serve import DEFAULT_PORT, lan_address
from loftwright.cli.main import run
from loftwright.core.errors import ProjectFault
from loftwright.project.demos import demo_text

PROGRAM = (sys.executable, "-c", "from loftwright.cli.main import app_main; app_main()")
unix = pytest.mark.skipif(os.name != "posix", reason="signals and terminals of Unix")

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "state"))
    made = tmp_path / "van"
    made.mkdir()
    monkeypatch.chdir(made)
    return made


@dataclass
class Started:
    """A running board, as its terminal shows it."""

    process: subprocess.Popen[str]
    line: str

    @property
    def port(self) -> int:
        return urlsplit(self.line).port or 0

    def ask(self, path: str, **headers: str) -> http.client.HTTPResponse:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        with contextlib.closing(connection):
            connection.request("GET", path, headers=headers)
            answer = connection.getresponse()
            answer.read()
            return answer

    def cookie(self) -> str:
        found = urlsplit(self.line)
        answer = self.ask(f"/?{found.query}")
        assert answer.status == 303
        return str(answer.headers["Set-Cookie"]).split(";")[0]

    def end(self, how: signal.Signals = signal.SIGINT) -> tuple[int, str, str]:
        """End it and return the exit code, and what else came on both ways."""
        self.process.send_signal(how)
        out, err = self.process.communicate(timeout=20)
        return self.process.returncode, out, err


@contextlib.contextmanager
def started(*arguments: str) -> Iterator[Started]:
    process = subprocess.Popen(
        [*PROGRAM, "board", "--no-browser", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    )
    with process:
        try:
            assert process.stdout is not None
            yield Started(process, process.stdout.readline().rstrip("\n"))
        finally:
            if process.poll() is None:
                process.terminate()
                process.communicate(timeout=20)


@unix
def test_it_prints_its_address_and_ends_from_the_keyboard(folder: Path) -> None:
    (folder / "roof.toml").write_text(demo_text("fennimoor"), encoding="utf-8")
    with started("roof.toml", "--port", "0") as board:
        assert re.fullmatch(r"http://127\.0\.0\.1:\d+/\?token=[0-9a-f]{32}", board.line)
        # It answers as soon as the address is there.
        assert board.ask("/").status == 401
        cookie = board.cookie()
        base = f"http://127.0.0.1:{board.port}"
        with sockets_client.connect(
            f"ws://127.0.0.1:{board.port}/live",
            additional_headers={"Cookie": cookie, "Origin": base},
            proxy=None,
            close_timeout=1,
        ):
            started_at = time.perf_counter()
            code, out, err = board.end()
            assert time.perf_counter() - started_at < 3
    assert (code, out) == (130, "")
    assert err.splitlines() == [
        "The drawing board of roof.toml is at this address. Ctrl-C ends it.",
        "",
        "Stopped.",
    ]


def is_alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


@pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")
@pytest.mark.parametrize("how", ["SIGINT", "SIGTERM", "SIGHUP", "SIGKILL"])
def test_however_it_ends_no_process_is_left(folder: Path, how: str) -> None:
    (folder / "roof.toml").write_text(demo_text("fennimoor"), encoding="utf-8")
    with started("roof.toml", "--port", "0") as board:
        pid = board.process.pid
        processes = [int(found) for found in Path(f"/proc/{pid}/task/{pid}/children").read_text("utf-8").split()]
        assert processes
        board.end(signal.Signals[how])
    deadline = time.monotonic() + 10
    while any(map(is_alive, processes)) and time.monotonic() < deadline:
        time.sleep(0.05)
    assert [one for one in processes if is_alive(one)] == []


@unix
def test_json_is_one_line_and_nothing_else(folder: Path) -> None:
    with started("new-roof.toml", "--port", "0", "--json") as board:
        found = json.loads(board.line)
        _, rest, err = board.end()
    assert rest == ""
    assert set(found) == {"address", "phone", "file"}
    assert found["phone"] is None
    assert found["file"] == str(folder / "new-roof.toml")
    assert "new-roof.toml, which is made there" in err
    # Nothing is made before the questions are answered.
    assert not (folder / "new-roof.toml").exists()


@unix
def test_a_tab_that_is_open_comes_back_after_a_restart(folder: Path) -> None:
    (folder / "roof.toml").write_text(demo_text("fennimoor"), encoding="utf-8")
    with started("roof.toml", "--port", "0") as board:
        first, port, cookie = board.line, str(board.port), board.cookie()
        board.end()
    with started("roof.toml", "--port", port) as board:
        assert board.line == first
        assert board.ask("/nowhere", Cookie=cookie).status == 404
        board.end()
    with started("roof.toml", "--port", port, "--new-token") as board:
        assert board.line != first
        assert board.ask("/nowhere", Cookie=cookie).status == 401
        assert board.ask(f"/?{urlsplit(first).query}").status == 401
        board.end()


@unix
def test_a_demo_is_put_there_once(folder: Path) -> None:
    with started("--demo", "fennimoor", "--port", "0") as board:
        _, _, err = board.end()
    assert "Written: fennimoor.toml" in err
    made = folder / "fennimoor.toml"
    assert made.read_text(encoding="utf-8") == demo_text("fennimoor")
    changed = demo_text("fennimoor") + "# mine\n"
    made.write_text(changed, encoding="utf-8")
    with started("--demo", "fennimoor", "--port", "0") as board:
        _, _, err = board.end()
    assert "Written" not in err
    assert made.read_text(encoding="utf-8") == changed


@unix
def test_where_nothing_can_be_kept_it_says_so(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "state").write_text("no folder", encoding="utf-8")
    with started("--port", "0") as board:
        assert board.cookie()
        code, _, err = board.end(signal.SIGTERM)
    assert code in (0, -signal.SIGTERM)
    assert "The address below opens this run only" in err


@pytest.fixture
def taken() -> Iterator[int]:
    """Yield a port on which somebody else listens."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


def test_a_port_that_was_named_and_is_taken_is_refused(folder: Path, taken: int, capsys: Capture) -> None:
    assert run(["board", "--port", str(taken), "--no-browser"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err == (
        f"Port {taken} is taken: another program listens there; choose another, or leave --port out and a free one is "
        "found.\n"
    )


def test_without_a_name_the_next_free_port_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    tried = []

    def bound(hosts: object, port: int) -> tuple[socket.socket, ...]:
        tried.append(port)
        if len(tried) < 3:
            raise OSError(98 if sys.platform == "linux" else serve._BUSY[0], "taken")
        return ()

    monkeypatch.setattr(serve, "_bound", bound)
    assert serve.listen() == ()
    assert tried == [DEFAULT_PORT, DEFAULT_PORT + 1, DEFAULT_PORT + 2]


def test_when_twenty_more_are_taken_it_gives_up(monkeypatch: pytest.MonkeyPatch) -> None:
    tried = []

    def bound(hosts: object, port: int) -> tuple[socket.socket, ...]:
        tried.append(port)
        raise OSError(serve._BUSY[0], "taken")

    monkeypatch.setattr(serve, "_bound", bound)
    with pytest.raises(ProjectFault, match="Every port from 8719 to 8739 is taken"):
        serve.listen()
    assert len(tried) == 21


def test_both_sockets_or_none(taken: int) -> None:
    # The second address is not one of this computer; the first must be free again then.
    with pytest.raises(ProjectFault, match="is not to be had"):
        serve.listen(0, "192.0.2.250")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["broken.toml"], "line 1 of broken.toml"),
        (["nowhere/roof.toml"], "in a folder that is not there"),
        (["roof.toml", "--demo", "fennimoor"], "named twice"),
        (["--demo", "nowhere"], "there are fennimoor"),
        (["--port", "65536"], "0 to 65535"),
        (["--port", "-1"], "0 to 65535"),
        (["--port", "many"], "a valid integer"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_what_cannot_be_opened_is_refused_before_anything_starts(
    folder: Path, tmp_path: Path, arguments: list[str], said: str, capsys: Capture
) -> None:
    (folder / "broken.toml").write_text("[[[\n", encoding="utf-8")
    assert run(["board", "--no-browser", *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert "Traceback" not in err
    assert not (tmp_path / "state").exists()
    assert [path.name for path in folder.iterdir()] == ["broken.toml"]


# --- for a phone -----------------------------------------------------------------------------------


class _Probe:
    """A datagram socket that knows a way out, or none."""

    found: str | None = None

    def __init__(self, *_: object) -> None:
        self.sent = False

    def __enter__(self) -> _Probe:
        return self

    def __exit__(self, *_: object) -> None:
        pass

    def connect(self, where: tuple[str, int]) -> None:
        assert where[0] == "192.0.2.1"
        if self.found is None:
            raise OSError(101, "Network is unreachable")

    def getsockname(self) -> tuple[str, int]:
        assert self.found is not None
        return self.found, 40000


@pytest.mark.parametrize(
    ("outgoing", "named", "expected"),
    [
        ("192.168.4.20", "127.0.1.1", "192.168.4.20"),
        (None, "192.168.4.21", "192.168.4.21"),
        ("0.0.0.0", "10.0.0.7", "10.0.0.7"),
        (None, "127.0.1.1", "not there"),
        ("127.0.0.1", None, "not there"),
        (None, None, "not there"),
        ("8.8.4.4", None, "which the whole internet can reach"),
    ],
)
def test_the_address_in_the_own_network(
    outgoing: str | None, named: str | None, expected: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def by_name(name: str) -> str:
        if named is None:
            raise socket.gaierror(-2, "Name or service not known")
        return named

    monkeypatch.setattr(_Probe, "found", outgoing)
    monkeypatch.setattr(socket, "socket", _Probe)
    monkeypatch.setattr(socket, "gethostbyname", by_name)
    if expected[0].isdigit():
        assert lan_address() == expected
    else:
        with pytest.raises(ProjectFault, match=expected):
            lan_address()


SHARED = """
import sys
from loftwright.board import serve
serve.lan_address = lambda: "127.0.0.2"
from loftwright.cli.main import app_main
app_main()
"""


def in_terminal(folder: Path, *arguments: str, **environment: str) -> str:
    """Run the program in a terminal of its own until it has said that it is there; return what it showed."""
    import pty

    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-c", SHARED, *arguments],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "TERM": "xterm-256color", **environment},
        cwd=folder,
    )
    os.close(theirs)
    shown = b""
    with process, contextlib.closing(os.fdopen(ours, "rb", buffering=0)) as terminal:
        deadline = time.monotonic() + 30
        while b"Ctrl-C ends it" not in shown and time.monotonic() < deadline:
            if select.select([terminal], [], [], 0.2)[0]:
                shown += terminal.read(65536) or b""
        time.sleep(0.5)
        process.send_signal(signal.SIGINT)
        assert process.wait(20) == 130
    return shown.decode("utf-8").replace("\r\n", "\n")


@pytest.mark.skipif(sys.platform != "linux", reason="the whole of 127.0.0.0/8 is this computer on Linux only")
def test_a_phone_gets_an_address_a_code_and_plain_words(folder: Path) -> None:
    from loftwright.board.qr import terminal

    shown = in_terminal(folder, "board", "--port", "0", "--phone", "--no-browser")
    phone = re.search(r"For a phone in the same network: (http://127\.0\.0\.2:\d+/\?token=[0-9a-f]{32})\n", shown)
    assert phone is not None
    assert terminal(phone[1]) in shown
    flat = " ".join(shown.split())
    assert "can change the project" in flat
    assert "not encrypted" in flat
    assert "use your own network" in flat
    plain = in_terminal(folder, "board", "--port", "0", "--phone", "--no-browser", NO_COLOR="1")
    assert "\x1b" not in plain
    assert "█▀▀▀▀▀" in plain or "█ ▄▄▄▄▄ █" in plain


@unix
def test_the_browser_is_opened_only_on_a_terminal(folder: Path, tmp_path: Path) -> None:
    script, noted = tmp_path / "browser", tmp_path / "opened"
    script.write_text(f'#!/bin/sh\necho "$1" >> "{noted}"\n', encoding="utf-8")
    script.chmod(0o700)
    shown = in_terminal(folder, "board", "--port", "0", BROWSER=str(script))
    address = re.search(r"http://127\.0\.0\.1:\d+/\?token=\w+", shown)
    assert address is not None
    assert noted.read_text(encoding="utf-8") == f"{address[0]}\n"
    in_terminal(folder, "board", "--port", "0", "--no-browser", BROWSER=str(script))
    assert noted.read_text(encoding="utf-8").count("\n") == 1
    ran: Any = {**os.environ, "BROWSER": str(script)}
    with subprocess.Popen(
        [*PROGRAM, "board", "--port", "0"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=ran
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline().startswith(b"http")
        time.sleep(0.5)
        process.terminate()
    assert noted.read_text(encoding="utf-8").count("\n") == 1
