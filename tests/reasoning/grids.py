"""Tables held as plain arrays, filled by hand or at random: what an evaluator test judges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from advisor.language.library import Library
from advisor.model import cells
from advisor.model.cells import Cause, Cell, CellKind
from advisor.model.vocabulary import Kind, Measure, NumberType, SetType, WordType
from advisor.reasoning.columns import (
    ASSUMED,
    MISSING,
    STALE,
    Bools,
    Floats,
    Ints,
    Numbers,
    Sets,
    Truths,
    Words,
)
from advisor.reasoning.listing import NOTHING, Listing, here_in, listing_of

NAMES = ("alpha", "beta", "gamma")
"""Words of an open-name measure in a random grid."""

Shape = tuple[int, ...]


@dataclass(slots=True)
class Grid:
    """Every cell of every measure and relation as arrays over rows.

    `number[m]` is (low, best, high, flags) and `plain[m]` the same without
    assumptions; `word[m]` possible words with flags; `group_of[m]` surely and
    possibly; `truth[r]` yes and no. Gaps shrink by `closing` a month. [cm]
    """

    library: Library
    animal_world: Ints
    animal_place: Ints
    removed: Bools
    place_count: int
    tank_row_of_world: Ints
    number: dict[str, list[Floats]] = field(default_factory=dict)
    plain: dict[str, list[Floats]] = field(default_factory=dict)
    word: dict[str, tuple[Bools, Floats]] = field(default_factory=dict)
    group_of: dict[str, tuple[Bools, Bools, Floats]] = field(default_factory=dict)
    truth: dict[str, tuple[Bools, Bools]] = field(default_factory=dict)
    domains: dict[str, tuple[str, ...]] = field(default_factory=dict)
    closing: float = 0.0
    listings: dict[Kind, Listing] = field(default_factory=dict)

    def tank_rows(self, worlds: Ints) -> Ints:
        """Return the row of the tank for each world."""
        return self.tank_row_of_world[worlds]

    def listing(self, kind: Kind, apart: bool = False) -> Listing:
        """Return who there is: every place in every world; of other kinds what a test has put there."""
        if kind is Kind.PLACE and kind not in self.listings:
            world = np.full(self.place_count, -1, np.int64)
            return listing_of(here_in(len(self.removed), world), world)
        return self.listings.get(kind, NOTHING)

    def set_domain(self, measure: str, words: Sequence[str]) -> None:
        """Every grid is made with its words; a stranger would be a mistake of the test."""
        assert set(words) <= set(self.domains[measure])

    def numbers(self, measure: str, rows: tuple[Ints, ...], months: Floats | None, assume: bool) -> Numbers:
        """Return the ranges of some rows."""
        low, best, high, flags = (
            (self.number if assume else self.plain)[measure][part][rows] for part in range(4)
        )
        if measure == "gap" and months is not None:
            less = self.closing * months
            low, best, high = (np.maximum(end - less, 0.0) for end in (low, best, high))
        return Numbers(low, best, high, flags.astype(np.uint8))

    def words(self, measure: str, rows: tuple[Ints, ...]) -> Words:
        """Return the possible words of some rows."""
        possible, flags = self.word[measure]
        return Words(possible[rows], self.domains[measure], flags[rows].astype(np.uint8))

    def sets(self, measure: str, rows: tuple[Ints, ...]) -> Sets:
        """Return the sets of some rows."""
        surely, possibly, flags = self.group_of[measure]
        return Sets(surely[rows], possibly[rows], self.domains[measure], flags[rows].astype(np.uint8))

    def truths(self, relation: str, rows: tuple[Ints, ...], months: Floats | None) -> Truths:
        """Return the relation of some rows."""
        yes, no = (part[rows] for part in self.truth[relation])
        lean = np.where(yes, 1, np.where(no, -1, 0)).astype(np.int8)
        none = np.full(yes.shape, np.nan)
        return Truths(yes, no, lean, none, none, none, np.where(yes | no, 0, MISSING).astype(np.uint8))

    def cell(self, name: str, rows: tuple[int, ...], month: float = 0.0, assume: bool = True) -> Cell:
        """Return one cell, the same numbers as the column."""
        at = tuple(np.array([row]) for row in rows)
        measure = self.library.vocabulary.measures.get(name)
        if measure is None:
            found = self.truths(name, at, None)
            known = True if found.yes[0] else False if found.no[0] else None
            return cells.TruthCell(known, CellKind.UNKNOWN if known is None else CellKind.STATED)
        if isinstance(measure.type, NumberType):
            number = self.numbers(name, at, np.array([month]), assume)
            best = float(number.best[0])
            flags = int(number.flags[0])
            kind = (
                CellKind.UNKNOWN
                if flags & (MISSING | STALE)
                else CellKind.ASSUMED
                if flags & ASSUMED
                else CellKind.MEASURED
            )
            return cells.NumberCell(
                float(number.low[0]),
                None if np.isnan(best) else best,
                float(number.high[0]),
                kind,
                Cause.MISSING if flags else None,
            )
        if isinstance(measure.type, SetType):
            sets = self.sets(name, at)
            return cells.SetCell(
                _named(sets.surely[0], sets.domain), _named(sets.possibly[0], sets.domain), CellKind.STATED
            )
        words = self.words(name, at)
        return cells.WordCell(_named(words.possible[0], words.domain), CellKind.STATED)

    def label(self, kind: Kind, row: int) -> str:
        """Return a name made of kind and row."""
        return "tank" if kind is Kind.TANK else f"{'p' if kind is Kind.PLACE else 'a'}{row}"

    def say(self, name: str, rows: tuple[int, ...]) -> str:
        """Return the call in words."""
        return f"{name} of {rows}"

    def asked_of(self, name: str, rows: tuple[int, ...]) -> tuple[str, ...]:
        return tuple(str(row) for row in rows)

    def ask(self, name: str, rows: tuple[int, ...]) -> str:
        """Return the question that fills a cell."""
        return f"{name}{rows}"


def _named(mask: Bools, domain: tuple[str, ...]) -> frozenset[str]:
    """The words of a mask."""
    return frozenset(word for word, there in zip(domain, mask, strict=True) if there)


def random_grid(
    library: Library,
    seed: int,
    *,
    animals: int = 4,
    worlds: int = 1,
    own: int = 0,
    known: float = 0.5,
    listed: Sequence[Kind] = (),
) -> Grid:
    """Return a grid of random cells.

    Parameters
    ----------
    animals
        Rows shared by all worlds.
    worlds
        Worlds beside the plain tank; each may have removed some animals.
    own
        Rows of each of those worlds alone.
    known
        Share of cells that are points; of the rest half are ranges, half unknown.
    listed
        Kinds of things there are a few of, some of which nobody told of; weapons at random for each card.
    """
    rng = np.random.default_rng(seed)
    extra = np.repeat(np.arange(1, worlds + 1), own)
    owner = np.concatenate([np.full(animals, -1), extra]).astype(np.int64)
    removed = np.zeros((worlds + 1, animals), np.bool_)
    removed[1:] = rng.random((worlds, animals)) < 0.3
    places = animals + 2
    grid = Grid(
        library,
        owner,
        rng.integers(0, places, len(owner)).astype(np.int64),
        removed,
        places,
        np.zeros(worlds + 1, np.int64),
    )
    for kind in listed:
        grid.listings[kind] = _armed(grid, rng) if kind is Kind.WEAPON else _some(grid, rng)
    for measure in library.vocabulary.measures.values():
        _fill(grid, measure, rng, known)
    for relation in library.vocabulary.relations.values():
        shape = _shape(grid, relation.params[0].kind, len(relation.params))
        yes, no = rng.random(shape) < 0.4, rng.random(shape) < 0.5
        grid.truth[relation.name] = (yes, no & ~yes if not relation.given else ~yes)
    return grid


def _some(grid: Grid, rng: np.random.Generator) -> Listing:
    """Up to three things that every world has; the last may be one nobody told of."""
    world = np.full(int(rng.integers(0, 4)), -1, np.int64)
    stranger = np.zeros(len(world), np.bool_)
    stranger[-1:] = rng.random() < 0.5
    return listing_of(here_in(len(grid.removed), world), world, stranger)


def _armed(grid: Grid, rng: np.random.Generator) -> Listing:
    """One or two cards for each animal, each with up to two weapons; one may be one nobody told of."""
    parts = rng.integers(1, 3, len(grid.animal_world))
    each = [[int(rng.integers(0, 3)) for _ in range(count)] for count in parts]
    part = np.array([at for counts in each for at, many in enumerate(counts) for _ in range(many)], np.int64)
    starts = np.concatenate([[0], np.cumsum([sum(counts) for counts in each])]).astype(np.int64)
    none = np.full(len(part), -1, np.int64)
    stranger = rng.random(len(part)) < 0.15
    return Listing(np.arange(len(part)), starts, none, stranger, part, parts.astype(np.int64))


def _shape(grid: Grid, kind: Kind, count: int) -> Shape:
    """The shape of a table over `count` things of one kind."""
    if kind in grid.listings:
        return (len(grid.listings[kind].world),) * count
    size = 1 if kind is Kind.TANK else grid.place_count if kind is Kind.PLACE else len(grid.animal_world)
    return (size,) * count


def _fill(grid: Grid, measure: Measure, rng: np.random.Generator, known: float) -> None:
    """Fill one measure at random."""
    shape = _shape(grid, measure.params[0].kind, len(measure.params))
    match measure.type:
        case NumberType():
            _fill_numbers(grid, measure, shape, rng, known)
        case SetType(words=declared):
            grid.domains[measure.name] = declared
            surely = rng.random((*shape, len(declared))) < 0.4
            possibly = surely | (rng.random((*shape, len(declared))) < 0.3)
            flags = np.where((surely == possibly).all(axis=-1), 0, MISSING).astype(float)
            grid.group_of[measure.name] = (surely, possibly, flags)
        case WordType(words=declared):
            domain = declared or NAMES
            grid.domains[measure.name] = domain
            possible = rng.random((*shape, len(domain))) < 0.3
            sure = rng.integers(0, len(domain), shape)
            np.put_along_axis(possible, sure[..., None], values=True, axis=-1)
            single = rng.random(shape) < known
            possible &= ~single[..., None] | (np.arange(len(domain)) == sure[..., None])
            flags = np.where(possible.sum(axis=-1) == 1, 0, MISSING).astype(float)
            grid.word[measure.name] = (possible, flags)
        case _:
            raise AssertionError(measure)


def _fill_numbers(grid: Grid, measure: Measure, shape: Shape, rng: np.random.Generator, known: float) -> None:
    """Fill a quantity: points, ranges, unknown, stale; small whole numbers so that limits are met exactly."""
    bottom, top = measure.low, min(measure.high, measure.low + 12 * measure.step)
    steps = round((top - bottom) / measure.step)
    first = bottom + measure.step * rng.integers(0, steps + 1, shape)
    second = bottom + measure.step * rng.integers(0, steps + 1, shape)
    how = rng.random(shape)
    low, high = np.minimum(first, second), np.maximum(first, second)
    best = np.clip(np.round((low + high) / 2), low, high)
    point = how < known
    low, best, high = (np.where(point, first, end) for end in (low, best, high))
    unknown = how > known + (1 - known) / 2
    flags = np.where(unknown, MISSING, 0).astype(float)
    low, high = np.where(unknown, measure.low, low), np.where(unknown, measure.high, high)
    best = np.where(unknown, np.nan, best)
    if measure.symmetric:
        low, best, high, flags = (np.triu(part) + np.triu(part, 1).T for part in (low, best, high, flags))
    grid.plain[measure.name] = [low, best, high, flags]
    grid.number[measure.name] = [low, best, high, flags]
    for assumption in measure.assumptions[:1]:
        gone = flags == MISSING
        grid.number[measure.name] = [
            np.where(gone, assumption.low, low),
            best,
            np.where(gone, assumption.high, high),
            np.where(gone, ASSUMED, flags),
        ]
