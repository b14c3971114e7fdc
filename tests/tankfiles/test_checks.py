"""What must hold between entries, and what a move makes old."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.errors import Severity
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
HEAD = "spots:\n  - {id: s, light: 90 PAR, gaps: {a: 20 cm}}\n"


def left_out(folder: Folder) -> list[str]:
    """The measures of what counts no more, out of the one note about it."""
    notes = [p for p in folder.problems if p.code == "reading-162"]
    assert all(p.severity is Severity.NOTE for p in notes)
    assert len(notes) <= 1
    named = [
        part.split()[0]
        for p in notes
        for one in p.mend.split("; ")
        for part in one.split(": ")[-1].split(", ")
    ]
    told = sum(int(p.what.split()[0]) for p in notes)
    assert told == len(named)
    return sorted(named)


def test_one_note_counts_and_names_everything_that_is_to_be_told_again(tank_of: Make) -> None:
    folder = tank_of(
        "spots: [r, s]\ncorals:\n"
        "  - {id: a, is: torch, spot: r, moved: 2026-11-01, light: 90 PAR, doing: well since 2026-03-01}\n"
        "  - {id: b, is: torch, spot: s, moved: 2026-10-30, fixing: glued, gaps: {a: 20 cm}}\n"
    )
    (note,) = [p for p in folder.problems if p.code == "reading-162"]
    assert note.what == "4 things were said before a and b moved, and count no more"
    assert note.label == "the first of them; a moved on 2026-11-01, b moved on 2026-10-30"
    assert note.mend.startswith("measure or look again, with the day (on: …): ")
    assert note.mend.partition("(on: …): ")[2].split("; ") == ["a: light, doing", "b: fixing, gap to a"]
    assert note.span is not None
    assert note.span.line == 3


def test_by_hand_the_file_is_what_is_now(tank_of: Make) -> None:
    folder = tank_of(HEAD + "corals:\n  - {id: a, is: torch, spot: s, placed: 2026-10-01, doing: well}\n")
    assert left_out(folder) == []
    assert len(folder.tank.facts) == 3


@pytest.mark.parametrize("value", ["20 cm", "{value: 20 cm, on: 2026-10-31}"])
def test_after_a_move_older_gaps_are_left_out_wherever_they_stand(tank_of: Make, value: str) -> None:
    folder = tank_of(
        f"spots:\n  - {{id: s, light: 90 PAR, gaps: {{a: {value}}}}}\n  - id: r\n"
        "corals:\n  - {id: a, is: torch, spot: r, moved: 2026-11-01}\n"
    )
    assert left_out(folder) == ["gap"]
    assert [f.measure for f in folder.tank.facts] == ["light"]


def test_a_gap_measured_on_the_day_of_the_move_or_later_counts(tank_of: Make) -> None:
    folder = tank_of(
        "spots:\n  - {id: s, gaps: {a: {value: 20 cm, on: 2026-11-01}}}\n  - id: r\n"
        "corals:\n  - {id: a, is: torch, spot: r, moved: 2026-11-01}\n"
    )
    assert left_out(folder) == []
    assert len(folder.said("gap", "s", "a")) == 1


def test_what_an_animal_did_elsewhere_says_nothing_of_its_new_place(tank_of: Make) -> None:
    folder = tank_of(
        "spots: [r]\ncorals:\n  - {id: a, is: torch, spot: r, moved: 2026-11-01, light: 90 PAR,\n"
        "     fixing: glued, doing: well since 2026-03-01, size: 8 cm, bleached: no}\n"
    )
    assert left_out(folder) == ["doing", "fixing", "light"]
    assert {f.measure for f in folder.tank.facts} == {"size", "bleached"}


def test_a_move_in_the_journal_makes_dated_statements_old_but_not_undated_ones(tank_of: Make) -> None:
    folder = tank_of(
        "spots:\n  - {id: s, gaps: {a: [20 cm, {value: 19 cm, on: 2026-10-01}]}}\n"
        "corals:\n  - {id: a, is: torch, placed: 2026-10-15}\n"
    ).write("journal.jsonl", '{"id": "e-1", "on": "2026-10-15", "kind": "moved", "subject": "a"}\n')
    assert left_out(folder) == ["gap"]
    assert [f.said.best for f in folder.said("gap", "s", "a")] == [20.0]


def test_exact_positions_clash_and_ranges_do_not(tank_of: Make) -> None:
    head = "glass: 60 x 40 x 40 cm\ncorals:\n"
    exact = "  - {id: a, is: torch, at: '3, 4, 5 cm'}\n  - {id: b, is: torch, at: '3, 4, 5 cm'}\n"
    ranges = "  - {id: a, is: torch, at: '3-9, 4, 5 cm'}\n  - {id: b, is: torch, at: '3-9, 4, 5 cm'}\n"
    words = "  - {id: a, is: torch, place: left}\n  - {id: b, is: torch, place: left}\n"
    assert tank_of(head + exact).codes == ["place-153"]
    assert tank_of(head + ranges).codes == []
    assert tank_of(head + words).codes == []
