"""House lines that change a number of a card by which nothing is judged: another source is stricter."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from advisor.errors import Problem, Related, Severity
from advisor.language.format_house import card_line
from advisor.language.house_cards import shown_of
from advisor.language.house_state import House
from advisor.language.nodes import Card, CardValue, HouseEdit, HouseVerb

_GOVERNS = {"lower": min, "higher": max}


def idle_changes(
    house: House,
    edits: Sequence[HouseEdit],
    cards: Mapping[str, Card],
    alone: Mapping[str, Mapping[str, Card]],
) -> Iterator[Problem]:
    """Yield the lines that change one of two numbers that differ while the other one governs, as before.

    Parameters
    ----------
    house
        The library as it was before any line.
    edits
        The lines that count.
    cards, alone
        The cards with all those lines, and those that read differently for one animal.
    """
    stricter = {
        measure.card_line: measure.stricter
        for measure in house.before.vocabulary.measures.values()
        if measure.card_line and measure.stricter
    }
    for edit in edits:
        if edit.verb is not HouseVerb.CHANGE_CARD:
            continue
        before = house.before.cards[edit.target]
        after = alone.get(edit.animal, {}).get(edit.target) or cards[edit.target]
        for changed in (value for value in after.values if value.span == edit.span):
            way = stricter.get(changed.key, "")
            was, now = (_governing(card, changed, way) for card in (before, after))
            if was is not None and now is not None and was.number == now.number != changed.number:
                yield _idle(edit, changed, now)


def _governing(card: Card, like: CardValue, way: str) -> CardValue | None:
    """The value that governs where several lines give a number; None where no one does."""
    told = [
        value
        for value in card.values
        if (value.key, value.of) == (like.key, like.of) and value.number is not None
    ]
    if way not in _GOVERNS:
        return None
    return _GOVERNS[way](told, key=lambda value: value.number or 0.0, default=None)


def _idle(edit: HouseEdit, changed: CardValue, governs: CardValue) -> Problem:
    """That a line has no effect on any verdict, and which number has."""
    line = card_line(changed.key, changed.of)
    return Problem(
        "house-516",
        f"this changes no verdict: another source of {edit.target} {line} is stricter and governs",
        edit.span,
        f"{shown_of(governs)} governs, not your {shown_of(changed)}",
        "remove the line, or change the number that governs",
        Severity.WARNING,
        (Related(governs.span, "the number that governs"),),
    )
