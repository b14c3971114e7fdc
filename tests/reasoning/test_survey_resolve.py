from __future__ import annotations

from datetime import date

from advisor.model.cells import Cause, CellKind
from advisor.model.changes import Add, Move, SetFact
from advisor.model.vocabulary import Grade
from tests.reasoning.survey_samples import (
    animal,
    fact,
    number,
    row,
    spot,
    survey,
    tank,
    waiting,
    words_of,
)


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


def test_what_is_reckoned_with_depends_on_the_kind_of_animal() -> None:
    of = survey(tank((), [animal("a-1", "stinger"), animal("b-1", "plate"), animal("c-1", "oddity")]))
    a, b, c = (number(of, "origin-light", row(of, name)) for name in ("a-1", "b-1", "c-1"))
    assert [(cell.low, cell.high, cell.kind) for cell in (a, b)] == [
        (40.0, 110.0, CellKind.ASSUMED),
        (70.0, 200.0, CellKind.ASSUMED),
    ]
    assert (c.low, c.high, c.kind, c.cause) == (0.0, 2500.0, CellKind.UNKNOWN, Cause.MISSING)
    assert (a.supports[0].text, a.supports[0].grade) == ("a guess, not told", Grade.GUESS)


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


def test_what_was_said_of_an_animal_where_it_stood_is_not_known_where_it_is_moved_to() -> None:
    told = [
        fact("doing", "a-1", words=("well",), since=date(2026, 1, 1)),
        fact("fixing", "a-1", words=("glued",)),
        fact("bleached", "a-1", truth=True),
    ]
    base = tank([spot("ledge"), spot("foot")], [animal("a-1", at="ledge")], told)
    of = survey(base, [(Move("a-1", "foot"),)])
    names = ("doing", "doing-since", "fixing", "bleached")
    assert [of.cell(name, (row(of, "a-1"),)).cause for name in names] == [None] * 4
    moved = [of.cell(name, (row(of, "a-1", 1),)).cause for name in names]
    assert moved == [Cause.MISSING, Cause.MISSING, Cause.MISSING, None]
