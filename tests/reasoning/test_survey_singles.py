from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from advisor.model.cells import Cause, CellKind
from advisor.model.changes import Add, SetFact
from advisor.model.vocabulary import Grade, WordType
from advisor.reasoning.columns import ASSUMED, MISSING, STALE
from tests.reasoning.survey_samples import (
    animal,
    fact,
    library,
    number,
    row,
    rows,
    spot,
    survey,
    tank,
    waiting,
    words_of,
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


def test_the_first_supplier_that_knows_counts() -> None:
    facts = [fact("group", "a-1", words=("soft",)), fact("group", "b-1", words=("soft",))]
    of = survey(tank((), [animal("a-1"), animal("b-1", "oddity")], facts))
    found = [words_of(of.cell("group", (row(of, name),))) for name in ("a-1", "b-1")]
    assert found == [{"large-polyp"}, {"soft"}]


def test_an_animal_may_be_placed_on_no_spot_and_its_place_be_measured() -> None:
    of = survey(tank((), [animal("a-1")], [fact("light", "a-1", best=100.0, error=5.0)]))
    assert number(of, "light", int(of.animal_place[0])).high == 105.0


def test_a_reading_of_an_animal_on_a_spot_is_another_reading_of_the_spot() -> None:
    facts = [fact("light", "a-1", best=100.0, error=5.0, on=date(2026, 10, 2)),
             fact("light", "ledge", best=80.0, error=5.0, on=date(2026, 10, 1))]  # fmt: skip
    of = survey(tank([spot("ledge")], [animal("a-1", at="ledge")], facts))
    assert number(of, "light", 0).best == 100.0


# --- assumptions


def test_what_is_reckoned_with_depends_on_the_kind_of_animal() -> None:
    of = survey(tank((), [animal("a-1", "stinger"), animal("b-1", "plate"), animal("c-1", "oddity")]))
    a, b, c = (number(of, "origin-light", row(of, name)) for name in ("a-1", "b-1", "c-1"))
    assert [(cell.low, cell.high, cell.kind) for cell in (a, b)] == [
        (40.0, 110.0, CellKind.ASSUMED),
        (70.0, 200.0, CellKind.ASSUMED),
    ]
    assert (c.low, c.high, c.kind, c.cause) == (0.0, 2500.0, CellKind.UNKNOWN, Cause.MISSING)
    assert (a.supports[0].text, a.supports[0].grade) == ("a guess, not told", Grade.GUESS)


def test_a_guess_can_always_be_left_out() -> None:
    of = survey(tank((), [animal("a-1")]))
    kept, left = (of.numbers("origin-light", (rows(0),), None, assume) for assume in (True, False))
    assert (kept.low.tolist(), kept.high.tolist(), kept.flags.tolist()) == ([40.0], [110.0], [ASSUMED])
    assert (left.low.tolist(), left.high.tolist(), left.flags.tolist()) == ([0.0], [2500.0], [MISSING])
    assert number(of, "origin-light", 0, assume=False).kind is CellKind.UNKNOWN


def test_an_animal_of_two_possible_kinds_is_reckoned_with_as_either() -> None:
    of = survey(tank((), [animal("a-1", "either")]), names={"a-1": ("stinger", "plate")})
    cell = number(of, "origin-light", 0)
    assert (cell.low, cell.high, cell.kind) == (40.0, 200.0, CellKind.ASSUMED)


def test_what_was_told_is_never_replaced_by_a_guess() -> None:
    of = survey(tank((), [animal("a-1")], [fact("origin-light", "a-1", best=150.0, error=10.0)]))
    assert number(of, "origin-light", 0).best == 150.0


def test_a_group_that_a_keeper_told_serves_a_guess() -> None:
    of = survey(tank((), [animal("a-1", "oddity")], [fact("group", "a-1", words=("clam",))]))
    assert number(of, "origin-light", 0).high == 220.0


# --- open names


def test_names_that_occur_are_the_domain_and_others_may_be_announced() -> None:
    of = survey(tank((), [animal("a-1", "stinger"), animal("b-1", "mat"), animal("c-1", "oddity")]))
    found = of.words("genus", (np.arange(3),))
    assert found.domain == ("examplea", "examplella")
    assert found.possible.tolist() == [[True, False], [False, True], [True, True]]
    of.set_domain("genus", ["acropora", "examplea"])
    wider = of.words("genus", (np.arange(3),))
    assert wider.domain == ("acropora", "examplea", "examplella")
    assert wider.possible.tolist() == [[False, True, False], [False, False, True], [True, True, True]]


def test_closed_words_have_the_domain_of_their_measure() -> None:
    of = survey(tank((), [animal("a-1")]))
    group = library().vocabulary.measures["group"].type
    assert isinstance(group, WordType)
    assert of.words("group", (rows(0),)).domain == group.words
    assert of.sets("footing", (rows(0),)).surely.sum() == 2


# --- changes


def test_a_change_states_what_goes_before_a_card() -> None:
    base = tank((), [animal("a-1")])
    of = survey(
        base,
        [(SetFact(fact("light-max", "a-1", best=99.0, error=0.0)),), (SetFact(fact("light-max", "a-1")),)],
    )
    assert number(of, "light-max", row(of, "a-1", 1)).best == 99.0
    opened = number(of, "light-max", row(of, "a-1", 2))
    assert (opened.low, opened.high, opened.cause) == (0.0, 2500.0, Cause.MISSING)
    assert number(of, "light-max", row(of, "a-1")).best == 250.0


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


def test_who_must_be_asked_shows_in_the_words_for_not_known() -> None:
    of = survey(tank([spot("ledge")], [animal("a-1", "oddity")]))
    told = {
        name: of.cell(name, (0,), assume=False).supports[0].text
        for name in ("light", "size", "light-min", "faces")
    }
    assert told == {"light": "not measured", "size": "ruler", "light-min": "no card", "faces": "not told"}


def test_the_width_of_an_animal_that_is_not_in_the_tank_comes_with_it() -> None:
    of = survey(tank([spot("ledge")]), [(Add(waiting("new-1", size_cm=7.0), "ledge"),)])
    assert number(of, "size", 0).best == 7.0
