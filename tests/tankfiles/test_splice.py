"""Small changes in a text that leave the rest alone."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Items, Keyed, Node, Scalar, as_data, read_yaml
from advisor.tankfiles.splice import SpliceError, Splicer, flow_text


def splicer(text: str) -> tuple[Splicer, Keyed]:
    root = read_yaml(text, "t", Ledger())
    assert isinstance(root, Keyed)
    return Splicer(text, root), root


def item(root: Keyed, section: int = 0, index: int = 0) -> Node:
    found = root.entries[section][1]
    assert isinstance(found, Items)
    return found.items[index]


_DATA = st.recursive(
    st.text(max_size=12),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(min_size=1, max_size=8), inner, max_size=3)
    ),
    max_leaves=8,
)


@given(_DATA)
def test_what_is_written_on_one_line_is_read_back_the_same(data: object) -> None:
    ledger = Ledger()
    node = read_yaml(flow_text(data), "t", ledger)
    if node is None:
        assert any(p.code in ("file-106", "yaml-111") for p in ledger.problems)
    else:
        assert as_data(node) == data


@given(st.text(alphabet="abc: #-,{}[]\"'&*!|>%@?0.±°~", max_size=12))
def test_awkward_marks_are_quoted(text: str) -> None:
    node = read_yaml(f"k: {flow_text(text)}\n", "t", Ledger())
    assert node is not None
    assert as_data(node) == {"k": text}


def test_a_top_key_is_set_where_it_stands() -> None:
    change, _ = splicer("# head\nlast event: e-1   # mine\nname: t\n")
    change.set_top("last-event", "e-2")
    assert change.result() == "# head\nlast event: e-2   # mine\nname: t\n"


def test_a_top_key_is_filled_or_put_at_the_end() -> None:
    blank, _ = splicer("last-event:  # mine\nname: t\n")
    blank.set_top("last-event", "e-2")
    assert blank.result() == "last-event: e-2  # mine\nname: t\n"
    missing, _ = splicer("name: t")
    missing.set_top("last-event", "e-2")
    assert missing.result() == "name: t\nlast-event: e-2\n"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("corals:\n  - {id: a}\n\n# spots\nspots: []\n",
         "corals:\n  - {id: a}\n  - {id: b}\n\n# spots\nspots: []\n"),
        ("corals:\n- id: a   # x\n  size: 3\n# end\n",
         "corals:\n- id: a   # x\n  size: 3\n- {id: b}\n# end\n"),
        ("corals: []   # none\n", "corals: [{id: b}]   # none\n"),
        ("corals: [{id: a}, {id: c}]\n", "corals: [{id: a}, {id: c}, {id: b}]\n"),
        ("corals:   # none\nname: t\n", "corals:   # none\n  - {id: b}\nname: t\n"),
        ("name: t\n", "name: t\ncorals:\n  - {id: b}\n"),
        ("corals:\r\n  - {id: a}\r\nname: t\r\n", "corals:\r\n  - {id: a}\r\n  - {id: b}\r\nname: t\r\n"),
        ("corals:\n  - {id: a}", "corals:\n  - {id: a}\n  - {id: b}"),
        ("corals:\n  - id: a\n    note: |\n      long\n      text\nname: t\n",
         "corals:\n  - id: a\n    note: |\n      long\n      text\n  - {id: b}\nname: t\n"),
        ("corals:\n  - id: a\n    light: {value: 3,\n      on: 2026-01-01}   # y\nname: t\n",
         "corals:\n  - id: a\n    light: {value: 3,\n      on: 2026-01-01}   # y\n  - {id: b}\nname: t\n"),
    ],
)  # fmt: skip
def test_an_entry_goes_to_the_end_of_its_list(before: str, after: str) -> None:
    change, _ = splicer(before)
    change.append_item("corals", {"id": "b"})
    assert change.result() == after


def test_keys_of_a_block_entry_are_set_and_the_old_place_stays_as_a_comment() -> None:
    change, root = splicer(
        "corals:\n  - id: a   # the first\n    is: torch\n    at: {x: 1,\n      y: 2}   # by tape\n"
        "    spot: old\n    size: 3\n"
    )
    node = item(root)
    assert isinstance(node, Keyed)
    change.change_entry(node, {"spot": "new", "moved": "2026-11-01"}, frozenset({"at"}))
    assert change.result() == (
        "corals:\n  - id: a   # the first\n    is: torch\n    moved: 2026-11-01\n"
        "    # at: {x: 1,\n    #   y: 2}   # by tape\n    spot: new\n    size: 3\n"
    )


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("{id: a, at: left, size: 3}", "{id: a, size: 3, spot: s}"),
        ("{id: a, size: 3, at: left}", "{id: a, size: 3, spot: s}"),
        ("{at: left, id: a}", "{id: a, spot: s}"),
        ("{id: a, spot: r}", "{id: a, spot: s}"),
        ("{ id: a }", "{ id: a, spot: s }"),
    ],
)
def test_keys_of_an_entry_on_one_line(before: str, after: str) -> None:
    change, root = splicer(f"corals:\n  - {before}   # x\n")
    node = item(root)
    assert isinstance(node, Keyed)
    change.change_entry(node, {"spot": "s"}, frozenset({"at"}))
    assert change.result() == f"corals:\n  - {after}   # x\n"


def test_a_one_line_coral_becomes_an_entry() -> None:
    change, root = splicer("corals:\n  - torch, 8 cm   # new\n")
    node = item(root)
    assert isinstance(node, Scalar)
    change.replace_scalar_item(node, {"id": "torch-1", "is": "torch"})
    assert change.result() == "corals:\n  - {id: torch-1, is: torch}   # new\n"


@pytest.mark.parametrize(
    "text", ["{corals: [{id: a}]}", "corals:\n  - {id: a}\n...\n", "corals: {a: {is: torch}}\n"]
)
def test_layouts_it_does_not_know_are_refused(text: str) -> None:
    change, _ = splicer(text)
    with pytest.raises(SpliceError):
        change.append_item("corals", {"id": "b"})
