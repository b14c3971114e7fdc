from __future__ import annotations

from collections.abc import Set
from datetime import date

import pytest

from advisor.language.library import Library
from advisor.language.since import since_measure
from advisor.model.cells import Cause, CellKind, WordCell
from advisor.model.changes import Add, Move, SetFact
from advisor.model.tank import Event, EventKind, Fact, Glass, Rock
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import (
    animal,
    fact,
    library,
    number,
    place_row,
    row,
    spot,
    survey,
    tank,
    waiting,
    words_of,
)


def one(of: Survey, name: str, subject: int) -> Set[str] | None:
    return words_of(of.cell(name, (subject,)))


def seen(name: str, on: date, subject: str, *facts: Fact, note: str = "") -> Event:
    return Event(id=name, on=on, kind=EventKind.SEEN, subject=subject, facts=facts, note=note)


def test_days_here_counts_from_the_day_it_was_put_there() -> None:
    of = survey(tank([spot("ledge")], [animal("a-1", at="ledge", placed_on=date(2026, 8, 4)), animal("b-1")]))
    known, unknown = number(of, "days-here", row(of, "a-1")), number(of, "days-here", row(of, "b-1"))
    assert (known.low, known.high, known.kind) == (90.0, 90.0, CellKind.COMPUTED)
    assert known.supports[0].text == "placed 2026-08-04"
    assert (unknown.cause, unknown.high) == (Cause.MISSING, 20000.0)


def test_an_animal_put_there_by_a_change_stands_there_from_today() -> None:
    base = tank(
        [spot("ledge"), spot("foot")], [animal("a-1", at="ledge", placed_on=date(2026, 8, 4)), waiting("n-1")]
    )
    of = survey(base, [(Move("a-1", "foot"),), (Add(base.animals[1], "foot"),)])
    assert number(of, "days-here", row(of, "a-1", 1)).high == 0.0
    assert number(of, "days-here", row(of, "n-1", 2)).high == 0.0
    assert number(of, "days-here", row(of, "a-1", 2)).high == 90.0


def test_doing_since_goes_back_as_far_as_the_journal_says_the_same() -> None:
    events = (
        seen("e1", date(2026, 5, 1), "a-1", fact("doing", "a-1", words=("badly",))),
        seen("e2", date(2026, 7, 5), "a-1", fact("doing", "a-1", words=("well",))),
        seen("e3", date(2026, 9, 1), "a-1", fact("doing", "a-1", words=("well",))),
    )
    of = survey(tank((), [animal("a-1", placed_on=date(2026, 1, 1))], events=events))
    cell = number(of, "doing-since", row(of, "a-1"))
    assert (cell.low, cell.best, cell.high) == (120.0, 120.0, 305.0)
    assert cell.supports[0].source == "first told 2026-07-05"


def test_doing_since_takes_what_the_keeper_says_of_since_when() -> None:
    of = survey(tank((), [animal("a-1")], [fact("doing", "a-1", words=("well",), since=date(2026, 3, 1))]))
    cell = number(of, "doing-since", row(of, "a-1"))
    assert (cell.low, cell.high) == (246.0, 20000.0)


def test_doing_since_is_not_known_without_a_date() -> None:
    of = survey(tank((), [animal("a-1")], [fact("doing", "a-1", words=("well",))]))
    assert number(of, "doing-since", row(of, "a-1")).cause is Cause.MISSING


def test_the_newest_look_by_night_counts() -> None:
    events = (
        seen("e1", date(2026, 10, 1), "a-1", note="night look: sweepers out"),
        seen("e2", date(2026, 10, 20), "a-1", note="open by day"),
        seen("e3", date(2026, 10, 30), "b-1", note="night"),
        seen("e4", date(2026, 12, 1), "a-1", note="night"),
    )
    stated = fact("night-look", "a-1", truth=True, on=date(2026, 10, 13))
    of = survey(tank((), [animal("a-1"), animal("b-1"), animal("c-1")], [stated], events=events))
    cell = number(of, "night-look", row(of, "a-1"))
    assert (cell.low, cell.high) == (20.0, 20.0)
    assert cell.supports[0].text == "seen by night 20 days ago"
    assert number(of, "night-look", row(of, "b-1")).high == 3.0
    assert number(of, "night-look", row(of, "c-1")).cause is Cause.MISSING


def test_phase_is_what_the_tank_file_says() -> None:
    of = survey(tank((), [animal("a-1"), animal("b-1", phase="trial")]))
    assert [one(of, "phase", row(of, name)) for name in ("a-1", "b-1")] == [{"placed"}, {"trial"}]


def test_a_place_has_the_pattern_of_the_main_flow_unless_told_otherwise() -> None:
    facts = [fact("tank-flow-pattern", "tank", words=("random",)), fact("pattern", "foot", words=("steady",))]
    of = survey(tank([spot("ledge"), spot("foot")], (), facts))
    assert [one(of, "pattern", of.spot_place[name]) for name in ("ledge", "foot")] == [{"random"}, {"steady"}]
    supports = of.cell("pattern", (of.spot_place["ledge"],)).supports
    assert supports[0].text == "the tank's main flow"


def test_without_a_main_flow_the_pattern_is_not_known() -> None:
    of = survey(tank([spot("ledge")]))
    cell = of.cell("pattern", (0,))
    assert cell.cause is Cause.MISSING
    assert words_of(cell) == {"steady", "alternating", "random", "pulsing"}


def test_a_change_of_the_main_flow_changes_places_of_that_change_only() -> None:
    steady = fact("tank-flow-pattern", "tank", words=("steady",))
    facts = [fact("tank-flow-pattern", "tank", words=("random",))]
    change = (SetFact(steady), SetFact(fact("light", "ledge", best=10.0)))
    of = survey(tank([spot("ledge")], (), facts), [change])
    assert one(of, "pattern", place_row(of, "ledge", 1)) == {"steady"}
    assert one(of, "pattern", place_row(of, "ledge")) == {"random"}


def test_whether_a_place_lifts_out_is_told_of_its_rock() -> None:
    rocks = (Rock(id="islet", lifts_out=True), Rock(id="base", lifts_out=False), Rock(id="arch"))
    spots = [spot(f"on-{rock.id}", rock=rock.id) for rock in rocks]
    of = survey(tank([*spots, spot("sand")], [animal("a-1", rock="islet")], rocks=rocks))
    found = {name: one(of, "lifts-out", at) for name, at in of.spot_place.items()}
    assert found == {"on-islet": {"yes"}, "on-base": {"no"}, "on-arch": {"yes", "no"}, "sand": {"yes", "no"}}
    assert one(of, "lifts-out", int(of.animal_place[0])) == {"yes"}


def test_a_place_is_temporary_only_where_the_keeper_says_so() -> None:
    of = survey(tank([spot("rack", temporary=True), spot("ledge")]))
    assert [one(of, "temporary", of.spot_place[name]) for name in ("rack", "ledge")] == [{"yes"}, {"no"}]


@pytest.mark.parametrize(("water", "litres"), [(None, 300.0), (45.0, 270.0)])
def test_the_volume_comes_from_the_glass(water: float | None, litres: float) -> None:
    glass = Glass(length_cm=120.0, width_cm=50.0, height_cm=50.0, water_cm=water)
    cell = number(survey(tank(glass=glass)), "volume", 0)
    assert cell.best == pytest.approx(litres)
    assert (cell.low, cell.high) == pytest.approx((litres * 0.95, litres * 1.05))
    assert ("filled to the rim" in cell.supports[0].source) is (water is None)


def test_a_stated_volume_goes_before_the_glass() -> None:
    glass = Glass(length_cm=120.0, width_cm=50.0, height_cm=50.0)
    of = survey(tank((), (), [fact("volume", "tank", best=250.0)], glass=glass))
    assert number(of, "volume", 0).best == 250.0


def test_the_age_of_the_tank_counts_from_its_start() -> None:
    assert number(survey(tank(started=date(2025, 11, 2))), "tank-age", 0).best == 365.0
    assert number(survey(tank(started=date(2027, 1, 1))), "tank-age", 0).cause is Cause.MISSING
    assert number(survey(tank()), "tank-age", 0).cause is Cause.MISSING


def test_words_that_were_worked_out_are_told_apart_from_what_is_not_known() -> None:
    of = survey(tank([spot("ledge")]))
    cell = of.cell("temporary", (0,))
    assert isinstance(cell, WordCell)
    assert (cell.kind, cell.cause) == (CellKind.STATED, None)


def event(kind: EventKind, on: date, subject: str) -> Event:
    return Event(id=f"{kind.value}-{on.isoformat()}-{subject or 'x'}", on=on, kind=kind, subject=subject)


def with_events(*asked: tuple[str, Kind]) -> Library:
    """The shipped vocabulary with the days since some events."""
    found = library("let some-days = 3 days")
    for kind, of in asked:
        measure = since_measure(kind, of)
        found.vocabulary.measures[measure.name] = measure
    return found


def test_days_since_counts_from_the_newest_event_of_that_thing_and_ignores_what_is_to_come() -> None:
    events = (
        event(EventKind.FIXED, date(2026, 9, 1), "a-1"),
        event(EventKind.FIXED, date(2026, 10, 23), "a-1"),
        event(EventKind.FIXED, date(2026, 12, 1), "a-1"),
        event(EventKind.SEEN, date(2026, 11, 1), "a-1"),
    )
    of = survey(
        tank((), [animal("a-1"), animal("b-1")], events=events), rules=with_events(("fixed", Kind.ANIMAL))
    )
    known, unknown = (number(of, "days-since-fixed", row(of, name)) for name in ("a-1", "b-1"))
    assert (known.low, known.best, known.high, known.kind) == (10.0, 10.0, 10.0, CellKind.COMPUTED)
    assert known.supports[0].text == "fixed 10 days ago, journal"
    assert (unknown.kind, unknown.cause) == (CellKind.UNKNOWN, Cause.MISSING)
    assert (unknown.low, unknown.high) == (0.0, 20000.0)
    assert (
        of.ask("days-since-fixed", (row(of, "b-1"),)) == "When was b-1 last fixed? The journal does not tell"
    )


def test_days_since_of_the_tank_and_of_a_place() -> None:
    events = (
        event(EventKind.FED, date(2026, 10, 31), "tank"),
        event(EventKind.FED, date(2026, 11, 1), ""),
        event(EventKind.MEASURED, date(2026, 10, 3), "ledge"),
        event(EventKind.MEASURED, date(2026, 10, 30), "foot"),
    )
    rules = with_events(("fed", Kind.TANK), ("measured", Kind.PLACE))
    of = survey(tank([spot("ledge"), spot("foot")], [animal("a-1")], events=events), rules=rules)
    assert number(of, "days-since-fed-of-tank", 0).best == 1.0
    assert number(of, "days-since-measured-of-place", place_row(of, "ledge")).best == 30.0
    assert of.say("days-since-fed-of-tank", (0,)) == "days since the tank was fed"


def test_what_a_change_moves_was_moved_today_but_fixed_when_the_journal_says() -> None:
    events = (
        event(EventKind.MOVED, date(2026, 10, 3), "a-1"),
        event(EventKind.FIXED, date(2026, 10, 23), "a-1"),
    )
    rules = with_events(("moved", Kind.ANIMAL), ("fixed", Kind.ANIMAL))
    base = tank([spot("ledge"), spot("foot")], [animal("a-1", at="ledge")], events=events)
    of = survey(base, [(Move("a-1", "foot"),)], rules=rules)
    assert number(of, "days-since-moved", row(of, "a-1")).best == 30.0
    assert number(of, "days-since-moved", row(of, "a-1", 1)).best == 0.0
    assert number(of, "days-since-fixed", row(of, "a-1", 1)).best == 10.0
