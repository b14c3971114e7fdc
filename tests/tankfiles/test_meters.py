"""Light meters told in a tank file, and the readings that name one."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.errors import Severity
from advisor.model.tank import Immersion
from advisor.tankfiles.changes import add_reading
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
METERS = "meters:\n  - {id: old-head, name: the old one, immersion factor: 1.08}\n  - {id: bare}\n"


def told(folder: Folder, spot: str = "a") -> list[Immersion | None]:
    return [fact.said.immersion for fact in folder.said("light", spot)]


def with_meter(tank_of: Make, reading: str) -> Folder:
    return tank_of(f"{METERS}spots:\n  - {{id: a, light: {reading}}}\n")


@pytest.mark.parametrize("how", ["how: old-head", "meter: Old head", "instrument: 'old-head, by night'",
                                 "how: the old one"])  # fmt: skip
def test_a_reading_has_the_factor_of_the_meter_it_names(tank_of: Make, how: str) -> None:
    assert told(with_meter(tank_of, f"{{value: 118 PAR, {how}}}")) == [Immersion(factor=1.08)]


def test_what_the_reading_tells_goes_before_what_its_meter_does(tank_of: Make) -> None:
    for factor, stands in (("1.25", 1.25), ("corrected", 1.0), ("unknown", None)):
        reading = f"{{value: 118 PAR, how: old-head, immersion factor: {factor}}}"
        assert told(with_meter(tank_of, reading)) == [Immersion(factor=stands)]


def test_a_meter_of_which_nothing_is_told_and_one_not_listed_change_nothing(tank_of: Make) -> None:
    for how in ("bare", "borrowed meter"):
        folder = with_meter(tank_of, f"{{value: 118 PAR, how: {how}}}")
        assert told(folder) == [None]
        assert folder.problems == ()


def test_only_light_is_read_with_a_light_meter(tank_of: Make) -> None:
    folder = tank_of(f"{METERS}spots:\n  - {{id: a, flow: {{value: 9 cm/s, how: old-head}}}}\n")
    assert [fact.said.immersion for fact in folder.said("flow", "a")] == [None]


def test_tables_the_journal_and_the_command_name_a_meter_too(tank_of: Make) -> None:
    folder = tank_of(f"{METERS}spots: [a, b, c]\n")
    folder.write("readings.csv", "spot,PAR,meter\na,94,old-head\n")
    event = '{"id": "e-1", "on": "2026-10-01", "kind": "measured", "subject": "b", "how": "old-head", '
    folder.write("journal.jsonl", event + '"values": {"light": "90 PAR"}}\n')
    add_reading(folder.path, folder.vocabulary, ("c",), "light", "90 PAR", on=date(2026, 11, 2),
                how="old-head")  # fmt: skip
    assert told(folder) == told(folder, "c") == [Immersion(factor=1.08)]
    assert [fact.said.immersion for fact in folder.tank.events[0].facts] == [Immersion(factor=1.08)]


def test_a_meter_named_almost_right_is_warned_of_once(tank_of: Make) -> None:
    read = "{value: 118 PAR, how: old-haed}"
    folder = tank_of(f"{METERS}spots:\n  - {{id: a, light: {read}}}\n  - {{id: b, light: {read}}}\n")
    (problem,) = folder.problems
    assert (problem.code, problem.mend) == ("id-144", "how: old-head")
    assert problem.severity is Severity.WARNING
    assert told(folder) == [None]


def test_a_factor_said_to_be_unknown_and_told_all_the_same_is_no_silent_matter(tank_of: Make) -> None:
    unsure = "meter uncorrected: yes\n"
    folder = tank_of(f"{unsure}{METERS}spots:\n  - {{id: a, light: {{value: 9 PAR, how: old-head}}}}\n")
    (problem,) = folder.problems
    assert (problem.code, problem.severity) == ("reading-163", Severity.WARNING)
    assert "only for readings of which no factor is told" in problem.label
    (told_here,) = problem.related
    assert told_here.label == "here 1.08 counts"
    for reading in ("9 PAR", "{value: 9 PAR, immersion factor: unknown}"):
        assert tank_of(f"{unsure}{METERS}spots:\n  - {{id: a, light: {reading}}}\n").problems == ()


@pytest.mark.parametrize(
    ("meter", "code"),
    [
        ("{id: b, immersion factor: 3}", "value-141"),
        ("{id: b, factor: 1.08}", "key-121"),
        ("{id: old-head}", "id-142"),
        ("{immersion factor: 1.08}", "key-123"),
    ],
)
def test_a_meter_told_wrongly_is_noted(tank_of: Make, meter: str, code: str) -> None:
    assert tank_of(f"{METERS}  - {meter}\n").codes == [code]


def test_a_meter_may_be_called_like_a_spot(tank_of: Make) -> None:
    assert tank_of(f"{METERS}spots: [old-head]\n").problems == ()
