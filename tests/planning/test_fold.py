"""The fold and the ranking: key order, shared ranks, and what a preference may never do."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.model.results import Comfort, Word
from advisor.planning.bench import bench_of, sitting_of
from advisor.planning.fold import (
    Standing,
    Table,
    comforts_of,
    holding,
    ranked,
    speaks,
    standings,
    table_of,
)
from advisor.reasoning.judge import ACCEPTED, EXCUSED, FAILS, HOLDS, NOT_COVERED, UNDECIDED
from advisor.reasoning.tables import Tables
from tests.properties.demo import ON
from tests.reasoning.grids import random_grid
from tests.reasoning.small import library_of, rule_text

DANGER, WARNING, ADVICE = 0, 1, 2
Line = tuple[int, int, int, bool]
"""Level, verdict, lean, and whether it fails later."""


def table(*worlds: list[Line]) -> Table:
    """Return the bindings of worlds 1, 2, …"""
    lines = [(world, *line) for world, found in enumerate(worlds, 1) for line in found]
    columns = list(zip(*lines, strict=True)) if lines else [()] * 5
    world, level, verdict, lean, later = (np.array(column) for column in columns)
    size = len(lines)
    return Table(
        np.zeros(size, np.int64),
        np.arange(size),
        world.astype(np.int64),
        verdict.astype(np.int8),
        lean.astype(np.int8),
        level.astype(np.int64),
        np.zeros(size),
        later.astype(np.bool_),
    )


def standing(*lines: Line) -> Standing:
    """Return how one world with these bindings stands."""
    return standings(table(list(lines)), 2, [[], []])[0]


WORDS: list[tuple[list[Line], Word]] = [
    ([], Word.YES),
    ([(DANGER, HOLDS, 1, False)], Word.YES),
    ([(DANGER, FAILS, -1, False)], Word.NO),
    ([(DANGER, ACCEPTED, -1, False)], Word.YES),
    ([(DANGER, EXCUSED, 1, False), (DANGER, NOT_COVERED, 1, False)], Word.YES),
    ([(DANGER, UNDECIDED, 0, False)], Word.NOT_KNOWN),
    ([(DANGER, UNDECIDED, -1, False)], Word.NOT_KNOWN),
    ([(DANGER, UNDECIDED, 1, False)], Word.LIKELY),
    ([(DANGER, UNDECIDED, 1, False), (DANGER, UNDECIDED, 0, False)], Word.NOT_KNOWN),
    ([(DANGER, UNDECIDED, -1, False), (DANGER, FAILS, -1, False)], Word.NO),
    ([(WARNING, FAILS, -1, False), (ADVICE, FAILS, -1, False)], Word.YES_BUT),
    ([(WARNING, UNDECIDED, -1, False)], Word.YES_BUT),
    ([(WARNING, UNDECIDED, 0, False), (WARNING, UNDECIDED, 1, False)], Word.YES),
    ([(WARNING, HOLDS, 1, True)], Word.YES_UNTIL),
    ([(DANGER, HOLDS, 1, True)], Word.YES_UNTIL),
    ([(ADVICE, HOLDS, 1, True)], Word.YES),
    ([(WARNING, HOLDS, 1, True), (DANGER, UNDECIDED, 1, False)], Word.LIKELY_UNTIL),
    ([(DANGER, UNDECIDED, 1, True)], Word.LIKELY_UNTIL),
    ([(WARNING, FAILS, -1, False), (DANGER, UNDECIDED, 1, False)], Word.LIKELY_BUT),
    ([(WARNING, UNDECIDED, -1, False), (DANGER, UNDECIDED, 1, False)], Word.LIKELY_BUT),
    ([(WARNING, FAILS, -1, False), (DANGER, UNDECIDED, 0, False)], Word.NOT_KNOWN),
    ([(ADVICE, FAILS, -1, False), (DANGER, UNDECIDED, 1, False)], Word.LIKELY),
]


@pytest.mark.parametrize(("lines", "word"), WORDS)
def test_the_word_of_a_place(lines: list[Line], word: Word) -> None:
    assert standing(*lines).word is word


def test_the_key_counts_what_the_ranking_ranks_by_and_nothing_else() -> None:
    found = standing(
        (DANGER, FAILS, -1, False),
        (DANGER, UNDECIDED, -1, False),
        (DANGER, UNDECIDED, 0, False),
        (DANGER, UNDECIDED, 1, False),
        (WARNING, FAILS, -1, False),
        (WARNING, UNDECIDED, -1, False),
        (WARNING, UNDECIDED, 0, False),
        (WARNING, UNDECIDED, 1, False),
        (WARNING, HOLDS, 1, False),
        (ADVICE, FAILS, -1, False),
        (DANGER, ACCEPTED, -1, False),
    )
    assert found.key == (1, 2, 1, 2)


def test_what_fails_later_counts_like_a_warning() -> None:
    assert standing((WARNING, HOLDS, 1, True)).key == (0, 0, 0, 1)
    assert standing((DANGER, HOLDS, 1, True)).key == (0, 0, 0, 1)
    assert standing((ADVICE, HOLDS, 1, True)).key == (0, 0, 0, 0)


def test_a_warning_that_fails_now_and_later_is_counted_once() -> None:
    assert standing((WARNING, UNDECIDED, -1, True)).key == (0, 0, 0, 1)


def test_the_plain_tank_is_not_ranked() -> None:
    assert standings(table(), 1, [[]]) == []


def place(
    world: int,
    key: tuple[int, int, int, int] = (0, 0, 0, 0),
    low: float = 0.0,
    high: float | None = None,
    best: float | None = None,
) -> Standing:
    """Return a standing with a key and a comfort."""
    top = low if high is None else high
    middle = (low + top) / 2 if best is None else best
    return Standing(
        world, *key, warned_now=False, comes_later=False, comfort_low=low, comfort=middle, comfort_high=top
    )


def names(found: list[tuple[int, Standing]]) -> list[tuple[int, int]]:
    """Return (rank, world) in the order of the ranking."""
    return [(rank, item.world) for rank, item in found]


IDS = ["", *"abcdefgh"]


def test_each_part_of_the_key_outranks_all_that_follow() -> None:
    """Dangers, then open without a good lean, then leaning well, then warnings, then comfort."""
    worst_after = [(0, 9, 9, 9), (0, 0, 9, 9), (0, 0, 0, 9), (0, 0, 0, 0)]
    for part, best in enumerate(worst_after):
        worse = [0, 0, 0, 0]
        worse[part] = best[part] + 1
        keys = (tuple(worse), best)
        bad, good = place(1, keys[0], low=100.0), place(2, keys[1], low=0.0)  # type: ignore[arg-type]  # four
        assert names(ranked([bad, good], IDS)) == [(1, 2), (2, 1)]


@given(
    keys=st.lists(st.tuples(*[st.integers(0, 2)] * 4), min_size=2, max_size=6),
    comforts=st.lists(st.floats(0, 50), min_size=6, max_size=6),
)
def test_no_comfort_ever_outvotes_a_danger_or_a_warning(
    keys: list[tuple[int, int, int, int]], comforts: list[float]
) -> None:
    found = ranked([place(at, key, low=comforts[at - 1]) for at, key in enumerate(keys, 1)], IDS)
    ordered = [item.key for _, item in found]
    assert ordered == sorted(keys)
    for (rank, item), (other_rank, other) in itertools.pairwise(found):
        assert (item.key == other.key) or other_rank > rank


def test_overlapping_comfort_shares_a_rank_and_is_listed_by_midpoint_then_id() -> None:
    found = ranked([place(1, low=1, high=5), place(2, low=4, high=8), place(3, low=0, high=0.5)], IDS)
    assert names(found) == [(1, 2), (1, 1), (3, 3)]
    level = ranked([place(2, low=3, high=5), place(1, low=2, high=6)], IDS)
    assert names(level) == [(1, 1), (1, 2)]


def test_the_midpoint_counts_and_not_where_the_best_guess_lies() -> None:
    found = ranked([place(1, low=0, high=10, best=9.0), place(2, low=4, high=8, best=4.0)], IDS)
    assert names(found) == [(1, 2), (1, 1)]


def test_whatever_overlaps_shares_a_rank_even_through_a_third() -> None:
    chain = [
        place(1, low=6, high=9),
        place(2, low=4, high=7),
        place(3, low=2, high=5),
        place(4, low=0, high=1),
    ]
    assert names(ranked(chain, IDS)) == [(1, 1), (1, 2), (1, 3), (4, 4)]


@given(
    ends=st.lists(st.tuples(st.integers(0, 20), st.integers(0, 6)), min_size=1, max_size=7),
)
def test_any_two_that_overlap_share_a_rank_in_any_order_of_input(
    ends: list[tuple[int, int]],
) -> None:
    places = [place(at, low=low, high=low + width) for at, (low, width) in enumerate(ends, 1)]
    found = ranked(places, IDS)
    turned = list(reversed(places))
    assert ranked(turned, IDS) == found
    rank = {item.world: place for place, item in found}
    for one, two in itertools.combinations(places, 2):
        if one.comfort_low <= two.comfort_high and two.comfort_low <= one.comfort_high:
            assert rank[one.world] == rank[two.world]
    midpoints = [(item.comfort_low + item.comfort_high) / 2 for _, item in found]
    assert midpoints == sorted(midpoints, reverse=True)
    assert [place for place, _ in found] == sorted(place for place, _ in found)


# --- comfort ------------------------------------------------------------------

PREFER = (
    "prefer calm for animal a{when} want light(a.spot) between 50 PAR and 90 PAR weight 4 fade 10 steps\n"
    '  because "{{a}} sits in {{light(a.spot)}}" source "us" kind guess\n'
)


def comforts(
    light: tuple[float, float, float], *, when: str = "", group: str = "soft"
) -> list[list[Comfort]]:
    """Return the comfort of one new animal on a place of known light."""
    library = library_of(PREFER.format(when=f" when {when}" if when else "") + rule_text("reach(a) >= 0 cm"))
    grid = random_grid(library, 0, animals=1, worlds=1, own=1)
    for part, value in enumerate((*light, 0.0)):
        grid.number["light"][part] = np.full(grid.place_count, value)
    words = group.split(" or ")
    grid.word["group"] = (
        np.array([[word in words for word in grid.domains["group"]]] * 2),
        np.zeros(2),
    )
    tables: Tables = grid
    bench = bench_of(library)
    return comforts_of(bench.prefers, sitting_of(bench, tables, ON, 12))


@pytest.mark.parametrize(("par", "comfort"), [
    (50, 4), (70, 4), (90, 4),      # wanted: the whole weight
    (45, 3.6), (25, 2), (115, 2),   # one, five and five steps outside, of ten
    (0, 0), (140, 0), (1000, 0),    # ten steps outside and more: nothing, never below
])  # fmt: skip
def test_comfort_fades_from_the_whole_weight_to_nothing(par: float, comfort: float) -> None:
    plain, new = comforts((par, par, par))
    assert plain == []
    (term,) = new
    assert (term.low, term.best, term.high) == pytest.approx((comfort, comfort, comfort))
    assert term.weight == 4
    assert f"{par:g} PAR" in term.sentence


def test_comfort_of_a_range_is_a_range() -> None:
    (term,) = comforts((25, 45, 70))[1]
    assert (term.low, term.best, term.high) == pytest.approx((2, 3.6, 4))
    (vague,) = comforts((0, np.nan, 2500))[1]
    assert (vague.low, vague.high) == pytest.approx((0, 4))
    assert vague.best == pytest.approx(2)


def test_comfort_of_who_is_not_meant_is_no_term_and_of_who_may_be_meant_may_be_nothing() -> None:
    assert comforts((70, 70, 70), when="group(a) is stony")[1] == []
    (term,) = comforts((70, 70, 70), when="group(a) is soft", group="soft or stony")[1]
    assert (term.low, term.high) == (0, 4)


# --- rows -----------------------------------------------------------------------


def test_what_an_answer_shows_and_what_holds() -> None:
    found = table([
        (DANGER, FAILS, -1, False), (WARNING, UNDECIDED, 0, False), (WARNING, HOLDS, 1, True),
        (WARNING, HOLDS, 1, False), (DANGER, NOT_COVERED, 1, False), (DANGER, ACCEPTED, -1, False),
    ])  # fmt: skip
    assert speaks(found).tolist() == [True, True, True, False, False, False]
    assert holding(found).tolist() == [False, False, False, True, False, False]
    assert found.rows(speaks(found)).tolist() == [0, 1, 2]


def test_no_rules_make_an_empty_table() -> None:
    library = library_of(rule_text("reach(a) >= 0 cm"))
    sitting = sitting_of(bench_of(library), random_grid(library, 0), ON, 12)
    assert len(table_of([], sitting).world) == 0
