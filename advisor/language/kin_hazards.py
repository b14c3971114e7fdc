"""What can hurt a person in every shipped card of a genus or a group is no house card's to leave out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from advisor.errors import Problem, Related, Severity
from advisor.language.guess import several
from advisor.language.nodes import Card, CardValue

_HAZARD, _TEXT = "hazard", "hazard-text"
_KIN = ("genus", "group")
_NO_HAZARD = frozenset({"none", "protected"})


def with_kin_hazards(card: Card, shipped: Iterable[Card]) -> tuple[list[Problem], Card]:
    """Return a house card with the hazards that all shipped cards of its kin have, and what it left out.

    Parameters
    ----------
    card
        A card of a keeper's own.
    shipped
        The shipped cards. Kin are those of its genus, and those of its group.
    """
    lost = {hazard: kin for hazard, kin in _needed(card, list(shipped)) if hazard not in _said(card, _HAZARD)}
    if not lost:
        return [], card
    told = next((value for value in card.values if value.key == _HAZARD), None)
    problem = Problem(
        "card-911",
        f"card '{card.name}' leaves out the hazard '{min(lost)}' of its kin",
        card.span if told is None else told.span,
        "a caution for people: it counts all the same",
        f"hazard {several(sorted((_said(card, _HAZARD) | set(lost)) - {'none'}))}",
        Severity.WARNING,
        (Related(lost[min(lost)].span, "a shipped card of its kin"),),
    )
    return [problem], _added(card, lost, told)


def _needed(card: Card, shipped: list[Card]) -> Iterator[tuple[str, Card]]:
    """Each hazard that all shipped cards of a genus or group of the card have, with one of these."""
    for key in _KIN:
        for word in _said(card, key):
            kin = [each for each in shipped if word in _said(each, key)]
            shared = set.intersection(*(_said(each, _HAZARD) for each in kin)) if kin else set()
            yield from ((hazard, kin[0]) for hazard in sorted(shared - _NO_HAZARD))


def _said(card: Card, key: str) -> set[str]:
    """The words a card has for a key."""
    values = [value for value in card.values if value.key == key]
    return {word for value in values for word in (*value.words, value.word) if word}


def _added(card: Card, lost: dict[str, Card], told: CardValue | None) -> Card:
    """The card with the hazards and the words of the caution of its kin."""
    first = next(iter(lost.values()))
    line = told or next(value for value in first.values if value.key == _HAZARD)
    words = tuple(sorted((_said(card, _HAZARD) | set(lost)) - {"none"}))
    texts = {value.text: value for kin in lost.values() for value in kin.values if value.key == _TEXT}
    rest = tuple(value for value in card.values if value.key != _HAZARD)
    return replace(card, values=(*rest, replace(line, word="", words=words), *texts.values()))
