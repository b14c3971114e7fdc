"""The word list against the grammar it is taken from."""

from __future__ import annotations

import pkgutil
import re

from advisor.editors.words import words
from advisor.language.pieces import TOP_WORDS
from advisor.units import UNITS


def in_grammar(start: str, end: str) -> set[str]:
    """Return the quoted words of the grammar between two rules."""
    grammar = (pkgutil.get_data("advisor.language", "grammar.lark") or b"").decode("utf-8")
    part = grammar[grammar.index(start) : grammar.index(end)]
    rules = re.sub(r"^//.*$", "", part, flags=re.MULTILINE)
    return set(re.findall(r'"([a-z][a-z-]*)"', rules))


def test_the_words_inside_an_expression_are_those_of_the_grammar() -> None:
    terminals = {"count", "sum", "least", "most", "larger", "smaller"}
    assert set(words().logic) == (in_grammar("?expr:", "// --- examples") - {"for"}) | terminals


def test_every_word_of_the_grammar_is_in_one_class() -> None:
    known = words()
    classes = [known.beginning, known.logic, known.values, known.clause]
    every = [word for found in classes for word in found]
    assert len(every) == len(set(every))
    assert in_grammar("edition_decl:", "// --- terminals") <= set(every)
    assert set(known.beginning) == set(TOP_WORDS)


def test_every_unit_is_known() -> None:
    assert set(words().units) == set(UNITS) - {'"'}
