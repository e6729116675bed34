"""A board in a process of its own and a tab of it in a browser, for measuring: moves, memory, what is sent."""

from __future__ import annotations

import asyncio
import contextlib
import json
import math
import os
import random
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

WATCH = Path(__file__).with_name("board_watch.js")
PATIENCE = 60.0
"""Seconds after which what does not come is a failure."""
RADIUS = 14.0
"""How far a point is led round its place [CSS px]."""
FRAME = 1 / 60


def chromium() -> str:
    """Return the path of an installed Chromium, the variable LOFTWRIGHT_CHROMIUM first."""
    names = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge")
    found = os.environ.get("LOFTWRIGHT_CHROMIUM") or next((p for name in names if (p := shutil.which(name))), None)
    if found is None:
        raise SystemExit("no Chromium found: install one or set LOFTWRIGHT_CHROMIUM to its path")
    return found


# --- the server ------------------------------------------------------------------------------------


@dataclass
class Server:
    """A running board: its process, its address with the token, when its process was started [s since the epoch]."""

    process: subprocess.Popen[str]
    address: str
    started: float
    listened: float

    @property
    def port(self) -> int:
        return int(self.address.split(":")[2].split("/")[0])

    def processor_time(self) -> float:
        """Return the processor time that the server itself has taken [ms]; nought where the system does not tell."""
        with contextlib.suppress(OSError):
            fields = Path(f"/proc/{self.process.pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
            return (int(fields[11]) + int(fields[12])) * 1000 / os.sysconf("SC_CLK_TCK")
        return 0.0

    def memory(self) -> dict[str, float]:
        """Return what the server and its processes hold in memory [MB]; nothing where the system does not tell."""
        found = {"server": _resident(self.process.pid)}
        workers = [n for child in _children(self.process.pid) if (n := _resident(child)) > 25]
        for i, held in enumerate(workers):
            found["verdicts" if i == 0 else f"worker {i}"] = held
        return {name: held for name, held in found.items() if held}


def _resident(pid: int) -> float:
    with contextlib.suppress(OSError):
        for line in Path(f"/proc/{pid}/status").read_text(encoding="utf-8").splitlines():
            if line.startswith("VmRSS:"):
                return int(line.split()[1]) / 1024
    return 0.0


def _children(pid: int) -> list[int]:
    found = []
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        with contextlib.suppress(OSError):
            found += [int(child) for child in task.read_text(encoding="utf-8").split()]
    return sorted(found)


@contextlib.contextmanager
def board(demo: Path) -> Iterator[Server]:
    """Yield a board on a copy of a demo, as `loftwright board` starts it."""
    program = shutil.which("loftwright", path=str(Path(sys.executable).parent))
    if program is None:
        raise SystemExit("loftwright is not installed beside this Python: run python3 dev.py bench board")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / demo.name
        shutil.copyfile(demo, file)
        command = [program, "board", str(file), "--port", "0", "--no-browser", "--json"]
        started = time.time()
        environment = os.environ | {"XDG_STATE_HOME": folder}
        process = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=environment
        )
        try:
            assert process.stdout is not None
            line = process.stdout.readline()
            if not line:
                raise SystemExit(f"{' '.join(command)} did not start")
            yield Server(process, json.loads(line)["address"], started, time.time())
        finally:
            process.terminate()
            process.wait(20)
            if process.stdout is not None:
                process.stdout.close()


@contextlib.contextmanager
def delayed(port: int, delay: float) -> Iterator[int]:
    """Yield a port that leads to another one, where each byte comes `delay` [s] later, each way."""
    ready = threading.Event()
    loop = asyncio.new_event_loop()
    found: list[int] = []

    async def carry(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        line: asyncio.Queue[tuple[float, bytes]] = asyncio.Queue()

        async def hand_on() -> None:
            while True:
                due, data = await line.get()
                await asyncio.sleep(max(0.0, due - loop.time()))
                if not data:
                    break
                writer.write(data)
            writer.close()

        task = loop.create_task(hand_on())
        with contextlib.suppress(OSError):
            while data := await reader.read(65536):
                line.put_nowait((loop.time() + delay, data))
        line.put_nowait((loop.time() + delay, b""))
        with contextlib.suppress(OSError):
            await task

    async def meet(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        there, back = await asyncio.open_connection("127.0.0.1", port)
        await asyncio.gather(carry(reader, back), carry(there, writer))

    async def run() -> None:
        server = await asyncio.start_server(meet, "127.0.0.1", 0)
        found.append(server.sockets[0].getsockname()[1])
        ready.set()
        await ended.wait()
        server.close()
        rest = asyncio.all_tasks() - {asyncio.current_task()}
        for task in rest:
            task.cancel()
        await asyncio.gather(*rest, return_exceptions=True)

    ended = asyncio.Event()
    thread = threading.Thread(target=loop.run_until_complete, args=(run(),), daemon=True)
    thread.start()
    ready.wait(10)
    try:
        yield found[0]
    finally:
        loop.call_soon_threadsafe(ended.set)
        thread.join(10)
        loop.close()


# --- a tab -----------------------------------------------------------------------------------------


@dataclass
class Tab:
    """A tab of the board's first page that is watched, and the point in it that is led about."""

    page: Any
    grip: str = ""

    def watched(self, name: str) -> Any:
        return self.page.evaluate(f"watched.{name}")

    def epoch(self, name: str) -> float:
        """Return when something was there [s since the epoch]."""
        since, at = self.page.evaluate(f"[performance.timeOrigin, watched.{name}]")
        return float(since + at) / 1000

    def until(self, told: str) -> None:
        """Wait until something holds in the page. Its policy forbids what the browser's driver has for this."""
        patience = time.monotonic() + PATIENCE
        while not self.page.evaluate(told):
            if time.monotonic() > patience:
                raise SystemExit(f"the page never came to this: {told}")
            time.sleep(0.005)

    def forget(self) -> None:
        self.page.evaluate(
            "for (const list of [watched.moves, watched.curves, watched.received]) list.length = 0;"
            " watched.tries = watched.refused = 0;"
        )

    def place(self) -> tuple[float, float]:
        """Return the middle of the point's button in the window [CSS px]."""
        box = self.page.evaluate(
            "path => { const b = [...document.querySelectorAll('.grip')].find((g) => g.dataset.path === path);"
            " const r = b.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; }",
            self.grip,
        )
        return float(box[0]), float(box[1])

    def choose(self) -> None:
        """Choose a point on which all depends and whose button no other covers, and roll it into view."""
        self.grip = self.page.evaluate(
            """() => {
              const shown = [...document.querySelectorAll(".grip:not([hidden])")].map((button) => {
                const { x, y } = button.getBoundingClientRect();
                return { x, y, path: button.dataset.path, kind: button.dataset.kind };
              });
              const room = (one) => Math.min(...shown.map((other) => (
                other === one ? Infinity : Math.hypot(other.x - one.x, other.y - one.y))));
              shown.sort((one, other) => room(other) - room(one));
              const first = (kind) => shown.find((one) => one.kind === kind);
              return (first("spring") || first("pivot") || shown[0]).path;
            }"""
        )
        self.page.evaluate("document.querySelector('[data-paper]').scrollIntoView({ block: 'center' })")

    def drag(self, moves: int, *, drop: bool = False, pause: float = FRAME) -> None:
        """Lead the point round its place and leave it there; with `drop`, let go elsewhere, else give it up."""
        mouse = self.page.mouse
        x, y = self.place()
        mouse.move(x, y)
        mouse.down()
        for i in range(1, moves + 1):
            turn = 2 * math.pi * i / max(moves, 40) + 0.3 * i
            mouse.move(x + RADIUS * math.cos(turn), y + RADIUS * math.sin(turn))
            # Moves of a hand come at any moment of a frame.
            time.sleep(pause * random.uniform(0.5, 1.5))
        if drop:
            mouse.up()
        else:
            self.page.keyboard.press("Escape")
            mouse.up()

    def carry(self, dx: float, dy: float, steps: int = 4) -> None:
        """Take the point up, carry it over, let go, and wait until it is saved and drawn."""
        before = self.page.evaluate("document.querySelector('[data-drawing]').dataset.dropped || ''")
        mouse = self.page.mouse
        x, y = self.place()
        mouse.move(x, y)
        mouse.down()
        for i in range(1, steps + 1):
            mouse.move(x + dx * i / steps, y + dy * i / steps)
        mouse.up()
        self.until(f"(document.querySelector('[data-drawing]').dataset.dropped || '') !== {json.dumps(before)}")

    def touch(self) -> None:
        """Move the point until it reacts, and give it up."""
        mouse = self.page.mouse
        x, y = self.place()
        mouse.move(x, y)
        mouse.down()
        mouse.move(x + 5, y)
        turn = 0
        while not self.watched("grip"):
            turn += 1
            mouse.move(x + 5 + turn % 5, y)
        self.page.keyboard.press("Escape")
        mouse.up()

    def post(self, action: str, **fields: str) -> dict[str, Any]:
        """Do what a form of the page would do, and return the answer."""
        found: dict[str, Any] = self.page.evaluate(
            "async ([action, fields]) => (await fetch('/do/' + action, { method: 'POST',"
            " body: new URLSearchParams(fields), headers: { Accept: 'application/json' } })).json()",
            [action, fields],
        )
        return found

    def processor_time(self) -> float:
        """Return the processor time that the tab has taken [ms]."""
        tools = self.page.context.browser.new_browser_cdp_session()
        try:
            processes = tools.send("SystemInfo.getProcessInfo")["processInfo"]
        finally:
            tools.detach()
        return 1000.0 * sum(float(one["cpuTime"]) for one in processes if one["type"] == "renderer")

    def held(self) -> dict[str, float]:
        """Return what the tab holds after its rubbish was taken out: heap of its scripts [MB], nodes, listeners."""
        tools = self.page.context.new_cdp_session(self.page)
        try:
            for _ in range(3):
                tools.send("HeapProfiler.collectGarbage")
            heap = tools.send("Runtime.getHeapUsage")["usedSize"] / 1e6
            counted = tools.send("Memory.getDOMCounters")
        finally:
            tools.detach()
        return {"script heap": heap, "nodes": counted["nodes"], "listeners": counted["jsEventListeners"]}

    def settle(self) -> None:
        """Wait until nothing has come for a while."""
        seen, still = -1, 0
        while still < 4:
            now = self.page.evaluate("watched.received.length")
            seen, still = now, still + 1 if now == seen else 0
            time.sleep(0.15)


EMPTY = """<!DOCTYPE html><meta charset="utf-8"><title>Empty</title>
<div data-drawing data-ready="yes" style="position:fixed;inset:0">
<button class="grip" data-path="mark"
style="position:absolute;left:300px;top:300px;width:44px;height:44px"></button></div>
<script>
const grip = document.querySelector(".grip");
let held = false;
grip.addEventListener("pointerdown", () => { held = true; });
addEventListener("pointerup", () => { held = false; grip.style.transform = ""; });
document.addEventListener("pointermove", (event) => {
  if (!held) return;
  grip.style.transform = `translate(${event.clientX - 322}px, ${event.clientY - 322}px)`;
  performance.mark("grip");
});
</script>"""
"""A page that does nothing but shift one mark after the pointer."""


@contextlib.contextmanager
def empty_tab(browser: Any) -> Iterator[Tab]:
    """Yield a tab that does nothing but shift one mark after the pointer."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.add_init_script(path=str(WATCH))
    try:
        # A page without an address would not be watched.
        page.route("**/*", lambda route: route.fulfill(body=EMPTY, content_type="text/html"))
        page.goto("http://127.0.0.1/")
        yield Tab(page, "mark")
    finally:
        context.close()


@contextlib.contextmanager
def tab(browser: Any, address: str, *, wait: bool = True, requests: list[Any] | None = None) -> Iterator[Tab]:
    """Yield a tab of the board in a new profile; without `wait` as soon as its points are there.

    What it asked for is added to `requests`.
    """
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.add_init_script(path=str(WATCH))
    if requests is not None:
        page.on("requestfinished", lambda request: requests.append(request))
    try:
        one = Tab(page)
        page.goto(address, wait_until="commit")
        one.until("window.watched && watched.ready")
        one.choose()
        if wait:
            one.until("watched.verdicts && document.body.dataset.linked === 'yes'")
            one.settle()
        yield one
    finally:
        context.close()


def launch(playwright: Any, *arguments: str) -> Any:
    """Return a running Chromium."""
    always = ["--no-sandbox", "--disable-gpu"]
    return playwright.chromium.launch(executable_path=chromium(), args=[*always, *arguments])
