"""Two sets of rules: what is written otherwise, and what is answered otherwise."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.model.difference import Declared, DiffAnswer, Meaning, Side
from advisor.model.results import Verdict, Word
from advisor.rulework.desks import tank_read
from advisor.rulework.difference import Sides, difference, meaning_of
from advisor.rulework.outcomes import LATER, Asked
from advisor.session.opening import library_in_force, shipped, usable
from tests.rules.days import DAY
from tests.rulework.lints import library_of
from tests.rulework.test_outcomes import EXAMPLE, TANK

TANKWISE = Asked("tank", "r", ("a-1",))
PLACE = Asked("place", "", ("a-1", "ledge"))
HOLDS, FAILS, OPEN, EXCUSED, OUT = (
    verdict.value
    for verdict in (Verdict.HOLDS, Verdict.FAILS, Verdict.UNDECIDED, Verdict.EXCUSED, Verdict.NOT_COVERED)
)


@pytest.mark.parametrize(
    ("old", "new", "meaning"),
    [
        (HOLDS, FAILS, Meaning.REFUSED),
        (OPEN, FAILS, Meaning.REFUSED),
        ("", FAILS, Meaning.REFUSED),
        (FAILS, HOLDS, Meaning.ALLOWED),
        (FAILS, EXCUSED, Meaning.ALLOWED),
        (FAILS, "", Meaning.ALLOWED),
        (FAILS, OPEN, Meaning.UNDECIDED),
        (HOLDS, OPEN, Meaning.UNDECIDED),
        (OPEN, HOLDS, Meaning.DECIDED),
        (HOLDS, LATER, Meaning.LESSER),
        (LATER, HOLDS, Meaning.BETTER),
        (HOLDS, EXCUSED, Meaning.OTHERWISE),
        (OUT, HOLDS, Meaning.OTHERWISE),
        ("", HOLDS, None),
        (OUT, "", None),
        (HOLDS, HOLDS, None),
    ],
)
def test_what_a_verdict_means(old: str, new: str, meaning: Meaning | None) -> None:
    assert meaning_of(TANKWISE, Side(answer=old), Side(answer=new), ("warning", "warning")) is meaning


@pytest.mark.parametrize(
    ("old", "new", "meaning"),
    [
        (Word.YES, Word.NO, Meaning.REFUSED),
        (Word.NO, Word.LIKELY, Meaning.ALLOWED),
        (Word.YES, Word.NOT_KNOWN, Meaning.UNDECIDED),
        (Word.NOT_KNOWN, Word.YES_BUT, Meaning.DECIDED),
        (Word.YES, Word.YES_UNTIL, Meaning.LESSER),
        (Word.LIKELY, Word.YES, Meaning.BETTER),
        (Word.NO, Word.NO, None),
    ],
)
def test_what_a_word_for_a_place_means(old: Word, new: Word, meaning: Meaning | None) -> None:
    assert meaning_of(PLACE, Side(answer=old.value), Side(answer=new.value), ("", "")) is meaning


def test_the_same_word_for_another_reason() -> None:
    old, new = Side(answer="NO", reasons=("a",)), Side(answer="NO", reasons=("a", "b"))
    assert meaning_of(PLACE, old, new, ("", "")) is Meaning.OTHERWISE


@pytest.mark.parametrize(("shrank", "told"), [(0.9, False), (1.0, True), (-3.0, False)])
def test_less_to_spare_is_told_from_one_step(shrank: float, told: bool) -> None:
    old, new = Side(answer=HOLDS, margin_steps=5.0), Side(answer=HOLDS, margin_steps=5.0 - shrank)
    assert (meaning_of(TANKWISE, old, new, ("", "")) is Meaning.LESS) is told


def test_failing_more_gravely_is_a_refusal() -> None:
    same = Side(answer=FAILS, margin_steps=-2.0)
    assert meaning_of(TANKWISE, same, same, ("warning", "danger")) is Meaning.REFUSED
    assert meaning_of(TANKWISE, same, same, ("danger", "advice")) is Meaning.ALLOWED


def compared(before: str, after: str) -> DiffAnswer:
    return difference(("a", "b"), Sides(library_of(before), library_of(after)), (), DAY)


def test_an_example_that_flips_names_the_edit() -> None:
    house = 'house\n  change lamp-torch light min from 50 PAR to 60 PAR because "x"\n'
    raised = EXAMPLE.replace("a-1 is animal with light-min = 50 PAR", "a-1 is animal with light-min = 90 PAR")
    answer = compared(EXAMPLE, EXAMPLE.replace("bright and dim", "another") + house)
    assert [(change.id, change.what) for change in answer.changes] == [
        ("card lamp-torch light-min", Declared.CHANGED)
    ]
    assert answer.flips == ()
    assert answer.examples == 4
    assert compared(EXAMPLE, raised).changes == ()  # an example is no rule


def test_a_level_and_a_number() -> None:
    rules = (
        'let limit = {0} PAR because "a"\nrule own\n  for animal a\n  expect light(a.spot) <= limit\n'
        '  level {1}\n  because "{{a}}"\nexample "bright" for own\n  given a-1 is animal\n'
        "        light(a-1.spot) = 130 PAR\n  then a-1 fails\n"
    )
    (flip,) = compared(rules.format(200, "advice"), rules.format(100, "advice")).flips
    assert (flip.meaning, flip.causes, flip.traced) == (Meaning.REFUSED, ("let limit",), True)
    assert (flip.before.told, flip.after.told) == ("holds by 70 PAR", "fails by 30 PAR")
    (graver,) = compared(rules.format(100, "advice"), rules.format(100, "warning")).flips
    assert (graver.meaning, graver.causes, graver.level) == (Meaning.REFUSED, ("rule own",), "warning")


def test_a_rule_that_only_has_another_name_changes_nothing() -> None:
    rule = (
        'rule {0}\n  for animal a\n  expect light(a.spot) <= low-light\n  level advice\n  because "{{a}}"\n'
        'example "bright" for {0}\n  given a-1 is animal\n'
        "        light(a-1.spot) = 130 PAR\n  then a-1 fails\n"
    )
    answer = compared(rule.format("dim"), rule.format("not-bright"))
    assert [(change.id, change.what, change.old_name) for change in answer.changes] == [
        ("rule not-bright", Declared.RENAMED, "dim")
    ]
    assert answer.flips == ()


def test_a_rule_that_a_house_line_switches_off_is_not_removed() -> None:
    rule = 'rule own\n  for animal a\n  expect light(a.spot) <= low-light\n  level advice\n  because "{a}"\n'
    off = compared(rule, rule + "house\n  switch off own\n")
    assert [(change.id, change.what) for change in off.changes] == [("rule own", Declared.SWITCHED_OFF)]
    gone = compared(rule, "")
    assert [(change.id, change.what) for change in gone.changes] == [("rule own", Declared.REMOVED)]


def test_what_is_no_longer_asked_is_not_decided() -> None:
    open_one = Side(answer=OPEN)
    assert meaning_of(TANKWISE, open_one, Side(answer=""), ("warning", "")) is Meaning.UNASKED
    assert meaning_of(TANKWISE, open_one, Side(answer=HOLDS), ("warning", "warning")) is Meaning.DECIDED


def test_the_same_rules_have_no_difference() -> None:
    answer = compared(EXAMPLE, EXAMPLE)
    assert (answer.changes, answer.flips) == ((), ())


def test_a_changed_number_in_a_tank(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").write_text(TANK, encoding="utf-8")
    house = tmp_path / "try.rules"
    house.write_text(
        'edition 1\nhouse\n  change torch light max from 250 PAR to 160 PAR because "a"\n', encoding="utf-8"
    )
    one, other = shipped(), usable(*library_in_force(None, [house]))
    sides = Sides(one, other, tank_read(tmp_path, one))
    seen: list[tuple[int, int]] = []
    answer = difference(
        ("shipped", "try"), Sides(one, other), [sides], DAY, lambda at, of: seen.append((at, of))
    )
    flips = {flip.rule: flip for flip in answer.flips if flip.about == "tank"}
    narrow = flips["not-too-bright"]
    assert (narrow.meaning, narrow.subjects) == (Meaning.LESS, ("torch-1",))
    assert (narrow.before.told, narrow.after.told) == ("holds by 130 PAR", "holds by 40 PAR")
    assert {flip.causes for flip in answer.flips} == {("card torch light-max",)}
    assert answer.tanks == ("small",)
    assert answer.compared > 50
    assert seen == [(0, 2), (1, 2)]


@pytest.mark.parametrize(
    ("old", "new", "meaning"),
    [
        ("yes", "no", Meaning.LESSER),
        ("yes", "", Meaning.LESSER),
        ("no", "yes", Meaning.BETTER),
        ("no", "no", None),
    ],
)
def test_an_open_answer_that_leans_the_other_way(old: str, new: str, meaning: Meaning | None) -> None:
    sides = Side(answer=OPEN, lean=old), Side(answer=OPEN, lean=new)
    assert meaning_of(TANKWISE, *sides, ("warning", "warning")) is meaning
