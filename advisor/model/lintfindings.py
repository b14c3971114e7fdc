"""What speaks against rules that are well written: published as the answer of ``advisor rules lint``."""

from __future__ import annotations

from advisor.errors import Problem, Severity
from advisor.model.results import ANSWER_EDITION
from advisor.model.tank import Model


class LintFinding(Model):
    """One finding, with a case to paste where one shows it."""

    problem: Problem
    example: str = ""
    """An example block that shows it; empty where no case can."""

    @property
    def code(self) -> str:
        """The stable code."""
        return self.problem.code

    @property
    def counts(self) -> bool:
        """Whether something is wrong, not only worth knowing."""
        return self.problem.severity is not Severity.NOTE


class LintAnswer(Model):
    """Every finding about some rule files."""

    edition: int = ANSWER_EDITION
    question: str = "rules lint"
    rules: int
    """Rules and preferences that were looked at."""
    findings: tuple[LintFinding, ...] = ()
    not_analysed: tuple[str, ...] = ()
    """Rules and definitions whose logic was not looked into: they ask about many things at once."""
    tank: str = ""
    """The tank whose readings were looked at; empty for none."""
