"""A tank folder read whole."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.errors import Severity
from advisor.model.tank import Phase
from advisor.model.vocabulary import Vocabulary
from advisor.reports.glossary import headings
from advisor.tankfiles.folder import read_tank
from advisor.tankfiles.sources import find_tank_folder
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]

HEAD = "name: t\nglass: 60 x 40 x 40 cm\nrocks: [arch]\n"
TWO = (
    HEAD + "spots:\n  - id: ledge\n  - id: shelf\ncorals:\n  - {id: a, is: torch}\n  - {id: b, is: hammer}\n"
)

TWINS = "corals:\n  - {is: torch, at: '7, 2, 1 cm'}\n  - {is: torch, at: '7, 2, 1 cm'}\n"
WAITS = HEAD + "spots:\n  - id: s\ncorals:\n  - {id: a, is: torch, spot: s, phase: waiting}\n"

# One faulty file for each code a tank.yaml can earn: code, line, text, what the mend says.
BAD = [
    ("file-102", 1, "", "tank new"),
    ("file-102", 1, "# nothing but a remark\n", "tank new"),
    ("file-106", 1, "name: a\x1b[31mb\n", "delete"),
    ("file-106", 1, 'name: "a\\e[31mb"\n', "delete"),
    ("file-106", 1, "name: abc\u202edef\n", "delete"),
    ("yaml-111", 2, "name: t\nspots: [a, b\n", "spots: [a, b]"),
    ("yaml-111", 2, "name: t\nspots: *nobody\n", "write the value"),
    ("yaml-112", 3, "name: t\nspots:\n\t- id: a\n", "spaces"),
    ("yaml-113", 1, "a: " + "[" * 60 + "]" * 60 + "\n", ""),
    ("yaml-115", 1, "name: !!python/object:os.system t\n", "delete the tag"),
    ("yaml-116", 2, "name: t\nname: u\n", "keep one"),
    ("yaml-116", 2, "pump guards: yes\npump-guards: no\n", "keep one"),
    ("yaml-117", 2, "name: t\n---\nname: u\n", "delete"),
    ("key-121", 4, HEAD + "moonphase: 3\n", "schema tank"),
    ("key-121", 5, HEAD + "spots:\n  - {id: a, lihgt: 120 PAR}\n", "light"),
    ("key-121", 5, HEAD + "spots:\n  - {id: a, size: 12 cm}\n", "belongs"),
    ("key-122", 4, HEAD + "spots: {id: ledge, light: 3 PAR}\n", "id"),
    ("key-122", 4, HEAD + "spots: ledge\n", "- id"),
    ("key-123", 5, HEAD + "corals:\n  - {size: 8 cm}\n", "id"),
    ("key-124", 5, HEAD + "corals:\n  - {id: a, is: torch, light-max: 200 PAR}\n", "house.rules"),
    ("value-131", 5, HEAD + "spots:\n  - {id: a, light: 115 cm}\n", "115 PAR"),
    ("value-131", 5, HEAD + 'spots:\n  - {id: a, light: "117,5 PAR"}\n', "117.5 PAR"),
    ("value-131", 5, HEAD + "spots:\n  - {id: a, light: about 120 PAR}\n", "100-140 PAR"),
    ("value-131", 5, HEAD + "spots:\n  - {id: a, light: 140-100 PAR}\n", "from low to high"),
    ("value-131", 5, HEAD + "spots:\n  - {id: a, holds: many}\n", "2"),
    ("value-132", 5, HEAD + "spots:\n  - {id: a, light: -5 PAR}\n", "unknown"),
    ("value-132", 5, HEAD + "spots:\n  - {id: a, flow: 900 cm/s}\n", "unknown"),
    ("value-133", 5, HEAD + "spots:\n  - {id: a, faces: upp}\n", "up"),
    ("value-133", 4, HEAD + "flow: lefft to rigth\n", "right"),
    ("value-134", 4, HEAD + "started: 24.10.2025\n", "2025-10-24"),
    ("value-134", 4, HEAD + "started: 2026-02-30\n", "2026"),
    ("value-135", 5, HEAD + "spots:\n  - {id: a, flow: {distance: 20 cm}}\n", "seconds"),
    ("value-137", 5, HEAD + "spots:\n  - {id: a, place: lefft}\n", "left"),
    ("value-137", 5, HEAD + 'spots:\n  - {id: a, place: "left, middle"}\n', "three"),
    ("value-137", 5, HEAD + 'spots:\n  - {id: a, place: "left, right"}\n', "one word"),
    ("value-137", 5, HEAD + 'spots:\n  - {id: a, at: "3, 4 cm"}\n', '"20, 35, 28 cm"'),
    ("id-141", 5, HEAD + "spots:\n  - {id: Left Ledge}\n", "left-ledge"),
    ("id-141", 5, HEAD + "spots:\n  - {id: tank}\n", "torch-1"),
    ("id-142", 6, HEAD + "spots:\n  - id: a\n  - id: a\n", "a-2"),
    ("id-142", 7, HEAD + "spots:\n  - id: a\ncorals:\n  - {id: a, is: torch}\n", "a-2"),
    ("id-143", 5, HEAD + "spots:\n  - {id: ledge, rock: archh}\n", "arch"),
    ("id-143", 7, HEAD + "spots:\n  - id: ledge\ncorals:\n  - {id: a, is: torch, spot: legde}\n", "ledge"),
    ("id-143", 5, HEAD + "spots:\n  - {id: ledge, gaps: {nobody: 3 cm}}\n", "correct"),
    ("id-143", 5, HEAD + "spots:\n  - {id: ledge, gaps: {ledge: 3 cm}}\n", "other"),
    ("place-151", 5, HEAD + "corals:\n  - {id: a, is: torch, at: '70, 20, 10 cm'}\n", "glass"),
    ("place-151", 5, HEAD + "spots:\n  - {id: a, at: {x: 5 cm, y: 5 cm, z: 45 cm}}\n", "glass"),
    ("place-153", 6, HEAD + TWINS, "correct"),
    ("place-154", 7, WAITS, "trial"),
    ("file-105", 4, HEAD + "house: ../../etc/passwd\n", "folder"),
    ("file-101", 4, HEAD + "house: [mine.rules]\n", "name"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "line", "text", "mend"), BAD)
def test_a_fault_is_shown_where_it_stands_with_its_mend(
    tank_of: Make, code: str, line: int, text: str, mend: str
) -> None:
    found = [p for p in tank_of(text).problems if p.code == code]
    assert found, tank_of(text).problems
    assert found[0].span is not None
    assert (found[0].span.file, found[0].span.line) == ("tank.yaml", line)
    assert mend in found[0].mend
    assert found[0].what
    assert found[0].severity is Severity.ERROR


def test_every_problem_of_every_file_is_told_at_once(tank_of: Make) -> None:
    folder = tank_of(HEAD + "spots:\n  - {id: ledge, lihgt: 3 PAR}\n  - {id: shelf, faces: upp}\n")
    folder.write("readings.csv", "spot,date,PAR\nledge,2026-10-20,-4\n")
    folder.write("journal.jsonl", '{"id": "e-1", "on": "2026-10-20", "kind": "sene"}\n')
    found = {(p.span.file, p.span.line, p.code) for p in folder.problems if p.span is not None}
    assert found == {
        ("tank.yaml", 5, "key-121"),
        ("tank.yaml", 6, "value-133"),
        ("readings.csv", 2, "value-132"),
        ("journal.jsonl", 1, "value-133"),
    }


def test_a_missing_tank_file_says_how_to_start(tmp_path: Path, vocabulary: Vocabulary) -> None:
    tank, problems = read_tank(tmp_path, vocabulary)
    assert tank is None
    assert [p.code for p in problems] == ["file-101"]
    assert "tank new" in problems[0].mend


def test_a_huge_file_is_refused_by_its_size_before_it_is_read(tank_of: Make) -> None:
    folder = tank_of("name: t\n")
    with (folder.path / "tank.yaml").open("r+b") as stream:
        stream.truncate(50_000_000)
    tank, problems = folder.read()
    assert tank is None
    assert [p.code for p in problems] == ["file-103"]
    assert "50.0 MB" in problems[0].what


def test_text_that_is_not_utf_8_is_shown_at_its_line(tank_of: Make) -> None:
    folder = tank_of("").write("tank.yaml", "name: t\nid: caf\u00e9\n".encode("latin-1"))
    (problem,) = folder.problems
    assert problem.code == "file-104"
    assert problem.span is not None
    assert (problem.span.line, problem.span.column) == (2, 8)


def test_references_that_explode_are_refused(tank_of: Make) -> None:
    lines = ["a: &a [x, x, x, x, x, x, x, x, x, x]"]
    for before, name in zip("abcdefg", "bcdefgh", strict=True):
        lines.append(f"{name}: &{name} [{', '.join([f'*{before}'] * 10)}]")
    assert tank_of("\n".join(lines) + "\n").codes == ["yaml-114"]


def test_a_reference_to_itself_is_refused(tank_of: Make) -> None:
    assert tank_of("spots: &s [*s]\n").codes == ["yaml-111"]


def test_an_honest_reference_is_read(tank_of: Make) -> None:
    folder = tank_of("spots:\n  - {id: a, light: &l 120 PAR}\n  - {id: b, light: *l}\n")
    assert [f.said.best for f in folder.said("light", "b")] == [120.0]


def test_two_corals_on_one_spot_are_too_many_unless_it_holds_them(tank_of: Make) -> None:
    two = "corals:\n  - {id: a, is: torch, spot: s}\n  - {id: b, is: torch, spot: s}\n"
    (problem,) = tank_of(HEAD + "spots:\n  - id: s\n" + two).problems
    assert problem.code == "place-152"
    assert "holds 1" in problem.what
    assert {r.label for r in problem.related} == {"a", "b"}
    assert tank_of(HEAD + "spots:\n  - {id: s, holds: 2}\n" + two).problems == ()


def test_a_waiting_coral_does_not_crowd(tank_of: Make) -> None:
    folder = tank_of(
        HEAD
        + "spots:\n  - id: s\ncorals:\n  - {id: a, is: torch, spot: s}\nwaiting:\n  - {id: b, is: torch}\n"
    )
    assert [a.phase for a in folder.tank.animals] == [Phase.PLACED, Phase.WAITING]


def test_an_unknown_card_is_not_this_readers_business(tank_of: Make) -> None:
    assert tank_of("corals:\n  - {id: a, is: no such coral}\n").problems == ()


def test_markup_stays_text(tank_of: Make) -> None:
    tank = tank_of("name: '[bold red]x[/]'\nspots:\n  - {id: a, name: '[link=x]a[/link]'}\n").tank
    assert tank.name == "[bold red]x[/]"
    assert tank.spots[0].name == "[link=x]a[/link]"


def test_a_later_reading_is_kept_with_its_date(tank_of: Make) -> None:
    folder = tank_of("spots:\n  - {id: a, light: {value: 120 PAR, on: 2031-01-01}}\n")
    assert [f.said.on for f in folder.said("light", "a")] == [date(2031, 1, 1)]


def test_two_unlike_readings_of_one_day_are_one_note(tank_of: Make) -> None:
    folder = tank_of(
        "spots:\n  - {id: a, light: {value: 120 PAR, on: 2026-10-01}}\n"
        "readings:\n  - {spot: a, on: 2026-10-01, light: 90 PAR}\n"
    )
    (problem,) = folder.problems
    assert (problem.code, problem.severity) == ("reading-161", Severity.NOTE)
    assert len(folder.said("light", "a")) == 2


def test_two_like_readings_of_one_day_are_not_spoken_of(tank_of: Make) -> None:
    folder = tank_of(
        "spots:\n  - {id: a, light: {value: 120 PAR, on: 2026-10-01}}\n"
        "readings:\n  - {spot: a, on: 2026-10-01, light: 120 PAR}\n"
    )
    assert folder.problems == ()


def test_nothing_is_rewritten_by_reading(tank_of: Make) -> None:
    folder = tank_of(TWO).write("readings.csv", "spot,PAR\nledge,3\n").write("journal.jsonl", '{"id"')
    before = {p.name: (p.read_bytes(), p.stat().st_mtime_ns) for p in folder.path.iterdir()}
    folder.read()
    assert {p.name: (p.read_bytes(), p.stat().st_mtime_ns) for p in folder.path.iterdir()} == before


def test_a_link_out_of_the_folder_is_not_followed(tank_of: Make, tmp_path: Path) -> None:
    outside = tmp_path / "outside.csv"
    outside.write_text("spot,PAR\nledge,3\n")
    folder = tank_of(TWO)
    os.symlink(outside, folder.path / "readings.csv")
    assert folder.codes == ["file-105"]


def test_house_files_beside_the_tank_are_named(tank_of: Make) -> None:
    folder = tank_of("house: mine.rules\n")
    for name in ("zz.rules", "mine.rules", "house.rules"):
        folder.write(name, "edition 1\n")
    assert folder.tank.house_files == ("mine.rules", "house.rules", "zz.rules")


def test_the_tank_itself(tank_of: Make) -> None:
    tank = tank_of(
        "name: My Reef\ninvented: yes\nstarted: 2023-05-01\nhorizon: 2 years\nlast-event: e-1\n"
        "fish:\n  - clownfish\n  - {id: w, kind: wrasse}\n"
    ).tank
    assert (tank.id, tank.name, tank.invented, tank.started) == (
        "my-reef", "My Reef", True, date(2023, 5, 1),
    )  # fmt: skip
    assert tank.horizon_months == 24
    assert [(f.id, f.kind) for f in tank.fish] == [("clownfish-1", "clownfish"), ("w", "wrasse")]


def test_made_ids_step_round_stated_ones(tank_of: Make) -> None:
    tank = tank_of("corals:\n  - torch, 8 cm\n  - {id: torch-1, is: torch}\n  - {is: torch}\n").tank
    assert [a.id for a in tank.animals] == ["torch-2", "torch-1", "torch-3"]


def test_keys_may_be_spelled_with_spaces_hyphens_or_underscores(tank_of: Make) -> None:
    for key in ("hand reach", "hand-reach", "hand_reach", "Hand Reach"):
        folder = tank_of(f"spots:\n  - {{id: a, {key}: easy}}\n")
        assert [f.said.words for f in folder.said("hand-reach", "a")] == [("easy",)]


def test_the_nearest_folder_upward_is_the_tank(tank_of: Make) -> None:
    folder = tank_of("name: t\n")
    inner = folder.path / "a" / "b"
    inner.mkdir(parents=True)
    assert find_tank_folder(inner) == folder.path.resolve()
    assert find_tank_folder(folder.path.parent) is None


@given(text=st.text(max_size=300))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=100)
def test_no_text_makes_reading_raise(tank_of: Make, text: str) -> None:
    folder = tank_of("").write("tank.yaml", text.encode("utf-8", "surrogatepass"))
    folder.write("readings.csv", text.encode("utf-8", "surrogatepass"))
    folder.write("journal.jsonl", text.encode("utf-8", "surrogatepass"))
    _, problems = folder.read()
    assert {p.code for p in problems} <= set(headings())


_PARTS = st.sampled_from(
    ["spots:", "corals:", "\n", "  - ", "id: a", "light: ", "118 ±12 PAR", "{", "}", "[", "]", ", ",
     "none", "gaps: ", "a: 3 cm", "up-flow: ", "below: ", "at: ", "1, 2, 3 cm", "left, back", "flow: ",
     "distance: 20 cm", "seconds: ", "0", "-", "#", "\t", "is: torch", "size: ", "glass: ", "0 x 0 x 0",
     "&a ", "*a", "night looks: ", "comes from: ", "doing: well since 2026-01-01", "between: ", "water: ",
     "house: ", "rock: ", "also: ", "? "]
)  # fmt: skip


@given(parts=st.lists(_PARTS, max_size=40))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=150)
def test_no_mixture_of_known_words_makes_reading_raise(tank_of: Make, parts: list[str]) -> None:
    _, problems = tank_of("".join(parts)).read()
    assert {p.code for p in problems} <= set(headings())
