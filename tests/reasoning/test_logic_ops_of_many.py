"""Aggregates against brute force: any, every, count, sum and extremes over members that may be there."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.nodes import AggregateOp, Binder
from advisor.model.vocabulary import Kind
from advisor.reasoning import truths
from advisor.reasoning.bindings import population_of
from advisor.reasoning.columns import Bools, Truths
from advisor.reasoning.frame import Frame
from advisor.reasoning.logic_ops import (
    Negation,
    NumberAggregate,
    TruthAggregate,
    inner_frame,
    operations_run,
)
from advisor.reasoning.ops import Constant, Op, numbers, truth
from tests.reasoning.fixed import CM, quantity, truth_op
from tests.reasoning.grids import random_grid
from tests.reasoning.small import NOWHERE, letters, library_of, missing, ranges

NEIGHBOUR = Binder(NOWHERE, Kind.ANIMAL, "n", "a")


class Herd:
    """A few animals in one world, each subject with every other as neighbour, and columns over the pairs."""

    def __init__(self, seed: int, animals: int) -> None:
        self.rng = np.random.default_rng(seed)
        grid = random_grid(library_of(), seed, animals=animals, worlds=0)
        self.animals = animals
        self.frame = Frame(
            grid,
            population_of(grid),
            np.zeros(animals, np.int64),
            {"a": np.arange(animals, dtype=np.int64)},
            np.zeros(animals),
        )
        self.pairs = animals * (animals - 1)

    def members(self) -> Truths:
        """Return random membership: some surely, some surely not, some perhaps."""
        yes = self.rng.random(self.pairs) < 0.4
        out = ~yes & (self.rng.random(self.pairs) < 0.4)
        return truths.of_bools(yes, out, missing(self.pairs))

    def choices(self, member: Truths, segment: Bools) -> list[tuple[bool, ...]]:
        """Return every membership still possible within one subject's pairs."""
        return list(
            product(
                *(
                    (True,) if yes else (False,) if out else (True, False)
                    for yes, out in zip(member.yes[segment], member.no[segment], strict=True)
                )
            )
        )

    def subject(self) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
        """Return which subject each pair belongs to."""
        return np.repeat(np.arange(self.animals), self.animals - 1)


COMBINED: dict[AggregateOp, Callable[[list[float]], float]] = {
    AggregateOp.SUM: sum,
    AggregateOp.LEAST: lambda part: min(part, default=np.inf),
    AggregateOp.MOST: lambda part: max(part, default=-np.inf),
}
SEEDS = st.integers(0, 10_000)
HERDS = st.tuples(SEEDS, st.integers(1, 5))


@given(herd=HERDS, op=st.sampled_from([AggregateOp.ANY, AggregateOp.EVERY]))
def test_any_and_every_say_what_every_membership_says(herd: tuple[int, int], op: AggregateOp) -> None:
    made = Herd(*herd)
    member = made.members()
    found = letters(truth(made.frame, TruthAggregate(NOWHERE, op, NEIGHBOUR, truth_op(member))))
    combine = any if op is AggregateOp.ANY else all
    for subject in range(made.animals):
        outcomes = {combine(chosen) for chosen in made.choices(member, made.subject() == subject)}
        assert found[subject] == ("u" if len(outcomes) == 2 else "t" if outcomes == {True} else "f")


@given(herd=HERDS)
def test_a_count_covers_every_membership_and_no_more(herd: tuple[int, int]) -> None:
    made = Herd(*herd)
    member = made.members()
    made_op = NumberAggregate(NOWHERE, CM, 1.0, AggregateOp.COUNT, NEIGHBOUR, truth_op(member), None)
    found = numbers(made.frame, made_op)
    for subject in range(made.animals):
        counts = [sum(chosen) for chosen in made.choices(member, made.subject() == subject)]
        assert (found.low[subject], found.high[subject]) == (min(counts), max(counts))


@given(
    herd=HERDS,
    op=st.sampled_from([AggregateOp.SUM, AggregateOp.LEAST, AggregateOp.MOST]),
    share=st.floats(0, 1),
)
def test_sums_and_extremes_cover_every_membership_and_value(
    herd: tuple[int, int], op: AggregateOp, share: float
) -> None:
    made = Herd(*herd)
    member = made.members()
    ends = np.sort(made.rng.integers(-5, 9, (made.pairs, 2)).astype(float), axis=1)
    inside = ends[:, 0] + share * (ends[:, 1] - ends[:, 0])
    column = ranges(*((low, here, high) for (low, high), here in zip(ends, inside, strict=True)))
    found = numbers(
        made.frame, NumberAggregate(NOWHERE, CM, 1.0, op, NEIGHBOUR, truth_op(member), quantity(column))
    )
    combine = COMBINED[op]
    for subject in range(made.animals):
        at = made.subject() == subject
        results: dict[str, list[float]] = {"low": [], "here": [], "high": []}
        for chosen in made.choices(member, at):
            for name, values in (("low", ends[at, 0]), ("here", inside[at]), ("high", ends[at, 1])):
                results[name].append(combine([v for v, there in zip(values, chosen, strict=True) if there]))
        assert found.low[subject] == pytest.approx(min(results["low"]))
        assert found.high[subject] == pytest.approx(max(results["high"]))
        assert all(
            found.low[subject] - 1e-9 <= value <= found.high[subject] + 1e-9 for value in results["here"]
        )
        assert (
            np.isnan(found.best[subject]) or found.low[subject] <= found.best[subject] <= found.high[subject]
        )


def test_a_member_nobody_knows_of_leaves_no_best_extreme() -> None:
    made = Herd(0, 2)
    open_member = truths.of_bools(np.zeros(2, np.bool_), np.zeros(2, np.bool_), missing(2))
    for op in (AggregateOp.LEAST, AggregateOp.MOST, AggregateOp.SUM):
        aggregate = NumberAggregate(
            NOWHERE, CM, 1.0, op, NEIGHBOUR, truth_op(open_member), quantity(ranges((3, 3, 3), (3, 3, 3)))
        )
        assert np.isnan(numbers(made.frame, aggregate).best).all()


def test_an_extreme_that_a_doubtful_member_cannot_change_keeps_its_best() -> None:
    made = Herd(0, 3)
    yes = np.array([True, False] * 3)
    member = truths.of_bools(yes, np.zeros(6, np.bool_), missing(6))
    column = ranges(*[(1, 1, 1), (7, 7, 7)] * 3)
    least = NumberAggregate(
        NOWHERE, CM, 1.0, AggregateOp.LEAST, NEIGHBOUR, truth_op(member), quantity(column)
    )
    assert numbers(made.frame, least).best.tolist() == [1, 1, 1]


def test_an_animal_alone_has_nothing_to_count() -> None:
    made = Herd(1, 1)
    condition = truth_op(made.members())

    def number(op: AggregateOp, of: Op | None) -> tuple[float, float]:
        """Return the range of an aggregate of one animal."""
        found = numbers(made.frame, NumberAggregate(NOWHERE, CM, 1.0, op, NEIGHBOUR, condition, of))
        return float(found.low[0]), float(found.high[0])

    assert number(AggregateOp.COUNT, None) == (0, 0)
    assert number(AggregateOp.SUM, quantity(ranges())) == (0, 0)
    assert number(AggregateOp.LEAST, quantity(ranges())) == (np.inf, np.inf)
    assert number(AggregateOp.MOST, quantity(ranges())) == (-np.inf, -np.inf)
    assert letters(truth(made.frame, TruthAggregate(NOWHERE, AggregateOp.EVERY, NEIGHBOUR, condition))) == "t"
    assert letters(truth(made.frame, TruthAggregate(NOWHERE, AggregateOp.ANY, NEIGHBOUR, condition))) == "f"


def test_a_sum_needs_something_to_sum() -> None:
    made = Herd(0, 2)
    with pytest.raises(TypeError, match="sum of needs a quantity"):
        numbers(
            made.frame,
            NumberAggregate(NOWHERE, CM, 1.0, AggregateOp.SUM, NEIGHBOUR, truth_op(made.members()), None),
        )


def test_the_frame_of_an_aggregate_is_made_once_and_knows_its_subjects() -> None:
    made = Herd(3, 4)
    op = TruthAggregate(NOWHERE, AggregateOp.ANY, NEIGHBOUR, truth_op(made.members()))
    inner, segment = inner_frame(made.frame, op, NEIGHBOUR)
    again, _ = inner_frame(made.frame, op, NEIGHBOUR)
    assert inner is again
    assert segment.tolist() == made.subject().tolist()
    assert inner.rows["a"].tolist() == segment.tolist()
    assert (inner.rows["n"] != inner.rows["a"]).all()


def test_operations_are_counted_once_each_also_below_aggregates() -> None:
    made = Herd(3, 4)
    condition = Negation(NOWHERE, truth_op(made.members()))
    op = TruthAggregate(NOWHERE, AggregateOp.ANY, NEIGHBOUR, condition)
    truth(made.frame, op)
    truth(made.frame, op)
    assert operations_run(made.frame) == 4  # the aggregate, its frame, the negation and what it negates


def test_the_hull_of_an_aggregate_is_open() -> None:
    frame = Frame(
        random_grid(library_of(), 0),
        Herd(0, 2).frame.population,
        np.zeros(1, np.int64),
        {},
        np.zeros(1),
        hull=True,
    )
    one = Constant(NOWHERE, CM, 1.0, 1.0)
    found = numbers(frame, NumberAggregate(NOWHERE, CM, 1.0, AggregateOp.MOST, NEIGHBOUR, None, one))
    assert (found.low[0], found.high[0]) == (-np.inf, np.inf)
    surely = truth_op(truths.of_bools(np.array([True]), np.array([False]), missing(1)))
    assert letters(truth(frame, TruthAggregate(NOWHERE, AggregateOp.ANY, NEIGHBOUR, surely))) == "u"
