"""Commands that change a tank folder."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.model.tank import Event, EventKind, Phase
from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles import changes, store
from advisor.tankfiles.changes import add_coral, add_reading, add_spot, move
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
DAY = date(2026, 11, 2)
TANK = """# my own remark
name: kept
glass: 60 x 40 x 40 cm
spots:
  - {id: ledge, light: 115 PAR, gaps: {torch-1: 12 cm}}   # the good one
  - id: shelf
corals:
  - {id: torch-1, is: torch, size: 8 cm, spot: ledge}
  - hammer, 9 cm
"""
Act = Callable[[Path, Vocabulary], Event]
ACTS: dict[str, Act] = {
    "coral": lambda f, v: add_coral(f, v, "duncan", on=DAY, told={"size": "5 cm", "origin-light": "110 PAR"}),
    "spot": lambda f, v: add_spot(f, v, "Top Shelf", on=DAY, at="left, back, high", told={"light": "medium"}),
    "reading": lambda f, v: add_reading(f, v, ("shelf",), "PAR", "118 ±12 PAR", on=DAY, how="meter"),
    "move": lambda f, v: move(f, v, "torch-1", "shelf", on=DAY, note="for now"),
    "place": lambda f, v: move(f, v, "hammer-1", "shelf", on=DAY),
}


def journal(folder: Folder) -> list[dict[str, object]]:
    return [json.loads(line) for line in folder.text("journal.jsonl").splitlines()]


@pytest.mark.parametrize("name", ACTS)
def test_the_journal_and_the_tank_tell_the_same(tank_of: Make, name: str) -> None:
    folder = tank_of(TANK)
    event = ACTS[name](folder.path, folder.vocabulary)
    (written,) = journal(folder)
    assert (written["id"], written["on"], written["kind"]) == ("e-0001", "2026-11-02", event.kind.value)
    assert folder.tank.last_event == "e-0001"
    assert "# my own remark" in folder.text()
    assert "# the good one" in folder.text()
    assert not [p for p in folder.problems if p.code.startswith("journal")]


def test_a_coral_is_added_waiting_or_standing(tank_of: Make) -> None:
    folder = tank_of(TANK)
    add_coral(
        folder.path, folder.vocabulary, "duncan", on=DAY, told={"size": "5 cm", "origin-light": "110 PAR"}
    )
    add_coral(folder.path, folder.vocabulary, "duncan", on=DAY, spot="shelf", id="dun")
    *_, waits, stands = folder.tank.animals
    assert (waits.id, waits.taxon, waits.phase) == ("duncan-1", "duncan", Phase.WAITING)
    assert (stands.id, stands.phase, stands.spot, stands.moved_on) == ("dun", Phase.TRIAL, "shelf", DAY)
    assert [f.said.best for f in folder.said("origin-light", "duncan-1")] == [110.0]
    assert [e["id"] for e in journal(folder)] == ["e-0001", "e-0002"]


def test_a_reading_stands_in_the_tank_file_with_its_event(tank_of: Make) -> None:
    folder = tank_of(TANK)
    add_reading(folder.path, folder.vocabulary, ("shelf",), "PAR", "118 ±12 PAR", on=DAY, how="meter")
    add_reading(folder.path, folder.vocabulary, ("shelf", "torch-1"), "gap", "30 cm", on=DAY)
    add_reading(folder.path, folder.vocabulary, ("torch-1", "shelf"), "up-flow", "yes", on=DAY)
    tested = add_reading(folder.path, folder.vocabulary, ("tank",), "alk", "8.2 dKH", on=DAY)
    assert tested.kind is EventKind.TESTED
    (light,) = folder.said("light", "shelf")
    assert (light.said.best, light.said.error, light.said.on, light.said.how) == (118.0, 12.0, DAY, "meter")
    assert [f.said.best for f in folder.said("gap", "shelf", "torch-1")] == [30.0]
    assert [f.said.truth for f in folder.said("up-flow", "torch-1", "shelf")] == [True]
    assert [f.said.best for f in folder.said("alkalinity", "tank")] == [8.2]


def test_after_a_move_what_was_said_of_the_old_place_no_longer_counts(tank_of: Make) -> None:
    folder = tank_of(TANK)
    assert len(folder.said("gap", "ledge", "torch-1")) == 1
    event = move(folder.path, folder.vocabulary, "torch-1", "shelf", on=DAY, note="for now")
    assert (event.kind, event.subject, event.spot, event.note) == (
        EventKind.MOVED,
        "torch-1",
        "shelf",
        "for now",
    )
    torch = folder.tank.animals[0]
    assert (torch.spot, torch.phase, torch.placed_on, torch.moved_on) == ("shelf", Phase.PLACED, DAY, DAY)
    assert folder.said("gap", "ledge", "torch-1") == []
    assert "gaps: {torch-1: 12 cm}" in folder.text()
    assert folder.codes == ["reading-162"]


def test_a_move_keeps_since_when_a_coral_is_in_the_tank(tank_of: Make) -> None:
    folder = tank_of(TANK.replace("spot: ledge", "spot: ledge, placed: 2025-05-10", 1))
    move(folder.path, folder.vocabulary, "torch-1", "shelf", on=DAY)
    torch = folder.tank.animals[0]
    assert (torch.placed_on, torch.moved_on) == (date(2025, 5, 10), DAY)


def test_a_coral_is_not_moved_to_where_it_stands(tank_of: Make) -> None:
    folder = tank_of(TANK)
    before = folder.text()
    with pytest.raises(UnusableInput) as refused:
        move(folder.path, folder.vocabulary, "torch-1", "ledge", on=DAY)
    assert [problem.code for problem in refused.value.problems] == ["edit-192"]
    assert folder.text() == before


def test_a_waiting_coral_that_is_moved_is_on_trial(tank_of: Make) -> None:
    folder = tank_of(TANK)
    assert move(folder.path, folder.vocabulary, "hammer-1", "shelf", on=DAY).kind is EventKind.PLACED
    hammer = folder.tank.animals[1]
    assert (hammer.id, hammer.phase, hammer.spot) == ("hammer-1", Phase.TRIAL, "shelf")
    assert hammer.size_cm is not None
    assert hammer.size_cm.best == 9.0


BAD: list[tuple[str, Act]] = [
    ("value-131", lambda f, v: add_coral(f, v, "duncan", on=DAY, told={"size": "5 PAR"})),
    ("key-121", lambda f, v: add_coral(f, v, "duncan", on=DAY, told={"sise": "5 cm"})),
    ("id-142", lambda f, v: add_coral(f, v, "duncan", on=DAY, id="torch-1")),
    ("id-141", lambda f, v: add_coral(f, v, "duncan", on=DAY, id="Big One")),
    ("id-143", lambda f, v: add_coral(f, v, "duncan", on=DAY, spot="lege")),
    ("place-152", lambda f, v: add_coral(f, v, "duncan", on=DAY, spot="ledge")),
    ("id-142", lambda f, v: add_spot(f, v, "ledge", on=DAY)),
    ("place-151", lambda f, v: add_spot(f, v, "high", on=DAY, at="90, 3, 3 cm")),
    ("value-132", lambda f, v: add_reading(f, v, ("ledge",), "light", "-3 PAR", on=DAY)),
    ("key-121", lambda f, v: add_reading(f, v, ("ledge",), "lihgt", "3 PAR", on=DAY)),
    ("id-143", lambda f, v: add_reading(f, v, ("lege",), "light", "3 PAR", on=DAY)),
    ("id-143", lambda f, v: move(f, v, "torhc-1", "shelf", on=DAY)),
    ("id-143", lambda f, v: move(f, v, "torch-1", "shlef", on=DAY)),
    ("place-152", lambda f, v: move(f, v, "hammer-1", "ledge", on=DAY)),
]


@pytest.mark.parametrize(("code", "act"), BAD)
def test_bad_input_writes_nothing(tank_of: Make, code: str, act: Act) -> None:
    folder = tank_of(TANK)
    with pytest.raises(UnusableInput) as caught:
        act(folder.path, folder.vocabulary)
    assert code in [p.code for p in caught.value.problems]
    assert all(p.mend for p in caught.value.problems)
    assert folder.text() == TANK
    assert not (folder.path / "journal.jsonl").exists()


def test_a_folder_with_a_fault_is_not_written_to(tank_of: Make) -> None:
    folder = tank_of(TANK + "lamsp: 3\n")
    with pytest.raises(UnusableInput):
        ACTS["coral"](folder.path, folder.vocabulary)
    assert folder.text() == TANK + "lamsp: 3\n"
    assert not (folder.path / "journal.jsonl").exists()


def test_a_coral_listed_in_a_table_is_not_moved_behind_its_back(tank_of: Make) -> None:
    folder = tank_of(TANK).write("corals.csv", "id,coral\nc-1,clam\n")
    with pytest.raises(UnusableInput) as caught:
        move(folder.path, folder.vocabulary, "c-1", "shelf", on=DAY)
    assert caught.value.problems[0].code == "edit-191"
    assert "corals.csv" in caught.value.problems[0].what


class Killed(BaseException):
    """The program ends here."""


def die(*_: object, **__: object) -> None:
    raise Killed


@pytest.mark.parametrize("name", ACTS)
@pytest.mark.parametrize("step", ["append_line", "write_atomically", "torn", "fsync", "replace"])
def test_a_kill_at_any_moment_leaves_the_old_state_or_the_new(
    tank_of: Make, monkeypatch: pytest.MonkeyPatch, name: str, step: str
) -> None:
    folder = tank_of(TANK)
    old = folder.tank
    with monkeypatch.context() as patch:
        if step == "torn":
            patch.setattr(changes, "append_line", _tear)
        elif step in ("fsync", "replace"):
            patch.setattr(os, step, die)
        else:
            patch.setattr(changes, step, die)
        with pytest.raises(Killed):
            ACTS[name](folder.path, folder.vocabulary)
    assert folder.text() == TANK
    told_whole = step in ("write_atomically", "fsync", "replace")
    after = folder.tank
    if told_whole:
        assert [p.code for p in folder.problems if p.code != "reading-162"] == ["journal-185"]
        assert after != old
    else:
        assert [(a.id, a.spot) for a in after.animals] == [(a.id, a.spot) for a in old.animals]
        assert [s.id for s in after.spots] == [s.id for s in old.spots]
    again = ACTS["reading"](folder.path, folder.vocabulary)
    assert folder.tank.last_event == again.id
    assert len(folder.tank.events) == (2 if told_whole else 1)
    assert "journal-185" not in {problem.code for problem in folder.problems}
    assert [p for p in folder.problems if p.code in ("journal-185", "journal-186")] == []


def _tear(folder: Path, name: str, line: str) -> None:
    with (folder / name).open("a", encoding="utf-8") as stream:
        stream.write(line[: len(line) // 2])
    raise Killed


def test_a_missing_edit_is_written_down_by_the_next_command(
    tank_of: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tank_of(TANK)
    with monkeypatch.context() as patch:
        patch.setattr(changes, "write_atomically", die)
        with pytest.raises(Killed):
            ACTS["move"](folder.path, folder.vocabulary)
    ACTS["spot"](folder.path, folder.vocabulary)
    assert "spot: shelf" in folder.text()
    assert "top-shelf" in folder.text()
    assert folder.tank.last_event == "e-0002"
    assert [e["id"] for e in journal(folder)] == ["e-0001", "e-0002"]


def test_while_another_program_writes_nothing_is_written(
    tank_of: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tank_of(TANK)
    monkeypatch.setattr(store, "LOCK_SECONDS", 0.05)
    with store.locked(folder.path), pytest.raises(UnusableInput) as caught:
        ACTS["coral"](folder.path, folder.vocabulary)
    assert caught.value.problems[0].code == "file-107"
    assert folder.text() == TANK


INSIDE = {"doing": "well since 2026-04-01", "placed": "2026-01-10"}


@pytest.mark.parametrize(
    "told", [INSIDE, {"fixing": "glued", "placed": "2026-01-10"}, {"placed": "2026-01-10"}]
)
def test_a_coral_inside_already_keeps_its_own_dates(tank_of: Make, told: dict[str, str]) -> None:
    folder = tank_of(TANK)
    add_coral(folder.path, folder.vocabulary, "duncan", on=DAY, spot="shelf", told=told)
    animal = next(a for a in folder.tank.animals if a.id == "duncan-1")
    assert (animal.phase, animal.placed_on, animal.moved_on) == (Phase.PLACED, date(2026, 1, 10), None)
