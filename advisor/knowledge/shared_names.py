"""Names that a house's own card shares with a shipped one, and which of the two each of them means."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from advisor.errors import Problem, Related, Severity
from advisor.knowledge.nameindex import NameIndex, index_names, plain_name
from advisor.language.library import Library
from advisor.language.nodes import Card

_BOTH = 2


def shared_names(library: Library, house: Collection[str]) -> Iterator[Problem]:
    """Yield a note for each name that a card of the house shares with a shipped card.

    Parameters
    ----------
    library
        The checked rule files, those of the house among them.
    house
        The names of the house's files.
    """
    own = [card for card in library.cards.values() if card.span.file in house]
    if not own:
        return
    index = index_names(library)
    for card in own:
        shared: dict[tuple[tuple[str, ...], tuple[str, ...]], list[str]] = {}
        for name in dict.fromkeys((card.name, card.title, *card.also)):
            others = _others(name, index, library, house)
            if others:
                shared.setdefault((others, _meant(plain_name(name), index)), []).append(name)
        for (others, meant), names in shared.items():
            yield _note(card, names, [library.cards[other] for other in others], meant)


def _others(name: str, index: NameIndex, library: Library, house: Collection[str]) -> tuple[str, ...]:
    """The shipped cards that bear a name as their own or as another."""
    plain = plain_name(name)
    bearers = (*([index.own[plain]] if plain in index.own else []), *index.names.get(plain, ()))
    return tuple(name for name in dict.fromkeys(bearers) if library.cards[name].span.file not in house)


def _meant(plain: str, index: NameIndex) -> tuple[str, ...]:
    """The cards that a name is taken for; a card's own name goes before all others."""
    return (index.own[plain],) if plain in index.own else index.bearers(plain)


def _note(card: Card, names: Sequence[str], others: Sequence[Card], meant: tuple[str, ...]) -> Problem:
    """That names are shared, and which card they mean."""
    alone = len(names) == 1
    it, mean, are = ("it", "means", "is a name") if alone else ("they", "mean", "are names")
    called = " and ".join(f"'{name}'" for name in names)
    listed = " and ".join(other.name for other in others)
    either = "either" if len(meant) == _BOTH else f"any of {len(meant)} cards"
    if meant == (card.name,):
        means = f"{it} {mean} your card {card.name}"
        mend = f"write {others[0].name} in tank.yaml to mean the shipped one"
    elif card.name in meant:
        means = f"{it} may mean {either}, and the strictest counts"
        mend = f"write {card.name} in tank.yaml to mean yours, {others[0].name} to mean the shipped one"
    else:
        means = f"{it} {mean} the shipped {' or '.join(meant)}, not yours"
        mend = f"write {card.name} in tank.yaml to mean yours, or give it another name"
    return Problem(
        "name-305",
        f"{called} {are} of your card {card.name} and of the shipped {listed}",
        card.span,
        means,
        mend,
        Severity.NOTE,
        tuple(Related(other.span, "the shipped card") for other in others),
    )
