"""The light of a place in the survey: lamps and readings beside what the keeper and the animals say."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from advisor.language.library import Library
from advisor.model.cells import Cause, CellKind, NumberCell
from advisor.model.changes import Add, SetFact
from advisor.model.lighting import RockBody, RockShape, Walls, WallState
from advisor.model.tank import Fact, Immersion, Rock, Tank
from advisor.reasoning import survey_light
from advisor.reasoning.light_faces import way
from advisor.reasoning.light_world import light_world
from advisor.reasoning.survey import COMPUTED, Survey
from advisor.reasoning.survey_facts import Facts
from advisor.reasoning.survey_light import UNDER_UNTOLD, UNDERSIDE, counted
from advisor.reasoning.survey_vouch import VOUCHES
from tests.reasoning.lit import GLASS, ROOF, SPOTS, lamp, lit, lit_library, lit_places, read
from tests.reasoning.survey_samples import (
    TODAY,
    animal,
    fact,
    number,
    place_row,
    point,
    spot,
    survey,
    waiting,
)

BARE = lamp(form="tube", length_cm=60.0, photons_umol_per_s=None).body
AROUND = (read("beside", 330.0), read("far", 80.0), read("cave", 90.0))


def lit_survey(tank: Tank, *worlds: tuple[object, ...], house: str = "") -> Survey:
    return survey(tank, worlds, rules=lit_library(house))  # type: ignore[arg-type]  # changes of a test


def light(tank: Tank, place: str = "under", house: str = "") -> NumberCell:
    found = lit_survey(tank, house=house)
    return number(found, "light", found.spot_place[place])


def texts(cell: NumberCell) -> list[str]:
    return [each.text for each in cell.supports]


def test_a_place_without_a_reading_has_the_light_of_the_lamps_with_its_error() -> None:
    cell = light(lit())
    assert (cell.kind, cell.cause) == (CellKind.COMPUTED, None)
    assert cell.best is not None
    assert cell.low < cell.best < cell.high
    (support, *_) = cell.supports
    assert (support.text, support.grade) == ("reckoned: 1 lamp", None)
    assert support.source.startswith("error -")


def test_it_names_how_many_readings_and_the_nearest_with_its_distance() -> None:
    (support, *_) = light(lit(*AROUND)).supports
    assert support.text == "reckoned: 1 lamp, 3 readings, the nearest 15 cm off"
    assert support.source.startswith("330 PAR at beside, 15 cm off; error -")


def test_readings_narrow_the_light_of_a_place_nobody_read() -> None:
    bare, read_around = light(lit()), light(lit(*AROUND))
    assert read_around.high / read_around.low < bare.high / bare.low


def test_a_reading_wins_while_all_else_agrees_with_it() -> None:
    middle = light(lit(*AROUND)).best
    assert middle is not None
    cell = light(lit(*AROUND, read("under", middle, error=10.0)))
    assert (cell.kind, cell.low, cell.high) == (CellKind.MEASURED, middle - 10.0, middle + 10.0)


def test_where_they_do_not_agree_the_range_covers_both_and_says_so() -> None:
    around = light(lit(*AROUND))
    cell = light(lit(*AROUND, read("under", 60.0, error=5.0)))
    assert (cell.kind, cell.low) == (CellKind.MEASURED, 55.0)
    assert cell.best == pytest.approx(around.best, rel=0.05)  # all others are likelier right than one
    assert cell.high == pytest.approx(around.high, rel=0.15)
    (odd,) = cell.supports
    assert odd.text.startswith("instrument, 5 days ago, but the rest leads to expect ")
    assert odd.source.endswith("; the two do not agree, so the range covers both")


def test_a_reading_too_old_gives_way_and_is_still_told() -> None:
    cell = light(lit(*AROUND, read("under", 60.0, on=date(2026, 1, 1))))
    assert (cell.kind, cell.cause) == (CellKind.COMPUTED, None)
    assert texts(cell)[-1] == "too old: 60 PAR"


def test_a_word_is_narrowed_and_one_that_cannot_be_is_covered() -> None:
    middle = light(lit(*AROUND))
    word = light(lit(*AROUND, fact("light", "under", words=("bright",))))
    assert (word.kind, word.low >= middle.low, word.high <= middle.high) == (CellKind.COMPUTED, True, True)
    dark = light(lit(*AROUND, fact("light", "under", words=("dark",))))
    assert (dark.low, dark.high) == (0.0, middle.high)
    assert texts(dark)[-1] == "the two do not agree"


def test_a_stated_range_is_the_keepers_own_and_stays() -> None:
    cell = light(lit(*AROUND, fact("light", "under", low=300.0, high=500.0)))
    assert (cell.kind, cell.low, cell.high) == (CellKind.STATED, 300.0, 500.0)


def test_a_place_told_in_words_alone_stays_unknown() -> None:
    cell = light(lit(spots=(*SPOTS, spot("word"))), "word")
    assert (cell.kind, cell.cause) == (CellKind.UNKNOWN, Cause.MISSING)


def test_without_lamps_a_reading_speaks_as_far_as_it_reaches_and_more_loosely() -> None:
    told = lit(read("beside", 330.0), lamps=())
    assert light(told).high / light(told).low > 2.0
    assert texts(light(told)) == ["reckoned: 1 reading, the nearest 15 cm off"]
    assert light(told, "far").cause is Cause.MISSING


def test_without_lamps_readings_do_not_speak_for_caves_nor_from_them() -> None:
    into = lit(read("beside", 330.0), fact("shelter", "under", words=("cave",)), lamps=())
    out_of = lit(read("beside", 30.0), fact("shelter", "beside", words=("overhang",)), lamps=())
    assert light(into).cause is Cause.MISSING
    assert light(out_of).cause is Cause.MISSING


def test_a_cave_no_rock_is_told_of_is_at_most_as_bright_as_the_open() -> None:
    open_, cave = light(lit()), light(lit(fact("shelter", "under", words=("cave",))))
    assert (cave.low, cave.best, cave.high) == (0.0, None, open_.high)
    assert texts(cave)[-1] == "at most, for it is under cover"


def test_a_cave_under_a_rock_that_is_told_is_as_dark_as_the_rock_makes_it() -> None:
    over_cave = lamp(middle_cm=(70.0, 25.0))
    told = lit(fact("shelter", "cave", words=("overhang",)), lamps=(over_cave,), rocks=(ROOF,))
    cell = light(told, "cave")
    assert cell.best is not None
    assert cell.low > 0.0


def test_without_lamps_readings_do_not_contradict_each_other() -> None:
    cell = light(lit(read("beside", 330.0), read("under", 10.0, error=1.0), lamps=()))
    assert (cell.low, cell.high, len(cell.supports)) == (9.0, 11.0, 1)


TUBE = lamp(form="tube", length_cm=60.0).model_copy(update={"installed_on": date(2025, 10, 1)})
LONG_AGO = date(2026, 5, 10)


def test_an_older_reading_counts_lower_and_is_less_sure_than_when_it_was_taken() -> None:
    # no other reading, and a tube of unknown strength, so that nothing speaks against it
    old, fresh = (
        light(lit(read("under", 250.0, **when), lamps=(TUBE.model_copy(update={"body": BARE}),)))
        for when in ({"on": LONG_AGO}, {})
    )
    assert old.best == pytest.approx(250.0 * 0.8 ** (176 / 365.25))
    assert (fresh.low, fresh.best, fresh.high) == pytest.approx((250.0 / 1.12, 250.0, 250.0 * 1.12))
    assert old.high / old.low > fresh.high / fresh.low
    assert "since then 10 % less for lamps that fade" in old.supports[0].source
    assert "since then" not in fresh.supports[0].source


def test_a_lamp_of_unknown_age_only_makes_an_older_reading_less_sure() -> None:
    undated = TUBE.model_copy(update={"installed_on": None, "body": BARE})
    cell = light(lit(read("under", 250.0, on=LONG_AGO), lamps=(undated,)))
    assert cell.best == 250.0
    assert cell.high > 250.0 * 1.12
    nowhere = light(lit(read("word", 250.0, on=LONG_AGO), lamps=(), spots=(*SPOTS, spot("word"))), "word")
    assert (nowhere.best, nowhere.high > 250.0 * 1.12) == (250.0, True)


def test_a_house_line_about_ageing_is_a_ground_of_an_older_reading() -> None:
    house = 'house\n  change unseen-change-a-year from 15 % to 40 %\n    because "never cleaned"'
    told = lit(read("under", 250.0, on=LONG_AGO), lamps=())
    assert light(told, house=house).high > light(told).high
    assert [each.source for each in light(told, house=house).supports[1:]] == ["changed unseen-change-a-year"]


def well(tank: Tank) -> Tank:
    stands = animal("zoa-3", at="under", placed_on=date(2026, 3, 1))
    doing: tuple[Fact, ...] = (*tank.facts, fact("doing", "zoa-3", words=("well",)))
    return tank.model_copy(update={"animals": (stands,), "facts": doing})


def test_lamps_speak_before_the_animals_and_those_where_no_lamp_does() -> None:
    rules = lit_library()
    assert light(well(lit())).kind is CellKind.COMPUTED
    assert "vouch-after" in rules.lets
    assert light(well(lit(lamps=()))).kind is CellKind.VOUCHED


def test_what_a_change_states_goes_before_the_lamps_and_other_changes_are_lit_as_now() -> None:
    told = lit_survey(
        lit(),
        (SetFact(fact("light", "under", best=90.0, error=1.0)),),
        (Add(waiting("new-1"), "under"),),
    )
    assert number(told, "light", place_row(told, "under", 1)).high == 91.0
    now = number(told, "light", told.spot_place["under"])
    there = int(told.animal_place[-1])
    assert number(told, "light", there) == now


def test_a_doubt_of_meters_the_house_has_set_is_told_where_a_reading_rests_on_it() -> None:
    house = 'house\n  change unsure-meter-error from 20 % to 40 %\n    because "an old head"'
    unsure = lit(*(read(each.subjects[0], 300.0, immersion=Immersion(factor=None)) for each in AROUND))
    cell, sure = light(unsure, house=house), light(lit(*AROUND), house=house)
    assert "changed unsure-meter-error" in [each.source for each in cell.supports]
    assert "changed unsure-meter-error" not in [each.source for each in sure.supports]
    assert cell.high / cell.low > light(unsure).high / light(unsure).low


def test_a_number_the_house_has_set_is_told_with_the_light() -> None:
    house = 'house\n  change meter-doubt from 10 % to 5 %\n    because "calibrated last week"'
    cell = light(lit(*AROUND), house=house)
    assert ("your house file", "changed meter-doubt") in [(e.text, e.source) for e in cell.supports]
    assert cell.high / cell.low < light(lit(*AROUND)).high / light(lit(*AROUND)).low


def test_surveys_of_one_tank_share_its_light_and_other_numbers_do_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from advisor.reasoning import light_world

    made: list[Tank] = []
    whole = light_world.light_world

    def counting(of: Tank, rules: Library, on: date, facts: Facts | None = None) -> light_world.LightWorld:
        made.append(of)
        return whole(of, rules, on, facts)

    monkeypatch.setattr(light_world, "light_world", counting)
    survey_light._recent.clear()
    tank = lit(*AROUND, rocks=(ROOF,))
    for _ in range(3):
        light(tank)
    assert len(made) == 1
    light(tank, house='house\n  change meter-doubt from 10 % to 5 %\n    because "calibrated"')
    assert len(made) == 2


def test_a_tank_without_lamps_and_positions_is_never_reckoned(monkeypatch: pytest.MonkeyPatch) -> None:
    from advisor.reasoning import light_world

    def refuse(*told: object) -> None:
        raise AssertionError("nothing hangs over this tank")

    monkeypatch.setattr(light_world, "light_world", refuse)
    assert light(lit(lamps=())).cause is Cause.MISSING
    assert light(lit(lamps=(lamp(middle_cm=None),))).cause is Cause.MISSING


def test_numbers_of_things_are_counted_in_words() -> None:
    assert (counted(1, "lamp"), counted(2, "reading")) == ("1 lamp", "2 readings")


# --- sides and undersides

CEILING = spot("ceiling", point(70.0, 25.0, 25.0))
WALL = spot("wall", point(40.0, 22.0, 12.0))
STONE = Rock(
    id="stone", body=RockBody(shape=RockShape.BLOCK, middle_cm=(50.0, 22.0), size_cm=(20.0, 30.0, 20.0))
)
SIDE = fact("faces", "wall", words=("side",))
SAND = fact("sand-grain", "tank", words=("fine",))


def share(tank: Tank, house: str = "") -> NumberCell | None:
    found = survey(tank, rules=lit_places(house))
    cell = found.cell("side-share", (found.spot_place["wall"],))
    return cell if isinstance(cell, NumberCell) and cell.kind is CellKind.COMPUTED else None


def test_below_rock_it_is_said_that_the_underside_itself_is_meant() -> None:
    tank = lit(fact("faces", "ceiling", words=("under",)), SAND, rocks=(ROOF,), spots=(CEILING,))
    found = survey(tank, rules=lit_places())
    cell = number(found, "light", found.spot_place["ceiling"])
    assert UNDERSIDE in cell.supports
    assert cell.best is not None
    assert 0.0 < cell.best < 60.0


def test_a_side_towards_the_lamp_has_its_share_reckoned() -> None:
    towards = share(lit(SIDE, rocks=(STONE,), spots=(WALL,)))
    assert towards is not None
    assert towards.best is not None
    assert 0.0 < towards.low < towards.best < towards.high < 1.0
    assert towards.supports[0].text == "reckoned: 1 lamp"


def test_no_share_is_reckoned_where_the_keeper_told_one_or_no_lamp_hangs() -> None:
    told = fact("side-share", "wall", best=0.4)
    assert share(lit(SIDE, told, rocks=(STONE,), spots=(WALL,))) is None
    assert share(lit(SIDE, rocks=(STONE,), spots=(WALL,), lamps=())) is None


def test_ground_has_no_share_of_a_side() -> None:
    assert share(lit(spots=(WALL,))) is None


def test_a_house_line_about_sides_is_a_ground_of_their_share() -> None:
    house = 'house\n  change side-from from 60 degrees to 50 degrees\n    because "steeper here"'
    cell = share(lit(SIDE, rocks=(STONE,), spots=(WALL,)), house)
    assert cell is not None
    assert [each.source for each in cell.supports[1:]] == ["changed side-from"]


def test_the_share_of_a_side_is_no_word_of_an_animal() -> None:
    assert ("place-side-share" in VOUCHES, "place-side-share" in COMPUTED) == (False, True)


def test_walls_nobody_told_of_make_the_share_of_a_side_less_sure() -> None:
    clean = Walls(left=WallState.CLEAN, right=WallState.CLEAN, front=WallState.CLEAN, back=WallState.CLEAN)
    body = RockBody(shape=RockShape.BLOCK, middle_cm=(65.0, 22.0), size_cm=(20.0, 30.0, 14.0))
    stone = STONE.model_copy(
        update={"body": body}
    )  # low: level ground beside it sees the lamp, its side does not
    aside = lamp(beam_deg=120.0, photons_umol_per_s=5000.0, middle_cm=(55.0, 22.0))
    away = spot("wall", point(75.0, 22.0, 12.0))  # on the side of the stone that looks away from the lamp
    told, untold = (
        share(
            lit(
                SIDE,
                rocks=(stone,),
                spots=(away,),
                lamps=(aside,),
                glass=GLASS.model_copy(update={"walls": walls}),
            )
        )
        for walls in (clean, Walls())
    )
    assert told is not None
    assert untold is not None
    assert untold.low < 0.8 * told.low


def test_a_side_that_may_look_any_way_has_the_shares_of_all_ways_and_no_best() -> None:
    bare = (spot("wall", point(40.0, 22.0, 12.0)),)
    tank = lit(fact("slope", "wall", best=85.0), SAND, spots=bare)
    cell, world = share(tank), light_world(tank, lit_places(), TODAY)
    assert cell is not None
    assert cell.best is None
    assert world.field is not None
    at = np.tile(world.points["wall"].at_cm, (4, 1))
    ways = np.array([way(85.0, facing) for facing in (0.0, 90.0, 180.0, 270.0)])
    shares = [each.best for each in world.field.shares_on_faces(at, ways)]
    assert max(shares) > 3.0 * min(shares)
    assert cell.low < min(shares) < max(shares) < cell.high


def test_an_underside_told_by_a_word_alone_has_at_most_the_light_of_the_open_water() -> None:
    open_, under = light(lit()), light(lit(fact("faces", "under", words=("under",))))
    assert (under.low, under.best, under.high) == (0.0, None, open_.high)
    assert UNDER_UNTOLD in under.supports


def test_a_reading_below_rock_that_nothing_there_explains_gets_a_range_that_covers_both() -> None:
    faces = fact("faces", "ceiling", words=("under",))
    found = survey(
        lit(faces, SAND, read("ceiling", 300.0), rocks=(ROOF,), spots=(CEILING,)), rules=lit_places()
    )
    cell = number(found, "light", found.spot_place["ceiling"])
    assert cell.best == 300.0
    assert cell.low < 100.0
    assert "but the rest leads to expect" in cell.supports[0].text
