"""The answer about handling, as data."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from advisor.model.handling import HandlingAnswer, HandlingStep


def test_an_answer_is_frozen_and_reads_back() -> None:
    step = HandlingStep(text="Never.", actions=("boiling it",), source="A", grade="study")
    answer = HandlingAnswer(asked="zoa-1", title="zoas", refused=(step,))
    assert HandlingAnswer.model_validate_json(answer.model_dump_json()) == answer
    with pytest.raises(ValidationError):
        answer.title = "other"
