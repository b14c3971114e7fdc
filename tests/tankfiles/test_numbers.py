"""Text to amounts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import QuantityError, Span
from advisor.model.vocabulary import NumberType, Vocabulary
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Scalar
from advisor.tankfiles.numbers import Amount, amount_text, read_amount
from advisor.units import UNITS, Dimension

LIGHT = NumberType(Dimension.LIGHT, UNITS["PAR"])
LENGTH = NumberType(Dimension.LENGTH, UNITS["cm"])
DAYS = NumberType(Dimension.TIME, UNITS["days"])
WARMTH = NumberType(Dimension.TEMPERATURE, UNITS["°C"])
SHARE = NumberType(Dimension.PERCENT, UNITS["%"])


@pytest.mark.parametrize(
    ("text", "kind", "amount"),
    [
        ("118 PAR", LIGHT, Amount(best=118)),
        ("118", LIGHT, Amount(best=118)),
        ("48 in", LENGTH, Amount(best=48 * 2.54)),
        ("118 ±12 PAR", LIGHT, Amount(best=118, error=12)),
        ("118 +- 12", LIGHT, Amount(best=118, error=12)),
        ("118 PAR +/- 10 %", LIGHT, Amount(best=118, error=11.8)),
        ("20 ± 5 mm", LENGTH, Amount(best=2, error=0.5)),
        ("20 cm ± 5 mm", LENGTH, Amount(best=20, error=0.5)),
        ("25 °C ± 0.5 K", WARMTH, Amount(best=25, error=0.5)),
        ("10 ± 2 %", SHARE, Amount(best=10, error=2)),
        ("100-140 PAR", LIGHT, Amount(low=100, high=140)),
        ("100 – 140", LIGHT, Amount(low=100, high=140)),
        ("100 PAR to 140 PAR", LIGHT, Amount(low=100, high=140)),
        ("5 to 10 mm", LENGTH, Amount(low=0.5, high=1)),
        ("at least 40 cm", LENGTH, Amount(low=40)),
        ("more than 40", LENGTH, Amount(low=40)),
        ("> 40 cm", LENGTH, Amount(low=40)),
        ("less than 5 cm", LENGTH, Amount(high=5)),
        ("medium", LIGHT, Amount(words=("medium",))),
        ("Low to Medium", LIGHT, Amount(words=("low", "medium"))),
        ("Food falls  straight down.", LIGHT, Amount(words=("food falls straight down",))),
        ("fleshy polyps sway, come to rest now and then", LIGHT,
         Amount(words=("fleshy polyps sway, come to rest now and then",))),
        ("weekly", DAYS, Amount(best=7)),
        ("every 2 weeks", DAYS, Amount(best=14)),
        ("twice a week", DAYS, Amount(best=3.5)),
        ("3 weeks", DAYS, Amount(best=21)),
    ],
)  # fmt: skip
def test_what_a_text_says(text: str, kind: NumberType, amount: Amount) -> None:
    found = amount_text(text, kind)
    assert found.words == amount.words
    for field in ("best", "error", "low", "high"):
        got, wanted = getattr(found, field), getattr(amount, field)
        assert got == (None if wanted is None else pytest.approx(wanted))


@pytest.mark.parametrize(
    ("text", "because"),
    [
        ("115 cm", "light is expected"),
        ("117,5 PAR", "decimal point"),
        ("140-100 PAR", "downward"),
        ("about 120 PAR", "how sure"),
        ("118 PARR", "unit"),
        ("118 ± -3 PAR", "below zero"),
        ("1e400 PAR", "finite"),
        ("2026-10-24", "a date"),
        ("12 PAR and more", "unit"),
    ],
)
def test_what_is_not_an_amount_says_why(text: str, because: str) -> None:
    with pytest.raises(QuantityError, match=because):
        amount_text(text, LIGHT)


@given(low=st.integers(0, 2000), more=st.integers(0, 400), error=st.integers(0, 90))
def test_writing_and_reading_agree(low: int, more: int, error: int) -> None:
    assert amount_text(f"{low}-{low + more} PAR", LIGHT) == Amount(low=low, high=low + more)
    assert amount_text(f"{low} ±{error} PAR", LIGHT) == Amount(best=low, error=error)


@given(text=st.text(max_size=60))
def test_any_text_is_an_amount_or_a_quantity_error(text: str) -> None:
    for kind in (LIGHT, DAYS, SHARE):
        try:
            amount = amount_text(text, kind)
        except QuantityError:
            continue
        filled = [
            amount.best is not None,
            amount.low is not None or amount.high is not None,
            bool(amount.words),
        ]
        assert sum(filled) == 1


@pytest.mark.parametrize("text", ["1.025", "1025", "1.025 ppt", "1,025", "1.025 sp"])
def test_a_specific_gravity_is_never_taken_for_parts_per_thousand(vocabulary: Vocabulary, text: str) -> None:
    ledger = Ledger()
    measure = vocabulary.measures["salinity"]
    assert isinstance(measure.type, NumberType)
    assert read_amount(Scalar(text, Span("tank.yaml")), measure, measure.type, ledger) is None
    (problem,) = ledger.problems
    assert problem.mend == "1.025 SG"


def test_specific_gravity_is_a_salinity(vocabulary: Vocabulary) -> None:
    measure = vocabulary.measures["salinity"]
    assert isinstance(measure.type, NumberType)
    for text in ("1.0264 SG", "1.0264 specific gravity"):
        amount = read_amount(Scalar(text, Span("tank.yaml")), measure, measure.type, Ledger())
        assert amount is not None
        assert amount.best == pytest.approx(35.0)


def test_a_number_outside_is_tried_in_other_units(vocabulary: Vocabulary) -> None:
    ledger = Ledger()
    measure = vocabulary.measures["temperature"]
    assert isinstance(measure.type, NumberType)
    assert read_amount(Scalar("78", Span("tank.yaml")), measure, measure.type, ledger) is None
    assert ledger.problems[0].mend == "78 °F"


@pytest.mark.parametrize(
    ("name", "text", "mend"),
    [
        ("flow", "20 cm and 2 s", "20 cm in 2.0, 2.2, 1.9 s, in place of what you timed"),
        ("flow", "20 cm in …, …, … s", "20 cm in 2.0, 2.2, 1.9 s, in place of what you timed"),
        ("size", "1 cm 2 cm", "one number with its unit, or a range from low to high"),
        ("light", "1,000 PAR", "one number with its unit, or a range from low to high"),
        ("light", "140-100 PAR", "one number with its unit, or a range from low to high"),
        ("size", "8,5 cm", "8.5 cm"),
    ],
)
def test_no_number_is_offered_that_was_not_meant(
    vocabulary: Vocabulary, name: str, text: str, mend: str
) -> None:
    ledger = Ledger()
    measure = vocabulary.measures[name]
    assert isinstance(measure.type, NumberType)
    assert read_amount(Scalar(text, Span("tank.yaml")), measure, measure.type, ledger) is None
    assert ledger.problems[0].mend == mend


def test_an_inch_and_a_half_is_one_number(vocabulary: Vocabulary) -> None:
    measure = vocabulary.measures["size"]
    assert isinstance(measure.type, NumberType)
    assert amount_text("1 1/2 inch", measure.type).best == pytest.approx(3.81)
