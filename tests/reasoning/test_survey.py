from __future__ import annotations

import sys
from datetime import date

import numpy as np
import pytest

from advisor.errors import AdvisorError
from advisor.language.since import DAYS_SINCE
from advisor.model.changes import Add, Change, Move, Remove, SetFact
from advisor.model.tank import Tank
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey import COMPUTED
from advisor.reasoning.survey_worlds import lay_out
from advisor.reasoning.tables import Tables
from tests.reasoning.survey_samples import (
    TODAY,
    animal,
    fact,
    gap,
    library,
    number,
    place_row,
    point,
    row,
    rows,
    spot,
    survey,
    tank,
    waiting,
)

TANK = tank(
    [spot("ledge", point(0.0, 0.0)), spot("foot", point(40.0, 0.0))],
    [animal("a-1", at="ledge"), animal("b-1", at="foot"), animal("free-1"), waiting("n-1")],
    horizon_months=18,
)
NEW = TANK.animals[3]


def test_a_survey_is_what_the_evaluator_reads() -> None:
    tables: Tables = survey(TANK)
    assert (tables.place_count, tables.animal_world.tolist()) == (3, [-1, -1, -1])
    assert tables.animal_place.tolist() == [1, 0, 2]
    assert tables.removed.shape == (1, 3)


def test_the_horizon_is_the_tanks_own_unless_told() -> None:
    assert survey(TANK).horizon_months == 18
    assert survey(TANK, horizon_months=6).horizon_months == 6
    assert survey(TANK).on == TODAY


def test_rows_of_worlds() -> None:
    of = survey(TANK, [(Add(NEW, "ledge"),), (Move("a-1", "foot"), Remove("b-1"))])
    assert [[of.animals[row].id for row in of.rows_in(world)] for world in (0, 1, 2)] == [
        ["a-1", "b-1", "free-1"],
        ["a-1", "b-1", "free-1", "n-1"],
        ["a-1", "free-1"],
    ]
    assert of.animal_world.tolist() == [-1, -1, -1, 1, 2]
    assert of.animal_row("n-1") == -1
    assert of.animal_row("a-1", 2) == 4
    assert of.tank_rows(rows(0, 1, 2)).tolist() == [0, 0, 0]


def test_places_of_worlds() -> None:
    of = survey(TANK, [(SetFact(fact("light", "foot", best=9.0)),)])
    assert of.place_world.tolist() == [-1, -1, -1, 1]
    assert (place_row(of, "foot"), place_row(of, "foot", 1), place_row(of, "ledge", 1)) == (0, 3, 1)


def test_labels_phrases_and_questions() -> None:
    of = survey(TANK)
    pair = (row(of, "a-1"), row(of, "b-1"))
    assert of.ask("gap", pair) == "Measure from a-1 to b-1 with a tape"
    assert of.say("gap", pair) == "gap between a-1 and b-1"
    assert of.say("above", pair) == "a-1 stands over b-1"
    assert of.ask("light", (of.spot_place["ledge"],)) == "Read the meter at ledge with the lights at full"
    assert of.ask("temperature", (0,)) == "Read the thermometer"
    assert of.ask("divider", pair) == "a divider stands between a-1 and b-1"
    assert [
        of.label(Kind.ANIMAL, 2),
        of.label(Kind.CORAL, 0),
        of.label(Kind.PLACE, 2),
        of.label(Kind.TANK, 0),
    ] == [
        "free-1",
        "a-1",
        "the place of free-1",
        "the tank",
    ]


def test_everything_computed_in_the_shipped_vocabulary_is_known_here() -> None:
    vocabulary = library().vocabulary
    asked = {measure.computed_by for measure in vocabulary.measures.values()}
    asked |= {relation.computed_by for relation in vocabulary.relations.values()}
    assert asked - {""} == COMPUTED - {DAYS_SINCE}  # its measures are made where a rule asks for them


def test_notes_tell_what_was_left_out() -> None:
    base = TANK.model_copy(update={"facts": (fact("light", "foot", best=9.0, on=date(2027, 1, 1)),)})
    assert survey(base).notes == ("light of foot is left out: it is dated 2027-01-01, after this day",)


def test_a_change_that_cannot_be_made_is_refused() -> None:
    with pytest.raises(AdvisorError, match="there is no spot 'moon'"):
        survey(TANK, [(Add(NEW, "moon"),)])


def test_the_day_decides_what_is_known() -> None:
    facts = (
        fact("light", "foot", best=80.0, on=date(2026, 5, 1)),
        fact("light", "foot", best=90.0, on=date(2026, 10, 1)),
    )
    base = TANK.model_copy(update={"facts": facts})
    days = (date(2026, 4, 1), date(2026, 6, 1), date(2026, 11, 2), date(2027, 6, 1))
    found = [number(survey(base, on=day), "light", 0) for day in days]
    assert [cell.best for cell in found] == [None, 80.0, 90.0, 90.0]
    assert [cell.cause for cell in found] == ["missing", None, None, "stale"]


def test_a_world_without_edits_is_the_tank_as_it_is() -> None:
    of = survey(TANK, [()])
    assert of.rows_in(1).tolist() == of.rows_in(0).tolist()


# --- size


def batch() -> tuple[list[Change], int]:
    """Return every placing of 8 corals on 25 spots, each a world of its own."""
    corals = [waiting(f"n-{at}") for at in range(8)]
    return [(Add(coral, f"s{at}"),) for coral in corals for at in range(25)], 200


def home() -> Tank:
    spots = [spot(f"s{at}", point(5.0 * at, 10.0)) for at in range(25)]
    return tank(spots, [animal(f"a-{at}", at=f"s{at}") for at in range(25)], [gap("a-1", "a-2", 3.0)])


def test_columns_take_no_more_steps_for_more_rows() -> None:
    """Counted as calls of Python functions, which is what would grow with a loop over rows."""
    worlds, count = batch()
    of = survey(home(), worlds)
    every = np.arange(len(of.animals))
    assert len(every) == 25 + count

    def calls(first: np.typing.NDArray[np.int64], second: np.typing.NDArray[np.int64]) -> int:
        made = 0

        def count_call(frame: object, event: str, arg: object) -> None:
            nonlocal made
            made += event == "call"

        months = np.full(len(first), 12.0)
        sys.setprofile(count_call)
        try:
            of.numbers("gap", (first, second), months, True)
            of.numbers("light-min", (first,), None, True)
            of.numbers("light", (of.animal_place[first],), None, True)
            of.words("group", (first,))
            of.sets("footing", (first,))
            of.truths("down-flow", (first, second), None)
            of.truths("divider", (first, second), None)
        finally:
            sys.setprofile(None)
        return made

    first, second = np.repeat(every[:20], 20), np.tile(every[:20], 20)
    calls(first, second)  # what is made ready when first asked for
    assert calls(np.tile(first, 100), np.tile(second, 100)) == calls(first, second)


def test_worlds_share_what_is_known_of_their_animals() -> None:
    worlds, _ = batch()
    layout = lay_out(home(), worlds, {})
    assert len(layout.entities) == 25 + 8
    assert len(layout.places) == 25


def test_every_further_world_takes_the_same_few_steps() -> None:
    worlds, _ = batch()
    base = home()
    hundred, two, three = (_calls_to_lay_out(base, worlds * 2, count) for count in (100, 200, 300))
    assert abs((three - two) - (two - hundred)) < 20  # list growth and the like
    assert (two - hundred) / 100 < 30


def _calls_to_lay_out(base: Tank, worlds: list[Change], count: int) -> int:
    """Calls of Python functions that a survey of so many worlds takes."""
    made = 0

    def count_call(frame: object, event: str, arg: object) -> None:
        nonlocal made
        made += event == "call"

    sys.setprofile(count_call)
    try:
        survey(base, worlds[:count])
    finally:
        sys.setprofile(None)
    return made
