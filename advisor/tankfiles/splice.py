"""Small changes in the text of a tank.yaml: every other character, comments and order stay as they are.

A change is spliced into the text at the places the parser gives. Whether it
came out as meant is checked by whoever asks for it, by reading the text again.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping

from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, key_of

Entry = Mapping[str, object]
_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 .()/%°±+-]*[A-Za-z0-9.()%°])?")
_HEAD_KEYS = frozenset({"id", "name", "is", "taxon", "species", "coral", "animal"})
"""Keys that tell what an entry is; new ones go after them."""
_NOT_PLAIN = frozenset({"null", "~"})


class SpliceError(Exception):
    """The layout is one this module does not know how to change."""


def flow_text(value: object) -> str:
    """Return plain data as YAML on one line, quoted only where it must be."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{flow_text(str(k))}: {flow_text(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(flow_text(item) for item in value) + "]"
    text = str(value)
    if _PLAIN.fullmatch(text) and text.lower() not in _NOT_PLAIN:
        return text
    return json.dumps(text, ensure_ascii=False)


class Splicer:
    """One text with the tree it was read as; changes are gathered and made together."""

    def __init__(self, text: str, root: Keyed) -> None:
        self._text, self._root = text, root
        self._newline = "\r\n" if "\r\n" in text else "\n"
        self._starts = [0]
        for found in re.finditer(r"\n", text):
            self._starts.append(found.end())
        self._cuts: list[tuple[int, int, str]] = []
        self._tail = ""

    def result(self) -> str:
        """Return the changed text."""
        text = self._text
        for start, end, new in sorted(self._cuts, key=lambda cut: cut[0], reverse=True):
            text = text[:start] + new + text[end:]
        if self._tail:
            text = text if not text or text.endswith("\n") else text + self._newline
            text += self._tail
        return text

    def set_top(self, key: str, value: str) -> None:
        """Give a top-level key one plain value."""
        self._require_block(self._root)
        for name, node in self._root.entries:
            if key_of(name.text) == key_of(key):
                self._replace_scalar(name, node, value)
                return
        self._tail += f"{key}: {flow_text(value)}{self._newline}"

    def append_item(self, section: str, entry: Entry) -> None:
        """Put one entry at the end of a top-level list."""
        self._require_block(self._root)
        found = next(((k, v) for k, v in self._root.entries if key_of(k.text) == section), None)
        if found is None:
            self._tail += f"{section}:{self._newline}  - {flow_text(entry)}{self._newline}"
            return
        key, node = found
        match node:
            case Items(items=items, flow=True):
                end = self._at(node.span.end_line, node.span.end_column) - 1
                self._cut(end, end, (", " if items else "") + flow_text(entry))
            case Items():
                self._line_after(self._last_line(node), f"{self._dash(node)}- {flow_text(entry)}")
            case Scalar() if node.blank or node.text.strip().lower() == "none":
                self._clear(node)
                self._line_after(key.span.line, f"  - {flow_text(entry)}")
            case _:
                raise SpliceError(f"{section} is not a list")

    def change_entry(self, node: Keyed, sets: Mapping[str, str], drops: frozenset[str]) -> None:
        """Set keys of one entry and take others out; in block layout what is taken out stays as a comment."""
        there = {key_of(k.text): (k, v) for k, v in node.entries}
        new = {k: v for k, v in sets.items() if key_of(k) not in there}
        for key, value in sets.items():
            if key_of(key) in there:
                self._replace_scalar(*there[key_of(key)], value)
        gone = [there[name] for name in there if name in drops]
        if node.flow:
            self._change_flow(node, gone, new)
        else:
            self._change_block(node, gone, new)

    def replace_scalar_item(self, node: Scalar, entry: Entry) -> None:
        """Put an entry in the place of a one-line item."""
        start, end = self._ends(node)
        self._cut(start, end, flow_text(entry))

    def _change_flow(self, node: Keyed, gone: list[tuple[Scalar, Node]], new: Mapping[str, str]) -> None:
        for key, value in gone:
            start, end = self._at(key.span.line, key.span.column), self._ends(value)[1]
            after = re.match(r"\s*,\s*", self._text[end:])
            before = re.search(r",\s*$", self._text[:start])
            if after is not None:
                end += after.end()
            elif before is not None:
                start = before.start()
            self._cut(start, end, "")
        if new:
            end = self._at(node.span.end_line, node.span.end_column) - 1
            told = ", ".join(f"{k}: {flow_text(v)}" for k, v in new.items())
            while self._text[end - 1] in " \r\n" and end > 1:
                end -= 1
            comma = "" if self._text[end - 1] in "{," else ", "
            self._cut(end, end, comma + told)

    def _change_block(self, node: Keyed, gone: list[tuple[Scalar, Node]], new: Mapping[str, str]) -> None:
        for key, value in gone:
            self._comment_out(key, value)
        dropped = {key.text for key, _ in gone}
        lines = [k for k, v in node.entries if k.text not in dropped and self._last_line(v) == k.span.line]
        heads = [k for k in lines if key_of(k.text) in _HEAD_KEYS]
        anchor = next(iter(heads[-1:] or lines), None)
        if new and anchor is None:
            raise SpliceError("no line to put a key after")
        if new and anchor is not None:
            indent = " " * (anchor.span.column - 1)
            told = self._newline.join(f"{indent}{k}: {flow_text(v)}" for k, v in new.items())
            self._line_after(anchor.span.line, told)

    def _comment_out(self, key: Scalar, value: Node) -> None:
        for line in range(key.span.line, self._last_line(value) + 1):
            start = self._starts[line - 1]
            shown = self._text[start : start + key.span.column - 1]
            if shown.strip():
                raise SpliceError("the key does not stand on a line of its own")
            at = start + len(shown)
            self._cut(at, at, "# ")

    def _replace_scalar(self, key: Scalar, node: Node, value: str) -> None:
        if not isinstance(node, Scalar):
            raise SpliceError(f"{key.text} is not one value")
        start, end = self._ends(node)
        if start == end:
            start = end = self._text.index(":", self._ends(key)[1]) + 1
            self._cut(start, end, f" {flow_text(value)}")
        else:
            self._cut(start, end, flow_text(value))

    def _clear(self, node: Scalar) -> None:
        start, end = self._ends(node)
        self._cut(start, end, "")

    def _require_block(self, node: Keyed) -> None:
        if node.flow or re.search(r"(?m)^\.\.\.", self._text):
            raise SpliceError("the file is not laid out key by key")

    def _dash(self, node: Items) -> str:
        line = node.items[0].span.line
        begin = self._starts[line - 1]
        before = self._text[begin : begin + node.items[0].span.column - 1]
        found = re.fullmatch(r"(\s*)-\s+", before)
        if found is None:
            raise SpliceError("the list does not begin with a hyphen on its line")
        return found.group(1)

    def _line_after(self, line: int, new: str) -> None:
        if line < len(self._starts):
            at = self._starts[line]
            self._cut(at, at, new + self._newline)
        else:
            at = len(self._text)
            self._cut(at, at, self._newline + new)

    def _last_line(self, node: Node) -> int:
        match node:
            case Keyed(entries=entries) if entries and not node.flow:
                return max(
                    k.span.line if isinstance(v, Scalar) and v.blank else self._last_line(v)
                    for k, v in entries[-1:]
                )
            case Items(items=items) if items and not node.flow:
                return self._last_line(items[-1])
            case _:
                span = node.span
                return (
                    span.end_line - 1 if span.end_column == 1 and span.end_line > span.line else span.end_line
                )

    def _ends(self, node: Node) -> tuple[int, int]:
        span = node.span
        return self._at(span.line, span.column), self._at(span.end_line, span.end_column)

    def _at(self, line: int, column: int) -> int:
        if not 0 < line <= len(self._starts):
            raise SpliceError("the line is not where it was read")
        return self._starts[line - 1] + column - 1

    def _cut(self, start: int, end: int, new: str) -> None:
        self._cuts.append((start, end, new))
