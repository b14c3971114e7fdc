"""From what was typed to two sets of rules."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.model.difference import Declared, DiffAnswer
from advisor.rulework.comparing import diff_rules, tanks_asked
from advisor.rulework.scaffold import new_rule
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


OWN = """edition 1
measure shade-hours(place p) in hours between 0 and 24 hours  from keeper
measure colour(animal a) one of brown, green  from keeper
let own-corner = 8 cm/s
  because "mine tear above that"
define calm-for-mine(place p) as flow(p) <= own-corner and shade-hours(p) <= 4 hours
rule mine-stand-calm
  for      coral c
  when     c.group is large-polyp
  expect   calm-for-mine(c.spot)
  level    warning
  because  "{c} would stand in {flow(c.spot)}"
  matters  "they tear"
  remedy   "at most {own-corner}"
  source   "own tank" kind experience
prefer mine-like-shade
  for      coral c
  when     c.colour is green
  want     shade-hours(c.spot) >= 1 hours
  weight   2  fade 2 steps
  because  "{c} has {shade-hours(c.spot)}"
  source   "own tank" kind experience
lever turn-the-shade(place p) changes shade-hours(p) down by 1 hours cost 3
  say "shade {p} less"
example "too strong" for mine-stand-calm
  given c-1 is coral with group = large-polyp, colour = green
        flow(c-1.spot) = 14 cm/s
        shade-hours(c-1.spot) = 2 hours
  then  c-1 fails
example "my words about a shipped rule" for not-too-bright
  given c-1 is coral with group = large-polyp, light-max = 300 PAR, colour = green
        light(c-1.spot) = 100 PAR
  then  c-1 holds
card my-brain "mystery brain"
  taxon    "Examplea cerebralis"  genus examplea  group large-polyp  lives-on light
  light    min 40 PAR  best 60 to 120 PAR  max 180 PAR
  flow     min 3 cm/s  best 5 to 10 cm/s  max 15 cm/s
  source   "own tank" kind guess
"""
OWN_TANK = """name: small
glass: 100 x 50 x 50 cm
spots:
  - id: ledge
    light: {value: 120 PAR, error: 5 PAR}
    flow: {value: 14 cm/s, error: 1 cm/s}
    also: {shade-hours: 2 hours}
  - {id: floor, light: {value: 60 PAR, error: 2 PAR}, flow: {value: 14 cm/s, error: 1 cm/s}}
corals:
  - {id: brain-1, is: my-brain, spot: ledge, size: 8 cm, placed: 2026-01-01, also: {colour: green}}
"""


@pytest.mark.parametrize("turned", [False, True])
def test_a_house_file_with_words_numbers_rules_and_cards_of_its_own(tmp_path: Path, turned: bool) -> None:
    (tmp_path / "tank.yaml").write_text(OWN_TANK, encoding="utf-8")
    path = tmp_path / "house.rules"
    path.write_text(OWN, encoding="utf-8")
    sides = (str(path), "shipped") if turned else ("shipped", str(path))
    answer = diff_rules(*sides, tanks=[tmp_path], on=DAY)
    kinds = {change.kind for change in answer.changes}
    assert kinds == {"rule", "prefer", "let", "define", "card", "measure", "lever"}
    mine = {flip.about: flip for flip in answer.flips if flip.rule == "mine-stand-calm"}
    assert {about: flip.subjects for about, flip in mine.items()} == {
        "example": ("too strong", "c-1"),
        "tank": ("brain-1",),
    }
    for flip in mine.values():
        old, new = (flip.after, flip.before) if turned else (flip.before, flip.after)
        assert (old.answer, new.answer) == ("", "fails")
        assert flip.traced
    assert mine["example"].causes == ("rule mine-stand-calm",)
    assert not [flip for flip in answer.flips if flip.about == "example" and flip.rule == "not-too-bright"]


def test_the_draft_of_a_rule_is_compared(tmp_path: Path) -> None:
    path = tmp_path / "mine.rules"
    new_rule("torch-room", "coral c, neighbour n of c", path, house=())
    answer = diff_rules("shipped", str(path), on=DAY)
    assert {change.kind for change in answer.changes} == {"rule", "let"}


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
