"""The grammar: what its lexer takes for a name, a unit or a word of the language."""

from __future__ import annotations

import subprocess
import sys

import pytest

from advisor.language.nodes import Call, Compare, Let, Name, Number
from advisor.language.reader import RESERVED, keywords
from advisor.units import UNITS
from tests.language.texts import codes, faults, read, truth


@pytest.mark.parametrize(
    "word", ["kind", "source", "level", "error", "step", "light", "group", "stage", "say"]
)
def test_ordinary_nouns_stay_usable_as_names(word: str) -> None:
    found = truth(f"{word}(a) >= 3 cm and a.{word} is big")
    assert f"'{word}'" in repr(found)
    assert isinstance(read(f"let {word} = 3 cm").declarations[0], Let)


@pytest.mark.parametrize("word", sorted(RESERVED))
def test_reserved_words_are_no_names(word: str) -> None:
    assert codes(faults(f"let {word} = 3 cm")) == ["word-108"]


@pytest.mark.parametrize("unit", sorted(name for name in UNITS if name != '"'))
def test_every_unit_is_read_after_a_number(unit: str) -> None:
    (item,) = read(f"let x = 3 {unit}").declarations
    assert isinstance(item, Let)
    assert item.value.unit == unit


def test_a_unit_stands_on_the_line_of_its_number() -> None:
    file = read("define x(animal m) in rank as\n  2 when potency(m) >= 3\n  m.potency otherwise")
    assert "potency" in repr(file.declarations[0])


def test_a_word_that_begins_like_a_keyword_is_one_name() -> None:
    found = truth("whenever(a) >= isolated(b)")
    assert isinstance(found, Compare)
    assert isinstance(found.left, Call)
    assert found.left.name == "whenever"


def test_light_50_is_one_name_and_light_minus_50_is_not() -> None:
    assert isinstance(truth("light-50 >= 3 cm").left, Name)  # type: ignore[union-attr]  # a comparison
    assert isinstance(truth("light - 50 cm >= 3 cm").left.right, Number)  # type: ignore[union-attr]


def test_keywords_are_known_by_their_terminals() -> None:
    assert keywords("rule_decl")["EXPECT"] == "expect"


def test_lark_is_not_loaded_before_a_text_is_read() -> None:
    code = (
        "import sys, advisor.language.parse, advisor.language.check, advisor.language.codec; "
        "sys.exit('lark' in sys.modules or 'rapidfuzz' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
