"""House lines in force on a day."""

from __future__ import annotations

from datetime import date

from advisor.language.house_dates import as_of
from advisor.language.library import AsideKind
from tests.language.texts import base_library, checked, codes

LINES = """house
  change low-light from 50 PAR to 60 PAR until 2026-11-02
  change lamp-torch light max from 250 PAR to 230 PAR until 2026-11-02
  change lamp-torch light min from 50 PAR to 60 PAR for torch-1 until 2026-11-02
  level light-enough from warning to advice on 2026-10-01 until 2026-11-02
  switch off mind because "x" until 2026-11-02
  change sweeper-allowance from 5 cm to 6 cm because "stays"
"""
RULE = 'rule mind\n  for animal a\n  expect size(a) > 1 cm\n  level danger\n  because "{a}"\n'
EXAMPLE = 'example "e" for mind\n  given a-1 is animal\n  then a-1 undecided\n'


def test_the_last_day_counts_and_the_day_after_nothing_of_it_is_left() -> None:
    library, problems = checked(RULE + EXAMPLE, LINES)
    assert codes(problems) == ["text-406"]
    last, told = as_of(library, date(2026, 11, 2))
    assert told == ()
    assert (last.lets, last.rules, last.cards, last.alone) == (
        library.lets,
        library.rules,
        library.cards,
        library.alone,
    )
    over, told = as_of(library, date(2026, 11, 3))
    assert codes(told) == ["house-512"] * 5
    plain, _ = checked(RULE + EXAMPLE)
    assert over.lets["low-light"] == plain.lets["low-light"]
    assert over.lets["sweeper-allowance"].value.value == 6.0
    assert (over.rules, over.cards, over.alone) == (plain.rules, plain.cards, {})
    assert over.examples == plain.examples
    assert [line.target for line in over.house] == ["sweeper-allowance"]
    assert {aside.kind for aside in over.aside} == {AsideKind.RAN_OUT}


def test_a_line_does_not_count_before_its_first_day() -> None:
    library, _ = checked(RULE, LINES)
    early, told = as_of(library, date(2026, 9, 30))
    assert codes(told) == ["house-512"]
    assert early.rules["light-enough"].level == base_library().rules["light-enough"].level
    assert [aside.kind for aside in early.aside] == [AsideKind.NOT_YET]
    assert early.on == "2026-09-30"


def test_what_does_not_count_for_another_reason_stays_told() -> None:
    library, _ = checked(
        "house\n"
        "  change low-light from 40 PAR to 60 PAR\n"
        "  change lamp-torch light max from 250 PAR to 230 PAR until 2026-01-01\n"
    )
    found, _ = as_of(library, date(2026, 11, 2))
    assert sorted(aside.kind.value for aside in found.aside) == ["drifted", "ran out"]


def test_lines_that_follow_each_other_count_each_in_its_time() -> None:
    library, problems = checked(
        "house\n"
        "  change low-light from 50 PAR to 60 PAR until 2026-06-30\n"
        "  change low-light from 50 PAR to 70 PAR on 2026-07-01\n"
    )
    assert problems == ()
    for day, number in ((date(2026, 6, 30), 60.0), (date(2026, 7, 1), 70.0)):
        found, told = as_of(library, day)
        assert found.lets["low-light"].value.value == number
        assert codes(told) == ["house-512"]


def test_lines_that_never_count_together_are_not_held_against_each_other() -> None:
    _, problems = checked(
        "",
        """house
  change lamp-torch light max from 250 PAR to 155 PAR because "dim year" until 2026-12-31
  change lamp-torch light best from 80 to 150 PAR to 160 to 200 PAR because "bright" on 2027-01-01
""",
    )
    assert "card-910" not in codes(problems)


def test_a_fault_on_some_days_is_one_though_another_line_mends_it_later() -> None:
    _, problems = checked(
        "",
        """house
  change lamp-torch light max from 250 PAR to 40 PAR because "dim year" until 2026-12-31
  change lamp-torch light max from 250 PAR to 300 PAR because "bright" on 2027-01-01
""",
    )
    assert "card-910" in codes(problems)


TWO = """house
  change low-light from 50 PAR to 60 PAR until 2026-06-30
  change low-light from 50 PAR to 70 PAR
"""


def test_a_line_that_has_run_out_contradicts_nothing() -> None:
    library, problems = checked(TWO)
    assert codes(problems) == ["house-503"]
    last, told = as_of(library, date(2026, 6, 30), problems)
    assert (codes(told), last.lets["low-light"].value.value) == (["house-503"], 50.0)
    assert len(last.contested) == 2
    over, told = as_of(library, date(2026, 7, 1), problems)
    assert (codes(told), over.lets["low-light"].value.value) == (["house-512"], 70.0)
    assert over.contested == ()


def test_lines_that_will_contradict_each_other_are_told_before_and_count_until_then() -> None:
    library, problems = checked(TWO.replace("until", "on"))
    early, told = as_of(library, date(2026, 6, 1), problems)
    assert codes(told) == ["house-503", "house-512"]
    assert (early.lets["low-light"].value.value, early.contested) == (70.0, ())


def test_a_line_that_lets_pass_is_no_longer_said_to_be_contradicted_once_the_other_has_run_out() -> None:
    library, problems = checked(
        RULE + EXAMPLE,
        """house
  level mind from danger to advice because "x" until 2026-06-30
  level mind from danger to warning because "x"
""",
    )
    assert {aside.kind for aside in library.aside} == {AsideKind.FAULTY}
    over, told = as_of(library, date(2026, 7, 1), problems)
    assert "house-503" not in codes(told)
    assert [(aside.kind, aside.edit.until) for aside in over.aside] == [(AsideKind.RAN_OUT, "2026-06-30")]
    assert over.rules["mind"].level.value == "warning"
