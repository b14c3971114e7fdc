"""What is worked out of rocks, lamps, pumps and fish."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.model.changes import Change, SetFact
from advisor.model.tank import Event, EventKind, Fish, Lamp, Pump, Rock, Tank
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import animal, fact, number, spot, survey, tank, words_of

GUARDED = (fact("pump-guard", "p-1", words=("yes",)), fact("pump-guard", "p-2", words=("yes",)))
PUMPS = (Pump(id="p-1", cleaned_on=date(2026, 8, 2)), Pump(id="p-2"))


def home(**more: object) -> Tank:
    """Return a tank with some things in it."""
    things: dict[str, object] = {
        "rocks": (Rock(id="arch", lifts_out=False), Rock(id="pillar")),
        "lamps": (Lamp(id="l-1", installed_on=date(2025, 11, 2)), Lamp(id="l-2")),
        "pumps": PUMPS,
        "fish": (Fish(id="f-1", kind="Yellow Tangs"), Fish(id="f-2", kind="oddity")),
        "told": ("rock", "lamp", "pump", "fish"),
    }
    base = tank([spot("ledge", rock="arch")], [animal("a", at="ledge")])
    return base.model_copy(update={**things, **more})


def of(made: Survey, kind: Kind, name: str, world: int = 0) -> int:
    """Return the row of a thing in a world."""
    listing = made.listing(kind)
    rows = listing.rows[listing.starts[world] : listing.starts[world + 1]]
    return next(int(row) for row in rows if made.label(kind, int(row)) == name)


def test_a_lamp_is_as_old_as_its_last_renewal() -> None:
    made = survey(home())
    assert number(made, "lamp-age", of(made, Kind.LAMP, "l-1")).best == 365
    assert number(made, "lamp-age", of(made, Kind.LAMP, "l-2")).best is None
    renewed = Event(id="e-1", on=date(2026, 10, 3), kind=EventKind.CHANGED, subject="l-1", note="new tubes")
    later = Event(id="e-2", on=date(2027, 1, 1), kind=EventKind.CHANGED, subject="l-1")
    made = survey(home(events=(renewed, later)))
    assert number(made, "lamp-age", of(made, Kind.LAMP, "l-1")).best == 30


def test_an_age_the_keeper_told_goes_before_the_day_of_its_entry_and_grows_with_the_days() -> None:
    told = fact("lamp-age", "l-1", best=30.0)
    made = survey(home(facts=(told,)))
    assert number(made, "lamp-age", of(made, Kind.LAMP, "l-1")).best == 30
    dated = fact("lamp-age", "l-1", low=20.0, high=40.0, on=date(2026, 10, 3))
    made = survey(home(facts=(dated,)))
    cell = number(made, "lamp-age", of(made, Kind.LAMP, "l-1"))
    assert (cell.low, cell.high) == (50, 70)
    renewed = Event(id="e-1", on=date(2026, 10, 23), kind=EventKind.CHANGED, subject="l-1", note="new tubes")
    made = survey(home(facts=(dated,), events=(renewed,)))
    assert number(made, "lamp-age", of(made, Kind.LAMP, "l-1")).best == 10


def test_days_since_a_pump_was_cleaned() -> None:
    made = survey(home())
    assert number(made, "pump-cleaned", of(made, Kind.PUMP, "p-1")).best == 92
    assert number(made, "pump-cleaned", of(made, Kind.PUMP, "p-2")).best is None


@pytest.mark.parametrize(
    ("name", "kind", "group"), [("f-1", {"yellow-tangs"}, {"tang"}), ("f-2", {"oddity"}, None)]
)
def test_the_group_of_a_fish_stands_in_its_name(name: str, kind: set[str], group: set[str] | None) -> None:
    made = survey(home())
    row = of(made, Kind.FISH, name)
    assert words_of(made.cell("fish-kind", (row,))) == kind
    found = made.cell("fish-group", (row,))
    assert (words_of(found) == group) if group else found.cause is not None


def test_whether_a_rock_lifts_out_is_told_of_it() -> None:
    made = survey(home(facts=(fact("rock-lifts-out", "pillar", words=("yes",)),)))
    assert words_of(made.cell("rock-lifts-out", (of(made, Kind.ROCK, "arch"),))) == {"no"}
    assert words_of(made.cell("rock-lifts-out", (of(made, Kind.ROCK, "pillar"),))) == {"yes"}


@pytest.mark.parametrize(
    ("facts", "told", "expected"),
    [
        (GUARDED, ("pump",), {"yes"}),
        (GUARDED, (), None),
        (GUARDED[:1], ("pump",), None),
        ((*GUARDED[:1], fact("pump-guard", "p-2", words=("no",))), (), {"no"}),
        ((fact("pump-guards", "tank", words=("yes",)),), (), {"yes"}),
        ((), ("pump",), None),
        ((fact("pump-guards", "tank", words=("yes",)), fact("pump-guard", "p-2", words=("no",))), (), {"no"}),
    ],
)
def test_all_pumps_are_guarded_where_each_is(
    facts: tuple[object, ...], told: tuple[str, ...], expected: set[str] | None
) -> None:
    made = survey(home(facts=facts, told=told))
    cell = made.cell("pump-guards", (0,))
    assert (words_of(cell) == expected) if expected else cell.cause is not None


def test_a_guard_taken_off_in_a_change_is_reckoned_with() -> None:
    change: Change = (SetFact(fact("pump-guard", "p-2", words=("no",))),)
    made = survey(home(facts=GUARDED), [change])
    row = int(made.tank_rows(made.place_world[:1] * 0 + 1)[0])
    assert words_of(made.cell("pump-guards", (row,))) == {"no"}
    assert made.cell("pump-guards", (row,)).supports[0].text == "no guard on p-2"
    assert words_of(made.cell("pump-guards", (0,))) == {"yes"}
