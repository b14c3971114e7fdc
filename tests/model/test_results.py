"""What an answer is made of: edition, verdict words, and the published form."""

from __future__ import annotations

from datetime import date

import jsonschema
import pytest

from advisor.model.results import (
    ANSWER_EDITION,
    AuditAnswer,
    CardAnswer,
    CoralSummary,
    WhereAnswer,
    WhyAnswer,
    Word,
)

ANSWERS = (WhereAnswer, WhyAnswer, AuditAnswer, CardAnswer)


def where() -> WhereAnswer:
    """Return the smallest answer there is."""
    coral = CoralSummary(id="torch-1", title="torch coral", card="torch")
    return WhereAnswer(
        question="where",
        tank="t",
        on=date(2026, 11, 2),
        horizon_months=12,
        coral=coral,
        tonight=None,
        places=(),
    )


def test_the_words_are_in_order_best_first() -> None:
    assert list(Word)[0] is Word.YES
    assert list(Word)[-1] is Word.NO
    assert Word.NOT_KNOWN in Word


def test_an_answer_carries_its_edition_and_reads_back() -> None:
    answer = where()
    assert answer.edition == ANSWER_EDITION
    assert WhereAnswer.model_validate_json(answer.model_dump_json()) == answer


@pytest.mark.parametrize("kind", ANSWERS, ids=lambda kind: kind.__name__)
def test_the_published_schema_is_a_schema(kind: type[WhereAnswer]) -> None:
    jsonschema.Draft202012Validator.check_schema(kind.model_json_schema())


def test_the_schema_accepts_what_is_printed_and_refuses_more() -> None:
    validator = jsonschema.Draft202012Validator(WhereAnswer.model_json_schema())
    printed = where().model_dump(mode="json")
    assert validator.is_valid(printed)
    assert not validator.is_valid({**printed, "score": 0.62})
