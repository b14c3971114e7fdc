"""What house edits are held against."""

from __future__ import annotations

from advisor.errors import Severity, Span
from advisor.language.house_state import House, base, missing, reason_due, same
from advisor.language.nodes import HouseEdit, HouseVerb, Number
from tests.language.texts import base_library


def house() -> House:
    """The base, not yet changed."""
    library = base_library()
    return House(library, dict(library.lets), dict(library.rules), dict(library.cards))


def edit(because: str = "") -> HouseEdit:
    """Any edit."""
    return HouseEdit(Span("x"), HouseVerb.CHANGE_LET, "sweeper-alowance", because=because)


def test_numbers_are_compared_in_base_units() -> None:
    at = Span("x")
    assert same(base(Number(at, 50.0, "mm")), base(Number(at, 5.0, "cm")))
    assert same(base(Number(at, 2.0, "in")), base(Number(at, 5.08, "cm")))
    assert not same(base(Number(at, 5.0, "cm")), base(Number(at, 5.1, "cm")))


def test_what_is_missing_is_guessed() -> None:
    found = house()
    assert not missing(found, edit(), "named number", found.lets)
    assert found.problems[0].mend == "sweeper-allowance"


def test_a_reason_is_due_where_a_danger_rests_on_it() -> None:
    found = house()
    assert reason_due(found, edit(), frozenset({"reach-most"}), "this")
    assert not reason_due(found, edit("because"), frozenset({"reach-most"}), "this")
    assert not reason_due(found, edit(), frozenset({"light-min"}), "this")
    assert len(found.problems) == 1


def test_a_reason_is_due_through_definitions() -> None:
    assert reason_due(house(), edit(), frozenset({"potency"}), "this")


def test_a_refusal_is_an_error() -> None:
    found = house()
    assert not found.refuse("house-502", "so", Span("x"))
    assert found.problems[0].severity is Severity.ERROR
