"""A set of rules as single declarations, so that one can be exchanged at a time."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from advisor.language.format import same_tree
from advisor.language.format_house import edit_text
from advisor.language.library import Library
from advisor.language.nodes import (
    Action,
    Card,
    CardValue,
    Define,
    Handling,
    HouseVerb,
    Let,
    Lever,
    Prefer,
    Rule,
    WordMeaning,
)
from advisor.language.nodes import HouseEdit as HouseEdit
from advisor.model.vocabulary import Measure, Relation, Vocabulary

CardLine = tuple[CardValue, ...]
"""The values of one line of a card, all its sources."""
Content = (
    Let
    | Define
    | Rule
    | Prefer
    | Card
    | CardLine
    | Measure
    | Relation
    | WordMeaning
    | Lever
    | HouseEdit
    | Action
    | Handling
)
_Thing = TypeVar("_Thing")

KINDS = (
    "rule",
    "prefer",
    "let",
    "define",
    "card",
    "line",
    "own line",
    "accept",
    "measure",
    "relation",
    "word",
    "lever",
    "action",
    "handling",
)
"""The kinds of declarations, in the order a report tells of them."""


@dataclass(frozen=True, slots=True, order=True)
class Key:
    """Which declaration: its kind and its name, of a card's line also the line, the weapon and the animal."""

    kind: str
    name: str
    line: str = ""
    of: str = ""
    animal: str = ""

    def __str__(self) -> str:
        """The name a report and the JSON give it: ``card torch light-max``."""
        if self.kind == "accept":
            return f"accept {self.name}"
        kind = "card" if self.kind in ("line", "own line") else self.kind
        whom = f"for {self.animal}" if self.animal else ""
        return " ".join(part for part in (kind, self.name, self.of, self.line, whom) if part)


def parts_of(library: Library) -> dict[Key, Content]:
    """Return every declaration of a library by its key; a card's lines each by itself."""
    found: dict[Key, Content] = {}
    named: tuple[tuple[str, Mapping[str, Content]], ...] = (
        ("rule", library.rules),
        ("prefer", library.prefers),
        ("let", library.lets),
        ("define", library.defines),
        ("measure", library.vocabulary.measures),
        ("relation", library.vocabulary.relations),
        ("lever", library.levers),
        ("action", library.actions),
        ("handling", library.handlings),
    )
    for kind, things in named:
        found.update({Key(kind, name): thing for name, thing in things.items()})
    for name, card in library.cards.items():
        found[Key("card", name)] = replace(card, values=())
        found.update(_lines(card, "line", ""))
    for animal, cards in library.alone.items():
        for name, card in cards.items():
            own = _lines(card, "own line", animal)
            shared = _lines(library.cards[name], "own line", animal) if name in library.cards else {}
            found.update({key: line for key, line in own.items() if not same(line, shared.get(key))})
    for meaning in library.words:
        found[Key("word", f'"{meaning.word}"', meaning.measure, meaning.said_by)] = meaning
    for edit in library.house:
        if edit.verb is HouseVerb.ACCEPT:
            found[Key("accept", f"{edit.target} for {', '.join(edit.entities)}", edit_text(edit))] = edit
    return found


def _lines(card: Card, kind: str, animal: str) -> dict[Key, Content]:
    """The lines of one card."""
    lines: dict[Key, tuple[CardValue, ...]] = {}
    for value in card.values:
        key = Key(kind, card.name, value.key, value.of, animal)
        lines[key] = (*lines.get(key, ()), value)
    return dict(lines.items())


def same(one: Content | None, other: Content | None) -> bool:
    """Return whether two declarations say the same; where they stand, and comments, do not count."""
    return same_tree(one, other)


def differing(before: Mapping[Key, Content], after: Mapping[Key, Content]) -> tuple[Key, ...]:
    """Return the keys of what is not the same in both, in the order a report tells of them."""
    keys = dict.fromkeys((*after, *before))
    found = [key for key in keys if not same(before.get(key), after.get(key))]
    new_cards = {key.name for key in found if key.kind == "card" and (key in before) != (key in after)}
    kept = [key for key in found if key.kind != "line" or key.name not in new_cards]
    return tuple(sorted(kept, key=lambda key: (KINDS.index(key.kind), key)))


def mixed(base: Library, other: Library, keys: Collection[Key]) -> Library:
    """Return a library with some declarations as another one has them."""
    if not keys:
        return base

    def names(*kinds: str) -> set[str]:
        return {key.name for key in keys if key.kind in kinds}

    cards = _cards(base, other, keys)
    vocabulary = Vocabulary(
        _exchanged(base.vocabulary.measures, other.vocabulary.measures, names("measure")),
        _exchanged(base.vocabulary.relations, other.vocabulary.relations, names("relation")),
    )
    return replace(
        base,
        vocabulary=vocabulary,
        rules=_exchanged(base.rules, other.rules, names("rule")),
        prefers=_exchanged(base.prefers, other.prefers, names("prefer")),
        lets=_exchanged(base.lets, other.lets, names("let")),
        defines=_exchanged(base.defines, other.defines, names("define")),
        levers=_exchanged(base.levers, other.levers, names("lever")),
        actions=_exchanged(base.actions, other.actions, names("action")),
        handlings=_exchanged(base.handlings, other.handlings, names("handling")),
        cards=cards,
        alone=_alone(base, other, keys, cards),
        words=_words(base, other, keys),
        house=_house(base, other, keys),
    )


def _exchanged(
    base: Mapping[str, _Thing], other: Mapping[str, _Thing], names: Collection[str]
) -> dict[str, _Thing]:
    """Things by name, some as another library has them: other, new or gone."""
    out = {name: thing for name, thing in base.items() if name not in names or name in other}
    out.update({name: other[name] for name in names if name in other})
    return out


def _cards(base: Library, other: Library, keys: Collection[Key]) -> dict[str, Card]:
    """The cards with some lines as another library has them."""
    cards = dict(base.cards)
    for key in keys:
        if key.kind == "card":
            theirs = other.cards.get(key.name)
            if theirs is None:
                cards.pop(key.name, None)
            elif key.name in cards:
                cards[key.name] = replace(theirs, values=cards[key.name].values)
            else:
                cards[key.name] = theirs
    for key in keys:
        if key.kind == "line" and key.name in cards:
            card = other.cards.get(key.name)
            values = () if card is None else card.values
            line = tuple(value for value in values if (value.key, value.of) == (key.line, key.of))
            cards[key.name] = _with_line(cards[key.name], key, line)
    return cards


def _with_line(card: Card, key: Key, theirs: CardLine) -> Card:
    """A card with one line as another card has it, where it stood."""
    at = next((i for i, v in enumerate(card.values) if (v.key, v.of) == (key.line, key.of)), len(card.values))
    values = [value for value in card.values if (value.key, value.of) != (key.line, key.of)]
    return replace(card, values=(*values[:at], *theirs, *values[at:]))


def _alone(
    base: Library, other: Library, keys: Collection[Key], cards: Mapping[str, Card]
) -> dict[str, dict[str, Card]]:
    """The cards as they are read for one animal alone: as for all, with some lines of its own."""
    own = {key: part for key, part in parts_of(base).items() if key.kind == "own line" and key not in keys}
    theirs = parts_of(other)
    own.update({key: theirs[key] for key in keys if key.kind == "own line" and key in theirs})
    out: dict[str, dict[str, Card]] = {}
    for key, part in own.items():
        card = out.get(key.animal, {}).get(key.name) or cards.get(key.name)
        if card is not None and isinstance(part, tuple):
            out.setdefault(key.animal, {})[key.name] = _with_line(card, key, part)
    return out


def _words(base: Library, other: Library, keys: Collection[Key]) -> tuple[WordMeaning, ...]:
    """The loose words."""
    chosen = {(key.name, key.line, key.of) for key in keys if key.kind == "word"}

    def is_chosen(meaning: WordMeaning) -> bool:
        return (f'"{meaning.word}"', meaning.measure, meaning.said_by) in chosen

    kept = [meaning for meaning in base.words if not is_chosen(meaning)]
    return (*kept, *(meaning for meaning in other.words if is_chosen(meaning)))


def _house(base: Library, other: Library, keys: Collection[Key]) -> tuple[HouseEdit, ...]:
    """The house lines, with what is accepted exchanged."""
    chosen = {key.line for key in keys if key.kind == "accept"}

    def is_chosen(edit: HouseEdit) -> bool:
        return edit.verb is HouseVerb.ACCEPT and edit_text(edit) in chosen

    kept = [edit for edit in base.house if not is_chosen(edit)]
    return (*kept, *(edit for edit in other.house if is_chosen(edit)))
