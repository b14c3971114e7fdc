"""Which edits cannot be made alone: a rule needs the numbers and readings it speaks of."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass

from advisor.language.expressions import Call, Chain, Name
from advisor.language.library import Library
from advisor.language.nodes import Define, HouseEdit, Let, Lever, WordMeaning
from advisor.model.vocabulary import Measure, NumberType, Relation
from advisor.rulework.declared import Content, Key, parts_of
from advisor.units import UNITS, Dimension

_NAMED = ("let", "define", "measure", "relation")
"""The kinds of declarations that others speak of by name."""
_SPEAKING = ("rule", "prefer", "define", "lever", "accept", "word")
"""The kinds that speak of others."""


@dataclass(frozen=True, slots=True)
class Together:
    """For each edit those that must be made with it, so that every set of rules in between can be read."""

    needs: Mapping[Key, frozenset[Key]]

    def with_needed(self, edits: Collection[Key]) -> frozenset[Key]:
        """Return some edits and all that they need."""
        found: set[Key] = set()
        todo = list(edits)
        while todo:
            key = todo.pop()
            if key not in found:
                found.add(key)
                todo.extend(self.needs.get(key, ()))
        return frozenset(found)


def together(before: Library, after: Library, edits: Sequence[Key]) -> Together:
    """Return which edits between two libraries need which.

    Parameters
    ----------
    edits
        The keys of every declaration that differs.

    Notes
    -----
    A name is shifted where it is declared on one side only, or is another sort
    of thing there: other unit, other words, about other things. What speaks of
    it as the later side has it needs the edits of the name; the edits of the
    name need whatever speaks of it as the earlier side has it.
    """
    sides = parts_of(before), parts_of(after)
    named: dict[str, list[Key]] = {}
    for key in edits:
        if key.kind in (*_NAMED, "rule", "prefer"):
            named.setdefault(key.name, []).append(key)
    sorts = tuple({key: _sort(part) for key, part in parts.items() if key.name in named} for parts in sides)
    shifted = {
        name: tuple(keys)
        for name, keys in named.items()
        if any(sorts[0].get(key) != sorts[1].get(key) for key in keys)
    }
    needs: dict[Key, set[Key]] = {}
    if shifted:
        for key in dict.fromkeys((*sides[0], *sides[1])):
            if key.kind in _SPEAKING:
                _join(key, sides, shifted, key in edits, needs)
    for keys in shifted.values():  # a number that becomes a definition: both edits or neither
        _all_need_all(keys, needs)
    return Together({key: frozenset(found) for key, found in needs.items()})


def _join(
    key: Key,
    sides: tuple[Mapping[Key, Content], Mapping[Key, Content]],
    shifted: Mapping[str, tuple[Key, ...]],
    edited: bool,
    needs: dict[Key, set[Key]],
) -> None:
    """Note what one declaration asks of the edits of the names it speaks of."""
    old, new = (
        [each for name in _spoken_of(parts.get(key)) for each in shifted.get(name, ()) if each != key]
        for parts in sides
    )
    if not edited:  # read as it stands on both sides, but not with half of its names shifted
        _all_need_all(tuple(dict.fromkeys(new)), needs)
        return
    for each in new:
        needs.setdefault(key, set()).add(each)
    for each in old:
        needs.setdefault(each, set()).add(key)


def _all_need_all(keys: Sequence[Key], needs: dict[Key, set[Key]]) -> None:
    """Note that several edits are made together or not at all."""
    for key in keys if len(keys) > 1 else ():
        needs.setdefault(key, set()).update(each for each in keys if each != key)


def _spoken_of(part: object) -> frozenset[str]:
    """Every name that a declaration speaks of, in its sentences too."""
    match part:
        case WordMeaning(measure=measure):
            return frozenset((measure,))
        case HouseEdit(target=target):
            return frozenset((target,))
        case Lever(target=target):
            return frozenset((target, *_names_in(part)))
        case _:
            return frozenset(_names_in(part))


def _names_in(part: object) -> Iterator[str]:
    """The names in a tree, those of variables with them."""
    if isinstance(part, tuple):
        for item in part:
            yield from _names_in(item)
    elif is_dataclass(part):
        match part:
            case Name(name=name) | Call(name=name) | Chain(over=name):
                yield name
            case _:
                pass
        for each in fields(part):
            yield from _names_in(getattr(part, each.name))


def _sort(part: Content) -> object:
    """What sort of thing a name stands for; rules that speak of it can be read as long as it stays so."""
    match part:
        case Let(value=value):
            return "let", _dimension(value.unit)
        case Define(params=params, unit=unit):
            kinds = tuple(param.kind for param in params)
            return "define", kinds, None if unit is None else _dimension(unit)
        case Measure(params=params, type=kind):
            told = kind.dimension if isinstance(kind, NumberType) else kind
            return "measure", tuple(param.kind for param in params), told
        case Relation(params=params):
            return "relation", tuple(param.kind for param in params)
        case _:
            return "there"


def _dimension(unit: str) -> Dimension | None:
    """What a unit measures; None for a plain number."""
    found = UNITS.get(unit)
    return None if found is None else found.dimension
