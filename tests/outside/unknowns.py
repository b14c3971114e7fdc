"""What the tables leave open, as unknowns of an SMT solver: cells, who is there, which card an animal has."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
import z3  # type: ignore[import-untyped]  # ships no types

from advisor.language.nodes import Binder
from advisor.model.cells import NumberCell, SetCell, TruthCell, WordCell
from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import population_of
from advisor.reasoning.tables import Tables
from tests.outside.amounts import Amount, both, exact

STRANGERS = 2
"""Things nobody told of that are put before the solver where there may be any number; each may be many."""


class Thing(NamedTuple):
    """A row of the tables; of what nobody told of, one of several that share the row."""

    kind: Kind
    row: int
    copy: int = 0


Env = dict[str, Thing]


@dataclass(frozen=True)
class Members:
    """A set-valued cell: each word in it, not in it, or free."""

    label: str
    surely: frozenset[str]
    possibly: frozenset[str] | None

    def has(self, word: str) -> z3.BoolRef:
        """Return whether a word is in the set."""
        if word in self.surely:
            return z3.BoolVal(True)
        if self.possibly is not None and word not in self.possibly:
            return z3.BoolVal(False)
        return z3.Bool(f"{self.label}:{word}")


@dataclass
class Unknowns:
    """The unknowns of one world of some tables, each made once, within the bounds it collects."""

    tables: Tables
    assume: bool
    world: int = 0
    bounds: list[z3.BoolRef] = field(default_factory=list)
    made: dict[tuple[str, tuple[Thing, ...]], object] = field(default_factory=dict)
    words: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.population = population_of(self.tables)

    # --- cells --------------------------------------------------------------

    def cell(self, name: str, things: tuple[Thing, ...]) -> object:
        """Return the unknown of one cell, made once; a gap is the same from both ends."""
        measure = self.tables.library.vocabulary.measures.get(name)
        both_ways = measure is not None and measure.symmetric
        key = (name, tuple(sorted(things)) if both_ways else things)
        if key not in self.made:
            label = f"{name}({','.join(f'{row}.{copy}' for _, row, copy in key[1])})"
            self.made[key] = self._unknown(label, name, tuple(row for _, row, _ in things))
        return self.made[key]

    def _unknown(self, label: str, name: str, rows: tuple[int, ...]) -> object:
        match self.tables.cell(name, rows, 0.0, self.assume):
            case NumberCell(low=low, high=high) if low == high:
                return exact(low)
            case NumberCell(low=low, high=high):
                number = z3.Real(label)
                self.bounds += [number >= exact(low)] if math.isfinite(low) else []
                self.bounds += [number <= exact(high)] if math.isfinite(high) else []
                return number
            case WordCell(possible=possible):
                if possible is not None and len(possible) == 1:
                    return z3.IntVal(self.word(next(iter(possible))))
                word = z3.Int(label)
                if possible is not None:
                    self.bounds.append(z3.Or([word == self.word(each) for each in sorted(possible)]))
                return word
            case TruthCell(value=value):
                return z3.Bool(label) if value is None else z3.BoolVal(value)
            case SetCell(surely=surely, possibly=possibly):
                return Members(label, surely, possibly)

    def word(self, text: str) -> int:
        """Return the number that stands for a word."""
        return self.words.setdefault(text, len(self.words))

    # --- who there is ----------------------------------------------------------

    def tank(self) -> int:
        """Return the row of the tank."""
        return int(self.tables.tank_rows(np.array([self.world]))[0])

    def standing(self) -> list[int]:
        """Return the animals of the world."""
        starts = self.population.starts
        found: list[int] = self.population.rows[starts[self.world] : starts[self.world + 1]].tolist()
        return found

    def things(self, binder: Binder, env: Env) -> list[tuple[z3.BoolRef, Thing]]:
        """Return every thing a variable may stand for, and whether it is there."""
        surely = z3.BoolVal(True)
        match binder.kind:
            case Kind.TANK:
                return [(surely, Thing(Kind.TANK, self.tank()))]
            case Kind.CORAL | Kind.ANIMAL:
                around = env[binder.neighbour_of].row if binder.neighbour_of else -1
                return [
                    (surely, Thing(Kind.ANIMAL, row))
                    for row in self.standing()
                    if row != around and (binder.kind is Kind.ANIMAL or self.population.coral[row])
                ]
        holder = env[binder.weapon_of].row if binder.kind is Kind.WEAPON else self.world
        listing = self.tables.listing(binder.kind, apart=True)
        rows = listing.rows[listing.starts[holder] : listing.starts[holder + 1]].tolist()
        return [
            (both(there, self._of_card(holder, int(listing.part[row]), int(listing.parts[holder]))), thing)
            for row in rows
            for there, thing in self._told(binder.kind, row, stranger=bool(listing.stranger[row]))
        ]

    def _told(self, kind: Kind, row: int, *, stranger: bool) -> list[tuple[z3.BoolRef, Thing]]:
        """A thing that is told of; or several, each perhaps there, that nobody told of."""
        if not stranger:
            return [(z3.BoolVal(True), Thing(kind, row))]
        copies = [Thing(kind, row, copy + 1) for copy in range(STRANGERS)]
        return [(z3.Bool(f"there'{kind.value}{row}.{thing.copy}"), thing) for thing in copies]

    def many(self, thing: Thing) -> Amount:
        """Return how many there are that are just like this one."""
        number = z3.Int(f"many'{thing.kind.value}{thing.row}.{thing.copy}")
        self.bounds.append(number >= 1)
        return Amount(z3.ToReal(number))

    def _of_card(self, holder: int, part: int, parts: int) -> z3.BoolRef:
        """Whether an animal is of one of the cards it may have."""
        if parts == 1:
            return z3.BoolVal(True)
        card = z3.Int(f"card of {holder}")
        self.bounds.append(z3.And(card >= 0, card < parts))
        return card == part
