"""The cards as what an animal can be."""

from __future__ import annotations

from advisor.reasoning.columns import Numbers, Words
from tests.language.texts import base_library
from tests.rulework.lints import library_of, space

SECOND = """card bare-coral "bare coral"
  taxon "Examplea nuda"  genus examplea  group soft
  light min 20 PAR  best 40 to 90 PAR  max 120 PAR
  source "an invented guide" kind guess
"""


def test_each_card_is_a_row_and_what_it_leaves_out_is_unknown() -> None:
    made = space(
        "light-max(a) > 9 PAR and potency(a) >= 1 and group(a) is soft", library_of(SECOND), cards=True
    )
    (deck,) = made.decks
    assert deck.size == 2
    columns = {cell.name: column for cell, column in deck.columns.items()}
    light, potency, group = columns["light-max"], columns["potency"], columns["group"]
    assert isinstance(light, Numbers)
    assert isinstance(potency, Numbers)
    assert isinstance(group, Words)
    assert sorted(light.low.tolist()) == [120.0, 250.0]
    bare = light.low.tolist().index(120.0)
    assert (potency.low[bare], potency.high[bare]) == (0.0, 5.0)
    assert group.domain[int(group.possible[bare].argmax())] == "soft"


def test_what_stands_elsewhere_is_no_card() -> None:
    made = space("light(a.spot) > 9 PAR and size(b) > 2 cm", base_library(), cards=True)
    assert made.decks == ()
    assert len(made.choices) == 2
