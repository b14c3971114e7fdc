"""Two small rules and their examples, for the tools that prove rules."""

from __future__ import annotations

from advisor.language.library import Library
from tests.reasoning.small import VOCABULARY, library_of, rule_text

PAIR = "animal a, neighbour b of a"
RULE = rule_text(
    "gap(a, b) >= room(a)", binders=PAIR, when="potency(a) >= 2", unless="divider(a, b) or fenced(b)"
)
ROOM = """let least = 5 cm because "a hand" source "us" kind guess
define room(animal a) in cm as
    least      when group(a) is soft
    reach(a)   otherwise
"""
FAR = """example "far" for tested
  given x is coral with potency = 3, group = stony, reach = 20 cm
        y is coral
        gap(x, y) = 30 cm
  then  x, y holds by 10 cm
"""
NEAR = """example "near" for tested
  given x is coral with potency = 3, group = stony, reach = 20 cm
        y is coral
        gap(x, y) = 12 cm
  then  x, y fails by 8 cm
"""
PARTED = """example "parted" for tested
  given x is coral with potency = 3, group = stony, reach = 20 cm
        y is coral
        gap(x, y) = 12 cm
        divider(x, y) = yes
  then  x, y excused
"""
CROWD = rule_text(
    "count of neighbour b of a where (gap(a, b) < 10 cm) <= 1", name="roomy", binders="animal a"
)
ONE = """example "one near" for roomy
  given x is coral
        y is coral
        gap(x, y) = 5 cm
  then  x holds by 0
"""


def little(*examples: str, rules: str = ROOM + RULE) -> Library:
    """Return a library of a rule about two animals with some examples."""
    return library_of(rules + "".join(examples), VOCABULARY)
