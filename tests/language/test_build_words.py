"""Measures, relations, words, lets and definitions out of the parser's tree."""

from __future__ import annotations

import pytest

from advisor.language.nodes import Define, Let, WordMeaning
from advisor.model.vocabulary import (
    YES_NO,
    Grade,
    Kind,
    Measure,
    NumberType,
    Param,
    Relation,
    SetType,
    Supplier,
    WordType,
)
from advisor.units import Dimension
from tests.language.texts import codes, faults, read


def measure(text: str) -> Measure:
    """One measure."""
    (item,) = read(f"measure {text}").declarations
    assert isinstance(item, Measure)
    return item


def test_numbers_of_a_measure_are_in_base_units() -> None:
    found = measure(
        "age(tank) in months between 0 and 12 months step 1 weeks error 10 % stale after 24 hours from keeper"
    )
    assert isinstance(found.type, NumberType)
    assert found.type.dimension is Dimension.TIME
    assert (found.low, found.high, found.step) == (0.0, 365.25, 7.0)
    assert (found.error, found.error_is_fraction, found.stale_days) == (0.1, True, 1.0)


def test_what_is_usual_is_in_base_units() -> None:
    found = measure("width(animal a) in cm between 0 and 2 m usual 5 to 800 mm from keeper")
    assert found.usual == (0.5, 80.0)
    assert [found.is_unusual(*ends) for ends in ((0.4, 0.4), (0.5, 0.5), (0.1, 1.0), (81.0, 90.0))] == [
        True,
        False,
        False,
        True,
    ]
    assert not measure("width(animal a) in cm between 0 and 200 cm from keeper").is_unusual(0.0, 0.0)


def test_what_is_usual_runs_upward_and_has_a_unit() -> None:
    head = "measure width(animal a) in cm between 0 and 200 cm"
    assert codes(faults(f"{head} usual 9 to 5 cm from keeper")) == ["units-205"]
    assert codes(faults(f"{head} usual 5 to 9 from keeper")) == ["units-202"]


def test_a_step_of_temperature_is_a_difference() -> None:
    found = measure("warmth(tank) in °F between 32 and 104 °F step 9 °F error 0.5 K from keeper")
    assert (round(found.low, 9), round(found.high, 9)) == (0.0, 40.0)
    assert (found.step, found.error) == (5.0, 0.5)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("x(animal a) one of b, c from keeper", WordType(("b", "c"))),
        ("x(animal a) several of b, c from keeper", SetType(("b", "c"))),
        ("x(animal a) a name from keeper", WordType(())),
        ("x(animal a) yes or no from keeper", YES_NO),
    ],
)
def test_words_of_a_measure(text: str, kind: object) -> None:
    assert measure(text).type == kind


def test_suppliers_keep_their_order() -> None:
    found = measure("x(animal a) a name from card group, keeper, computed by kin")
    assert found.suppliers == (Supplier.CARD, Supplier.KEEPER, Supplier.COMPUTED)
    assert (found.card_line, found.computed_by) == ("group", "kin")


def test_assumptions_are_tried_in_order() -> None:
    found = measure(
        "x(animal a) in PAR between 0 and 500 PAR from keeper\n"
        '  assume 40 to 110 PAR for soft, clam when unknown because "dim" kind guess\n'
        '  assume 70 to 200 PAR when unknown because "mid" kind maker'
    )
    assert [(a.low, a.high, a.groups, a.grade) for a in found.assumptions] == [
        (40.0, 110.0, ("soft", "clam"), Grade.GUESS),
        (70.0, 200.0, (), Grade.MAKER),
    ]


def test_a_relation_may_be_given() -> None:
    (item,) = read('relation fenced(animal a) given from keeper say "{a} is fenced in"').declarations
    assert isinstance(item, Relation)
    assert (item.given, item.params, item.say) == (True, (Param(Kind.ANIMAL, "a"),), "{a} is fenced in")


def test_a_word_stands_for_a_range_in_base_units() -> None:
    (item,) = read('word "dim" of flow from seller means 20 to 50 mm/s source "s" kind guess').declarations
    assert isinstance(item, WordMeaning)
    assert (item.word, item.low, item.high, item.unit) == ("dim", 2.0, 5.0, "mm/s")


def test_a_let_is_kept_as_written() -> None:
    (item,) = read('let x = 12 mm because "b" source "s" kind study').declarations
    assert isinstance(item, Let)
    assert (item.value.value, item.value.unit, item.because) == (12.0, "mm", "b")


def test_a_definition_has_cases_in_order() -> None:
    (item,) = read(
        "define reach(animal a) in cm as\n  0 cm when pale(a)\n  size(a) when fed(a)\n  3 cm otherwise"
    ).declarations
    assert isinstance(item, Define)
    assert item.unit == "cm"
    assert [case.when is None for case in item.cases] == [False, False, True]


def test_a_measure_says_nothing_twice() -> None:
    assert codes(faults("measure x(animal a) in cm between 0 and 3 cm between 0 and 4 cm from keeper")) == [
        "word-113"
    ]
