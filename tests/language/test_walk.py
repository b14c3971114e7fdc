"""Going through expressions."""

from __future__ import annotations

from advisor.language.nodes import Call, Name, Number
from advisor.language.walk import bodies, children, conditions, names_used, walk
from tests.language.texts import base_library, truth


def test_everything_below_is_met_once_and_in_order() -> None:
    found = list(walk(truth("gap(a, b) >= size(a) + 3 cm and any neighbour n of a where a.group is soft")))
    assert [node.name for node in found if isinstance(node, Call)] == ["gap", "size", "group"]
    assert len([node for node in found if isinstance(node, Number)]) == 1
    assert len({id(node) for node in found}) == len(found)


def test_leaves_have_nothing_below() -> None:
    assert children(truth("low-light > 3 PAR").left) == ()  # type: ignore[union-attr]  # a comparison


def test_names_are_followed_through_definitions() -> None:
    library = base_library()
    rule = library.rules["keep-clear"]
    assert names_used(conditions(rule), library.defines) >= {
        "can-hurt",
        "potency",
        "group",
        "sweeper-allowance",
    }


def test_the_words_something_is_compared_with_are_no_names() -> None:
    assert names_used((truth("a.group is light and b.group is not kind(a)"),), {}) == {
        "group",
        "a",
        "b",
        "kind",
    }


def test_a_definition_has_values_and_guards() -> None:
    assert len(bodies(base_library().defines["can-hurt"])) == 1
    assert any(isinstance(node, Name) for node in walk(bodies(base_library().defines["can-hurt"])[0]))
