"""Names that a house's own card shares with a shipped one, which then means both."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from advisor.errors import Problem, Related, Severity
from advisor.knowledge.names import shipped_bearers
from advisor.language.library import Library
from advisor.language.nodes import Card

_MOST = 4


def shared_names(library: Library) -> Iterator[Problem]:
    """Yield a note for each name that a card of the house shares with shipped cards, of whatever kind.

    Parameters
    ----------
    library
        The checked rule files, those of the house among them.
    """
    for name in library.own_cards:
        card = library.cards.get(name)
        if card is None:
            continue
        shared: dict[tuple[str, ...], list[str]] = {}
        for each in dict.fromkeys((card.name, card.title, *card.also)):
            others = shipped_bearers(each, library)
            if others:
                shared.setdefault(others, []).append(each)
        taken = {each for names in shared.values() for each in names}
        for others, names in shared.items():
            yield _note(card, names, [library.cards[other] for other in others], taken)


def _note(card: Card, names: Sequence[str], others: Sequence[Card], taken: Collection[str]) -> Problem:
    """That names are shared, and that they may mean either card."""
    it, are = ("it", "is a name") if len(names) == 1 else ("they", "are names")
    called = " and ".join(f"'{name}'" for name in names)
    listed = " and ".join(other.name for other in others[:_MOST])
    more = f" and {len(others) - _MOST} more" if len(others) > _MOST else ""
    either = "either" if len(others) == 1 else f"any of {len(others) + 1} cards"
    if card.name in taken:
        mend = "give your card a name that no shipped one has, to mean yours alone"
    else:
        mend = f"write {card.name} in tank.yaml to mean yours, {others[0].name} to mean the shipped one"
    return Problem(
        "name-305",
        f"{called} {are} of your card {card.name} and of the shipped {listed}{more}",
        card.span,
        f"{it} may mean {either}, and the strictest counts",
        mend,
        Severity.NOTE,
        tuple(Related(other.span, "the shipped card") for other in others[:_MOST]),
    )
