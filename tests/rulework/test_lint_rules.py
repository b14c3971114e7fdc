"""What is said of one rule by itself."""

from __future__ import annotations

import pytest

from advisor.language.nodes import Outcome
from advisor.rulework.lint_rules import Solver, comparison_findings, define_findings, rule_findings, text_of
from advisor.rulework.possible import Settled
from tests.language.texts import base_library
from tests.rulework.lints import END, codes, library_of

SOFT = "rule own\n  for animal a\n  when group(a) is soft{when}\n  expect light(a.spot) <= limit{more}" + END
LIMIT = 'let limit = 200 PAR because "a limit"\nlet low = 100 PAR because "a limit"\n'


def said(when: str = "", more: str = "") -> list[str]:
    text = LIMIT + SOFT.replace("{when}", when).replace("{more}", more)
    return [code for code in codes(text) if code != "lint-201"]


@pytest.mark.parametrize(
    ("when", "more", "code"),
    [
        ("", "", []),
        (" and group(a) is clam", "", ["logic-304"]),
        (" and light(a.spot) < low", "", ["logic-305"]),
        (" and light(a.spot) > limit", "", ["logic-306"]),
        ("", "\n  unless light(a.spot) < low", ["logic-307"]),
        ("", "\n  unless light(a.spot) > low", ["logic-308"]),
        (" and group(a) is not clam", "", ["logic-311"]),
        (" and (size(a) > 3 cm or group(a) is clam)", "", []),
        ("", "\n  unless size(a) > 3 cm or light(a.spot) < low", ["logic-310"]),
        ("", " or size(a) > 151 cm", ["logic-310", "logic-314", "lint-211"]),
    ],
)
def test_what_a_rule_can_never_say(when: str, more: str, code: list[str]) -> None:
    assert said(when, more) == code


def test_an_exception_that_rests_on_the_limit_is_no_fault() -> None:
    assert said(more="\n  unless light(a.spot) <= 2 times * limit") == []


def test_a_by_eye_rule_is_only_asked_when_it_speaks() -> None:
    library = library_of(
        'rule look\n  for animal a\n  when group(a) is soft and group(a) is clam\n  expect-by-eye "open"'
        '\n  level advice\n  because "{a}"\n'
    )
    found = list(rule_findings(library.rules["look"], Solver(library)))
    assert [each.code for each in found] == ["logic-304"]


def test_what_could_not_be_followed_is_remembered() -> None:
    library = library_of(
        "rule crowd\n  for animal a\n  expect count of neighbour n of a where (gap(a, n) < 10 cm) <= 2"
        '\n  level advice\n  because "{a}"\n'
    )
    solver = Solver(library)
    assert list(rule_findings(library.rules["crowd"], solver)) == []
    assert list(comparison_findings(library.rules["crowd"], solver)) == []
    assert list(solver.not_analysed) == ["crowd"]


def test_a_question_is_asked_once() -> None:
    library = base_library()
    solver = Solver(library)
    rule = library.rules["light-enough"]
    assert solver.ask("x", rule.binders, rule.expect) is Settled.POSSIBLE
    assert solver.ask("y", rule.binders, rule.expect) is Settled.POSSIBLE
    assert len(solver.known) == 1
    assert solver.ask("y", rule.binders, None) is None


def test_an_example_is_only_shown_where_it_comes_out_as_wanted() -> None:
    library = base_library()
    solver, rule = Solver(library), library.rules["light-enough"]
    assert "light-enough" in solver.example("dim", rule, rule.expect, Outcome.HOLDS)
    assert solver.example("dim", rule, rule.expect, Outcome.FAILS, only=True) == ""
    assert "undecided" in solver.nothing_told("nothing", rule, rule.when)


def test_cases_are_told_where_those_above_leave_nothing() -> None:
    library = library_of(
        "define room(animal a) in cm as\n  9 cm when size(a) >= 10 cm\n  5 cm when size(a) < 10 cm\n"
        "  2 cm otherwise\n"
    )
    found = list(define_findings(library.defines["room"], Solver(library)))
    assert [(each.code, each.problem.span.line if each.problem.span else 0) for each in found] == [
        ("logic-316", 5)
    ]


def test_a_condition_reads_as_it_is_written() -> None:
    expect = base_library().rules["light-enough"].expect
    assert expect is not None
    assert text_of(expect) == "light(a.spot) >= light-min(a)"
