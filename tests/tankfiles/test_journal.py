"""The journal."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date

import pytest

from advisor.errors import Severity
from advisor.model.tank import EventKind
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
TANK = "spots: [ledge]\ncorals:\n  - {id: a, is: torch, spot: ledge}\n"


def line(**event: object) -> str:
    return json.dumps({"id": "e-1", "on": "2026-10-24", "kind": "seen", **event}) + "\n"


def test_an_event_is_read(tank_of: Make) -> None:
    folder = tank_of(TANK).write(
        "journal.jsonl",
        line(at="20:15", by="Ana", kind="moved", subject="a", spot="ledge", note="first evening"),
    )
    (event,) = folder.tank.events
    assert (event.id, event.on, event.at, event.by) == ("e-1", date(2026, 10, 24), "20:15", "Ana")
    assert (event.kind, event.subject, event.spot, event.note) == (
        EventKind.MOVED,
        "a",
        "ledge",
        "first evening",
    )


def test_values_of_an_event_are_facts_that_know_their_event(tank_of: Make) -> None:
    folder = tank_of(TANK).write(
        "journal.jsonl",
        line(kind="measured", subject="ledge", values={"light": "187 ±19 PAR"}, how="meter")
        + line(id="e-2", subject="a", night=True, values={"doing": "well"}, note="sweepers 8 cm")
        + line(id="e-3", kind="tested", subject="tank", values={"alkalinity": 8.2}),
    )
    tank = folder.tank
    assert tank.facts == ()
    (light,), doing_and_look, (test,) = (event.facts for event in tank.events)
    assert (light.measure, light.subjects) == ("light", ("ledge",))
    assert (light.said.best, light.said.error, light.said.how, light.said.event) == (
        187.0,
        19.0,
        "meter",
        "e-1",
    )
    assert light.said.on == date(2026, 10, 24)
    doing, look = doing_and_look
    assert (doing.measure, doing.said.words) == ("doing", ("well",))
    assert (look.measure, look.said.on, look.said.event) == ("night-look", date(2026, 10, 24), "e-2")
    assert look.said.written == "sweepers 8 cm"
    assert (test.measure, test.subjects, test.said.best) == ("alkalinity", ("tank",), 8.2)


def test_one_reading_in_the_journal_and_in_the_tank_is_told_as_twice(tank_of: Make) -> None:
    folder = tank_of("spots:\n  - {id: ledge, light: {value: 187, on: 2026-10-24}}\n")
    folder.write("journal.jsonl", line(kind="measured", subject="ledge", values={"light": "190 PAR"}))
    assert folder.codes == ["reading-161"]


def test_history_of_what_is_gone_is_kept_without_facts(tank_of: Make) -> None:
    folder = tank_of(TANK).write("journal.jsonl", line(subject="long-gone", values={"doing": "badly"}))
    assert [e.subject for e in folder.tank.events] == ["long-gone"]
    assert [e.facts for e in folder.tank.events] == [()]


@pytest.mark.parametrize(
    "torn", ['{"id"', '{"id": "e-2", "on": "2026-1', '{"id": "e-2", "note": "half a wo', "{"]
)
def test_a_torn_last_line_is_left_out_with_a_warning(tank_of: Make, torn: str) -> None:
    folder = tank_of(TANK).write("journal.jsonl", line() + torn)
    assert [e.id for e in folder.tank.events] == ["e-1"]
    assert [(p.code, p.severity) for p in folder.problems] == [("journal-182", Severity.WARNING)]


def test_every_way_of_tearing_a_line_is_survived(tank_of: Make) -> None:
    whole = line(id="e-2", kind="moved", subject="a", note='said "now"', edit={"do": "nothing"})
    folder = tank_of(TANK)
    for cut in range(1, len(whole) - 1):
        folder.write("journal.jsonl", line() + whole[:cut])
        assert [e.id for e in folder.tank.events] == ["e-1"], whole[:cut]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("not json\n", "journal-181"),
        ("[1, 2]\n", "journal-181"),
        ('{"id": "e-1", "on": "2026-10-24", "kind": "seen"} trailing\n', "journal-181"),
        (line() + line(), "journal-183"),
        (line(kind="sene"), "value-133"),
        (line(on="yesterday"), "value-134"),
        (line(id="E 1"), "journal-181"),
        (line(colour="red"), "key-121"),
        (line(at="late"), "value-134"),
        (line(subject="ledge", values={"lihgt": 3}), "key-121"),
        (line(subject="ledge", values={"light": -3}), "value-132"),
        (line(edit="move it"), "journal-181"),
        (line(note="\u001b[31mred"), "file-106"),
        (line(note="x" * 200_000), "journal-181"),
    ],
)
def test_a_faulty_line_is_shown(tank_of: Make, text: str, code: str) -> None:
    found = [p for p in tank_of(TANK).write("journal.jsonl", text).problems if p.code == code]
    assert found
    assert found[0].span is not None
    assert found[0].span.file == "journal.jsonl"


def test_a_faulty_line_does_not_hide_the_next(tank_of: Make) -> None:
    tank, _ = tank_of(TANK).write("journal.jsonl", "not json\n" + line(id="e-9")).read()
    assert tank is not None
    assert [e.id for e in tank.events] == ["e-9"]


def test_the_journal_is_checked_even_without_a_tank(tank_of: Make) -> None:
    assert tank_of("").write("journal.jsonl", "not json\n").codes == ["file-102", "journal-181"]
