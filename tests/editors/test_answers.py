"""Places and names in an editor's terms."""

from __future__ import annotations

import pytest
from lsprotocol import types
from pygls.workspace import PositionCodec

from advisor.editors.answers import Text, completions, diagnostics, name_at
from advisor.errors import Problem, Related, Span
from advisor.session.opening import shipped


def test_wide_letters_count_as_the_editor_counts_them() -> None:
    text = Text(('  because "🐠 {c}" level\n',), PositionCodec())
    found = text.range(Span("x", 1, 18, 1, 23))
    assert (found.start.character, found.end.character) == (18, 23)
    assert text.place(types.Position(0, 18)) == ('  because "🐠 {c}" level', 17)


def test_a_place_past_the_end_is_no_accident() -> None:
    text = Text(("rule x\n",), PositionCodec())
    assert text.place(types.Position(9, 0)) == ("", 0)
    assert text.range(Span("x", 9, 1)).start.line == 8


@pytest.mark.parametrize(("at", "name"), [(0, "gap"), (3, "gap"), (4, "a"), (20, "low-light"), (12, "")])
def test_the_name_at_a_place(at: int, name: str) -> None:
    assert name_at("gap(a, b)  >=  low-light", at) == name


def test_a_problem_shows_its_code_its_mend_and_the_other_place() -> None:
    problem = Problem(
        "units-201", "lengths and light", Span("house.rules", 1, 1, 1, 5), "a length", "12 cm",
        related=(Related(Span("light.rules", 7), "set here"),),
    )  # fmt: skip
    text = Text(("rule x\n",), PositionCodec())
    (found,) = diagnostics([problem, problem_elsewhere()], "house.rules", text)
    assert found.code == "units-201"
    assert found.message.split("\n") == [
        "lengths and light",
        "a length",
        "set here: light.rules:7",
        "try: 12 cm",
    ]


def problem_elsewhere() -> Problem:
    """Return a problem of another file."""
    return Problem("word-101", "no word", Span("other.rules"))


@pytest.mark.parametrize(
    ("line", "there", "not_there"),
    [
        ("ru", "rule", "gap"),
        ("  level keep-", "keep-clear-of-stingers", "light"),
        ("  change room-", "room-allowance", "keep-clear-of-stingers"),
        ("  expect ga", "gap", "keep-clear-of-stingers"),
        ('example "x" for n', "not-too-bright", "gap"),
    ],
)
def test_what_fits_the_line_is_offered(line: str, there: str, not_there: str) -> None:
    offered = {item.label for item in completions(line, len(line), shipped())}
    assert there in offered
    assert not_there not in offered
