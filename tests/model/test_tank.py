"""The tank model refuses what it does not know and cannot be changed."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from advisor.model.tank import Animal, Phase, Said, Spot, Statement, Tank


def test_a_statement_that_says_nothing_is_unknown() -> None:
    assert Statement().unknown
    for said in (
        Statement(best=1.0),
        Statement(low=1.0, high=2.0),
        Statement(words=("medium",)),
        Statement(truth=False),
        Statement(none=True),
    ):
        assert not said.unknown


def test_none_is_an_answer_and_not_silence() -> None:
    assert Statement(none=True) != Statement()


def test_an_unheard_of_field_is_refused() -> None:
    with pytest.raises(ValidationError, match="lihgt"):
        Spot.model_validate({"id": "ledge", "lihgt": 120})


def test_a_tank_is_frozen() -> None:
    tank = Tank(id="t", name="t")
    with pytest.raises(ValidationError, match="frozen"):
        tank.name = "other"


def test_a_tank_survives_being_written_as_json() -> None:
    torch = Animal(
        id="torch-1", taxon="torch", phase=Phase.WAITING, size_cm=Statement(best=8.0, by=Said.SELLER)
    )
    tank = Tank(id="t", name="t", animals=(torch,), spots=(Spot(id="ledge"),))
    assert Tank.model_validate_json(tank.model_dump_json()) == tank
