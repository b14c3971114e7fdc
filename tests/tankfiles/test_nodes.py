"""YAML text as a tree with places."""

from __future__ import annotations

import pytest

from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import (
    MAX_DEPTH,
    MAX_NODES,
    Items,
    Keyed,
    Scalar,
    as_data,
    in_words,
    key_of,
    read_yaml,
    texts_of,
)


def tree(text: str) -> object:
    ledger = Ledger()
    node = read_yaml(text, "t.yaml", ledger)
    assert ledger.problems == ()
    assert node is not None
    return as_data(node)


def test_scalars_stay_what_was_written() -> None:
    assert tree("a: yes\nb: 007\nc: 1e3\nd: 2026-10-24\ne: ~\nf: 'x'\n") == {
        "a": "yes", "b": "007", "c": "1e3", "d": "2026-10-24", "e": "~", "f": "x",
    }  # fmt: skip


def test_a_scalar_knows_its_line_and_columns() -> None:
    root = read_yaml("name: t\nspots:\n  - {id: ledge}\n", "t.yaml", Ledger())
    assert isinstance(root, Keyed)
    spots = root.entries[1][1]
    assert isinstance(spots, Items)
    ledge = spots.items[0]
    assert isinstance(ledge, Keyed)
    value = ledge.entries[0][1]
    assert isinstance(value, Scalar)
    span = value.span
    assert (span.line, span.column, span.end_line, span.end_column) == (3, 10, 3, 15)
    assert span.text == "  - {id: ledge}"
    assert ledge.flow
    assert not spots.flow


def test_only_an_unquoted_nothing_is_blank() -> None:
    root = read_yaml("a:\nb: ''\nc: null\nd: 'null'\n", "t.yaml", Ledger())
    assert isinstance(root, Keyed)
    assert [v.blank for _, v in root.entries if isinstance(v, Scalar)] == [True, False, True, False]


def test_depth_is_bounded_exactly() -> None:
    for depth, fits in ((MAX_DEPTH, True), (MAX_DEPTH + 1, False)):
        ledger = Ledger()
        found = read_yaml("[" * depth + "]" * depth, "t.yaml", ledger)
        assert (found is not None) is fits
        assert [p.code for p in ledger.problems] == ([] if fits else ["yaml-113"])


def test_ten_thousand_brackets_do_no_harm() -> None:
    ledger = Ledger()
    assert read_yaml("[" * 10_000, "t.yaml", ledger) is None
    assert [p.code for p in ledger.problems] == ["yaml-113"]


def test_a_reference_counts_as_much_as_what_it_repeats() -> None:
    wide = "[" + ", ".join("x" * 1 for _ in range(1000)) + "]"
    repeats = MAX_NODES // 1000 + 1
    ledger = Ledger()
    text = f"a: &a {wide}\nb: [{', '.join(['*a'] * repeats)}]\n"
    assert read_yaml(text, "t.yaml", ledger) is None
    assert [p.code for p in ledger.problems] == ["yaml-114"]


def test_keys_are_one_whatever_joins_their_words() -> None:
    assert {key_of(k) for k in ("Gaps Complete", "gaps_complete", "gaps-complete", " gaps  complete ")} == {
        "gaps-complete"
    }


def test_an_unclosed_bracket_is_shown_where_it_opens() -> None:
    ledger = Ledger()
    assert read_yaml("name: t\nspots: [a, b\n", "t.yaml", ledger) is None
    span = ledger.problems[0].span
    assert span is not None
    assert (span.line, span.column) == (2, 8)


@pytest.mark.parametrize(
    ("entry", "mend"),
    [
        ("{id: a, size: 9,5 cm}", "write a decimal point: 9.5 cm"),
        ("{size: 9,5 cm, id: a}", "write a decimal point: 9.5 cm"),
        ("{id: a, at: 20, 35, 28 cm}", 'put it in quotes: "20, 35, 28 cm"'),
    ],
)
def test_a_comma_inside_braces_that_parts_a_number_is_told(entry: str, mend: str) -> None:
    ledger = Ledger()
    read_yaml(f"spots:\n  - {entry}\n", "tank.yaml", ledger)
    assert ledger.problems[-1].mend == mend
    assert {p.code for p in ledger.problems} == {"value-131"}


def test_a_tree_is_told_in_words_and_by_its_values() -> None:
    node = read_yaml("how: {meter: quantum, seen: [noon, dusk]}\nempty: {}\n", "tank.yaml", Ledger())
    assert node is not None
    assert in_words(node) == "how: meter: quantum, seen: noon, dusk, empty"
    assert texts_of(node) == ("quantum", "noon", "dusk")
