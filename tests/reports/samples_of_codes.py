"""Reading the samples of the long texts, as a keeper's own files beside the shipped ones."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

from advisor.errors import Problem
from advisor.language.check import check
from advisor.language.house_dates import as_of
from advisor.language.nodes import Example, RuleFile
from advisor.language.parse import parse_file
from advisor.model.vocabulary import Vocabulary
from advisor.reasoning.survey import COMPUTED
from advisor.reports.glossary import Sample
from advisor.rulework.linting import lint
from advisor.tankfiles.folder import read_tank
from tests.language.texts import SHIPPED

_FILES = ("measures", "kinds", "spacing", "light", "water", "handling", "corals/large-polyp/torch")
_DAY = date(2026, 11, 25)
"""The samples are written for a day in the autumn of 2026."""
_TANK = {"glass": "glass: 60 x 40 x 40 cm\n", "rocks": "rocks: [arch]\n", "spots": "spots:\n  - id: ledge\n"}


@cache
def _shipped() -> tuple[RuleFile, ...]:
    """A part of the shipped files, without their examples: enough names for every sample."""
    read = [
        parse_file(f"{name}.rules", (SHIPPED / f"{name}.rules").read_text(encoding="utf-8"))
        for name in _FILES
    ]
    assert [problem for _, problems in read for problem in problems] == []
    return tuple(
        replace(file, declarations=tuple(d for d in file.declarations if not isinstance(d, Example)))
        for file, _ in read
    )


@cache
def vocabulary() -> Vocabulary:
    """The shipped vocabulary."""
    return check(_shipped())[0].vocabulary


def rule_problems(text: str, *, with_edition: bool) -> tuple[Problem, ...]:
    """Everything that is said about a rule file of that text."""
    file, found = parse_file("own.rules", ("edition 1\n" if with_edition else "") + text)
    library, more = check([*_shipped(), file], COMPUTED)
    return (*found, *more, *as_of(library, _DAY)[1])


def lint_problems(text: str) -> tuple[Problem, ...]:
    """Everything that lint says about a rule file of that text, beside the vocabulary."""
    file, found = parse_file("own.rules", "edition 1\n" + text)
    library, more = check([*_shipped()[:2], file], COMPUTED)
    assert (*found, *more) == ()
    told = (finding.problem for finding in lint(library).findings)
    return tuple(problem for problem in told if problem.span is not None and problem.span.file == file.name)


def tank_problems(sample: Sample, folder: Path) -> tuple[Problem, ...]:
    """Everything that is said about a tank folder with the sample in it."""
    tank = sample.text if sample.file == "tank.yaml" else ""
    says = {line.partition(":")[0] for line in tank.splitlines()}
    nothing = (
        not [line for line in tank.splitlines() if not line.startswith("#")] and sample.file == "tank.yaml"
    )
    rest = "" if nothing else "".join(text for key, text in _TANK.items() if key not in says)
    (folder / "tank.yaml").write_text(rest + tank, encoding="utf-8")
    if sample.file != "tank.yaml":
        torn = not sample.text.endswith("}\n") and sample.file == "journal.jsonl"
        text = sample.text.rstrip() if torn else sample.text
        (folder / sample.file).write_text(text, encoding="utf-8")
    return read_tank(folder, vocabulary(), words=frozenset({"medium"}))[1]
