#!/usr/bin/env python3
"""Set up and run Loftwright from a fresh copy, with nothing but Python.

    python3 dev.py demo          answer the demo project and leave the papers in demo-output
    python3 dev.py test          every check and every test
    python3 dev.py test ARGS     only pytest, with these arguments (a folder, -k name, ...)
    python3 dev.py lint          style, types and floors, without the tests
    python3 dev.py bench         measure starting, answering and searching times
    python3 dev.py bench NAME    one benchmark: benchmarks/bench_NAME.py; board measures the drawing board in Chromium
    python3 dev.py pages         write the generated pages of docs/ again
    python3 dev.py pictures      take the pictures of the drawing board in docs/ again (needs Chromium)
    python3 dev.py lock          write constraints.txt again (uses uv)
    python3 dev.py help          this text

The first run makes the folder .venv beside this file and installs into it; later runs start at
once until pyproject.toml or constraints.txt change.
"""

import hashlib
import json
import os
import shutil
import subprocess
import sys
import time

NEEDED = (3, 11)
HERE = os.path.dirname(os.path.abspath(__file__))
VENV = os.path.join(HERE, ".venv")
STAMP = os.path.join(VENV, "loftwright-setup.json")
CONSTRAINTS = os.path.join(HERE, "constraints.txt")
PYPROJECT = os.path.join(HERE, "pyproject.toml")

RUN = "run"
"""What using Loftwright needs."""
DEV = "dev"
"""That, and what the tests need."""


class Refusal(Exception):
    """Something the reader can mend; shown as one sentence."""


def say(text: str) -> None:
    print(text, flush=True)


def in_venv(name: str) -> str:
    """Return the path of a program in .venv, on any system."""
    if os.name == "nt":
        return os.path.join(VENV, "Scripts", name + ".exe")
    return os.path.join(VENV, "bin", name)


# --- setting up ------------------------------------------------------------------------------------


def check_python(version: tuple) -> None:
    if tuple(version[:2]) < NEEDED:
        raise Refusal(
            "Loftwright needs Python {}.{} or newer and this is {}.{}: "
            "install a newer Python and start this script with it.".format(*NEEDED, *version[:2])
        )


def check_venv_modules() -> None:
    try:
        import ensurepip  # noqa: F401
        import venv  # noqa: F401
    except ImportError:
        raise Refusal(
            "This Python cannot make virtual environments: install its venv module "
            "(on Debian and Ubuntu: apt install python3-venv) and run this again."
        ) from None


def setup_key() -> str:
    """Return a fingerprint of everything that decides what .venv must hold."""
    digest = hashlib.sha256()
    for path in (PYPROJECT, CONSTRAINTS):
        with open(path, "rb") as file:
            digest.update(file.read() + b"\0")
    digest.update(repr((sys.version_info[:3], sys.implementation.name, HERE)).encode())
    return digest.hexdigest()


def is_ready(wanted: str) -> bool:
    """Return whether .venv already holds the wanted set; the dev set holds the run set too."""
    try:
        with open(STAMP, encoding="utf-8") as file:
            stamp = json.load(file)
    except (OSError, ValueError):
        return False
    enough = stamp.get("set") in ((RUN, DEV) if wanted == RUN else (DEV,))
    return enough and stamp.get("key") == setup_key() and os.path.exists(in_venv("python"))


def venv_is_sound() -> bool:
    """Return whether .venv has a working pip under the Python that runs this script."""
    if not os.path.exists(in_venv("python")):
        return False
    question = "import sys, pip; print(*sys.version_info[:3])"
    try:
        answer = subprocess.run([in_venv("python"), "-c", question], capture_output=True, text=True)
    except OSError:
        return False
    return answer.returncode == 0 and answer.stdout.split() == [str(part) for part in sys.version_info[:3]]


def set_up(wanted: str) -> None:
    """Make .venv and install the wanted set, unless that is done already."""
    if is_ready(wanted):
        return
    started = time.monotonic()
    # The stamp goes first and comes back last: whatever interrupts this is seen at the next run.
    if os.path.exists(STAMP):
        os.remove(STAMP)
    if not venv_is_sound():
        check_venv_modules()
        say("Making a private Python environment in .venv ...")
        made = subprocess.run([sys.executable, "-m", "venv", "--clear", VENV])
        if made.returncode:
            raise Refusal("The environment could not be made: see the message above, and run this again.")
    what = "what Loftwright needs" if wanted == RUN else "what Loftwright and its tests need"
    say("Installing {} into .venv (once; a minute or three) ...".format(what))
    install(["-e", HERE if wanted == RUN else HERE + "[dev]"])
    with open(STAMP + ".part", "w", encoding="utf-8") as file:
        json.dump({"key": setup_key(), "set": wanted}, file)
    os.replace(STAMP + ".part", STAMP)
    say("Set up in {:.0f} s.".format(time.monotonic() - started))


def install(what: list) -> None:
    """Run pip with the constraints and show what it is doing."""
    command = [in_venv("python"), "-m", "pip", "install", "--progress-bar", "off", "--disable-pip-version-check"]
    pip = subprocess.Popen(
        [*command, "-c", CONSTRAINTS, *what],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
        cwd=HERE,
    )
    lines = []
    fetched = 0
    try:
        for line in pip.stdout:
            lines.append(line.rstrip())
            name = line.split()[1] if line.startswith(("Collecting ", "Processing ")) else ""
            if name.endswith(".whl"):
                name = "-".join(os.path.basename(name).split("-")[:2])
            if name:
                fetched += 1
                progress("  {:3d}  {}".format(fetched, name))
            elif line.startswith("Installing collected packages"):
                progress("  putting {} packages in place".format(line.count(",") + 1))
    except BaseException:
        pip.kill()
        pip.wait()
        raise
    finally:
        pip.stdout.close()
    progress("")
    if pip.wait():
        say("\n".join([line for line in lines if not line.startswith("WARNING")][-12:]))
        raise Refusal("Installing failed: the lines above say why; check the network connection and run this again.")


def progress(text: str) -> None:
    """Show where a long step stands: one changing line on a terminal, one line each elsewhere."""
    if sys.stdout.isatty():
        sys.stdout.write("\r" + text.ljust(60) + ("" if text else "\r"))
        sys.stdout.flush()
    elif text:
        say(text)


# --- commands --------------------------------------------------------------------------------------


def run(command: list) -> int:
    """Run a command in the project's folder and return its exit code."""
    environment = dict(os.environ)
    # Without kept bytecode each of the many processes of the tests would compile everything again.
    for name in ("PYTHONHOME", "PYTHONPATH", "PYTHONDONTWRITEBYTECODE"):
        environment.pop(name, None)
    return subprocess.run(command, cwd=HERE, env=environment).returncode


def demo(rest: list) -> int:
    set_up(RUN)
    say("Answering the demo project; the papers go to demo-output ...")
    return run([in_venv("loftwright"), "demo", "--out", "demo-output", *rest])


STATIC = (
    ("style", ["ruff", "check", "."]),
    ("layout", ["ruff", "format", "--check", "."]),
    ("types", ["mypy"]),
    ("floors", ["lint-imports", "--no-logo"]),
)


def lint(rest: list) -> int:
    set_up(DEV)
    failed = []
    for title, command in STATIC:
        say("Checking {} ({}) ...".format(title, " ".join(command)))
        if run([in_venv(command[0]), *command[1:]]):
            failed.append(title)
    if failed:
        say("Not in order: {}.".format(", ".join(failed)))
    return 1 if failed else 0


def test(rest: list) -> int:
    set_up(DEV)
    pytest = [in_venv("python"), "-m", "pytest"]
    if rest:
        # Part of the tests covers part of the code, so the floor under coverage is left out.
        return run(pytest + rest)
    if lint([]):
        return 1
    say("Running the tests ...")
    # Three on two cores: tests with a browser wait more than they work.
    return run([*pytest, "-n", "3", "--dist", "worksteal", "--cov", "--cov-report=term"])


BENCHMARKS = ("start", "choice_speed", "worlds")
"""Those that take no longer than a few minutes; the others run by name."""


def bench(rest: list) -> int:
    # The searches are set beside a general optimiser, which only the dev set has.
    set_up(DEV)
    names, arguments = (BENCHMARKS, []) if not rest else (rest[:1], rest[1:])
    paths = [os.path.join("benchmarks", "bench_{}.py".format(name)) for name in names]
    for path in paths:
        if not os.path.exists(os.path.join(HERE, path)):
            raise Refusal("There is no benchmark {}.".format(path))
    return max([run([in_venv("python"), path, *arguments]) for path in paths])


def pages(rest: list) -> int:
    set_up(RUN)
    return run([in_venv("python"), os.path.join("docs", "generate.py"), *rest])


def pictures(rest: list) -> int:
    set_up(DEV)
    return run([in_venv("python"), os.path.join("docs", "take_pictures.py"), *rest])


def lock(rest: list) -> int:
    uv = shutil.which("uv") or in_venv("uv")
    if not os.path.exists(uv):
        set_up(RUN)
        say("Installing uv into .venv ...")
        install(["uv"])
    command = "pip compile pyproject.toml --all-extras --universal --python-version 3.11 --no-header --no-annotate"
    code = run([uv, *command.split(), "--quiet", "-o", "constraints.txt", *rest])
    with open(CONSTRAINTS, encoding="utf-8") as file:
        if ":" + "//" in file.read():
            raise Refusal("constraints.txt now holds an address: take it out before you keep the file.")
    return code


def show_help(rest: list) -> int:
    say(__doc__.strip())
    return 0


COMMANDS = {
    "demo": demo,
    "test": test,
    "lint": lint,
    "bench": bench,
    "pages": pages,
    "pictures": pictures,
    "lock": lock,
    "help": show_help,
    "-h": show_help,
    "--help": show_help,
}


def main(arguments: list) -> int:
    name = arguments[0] if arguments else "help"
    try:
        check_python(sys.version_info)
        if name not in COMMANDS:
            known = ", ".join(key for key in COMMANDS if not key.startswith("-"))
            raise Refusal("There is no command '{}': use one of {}.".format(name, known))
        return COMMANDS[name](arguments[1:])
    except Refusal as refusal:
        print(refusal, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("\nStopped; run it again to carry on.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
