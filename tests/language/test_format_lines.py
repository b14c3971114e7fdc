"""Empty lines and first words of a file."""

from __future__ import annotations

from advisor.language.format_clause import Clause
from advisor.language.format_lines import Lines

TEXT = "\ufeffedition 1\r\n\r\nhouse\n  \u00a0\n  level a\n    house\n"


def test_any_blank_makes_an_empty_line() -> None:
    assert Lines.of(TEXT).empty() == [2, 4, 7]
    assert [Lines.of(TEXT).after_gap(line) for line in (1, 3, 5, 6, 99)] == [False, True, True, False, False]


def test_only_the_left_edge_begins_a_declaration() -> None:
    assert Lines.of(TEXT).starting("house") == [3]
    assert Lines.of(TEXT).starting("edition") == [1]
    assert Lines.of("houses\n").starting("house") == []


def test_a_clause_is_found_by_its_first_word_between_its_neighbours() -> None:
    clauses = [Clause(["rule x"], 1, 1), Clause(["  level    danger"]), Clause(["  source x"], 5, 5)]
    Lines.of("rule x\n  for a\n  level danger\n  level danger\n  source x").locate(clauses, 6)
    assert clauses[1].start == 3


def test_what_goes_on_with_the_clause_above_is_not_meant() -> None:
    clauses = [Clause(["card x"], 1, 1), Clause(["  note        a"], 2, 2), Clause(["  source b"])]
    Lines.of("card x\n  note a\n    source a\n  source b").locate(clauses, 5)
    assert clauses[2].start == 4


def test_a_clause_that_begins_no_line_stays_unknown() -> None:
    clauses = [Clause(["rule x"], 1, 1), Clause(["  level    danger"])]
    Lines.of("rule x level danger\nlet y = 1").locate(clauses, 2)
    assert clauses[1].start == 0


def test_no_text_has_no_lines() -> None:
    assert Lines.of("").texts == ()
    assert not Lines.of("").after_gap(3)
