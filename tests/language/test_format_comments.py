"""Where comments go."""

from __future__ import annotations

from advisor.errors import Span
from advisor.language.format_clause import Clause
from advisor.language.format_comments import Block, place_comments
from advisor.language.format_lines import Lines
from advisor.language.nodes import Comment
from tests.language.texts import read


def block(*starts: int) -> Block:
    """A block of clauses that begin on the given lines; 0: not known."""
    (item,) = read("let x = 3 cm").declarations
    return Block(
        item, [Clause([f"clause {index}"], start, start) for index, start in enumerate(starts)], starts[0]
    )


def own(line: int, text: str, column: int = 3) -> Comment:
    """A comment on a line of its own."""
    return Comment(Span("x", line, column, line, column + len(text), " " * (column - 1) + text), text)


def beside(line: int, code: str, text: str) -> Comment:
    """A comment behind something."""
    column = len(code) + 3
    return Comment(Span("x", line, column, line, column + len(text), f"{code}  {text}"), text)


def test_a_comment_stands_above_the_clause_that_follows_it() -> None:
    found = block(2, 3, 5)
    assert place_comments([found], [own(4, "# note")]) == []
    assert found.lines() == ["clause 0", "clause 1", "  # note", "clause 2"]


def test_a_clause_of_unknown_line_lies_between_its_neighbours() -> None:
    before, after = block(2, 3, 0, 6), block(2, 3, 0, 6)
    place_comments([before], [own(4, "# note")])
    place_comments([after], [own(5, "# note")])
    assert before.lines() == ["clause 0", "clause 1", "  # note", "clause 2", "clause 3"]
    assert after.lines() == ["clause 0", "clause 1", "clause 2", "  # note", "clause 3"]


def test_a_comment_at_the_left_edge_belongs_to_what_comes_next() -> None:
    first, second = block(2, 3), block(8, 9)
    assert place_comments([first, second], [own(6, "# next", 1), own(12, "# end", 1)])[0].text == "# end"
    assert [comment.text for comment in second.before] == ["# next"]


def test_a_comment_beside_stays_with_the_clause_it_stands_beside() -> None:
    found = block(2, 3, 4)
    found.clauses[2].lines[:] = ["  level danger"]
    place_comments([found], [beside(4, "  level danger", "# so"), beside(4, "  level danger", "# and so")])
    assert found.lines() == ["clause 0", "clause 1", "  # and so", "  level danger  # so"]


def test_one_empty_line_is_kept_where_some_stood() -> None:
    found = block(1, 3, 7)
    lines = Lines.of("clause 0\n\nclause 1\n\n\n# note\nclause 2\n")
    place_comments([found], [own(6, "# note", 1)], lines)
    assert found.lines() == ["clause 0", "", "clause 1", "", "  # note", "clause 2"]


def test_a_clause_that_stands_apart_takes_its_comment_along() -> None:
    found = block(1, 2, 4)
    found.clauses[2].apart = True
    assert found.lines() == ["clause 0", "clause 1", "", "clause 2"]
    place_comments([found], [own(3, "# note")])
    assert found.lines() == ["clause 0", "clause 1", "", "  # note", "clause 2"]
