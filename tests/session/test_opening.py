"""Opening a tank: the folder meant, its own rules, and what stops it."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from advisor.errors import Severity, UnusableInput
from advisor.rulework.checking import check_rules
from advisor.session.opening import (
    for_questions,
    house_rules,
    library_in_force,
    open_tank,
    usable,
    warnings_of,
)

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"


def test_the_nearest_folder_above_is_meant(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shelf = Path(shutil.copytree(EXAMPLES / "first-shelf", tmp_path / "shelf"))
    (shelf / "photos").mkdir()
    monkeypatch.chdir(shelf / "photos")
    assert open_tank(None, on=date(2026, 11, 2)).waiting == ("torch-1",)


def test_outside_a_tank_the_mend_makes_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(UnusableInput) as refused:
        open_tank(None, on=date(2026, 11, 2))
    assert refused.value.problems[0].code == "tank-602"
    assert house_rules(None) == ()


def test_a_day_beyond_reckoning_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput) as refused:
        open_tank(EXAMPLES / "first-shelf", on=date(2900, 1, 1))
    assert refused.value.problems[0].code == "ask-403"


def test_an_animal_without_a_card_is_told_beside_other_errors(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").write_text(
        "spots: [ledge]\ncorals:\n  - {id: odd, is: xyzzy}\n  - {id: t, is: torch, lihgt: 3 PAR}\n",
        encoding="utf-8",
    )
    with pytest.raises(UnusableInput) as caught:
        open_tank(tmp_path, on=date(2026, 11, 25))
    found = {problem.code: problem for problem in caught.value.problems}
    assert set(found) == {"key-121", "name-301"}
    span = found["name-301"].span
    assert span is not None
    assert (span.file, span.line) == ("tank.yaml", 3)


def house(folder: Path, *lines: str) -> Path:
    """Return a house file of these lines."""
    path = folder / "own.rules"
    path.write_text("edition 1\nhouse\n" + "".join(f"  {line}\n" for line in lines), encoding="utf-8")
    return path


DRIFTED = 'change torch light max from 199 PAR to 230 PAR because "an old card"'


def test_what_drifted_is_an_error_of_the_file_and_a_warning_to_who_asks(tmp_path: Path) -> None:
    own = house(tmp_path, DRIFTED)
    (found,) = check_rules(house=[own])[0]
    assert (found.code, found.severity) == ("house-501", Severity.ERROR)
    session = open_tank(EXAMPLES / "first-shelf", on=date(2026, 11, 2), house=[own])
    (told,) = session.problems
    assert (told.code, told.severity) == ("house-501", Severity.WARNING)
    assert told.label.endswith("this line is left out")
    answer = session.why("torch-1", "middle")
    notes = [
        text for reason in answer.place.reasons if reason.rule == "not-too-bright" for text in reason.house
    ]
    assert notes == [
        "your house file's change of torch light max from 199 PAR to 230 PAR does not count: "
        "the shipped value is now 250 PAR; your 230 PAR is now stricter than the shipped value"
    ]


def test_any_other_fault_of_a_line_stops_every_question(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput):
        open_tank(
            EXAMPLES / "first-shelf",
            on=date(2026, 11, 2),
            house=[house(tmp_path, "change no-such-number from 3 cm to 9 cm")],
        )


def test_a_line_counts_until_its_last_day_whoever_asks(tmp_path: Path) -> None:
    own = house(tmp_path, 'change torch light max from 250 PAR to 230 PAR because "x" until 2026-11-02')
    for day, most, codes in ((2, 230.0, []), (3, 250.0, ["house-512"])):
        library, problems = library_in_force(None, [own], date(2026, 11, day))
        (value,) = [value for value in library.cards["torch"].values if value.key == "light-max"]
        assert value.number == most
        assert [problem.code for problem in problems] == codes
        assert [problem.code for problem in warnings_of(library, problems)] == codes
    assert [problem.code for problem in library_in_force(None, [own])[1]] == []


@pytest.mark.parametrize(("line", "asked"), [
    ("switch off no-such-rule", True),
    ("accept keep-clear-of-stingers for a-1, b-1 short by 3", True),
    ("level keep-clear-of-stingers from danger to warning", True),
    ('level keep-clear-of-stingers from warning to advice because "old"', True),
    ("change room-allowance from 3 cm to 9 cm", True),
    ("accept enough-light for a-1", True),
    ("level enough-light from warning to danger", False),
    ("change no-such-number from 3 cm to 9 cm", False),
    ("change room-allowance from 2 cm to -9 cm", False),
    ("switch of enough-light", False),
])  # fmt: skip
def test_a_tank_is_asked_about_without_a_faulty_line_only_where_that_is_stricter(
    line: str, asked: bool, tmp_path: Path
) -> None:
    (tmp_path / "house.rules").write_text(f"edition 1\nhouse\n  {line}\n", encoding="utf-8")
    library, problems = library_in_force(None, (tmp_path / "house.rules",))
    found = for_questions(problems, library)
    if asked:
        assert usable(library, problems) is library
        assert all(problem.label.endswith("; this line is left out") for problem in found)
        assert bool(found) is (problems[0].severity is Severity.ERROR)
    else:
        assert Severity.ERROR in {problem.severity for problem in found}
        with pytest.raises(UnusableInput):
            usable(library, problems)


SAYS = 'change torch light max from 250 PAR to {} PAR because "x"'


@pytest.mark.parametrize(("days", "asked", "told"), [
    (" until 2025-06-01", Severity.WARNING, ["house-512"]),
    (" on 2027-01-01", Severity.WARNING, ["house-503", "house-512"]),
    (" until 2026-11-02", Severity.ERROR, ["house-503"]),
])  # fmt: skip
def test_lines_contradict_each_other_only_on_days_still_to_come(
    days: str, asked: Severity, told: list[str], tmp_path: Path
) -> None:
    own, day = house(tmp_path, SAYS.format(230) + days, SAYS.format(220)), date(2026, 11, 2)
    assert sorted(problem.code for problem in check_rules(house=[own], on=day)[0]) == told
    library, problems = library_in_force(None, [own], day)
    found = for_questions(problems, library)
    assert sorted(problem.code for problem in found) == told
    assert {problem.severity for problem in found} == {asked}
    (value,) = [value for value in library.cards["torch"].values if value.key == "light-max"]
    assert value.number == (250 if asked is Severity.ERROR else 220)
