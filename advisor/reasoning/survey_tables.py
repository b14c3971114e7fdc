"""Everything about two things, each measure and relation made ready when first asked for."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.fields.growth import spread_cm
from advisor.model.cells import NumberCell, WordCell
from advisor.model.tank import Fact, Statement
from advisor.model.vocabulary import Kind, Measure, Relation
from advisor.reasoning.columns import Bools, Floats, Ints, Numbers, Truths
from advisor.reasoning.survey_bodies import Positions, Sizes, positions_of
from advisor.reasoning.survey_computed import Context
from advisor.reasoning.survey_facts import newest_first
from advisor.reasoning.survey_gaps import Gaps, closed_of
from advisor.reasoning.survey_grounds import plain
from advisor.reasoning.survey_heights import Heights
from advisor.reasoning.survey_lately import TRUTHS
from advisor.reasoning.survey_lies import rock_under, touches_seen
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
from advisor.reasoning.survey_stated import StatedNumbers, StatedWords, world_table
from advisor.reasoning.survey_subjects import (
    changed_facts,
    pairs_in_worlds,
    rows_of,
    table_of,
    told_of,
)
from advisor.reasoning.survey_values import Reader, unknown
from advisor.reasoning.survey_worked import (
    Computed,
    by_canopy,
    by_clone,
    by_rock,
    by_standing,
    by_stream,
    by_touch,
    by_weapon,
    turned,
)

PAIR_SUPPLIES = frozenset(
    {
        "gap",
        "clear-height",
        "flow-side",
        "above",
        "clones",
        "same-rock",
        "weapons-carried",
        "standing-rock",
        "place-rock",
        "rocks-touch",
        *TRUTHS,
    }
)
"""What is worked out of two things, or whether something holds of one."""


def same_both_ways(relation: Relation) -> bool:
    """Return whether a relation reads the same from either end, as its own phrase tells.

    ``a divider stands between {a} and {b}`` does, ``{a} stands over {b}`` does not.
    """
    if len({table_of(param.kind) for param in relation.params}) != 1 or len(relation.params) != 2:
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
        self._words: dict[str, StatedWords] = {}
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
            pairs, facts = pairs_in_worlds(self.context.layout, (Way(measure.name),), measure.params)
            cells = [self._world_cell(measure, fact) for fact in facts]
            table = world_table(pairs, self.width, measure.symmetric)
            found = self._numbers[measure.name] = StatedNumbers(measure, stated, self._reader, cells, table)
        return found

    def worded(self, measure: Measure) -> StatedWords:
        """Return what is stated of a measure of two things that is told in words."""
        found = self._words.get(measure.name)
        if found is None:
            entries = entries_of(self.context.facts, measure.name, measure.symmetric)
            pairs, facts = pairs_in_worlds(self.context.layout, (Way(measure.name),), measure.params)
            cells = [self._reader.cell(measure, newest_first((fact.said,))) for fact in facts]
            left_open = unknown(measure, (plain("left open"),))
            found = self._words[measure.name] = StatedWords(
                measure,
                Stated(entries, self.names, measure.symmetric),
                self._reader,
                [cell if cell is not None else left_open for cell in cells],
                world_table(pairs, self.width, measure.symmetric),
            )
        return found

    def domain(self, measure: Measure) -> tuple[str, ...]:
        """Return the words of a measure of two things; see `Singles.domain`."""
        return self._singles.domain_of(measure, self.worded(measure).said)

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
            rows = rows_of(self.context.layout, self._kind_of(name))
            values = (
                [self._one_of(name, row) for row in range(rows)] if self._is_told(name) else [None] * rows
            )
            given = relation is None or relation.given
            yes = np.array([value is True for value in values], np.bool_)
            no = np.array([value is False or (value is None and given) for value in values], np.bool_)
            found = self._ones[name] = (yes, no)
        return found

    def _is_told(self, name: str) -> bool:
        """Whether anybody says anything of a relation of one thing, or it is worked out."""
        relation = self._relations.get(name)
        if relation is not None and relation.computed_by in TRUTHS:
            return True
        by_change = any(fact.measure == name for fact in changed_facts(self.context.layout))
        return by_change or bool(self.context.facts.single.get(name))

    def _kind_of(self, name: str) -> Kind:
        """What a relation of one thing is about."""
        relation = self._relations.get(name)
        return Kind.ANIMAL if relation is None else relation.params[0].kind

    @property
    def width(self) -> int:
        """More rows than any table has."""
        return 1 + max(rows_of(self.context.layout, kind) for kind in Kind)

    def _one_of(self, name: str, row: int) -> bool | None:
        """What is stated of one row."""
        said = self.said_of_one(name, row)
        return truth_of(said) if said else self.worked_out_of_one(name, row)

    def worked_out_of_one(self, name: str, row: int) -> bool | None:
        """Return whether a relation of one animal holds by what else is told of it, None where untold."""
        relation = self._relations.get(name)
        truth = TRUTHS.get(relation.computed_by) if relation is not None else None
        return truth(self.context, self.context.layout.animals[row].entity) if truth is not None else None

    def said_of_one(self, name: str, row: int) -> Sequence[Statement]:
        """Return the statements of a relation of one thing, a change before all others."""
        keys, facts = told_of(self.context.layout, self._kind_of(name), row)
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
        pairs, stating = pairs_in_worlds(self.context.layout, ways, relation.params)
        table = world_table(pairs, self.width, symmetric)
        values = [None if fact.said.unknown else truth_of((fact.said,)) for fact in stating]
        return PairRelation(
            self.names, stated, nones_of(facts, ways), table, values, self.positions,
            self._computed(relation), relation.name in ONE_WAY,
            tuple(param.kind for param in relation.params),
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
                canopy = by_canopy(self.positions, self.sizes.radius(False), self.spread("grows-out"))
                return turned(canopy) if relation.name == "shaded-by" else canopy
            case "same-rock":
                rocks = [rock_under(self.context, row.place) for row in layout.animals]
                return by_rock(
                    rocks, self.context.tank.rocks, self.positions.spot, touches_seen(self.context)
                )
            case "clones":
                return by_clone([entity.animal.clone for entity in layout.entities], self.positions.entity)
            case "weapons-carried":
                return by_weapon(self.positions.entity, layout.armed, layout.weapons)
            case "standing-rock":
                return self._standing([row.place for row in layout.animals])
            case "place-rock":
                return self._standing(list(range(len(layout.places))))
            case "rocks-touch":
                names = [row.id for row in layout.things[Kind.ROCK]]
                return by_touch(names, self.context.tank.rocks, touches_seen(self.context))
            case _:
                return None

    def _standing(self, places: Sequence[int]) -> Computed:
        """What works out on which rock some places are."""
        grounds = []
        for place in places:
            cell = self._singles.of("ground", place)
            words = cell.possible if isinstance(cell, WordCell) else None
            grounds.append(next(iter(words)) if words is not None and len(words) == 1 else "")
        rocks = [row.id for row in self.context.layout.things[Kind.ROCK]]
        return by_standing([rock_under(self.context, place) for place in places], grounds, rocks)

    def truths(self, relation: Relation, rows: tuple[Ints, Ints], months: Floats | None) -> Truths:
        """Return whether a relation of two things holds for each pair of rows."""
        found = self.pair(relation).truths(*rows, months)
        if not relation.given:
            return found
        no = ~found.yes & (found.no | (found.flags != 0))
        return Truths(found.yes, no, found.yes.astype(np.int8) - no.astype(np.int8), found.low, found.best,
                      found.high, np.zeros(len(no), np.uint8))  # fmt: skip
