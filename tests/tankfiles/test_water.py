"""What is said of the tank itself."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.model.tank import Said
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]


@pytest.mark.parametrize(
    "text",
    [
        "{length: 120 cm, width: 60 cm, height: 50 cm, water: 46 cm}",
        "{length: 1.2 m, depth: 600 mm, height: 50, water level: 46}",
    ],
)
def test_glass_by_keys(tank_of: Make, text: str) -> None:
    glass = tank_of(f"glass: {text}\n").tank.glass
    assert glass is not None
    assert (glass.length_cm, glass.width_cm, glass.height_cm, glass.water_cm) == (120.0, 60.0, 50.0, 46.0)


@pytest.mark.parametrize(
    "text", ["48 x 24 x 20 in", "48x24x20 in", "48 × 24 × 20 inches", "[48 in, 24 in, 20 in]"]
)
def test_glass_in_a_row(tank_of: Make, text: str) -> None:
    glass = tank_of(f"glass: {text}\n").tank.glass
    assert glass is not None
    assert [glass.length_cm, glass.width_cm, glass.height_cm] == pytest.approx([121.92, 60.96, 50.8])


@pytest.mark.parametrize(
    "text", ["big", "120 x 60 cm", "0 x 60 x 50 cm", "{length: 120 cm}", "-1 x 60 x 50 cm"]
)
def test_glass_that_cannot_be(tank_of: Make, text: str) -> None:
    tank, problems = tank_of(f"glass: {text}\n").read()
    assert tank is not None
    assert tank.glass is None
    assert problems


def test_water_above_the_glass_is_noted(tank_of: Make) -> None:
    assert tank_of("glass: {length: 9, width: 9, height: 9, water: 10}\n").codes == ["value-132"]


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("left to right", 0.0),
        ("right", 0.0),
        ("right to left", 180.0),
        ("front to back", 90.0),
        ("to the front", 270.0),
        ("to the back right", 45.0),
        ("left, front", 225.0),
        ("30", 30.0),
        ("30 degrees", 30.0),
        ("360", 0.0),
        ("unknown", None),
        ("none", None),
    ],
)
def test_where_the_main_stream_goes(tank_of: Make, text: str, degrees: float | None) -> None:
    for written in (f"flow: '{text}'\n", f"flow: {{direction: '{text}'}}\n"):
        flow = tank_of(written).tank.flow
        assert (flow.direction_deg if flow is not None else None) == degrees


def test_pattern_and_drift_of_the_main_stream(tank_of: Make) -> None:
    folder = tank_of("flow: {direction: right, pattern: random, drift: into the back corner}\n")
    assert folder.tank.flow is not None
    assert folder.tank.flow.drift == "into the back corner"
    assert [f.said.words for f in folder.said("tank-flow-pattern", "tank")] == [("random",)]


def test_habits_of_the_tank(tank_of: Make) -> None:
    folder = tank_of(
        "overflow: right\nphotoperiod: 9 hours\nage: 2 years\nsand: fine\npump guards: yes\ncarbon: no\n"
        "water change: 10 %\nwater change every: weekly\nfeeds every: twice a week\ntool length: 40 cm\n"
    )
    facts = {f.measure: f.said for f in folder.tank.facts}
    assert facts["overflow-side"].words == ("right",)
    assert facts["photoperiod"].best == pytest.approx(9 / 24)
    assert facts["tank-age"].best == pytest.approx(2 * 365.25)
    assert facts["sand-grain"].words == ("fine",)
    assert facts["pump-guards"].words == ("yes",)
    assert facts["water-change"].best == 10.0
    assert facts["water-change-every"].best == 7.0
    assert facts["feeds-every"].best == 3.5
    assert facts["tool-length"].best == 40.0


def test_water_tests_are_dated_facts_of_the_tank(tank_of: Make) -> None:
    one = "water: {on: 2026-10-30, temperature: 77 °F, alk: 8.2, how: drop test}\n"
    two = "water:\n  - {on: 2026-10-30, temp: 25}\n  - {on: 2026-10-01, temp: 24}\n"
    facts = {f.measure: f.said for f in tank_of(one).tank.facts}
    assert facts["temperature"].best == pytest.approx(25.0)
    assert (facts["alkalinity"].best, facts["alkalinity"].on) == (8.2, date(2026, 10, 30))
    assert facts["alkalinity"].how == "drop test"
    assert [(f.said.best, f.said.on) for f in tank_of(two).said("temperature", "tank")] == [
        (25.0, date(2026, 10, 30)),
        (24.0, date(2026, 10, 1)),
    ]


@pytest.mark.parametrize(
    ("text", "months"), [("12 months", 12), ("18", 18), ("2 years", 24), ("unknown", 12)]
)
def test_how_far_to_look_ahead(tank_of: Make, text: str, months: int) -> None:
    assert tank_of(f"horizon: {text}\n").tank.horizon_months == months


def test_readings_are_of_a_spot_an_animal_or_the_tank(tank_of: Make) -> None:
    folder = tank_of(
        "spots: [s]\ncorals:\n  - {id: a, is: torch}\nreadings:\n"
        "  - {spot: s, on: 2026-10-20, light: 187 PAR, how: meter, by: instrument}\n"
        "  - {animal: a, on: 2026-10-20, light: 95 PAR}\n  - {of: s, on: 2026-10-21, gap: {a: 3 cm}}\n"
        "  - {tank: yes, on: 2026-10-20, nitrate: 5}\n  - {of: tank, on: 2026-10-22, nitrate: 6}\n"
    )
    (light,) = folder.said("light", "s")
    assert (light.said.best, light.said.by, light.said.how) == (187.0, Said.INSTRUMENT, "meter")
    assert [f.said.best for f in folder.said("light", "a")] == [95.0]
    assert [f.said.best for f in folder.said("gap", "s", "a")] == [3.0]
    assert [f.said.best for f in folder.said("nitrate", "tank")] == [5.0, 6.0]


def test_a_reading_of_nothing_is_noted(tank_of: Make) -> None:
    assert tank_of("readings:\n  - {on: 2026-10-20, light: 3 PAR}\n").codes == ["key-123"]
    assert tank_of("readings:\n  - {spot: x, on: 2026-10-20, light: 3 PAR}\n").codes == ["id-143"]


def test_gaps_between_any_two(tank_of: Make) -> None:
    head = "corals:\n  - {id: a, is: torch, placed: yes}\n  - {id: b, is: hammer, placed: yes}\ngaps:\n  - "
    for between in ("[a, b]", "a and b", "'a, b'"):
        folder = tank_of(
            head + f"{{between: {between}, gap: 36 cm, error: 2 cm, on: 2026-10-24, how: tape}}\n"
        )
        (gap,) = folder.said("gap", "a", "b")
        assert (gap.said.best, gap.said.error, gap.said.how) == (36.0, 2.0, "tape")
    assert tank_of(head + "{between: [a], gap: 36 cm}\n").codes == ["key-122"]
    assert tank_of(head + "{between: [a, c], gap: 36 cm}\n").codes == ["id-143"]
    assert tank_of(head + "{between: [a, a], gap: 36 cm}\n").codes == ["id-143"]
    assert tank_of(head + "{between: [a, b]}\n").codes == ["key-122"]
