"""The Pygments lexer over every shipped file."""

from __future__ import annotations

from pathlib import Path

import pytest
from pygments.lexers import get_lexer_for_filename
from pygments.token import Error, Keyword, Name, Number, Operator, String, Text, Token

from advisor.editors.highlight import RulesLexer

RULES = Path(__file__).resolve().parents[2] / "rules"


@pytest.mark.parametrize("file", sorted(RULES.rglob("*.rules")), ids=lambda file: file.stem)
def test_nothing_of_a_shipped_file_is_unknown(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    tokens = list(RulesLexer().get_tokens(text))
    assert "".join(value for _, value in tokens) == text
    assert [value for kind, value in tokens if kind in (Error, Text, Token)] == []


def test_each_word_has_its_kind() -> None:
    text = 'rule dim\n  for coral c\n  expect light(c.spot) >= low-light and 5 cm > 1 cm\n  because "x"\n'
    tokens = {value: kind for kind, value in RulesLexer().get_tokens(text)}
    assert tokens["rule"] is Keyword.Declaration
    assert tokens["dim"] is Name.Class
    assert tokens["expect"] is Keyword
    assert tokens["light"] is Name.Function
    assert tokens["low-light"] is Name
    assert tokens["and"] is Operator.Word
    assert tokens["5"] is Number
    assert tokens["cm"] is Keyword.Type
    assert tokens['"x"'] is String.Double


def test_pygments_finds_it_by_the_ending_of_a_file() -> None:
    assert isinstance(get_lexer_for_filename("house.rules"), RulesLexer)
