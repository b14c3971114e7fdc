"""The survey: every value a rule can ask for, as columns over rows or as one cell with its grounds.

It is made of a tank, the rule files and changes laid over the tank. Tables
are made ready one measure at a time, when first asked for; no call takes
more steps because it is asked about more rows.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from advisor.language.library import Library
from advisor.model.cells import Cell
from advisor.model.changes import CardChoice, Change
from advisor.model.tank import Tank
from advisor.model.vocabulary import LISTED, Kind, Measure, NumberType, Param, Relation
from advisor.reasoning.columns import MISSING, Bools, Floats, Ints, Numbers, Sets, Truths, Words
from advisor.reasoning.listing import Listing
from advisor.reasoning.survey_cards import CardReader
from advisor.reasoning.survey_computed import SUPPLIES, Context
from advisor.reasoning.survey_disputes import Dispute, Disputes, as_told
from advisor.reasoning.survey_facts import collect, settled_days
from advisor.reasoning.survey_lately import OF_LATELY
from advisor.reasoning.survey_lies import OF_LIES
from advisor.reasoning.survey_light import OF_LIGHT
from advisor.reasoning.survey_listed import list_of, thing_named
from advisor.reasoning.survey_meter import factor_doubt
from advisor.reasoning.survey_near import graph_of, pair_rows
from advisor.reasoning.survey_resolve import Resolver
from advisor.reasoning.survey_rows import AnimalRow, Layout, PlaceRow
from advisor.reasoning.survey_singles import Singles
from advisor.reasoning.survey_tables import PAIR_SUPPLIES, PairTables
from advisor.reasoning.survey_things import OF_THINGS, TELLS_OF_MORE
from advisor.reasoning.survey_told import Teller
from advisor.reasoning.survey_values import Reader
from advisor.reasoning.survey_vouch import VOUCHES
from advisor.reasoning.survey_weapons import arm, known_cards
from advisor.reasoning.survey_worlds import lay_out

if TYPE_CHECKING:
    import networkx

COMPUTED: frozenset[str] = frozenset(
    {*SUPPLIES, *OF_THINGS, *OF_LATELY, *OF_LIES, *OF_LIGHT, *VOUCHES, *PAIR_SUPPLIES}
)
"""Every name that may stand after ``computed by`` in a rule file."""


def make_survey(
    tank: Tank,
    library: Library,
    on: date,
    *,
    horizon_months: int | None = None,
    worlds: Sequence[Change] = (),
    cards: Mapping[str, CardChoice],
) -> Survey:
    """Return the survey of a tank on a day, with changes laid over it.

    Parameters
    ----------
    horizon_months
        How far ahead is looked; None takes the tank's own. [months]
    worlds
        Changes; the first is world 1, the tank as it is world 0.
    cards
        Which card or cards each animal's name means, by its id or by the name.

    Raises
    ------
    AdvisorError
        If a change names an animal or a spot that is not there.
    """
    words: dict[str, Measure | Relation] = {**library.vocabulary.measures, **library.vocabulary.relations}
    of_places = {
        name for name, word in words.items() if len(word.params) == 1 and word.params[0].kind is Kind.PLACE
    }
    kinds = {name: tuple(param.kind for param in word.params) for name, word in words.items()}
    layout = lay_out(tank, worlds, cards, of_places, kinds)
    arm(layout, library)
    horizon = tank.horizon_months if horizon_months is None else horizon_months

    def again(animal_id: str, choice: CardChoice) -> Survey:
        certain = {**cards, animal_id: choice}
        return make_survey(tank, library, on, horizon_months=horizon, worlds=worlds, cards=certain)

    def under(rules: Library) -> Survey:
        return make_survey(tank, rules, on, horizon_months=horizon, worlds=worlds, cards=cards)

    return Survey(tank, library, on, horizon, layout, again, under)


class Survey:
    """Cells by row, a column at a time; see `advisor.reasoning.tables.Tables`."""

    def __init__(
        self,
        tank: Tank,
        library: Library,
        on: date,
        horizon_months: int,
        layout: Layout,
        again: Callable[[str, CardChoice], Survey],
        under: Callable[[Library], Survey],
    ) -> None:
        self.tank = tank
        self.library = library
        self.on = on
        self.horizon_months = horizon_months
        self.animals: tuple[AnimalRow, ...] = tuple(layout.animals)
        self.places: tuple[PlaceRow, ...] = tuple(layout.places)
        self.animal_world: Ints = layout.world_of_animals()
        self.animal_place: Ints = layout.place_of_animals()
        self.place_world: Ints = np.array([row.world for row in layout.places], np.int64)
        self.removed: Bools = layout.removed()
        self.spot_place: dict[str, int] = dict(layout.spot_place)
        self._layout = layout
        self._again = again
        self.under = under
        """The survey of the same tank and changes under other rules; rows of animals and places stay."""
        self._as_if: dict[tuple[str, CardChoice], Survey] = {}
        self._disputes = Disputes(library, layout)
        self._as_told: dict[Dispute, tuple[Survey, ...]] = {}
        self._listings: dict[tuple[Kind, bool], Listing] = {}
        self._tank_row = np.array(layout.tank_row, np.int64)
        self._facts = collect(tank, library.vocabulary, on)
        self.notes: tuple[str, ...] = self._facts.notes
        reader = Reader(library.vocabulary, library.words, on, factor_doubt(library, self._facts))
        resolver = Resolver(
            lambda own: self._context(layout, own),
            reader,
            CardReader(library),
            {**SUPPLIES, **OF_THINGS, **OF_LATELY, **OF_LIES, **OF_LIGHT, **VOUCHES},
            {*VOUCHES, *TELLS_OF_MORE},
        )
        self._singles = Singles(resolver)
        self._pairs = PairTables(resolver.context, self._singles, reader)
        self._teller = Teller(self._pairs, self._singles)
        self._cells: dict[tuple[str, tuple[int, ...], float, bool], Cell] = {}

    def _context(self, layout: Layout, resolver: Resolver) -> Context:
        """What a supplier may look at."""
        standing: dict[str, list[AnimalRow]] = {}
        for row in layout.animals[: layout.shared_animals]:
            standing.setdefault(layout.places[row.place].key, []).append(row)
        settled = settled_days(self.tank, self.on)
        return Context(self.tank, self.library, self.on, self._facts, settled, layout, standing,
                       resolver.of, resolver.of)  # fmt: skip

    # --- rows

    @property
    def place_count(self) -> int:
        """Number of place rows, those of changes included (`place_world` tells whose)."""
        return len(self.places)

    def tank_rows(self, worlds: Ints) -> Ints:
        """Return the row of the tank table for each world."""
        found: Ints = self._tank_row[worlds]
        return found

    def species(self, row: int) -> tuple[str, ...]:
        """Return the cards that the animal of a row may have."""
        return known_cards(self._layout.entities[self.animals[row].entity].choice, self.library.cards)

    def as_if(self, animal_id: str, choice: CardChoice) -> Survey:
        """Return the survey of the same tank and changes with one animal of these cards; rows stay.

        Only the rows of weapons are others, since they are those of its cards.
        """
        key = (animal_id, choice)
        found = self._as_if.get(key)
        if found is None:
            found = self._as_if[key] = self._again(animal_id, choice)
        return found

    def disputes_at(self, word: str, rows: tuple[int, ...]) -> tuple[Dispute, ...]:
        """Return the disputed card lines that a measure or relation of some rows rests on."""
        words = self.library.vocabulary
        return self._disputes.at(words.measures.get(word) or words.relations[word], rows)

    def as_told(self, dispute: Dispute) -> tuple[Survey, ...]:
        """Return the survey with each value of a disputed card line standing alone; rows stay."""
        found = self._as_told.get(dispute)
        if found is None:
            found = self._as_told[dispute] = tuple(
                Survey(self.tank, as_told(self.library, dispute, alone), self.on, self.horizon_months,
                       self._layout, self._again, self.under)
                for alone in dispute.told
            )  # fmt: skip
        return found

    def listing(self, kind: Kind, apart: bool = False) -> Listing:
        """Return who there is of a kind that is neither an animal nor the tank; see `Tables.listing`."""
        key = (kind, apart)
        found = self._listings.get(key)
        if found is None:
            found = self._listings[key] = list_of(self._layout, self.library, kind, apart=apart)
        return found

    def rows_in(self, world: int) -> Ints:
        """Return the animal rows that stand in a world, by id."""
        shared = np.flatnonzero(self.animal_world < 0)
        standing = [*(int(row) for row in shared if not self.removed[world, row]),
                    *(int(row) for row in np.flatnonzero(self.animal_world == world))]  # fmt: skip
        return np.array(sorted(standing, key=lambda row: self.animals[row].id), np.int64)

    def animal_row(self, animal_id: str, world: int = 0) -> int:
        """Return the row of an animal in a world, -1 where it does not stand in it."""
        return next((int(row) for row in self.rows_in(world) if self.animals[int(row)].id == animal_id), -1)

    def label(self, kind: Kind, row: int) -> str:
        """Return the id to print for one row."""
        if kind is Kind.TANK:
            return "the tank"
        if kind.lives:
            return self.animals[row].id
        if kind is not Kind.PLACE:
            return thing_named(self._layout, kind, row)
        place = self.places[row]
        return place.id if place.spot is not None else f"the place of {place.animal_id}"

    def say(self, name: str, rows: tuple[int, ...]) -> str:
        """Return the phrase for a measure or relation of these rows."""
        word = self._word(name)
        return self._filled(word.say or name, word.params, rows)

    def ask(self, name: str, rows: tuple[int, ...]) -> str:
        """Return the question to put when this is not known: ``Measure from a to b with a tape``."""
        word = self._word(name)
        template = word.ask or word.say or name
        for param, subject in zip(word.params, self.asked_of(name, rows), strict=False):
            template = template.replace(f"{{{param.name}}}", subject)
        return template

    def asked_of(self, name: str, rows: tuple[int, ...]) -> tuple[str, ...]:
        """Return the ids a question is put about, as a keeper would type them.

        Of two animals, one that only might come to a spot is named by the
        spot: that is where a tape can be held.
        """
        params = self._word(name).params
        return tuple(
            self._typed(param.kind, row, among=len(params)) for param, row in zip(params, rows, strict=False)
        )

    def _typed(self, kind: Kind, row: int, among: int) -> str:
        """The id of one thing a question is about."""
        if kind is Kind.TANK:
            return "tank"
        if kind is Kind.WEAPON:
            return self._layout.entities[self._layout.armed[row]].animal.id
        if kind in LISTED:
            return self._layout.things[kind][row].id
        if kind is Kind.PLACE:
            place = self.places[row]
            return place.id if place.spot is not None else place.animal_id
        if among < 2 or self.animal_world[row] < 0:
            return self.animals[row].id
        place = self.places[self.animal_place[row]]
        return place.id if place.spot is not None else self.animals[row].id

    def _word(self, name: str) -> Measure | Relation:
        """The measure or relation of a name."""
        vocabulary = self.library.vocabulary
        return vocabulary.measures[name] if name in vocabulary.measures else vocabulary.relations[name]

    def _filled(self, template: str, params: tuple[Param, ...], rows: tuple[int, ...]) -> str:
        """A phrase with the ids of its rows put in."""
        for param, row in zip(params, rows, strict=False):
            template = template.replace(f"{{{param.name}}}", self.label(param.kind, row))
        return template

    # --- columns

    def numbers(self, measure: str, rows: tuple[Ints, ...], months: Floats | None, assume: bool) -> Numbers:
        """Return a quantity for each row, one index array per parameter. [base unit]

        Parameters
        ----------
        months
            Months ahead for each row, None for now. [months]
        assume
            Whether values that nobody told are reckoned with as the rules say,
            flagged `ASSUMED`; otherwise they are the physical range, `MISSING`.
        """
        found = self.library.vocabulary.measures[measure]
        if len(found.params) == 2:
            return self._pairs.numbers(found, (rows[0], rows[1]), months, assume)
        return self._singles.numbers(found, self._own(found, rows), assume)

    def words(self, measure: str, rows: tuple[Ints, ...]) -> Words:
        """Return the words still possible for each row."""
        found = self.library.vocabulary.measures[measure]
        if len(found.params) == 2:
            told = self._pairs.worded(found)
            return told.words(self._pairs.names, (rows[0], rows[1]), self._pairs.domain(found))
        return self._singles.words(found, self._own(found, rows))

    def sets(self, measure: str, rows: tuple[Ints, ...]) -> Sets:
        """Return a set-valued measure for each row."""
        found = self.library.vocabulary.measures[measure]
        if len(found.params) == 2:
            told = self._pairs.worded(found)
            return told.sets(self._pairs.names, (rows[0], rows[1]), self._pairs.domain(found))
        return self._singles.sets(found, self._own(found, rows))

    def truths(self, relation: str, rows: tuple[Ints, ...], months: Floats | None) -> Truths:
        """Return whether a relation holds for each row; it has no margin."""
        found = self.library.vocabulary.relations[relation]
        if len(found.params) == 2:
            return self._pairs.truths(found, (rows[0], rows[1]), months)
        yes, no = (side[rows[0]] for side in self._pairs.one(relation))
        nan = np.full(len(yes), np.nan)
        flags = np.where(yes | no, 0, MISSING).astype(np.uint8)
        return Truths(yes, no, yes.astype(np.int8) - no.astype(np.int8), nan, nan, nan, flags)

    def _own(self, measure: Measure, rows: tuple[Ints, ...]) -> Ints:
        """Rows of a measure's own table: of animals, what is known of the animal itself."""
        kind = measure.params[0].kind if measure.params else Kind.TANK
        if not kind.lives:
            return rows[0]
        found: Ints = self._pairs.positions.entity[rows[0]]
        return found

    def set_domain(self, measure: str, words: Sequence[str]) -> None:
        """Make sure these words have a place in the columns of an open-name measure."""
        self._singles.announce(measure, tuple(words))

    # --- cells

    def cell(self, name: str, rows: tuple[int, ...], month: float = 0.0, assume: bool = True) -> Cell:
        """Return one value with its grounds; the same numbers as the column call.

        Parameters
        ----------
        month
            Months ahead, 0 for now. [months]
        """
        key = (name, rows, month, assume)
        found = self._cells.get(key)
        if found is None:
            found = self._cells[key] = self._cell(name, rows, month, assume)
        return found

    def _cell(self, name: str, rows: tuple[int, ...], month: float, assume: bool) -> Cell:
        """One value with its grounds, worked out."""
        vocabulary = self.library.vocabulary
        if name in vocabulary.relations:
            relation = vocabulary.relations[name]
            if len(relation.params) == 2:
                return self._teller.truth(relation, (rows[0], rows[1]), month)
            return self._teller.one(relation, rows[0])
        measure = vocabulary.measures[name]
        if len(measure.params) == 2 and not isinstance(measure.type, NumberType):
            return self._pairs.worded(measure).cell(self._pairs.names, rows[0], rows[1])
        if len(measure.params) == 2:
            return self._teller.number(measure, (rows[0], rows[1]), month, assume)
        row = self._own(measure, (np.array(rows[:1] or (0,), np.int64),))
        return self._singles.cell(measure, int(row[0]), assume)

    # --- pairs

    def pair_rows(self, within_cm: float | None, months_ahead: float, world_rows: Ints) -> tuple[Ints, Ints]:
        """Return all ordered pairs of some animal rows whose gap is not surely beyond a distance. [cm]"""
        return pair_rows(self, within_cm, months_ahead, world_rows)

    def outlines(self, months_ahead: float) -> tuple[Floats, Floats]:
        """Return opposite corners of the boxes no living tissue of an animal row leaves. [cm]

        Parameters
        ----------
        months_ahead
            How far growth is reckoned with. [months]
        """
        return self._pairs.outlines(months_ahead)

    def stated_pairs(self) -> tuple[Ints, Ints]:
        """Return every pair of animal rows whose gap is stated, in the tank or by a change."""
        return self._pairs.stated_rows(self.library.vocabulary.measures["gap"])

    def graph(self) -> networkx.DiGraph[str]:
        """Return the neighbour graph of the tank as it is; see `advisor.reasoning.survey_near.graph_of`."""
        return graph_of(self)
