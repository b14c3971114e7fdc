"""The JSON Schema of everything that ``--json`` prints."""

from __future__ import annotations

from advisor.model.results import (
    ANSWER_EDITION,
    AuditAnswer,
    CardAnswer,
    EventAnswer,
    ExamplesAnswer,
    NodeAnswer,
    WhereAnswer,
    WhyAnswer,
)

SMALL_ANSWERS = (
    *("explain", "problems", "tank check", "tank new"),
    *("rules check", "rules doc", "rules fmt", "rules new"),
)
"""Questions whose answer has no model of its own: any keys beside edition and question."""


def answer_schema() -> dict[str, object]:
    """Return the JSON Schema of every document that ``--json`` prints, told apart by ``question``."""
    from pydantic import TypeAdapter

    from advisor.model.coverage import CoverAnswer
    from advisor.model.difference import DiffAnswer
    from advisor.model.handling import HandlingAnswer
    from advisor.model.lightanswer import LightAnswer, LightFitAnswer
    from advisor.model.lintfindings import LintAnswer
    from advisor.model.mutation import MutateAnswer
    from advisor.model.statistics import StatsAnswer

    adapter: TypeAdapter[object] = TypeAdapter(
        WhereAnswer
        | WhyAnswer
        | AuditAnswer
        | CardAnswer
        | NodeAnswer
        | ExamplesAnswer
        | EventAnswer
        | CoverAnswer
        | MutateAnswer
        | LintAnswer
        | DiffAnswer
        | HandlingAnswer
        | LightAnswer
        | LightFitAnswer
        | StatsAnswer
    )
    made = adapter.json_schema()
    small = {
        "type": "object",
        "required": ["edition", "question"],
        "properties": {"edition": {"type": "integer"}, "question": {"enum": list(SMALL_ANSWERS)}},
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "coral advisor answer",
        "edition": ANSWER_EDITION,
        **made,
        "anyOf": [*made["anyOf"], small],
    }
