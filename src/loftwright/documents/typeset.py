"""The only module that knows the typesetter: a template and data go in, PDF bytes come out.

Data reach the template as JSON and are never pasted into its source. Fonts come with the package,
so every machine sets the same page; a warning of the typesetter is an error here.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import as_file, files
from typing import Any

from loftwright.core.choices import Spelling
from loftwright.core.errors import Bug
from loftwright.core.spelling import spelled
from loftwright.documents.respelled import respelled

_ROOM = "loftwright.documents"


def template_text(name: str) -> str:
    """Return a file of the package's templates."""
    return files(_ROOM).joinpath("templates", name).read_text(encoding="utf-8")


def printable(value: Any) -> Any:
    """Return `value` with every text in it freed of control characters, through lists and mappings."""
    if isinstance(value, str):
        if value.isprintable():
            return value
        return "".join(" " if c in "\t\r\n" else c for c in value if c.isprintable() or c in "\t\r\n")
    if isinstance(value, Mapping):
        return {key: printable(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [printable(item) for item in value]
    return value


_BEFORE = {"book.typ": ("chapter.typ", "hold.typ", "walls.typ", "fitout.typ", "parts.typ", "work.typ", "cards.typ")}
"""Parts that stand before a template."""
_QUOTED = re.compile(r'"[^"\n]*"')


def _source(template: str, words: Spelling) -> str:
    """Return the source of a template with its quoted texts in the spelling asked for.

    What it shares stands before the template, so that the typesetter reads no file at all.
    """
    source = "\n".join(template_text(name) for name in ("sheet.typ", *_BEFORE.get(template, ()), template))
    return source if words == "kerb" else _QUOTED.sub(lambda found: spelled(found[0], words), source)


def _inputs(data: Mapping[str, Any], words: Spelling, own: tuple[str, ...]) -> dict[str, str]:
    """Return data as the typesetter takes it, in the spelling asked for; names of the builder's `own` stay."""
    return {"data": json.dumps(respelled(printable(data), words, own), ensure_ascii=False)}


def pdf(template: str, data: Mapping[str, Any], words: Spelling = "kerb", own: tuple[str, ...] = ()) -> bytes:
    """Return the PDF that `template` (a file of the package) makes of `data`; the same bytes for the same data.

    `words` is the spelling, in which the builder's `own` names stay as they are.
    """
    import typst

    source = _source(template, words)
    with as_file(files(_ROOM).joinpath("fonts")) as fonts:
        output, warnings = typst.compile_with_warnings(
            source.encode("utf-8"),
            font_paths=typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(fonts)]),
            ignore_system_fonts=True,
            format="pdf",
            sys_inputs=_inputs(data, words, own),
            timestamp=0,
        )
    if warnings:
        raise Bug(f"the typesetter warns about {template}: " + "; ".join(str(w.message) for w in warnings))
    if not isinstance(output, bytes):
        raise Bug(f"the typesetter returned no single file for {template}")
    return output


@dataclass(frozen=True, slots=True)
class Printed:
    """A document of several pages: its bytes, how many pages, and its chapters with the page each begins on."""

    data: bytes
    pages: int
    chapters: tuple[tuple[str, int], ...]


def chaptered(template: str, data: Mapping[str, Any], words: Spelling = "kerb", own: tuple[str, ...] = ()) -> Printed:
    """Return what `template` makes of `data`, as `pdf` does, with what the template writes as metadata.

    A chapter's mark holds `title` and `page`; the last mark of all is the number of pages.
    """
    import typst

    source = _source(template, words).encode("utf-8")
    with as_file(files(_ROOM).joinpath("fonts")) as fonts:
        found = typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(fonts)])
        inputs = _inputs(data, words, own)
        output, warnings = typst.compile_with_warnings(
            source, font_paths=found, ignore_system_fonts=True, format="pdf", sys_inputs=inputs, timestamp=0
        )
        if warnings:
            raise Bug(f"the typesetter warns about {template}: " + "; ".join(str(w.message) for w in warnings))
        # The same source and data a second time: the typesetter remembers most of its work.
        found_marks = json.loads(
            typst.query(
                source, "metadata", field="value", font_paths=found, ignore_system_fonts=True, sys_inputs=inputs
            )
        )
    if not isinstance(output, bytes):
        raise Bug(f"the typesetter returned no single file for {template}")
    marks = [mark for mark in found_marks if isinstance(mark, dict)]
    return Printed(output, int(found_marks[-1]), tuple((str(mark["title"]), int(mark["page"])) for mark in marks))
