"""From what was typed to two sets of rules."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.model.difference import Declared, DiffAnswer
from advisor.rulework.comparing import diff_rules, tanks_asked
from tests.language.texts import HERE
from tests.rules.days import DAY
from tests.rulework.test_outcomes import TANK

BASE = (HERE / "base.rules").read_text(encoding="utf-8")


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    """A small folder of rules that stands for the shipped ones."""
    folder = tmp_path / "rules"
    folder.mkdir()
    (folder / "base.rules").write_text(BASE, encoding="utf-8")
    return folder


def house(folder: Path, line: str, name: str = "house.rules") -> Path:
    path = folder / name
    path.write_text(f"edition 1\nhouse\n  {line}\n", encoding="utf-8")
    return path


def told(answer: DiffAnswer) -> list[str]:
    return [change.id for change in answer.changes]


def test_two_folders(rules: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    (other / "base.rules").write_text(BASE.replace("= 5 cm", "= 7 cm"), encoding="utf-8")
    answer = diff_rules(str(rules), str(other), on=DAY)
    assert told(answer) == ["let sweeper-allowance"]
    assert (answer.before, answer.after) == (str(rules), str(other))


def test_a_house_file_is_laid_over_what_ships(rules: Path, tmp_path: Path) -> None:
    path = house(tmp_path, 'change sweeper-allowance from 5 cm to 8 cm because "a"')
    answer = diff_rules("shipped", str(path), rules=rules, on=DAY)
    assert told(answer) == ["let sweeper-allowance"]
    back = diff_rules(str(path), "shipped", rules=rules, on=DAY)
    assert [(line.old, line.new) for line in back.changes[0].lines if line.clause == "value"] == [
        ("8 cm", "5 cm")
    ]


def test_a_rule_of_the_house_is_added(rules: Path, tmp_path: Path) -> None:
    path = tmp_path / "own.rules"
    path.write_text('edition 1\nlet spare = 3 cm because "a"\n', encoding="utf-8")
    (change,) = diff_rules("shipped", str(path), rules=rules, on=DAY).changes
    assert (change.id, change.what) == ("let spare", Declared.ADDED)


def test_the_house_of_a_tank_is_laid_over_both_unless_it_is_a_side(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").write_text(TANK, encoding="utf-8")
    own = house(tmp_path, 'change torch light max from 250 PAR to 240 PAR because "a"')
    other = house(tmp_path, 'change torch light min from 50 PAR to 60 PAR because "a"', "try.rules")
    both = diff_rules("shipped", str(other), tanks=[tmp_path], on=DAY)
    assert {cause for flip in both.flips for cause in flip.causes} == {"card torch light-min"}
    mine = diff_rules("shipped", str(own), tanks=[tmp_path], on=DAY)
    narrow = [flip for flip in mine.flips if flip.rule == "not-too-bright" and flip.about == "tank"]
    assert [(flip.before.told, flip.after.told) for flip in narrow] == [
        ("holds by 130 PAR", "holds by 120 PAR")
    ]


def test_a_line_that_is_left_out_is_noted(rules: Path, tmp_path: Path) -> None:
    path = house(tmp_path, 'change sweeper-allowance from 6 cm to 8 cm because "a"')
    answer = diff_rules("shipped", str(path), rules=rules, on=DAY)
    assert answer.changes == ()
    assert len(answer.notes) == 1
    assert "this line is left out" in answer.notes[0]


def test_a_side_that_is_nothing_is_told() -> None:
    with pytest.raises(UnusableInput) as fault:
        diff_rules("shipped", "nowhere.rules", on=DAY)
    assert [problem.code for problem in fault.value.problems] == ["ask-405"]


def test_the_nearest_tank_is_asked_and_each_only_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "tank.yaml").write_text(TANK, encoding="utf-8")
    inner = tmp_path / "inner"
    inner.mkdir()
    monkeypatch.chdir(inner)
    assert tanks_asked(None) == (tmp_path,)
    assert tanks_asked(tmp_path, [tmp_path / "inner" / ".."]) == (tmp_path,)
    monkeypatch.chdir("/")
    assert tanks_asked(None) == ()
