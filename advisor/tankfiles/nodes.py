"""Text of a tank file as a small tree with places: what YAML, CSV and journal lines all become.

YAML is read event by event, so that depth, size and repeated references are
bounded while reading, and every scalar stays the text the keeper wrote.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from advisor.errors import Span
from advisor.tankfiles.layout_mends import line_to_try, no_character
from advisor.tankfiles.ledger import Ledger

MAX_DEPTH = 24
MAX_NODES = 200_000
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
UNKNOWN = frozenset(
    {
        "unknown",
        "don't know",
        "dont know",
        "don’t know",
        "do not know",
        "not known",
        "not told",
        "not measured",
        "no idea",
        "?",
    }
)
"""How keepers say that they do not know."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value as written; `plain` tells that it stood without quotes."""

    text: str
    span: Span
    plain: bool = True

    @property
    def blank(self) -> bool:
        """Whether nothing was written."""
        return self.plain and self.text.strip() in ("", "~", "null")

    @property
    def unknown(self) -> bool:
        """Whether the keeper says that this is not known."""
        return self.text.strip().lower() in UNKNOWN


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    items: tuple[Node, ...]
    span: Span
    flow: bool = False


@dataclass(frozen=True, slots=True)
class Keyed:
    """Keys with values, in order."""

    entries: tuple[tuple[Scalar, Node], ...]
    span: Span
    flow: bool = False


Node = Scalar | Items | Keyed


def key_of(text: str) -> str:
    """Return a key with spaces, hyphens, underscores and case made alike."""
    return re.sub(r"[\s_-]+", "-", text.strip().lower())


@dataclass(slots=True)
class _Open:
    start: Any  # ruamel.yaml's start event is untyped
    anchor: str
    children: list[Node] = field(default_factory=list)
    weight: int = 1


class _RefusedError(Exception):
    """Reading stops here: noted already."""


def read_yaml(text: str, file: str, ledger: Ledger) -> Node | None:
    """Return the tree of one YAML document, or None with the reason noted.

    Parameters
    ----------
    text
        The whole file.
    file
        How messages name it.
    ledger
        Where faults are noted.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError
    from ruamel.yaml.reader import ReaderError

    lines = text.splitlines()
    try:
        return _Builder(file, lines, ledger).build(YAML(typ="safe", pure=True).parse(text))
    except _RefusedError:
        return None
    except MarkedYAMLError as fault:
        _note_syntax(fault, file, text, ledger)
    except ReaderError as fault:
        line = text.count("\n", 0, int(fault.position))
        column = int(fault.position) - (text.rfind("\n", 0, int(fault.position)) + 1)
        ledger.note(
            "file-106",
            "a control character stands in the text",
            _span(file, lines, line, column),
            mend="delete it",
        )
    except (YAMLError, ValueError, OverflowError, RecursionError) as fault:
        _note_unreadable(fault, file, text, ledger)
    return None


def _note_unreadable(fault: Exception, file: str, text: str, ledger: Ledger) -> None:
    """Note what stops the reader without a place of its own, such as an escape that is no character."""
    at, written = no_character(text)
    if at < 0:
        what = f"I cannot read this file as YAML ({type(fault).__name__})"
        ledger.note("yaml-111", what, Span(file), mend="name: 'a value in single quotes is taken as it is'")
        return
    line, column = text.count("\n", 0, at), at - (text.rfind("\n", 0, at) + 1)
    span = _span(file, text.splitlines(), line, column, line, column + len(written))
    ledger.note("yaml-111", f"{written} stands for no character", span, mend=f"\\{written}")


def _span(
    file: str, lines: list[str], line: int, column: int, end_line: int = -1, end_column: int = 0
) -> Span:
    shown = lines[line] if 0 <= line < len(lines) else ""
    if end_line < 0:
        end_line, end_column = line, column + 1
    return Span(file, line + 1, column + 1, end_line + 1, end_column + 1, shown)


def _note_syntax(fault: Any, file: str, text: str, ledger: Ledger) -> None:
    lines = text.splitlines()
    mark = fault.problem_mark or fault.context_mark
    if mark is not None and mark.line >= len(lines) and fault.context_mark is not None:
        mark = fault.context_mark  # the file ended: what was begun and never closed tells more
    line, column = (mark.line, mark.column) if mark is not None else (0, 0)
    span = _span(file, lines, line, column)
    if "\t" in span.text[: column + 1]:
        ledger.note("yaml-112", "a tab stands where the layout needs spaces", span, mend="use spaces")
        return
    problem = str(fault.problem or fault.context or "not YAML").splitlines()[0]
    problem = problem.replace("'<stream end>'", "the end of the file")
    ledger.note(
        "yaml-111",
        "the layout of this file cannot be read here",
        span,
        label=problem,
        mend=line_to_try(text, line)
        or "look at this line and the one above: a missing colon, quote or bracket, or uneven indent",
    )


class _Builder:
    """Turns YAML events into nodes, within bounds."""

    def __init__(self, file: str, lines: list[str], ledger: Ledger) -> None:
        self._file, self._lines, self._ledger = file, lines, ledger
        self._stack: list[_Open] = []
        self._anchors: dict[str, tuple[Node, int]] = {}
        self._total = 0
        self._documents = 0
        self._root: Node | None = None

    def build(self, events: Iterator[Any]) -> Node | None:
        """Return the document's root."""
        for event in events:
            name = type(event).__name__
            if name == "DocumentStartEvent":
                self._document(event)
            elif name == "ScalarEvent":
                self._check_tag(event)
                self._scalar(event)
            elif name in ("SequenceStartEvent", "MappingStartEvent"):
                self._check_tag(event)
                self._open(event)
            elif name in ("SequenceEndEvent", "MappingEndEvent"):
                self._close(event)
            elif name == "AliasEvent":
                self._alias(event)
        return self._root

    def _at(self, start: Any, end: Any) -> Span:
        return _span(self._file, self._lines, start.line, start.column, end.line, end.column)

    def _refuse(self, code: str, what: str, event: Any, mend: str = "") -> None:
        self._ledger.note(code, what, self._at(event.start_mark, event.end_mark), mend=mend)
        raise _RefusedError

    def _document(self, event: Any) -> None:
        self._documents += 1
        if self._documents > 1:
            self._refuse("yaml-117", "this file holds several documents", event, "delete the line ---")

    def _check_tag(self, event: Any) -> None:
        if event.tag is not None and str(event.tag) not in ("!", ""):
            self._refuse(
                "yaml-115", f"the tag {str(event.tag)[:60]} is not plain data", event, "delete the tag"
            )

    def _scalar(self, event: Any) -> None:
        node = Scalar(str(event.value), self._at(event.start_mark, event.end_mark), plain=not event.style)
        check_text(node, self._ledger)
        self._done(node, event.anchor, 1)

    def _open(self, event: Any) -> None:
        self._stack.append(_Open(event, event.anchor or ""))
        if len(self._stack) > MAX_DEPTH:
            self._refuse(
                "yaml-113", f"this file nests deeper than {MAX_DEPTH} levels", event, "close the brackets"
            )

    def _close(self, event: Any) -> None:
        done = self._stack.pop()
        span = self._at(done.start.start_mark, event.end_mark)
        flow = bool(done.start.flow_style)
        node: Node
        if type(event).__name__ == "SequenceEndEvent":
            node = Items(tuple(done.children), span, flow)
        else:
            node = Keyed(rejoined(self._pairs(done.children), self._ledger), span, flow)
        self._done(node, done.anchor, done.weight)

    def _pairs(self, children: list[Node]) -> tuple[tuple[Scalar, Node], ...]:
        pairs = []
        for key, value in zip(children[::2], children[1::2], strict=True):
            if isinstance(key, Scalar):
                pairs.append((key, value))
            else:
                name = re.sub(r"[\"\\\x00-\x1f]", "", in_words(key).partition(",")[0].partition(":")[0])
                mend = f"{name or 'note'}: …"
                self._ledger.note("yaml-111", "a key must be one word or phrase", key.span, mend=mend)
        return tuple(pairs)

    def _alias(self, event: Any) -> None:
        found = self._anchors.get(event.anchor)
        if found is None:
            self._refuse(
                "yaml-111",
                f"*{event.anchor} refers to nothing complete above it",
                event,
                "write the value itself",
            )
        else:
            self._done(found[0], "", found[1])

    def _done(self, node: Node, anchor: str, weight: int) -> None:
        self._total += weight
        if self._total > MAX_NODES:
            self._ledger.note(
                "yaml-114",
                f"this file holds more than {MAX_NODES} entries",
                node.span,
                mend="write values out instead of referring to them with *name",
            )
            raise _RefusedError
        if anchor:
            self._anchors[anchor] = (node, weight)
        if self._stack:
            self._stack[-1].children.append(node)
            self._stack[-1].weight += weight
        else:
            self._root = node


_HALF = re.compile(r"\d+(?:\.\d+)?(?:\s*[^\d\s].*)?")


def rejoined(pairs: tuple[tuple[Scalar, Node], ...], ledger: Ledger) -> tuple[tuple[Scalar, Node], ...]:
    """Return entries with values that a comma parted put together again, each noted: ``{size: 9,5 cm}``."""
    whole: list[tuple[Scalar, Node]] = []
    for key, value in pairs:
        before = whole[-1][1] if whole else None
        lone = isinstance(value, Scalar) and value.blank and not value.text
        if lone and _HALF.fullmatch(key.text) and isinstance(before, Scalar) and before.text[-1:].isdigit():
            whole[-1] = (whole[-1][0], _put_together(before, key, whole[-1][0], ledger))
        else:
            whole.append((key, value))
    return tuple(whole)


def _put_together(first: Scalar, rest: Scalar, key: Scalar, ledger: Ledger) -> Scalar:
    decimal = re.search(r"(?:^|[^\d.,])\d+$", first.text) and re.match(r"\d+(?!\d*\.)", rest.text)
    close = rest.span.column == first.span.end_column + 1
    text = f"{first.text}.{rest.text}" if decimal and close else f"{first.text}, {rest.text}"
    ledger.note(
        "value-131",
        f"the comma in {key.text} parts '{first.text}' from '{rest.text}'",
        rest.span,
        label="inside braces a comma begins the next key",
        mend=f"write a decimal point: {text}" if decimal and close else f'put it in quotes: "{text}"',
    )
    return Scalar(text, first.span)


def check_text(node: Scalar, ledger: Ledger) -> None:
    """Note control characters, which could command a terminal or turn the reading order round."""
    if _CONTROL.search(node.text):
        ledger.note("file-106", "a control character stands in the text", node.span, mend="delete it")


def texts_of(node: Node) -> tuple[str, ...]:
    """Return every value of the tree in order, keys left out."""
    match node:
        case Scalar(text=text):
            return (text.strip(),)
        case Items(items=items):
            return tuple(text for item in items for text in texts_of(item))
        case Keyed(entries=entries):
            return tuple(text for _, value in entries for text in texts_of(value))


def in_words(node: Node) -> str:
    """Return the tree as one text, as a person would write it: ``meter: quantum, corrected``."""
    match node:
        case Scalar(text=text):
            return text.strip()
        case Items(items=items):
            return ", ".join(in_words(item) for item in items)
        case Keyed(entries=entries):
            return ", ".join(f"{key.text}: {in_words(value)}".removesuffix(": ") for key, value in entries)


def as_data(node: Node) -> object:
    """Return the tree as plain lists, mappings and texts, places left out."""
    match node:
        case Scalar(text=text):
            return text
        case Items(items=items):
            return [as_data(item) for item in items]
        case Keyed(entries=entries):
            return {key.text: as_data(value) for key, value in entries}
