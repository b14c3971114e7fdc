"""Two declarations of one name or loose word: the second is told, and what a house file may do instead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias

from advisor.errors import Problem, Related, Span
from advisor.language.format_expr import HARD_SPACE, literal
from advisor.language.nodes import Action, Card, Define, Handling, Let, Lever, Prefer, Rule, WordMeaning
from advisor.model.vocabulary import Measure, NumberType, Relation

Named: TypeAlias = Measure | Relation | Let | Define | Rule | Prefer | Card | Lever | Action | Handling
"""A declaration that has a name."""
ANYONE = "anyone"
"""Whose a loose word is that means the same from everybody."""


def place_of(item: Named) -> Span:
    """Return where a declaration begins."""
    span: Span | None = item.span
    return span if span is not None else Span("")


def told_twice(item: Named, first: Named, *, own: bool) -> Problem:
    """Return the problem that a name is taken.

    Parameters
    ----------
    first
        What has the name already.
    own
        Whether a house file repeats what is shipped; such a line can be changed there.
    """
    return Problem(
        "word-126",
        f"two things are called '{item.name}'",
        place_of(item),
        "the second one, left out",
        _mend(item, first) if own else "give one of them another name",
        related=(Related(place_of(first), "the shipped one" if own else "the first one"),),
    )


def words_twice(
    words: Sequence[WordMeaning], house: Sequence[WordMeaning], measures: Mapping[str, Measure]
) -> tuple[list[Problem], list[WordMeaning]]:
    """Return a problem for each loose word that has a meaning already, and the meanings without those.

    Parameters
    ----------
    words
        What is shipped.
    house
        What the house's files add. What is shipped for a speaker, or for anyone, is not theirs to give.
    measures
        The measures, by name: a word of one counts for the others of its dimension.
    """
    problems: list[Problem] = []
    kept: list[WordMeaning] = []
    for meaning in (*words, *house):
        own = any(meaning is each for each in house)
        first = next((each for each in kept if _collide(each, meaning, measures)), None)
        if first is None and own:
            first = next((each for each in words if _covers(each, meaning, measures)), None)
        if first is None:
            kept.append(meaning)
        else:
            problems.append(_word_told(meaning, first))
    return problems, kept


def _covers(shipped: WordMeaning, own: WordMeaning, measures: Mapping[str, Measure]) -> bool:
    """Whether a word of the house's would stand before a shipped one, or beside it for anyone."""
    return ANYONE in (shipped.said_by, own.said_by) and _collide(
        shipped, replace(own, said_by=shipped.said_by), measures
    )


def _collide(one: WordMeaning, other: WordMeaning, measures: Mapping[str, Measure]) -> bool:
    """Whether two meanings are of one word, one speaker, and one measure or dimension."""
    if one.word.casefold() != other.word.casefold() or one.said_by != other.said_by:
        return False
    if one.measure == other.measure:
        return True
    types = [measures[each.measure].type for each in (one, other) if each.measure in measures]
    numbers = [kind for kind in types if isinstance(kind, NumberType)]
    return len(numbers) == len((one, other)) and numbers[0].dimension is numbers[1].dimension


def _word_told(meaning: WordMeaning, first: WordMeaning) -> Problem:
    """The problem of a loose word that has a meaning already."""
    return Problem(
        "word-126",
        f'"{meaning.word}" of {first.measure} from {first.said_by} has a meaning already',
        meaning.span,
        "the second one, left out",
        "choose another word",
        related=(Related(first.span, "the first one"),),
    )


def _mend(item: Named, first: Named) -> str:
    """What a house file says to have its own way."""
    match first, item:
        case Let(), Let():
            change = f"change {item.name} from {literal(first.value)} to {literal(item.value)}"
            return change.replace(HARD_SPACE, " ")
        case ((Rule() | Prefer()), (Rule() | Prefer())):
            return f"give yours another name, and switch off {item.name}"
        case Card(), Card():
            return f"give yours another name, or change {item.name}, line by line"
        case _:
            return "give yours another name"
