from __future__ import annotations

from advisor.model.vocabulary import Kind, Param
from advisor.reasoning.survey_pairs import NOBODY, name_rows
from advisor.reasoning.survey_stated import tokens_at, world_table
from advisor.reasoning.survey_worlds import lay_out
from tests.reasoning.survey_samples import animal, fact, library, number, row, rows, spot, survey, tank


def test_a_pair_a_change_speaks_of_is_found_by_row() -> None:
    table = world_table([(3, 7), (4, 8)], 10, False)
    assert table.find(rows(3, 7, 4, 0), rows(7, 3, 8, 0)).tolist() == [0, -1, 1, -1]


def test_what_is_the_same_both_ways_is_found_both_ways() -> None:
    assert world_table([(3, 7)], 10, True).find(rows(3, 7), rows(7, 3)).tolist() == [0, 0]


def test_of_one_pair_named_twice_the_later_counts() -> None:
    assert world_table([(3, 7), (7, 3)], 10, True).find(rows(3), rows(7)).tolist() == [1]


def test_a_table_of_nothing_finds_nothing() -> None:
    assert world_table([], 10, True).find(rows(1, 2), rows(2, 1)).tolist() == [-1, -1]


def test_places_answer_to_their_spot() -> None:
    layout = lay_out(tank([spot("ledge")], [animal("a-1", at="ledge")]), (), {})
    names = name_rows(layout, {"ledge", "a-1"})
    place = tokens_at(names, Param(Kind.PLACE, "p"), rows(0))
    assert (place.own.tolist(), place.place.tolist()) == ([NOBODY], [names.number["ledge"]])
    coral = tokens_at(names, Param(Kind.CORAL, "c"), rows(0))
    assert coral.own.tolist() == [names.number["a-1"]]


HOUSE = """
measure crossing(animal a, animal b) in cm between 0 and 90 cm step 1 cm error 2 cm stale after 30 days
  from keeper  say "crossing from {a} to {b}"  ask "Measure the crossing from {a} to {b}"
measure run(place p, animal a) in cm between 0 and 90 cm step 1 cm
  from keeper  say "run from {p} to {a}"  ask "Measure it"
"""


def test_a_keepers_own_measure_of_two_things_is_as_stated_and_one_way() -> None:
    facts = [fact("crossing", "a-1", "b-1", best=10.0), fact("run", "ledge", "b-1", best=7.0)]
    of = survey(
        tank([spot("ledge")], [animal("a-1", at="ledge"), animal("b-1")], facts), rules=library(HOUSE)
    )
    a, b = row(of, "a-1"), row(of, "b-1")
    told, open_ = number(of, "crossing", a, b), number(of, "crossing", b, a)
    assert (told.low, told.best, told.high) == (8.0, 10.0, 12.0)
    assert (open_.low, open_.best, open_.high) == (0.0, None, 90.0)
    assert open_.supports[0].text == "not told"
    assert number(of, "run", of.spot_place["ledge"], b).best == 7.0
    assert of.ask("run", (of.spot_place["ledge"], b)) == "Measure it"
    assert of.say("run", (of.spot_place["ledge"], b)) == "run from ledge to b-1"
