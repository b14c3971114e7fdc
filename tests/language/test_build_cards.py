"""Cards: every line becomes values with keys, in base units, each with its ground."""

from __future__ import annotations

from advisor.language.nodes import Card, CardValue
from advisor.model.vocabulary import Grade, Source
from tests.language.texts import codes, faults, read

CARD = """
card odd "odd one"
  also     "first", "second"
  taxon    "Examplea odda"  genus examplea  group large-polyp  lives-on light
  light    min 40 PAR  best 80 to 150 PAR  max 250 PAR
           source "a study" kind study
  light    max 200 PAR
  flow     pattern random, pulsing  avoid direct-jet
  weapon   sweeper-tentacles reach 100 mm  at-most 25 cm  potency 5
  weapon   filaments  reach 1 cm
  contact  group odd-kin  rule touch-usually
  group    soft
  growth   form wall up 12 mm/year  out 1 mm/month
  swells   most 1.5 times      edge skeleton
  hazard   mild-sting "Gloves."
  note     "a note"
  source   "trade" kind guess
"""


def card(text: str = CARD) -> Card:
    """The one card of a text."""
    (item,) = read(text).declarations
    assert isinstance(item, Card)
    return item


def values(key: str, of: str = "") -> list[CardValue]:
    """The values of a key."""
    return [value for value in card().values if value.key == key and value.of == of]


def test_names_stand_on_the_card() -> None:
    assert (card().name, card().title, card().also) == ("odd", "odd one", ("first", "second"))


def test_numbers_are_in_base_units_with_the_unit_as_written() -> None:
    (up,) = values("growth-up")
    assert (up.number, up.unit) == (1.0, "mm/year")
    (reach,) = values("weapon-reach", "sweeper-tentacles")
    assert (reach.number, reach.unit) == (10.0, "mm")


def test_a_range_has_two_ends_with_one_unit() -> None:
    (low,), (high,) = values("light-best-low"), values("light-best-high")
    assert (low.number, low.unit, high.number, high.unit) == (80.0, "PAR", 150.0, "PAR")


def test_a_source_on_a_deeper_line_belongs_to_the_line_above() -> None:
    first, second = values("light-max")
    assert first.source == Source("a study", Grade.STUDY)
    assert second.source is None
    assert card().source == Source("trade", Grade.GUESS)


def test_each_weapon_keeps_its_own_values() -> None:
    assert [value.of for value in card().values if value.key == "weapon"] == [
        "sweeper-tentacles",
        "filaments",
    ]
    assert [value.number for value in values("weapon-reach", "filaments")] == [1.0]


def test_a_line_that_begins_with_group_is_no_part_of_contact() -> None:
    assert [value.words for value in values("contact-group")] == [("odd-kin",)]
    assert [value.words for value in values("group")] == [("large-polyp",), ("soft",)]


def test_texts_have_keys_of_their_own() -> None:
    assert [value.text for value in values("hazard-text")] == ["Gloves."]
    assert [value.text for value in values("note-text")] == ["a note"]


def test_two_heads_on_one_line_are_two_lines() -> None:
    assert [value.number for value in values("swells-most")] == [1.5]
    assert [value.words for value in values("edge")] == [("skeleton",)]


def test_a_mistyped_head_is_told() -> None:
    problems = faults('card odd "odd"\n  lihgt min 3 PAR')
    assert codes(problems) == ["word-101"]
    assert problems[0].mend == "light"
