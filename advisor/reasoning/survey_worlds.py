"""Changes laid over a tank: each a world with rows of its own for what it changes."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from advisor.errors import AdvisorError
from advisor.model.changes import NO_CARD, Add, CardChoice, Change, Edit, Move, Remove, SetFact
from advisor.model.tank import ANYTHING, Animal, Fact, Fish, Lamp, Phase, Pump, Rock, Tank
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey_rows import TANK, AnimalRow, Entity, Layout, PlaceRow, ThingRow, place_of


def lay_out(
    tank: Tank,
    worlds: Sequence[Change],
    cards: Mapping[str, CardChoice],
    of_places: Collection[str] = (),
    kinds: Mapping[str, tuple[Kind, ...]] | None = None,
) -> Layout:
    """Return the rows of a tank and of the changes laid over it; world 0 is the tank as it is.

    Parameters
    ----------
    of_places
        Names of the measures of a place; said of an animal they are about where it stands.
    kinds
        What each measure and relation is about, so that a rock is told from a spot of its name.

    Raises
    ------
    AdvisorError
        If a change names an animal or a spot that is not there.
    """
    builder = _Builder(tank, cards, of_places, kinds or {})
    for change in worlds:
        builder.lay_over(change)
    return builder.layout


def listed_in(tank: Tank) -> dict[Kind, tuple[str, ...]]:
    """Return the ids of the rocks, lamps, pumps and fish of a tank, in order."""
    lists: dict[Kind, tuple[Rock | Lamp | Pump | Fish, ...]] = {
        Kind.ROCK: tank.rocks,
        Kind.LAMP: tank.lamps,
        Kind.PUMP: tank.pumps,
        Kind.FISH: tank.fish,
    }
    return {kind: tuple(sorted(thing.id for thing in things)) for kind, things in lists.items()}


class _Builder:
    """Adds rows to a layout, one world at a time."""

    def __init__(
        self,
        tank: Tank,
        cards: Mapping[str, CardChoice],
        of_places: Collection[str],
        kinds: Mapping[str, tuple[Kind, ...]],
    ) -> None:
        self.layout = Layout()
        self._cards = cards
        self._of_places = of_places
        self._kinds = kinds
        self._waiting = {animal.id for animal in tank.animals if animal.phase is Phase.WAITING}
        self._known: dict[tuple[int, bool, tuple[Fact, ...]], int] = {}
        self._base: dict[str, int] = {}
        self._standing: dict[int, list[str]] = {}
        self._things: dict[tuple[Kind, str], int] = {}
        for spot in sorted(tank.spots, key=lambda spot: spot.id):
            self.layout.spot_place[spot.id] = len(self.layout.places)
            self.layout.places.append(PlaceRow(spot.id, spot))
        for animal in sorted(tank.animals, key=lambda animal: animal.id):
            if animal.phase is not Phase.WAITING:
                self._add_shared(animal)
        for kind, ids in listed_in(tank).items():
            rows = [ThingRow(name) for name in ids]
            rows += [] if kind.value in tank.told else [ThingRow("", stranger=True)]
            self.layout.things[kind] = rows
            self._things |= {(kind, name): at for at, name in enumerate(ids)}
        self.layout.shared_animals = len(self.layout.animals)
        self.layout.shared_places = len(self.layout.places)

    def _add_shared(self, animal: Animal) -> None:
        """Add a row that every world shares."""
        place = self._spot(animal.spot) if animal.spot else len(self.layout.places)
        if not animal.spot:
            self.layout.places.append(PlaceRow(place_of(animal.id), None, animal.id))
        self._base[animal.id] = len(self.layout.animals)
        self._standing.setdefault(place, []).append(animal.id)
        self.layout.animals.append(
            AnimalRow(animal.id, animal, place, entity=self._entity(animal, False, ()))
        )

    def _entity(self, animal: Animal, moved: bool, facts: tuple[Fact, ...]) -> int:
        """Row of what is known of an animal, made once."""
        key = (id(animal), moved, facts)
        found = self._known.get(key)
        if found is None:
            choice = self._cards.get(animal.id) or self._cards.get(animal.taxon) or NO_CARD
            found = self._known[key] = len(self.layout.entities)
            self.layout.entities.append(Entity(animal, choice, moved, facts))
        return found

    def _spot(self, spot_id: str) -> int:
        """Place row of a spot, or a clear refusal."""
        found = self.layout.spot_place.get(spot_id)
        if found is None:
            names = ", ".join(self.layout.spot_place) or "none"
            raise AdvisorError(f"there is no spot '{spot_id}' in this tank; its spots are: {names}")
        return found

    def lay_over(self, change: Change) -> None:
        """Add the rows of one world."""
        world = _World(len(self.layout.tank_row))
        self.layout.tank_row.append(0)
        for edit in change:
            self._edit(world, edit)
        for row in world.rows.values():
            entity = self._entity(row.animal, row.moved, tuple(world.facts.get(row.animal.id, ())))
            self.layout.animals.append(
                AnimalRow(row.animal.id, row.animal, row.place, world.index, entity, row.here)
            )

    def _edit(self, world: _World, edit: Edit) -> None:
        """Lay one edit over a world."""
        match edit:
            case Add(animal, spot):
                self._add(world, animal, spot)
            case Remove(animal_id):
                self._take(world, animal_id)
            case Move(animal_id, spot):
                animal = self._take(world, animal_id)
                world.rows[animal_id] = _Standing(animal, self._place_in(world, spot), True, False)
            case SetFact(fact):
                self._set(world, fact)

    def _add(self, world: _World, animal: Animal, spot: str) -> None:
        """Put an animal into a world."""
        if self._stands(world, animal.id):
            raise AdvisorError(f"'{animal.id}' already stands in this tank; move it instead of adding it")
        if spot:
            place = self._place_in(world, spot)
        else:
            place = len(self.layout.places)
            self.layout.places.append(PlaceRow(place_of(animal.id), None, animal.id, world.index))
        world.rows[animal.id] = _Standing(animal, place, True, not spot)

    def _stands(self, world: _World, animal_id: str) -> bool:
        """Whether an animal stands in a world."""
        shared = animal_id in self._base and self._base[animal_id] not in world.gone
        return shared or animal_id in world.rows

    def _take(self, world: _World, animal_id: str) -> Animal:
        """Take an animal out of a world and return it."""
        if not self._stands(world, animal_id):
            raise AdvisorError(f"no animal '{animal_id}' stands in this tank")
        if animal_id in world.rows:
            return world.rows.pop(animal_id).animal
        row = self._base[animal_id]
        world.gone.add(row)
        self.layout.removals.append((world.index, row))
        return self.layout.animals[row].animal

    def _place_in(self, world: _World, spot: str) -> int:
        """Place row of a spot in a world."""
        shared = self._spot(spot)
        return world.places.get(shared, shared)

    def _own(self, world: _World, animal_id: str) -> None:
        """Give an animal a row of its own in a world, where it stands."""
        if animal_id in self._base and self._base[animal_id] not in world.gone:
            row = self.layout.animals[self._base[animal_id]]
            animal = self._take(world, animal_id)
            world.rows[animal_id] = _Standing(animal, world.places.get(row.place, row.place), False, True)

    def _set(self, world: _World, fact: Fact) -> None:
        """State one thing in a world."""
        single = len(fact.subjects) == 1
        if not single:
            self.layout.world_facts.append((world.index, fact))
        about = self._kinds.get(fact.measure, ())
        for at, subject in enumerate(fact.subjects):
            kind = about[at] if at < len(about) else None
            if subject == TANK:
                self._set_of_tank(world, fact)
            elif kind is not None and (kind, subject) in self._things:
                self._set_of_thing(world, kind, subject, (fact,) if single else ())
            elif subject in self.layout.spot_place:
                self._set_of_place(world, self._place_in(world, subject), (fact,) if single else ())
            elif subject in self._base or subject in world.rows or subject in self._waiting:
                self._set_of_animal(world, subject, (fact,) if single else ())
            elif subject != ANYTHING:
                raise AdvisorError(f"a change speaks of '{subject}', which is not in this tank")

    def _set_of_tank(self, world: _World, fact: Fact) -> None:
        """State something of the tank in a world."""
        facts = (*self.layout.tank_facts[self.layout.tank_row[world.index]], fact)
        self.layout.tank_row[world.index] = len(self.layout.tank_facts)
        self.layout.tank_facts.append(facts)

    def _set_of_place(self, world: _World, place: int, facts: tuple[Fact, ...]) -> None:
        """State something of a place in a world, and stand everyone there on the new row."""
        old = self.layout.places[place]
        for animal_id in self._standing.get(place, ()):
            self._own(world, animal_id)
        new = len(self.layout.places)
        self.layout.gone.append((Kind.PLACE, world.index, place))
        self.layout.places.append(replace(old, world=world.index, facts=(*old.facts, *facts)))
        shared = next((first for first, now in world.places.items() if now == place), place)
        world.places[shared] = new
        for animal_id, row in list(world.rows.items()):
            if row.place == place:
                world.rows[animal_id] = replace(row, place=new)

    def _set_of_thing(self, world: _World, kind: Kind, name: str, facts: tuple[Fact, ...]) -> None:
        """State something of a rock, lamp, pump or fish in a world."""
        rows = self.layout.things[kind]
        now = world.things.get((kind, name), self._things[kind, name])
        self.layout.gone.append((kind, world.index, now))
        world.things[kind, name] = len(rows)
        rows.append(replace(rows[now], world=world.index, facts=(*rows[now].facts, *facts)))
        # what is reckoned of the whole tank may rest on it
        self.layout.tank_facts.append(self.layout.tank_facts[self.layout.tank_row[world.index]])
        self.layout.tank_row[world.index] = len(self.layout.tank_facts) - 1

    def _set_of_animal(self, world: _World, animal_id: str, facts: tuple[Fact, ...]) -> None:
        """State something of an animal, or of where it stands, in a world."""
        self._own(world, animal_id)
        if facts and facts[0].measure in self._of_places:
            if animal_id in world.rows:
                self._set_of_place(world, world.rows[animal_id].place, facts)
        else:
            world.facts.setdefault(animal_id, []).extend(facts)


@dataclass(frozen=True, slots=True)
class _Standing:
    """An animal of one world alone."""

    animal: Animal
    place: int
    moved: bool
    here: bool


@dataclass(slots=True)
class _World:
    """What one change has done so far."""

    index: int
    rows: dict[str, _Standing] = field(default_factory=dict)
    gone: set[int] = field(default_factory=set)
    places: dict[int, int] = field(default_factory=dict)
    facts: dict[str, list[Fact]] = field(default_factory=dict)
    things: dict[tuple[Kind, str], int] = field(default_factory=dict)
