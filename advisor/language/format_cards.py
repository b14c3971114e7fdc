"""Cards as the formatter prints them: one line of a card for values that belong together."""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.language.format_expr import HARD_SPACE, WIDTH, cannot, from_base, quoted, source, whole
from advisor.language.nodes import Card, CardValue
from advisor.model.vocabulary import Source

INDENT = 14
_NAMED = ("genus", "group", "lives-on")
_HEADS = (
    "also",
    "taxon",
    *_NAMED,
    "light",
    "flow",
    "weapon",
    "defence",
    "contact",
    "toxins",
    "growth",
    "footing",
    "swells",
    "edge",
    "moves",
    "hazard",
    "difficulty",
    "feeding",
    "note",
)
_WORD_FIRST = frozenset({*_NAMED, "edge", "moves", "weapon", "footing", "hazard", "feeding"})
_TEXT_ENDING = "-text"


@dataclass(slots=True)
class CardLine:
    """One printed line of a card and the lines of the file it comes from."""

    head: str
    items: list[str] = field(default_factory=list)
    keys: list[str] = field(default_factory=list)
    source: Source | None = None
    of: str = ""
    worded: bool = False
    """Whether it began with words: what the flow is like has a line of its own below its numbers."""
    start: int = 0
    end: int = 0


def card_lines(card: Card) -> list[CardLine]:
    """Return the lines of a card below its first."""
    lines: list[CardLine] = []
    if card.also:
        lines.append(CardLine("also", [", ".join(whole(name) for name in card.also)]))
    index = 0
    while index < len(card.values):
        value = card.values[index]
        item, used = _item(card.values, index)
        line = lines[-1] if lines else None
        if line is None or not _belongs(line, value):
            line = CardLine(
                _head(value.key),
                source=value.source,
                of=value.of,
                worded=bool(value.words),
                start=value.span.line,
            )
            lines.append(line)
        line.items.append(item)
        line.keys.append(value.key)
        line.end = max(line.end, value.span.end_line, value.span.line)
        index += used
    return _names_together(lines)


def _head(key: str) -> str:
    """The word a line with this key starts with."""
    for head in sorted(_HEADS, key=len, reverse=True):
        if key == head or key.startswith(head + "-"):
            return head
    raise cannot(f"a card value '{key}'")


def _belongs(line: CardLine, value: CardValue) -> bool:
    """Whether a value may stand on the line before it."""
    head = _head(value.key)
    first_word = value.key == head and bool(value.words)
    return (
        line.head == head
        and line.source == value.source
        and line.of == value.of
        and value.key not in line.keys
        and not first_word
        and head != "note"
        and (head not in _WORD_FIRST or head in line.keys)
        and (head != "flow" or line.worded == bool(value.words))
    )


def _item(values: tuple[CardValue, ...], index: int) -> tuple[str, int]:
    """One printed item and how many values it stands for."""
    value = values[index]
    head = _head(value.key)
    sub = value.key[len(head) + 1 :]
    if value.key == "taxon":
        return whole(value.words[0]), 1
    if value.key.endswith(_TEXT_ENDING):
        return quoted(value.text), 1
    if value.number is None:
        return f"{sub} {', '.join(value.words)}".lstrip(), 1
    if sub.endswith("-low"):
        high = values[index + 1] if index + 1 < len(values) else None
        if high is None or high.key != value.key.removesuffix("-low") + "-high" or high.number is None:
            raise cannot(f"'{value.key}' without its upper end")
        return f"{sub.removesuffix('-low')} {_ends(value, high)}".replace(" ", HARD_SPACE), 2
    return f"{sub} {from_base(value.number, value.unit)}".lstrip().replace(" ", HARD_SPACE), 1


def _ends(low: CardValue, high: CardValue) -> str:
    """Both ends of a range, the unit said once."""
    assert low.number is not None
    assert high.number is not None
    first, second = from_base(low.number, low.unit), from_base(high.number, high.unit)
    if low.unit == high.unit:
        first = first.split(HARD_SPACE)[0]
    return f"{first} to {second}"


def _names_together(lines: list[CardLine]) -> list[CardLine]:
    """Genus, group and what it lives on share a line where nothing stands between."""
    out: list[CardLine] = []
    for line in lines:
        last = out[-1] if out else None
        if (
            last is not None
            and line.head in _NAMED
            and last.head in _NAMED
            and not (last.source or line.source)
        ):
            last.items.append(f"{line.head}{HARD_SPACE}{line.items[0]}")
            last.items.extend(line.items[1:])
            last.end = line.end
        else:
            out.append(line)
    return out


def printed(line: CardLine) -> list[str]:
    """Return a line's text after its head; a remark and a source apart where one line will not do."""
    ground = [] if line.source is None else [f"source{HARD_SPACE}{source(line.source)}"]
    texts = [*line.items, *ground]
    if INDENT + len("  ".join(texts)) <= WIDTH:
        return ["  ".join(texts)]
    said = [item for item in line.items[1:] if item.startswith('"')]
    plain = [item for item in line.items if item not in said]
    return ["  ".join(plain), *said, *ground]
