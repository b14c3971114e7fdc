"""Declarations as they are printed."""

from __future__ import annotations

import pytest

from advisor.language.format import format_file
from advisor.language.format_decl import clauses
from tests.language.texts import read

TEXTS = [
    "measure light(place p) in PAR between 0 and 2500 PAR step 5 PAR error 12 % stale after 180 days\n"
    "  from keeper, computed by light-here\n"
    '  assume 40 to 110 PAR for soft, clam when unknown because "dim" kind guess\n'
    '  say "light at {p}"  ask "Read the meter"\n',
    "measure temperature(tank) in °F between 32 and 104 °F usual 60 to 90 °F step 0.5 K error 0.5 K\n"
    "  from keeper\n",
    "measure potency(animal a) in rank between 0 and 5 step 1 stricter higher\n  from card weapon-potency\n",
    "measure ledge(place p) yes or no\n  from keeper\n",
    "measure genus(animal a) a name\n  from card genus\n",
    'relation divider(animal a, animal b) given\n  from keeper\n  say "a divider"\n',
    'word "very low" of flow from seller means 20 to 50 mm/s  source "s" kind guess\n',
    'let x = 3 cm  because "so"  source "s" kind study dated 2024\n',
    "define reach(animal a, place p, tank) in cm as\n"
    "    0 cm     when not fed(a)\n    size(a)  otherwise\n"
    '  say "reach of {a}"\n',
    "rule x\n  for      animal a, neighbour n of a\n  when     fed(a)\n"
    "  expect   gap(a, n) >= 3 cm  until horizon\n"
    '  unless   divider(a, n)\n  level    danger\n  stage    settled\n  because  "{a} is {gap(a, n)} off"\n'
    '  matters  "m"\n  remedy   "move {a}"\n  then do  "look"\n  source   "s" kind maker\n',
    'rule x\n  for      tank\n  expect-by-eye "polyps are open"\n  level    advice\n  because  "y"\n',
    'prefer x\n  for      animal a\n  want     size(a) > 3 cm\n  weight   2  fade 4 steps\n  because  "y"\n',
]


@pytest.mark.parametrize("text", TEXTS, ids=lambda text: text.split("(")[0][:30])
def test_a_declaration_is_printed_in_its_one_form(text: str) -> None:
    assert format_file(read(text)) == f"edition 1\n\n{text}"


def test_the_first_clause_is_the_head() -> None:
    for text in TEXTS:
        (item,) = read(text).declarations
        assert clauses(item)[0].lines[0] == text.split("\n")[0]
