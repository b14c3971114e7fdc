"""Edits that have not reached tank.yaml."""

from __future__ import annotations

import json
from collections.abc import Callable

from advisor.errors import Severity
from advisor.tankfiles.edits import add_to, change
from advisor.tankfiles.pending import journal_edits
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
TANK = "spots: [s, r]\ncorals:\n  - {id: a, is: torch, spot: s}\n"


def line(identity: str, edit: dict[str, str] | None) -> str:
    event = {"id": identity, "on": "2026-11-01", "kind": "moved", "subject": "a"}
    return json.dumps({**event, "edit": edit} if edit else event) + "\n"


MOVE = line("e-1", change("a", {"spot": "r"}))
ADD = line("e-2", add_to("corals", {"id": "b", "is": "hammer"}))


def test_edits_are_found_in_order_and_other_lines_passed_over() -> None:
    found = journal_edits(MOVE + "not json edit\n" + line("e-9", None) + ADD + '{"edit": "x"}\n{"id": "e')
    assert [(e.id, e.edit["do"], e.span.line) for e in found] == [("e-1", "change", 1), ("e-2", "add", 4)]


def test_a_missing_edit_is_read_as_made_and_said(tank_of: Make) -> None:
    folder = tank_of(TANK).write("journal.jsonl", MOVE + ADD)
    before = folder.text()
    assert [(a.id, a.spot) for a in folder.tank.animals] == [("a", "r"), ("b", "")]
    assert [(p.code, p.severity) for p in folder.problems] == [("journal-185", Severity.WARNING)] * 2
    assert folder.text() == before


def test_only_what_comes_after_the_last_event_is_missing(tank_of: Make) -> None:
    folder = tank_of(TANK + "last-event: e-1\n").write("journal.jsonl", MOVE + ADD)
    assert [(a.id, a.spot) for a in folder.tank.animals] == [("a", "s"), ("b", "")]
    done = tank_of(TANK + "last-event: e-2\n")
    assert done.problems == ()


def test_a_last_event_nobody_knows_replays_nothing(tank_of: Make) -> None:
    folder = tank_of(TANK + "last-event: e-77\n").write("journal.jsonl", MOVE)
    assert [(a.id, a.spot) for a in folder.tank.animals] == [("a", "s")]
    assert folder.codes == ["journal-184"]


def test_an_edit_that_no_longer_fits_is_reported_and_stops_the_replay(tank_of: Make) -> None:
    gone = line("e-1", change("nobody", {"spot": "r"}))
    folder = tank_of(TANK).write("journal.jsonl", gone + ADD)
    tank, (problem,) = folder.read()
    assert tank is not None
    assert [a.id for a in tank.animals] == ["a"]
    assert (problem.code, problem.severity) == ("journal-186", Severity.ERROR)
    assert "last-event: e-1" in problem.mend
