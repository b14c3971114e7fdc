"""Which open names (taxa, clones, kin) rules speak of, so that tables have a place for them."""

from __future__ import annotations

from advisor.errors import Span
from advisor.language.library import Library
from advisor.language.nodes import Call, Is, Name
from advisor.model.vocabulary import WordType


def open_words(library: Library) -> dict[str, tuple[str, ...]]:
    """Return, for every open-name measure, the words that rules and definitions compare it with."""
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
