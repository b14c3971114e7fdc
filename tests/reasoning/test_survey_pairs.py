from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np

from advisor.model.changes import Move
from advisor.model.tank import ANYTHING
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey_facts import Facts, collect
from advisor.reasoning.survey_pairs import (
    NOBODY,
    Entry,
    Stated,
    Tokens,
    entries_of,
    merge,
    name_rows,
    subjects_of,
)
from advisor.reasoning.survey_worlds import lay_out
from tests.reasoning.survey_samples import TODAY, animal, fact, gap, library, read, rows, spot, tank

TANK = tank(
    [spot("ledge"), spot("foot")],
    [animal("a-1", at="ledge"), animal("b-1", at="foot"), animal("free-1")],
    [gap("a-1", "b-1", 5.0), gap("ledge", "foot", 9.0), fact("up-flow", ANYTHING, "a-1", none=True)],
)
FACTS: Facts = collect(TANK, library().vocabulary, TODAY)


def test_the_subjects_of_statements_about_two_things_are_numbered() -> None:
    assert subjects_of(FACTS) == {"a-1", "b-1", "ledge", "foot"}


def test_a_row_answers_to_its_own_name_and_to_its_spot() -> None:
    names = name_rows(lay_out(TANK, (), {}), subjects_of(FACTS))
    assert names.animals.own.tolist() == [names.number["a-1"], names.number["b-1"], NOBODY]
    assert names.animals.place.tolist() == [names.number["ledge"], names.number["foot"], NOBODY]
    assert names.of(Kind.PLACE).own.tolist() == [NOBODY] * 3
    assert names.of(Kind.ANIMAL) is names.animals


def test_a_moved_row_answers_to_its_new_spot_only() -> None:
    names = name_rows(lay_out(TANK, [(Move("a-1", "foot"),)], {}), subjects_of(FACTS))
    assert names.animals.own.tolist()[-1] == NOBODY
    assert names.animals.place.tolist()[-1] == names.number["foot"]


def test_a_pair_named_both_ways_is_one_entry_where_it_is_the_same_both_ways() -> None:
    told = [gap("b-1", "a-1", 5.0, date(2026, 5, 1)), gap("a-1", "b-1", 7.0, date(2026, 6, 1))]
    facts = collect(TANK.model_copy(update={"facts": tuple(told)}), library().vocabulary, TODAY)
    (entry,) = entries_of(facts, "gap", True)
    assert (entry.pair, [said.best for said in entry.said]) == (("a-1", "b-1"), [7.0, 5.0])
    assert len(entries_of(facts, "gap", False)) == 2


def test_a_stated_none_is_no_entry() -> None:
    assert entries_of(FACTS, "up-flow", False) == []


def found(
    pairs: Sequence[tuple[str, str, date | None]],
    both_ways: bool,
    one: tuple[int, int],
    other: tuple[int, int],
) -> int:
    """Return the entry found for two rows given as (own, place) numbers; names are a=0, b=1, s=2, t=3."""
    names = name_rows(lay_out(TANK, (), {}), {"a", "b", "s", "t"})
    entries = [Entry((first, second), (read(1.0, on),)) for first, second, on in pairs]
    stated = Stated(entries, names, both_ways)
    hits = stated.find(Tokens(rows(one[0]), rows(one[1])), Tokens(rows(other[0]), rows(other[1])))
    return int(hits.at[0])


def test_statements_are_found_by_animal_and_by_spot() -> None:
    for pair in (("a", "b"), ("a", "t"), ("s", "b"), ("s", "t")):
        assert found([(*pair, None)], False, (0, 2), (1, 3)) == 0
        assert found([(*pair, None)], False, (1, 3), (0, 2)) == -1
        assert found([(*pair, None)], True, (1, 3), (0, 2)) == 0


def test_nobody_is_never_found() -> None:
    assert found([("a", "b", None)], True, (NOBODY, 2), (1, 3)) == -1
    assert found([], True, (0, 2), (1, 3)) == -1


def test_the_newest_counts_then_the_one_that_names_animals() -> None:
    new, old = date(2026, 6, 1), date(2026, 5, 1)
    assert found([("a", "b", old), ("s", "t", new)], False, (0, 2), (1, 3)) == 1
    assert found([("a", "b", old), ("s", "t", old)], False, (0, 2), (1, 3)) == 0
    assert found([("s", "b", old), ("a", "b", old)], False, (0, 2), (1, 3)) == 1


def test_of_equals_the_same_one_counts_from_either_end() -> None:
    pairs = [("s", "b", None), ("a", "t", None)]
    assert found(pairs, True, (0, 2), (1, 3)) == found(pairs, True, (1, 3), (0, 2))


def test_what_is_found_tells_which_side_was_named_by_its_spot() -> None:
    names = name_rows(lay_out(TANK, (), {}), {"a", "b", "s", "t"})
    stated = Stated([Entry(("b", "s"), (read(1.0),))], names, True)
    hits = stated.find(Tokens(rows(0, 1), rows(2, 3)), Tokens(rows(1, 0), rows(3, 2)))
    assert hits.at.tolist() == [0, 0]
    assert hits.first_by_spot.tolist() == [1, 0]
    assert hits.second_by_spot.tolist() == [0, 1]


def test_lists_of_statements_join_newest_first() -> None:
    new, old = read(1.0, date(2026, 6, 1)), read(2.0, date(2026, 5, 1))
    assert merge((old,), (new,)) == (new, old)
    assert merge((), (old,)) == (old,)


def test_many_pairs_are_found_at_once() -> None:
    layout = lay_out(TANK, (), {})
    names = name_rows(layout, subjects_of(FACTS))
    stated = Stated(entries_of(FACTS, "gap", True), names, True)
    every = np.arange(3)
    first, second = np.repeat(every, 3), np.tile(every, 3)
    tokens = names.animals
    hits = stated.find(
        Tokens(tokens.own[first], tokens.place[first]), Tokens(tokens.own[second], tokens.place[second])
    )
    assert np.flatnonzero(hits.at >= 0).tolist() == [1, 3]
