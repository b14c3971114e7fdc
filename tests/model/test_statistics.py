"""The published form of what knowledge rests on."""

from __future__ import annotations

import jsonschema
import pytest
from pydantic import ValidationError

from advisor.model.published import answer_schema
from advisor.model.statistics import StatsAnswer
from tests.reports.samples_of_statistics import stats


def test_it_survives_the_way_through_json_and_is_published() -> None:
    told = stats().model_dump(mode="json")
    assert StatsAnswer.model_validate(told) == stats()
    assert jsonschema.Draft202012Validator(answer_schema()).is_valid(told)


def test_it_is_frozen() -> None:
    with pytest.raises(ValidationError):
        stats().cards = 3
