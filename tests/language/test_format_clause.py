"""One printed clause."""

from __future__ import annotations

from advisor.errors import Span
from advisor.language.format_clause import BODY, Clause, at, clause


def test_a_clause_stands_in_its_column() -> None:
    assert clause("level", "danger").lines == ["  level    danger"]
    assert clause("level", "danger").lines[0].index("danger") == BODY


def test_a_long_clause_goes_on_in_the_same_column() -> None:
    lines = clause("when", " and ".join(["fed(a)"] * 20)).lines
    assert len(lines) == 3
    assert lines[1][:BODY].strip() == ""


def test_a_clause_remembers_the_lines_it_comes_from() -> None:
    assert at(Span("x", 3, 1, 5, 2)) == (3, 5)
    assert at(Span("x", 3)) == (3, 3)
    assert at(None) == (0, 0)
    assert Clause(["x"]).start == 0
