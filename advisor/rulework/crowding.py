"""Examples with one thing more or less, for rules that ask about others than those they name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain, count

from advisor.language.nodes import Call, Example, Expr, Given
from advisor.rulework.altering import NOWHERE, argument_of, subject_of, things_of


def crowds_of(example: Example) -> Iterator[Example]:
    """Yield an example with one thing more, like another, and with one less it does not ask about."""
    asked = {name for then in example.thens for name in then.entities}
    for given in example.givens:
        if given.entity:
            yield replace(example, givens=(*example.givens, *_twin(example, given.entity)))
    for given in example.givens:
        if given.entity and given.entity not in asked:
            left = tuple(item for item in example.givens if given.entity not in _about(item))
            if left:  # an example tells something
                yield replace(example, givens=left)


def _about(given: Given) -> set[str]:
    """The things a given is about."""
    return {given.entity, given.of} if given.fact is None else things_of(given.fact)


def _twin(example: Example, name: str) -> Iterator[Given]:
    """Everything told of one thing, told of another like it."""
    taken = {thing for given in example.givens for thing in _about(given)}
    names = chain([f"{name}-twin"], (f"{name}-twin-{number}" for number in count(2)))
    fresh = next(each for each in names if each not in taken)
    for given in example.givens:
        if given.entity == name:
            yield replace(given, entity=fresh)
        elif given.fact is not None and name in things_of(given.fact):
            args = tuple(_renamed(arg, name, fresh) for arg in given.fact.args)
            yield replace(given, fact=Call(NOWHERE, given.fact.name, args))


def _renamed(arg: Expr, name: str, fresh: str) -> Expr:
    """An argument about another thing."""
    subject = subject_of(arg)
    return argument_of(subject.replace(name, fresh)) if subject.removesuffix(".spot") == name else arg
