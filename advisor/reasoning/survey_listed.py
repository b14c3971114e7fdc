"""Who there is of each kind in each world of the survey, and what it is called."""

from __future__ import annotations

import numpy as np

from advisor.language.library import Library
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import Bools
from advisor.reasoning.listing import Listing, here_in, listing_of
from advisor.reasoning.survey_rows import Layout
from advisor.reasoning.survey_weapons import known_cards, weapon_listing, weapon_named


def list_of(layout: Layout, library: Library, kind: Kind, *, apart: bool) -> Listing:
    """Return the listing of a kind that is neither an animal nor the tank.

    Parameters
    ----------
    apart
        Of weapons: one row for each card the animal may have, instead of one row for each weapon.
    """
    if kind is Kind.WEAPON:
        counts = [max(len(known_cards(entity.choice, library.cards)), 1) for entity in layout.entities]
        return weapon_listing(layout, np.array(counts, np.int64), apart=apart)
    worlds = len(layout.tank_row)
    gone = [(world, row) for of, world, row in layout.gone if of is kind]
    if kind is Kind.PLACE:
        world = np.array([row.world for row in layout.places], np.int64)
        return listing_of(here_in(worlds, world, gone) & _stood_on(layout), world)
    rows = layout.things.get(kind, [])
    world = np.array([row.world for row in rows], np.int64)
    stranger = np.array([row.stranger for row in rows], np.bool_)
    return listing_of(here_in(worlds, world, gone), world, stranger)


def _stood_on(layout: Layout) -> Bools:
    """Whether each place is there in each world: a spot is, any other as long as its animal is."""
    found = np.zeros((len(layout.tank_row), len(layout.places)), np.bool_)
    found[:, [row.spot is not None for row in layout.places]] = True
    animals = here_in(len(layout.tank_row), layout.world_of_animals(), layout.removals)
    world, row = np.nonzero(animals)
    found[world, layout.place_of_animals()[row]] = True
    return found


def thing_named(layout: Layout, kind: Kind, row: int) -> str:
    """Return what a weapon, rock, lamp, pump or fish is called in a sentence."""
    if kind is Kind.WEAPON:
        weapon = layout.weapons[row]
        return weapon_named(weapon, layout.entities[layout.armed[row]])
    thing = layout.things[kind][row]
    return f"a {kind.value} nobody told of" if thing.stranger else thing.id
