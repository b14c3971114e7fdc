"""The weapons of every animal: of one card, or of each card it may have."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import Card
from advisor.model.cells import CellKind, WordCell
from advisor.model.changes import CardChoice
from advisor.reasoning.columns import Ints
from advisor.reasoning.listing import Listing
from advisor.reasoning.survey_grounds import plain
from advisor.reasoning.survey_rows import NO_WEAPON, STRANGER, WEAPON, Entity, Layout, WeaponRow


def weapons_on(card: Card) -> tuple[str, ...] | None:
    """Return the weapons of a card, in its order; None where it does not say."""
    spoken = [value for value in card.values if value.key == WEAPON]
    words = [word for value in spoken for word in (value.words or (value.word,)) if word]
    return tuple(dict.fromkeys(word for word in words if word != NO_WEAPON)) if spoken else None


def arm(layout: Layout, library: Library) -> None:
    """Add the weapons of every entity to a layout, those of one entity together."""
    made: dict[tuple[int, str], list[WeaponRow]] = {}
    for at, entity in enumerate(layout.entities):
        own = library.alone.get(entity.animal.id, {})
        key = (id(entity.choice), entity.animal.id if own else "")
        if key not in made:
            made[key] = _rows_of(entity.choice, {**library.cards, **own})
        layout.weapons += made[key]
        layout.armed += [at] * len(made[key])


def known_cards(choice: CardChoice, cards: Mapping[str, Card]) -> tuple[str, ...]:
    """Return the cards an animal may have that there are."""
    return tuple(name for name in choice.cards if name in cards)


def _rows_of(choice: CardChoice, cards: Mapping[str, Card]) -> list[WeaponRow]:
    """The weapons of an animal with some cards."""
    names = known_cards(choice, cards)
    if not names:
        return [WeaponRow(STRANGER, (), perhaps=True)]
    each = [(name, weapons_on(cards[name])) for name in names]
    if len(each) == 1:
        return [_row(names[0], weapon) for weapon in _or_stranger(each[0][1])]
    rows = [
        _row(name, weapon, part=part, bound=False)
        for part, (name, weapons) in enumerate(each)
        for weapon in _or_stranger(weapons)
    ]
    every = dict.fromkeys(weapon for _, weapons in each for weapon in _or_stranger(weapons))
    for weapon in every:
        having = tuple(name for name, weapons in each if weapon in _or_stranger(weapons))
        perhaps = len(having) < len(names) or weapon == STRANGER
        rows.append(WeaponRow(weapon, having, apart=False, perhaps=perhaps))
    return rows


def _or_stranger(weapons: tuple[str, ...] | None) -> tuple[str, ...]:
    """The weapons of a card, or that it may have some."""
    return (STRANGER,) if weapons is None else weapons


def _row(card: str, weapon: str, *, part: int = 0, bound: bool = True) -> WeaponRow:
    """A weapon of one card."""
    return WeaponRow(weapon, (card,), part, True, bound, weapon == STRANGER)


def weapon_listing(layout: Layout, parts: Ints, *, apart: bool) -> Listing:
    """Return which rows each animal row holds.

    Parameters
    ----------
    parts
        How many cards each entity may have.
    """
    rows, entity = layout.weapons, np.array(layout.armed, np.int64)
    kept = np.array([row.apart if apart else row.bound for row in rows], np.bool_)
    at = np.flatnonzero(kept)
    starts = np.searchsorted(entity[at], np.arange(len(layout.entities) + 1))
    of_entity = Listing(
        at.astype(np.int64),
        starts.astype(np.int64),
        np.full(len(rows), -1, np.int64),
        np.array([row.stranger for row in rows], np.bool_),
        np.array([row.part for row in rows], np.int64),
        parts,
    )
    own = layout.entity_of_animals()
    segment, found = of_entity.held_by(own)
    first = np.searchsorted(segment, np.arange(len(own) + 1)).astype(np.int64)
    many = parts[own] if apart and len(own) else np.ones(len(own), np.int64)
    return Listing(found, first, of_entity.world, of_entity.stranger, of_entity.part, many)


def weapon_named(row: WeaponRow, entity: Entity) -> str:
    """Return what a weapon is called: ``filaments of torch-1``, with the species it hangs on."""
    text = f"{row.name} of {entity.animal.id}"
    if row.stranger or len(entity.choice.cards) < 2 or (row.bound and not row.perhaps):
        return text
    return f"{text}, if it is {' or '.join(row.cards)}"


def weapon_kind(row: WeaponRow) -> WordCell:
    """Return which weapon it is."""
    return WordCell(frozenset((row.name,)), CellKind.CARD, None, (plain(f"card {' or '.join(row.cards)}"),))
