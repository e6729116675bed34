"""Adding keys, sections and entries to the text of a project file, where its comments stay with what they belong to."""

from __future__ import annotations

from typing import Any

from loftwright.project.changing import Maker


class TextMaker(Maker):
    """How new things are added to a text with comments."""

    def add_key(self, table: Any, key: str, value: Any) -> None:
        """Add a key right after the table's last one: comments at a table's end belong to the next table."""
        import tomlkit

        if not isinstance(table, tomlkit.items.Table):
            table[key] = value
            return
        body = table.value.body
        tail: list[Any] = []
        while body and body[-1][0] is None:
            tail.insert(0, body.pop()[1])
        if body:
            trivia = body[-1][1].trivia
            if not trivia.trail.endswith("\n"):
                trivia.trail = "\n"
        table.append(key, value)
        for item in tail:
            body.append((None, item))

    def add_section(self, document: Any, holder: Any, name: str) -> None:
        """Add a section without keys, at the end of the document or of the section that holds it."""
        import tomlkit

        if holder is document:
            _end_line(document)
            document.append(name, tomlkit.table())
        elif isinstance(holder, tomlkit.items.InlineTable):
            holder[name] = tomlkit.inline_table()
        else:
            tail = _take_tail(holder)
            section = tomlkit.table()
            holder.append(name, section)
            section.value.body.extend(tail)

    def add_list(self, document: Any, holder: Any, name: str) -> None:
        """Add a list: of sections in double brackets at the top, of inline tables or points within a section."""
        import tomlkit

        if holder is document:
            _end_line(document)
            document.append(name, tomlkit.aot())
            return
        entries = tomlkit.array().multiline(document is not None)
        if name in holder:
            holder[name] = entries
        else:
            self.add_key(holder, name, entries)

    def add_entry(self, entries: Any) -> None:
        """Add an empty entry at the end of a list."""
        import tomlkit

        if not isinstance(entries, tomlkit.items.AoT):
            entries.append(tomlkit.inline_table())
            return
        entry = tomlkit.table()
        if len(entries):
            entry.value.body.extend(_take_tail(entries[-1]))
        entries.append(entry)


def _take_tail(table: Any) -> list[Any]:
    """Take the comments off a table's end that belong to what follows: those behind an empty line if there is one."""
    import tomlkit

    body = table.value.body
    while body and isinstance(body[-1][1], tomlkit.items.Table) and body[-1][1].value.body:
        body = body[-1][1].value.body
    start = len(body)
    while start and body[start - 1][0] is None:
        start -= 1
    empty = (i for i in range(start, len(body)) if not body[i][1].as_string().strip())
    start = next(empty, start)
    tail = body[start:]
    del body[start:]
    if body and not body[-1][1].trivia.trail.endswith("\n"):
        body[-1][1].trivia.trail = "\n"
    if body:
        body.append((None, tomlkit.nl()))
    return list(tail)


def _end_line(document: Any) -> None:
    """End a document with an empty line, so that what follows stands apart."""
    import tomlkit

    if document.body and not tomlkit.dumps(document).endswith("\n"):
        document.add(tomlkit.nl())
    document.add(tomlkit.nl())
