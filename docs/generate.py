"""Write the pages of docs/ that come from the code: rules, commands, project file, Python API and the tutorial.

Run by `python3 dev.py pages`. A test compares what stands in docs/ with what this would write.
"""

from __future__ import annotations

import dataclasses
import importlib
import importlib.util
import inspect
import pkgutil
import re
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

DOCS = Path(__file__).parent
NOTE = "<!-- Written from the code by `python3 dev.py pages`; change the code, not this page. -->\n"


def modules() -> Iterator[ModuleType]:
    """Yield every module of the package."""
    import loftwright

    for info in pkgutil.walk_packages(loftwright.__path__, "loftwright."):
        if not info.name.endswith("__main__"):
            yield importlib.import_module(info.name)


# --- rules -----------------------------------------------------------------------------------------


def _within(value: Any, kind: type, depth: int = 4) -> Iterator[Any]:
    """Yield the objects of a kind that a value is or holds: in tables, and in the fields of our own dataclasses."""
    if isinstance(value, kind):
        yield value
    if depth == 0 or isinstance(value, type):
        return
    inner: Any = ()
    if isinstance(value, dict):
        inner = value.values()
    elif isinstance(value, tuple | list | set | frozenset):
        inner = value
    elif dataclasses.is_dataclass(value):
        inner = (getattr(value, field.name) for field in dataclasses.fields(value))
    for part in inner:
        yield from _within(part, kind, depth - 1)


def _named(kind: type) -> list[Any]:
    """Return, once each, every object of a kind that stands in a module under a name or within one."""
    values = (value for module in modules() for value in list(vars(module).values()))
    return list(dict.fromkeys(found for value in values for found in _within(value, kind)))


def all_rules() -> list[Any]:
    """Return every Rule of the package by id; two different rules under one id are both returned."""
    from loftwright.core.checks import Rule

    return sorted(_named(Rule), key=lambda rule: (rule.id, rule.title))


def all_sources() -> list[Any]:
    """Return every Source of the package."""
    from loftwright.core.checks import Source

    return sorted(_named(Source), key=lambda source: (source.key, source.locator))


def bibliography() -> dict[str, dict[str, str]]:
    """Return the entries of docs/references.bib by their key; each holds its fields as plain text."""
    text = (DOCS / "references.bib").read_text(encoding="utf-8")
    entries: dict[str, dict[str, str]] = {}
    for kind, key, body in re.findall(r"^@(\w+)\{([^,\s]+),\n(.*?)^\}$", text, re.MULTILINE | re.DOTALL):
        fields = dict(re.findall(r"^ *(\w+) *= *\{(.*)\},?$", body, re.MULTILINE))
        if key in entries:
            raise ValueError(f"docs/references.bib holds {key} twice")
        entries[key] = {"kind": kind, **fields}
    return entries


def known_sources() -> dict[str, dict[str, str]]:
    """Return the entries by key and by `label`, the short name as it is printed: a Source may use either."""
    entries = bibliography()
    return entries | {entry["label"]: entry for entry in entries.values() if "label" in entry}


def reference(key: str) -> str:
    """Return a bibliography entry as one line."""
    entry = known_sources()[key]
    parts = [entry.get(field, "") for field in ("author", "title", "edition", "publisher", "year", "note")]
    return ". ".join(part for part in parts if part) + "."


UNIT_WORDS = {
    "1": "as a bare number",
    "count": "as a number of things",
    "yes or no": "as yes (1) or no (0)",
    "fraction": "as a share of the travel",
    "N": "as a force in a part",
    "hand N": "as a force of the hand",
    "N m": "as a moment",
    "N/m": "as a force per length",
    "Pa": "as a pressure",
    "m": "as a length",
    "short m": "as a small length",
    "m2": "as an area",
    "m/s": "as a speed",
    "kg": "as a mass",
    "rad": "as an angle",
    "s": "as a time",
}


def rule_page(rule: Any) -> str:
    """Return the page of one rule."""
    return f"""{NOTE}
# {rule.title}

`{rule.id}` · holds while the value is {rule.sense} the limit · given {UNIT_WORDS[rule.unit]}

When it holds: {rule.promise[0].lower()}{rule.promise[1:]}.

## Why this limit exists

{rule.reason}

## What you can change

{rule.remedy}

## Where it comes from

{rule.source.kind.capitalize()}{f", {rule.source.locator}" if rule.source.locator else ""}: {reference(rule.source.key)}
"""


def rule_index(rules: list[Any]) -> str:
    """Return the list of all rules."""
    rows = "\n".join(f"| [{rule.id}]({rule.id}.md) | {rule.title} | {rule.source.kind} |" for rule in rules)
    return f"""{NOTE}
# What is checked

Each rule holds, fails, or is not known yet; the last one says what to measure. The limits themselves
depend on your project: `loftwright check` prints them beside each value.

| rule | danger | kind of source |
| --- | --- | --- |
{rows}
"""


# --- commands --------------------------------------------------------------------------------------


def commands() -> dict[str, Any]:
    """Return the terminal's commands by name, as objects with `help` and `params`."""
    from typer.main import get_command

    from loftwright.cli.main import app

    top: Any = get_command(app)
    return {name: command for name, command in sorted(top.commands.items()) if not command.hidden}


def parameters(command: Any) -> list[tuple[str, str, str]]:
    """Return name, default and help of each argument and option."""
    rows = []
    for parameter in command.params:
        if getattr(parameter, "hidden", False) or parameter.name == "help":
            continue
        is_option = parameter.param_type_name == "option"
        name = ", ".join([*parameter.opts, *parameter.secondary_opts]) if is_option else parameter.name.upper()
        default = parameter.default
        shown = "needed" if parameter.required else "" if default in (None, False, ()) or callable(default) else default
        rows.append((name, str(shown), (getattr(parameter, "help", None) or "").strip()))
    return rows


def commands_page() -> str:
    """Return the page of all commands."""
    parts = [
        NOTE,
        "# Commands\n",
        "Exit codes: 0 answered, whatever the verdicts; 1 a verdict fails and `--strict` was given; "
        "2 the input is at fault; 70 a bug of ours; 130 stopped from the keyboard. The results as JSON are explained "
        "in [the results as JSON](json.md).\n",
    ]
    for name, command in commands().items():
        usage = " ".join(
            parameter.name.upper() if parameter.required else f"[{parameter.name.upper()}]"
            for parameter in command.params
            if parameter.param_type_name == "argument"
        )
        parts.append(f"## loftwright {name}\n\n```\nloftwright {name} {usage + ' ' if usage else ''}[options]\n```\n")
        parts.append(inspect.cleandoc(command.help or "") + "\n")
        rows = parameters(command)
        if rows:
            parts.append("| option | default | meaning |\n| --- | --- | --- |")
            parts.extend(f"| `{option}` | {default} | {text} |" for option, default, text in rows)
            parts.append("")
        if command.epilog:
            examples, _, rest = inspect.cleandoc(command.epilog.removeprefix("\b\n")).partition("\n\n")
            lines = [line.removeprefix("  ") for line in examples.splitlines()[1:]]
            parts.append("\n".join(["```", *lines, "```"]) + "\n")
            if rest:
                parts.append(rest + "\n")
    return "\n".join(parts)


# --- the project file ------------------------------------------------------------------------------


def project_page() -> str:
    """Return the page of all keys of the project file, which the model writes itself."""
    from loftwright.project.schema import reference_page

    return reference_page()


# --- the Python API --------------------------------------------------------------------------------


def public_names() -> list[str]:
    """Return the names that `import loftwright` offers."""
    import loftwright

    return sorted(loftwright.__all__)


def python_page() -> str:
    """Return the page of the public Python API."""
    import loftwright

    parts = [
        NOTE,
        "# From Python\n",
        "Everything below is imported from `loftwright`. Numbers are in SI units and radians. "
        "A worked example: [how to answer from Python](../how-to/from-python.md).\n",
    ]
    for name in public_names():
        value = getattr(loftwright, name)
        head = name
        if inspect.isfunction(value):
            head = name + str(inspect.signature(value))
        doc = inspect.getdoc(value) if inspect.isfunction(value) or inspect.isclass(value) else ""
        parts.append(f"## {name}\n\n```python\n{head}\n```\n\n{doc or ''}".rstrip() + "\n")
    return "\n".join(parts)


# --- the tutorial ----------------------------------------------------------------------------------


@cache
def tutorial_page() -> str:
    """Return the tutorial with what its commands print now."""
    spec = importlib.util.spec_from_file_location("tutorial_source", DOCS / "tutorial_source.py")
    if spec is None or spec.loader is None:
        raise ImportError("docs/tutorial_source.py is missing")
    source = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(source)
    return f"{NOTE}\n{source.page()}"


# --- writing ---------------------------------------------------------------------------------------


def pages() -> dict[str, str]:
    """Return the text of every generated page by its path under docs/."""
    rules = all_rules()
    found = {f"checks/{rule.id}.md": rule_page(rule) for rule in rules}
    found["checks/index.md"] = rule_index(rules)
    found["reference/commands.md"] = commands_page()
    found["reference/project-file.md"] = project_page()
    found["reference/python.md"] = python_page()
    found["tutorial.md"] = tutorial_page()
    return {path: text.rstrip() + "\n" for path, text in found.items()}


def main() -> int:
    """Write the pages that changed and take away those of rules that are gone."""
    written = pages()
    for old in (DOCS / "checks").glob("*.md"):
        if f"checks/{old.name}" not in written:
            old.unlink()
            print(f"taken away: docs/checks/{old.name}")
    for path, text in written.items():
        file = DOCS / path
        if not file.exists() or file.read_text(encoding="utf-8") != text:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text, encoding="utf-8", newline="\n")
            print(f"written: docs/{path}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
