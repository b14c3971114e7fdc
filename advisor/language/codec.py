"""Trees and libraries as plain JSON data and back, for a cache. Generic over the frozen dataclasses; no lark.

A node is a list: for a field that may hold one of several classes the class's
number, then its fields in order. Spans, sources and other repeated leaves
stand once in tables and are referred to by index.
"""

from __future__ import annotations

import hashlib
import pkgutil
import threading
import types
import typing
from collections.abc import Callable
from dataclasses import dataclass, field, fields, is_dataclass
from enum import Enum
from functools import cache, partial

from advisor.errors import Span
from advisor.language import library as libraries
from advisor.language import nodes
from advisor.language.library import Library
from advisor.language.nodes import RuleFile
from advisor.model import vocabulary
from advisor.units import Unit

# Any: a codec over all node classes handles values whose type is known only at run time.
_Value = typing.Any
_Encoder = Callable[[_Value], object]
_Decoder = Callable[[_Value], _Value]
_SHARED = (Span, vocabulary.Source, Unit)
_INFINITE = "inf"
_NAMES = {**vars(nodes), **vars(vocabulary), **vars(libraries)}
_SOURCES = (
    ("advisor.language", "grammar.lark"),
    ("advisor", "units.py"),
    ("advisor", "errors.py"),
    ("advisor.model", "vocabulary.py"),
)


def _fingerprint() -> str:
    """A mark of everything that shapes a tree: the grammar and the code that reads and checks."""
    digest = hashlib.sha256()
    own = [
        ("advisor.language", f"{found.name}.py")
        for found in pkgutil.iter_modules(__import__("advisor.language", fromlist=["x"]).__path__)
    ]
    for package, name in sorted((*_SOURCES, *own)):
        try:
            raw = pkgutil.get_data(package, name)
        except OSError:  # an installation without sources
            raw = None
        digest.update(f"{package}/{name}".encode() + (raw or b""))
    return digest.hexdigest()[:16]


CODEC_VERSION = _fingerprint()
"""Changes whenever anything does that could make a kept tree differ from one read anew."""


def to_data(file: RuleFile) -> object:
    """Return a parsed file as plain data that ``json`` can write."""
    return _encoded(RuleFile, file)


def from_data(data: object) -> RuleFile:
    """Return the parsed file that `to_data` made `data` of.

    Raises
    ------
    ValueError
        If `data` is not of that form.
    """
    found = _decoded(RuleFile, data)
    assert isinstance(found, RuleFile)
    return found


def library_to_data(library: Library) -> object:
    """Return a checked library as plain data that ``json`` can write."""
    return _encoded(Library, library)


def library_from_data(data: object) -> Library:
    """Return the library that `library_to_data` made `data` of.

    Raises
    ------
    ValueError
        If `data` is not of that form.
    """
    found = _decoded(Library, data)
    assert isinstance(found, Library)
    return found


# --- what a field may hold ------------------------------------------------------


@cache
def _hints(kind: type) -> tuple[_Value, ...]:
    """The types of the fields of a dataclass, in order."""
    found = typing.get_type_hints(kind, _NAMES)
    return tuple(found[part.name] for part in fields(kind))


def _origin(hint: _Value) -> object:
    """The generic a type is made of: tuple, dict, a union; None for a plain class."""
    return typing.get_origin(hint)


def _members(hint: _Value) -> tuple[_Value, ...]:
    """The alternatives of a union, or the one type."""
    return typing.get_args(hint) if _origin(hint) in (typing.Union, types.UnionType) else (hint,)


def _classes(hint: _Value) -> tuple[type, ...]:
    """The dataclasses among the alternatives, in order."""
    return tuple(member for member in _members(hint) if is_dataclass(member) and isinstance(member, type))


def _without_none(hint: _Value) -> _Value:
    """The type without None among its alternatives."""
    return typing.Union[tuple(member for member in _members(hint) if member is not types.NoneType)]  # noqa: UP007


# --- writing ---------------------------------------------------------------------


@dataclass(slots=True)
class _Writer:
    """Turns values into data, repeated leaves into indices."""

    tables: dict[type, list[object]] = field(default_factory=lambda: {kind: [] for kind in _SHARED})
    texts: dict[str, int] = field(default_factory=dict)
    seen: dict[tuple[type, _Value], int] = field(default_factory=dict)
    plans: dict[_Value, _Encoder] = field(default_factory=dict)

    def plan(self, hint: _Value) -> _Encoder:
        """Return what writes values of a type."""
        found = self.plans.get(hint)
        if found is None:
            self.plans[hint] = lambda value: self.plan(hint)(value)  # a type may hold itself
            found = self.plans[hint] = self._plan(hint)
        return found

    def _plan(self, hint: _Value) -> _Encoder:
        """Make what writes values of a type."""
        origin, args = _origin(hint), typing.get_args(hint)
        if origin is tuple:
            return partial(_each, self.plan(args[0]))
        if origin is dict:
            inner = self.plan(args[1])
            return lambda value: [[key, inner(item)] for key, item in value.items()]
        if types.NoneType in _members(hint):
            some = self.plan(_without_none(hint))
            return lambda value: None if value is None else some(value)
        classes = _classes(hint)
        if len(classes) > 1 or (classes and str in _members(hint)):
            numbers = {kind: index for index, kind in enumerate(classes)}
            return lambda value: (
                value if isinstance(value, str) else [numbers[type(value)], self.plan(type(value))(value)]
            )
        if hint in _SHARED:
            return partial(self._shared, hint)
        if classes:
            return self._fields(hint)
        if isinstance(hint, type) and issubclass(hint, Enum):
            return lambda value: value.value
        return _infinity_out if hint is float else _same

    def _fields(self, kind: type) -> _Encoder:
        """Make what writes a dataclass."""
        parts = [(part.name, self.plan(hint)) for part, hint in zip(fields(kind), _hints(kind), strict=True)]
        return lambda value: [write(getattr(value, name)) for name, write in parts]

    def _shared(self, kind: type, value: _Value) -> int:
        """The index of a repeated leaf."""
        index = self.seen.get((kind, value))
        if index is None:
            index = self.seen[kind, value] = len(self.tables[kind])
            self.tables[kind].append(None)
            self.tables[kind][index] = self._leaf(kind, value)
        return index

    def _leaf(self, kind: type, value: _Value) -> object:
        """A leaf's fields; the texts of a span stand in a table of their own."""
        if kind is Span:
            return [
                self._text(value.file),
                value.line,
                value.column,
                value.end_line,
                value.end_column,
                self._text(value.text),
            ]
        return self._fields(kind)(value)

    def _text(self, text: str) -> int:
        """The index of a text."""
        return self.texts.setdefault(text, len(self.texts))


def _each(write: _Encoder, values: _Value) -> object:
    """Write every item of a tuple."""
    return [write(value) for value in values]


def _same(value: _Value) -> object:
    """Write what JSON can hold as it is."""
    return value


def _infinity_out(value: float) -> object:
    """JSON has no infinity."""
    return _INFINITE if value == float("inf") else value


def _encoded(kind: type, value: object) -> object:
    """Write one value and the tables it refers to."""
    writer = _Writer()
    body = writer.plan(kind)(value)
    return [list(writer.texts), *(writer.tables[shared] for shared in _SHARED), body]


# --- reading ---------------------------------------------------------------------


@dataclass(slots=True)
class _Reader:
    """Turns data back into values. What reads a type is made once; the tables are filled each time."""

    tables: dict[type, list[_Value]] = field(default_factory=lambda: {kind: [] for kind in _SHARED})
    plans: dict[_Value, _Decoder] = field(default_factory=dict)

    def plan(self, hint: _Value) -> _Decoder:
        """Return what reads values of a type."""
        found = self.plans.get(hint)
        if found is None:
            self.plans[hint] = lambda data: self.plan(hint)(data)  # a type may hold itself
            found = self.plans[hint] = self._plan(hint)
        return found

    def _plan(self, hint: _Value) -> _Decoder:
        """Make what reads values of a type."""
        origin, args = _origin(hint), typing.get_args(hint)
        if origin is tuple:
            return _tuple_of(self.plan(args[0]))
        if origin is dict:
            inner = self.plan(args[1])
            return lambda data: {key: inner(item) for key, item in data}
        if types.NoneType in _members(hint):
            some = self.plan(_without_none(hint))
            return lambda data: None if data is None else some(data)
        classes = _classes(hint)
        if len(classes) > 1 or (classes and str in _members(hint)):
            readers = [self.plan(kind) for kind in classes]
            return lambda data: data if isinstance(data, str) else readers[data[0]](data[1])
        if hint in _SHARED:
            return self.tables[hint].__getitem__
        if classes:
            return self.node(hint)
        if isinstance(hint, type) and issubclass(hint, Enum):
            return {member.value: member for member in hint}.__getitem__
        return _infinity_in if hint is float else _same

    def node(self, kind: type) -> _Decoder:
        """Make what reads a dataclass; fields that need no reading are passed as they are."""
        reads = [self.plan(hint) for hint in _hints(kind)]
        special = [(index, read) for index, read in enumerate(reads) if read is not _same]

        def read_node(data: _Value) -> _Value:
            for index, read in special:
                data[index] = read(data[index])
            return kind(*data)

        return read_node


def _tuple_of(read: _Decoder) -> _Decoder:
    """What reads a tuple; most tuples of plain things need no reading."""
    if read is _same:
        return tuple
    return lambda data: tuple([read(item) for item in data]) if data else ()


def _infinity_in(data: _Value) -> float:
    """Infinity is written as a word."""
    return float("inf") if data == _INFINITE else data


_READER = _Reader()
_ONE_AT_A_TIME = threading.Lock()


def _decoded(kind: type, data: object) -> object:
    """Read one value and the tables it refers to."""
    if not isinstance(data, list) or len(data) != 2 + len(_SHARED):
        raise ValueError("this is not a kept tree")
    texts, spans, *others = data[:-1]
    with _ONE_AT_A_TIME:
        try:
            _READER.tables[Span][:] = [
                Span(texts[file], line, column, end_line, end_column, texts[text])
                for file, line, column, end_line, end_column, text in spans
            ]
            for shared, rows in zip(_SHARED[1:], others, strict=True):
                read = _READER.node(shared)
                _READER.tables[shared][:] = [read(row) for row in rows]
            return _READER.plan(kind)(data[-1])
        finally:
            for table in _READER.tables.values():
                table.clear()
