from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from advisor.model.cells import CellKind
from advisor.model.changes import Add, SetFact
from advisor.model.vocabulary import WordType
from advisor.reasoning.bindings import population_of
from advisor.reasoning.columns import ASSUMED, MISSING, STALE
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.judge import UNDECIDED, judge
from advisor.reasoning.survey_singles import STRANGERS
from tests.reasoning.small import rule_text
from tests.reasoning.survey_samples import (
    animal,
    fact,
    library,
    number,
    rows,
    spot,
    survey,
    tank,
    waiting,
)


def test_a_column_is_gathered_by_row() -> None:
    of = survey(tank((), [animal("a-1", "stinger"), animal("b-1", "plate"), animal("c-1", "oddity")]))
    column = of.numbers("light-min", (rows(2, 0, 1, 0),), None, True)
    assert column.low.tolist() == [0.0, 50.0, 100.0, 50.0]
    assert column.flags.tolist() == [MISSING, 0, 0, 0]


def test_rows_of_one_animal_at_other_places_have_its_values() -> None:
    base = tank([spot("ledge"), spot("foot")], [waiting("n-1", "plate")])
    of = survey(base, [(Add(base.animals[0], name),) for name in ("ledge", "foot")])
    assert of.numbers("light-min", (np.arange(2),), None, True).best.tolist() == [100.0, 100.0]


def test_a_guess_can_always_be_left_out() -> None:
    of = survey(tank((), [animal("a-1")]))
    kept, left = (of.numbers("origin-light", (rows(0),), None, assume) for assume in (True, False))
    assert (kept.low.tolist(), kept.high.tolist(), kept.flags.tolist()) == ([40.0], [110.0], [ASSUMED])
    assert (left.low.tolist(), left.high.tolist(), left.flags.tolist()) == ([0.0], [2500.0], [MISSING])
    assert number(of, "origin-light", 0, assume=False).kind is CellKind.UNKNOWN


# --- open names


def test_names_that_occur_are_the_domain_and_others_may_be_announced() -> None:
    of = survey(tank((), [animal("a-1", "stinger"), animal("b-1", "mat"), animal("c-1", "oddity")]))
    found = of.words("genus", (np.arange(3),))
    assert found.domain == ("examplea", "examplella", *STRANGERS)
    known, other = [True, False, False, False], [False, True, False, False]
    assert found.possible.tolist() == [known, other, [True] * 4]
    of.set_domain("genus", ["acropora", "examplea"])
    wider = of.words("genus", (np.arange(3),))
    assert wider.domain == ("acropora", "examplea", "examplella", *STRANGERS)
    assert wider.possible.tolist() == [[False, *known[:4]], [False, *other[:4]], [True] * 5]


def test_two_names_nobody_told_are_neither_surely_the_same_nor_surely_not() -> None:
    text = rule_text("contact-group(a) is contact-group(b)", binders="animal a, neighbour b of a")
    rules = library(text)
    of = survey(tank((), [animal("a-1", "stinger"), animal("b-1", "stinger")]), rules=rules)
    plane = judge(compile_rule(rules.rules["tested"], rules), of, population_of(of))
    assert plane.verdict.tolist() == [UNDECIDED, UNDECIDED]


def test_closed_words_have_the_domain_of_their_measure() -> None:
    of = survey(tank((), [animal("a-1")]))
    group = library().vocabulary.measures["group"].type
    assert isinstance(group, WordType)
    assert of.words("group", (rows(0),)).domain == group.words
    assert of.sets("footing", (rows(0),)).surely.sum() == 2


# --- changes


def test_a_change_of_the_tank_has_a_row_of_its_own() -> None:
    base = tank((), (), [fact("temperature", "tank", best=25.0, on=date(2026, 11, 1))])
    of = survey(base, [(), (SetFact(fact("temperature", "tank", best=29.0, error=0.0)),)])
    column = of.numbers("temperature", (of.tank_rows(rows(0, 1, 2)),), None, True)
    assert column.best.tolist() == [25.0, 25.0, 29.0]


def test_old_readings_are_flagged_stale_in_columns_too() -> None:
    of = survey(tank((), (), [fact("temperature", "tank", best=25.0, on=date(2026, 10, 1))]))
    column = of.numbers("temperature", (rows(0),), None, True)
    assert (column.low.tolist(), column.best.tolist(), column.high.tolist()) == ([0.0], [25.0], [45.0])
    assert column.flags.tolist() == [STALE]


@pytest.mark.parametrize("name", ["light", "light-min", "temperature"])
def test_an_empty_table_still_answers(name: str) -> None:
    of = survey(tank())
    column = of.numbers(name, (rows(),), None, True)
    assert (len(column.low), len(column.flags)) == (0, 0)


def test_like_rows_share_one_cell() -> None:
    of = survey(tank([spot("ledge"), spot("foot")], [animal("a-1"), animal("b-1")]))
    assert of.cell("light-min", (0,)) is of.cell("light-min", (1,))
    assert of.cell("light", (0,)) is of.cell("light", (1,))
