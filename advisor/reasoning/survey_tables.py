"""Everything about two things, each measure and relation made ready when first asked for."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.fields.growth import spread_cm
from advisor.model.cells import NumberCell
from advisor.model.tank import ANYTHING, Fact, Statement
from advisor.model.vocabulary import Kind, Measure, Relation
from advisor.reasoning.columns import Bools, Floats, Ints, Numbers, Truths
from advisor.reasoning.survey_bodies import Positions, Sizes, positions_of
from advisor.reasoning.survey_computed import Context, rock_of
from advisor.reasoning.survey_facts import newest_first
from advisor.reasoning.survey_gaps import Gaps, closed_of
from advisor.reasoning.survey_grounds import plain
from advisor.reasoning.survey_heights import Heights
from advisor.reasoning.survey_pack import take_numbers
from advisor.reasoning.survey_pairs import Names, Stated, entries_of, name_rows, subjects_of
from advisor.reasoning.survey_relations import (
    ONE_WAY,
    SAME,
    PairRelation,
    Way,
    entries_of_relation,
    nones_of,
    truth_of,
)
from advisor.reasoning.survey_singles import Singles
from advisor.reasoning.survey_stated import StatedNumbers, world_table
from advisor.reasoning.survey_values import Reader, unknown
from advisor.reasoning.survey_worked import Computed, by_canopy, by_clone, by_rock, by_stream, turned

PAIR_SUPPLIES = frozenset({"gap", "clear-height", "flow-side", "above", "clones", "same-rock"})
"""What is worked out of two animals."""


def same_both_ways(relation: Relation) -> bool:
    """Return whether a relation reads the same from either end, as its own phrase tells.

    ``a divider stands between {a} and {b}`` does, ``{a} stands over {b}`` does not.
    """
    if len(relation.params) != 2:
        return False
    first, second = (param.name for param in relation.params)
    return f"{{{first}}} and {{{second}}}" in relation.say


class PairTables:
    """Columns of measures and relations of two things."""

    def __init__(self, context: Context, singles: Singles, reader: Reader) -> None:
        self.context = context
        self._singles = singles
        self._reader = reader
        vocabulary = context.library.vocabulary
        self._measures = vocabulary.measures
        self._relations = vocabulary.relations
        self.names: Names = name_rows(context.layout, subjects_of(context.facts))
        self.positions: Positions = positions_of(context.layout)
        self.sizes = Sizes(singles, self._measures, len(context.layout.entities))
        self._numbers: dict[str, StatedNumbers] = {}
        self._pairs: dict[str, PairRelation] = {}
        self._ones: dict[str, tuple[Bools, Bools]] = {}
        self._spread: dict[str, Numbers] = {}
        self._gaps: Gaps | None = None
        self._heights: Heights | None = None

    # --- quantities

    def numbers(
        self, measure: Measure, rows: tuple[Ints, Ints], months: Floats | None, assume: bool
    ) -> Numbers:
        """Return a quantity of two things for each pair of rows. [base unit]"""
        first, second = rows
        match measure.computed_by:
            case "gap":
                return self.gaps.at(
                    first, second, self._growth(first, second, "grows-out", months), months, assume
                )
            case "clear-height":
                spread = self._growth(first, second, "grows-up", months)
                return self.heights.at(first, second, spread, months)
            case _:
                stated = self.stated(measure)
                hits = stated.find(self.names, first, second)
                return stated.in_worlds(first, second, stated.take(hits.at))

    def stated(self, measure: Measure) -> StatedNumbers:
        """Return what is stated of a quantity of two things."""
        found = self._numbers.get(measure.name)
        if found is None:
            entries = entries_of(self.context.facts, measure.name, measure.symmetric)
            stated = Stated(entries, self.names, measure.symmetric)
            pairs, facts = self._in_worlds((Way(measure.name),))
            cells = [self._world_cell(measure, fact) for fact in facts]
            table = world_table(pairs, len(self.context.layout.animals), measure.symmetric)
            found = self._numbers[measure.name] = StatedNumbers(measure, stated, self._reader, cells, table)
        return found

    def _world_cell(self, measure: Measure, fact: Fact) -> NumberCell:
        """What a change states of a quantity; it may state that it is not known."""
        cell = self._reader.cell(measure, newest_first((fact.said,)))
        if isinstance(cell, NumberCell):
            return cell
        nothing = unknown(measure, (plain("left open"),))
        assert isinstance(nothing, NumberCell)  # a quantity is asked for
        return nothing

    @property
    def gaps(self) -> Gaps:
        """Gaps between living tissue."""
        if self._gaps is None:
            reach = self._measures.get("reach-most")
            closed = closed_of(self.context.layout, reach.high if reach is not None else 0.0)
            measure = self._measures["gap"]
            self._gaps = Gaps(measure, self.names, self.positions, self.sizes, closed, self.stated(measure))
        return self._gaps

    @property
    def heights(self) -> Heights:
        """Clear heights."""
        if self._heights is None:
            measure = self._measures["clear-height"]
            self._heights = Heights(measure, self.names, self.positions, self.sizes, self.stated(measure))
        return self._heights

    def _growth(
        self, first: Ints, second: Ints, name: str, months: Floats | None
    ) -> tuple[Numbers, Numbers] | None:
        """Growth of both things of each pair, None where it is not asked for. [mm/month]"""
        if months is None or not (months > 0.0).any():
            return None
        spread = self.spread(name)
        return take_numbers(spread, first if name != "grows-up" else self._still(first)), take_numbers(
            spread, second
        )

    def _still(self, rows: Ints) -> Ints:
        """The row, past all others, of something that does not grow."""
        return np.full(len(rows), len(self.context.layout.animals), np.int64)

    def spread(self, name: str) -> Numbers:
        """Return growth of each animal row, none where it is kept trimmed. [mm/month]

        A last row, past all animals, does not grow.
        """
        found = self._spread.get(name)
        if found is None:
            column = take_numbers(self.sizes.named(name), self.positions.entity)
            grows = ~self.one("kept-trimmed")[0]
            low, best, high = (np.append(np.where(grows, end, 0.0), 0.0)
                               for end in (column.low, column.best, column.high))  # fmt: skip
            flags = np.append(np.where(grows, column.flags, 0), 0).astype(np.uint8)
            found = self._spread[name] = Numbers(low, best, high, flags)
        return found

    def outlines(self, months_ahead: float) -> tuple[Floats, Floats]:
        """Return the boxes that hold all living tissue of each animal row; NaN without a position. [cm]"""
        at = self.positions
        radius = take_numbers(self.sizes.radius(False), at.entity).high
        out = radius + spread_cm(np.full(len(radius), months_ahead), self.spread("grows-out").high[:-1])
        return at.low - out[:, None], at.high + out[:, None]

    def stated_rows(self, measure: Measure) -> tuple[Ints, Ints]:
        """Return every pair of animal rows of which a quantity is stated."""
        stated = self.stated(measure)
        own, place = self.names.animals.own, self.names.animals.place
        firsts, seconds = [np.zeros(0, np.int64)], [np.zeros(0, np.int64)]
        for entry in stated.stated.entries:
            numbers = (self.names.number[name] for name in entry.pair)
            one, other = (np.flatnonzero((own == number) | (place == number)) for number in numbers)
            firsts.append(np.repeat(one, len(other)))
            seconds.append(np.tile(other, len(one)))
        by_change = np.array([divmod(int(key), stated.worlds.width) for key in stated.worlds.keys], np.int64)
        first, second = by_change.reshape(-1, 2).T
        return np.concatenate([*firsts, first]), np.concatenate([*seconds, second])

    # --- relations

    def one(self, name: str) -> tuple[Bools, Bools]:
        """Return for each row of its kind whether a relation of one thing surely holds, and surely not."""
        found = self._ones.get(name)
        if found is None:
            relation = self._relations.get(name)
            layout = self.context.layout
            rows = len(layout.places if self._of_place(name) else layout.animals)
            values = (
                [self._one_of(name, row) for row in range(rows)] if self._is_told(name) else [None] * rows
            )
            given = relation is None or relation.given
            yes = np.array([value is True for value in values], np.bool_)
            no = np.array([value is False or (value is None and given) for value in values], np.bool_)
            found = self._ones[name] = (yes, no)
        return found

    def _is_told(self, name: str) -> bool:
        """Whether anybody says anything of a relation of one thing."""
        layout = self.context.layout
        changed = (*(place.facts for place in layout.places), *(entity.facts for entity in layout.entities))
        by_change = any(fact.measure == name for facts in changed for fact in facts)
        return by_change or bool(self.context.facts.single.get(name))

    def _of_place(self, name: str) -> bool:
        """Whether a relation is about a place."""
        relation = self._relations.get(name)
        return relation is not None and relation.params[0].kind is Kind.PLACE

    def _one_of(self, name: str, row: int) -> bool | None:
        """What is stated of one row."""
        said = self.said_of_one(name, row)
        return truth_of(said) if said else None

    def said_of_one(self, name: str, row: int) -> Sequence[Statement]:
        """Return the statements of a relation of one thing, a change before all others."""
        layout = self.context.layout
        if self._of_place(name):
            place = layout.places[row]
            keys: tuple[str, ...] = (place.key,)
            facts = place.facts
        else:
            animal = layout.animals[row]
            place = layout.places[animal.place]
            keys, facts = (animal.id, place.key), (*layout.entities[animal.entity].facts, *place.facts)
        by_change = [fact.said for fact in facts if fact.measure == name]
        if by_change:
            return by_change[-1:]
        table = self.context.facts.single.get(name, {})
        return newest_first(tuple(said for key in keys for said in table.get(key, ())))

    def pair(self, relation: Relation) -> PairRelation:
        """Return a relation of two things, ready to be asked."""
        found = self._pairs.get(relation.name)
        if found is None:
            found = self._pairs[relation.name] = self._make(relation)
        return found

    def _make(self, relation: Relation) -> PairRelation:
        """Put a relation together from statements, changes and what can be worked out."""
        ways = SAME.get(relation.name, (Way(relation.name),))
        symmetric = same_both_ways(relation)
        facts = self.context.facts
        stated = Stated(entries_of_relation(facts, ways, symmetric), self.names, symmetric)
        pairs, stating = self._in_worlds(ways)
        table = world_table(pairs, len(self.context.layout.animals), symmetric)
        values = [None if fact.said.unknown else truth_of((fact.said,)) for fact in stating]
        return PairRelation(
            self.names, stated, nones_of(facts, ways), table, values, self.positions,
            self._computed(relation), relation.name in ONE_WAY,
        )  # fmt: skip

    def _computed(self, relation: Relation) -> Computed | None:
        """What works a relation out, None for nothing."""
        layout = self.context.layout
        match relation.computed_by:
            case "flow-side":
                flow = self.context.tank.flow
                stream = by_stream(self.positions, flow.direction_deg if flow is not None else None)
                return turned(stream) if relation.name == "up-flow" else stream
            case "above":
                return by_canopy(self.positions, self.sizes.radius(False), self.spread("grows-out"))
            case "same-rock":
                rocks = [rock_of(self.context, row.place) for row in layout.animals]
                return by_rock(rocks, self.context.tank.rocks, self.positions.spot)
            case "clones":
                return by_clone([entity.animal.clone for entity in layout.entities], self.positions.entity)
            case _:
                return None

    def truths(self, relation: Relation, rows: tuple[Ints, Ints], months: Floats | None) -> Truths:
        """Return whether a relation of two things holds for each pair of rows."""
        found = self.pair(relation).truths(*rows, months)
        if not relation.given:
            return found
        no = ~found.yes & (found.no | (found.flags != 0))
        return Truths(found.yes, no, found.yes.astype(np.int8) - no.astype(np.int8), found.low, found.best,
                      found.high, np.zeros(len(no), np.uint8))  # fmt: skip

    # --- changes

    def _in_worlds(self, ways: Sequence[Way]) -> tuple[list[tuple[int, int]], list[Fact]]:
        """Row pairs of which a change states something, and the fact of each."""
        pairs: list[tuple[int, int]] = []
        facts: list[Fact] = []
        for world, fact in self.context.layout.world_facts:
            for way in ways:
                if fact.measure == way.name and len(fact.subjects) == 2:
                    one, other = (self._rows_in(world, subject) for subject in fact.subjects)
                    found = [(other_row, row) if way.turned else (row, other_row)
                             for row in one for other_row in other if row != other_row]  # fmt: skip
                    pairs += found
                    facts += [fact] * len(found)
        return pairs, facts

    def _rows_in(self, world: int, subject: str) -> list[int]:
        """Rows a change means by a name: an animal, whatever stands on a spot, or everyone else."""
        layout = self.context.layout
        if subject == ANYTHING:
            return [at for at, row in enumerate(layout.animals) if row.world in (-1, world)]
        return [
            at
            for at, row in enumerate(layout.animals)
            if row.world == world and subject in (row.id, layout.places[row.place].key)
        ]
