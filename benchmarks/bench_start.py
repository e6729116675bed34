"""How long a builder waits: for help, for a first answer, and for one changed number.

    python3 dev.py bench

Each figure is the best of several runs and stands beside what the same Python needs to start and do
nothing, measured in turn with it, so that figures from two machines can be compared by their ratio.
The limits are those the program is held to: 2 s for `check` in a new process, 100 ms for a changed number.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from importlib import resources
from pathlib import Path

RUNS = 5
CHECK_LIMIT = 2.0
CHANGE_LIMIT = 0.1


def loftwright() -> str:
    """Return the path of the program installed beside this Python."""
    path = shutil.which("loftwright", path=str(Path(sys.executable).parent))
    if path is None:
        raise SystemExit("loftwright is not installed beside this Python: run python3 dev.py bench")
    return path


def process(*command: str) -> Callable[[], None]:
    """Return a call that runs a command in a new process and lets no failure pass."""

    def call() -> None:
        ran = subprocess.run(command, capture_output=True, text=True)
        if ran.returncode:
            raise SystemExit(f"{' '.join(command)} ended with {ran.returncode}:\n{ran.stderr or ran.stdout}")

    return call


def best_of_each(calls: dict[str, Callable[[], None]], runs: int = RUNS) -> dict[str, float]:
    """Return the shortest time of each call [s]; the calls take turns, so that a busy machine hits all alike."""
    best = dict.fromkeys(calls, float("inf"))
    for call in calls.values():
        call()
    for _ in range(runs):
        for name, call in calls.items():
            started = time.perf_counter()
            call()
            best[name] = min(best[name], time.perf_counter() - started)
    return best


def a_changed_number(project: Path) -> Callable[[], None]:
    """Return a call that answers the project anew with one number changed, in this process, ready to be shown.

    The number is another one at each call, so that nothing can be found ready.
    """
    from loftwright.answers.judged_roof import judged_roof
    from loftwright.answers.views import roof_page
    from loftwright.project.file import edited, loads

    first = project.read_text(encoding="utf-8")
    turn = 0

    def call() -> None:
        nonlocal turn
        turn += 1
        roof_page(judged_roof(loads(edited(first, {"spring.0.force": f"{700 + turn} N, label"}))))

    return call


def main() -> int:
    with resources.as_file(resources.files("loftwright.project") / "demos") as demos:
        project = min(demos.glob("*.toml"))
        calls = {
            "python, nothing": process(sys.executable, "-c", "pass"),
            "loftwright --help": process(loftwright(), "--help"),
            "loftwright check, new process": process(loftwright(), "check", str(project)),
            "one changed number": a_changed_number(project),
        }
        times = best_of_each(calls)
    bare = times["python, nothing"]
    for name, seconds in times.items():
        print(f"{name:32s} {seconds * 1000:8.1f} ms   {seconds / bare:6.2f} x bare Python")
    slow = times["loftwright check, new process"] > CHECK_LIMIT or times["one changed number"] > CHANGE_LIMIT
    print("over the limit" if slow else f"within the limits of {CHECK_LIMIT:g} s and {CHANGE_LIMIT * 1000:g} ms")
    return int(slow)


if __name__ == "__main__":
    sys.exit(main())
