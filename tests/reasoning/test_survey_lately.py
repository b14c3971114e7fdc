"""What changed lately, hours of light, a seller's word: unknown or false until something is told."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.model.cells import TruthCell
from advisor.model.tank import Event, EventKind, Fact, Glass, Lamp, Pump, Said, Tank
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import (
    animal,
    fact,
    number,
    place_row,
    row,
    rows,
    spot,
    survey,
    tank,
    waiting,
)

LAMPS = (
    Lamp(id="l-1", installed_on=date(2025, 1, 1), cleaned_on=date(2026, 10, 30)),
    Lamp(id="l-2"),
)


def home(*facts: Fact, **more: object) -> Tank:
    """Return a tank with two animals, one of them waiting."""
    things: dict[str, object] = {"lamps": LAMPS, "pumps": (Pump(id="p-1"),), "told": ("lamp", "pump")}
    base = tank([spot("ledge")], [animal("a", at="ledge"), waiting("b")], facts)
    return base.model_copy(update={**things, **more})


def of_lamp(made: Survey, name: str) -> int:
    """Return the row of a lamp."""
    listing = made.listing(Kind.LAMP)
    return next(int(at) for at in listing.rows if made.label(Kind.LAMP, int(at)) == name)


def holds(made: Survey, name: str, animal_id: str = "a") -> bool | None:
    """Return whether a relation of one animal holds, by its cell and by its column alike."""
    at = row(made, animal_id)
    cell = made.cell(name, (at,), 0.0)
    assert isinstance(cell, TruthCell)
    column = made.truths(name, (rows(at),), None)
    assert (bool(column.yes[0]), bool(column.no[0])) == (cell.value is True, cell.value is False)
    return cell.value


def test_a_lamp_is_brighter_since_it_was_cleaned_or_renewed() -> None:
    made = survey(home())
    assert number(made, "lamp-brightened", of_lamp(made, "l-1")).best == 3
    assert number(made, "lamp-brightened", of_lamp(made, "l-2"), assume=False).cause is not None
    renewed = Event(id="e-1", on=date(2026, 11, 1), kind=EventKind.CHANGED, subject="l-2", note="new lens")
    assert number(survey(home(events=(renewed,))), "lamp-brightened", of_lamp(made, "l-2")).best == 1


@pytest.mark.parametrize(
    ("subject", "kind", "days"),
    [
        ("tank", EventKind.CHANGED, 4),
        ("p-1", EventKind.CHANGED, 4),
        ("l-2", EventKind.CHANGED, 4),
        ("a", EventKind.CHANGED, None),
        ("tank", EventKind.TESTED, None),
    ],
)
def test_quiet_since_the_tank_a_lamp_or_a_pump_was_changed(
    subject: str, kind: EventKind, days: int | None
) -> None:
    event = Event(id="e-1", on=date(2026, 10, 29), kind=kind, subject=subject)
    assert number(survey(home(events=(event,))), "quiet-for", 0, assume=False).best == days


def test_hours_of_light_are_the_tanks_unless_the_place_has_its_own() -> None:
    nine = fact("photoperiod", "tank", best=9 / 24, error=0.0)
    four = fact("shelf-light-hours", "ledge", best=4 / 24, error=0.0)
    made = survey(home())
    place = place_row(made, "ledge")
    assert number(made, "shelf-light-hours", place, assume=False).best is None
    assert number(survey(home(nine)), "shelf-light-hours", place).best == pytest.approx(9 / 24)
    assert number(survey(home(nine, four)), "shelf-light-hours", place).best == pytest.approx(4 / 24)


def test_the_floor_is_a_square_of_the_same_size() -> None:
    glass = Glass(length_cm=90.0, width_cm=40.0, height_cm=40.0)
    assert number(survey(home(glass=glass)), "floor-side", 0).best == pytest.approx(60.0)
    assert number(survey(home()), "floor-side", 0).best is None


@pytest.mark.parametrize(("word", "ails"), [("badly", True), ("so-so", False), ("well", False), ("", False)])
def test_what_does_badly_shows_a_sign_of_trouble(word: str, ails: bool) -> None:
    told = (fact("doing", "a", words=(word,)),) if word else ()
    assert holds(survey(home(*told)), "ails") is ails


def test_a_sign_that_is_told_counts_whatever_else_is_told() -> None:
    doing = fact("doing", "a", words=("well",))
    assert holds(survey(home(doing, fact("ails", "a", truth=True))), "ails") is True


@pytest.mark.parametrize("measure", ["origin-light", "seller-light"])
def test_a_sellers_word_is_begun_with_at_its_lower_third(measure: str) -> None:
    """Medium stands for 50 to 250 PAR, whose lower third ends at 50 + 200/3."""
    told = fact(measure, "a", words=("medium",), by=Said.SELLER)
    made = survey(home(told))
    assert holds(made, "sold-by-word") is True
    assert number(made, "seller-start", row(made, "a")).best == pytest.approx(50 + 200 / 3)


@pytest.mark.parametrize(
    "told",
    [
        {"best": 120.0, "by": Said.SELLER},
        {"low": 100.0, "high": 120.0, "by": Said.SELLER},
        {"words": ("medium",), "by": Said.KEEPER},
        {"words": ("so lala",), "by": Said.SELLER},
    ],
)
def test_a_number_or_a_word_nobody_knows_is_no_word_of_a_seller(told: dict[str, object]) -> None:
    made = survey(home(fact("origin-light", "a", **told)))
    assert holds(made, "sold-by-word") is False


def test_a_sellers_word_for_flow_is_begun_with_at_its_lower_third() -> None:
    """Medium stands for 6 to 20 cm/s, whose lower third ends at 6 + 14/3."""
    made = survey(home(fact("seller-flow", "a", words=("medium",), by=Said.SELLER)))
    assert holds(made, "flow-by-word") is True
    assert holds(made, "sold-by-word") is False
    assert number(made, "seller-flow-start", row(made, "a")).best == pytest.approx(6 + 14 / 3)


@pytest.mark.parametrize(
    "told",
    [
        {"best": 8.0, "by": Said.SELLER},
        {"low": 5.0, "high": 9.0, "by": Said.SELLER},
        {"words": ("medium",), "by": Said.KEEPER},
        {"words": ("so lala",), "by": Said.SELLER},
    ],
)
def test_a_speed_or_a_word_nobody_knows_is_no_word_for_flow(told: dict[str, object]) -> None:
    made = survey(home(fact("seller-flow", "a", **told)))
    assert holds(made, "flow-by-word") is False
    assert number(made, "seller-flow-start", row(made, "a")).best is None
