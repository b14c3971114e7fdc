"""The published form of every document."""

from __future__ import annotations

import jsonschema

from advisor.model.published import SMALL_ANSWERS, answer_schema


def test_the_schema_is_one_and_tells_the_small_answers_by_their_question() -> None:
    schema = answer_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    for question in SMALL_ANSWERS:
        assert validator.is_valid({"edition": 1, "question": question})
    assert not validator.is_valid({"edition": 1, "question": "who knows"})
