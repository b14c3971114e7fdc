"""Answers and problems as data."""

from __future__ import annotations

import json

from advisor.model.results import ANSWER_EDITION, WhereAnswer
from advisor.reports.as_json import document_json, model_json, problem_dict, problems_json
from advisor.reports.once import told_once
from tests.reports import samples


def test_an_answer_is_one_line_and_reads_back_the_same() -> None:
    text = model_json(samples.where_torch())
    assert "\n" not in text
    assert WhereAnswer.model_validate_json(text) == told_once(samples.where_torch())
    assert json.loads(text)["edition"] == ANSWER_EDITION


def test_problems_carry_everything_that_is_printed() -> None:
    found = json.loads(problems_json(samples.problems()))
    assert found["edition"] == ANSWER_EDITION
    first = found["problems"][0]
    assert (first["code"], first["severity"], first["span"]["line"]) == ("units-201", "error", 14)
    assert first["related"][1]["span"]["file"] == "corals.rules"
    assert found["problems"][2]["span"] is None


def test_a_problem_alone_is_plain_data() -> None:
    assert json.loads(json.dumps(problem_dict(samples.problems()[2]))) == problem_dict(samples.problems()[2])


def test_a_small_document_names_its_question() -> None:
    assert json.loads(document_json("explain", {"word": "YES"})) == {
        "edition": ANSWER_EDITION,
        "question": "explain",
        "word": "YES",
    }
