"""Entries, ids and names."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import Span
from advisor.tankfiles.entries import Entry, Names, Reading, as_list, read_id, slug
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Keyed, Scalar, read_yaml


def entry(text: str, ledger: Ledger) -> Entry:
    node = read_yaml(text, "t", ledger)
    assert isinstance(node, Keyed)
    return Entry(node, ledger)


def test_a_key_is_taken_once_and_the_rest_is_left() -> None:
    found = entry("hand reach: easy\nx: 1\n", Ledger())
    value = found.take("reach", "hand-reach")
    assert isinstance(value, Scalar)
    assert value.text == "easy"
    assert found.take("hand-reach") is None
    assert [name for name, _, _ in found.rest()] == ["x"]


def test_a_key_twice_keeps_the_first_and_shows_both() -> None:
    ledger = Ledger()
    found = entry("a b: 1\na-b: 2\n", ledger)
    (problem,) = ledger.problems
    assert problem.code == "yaml-116"
    assert problem.span is not None
    assert problem.related[0].span.line == 1
    value = found.take("a-b")
    assert isinstance(value, Scalar)
    assert value.text == "1"


@pytest.mark.parametrize(
    ("text", "made"), [("Left Ledge", "left-ledge"), ("café № 2", "cafe-no-2"), ("---", ""), ("a_b", "a-b")]
)
def test_an_id_made_of_a_name(text: str, made: str) -> None:
    assert slug(text) == made


@given(st.text(max_size=40))
def test_a_made_id_is_an_id_or_nothing(text: str) -> None:
    made = slug(text)
    assert made == "" or re.fullmatch(r"[a-z0-9][a-z0-9-]*", made)
    assert slug(made) == made


def test_a_stated_id_is_kept_and_a_bad_one_mended() -> None:
    ledger = Ledger()
    assert read_id(Scalar("torch-1", Span("t")), ledger) == "torch-1"
    assert not ledger.has_errors
    assert read_id(Scalar("Torch 1", Span("t")), ledger) == "torch-1"
    assert [(p.code, p.mend) for p in ledger.problems] == [("id-141", "torch-1")]


def test_names_are_found_by_id_or_by_what_they_are_called() -> None:
    names = Names(spots={"ledge-1": Span("t")}, called={"the-big-ledge": "ledge-1"})
    assert names.resolve("ledge-1", names.spots) == "ledge-1"
    assert names.resolve("Ledge 1", names.spots) == "ledge-1"
    assert names.resolve("the big ledge", names.spots) == "ledge-1"
    assert names.resolve("the big ledge", names.animals) == ""


def test_a_reference_to_nothing_names_what_there_is(reading: Reading) -> None:
    reading.names.spots["left-ledge"] = Span("t")
    assert reading.refer(Scalar("left-legde", Span("t")), "spot", reading.names.spots) == ""
    (problem,) = reading.ledger.problems
    assert (problem.code, problem.mend) == ("id-143", "left-ledge")
    assert "left-ledge" in problem.label


def test_commas_part_a_plain_list() -> None:
    assert [n.text for n in as_list(Scalar("a, b ,c", Span("t"))) if isinstance(n, Scalar)] == ["a", "b", "c"]
    assert as_list(Scalar("", Span("t"))) == ()
