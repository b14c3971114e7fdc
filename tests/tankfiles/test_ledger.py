"""Noting faults, and guessing what a misspelt name meant."""

from __future__ import annotations

import pytest

from advisor.errors import Severity, Span
from advisor.tankfiles.ledger import Ledger, closest, listed, try_closest


def test_problems_come_out_in_the_order_noted() -> None:
    ledger = Ledger()
    ledger.note("key-121", "first", Span("a"), severity=Severity.NOTE)
    assert not ledger.has_errors
    ledger.note("id-142", "second", mend="x")
    assert [(p.code, p.what) for p in ledger.problems] == [("key-121", "first"), ("id-142", "second")]
    assert ledger.has_errors


@pytest.mark.parametrize(
    ("word", "meant"), [("lihgt", "light"), ("flwo", "flow"), ("gasp", "gaps"), ("xylophone", "")]
)
def test_a_misspelt_name_is_guessed_or_not_at_all(word: str, meant: str) -> None:
    assert closest(word, ("light", "flow", "gaps", "faces")) == meant


def test_a_guess_does_not_hang_on_the_order_of_names() -> None:
    assert closest("ab", ("ac", "ad")) == closest("ab", ("ad", "ac"))


def test_where_nothing_is_alike_the_general_mend_is_given() -> None:
    assert try_closest("zzz", ("light",), "see the list") == "see the list"
    assert listed("abc", 2) == "a, b, …"
