"""What is never used, limits without a name, and examples that are missing."""

from __future__ import annotations

from advisor.language.nodes import Outcome
from advisor.rulework.lint_names import holes, names_in, needed_outcomes, unused_findings
from tests.language.texts import base_library
from tests.rulework.lints import END, OWN, codes, findings, library_of

DIM = "rule dim\n  for animal a\n  expect light(a.spot) <= limit"


def test_a_number_that_only_a_text_shows_is_used() -> None:
    assert "lint-201" in codes('let limit = 90 PAR because "a"\n')
    shown = DIM.replace("limit", "light-max(a)") + '\n  level advice\n  because "{limit}, {a}"\n'
    assert "lint-201" not in codes('let limit = 90 PAR because "a"\n' + shown)


def test_what_the_house_switched_off_is_not_told_as_unused() -> None:
    text = 'let limit = 90 PAR because "a"\n' + DIM + END + '\nhouse\n  switch off dim because "for now"\n'
    assert codes(text) == []


def test_a_word_is_told_where_rules_stand_or_in_a_house_file() -> None:
    text = "measure grit(place p) in mm between 0 and 50 mm from keeper\n"
    library = library_of(text)
    assert [each.code for each in unused_findings(library, [OWN])].count("lint-203") == 1 + sum(
        each.code == "lint-203" for each in unused_findings(library)
    )


def test_names_are_followed_through_definitions() -> None:
    used = names_in(base_library())
    assert {"potency", "can-hurt", "sweeper-allowance"} <= used
    assert "low-light" not in used


def test_every_bare_limit_is_told_and_nought_is_none() -> None:
    text = "rule dim\n  for animal a\n  expect light(a.spot) between 20 PAR and 90 PAR" + END
    mends = [each.problem.mend for each in findings(text) if each.code == "lint-211"]
    assert [mend.split("=")[0] for mend in mends] == ["let dim-limit-1 ", "let dim-limit-2 "]
    assert codes("rule dim\n  for animal a\n  expect light(a.spot) > 0 PAR" + END) == []


def test_limits_inside_aggregates_are_found() -> None:
    text = (
        "rule crowd\n  for animal a\n  expect count of neighbour n of a where (gap(a, n) < 10 cm) <= 2"
        '\n  level advice\n  because "{a}"\n'
    )
    assert codes(text).count("lint-211") == 2


def test_what_examples_must_show() -> None:
    library = base_library()
    assert needed_outcomes(library.rules["light-enough"]) == (Outcome.HOLDS, Outcome.FAILS, Outcome.UNDECIDED)
    assert Outcome.EXCUSED in needed_outcomes(library.rules["keep-clear"])


def test_a_rule_with_its_examples_is_left_alone() -> None:
    text = 'let limit = 90 PAR because "a"\n' + DIM + END
    shown = (
        'example "all" for dim\n  given a-1 is animal\n        a-2 is animal\n        a-3 is animal\n'
        "        light(a-1.spot) = 20 PAR\n        light(a-2.spot) = 300 PAR\n"
        "  then a-1 holds\n       a-2 fails\n       a-3 undecided\n"
    )
    assert [each.code for each in findings(text)] == ["lint-221"]
    assert findings(text + shown) == []


def test_holes_are_what_a_text_is_filled_with() -> None:
    assert len(holes(base_library().rules["keep-clear"].because)) == 4
