"""What speaks against rules that are well written: every finding, in one run."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, Severity, Span

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.language.nodes import Rule
    from advisor.model.lintfindings import LintAnswer, LintFinding
    from advisor.planning.desk import Desk


def lint_rules(
    files: Sequence[Path] = (),
    *,
    rules: Path | None = None,
    house: Sequence[Path] = (),
    tank: Path | None = None,
    on: date,
) -> LintAnswer:
    """Return every finding about rule files that can be used.

    Parameters
    ----------
    files
        The keeper's own rule files; where some are given, only what is said
        about them is returned.
    rules
        A folder of rules to use instead of the shipped ones.
    house
        House files laid over, those of the tank among them.
    tank
        A tank folder whose readings are looked at too; None for none.
    on
        The day the tank is looked at.

    Raises
    ------
    UnusableInput
        If a file has an error.
    """
    from advisor.model.lintfindings import LintFinding
    from advisor.rulework.desks import desk_with, tank_read
    from advisor.session.opening import library_in_force, usable

    own = each_once((*house, *files))
    library, problems = library_in_force(rules, own, on)
    library = usable(library, problems)
    told = [LintFinding(problem=each) for each in problems if each.severity is not Severity.ERROR]
    answer = lint(library, house=[path.as_posix() for path in own])
    desk = None
    if tank is not None:
        desk = desk_with(tank_read(tank, library), library, on)
    findings = (*told, *answer.findings)
    if files:
        names = {path.as_posix() for path in files}
        findings = tuple(each for each in findings if _is_about(each.problem, names))
    in_tank = () if desk is None else tuple(_of_tank(desk))
    return answer.model_copy(
        update={"findings": (*findings, *in_tank), "tank": "" if desk is None else desk.tank.name}
    )


def lint(library: Library, *, house: Collection[str] = ()) -> LintAnswer:
    """Return every finding about a library.

    Parameters
    ----------
    house
        Names of the house files in it.
    """
    from advisor.model.lintfindings import LintAnswer
    from advisor.reasoning.examples import rule_of
    from advisor.rulework.lint_rules import Solver

    solver = Solver(library, frozenset(house))
    names = (*library.rules, *library.prefers)
    rules = [rule for rule in (rule_of(name, library) for name in names) if rule is not None]
    findings = sorted(_every(library, rules, solver, house), key=_place)
    return LintAnswer(
        rules=len(rules), findings=tuple(findings), not_analysed=_single(solver.not_analysed, library)
    )


def _every(
    library: Library, rules: Sequence[Rule], solver: object, house: Collection[str]
) -> Iterator[LintFinding]:
    """Every finding, one way of looking after the other."""
    from advisor.rulework.lint_bands import band_findings
    from advisor.rulework.lint_names import example_findings, style_findings, unused_findings
    from advisor.rulework.lint_pairs import pair_findings
    from advisor.rulework.lint_readings import card_findings
    from advisor.rulework.lint_rules import Solver, comparison_findings, define_findings, rule_findings

    assert isinstance(solver, Solver)
    for rule in rules:
        yield from rule_findings(rule, solver)
        yield from comparison_findings(rule, solver)
    for define in library.defines.values():
        yield from define_findings(define, solver)
    yield from pair_findings(library, solver)
    yield from band_findings(library, solver)
    yield from unused_findings(library, house)
    yield from style_findings(library)
    yield from example_findings(library, rules, solver)
    yield from card_findings(library, rules)


def _of_tank(desk: Desk) -> Iterator[LintFinding]:
    """What is found in one tank."""
    from advisor.rulework.lint_readings import tank_findings

    return tank_findings(desk)


def _single(names: Collection[str], library: Library) -> tuple[str, ...]:
    """The rules and definitions out of what could not be looked into; of two, each is told alone."""
    known = library.rules.keys() | library.prefers.keys() | library.defines.keys()
    return tuple(sorted(name for name in names if name in known))


def _place(found: LintFinding) -> tuple[str, int, int, str]:
    """Where a finding stands."""
    span = found.problem.span or Span("")
    return span.file, span.line, span.column, found.code


def _is_about(problem: Problem, files: Collection[str]) -> bool:
    """Whether a problem, or the other place it points at, stands in some files."""
    spans = (problem.span, *(related.span for related in problem.related))
    return any(span is not None and span.file in files for span in spans)


def each_once(paths: Sequence[Path]) -> tuple[Path, ...]:
    """Return paths without those that name one file again."""
    seen: dict[Path, Path] = {}
    for path in paths:
        seen.setdefault(path.resolve(), path)
    return tuple(seen.values())
