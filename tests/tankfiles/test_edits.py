"""Edits of tank.yaml that a journal event stands for."""

from __future__ import annotations

import pytest

from advisor.tankfiles.edits import EditError, add_to, apply_edit, change
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import as_data, read_yaml

BLOCK = """# mine
name: t
spots:
  - id: s   # the good one
corals:
  - id: a   # x
    is: torch
    at: left
"""
LAYOUTS = [
    BLOCK,
    "# mine\nname: t\nspots: [{id: s}]   # the good one\ncorals:\n- {id: a, is: torch, at: left}   # x\n",
    "# mine\nname: t\nspots: {s: {}}   # the good one\ncorals:\n  a: {is: torch, at: left}   # x\n",
    "---\n" + BLOCK,
    BLOCK + "...\n",
    BLOCK.replace("\n", "\r\n"),
    "{name: t, spots: [{id: s}], corals: [{id: a, is: torch, at: left}]}\n",
]


def data(text: str) -> dict[str, object]:
    node = read_yaml(text, "t", Ledger())
    assert node is not None
    found = as_data(node)
    assert isinstance(found, dict)
    return found


def entries(text: str, section: str) -> dict[str, dict[str, str]]:
    found = data(text)[section]
    if isinstance(found, dict):
        return {k: {"id": k, **v} for k, v in found.items()}
    assert isinstance(found, list)
    return {e["id"]: e for e in found}


def remarks(text: str) -> set[str]:
    return {found for found in ("# mine", "# the good one", "# x") if found in text}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_an_entry_is_added_in_every_layout_and_comments_stay(layout: str) -> None:
    text = apply_edit(layout, add_to("corals", {"id": "b", "is": "x: y"}), "e-1")
    assert entries(text, "corals")["b"] == {"id": "b", "is": "x: y"}
    assert entries(text, "corals")["a"]["is"] == "torch"
    assert data(text)["last-event"] == "e-1"
    assert remarks(text) == remarks(layout)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_an_entry_is_changed_in_every_layout_and_comments_stay(layout: str) -> None:
    text = apply_edit(layout, change("a", {"spot": "s"}, ("at",)), "e-1")
    assert entries(text, "corals")["a"] == {"id": "a", "is": "torch", "spot": "s"}
    assert remarks(layout) <= remarks(text)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_making_an_edit_twice_is_making_it_once(layout: str) -> None:
    for edit in (add_to("corals", {"id": "b", "is": "y"}), change("a", {"spot": "s"}, ("at",))):
        once = apply_edit(layout, edit, "e-1")
        assert data(apply_edit(once, edit, "e-1")) == data(once)


def test_a_layout_whose_remarks_would_be_lost_is_refused() -> None:
    text = "{name: t,   # inside\n corals: [{id: a, is: torch}]}\n"
    with pytest.raises(EditError):
        apply_edit(text, add_to("corals", {"id": "b"}), "e-1")


def test_order_and_every_other_line_stay() -> None:
    text = apply_edit(LAYOUTS[0], add_to("corals", {"id": "b"}), "e-1")
    lines = text.splitlines()
    assert [line for line in lines if line in LAYOUTS[0].splitlines()] == LAYOUTS[0].splitlines()
    assert len(lines) == len(LAYOUTS[0].splitlines()) + 2


def test_an_entry_without_an_id_is_given_the_one_it_was_read_by() -> None:
    text = "corals:\n  - torch, 8 cm\n  - {is: torch}\n"
    changed = apply_edit(text, change("torch-2", {"spot": "s"}), "e-1")
    assert data(changed)["corals"] == ["torch, 8 cm", {"is": "torch", "id": "torch-2", "spot": "s"}]
    changed = apply_edit(text, change("torch-1", {"spot": "s"}), "e-1")
    assert entries(changed.replace("{is: torch}", "{id: z}"), "corals")["torch-1"] == {
        "id": "torch-1", "is": "torch", "size": "8 cm", "spot": "s",
    }  # fmt: skip


def test_a_reading_is_known_by_its_event() -> None:
    edit = add_to("readings", {"of": "s", "light": "3 PAR", "event": "e-1"})
    once = apply_edit(LAYOUTS[0], edit, "e-1")
    assert data(apply_edit(once, edit, "e-2"))["readings"] == data(once)["readings"]


@pytest.mark.parametrize(
    "edit",
    [
        {},
        {"do": "burn"},
        {"do": "add", "to": "corals"},
        {"do": "add", "to": "corals", "entry": "[1, 2]"},
        {"do": "add", "to": "corals", "entry": "{"},
        {"do": "change", "what": "nobody", "set": "{spot: s}", "drop": ""},
        {"do": "change", "what": "a", "set": "spot", "drop": ""},
    ],
)
def test_an_edit_that_cannot_be_made_is_refused(edit: dict[str, str]) -> None:
    with pytest.raises(EditError):
        apply_edit(LAYOUTS[0], edit, "e-1")


@pytest.mark.parametrize("text", ["", "- a\n", "spots: [\n"])
def test_a_text_that_is_no_tank_is_refused(text: str) -> None:
    with pytest.raises(EditError):
        apply_edit(text, add_to("corals", {"id": "b"}), "e-1")


def test_several_corals_on_one_line_must_be_written_out_first() -> None:
    with pytest.raises(EditError):
        apply_edit("corals:\n  - 2x torch, 8 cm\n", change("torch-1", {"spot": "s"}), "e-1")
