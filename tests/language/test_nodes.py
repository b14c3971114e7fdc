"""The tree itself."""

from __future__ import annotations

import dataclasses
import typing

import pytest

from advisor.language import nodes
from advisor.language.nodes import Declaration, Level, Outcome, Stage

DECLARATIONS = typing.get_args(Declaration)


@pytest.mark.parametrize("kind", DECLARATIONS, ids=lambda kind: kind.__name__)
def test_every_declaration_is_frozen_and_has_a_place(kind: type) -> None:
    assert "span" in {part.name for part in dataclasses.fields(kind)}
    assert kind.__dataclass_params__.frozen  # type: ignore[attr-defined]  # every dataclass has it


def test_levels_stand_from_worst_to_mildest() -> None:
    assert [level.value for level in Level] == ["danger", "warning", "advice"]


def test_the_words_of_the_language_are_those_of_the_tree() -> None:
    assert {stage.value for stage in Stage} == {"gate", "always", "tonight", "settled"}
    assert {outcome.value for outcome in Outcome} == {"holds", "fails", "undecided", "excused", "not covered"}


def test_edits_of_a_house_are_declarations() -> None:
    assert nodes.HouseEdit in DECLARATIONS
