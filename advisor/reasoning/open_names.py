"""Which open names (taxa, clones, kin) rules speak of, so that tables have a place for them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from advisor.errors import Span
from advisor.language.library import Library
from advisor.language.nodes import Call, Is, Name
from advisor.model.vocabulary import WordType


def open_words(library: Library) -> dict[str, tuple[str, ...]]:
    """Return, for every open-name measure, the words that rules and definitions compare it with."""
    return dict(_words_of(_Same(library)))


@dataclass(frozen=True, slots=True)
class _Same:
    """A library that is only like itself: what was found of it is kept while it is in use."""

    library: Library

    def __hash__(self) -> int:
        return id(self.library)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.library is self.library


@lru_cache(maxsize=4)
def _words_of(same: _Same) -> dict[str, tuple[str, ...]]:
    """The words of a library, looked for once."""
    library = same.library
    found: dict[str, dict[str, None]] = {}
    for part in (*library.rules.values(), *library.prefers.values(), *library.defines.values()):
        for node in _walk(part):
            if isinstance(node, Is) and isinstance(node.left, Call):
                measure = library.vocabulary.measures.get(node.left.name)
                if measure is not None and isinstance(measure.type, WordType) and not measure.type.words:
                    words = found.setdefault(measure.name, {})
                    words.update((item.name, None) for item in node.right if isinstance(item, Name))
    return {name: tuple(words) for name, words in found.items()}


def _walk(node: object) -> list[object]:
    """Every tree node below (and with) one."""
    out, todo = [], [node]
    while todo:
        item = todo.pop()
        if isinstance(item, tuple):
            todo.extend(item)
        elif hasattr(item, "__dataclass_fields__") and not isinstance(item, Span):
            out.append(item)
            todo.extend(getattr(item, name) for name in item.__dataclass_fields__)
    return out
