"""Answers and problems as JSON: one document a line, each with its edition."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from advisor.errors import Problem, Span
from advisor.model.results import ANSWER_EDITION
from advisor.model.tank import Model
from advisor.reports.once import told_once
from advisor.reports.problems import mend_of

Json = None | bool | int | float | str | list["Json"] | dict[str, "Json"]


def model_json(model: Model) -> str:
    """Return any published model as one line of JSON; a step that is told again is only referred to."""
    return told_once(model).model_dump_json()


def document_json(question: str, content: Mapping[str, Json]) -> str:
    """Return a small answer that has no model of its own as one line of JSON."""
    return json.dumps({"edition": ANSWER_EDITION, "question": question, **content}, ensure_ascii=False)


def problems_json(problems: Sequence[Problem]) -> str:
    """Return problems as one line of JSON."""
    return document_json("problems", {"problems": [problem_dict(problem) for problem in problems]})


def problem_dict(problem: Problem) -> Json:
    """Return one problem as plain data, the mirror of what is printed."""
    related: list[Json] = [{"span": _span(each.span), "label": each.label} for each in problem.related]
    return {
        "code": problem.code,
        "severity": problem.severity.value,
        "what": problem.what,
        "span": _span(problem.span),
        "label": problem.label,
        "mend": mend_of(problem),
        "related": related,
    }


def _span(span: Span | None) -> Json:
    if span is None:
        return None
    return {
        "file": span.file,
        "line": span.line,
        "column": span.column,
        "end_line": span.end_line,
        "end_column": span.end_column,
        "text": span.text,
    }
