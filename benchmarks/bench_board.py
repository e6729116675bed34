"""The drawing board in a real browser: how soon a point follows its pointer, the curves the point, a page its address.

    python3 dev.py bench board                      about five minutes; needs Chromium
    python3 dev.py bench board --quick              about a minute: fewer moves, one demo
    python3 dev.py bench board --part drag          one part: drag, search, far, load, memory
    python3 dev.py bench board --json               the same figures as one line of JSON

A board in a process of its own, a tab in a new profile, moves of the mouse at any moment of a frame. Each figure is
matched move by move. A screen shows nothing between two of its frames, and Chromium hands moves over at the beginning
of one; so the wait for the frame is part of "move to painted", and the same moves on an empty page that shifts one
mark stand beside it. Frames come 60 times a second.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from importlib import resources
from pathlib import Path
from typing import Any

from board_browser import Tab, board, delayed, empty_tab, launch, tab

ROUND_TRIP = 0.060
SEARCH_DRAWS = 2000
"""Roofs that the search beside the drag tries its springs on: so many that it outlasts the drag."""
TURNS = 3
"""How often the drag beside a search and the drag alone take turns."""
WARM_UP = 20
"""Drags before the memory is looked at."""
FIFTHS = 5


@dataclass(frozen=True)
class Row:
    """One figure: of what, its unit, and the most that it may be; without `target` it is for information."""

    name: str
    value: float
    unit: str = "ms"
    target: float | None = None
    note: str = ""

    @property
    def verdict(self) -> str:
        return "" if self.target is None else "within" if self.value <= self.target else "beyond"

    def line(self) -> str:
        target = "" if self.target is None else f"{self.target:g}"
        return f"  {self.name:66s} {self.value:9.1f} {target:>6s} {self.unit:9s} {self.verdict:7s} {self.note}".rstrip()


def share(values: Sequence[float], part: float) -> float:
    """Return the value below which `part` [1] of them lie."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(part * len(ordered)))]


@dataclass(frozen=True)
class Drag:
    """What was measured over one drag [ms]: each move, each answer drawn, how many were sent and refused."""

    moves: list[list[float]]
    curves: list[list[float]]
    tries: int
    refused: int

    @classmethod
    def of(cls, one: Tab, moves: int) -> Drag:
        one.forget()
        one.drag(moves)
        one.settle()
        return cls(*(one.watched(name) for name in ("moves", "curves", "tries", "refused")))

    def followed(self) -> list[float]:
        return [painted - sent for sent, _, painted in self.moves]

    def drawn(self) -> list[float]:
        return [painted - handed for _, handed, painted in self.moves]

    def answered(self) -> list[float]:
        return [one[4] - one[0] for one in self.curves]


# --- the parts -------------------------------------------------------------------------------------


def drags(playwright: Any, demos: Sequence[Path], moves: int) -> Iterator[Row]:
    """A point led about, on each demo, and the same moves on an empty page."""
    browser = launch(playwright)
    with empty_tab(browser) as one:
        one.drag(20)
        bare = Drag.of(one, moves).followed()
    yield Row("empty page: move to painted, median", statistics.median(bare))
    yield Row("empty page: move to painted, p95", share(bare, 0.95))
    for demo in demos:
        name = demo.stem
        with board(demo) as server, tab(browser, server.address) as one:
            one.drag(20)
            before = server.processor_time(), one.processor_time()
            found = Drag.of(one, moves)
            took = server.processor_time() - before[0], one.processor_time() - before[1]
            sizes = [size for kind, size in one.watched("received") if kind == "trial"]
        yield from of_drag(name, found)
        over = share(found.followed(), 0.95) - share(bare, 0.95)
        yield Row(f"{name}: move to painted, p95, over the empty page", over)
        yield Row(f"{name}: processor time of the server for one answer", took[0] / max(found.tries, 1))
        yield Row(f"{name}: processor time of the tab for one move", took[1] / max(len(found.moves), 1))
        yield Row(f"{name}: one answer while dragging", statistics.median(sizes) / 1000, "kB")
    browser.close()


def of_drag(name: str, found: Drag, *, far: bool = False) -> Iterator[Row]:
    followed, drawn, answered = found.followed(), found.drawn(), found.answered()
    yield Row(f"{name}: move to painted, median", statistics.median(followed))
    yield Row(f"{name}: move to painted, p95", share(followed, 0.95), note="with the wait for the frame")
    yield Row(f"{name}: move handed over to painted, p95", share(drawn, 0.95), target=16)
    note = f"{len(answered)} of {found.tries} sent, {found.refused} refused, {len(found.moves)} moves"
    yield Row(f"{name}: move to its curves, median", statistics.median(answered), note=note)
    yield Row(f"{name}: move to its curves, p95", share(answered, 0.95), target=None if far else 60)


def far(playwright: Any, demos: Sequence[Path], moves: int) -> Iterator[Row]:
    """The same over a slow network."""
    with board(demos[0]) as server, delayed(server.port, ROUND_TRIP / 2) as port:
        # The browser believes that it speaks to the board itself; else it would not be let in.
        browser = launch(playwright, f"--host-resolver-rules=MAP localhost:{server.port} 127.0.0.1:{port}")
        with tab(browser, server.address.replace("127.0.0.1", "localhost")) as one:
            one.drag(20)
            found = Drag.of(one, moves)
        browser.close()
    yield from of_drag(f"{demos[0].stem}, {ROUND_TRIP * 1000:.0f} ms there and back", found, far=True)


def beside_a_search(playwright: Any, demos: Sequence[Path], moves: int) -> Iterator[Row]:
    """The same drag alone and while the other process searches springs, taking turns."""
    browser = launch(playwright)
    alone, during = [], []
    outlasted = 0
    with board(demos[0]) as server, tab(browser, server.address) as one:
        one.drag(20)
        for _ in range(TURNS):
            alone.append(Drag.of(one, moves // TURNS))
            while not one.post("search-springs", list="along", draws=str(SEARCH_DRAWS))["ok"]:
                time.sleep(0.1)
            time.sleep(1.0)
            during.append(Drag.of(one, moves // TURNS))
            # It can be stopped only while it is under way.
            outlasted += one.post("stop-springs")["ok"]
            one.settle()
    browser.close()
    note = f"{outlasted} of {TURNS} searches outlasted their drag"
    for name, of in (("move handed over to painted", Drag.drawn), ("move to its curves", Drag.answered)):
        before, beside = ([ms for drag in found for ms in of(drag)] for found in (alone, during))
        for part, how in ((0.5, "median"), (0.95, "p95")):
            yield Row(f"{name}, {how}, alone", share(before, part))
            yield Row(f"{name}, {how}, during a search", share(beside, part), note=note)
            yield Row(f"{name}, {how}, during a search to alone", share(beside, part) / share(before, part), "times")


def loads(playwright: Any, demos: Sequence[Path], runs: int) -> Iterator[Row]:
    """The first page of a board that has just been started, in a new profile; then the same page again."""
    found: dict[str, list[float]] = {}
    sent: list[tuple[int, float]] = []

    def note(name: str, seconds: float) -> None:
        found.setdefault(name, []).append(seconds)

    for run in range(runs):
        browser = launch(playwright)
        with board(demos[run % len(demos)]) as server:
            requests: list[Any] = []
            went = time.time()
            with tab(browser, server.address, wait=False, requests=requests) as one:
                one.touch()
                usable = one.epoch("grip")
                one.until("watched.verdicts && document.body.dataset.linked === 'yes'")
                note("process start to listening", server.listened - server.started)
                note("process start to usable", usable - server.started)
                note("address to usable", usable - went)
                note("process start to verdicts", one.epoch("verdicts") - server.started)
                one.settle()
                sent.append((len(requests), sum(size_of(request) for request in requests)))
                went = time.time()
                one.page.reload(wait_until="commit")
                one.until("window.watched && watched.ready")
                one.touch()
                note("reload to usable", one.epoch("grip") - went)
                one.until("watched.verdicts")
                note("reload to verdicts", one.epoch("verdicts") - went)
        browser.close()
    targets = {"process start to usable": 4.0, "reload to usable": 1.5}
    for name, times in found.items():
        yield Row(f"{name}, slowest of {runs}", max(times), "s", targets.get(name), f"fastest {min(times):.2f}")
    yield Row("requests of the first load", sent[-1][0], "")
    yield Row("bytes of the first load", sent[-1][1] / 1000, "kB")


def size_of(request: Any) -> float:
    sizes = request.sizes()
    return float(sizes["responseBodySize"] + sizes["responseHeadersSize"])


def memory(playwright: Any, demos: Sequence[Path], drags: int) -> Iterator[Row]:
    """What the tab, the server and the process for verdicts hold while a point is carried to and fro."""
    browser = launch(playwright)
    part = drags // FIFTHS
    held: list[dict[str, float]] = []
    with board(demos[0]) as server, tab(browser, server.address) as one:
        for _ in range(WARM_UP // 2):
            there_and_back(one)
        for _ in range(FIFTHS):
            # What a process has once needed it may keep or give back; so the most of each fifth is taken.
            most: dict[str, float] = {}
            for _ in range(part // 2):
                there_and_back(one)
                most = {name: max(most.get(name, 0.0), value) for name, value in server.memory().items()}
            one.settle()
            one.forget()
            held.append(one.held() | most)
    browser.close()
    may = {"nodes": 100.0, "listeners": 20.0, "script heap": 0.5, "server": 2.0, "verdicts": 2.0}
    for name in held[0]:
        unit = "" if name in ("nodes", "listeners") else "MB"
        row = [fifth.get(name, 0.0) for fifth in held]
        yield Row(f"{name} after {part} drags", row[0], unit, note=" ".join(f"{value:.1f}" for value in row[1:]))
        slope = (row[-1] - row[1]) / ((FIFTHS - 2) * part) * 100
        yield Row(f"{name}, more for each 100 drags", slope, unit, may.get(name), f"from {2 * part} to {drags}")


def there_and_back(one: Tab) -> None:
    one.carry(6.0, 0.0)
    one.carry(-6.0, 0.0)


# --- all of it -------------------------------------------------------------------------------------

PARTS = {"drag": drags, "search": beside_a_search, "far": far, "load": loads, "memory": memory}
FULL = {"drag": 150, "search": 150, "far": 100, "load": 8, "memory": 500}
QUICK = {"drag": 60, "search": 60, "far": 40, "load": 2, "memory": 100}


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--part", choices=[*PARTS, "all"], default="all")
    parser.add_argument("--quick", action="store_true", help="fewer moves, one demo")
    parser.add_argument("--demo", help="only this demo")
    parser.add_argument("--json", action="store_true")
    given = parser.parse_args(arguments)
    from playwright.sync_api import sync_playwright

    rows: dict[str, list[Row]] = {}
    loads_of_machine = {}
    with sync_playwright() as playwright, resources.as_file(resources.files("loftwright.project") / "demos") as folder:
        demos = sorted(folder.glob("*.toml"))
        if given.demo:
            demos = [demo for demo in demos if demo.stem == given.demo]
        if not demos:
            raise SystemExit("there is no such demo")
        for part in PARTS if given.part == "all" else [given.part]:
            before, started = os.getloadavg()[0], time.perf_counter()
            found = PARTS[part](playwright, demos[:1] if given.quick else demos, (QUICK if given.quick else FULL)[part])
            if not given.json:
                print(f"\n{(PARTS[part].__doc__ or '').strip()}", flush=True)
                print(f"  {'':66s} {'found':>9s} {'most':>6s}")
            rows[part] = []
            for row in found:
                rows[part].append(row)
                if not given.json:
                    print(row.line(), flush=True)
            loads_of_machine[part] = (before, os.getloadavg()[0])
            if not given.json:
                took = time.perf_counter() - started
                print(f"  (load of the machine {before:.1f} before, {os.getloadavg()[0]:.1f} after; {took:.0f} s)")
    beyond = [row for part in rows.values() for row in part if row.verdict == "beyond"]
    if given.json:
        parts = {part: [asdict(row) | {"verdict": row.verdict} for row in found] for part, found in rows.items()}
        print(json.dumps({"cores": os.cpu_count(), "load": loads_of_machine, "parts": parts}))
    else:
        names = ", ".join(row.name for row in beyond)
        print(f"\nbeyond its target: {names}" if beyond else "\nall within their targets")
    return int(bool(beyond))


if __name__ == "__main__":
    sys.exit(main())
