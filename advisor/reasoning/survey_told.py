"""One value of two things with its grounds: the same numbers as the column, told in words."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.fields.boxes import farthest_cm, nearest_cm
from advisor.model.cells import Cause, CellKind, NumberCell, Support, TruthCell
from advisor.model.tank import Statement
from advisor.model.vocabulary import WEAPONS_CARRIED, Grade, Measure, Relation
from advisor.reasoning.columns import ASSUMED, MISSING, STALE, Ints, Numbers, Truths
from advisor.reasoning.survey_bodies import NO_SPOT
from advisor.reasoning.survey_grounds import plain, said_support
from advisor.reasoning.survey_pack import take_numbers
from advisor.reasoning.survey_pairs import Hits
from advisor.reasoning.survey_relations import CHANGE, NONE, OPEN, STATED, TURNED, WORKED_OUT
from advisor.reasoning.survey_singles import Singles
from advisor.reasoning.survey_stated import StatedNumbers
from advisor.reasoning.survey_subjects import told_of
from advisor.reasoning.survey_tables import PairTables
from advisor.reasoning.survey_touched import touched, touched_spans
from advisor.units import format_number


class Teller:
    """Tells the grounds of values of two things."""

    def __init__(self, tables: PairTables, singles: Singles) -> None:
        self._tables = tables
        self._singles = singles
        self._context = tables.context
        self._spans = touched_spans(tables.context.library)

    def number(self, measure: Measure, rows: tuple[int, int], month: float, assume: bool) -> NumberCell:
        """Return a quantity of two things with its grounds."""
        pair = (_array(rows[0]), _array(rows[1]))
        months = np.array([month]) if month > 0.0 else None
        column = self._tables.numbers(measure, pair, months, assume)
        stated = self._tables.stated(measure)
        change = int(stated.worlds.find(*pair)[0])
        hits = stated.find(self._tables.names, *pair)
        if change >= 0:
            kind, supports = _of_cell(stated.world_cells[change])
            supports = (plain("as supposed"), *supports)
        elif hits.at[0] >= 0:
            kind, supports = self._of_statement(measure, stated, hits, rows, assume)
        else:
            kind, supports = self._of_places(measure, rows, assume)
        if months is not None:
            supports = (*supports, *self._growth(measure, rows))
        return _cell(column, kind, supports)

    def _of_statement(self, measure: Measure, stated: StatedNumbers, hits: Hits, rows: tuple[int, int],
                      assume: bool) -> tuple[CellKind, tuple[Support, ...]]:  # fmt: skip
        """Grounds of a statement, and of the radius taken off where it names a spot."""
        kind, supports = _of_cell(stated.cells[int(hits.at[0])])
        by_spot = (bool(hits.first_by_spot[0]), bool(hits.second_by_spot[0]))
        if measure.computed_by == "gap" and kind is not CellKind.UNKNOWN:
            for row, named_by_spot in zip(rows, by_spot, strict=True):
                if named_by_spot:
                    supports = (
                        *supports,
                        *self._radius(row, assume, "measured from the middle of the spot; less "),
                    )
        return kind, supports

    def _of_places(self, measure: Measure, rows: tuple[int, int], assume: bool
                   ) -> tuple[CellKind, tuple[Support, ...]]:  # fmt: skip
        """Grounds of what positions tell, and of what a keeper says is not near."""
        if measure.computed_by not in ("gap", "clear-height"):
            return CellKind.UNKNOWN, (plain("not told"),)
        at = self._tables.positions
        first, second = rows
        supports: tuple[Support, ...] = ()
        kind = CellKind.COMPUTED
        if at.spot[first] == at.spot[second] != NO_SPOT and not (at.own[first] and at.own[second]):
            supports = (self._one_spot(first),)
        elif np.isnan(at.low[first, 0]) or np.isnan(at.low[second, 0]):
            kind, supports = CellKind.UNKNOWN, (plain("not measured", "no positions, and no gap told"),)
        else:
            supports = (self._between(first, second),)
            if measure.computed_by == "gap":
                supports = (*supports, *self._radius(first, assume), *self._radius(second, assume))
            else:
                supports = (*supports, *self._changed(second, ("mature-height",)))
        if measure.computed_by == "gap":
            supports = (*supports, *self._closed(first, second, assume))
        return (CellKind.STATED if kind is CellKind.UNKNOWN and len(supports) > 1 else kind), supports

    def _between(self, first: int, second: int) -> Support:
        """Where the two are, and how far apart that is."""
        at = self._tables.positions
        corners = (at.low[[first]], at.high[[first]], at.low[[second]], at.high[[second]])
        near, far = (format_number(float(each(*corners)[0])) for each in (nearest_cm, farthest_cm))
        apart = f"{near} cm" if near == far else f"{near}-{far} cm"
        where = " and ".join(self._where(row) for row in (first, second))
        text = "positions" if at.exact[first] and at.exact[second] else "place words"
        return plain(text, f"{where}: {apart} between the middles")

    def _where(self, row: int) -> str:
        """Where an animal is, as the keeper wrote it, or else the name of its place."""
        animal, place = self._context.layout.animals[row], self._context.layout.places
        spot = place[animal.place].spot
        if self._tables.positions.own[row]:
            return animal.animal.place or f"where {animal.id} stands"
        return (spot.place or spot.id) if spot is not None else animal.id

    def _one_spot(self, row: int) -> Support:
        """That two stand on one spot."""
        extent = self._tables.positions.extent[row]
        across = (
            "how wide it is nobody told" if np.isnan(extent) else f"{format_number(float(extent))} cm across"
        )
        return plain("both on one spot", f"{across}: they may touch")

    def _radius(self, row: int, assume: bool, lead: str = "less ") -> tuple[Support, ...]:
        """What is taken off for the animal itself."""
        radius = self._tables.sizes.radius(assume)
        entity = int(self._tables.positions.entity[row])
        name = self._context.layout.animals[row].id
        low, high = (format_number(float(end[entity])) for end in (radius.low, radius.high))
        told = f"{lead}{low if low == high else f'{low}-{high}'} cm from the middle of {name} to its edge"
        flags = int(radius.flags[entity])
        if flags & ASSUMED:
            width = Support(f"width of {name} a guess", Grade.GUESS, source=told)
        else:
            width = plain(f"width of {name} not told" if flags else f"width of {name}", told)
        return width, *self._changed(row, self._tables.sizes.measured_by(entity, assume))

    def _changed(self, row: int, names: Sequence[str]) -> tuple[Support, ...]:
        """What house lines have set of some measures of one animal."""
        if not self._spans:
            return ()
        entity = int(self._tables.positions.entity[row])
        return touched((self._singles.of(name, entity) for name in names), self._spans)

    def _closed(self, first: int, second: int, assume: bool) -> tuple[Support, ...]:
        """What a keeper says is not near."""
        gaps = self._tables.gaps
        if not gaps.closed.anywhere:
            return ()
        radius = self._tables.sizes.radius(assume)
        entity = self._tables.positions.entity
        one, other = (take_numbers(radius, entity[[row]]) for row in (first, second))
        least = float(gaps.bound(_array(first), _array(second), one, other)[0])
        if least <= 0.0:
            return ()
        return (
            plain(
                "you say nothing is nearer",
                f"all that is not named is {format_number(least)} cm away or more",
            ),
        )

    def _growth(self, measure: Measure, rows: tuple[int, int]) -> tuple[Support, ...]:
        """How fast the two grow towards each other."""
        name = {"gap": "grows-out", "clear-height": "grows-up"}.get(measure.computed_by)
        rate = self._tables.context.library.vocabulary.measures.get(name or "")
        if name is None or rate is None:
            return ()
        growing = rows if name == "grows-out" else rows[1:]
        spread = self._tables.spread(name)
        texts, sources = [], []
        changed: tuple[Support, ...] = ()
        grade: Grade | None = None
        for row in growing:
            low, high = float(spread.low[row]), float(spread.high[row])
            texts.append(format_number(low) if low == high else f"{format_number(low)}-{format_number(high)}")
            cell = self._singles.of(name, int(self._tables.positions.entity[row]))
            trimmed = bool(self._tables.one("kept-trimmed")[0][row])
            told = (
                "kept trimmed"
                if trimmed
                else "; ".join(f"{each.text}: {each.source}" for each in cell.supports)
            )
            sources.append(f"{self._context.layout.animals[row].id}: {told}")
            grade = _weaker(grade, cell.supports)
            changed += () if trimmed else self._changed(row, (name,))
        return Support(f"grows {' + '.join(texts)} mm a month", grade, source="; ".join(sources)), *changed

    def truth(self, relation: Relation, rows: tuple[int, int], month: float) -> TruthCell:
        """Return whether a relation of two things holds, with its grounds."""
        pair = (_array(rows[0]), _array(rows[1]))
        months = np.array([month]) if month > 0.0 else None
        column = self._tables.truths(relation, pair, months)
        table = self._tables.pair(relation)
        _, grounds = table.decide(*pair, months)
        by, at = int(grounds.by[0]), int(grounds.at[0])
        value = truth_in(column)
        kind = CellKind.UNKNOWN if by == OPEN else CellKind.STATED
        kind = CellKind.COMPUTED if by == WORKED_OUT else kind
        if by == CHANGE:
            supports: tuple[Support, ...] = (plain("as supposed"),)
        elif by in (STATED, TURNED):
            supports = self._said(table.stated.entries[at].said)
        elif by == NONE:
            supports = self._nones(relation, rows)
        elif relation.computed_by == WEAPONS_CARRIED:
            supports = (self._species(rows[0], sure=value is not None), *self._changed(rows[0], ("weapons",)))
        elif by == WORKED_OUT:
            supports = (self._worked_out(relation, rows),)
        elif relation.given:
            kind, supports = CellKind.STATED, (plain("nobody says so"),)
        else:
            supports = (plain("not told", relation.ask and "nobody told, and positions do not tell"),)
        if by in (OPEN, WORKED_OUT) and relation.computed_by == "above":
            supports = (*supports, *self._outlines(rows, ahead=months is not None))
        return TruthCell(value, kind, Cause.MISSING if value is None else None, supports)

    def _outlines(self, rows: tuple[int, int], *, ahead: bool) -> tuple[Support, ...]:
        """What house lines have set of how wide two animals are, or will be."""
        entity, sizes = self._tables.positions.entity, self._tables.sizes
        grows = ("grows-out",) if ahead else ()
        return tuple(
            support
            for row in rows
            for support in self._changed(row, (*sizes.measured_by(int(entity[row]), False), *grows))
        )

    def one(self, relation: Relation, row: int) -> TruthCell:
        """Return whether a relation of one animal holds, with its grounds."""
        yes, no = self._tables.one(relation.name)
        said = self._tables.said_of_one(relation.name, row)
        value = True if yes[row] else (False if no[row] else None)
        supports = self._said(tuple(said[:1])) if said else (plain("nobody says so"),)
        if not said and self._tables.worked_out_of_one(relation.name, row) is not None:
            supports = (plain("by what else is told"),)
        kind = CellKind.UNKNOWN if value is None else CellKind.STATED
        return TruthCell(value, kind, Cause.MISSING if value is None else None, supports)

    def _said(self, said: tuple[Statement, ...]) -> tuple[Support, ...]:
        """Who says so."""
        return tuple(said_support(each, self._context.on) for each in said[:1])

    def _nones(self, relation: Relation, rows: tuple[int, int]) -> tuple[Support, ...]:
        """Who says that there is none."""
        table = self._tables.pair(relation).nones
        for names, param, row in zip((table.first, table.second), relation.params, rows, strict=True):
            for key in told_of(self._context.layout, param.kind, row)[0]:
                if key in names:
                    base = said_support(names[key], self._context.on)
                    return (
                        Support(f"you say none, {key}", None, base.on, base.age_days, base.source, base.span),
                    )
        return (plain("you say none"),)

    def _worked_out(self, relation: Relation, rows: tuple[int, int]) -> Support:
        """What told a relation that nobody stated."""
        if not all(param.kind.lives for param in relation.params):
            return plain("what is told of the rock")
        at = self._tables.positions
        words = "positions" if at.exact[rows[0]] and at.exact[rows[1]] else "place words"
        match relation.computed_by:
            case "flow-side":
                return plain(words, "and where the main stream goes")
            case "above":
                return plain(words, "and widths, seen from above")
            case "same-rock":
                return plain("what is told of the rock")
            case "clones":
                return self._clones(rows)
            case _:
                return plain(words)

    def _species(self, row: int, *, sure: bool) -> Support:
        """Which cards an animal may have, on which it hangs what it carries."""
        choice = self._context.layout.entities[int(self._tables.positions.entity[row])].choice
        either = " or ".join(choice.cards)
        if sure or not choice.cards:
            return plain(f"card {either}" if either else "no card", choice.note)
        return plain("species not certain", f"{choice.note}: {either}" if choice.note else either)

    def _clones(self, rows: tuple[int, int]) -> Support:
        """What is known of two animals' mother colony."""
        animals = [self._context.layout.animals[row].animal for row in rows]
        if all(animal.clone for animal in animals):
            return plain("clones as told", f"{animals[0].clone} and {animals[1].clone}")
        return plain("no clone told", "colonies of one kind are strangers unless told")


def _array(row: int) -> Ints:
    """One row as an array."""
    return np.array([row], np.int64)


def _of_cell(cell: NumberCell) -> tuple[CellKind, tuple[Support, ...]]:
    """Kind and grounds of a stated cell."""
    return cell.kind, cell.supports


def _weaker(grade: Grade | None, supports: tuple[Support, ...]) -> Grade | None:
    """The weakest of several grades."""
    grades = [each.grade for each in supports if each.grade is not None]
    found = [*grades, grade] if grade is not None else grades
    return max(found, key=lambda each: each.rank) if found else None


def _cell(column: Numbers, kind: CellKind, supports: tuple[Support, ...]) -> NumberCell:
    """A column of one row as a cell."""
    best = float(column.best[0])
    return NumberCell(float(column.low[0]), None if np.isnan(best) else best, float(column.high[0]), kind,
                      cause_of(int(column.flags[0])), supports)  # fmt: skip


def cause_of(flags: int) -> Cause | None:
    """Return why a value with these flags is not known well, None where it is."""
    if flags & STALE:
        return Cause.STALE
    return Cause.MISSING if flags & (MISSING | ASSUMED) else None


def truth_in(column: Truths) -> bool | None:
    """Return the truth in a column of one row."""
    return True if column.yes[0] else (False if column.no[0] else None)
