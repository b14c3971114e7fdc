"""What statements are about, by row: how many rows a kind has, what is told of one, whom a change means."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.model.tank import ANYTHING, Fact
from advisor.model.vocabulary import Kind, Param
from advisor.reasoning.survey_relations import Way
from advisor.reasoning.survey_rows import TANK, Layout, PlaceRow, ThingRow


def rows_of(layout: Layout, kind: Kind) -> int:
    """Return the number of rows of a kind's table."""
    if kind.lives:
        return len(layout.animals)
    match kind:
        case Kind.PLACE:
            return len(layout.places)
        case Kind.TANK:
            return len(layout.tank_facts)
        case Kind.WEAPON:
            return len(layout.weapons)
        case _:
            return len(layout.things[kind])


def told_of(layout: Layout, kind: Kind, row: int) -> tuple[tuple[str, ...], tuple[Fact, ...]]:
    """Return the subjects under which things are told of a row, and what a change states of it."""
    if kind.lives:
        animal = layout.animals[row]
        place = layout.places[animal.place]
        return (animal.id, place.key), (*layout.entities[animal.entity].facts, *place.facts)
    match kind:
        case Kind.PLACE:
            return (layout.places[row].key,), layout.places[row].facts
        case Kind.TANK:
            return (TANK,), layout.tank_facts[row]
        case Kind.WEAPON:
            return (), ()
        case _:
            return (layout.things[kind][row].id,), layout.things[kind][row].facts


def changed_facts(layout: Layout) -> list[Fact]:
    """Return every fact about one thing that a change states."""
    rows: list[tuple[Fact, ...]] = [place.facts for place in layout.places]
    rows += [entity.facts for entity in layout.entities]
    rows += [thing.facts for things in layout.things.values() for thing in things]
    return [fact for facts in (*rows, *layout.tank_facts) for fact in facts]


def pairs_in_worlds(
    layout: Layout, ways: Sequence[Way], params: Sequence[Param]
) -> tuple[list[tuple[int, int]], list[Fact]]:
    """Return the row pairs of which a change states something, and the fact of each."""
    pairs: list[tuple[int, int]] = []
    facts: list[Fact] = []
    alike = table_of(params[0].kind) is table_of(params[1].kind)
    for world, fact in layout.world_facts:
        for way in ways:
            if fact.measure == way.name and len(fact.subjects) == 2:
                one, other = (
                    _meant(layout, world, subject, param.kind)
                    for subject, param in zip(fact.subjects, params, strict=True)
                )
                found = [(first, second) for first in one for second in other if first != second or not alike]
                pairs += [(second, first) for first, second in found] if way.turned else found
                facts += [fact] * len(found)
    return pairs, facts


def table_of(kind: Kind) -> Kind:
    """Return the kind whose rows things of a kind have."""
    return Kind.ANIMAL if kind.lives else kind


def _meant(layout: Layout, world: int, subject: str, kind: Kind) -> list[int]:
    """Rows a change means by a name: an animal, whatever stands on a spot, a thing, or everyone else."""
    if kind.lives:
        if subject == ANYTHING:
            return [at for at, row in enumerate(layout.animals) if row.world in (-1, world)]
        return [
            at
            for at, row in enumerate(layout.animals)
            if row.world == world and subject in (row.id, layout.places[row.place].key)
        ]
    listed: Sequence[PlaceRow | ThingRow] = (
        layout.places if kind is Kind.PLACE else layout.things.get(kind, [])
    )
    if subject == ANYTHING:
        return [at for at, row in enumerate(listed) if row.world in (-1, world)]
    return [at for at, row in enumerate(listed) if row.world == world and row.id == subject]
