"""Numbers that can be and hardly are."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.errors import Severity
from advisor.model.tank import Event
from advisor.tankfiles.changes import add_coral, add_reading
from advisor.tankfiles.unusual import HARDLY_POSSIBLE, unusual_of
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
GLASS = "glass: 120 x 60 x 60 cm\n"


def told(folder: Folder) -> list[tuple[str, str]]:
    """What is told of each hardly possible number, and what to try."""
    return [(p.what, p.mend) for p in folder.read()[1] if p.code == HARDLY_POSSIBLE]


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("spots: [{id: a, light: 2500 PAR}]", "light of a: 2500 PAR",
         "did you mean 250 PAR? does the meter show lux?"),
        ("spots: [{id: a, light: 0 PAR}]", "light of a: 0 PAR", "were the lamps at full?"),
        ("spots: [{id: a, light: 1500-2000 PAR}]", "light of a: 1500 PAR",
         "did you mean 150 PAR? does the meter show lux?"),
        ("water: {temperature: 5 °C}", "temperature: 5 °C", "read it again, or write unknown"),
        ("corals: [{id: a, is: torch, size: 1.4 m}]", "size of a: 140 cm", "did you mean 140 mm?"),
        ("water: {alkalinity: 0.8 dKH}", "alkalinity: 0.8 dKH", "did you mean 8 dKH?"),
    ],
)  # fmt: skip
def test_what_is_hardly_possible_is_told(tank_of: Make, text: str, what: str, mend: str) -> None:
    assert told(tank_of(f"{GLASS}{text}\n")) == [(f"{what} is hardly possible", mend)]


@pytest.mark.parametrize(
    "text",
    [
        "spots: [{id: a, light: 2-1000 PAR}]",
        "spots: [{id: a, light: 900-2000 PAR}]",
        "spots: [{id: a, light: 1000 PAR}]",
        "spots: [{id: a, light: unknown, flow: medium}]",
        "water: {temperature: 15 °C}",
    ],
)
def test_what_may_be_usual_is_not(tank_of: Make, text: str) -> None:
    assert told(tank_of(GLASS + text + "\n")) == []


def test_a_length_is_held_against_the_glass(tank_of: Make) -> None:
    text = "spots: [{id: a, gaps: {t: GAP}}]\ncorals: [{id: t, is: torch}]\n"
    assert told(tank_of(GLASS + text.replace("GAP", "146 cm"))) == []
    folder = tank_of(GLASS + text.replace("GAP", "148 cm"))
    (problem,) = folder.read()[1]
    assert problem.label == "from corner to corner the tank measures 147 cm"
    assert (problem.what, problem.severity) == (
        "gap of a and t: 148 cm is not possible",
        Severity.ERROR,
    )


def test_without_glass_only_what_is_usual_is_looked_at(tank_of: Make) -> None:
    assert told(tank_of("spots: [{id: a, gaps: {t: 148 cm}}]\ncorals: [{id: t, is: torch}]\n")) == []


def test_many_of_one_measure_are_told_once(tank_of: Make) -> None:
    folder = tank_of("spots: [{id: a, light: 2500 PAR}, {id: b, light: 2400 PAR}, {id: c, light: 0 PAR}]\n")
    (problem,) = folder.read()[1]
    assert problem.label == "2 to 1000 PAR is usual; and so is that of b, c"


def test_a_newer_reading_ends_it(tank_of: Make) -> None:
    old = "spots: [{id: a}]\nreadings:\n  - {of: a, on: 2026-10-01, light: 2500 PAR}\n"
    assert len(told(tank_of(old))) == 1
    assert told(tank_of(old + "  - {of: a, on: 2026-10-02, light: 250 PAR}\n")) == []


def test_it_counts_all_the_same(tank_of: Make) -> None:
    folder = tank_of("spots: [{id: a, light: 2500 PAR}]\n")
    assert [fact.said.best for fact in folder.said("light", "a")] == [2500.0]


def test_a_command_tells_what_it_took(tank_of: Make) -> None:
    folder = tank_of("spots: [{id: a, light: 2500 PAR}, {id: b}]\n")
    day = date(2026, 11, 2)

    def of(event: Event) -> list[str]:
        tank, _ = folder.read()
        assert tank is not None
        return [p.what for p in unusual_of(event, tank, folder.vocabulary)]

    read = add_reading(folder.path, folder.vocabulary, ("b",), "light", "0 PAR", on=day)
    assert of(read) == ["light of b: 0 PAR is hardly possible"]
    assert of(add_reading(folder.path, folder.vocabulary, ("b",), "flow", "9 cm/s", on=day)) == []
    coral = add_coral(folder.path, folder.vocabulary, "torch", on=day, id="t", told={"size": "130 cm"})
    assert of(coral) == ["size of t: 130 cm is hardly possible"]
