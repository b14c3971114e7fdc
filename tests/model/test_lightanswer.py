"""The answers about light, as data, and as what is published of them."""

from __future__ import annotations

import jsonschema
import pytest
from pydantic import ValidationError

from advisor.model.lightanswer import LampFit, LampShare, LightAnswer, LightFitAnswer, OwnReading, ReadingFit
from advisor.model.published import answer_schema

HERE = LightAnswer(
    place="ledge",
    at_cm=(20.0, 30.0, 12.0),
    low=90.0,
    best=120.0,
    high=160.0,
    by_lamp=(LampShare(lamp="left", percent=100.0),),
    own=OwnReading(low=100.0, best=110.0, high=120.0),
    agrees=True,
)
FITTED = LightFitAnswer(
    lamps=(LampFit(lamp="left", photons_umol_per_s=300.0, times_low=0.8, times=1.0, times_high=1.2),),
    readings=(ReadingFit(place="ledge", par_umol=110.0, expected_umol=120.0, deviations=-0.5, odd=False),),
)


@pytest.mark.parametrize("answer", [HERE, FITTED])
def test_an_answer_is_frozen_reads_back_and_is_as_published(answer: LightAnswer | LightFitAnswer) -> None:
    assert type(answer).model_validate_json(answer.model_dump_json()) == answer
    jsonschema.Draft202012Validator(answer_schema()).validate(answer.model_dump(mode="json"))
    with pytest.raises(ValidationError):
        answer.notes = ("other",)


def test_what_is_not_known_is_left_empty_and_never_0() -> None:
    bare = LightAnswer(place="ledge", missing=("where it is",))
    assert (bare.low, bare.best, bare.high, bare.agrees, bare.dose_low) == (None, None, None, None, None)
