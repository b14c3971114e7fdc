from __future__ import annotations

import dataclasses

import pytest

from advisor.model.changes import NO_CARD, Add, CardChoice, Change, Move, Remove, SetFact
from advisor.model.tank import Animal, Fact, Phase, Statement


def test_a_change_is_an_ordered_tuple_that_can_be_compared_and_kept() -> None:
    torch = Animal(id="torch-1", taxon="torch", phase=Phase.WAITING)
    said = SetFact(Fact(measure="gap", subjects=("torch-1", "zoa-1"), said=Statement(best=30.0)))
    change: Change = (Remove("zoa-1"), Add(torch, "ledge"), Move("acan-1", "foot"), said)
    assert change == (Remove("zoa-1"), Add(torch, "ledge"), Move("acan-1", "foot"), said)
    turned: Change = (Add(torch, "ledge"), Remove("zoa-1"), Move("acan-1", "foot"), said)
    assert change != turned


def test_edits_cannot_be_changed_afterwards() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        Remove("zoa-1").animal_id = "acan-1"  # type: ignore[misc]  # the point of the test


def test_no_card_names_none() -> None:
    assert NO_CARD == CardChoice(())
    assert not NO_CARD.cards
