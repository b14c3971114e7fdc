"""Short ways from text to findings for the tests of lint."""

from __future__ import annotations

from advisor.language.check import check
from advisor.language.library import Library
from advisor.language.nodes import Expr, Rule
from advisor.language.parse import parse_file
from advisor.model.lintfindings import LintFinding
from advisor.rulework.linting import lint
from advisor.rulework.possible import Space
from tests.language.texts import COMPUTED, base, rule

OWN = "own.rules"
END = '\n  level advice\n  because "{a} stands in {light(a.spot)}"\n'


def library_of(text: str) -> Library:
    """The base and one more file without a fault."""
    file, problems = parse_file(OWN, "edition 1\n" + text)
    library, more = check([base(), file], COMPUTED)
    assert [
        (problem.code, problem.what) for problem in (*problems, *more) if problem.severity == "error"
    ] == []
    return library


def findings(text: str) -> list[LintFinding]:
    """What lint says about one more file."""
    found = lint(library_of(text), house=[OWN]).findings
    return [each for each in found if each.problem.span is not None and each.problem.span.file == OWN]


def codes(text: str) -> list[str]:
    """The codes of what lint says about one more file, its lack of examples aside."""
    return [each.code for each in findings(text) if each.code != "lint-221"]


def requirement(text: str) -> Rule:
    """A rule that expects something of two animals that are neighbours."""
    return rule(
        f'rule made\n  for animal a, neighbour b of a\n  expect {text}\n  level advice\n  because "{{a}}"'
    )


def space(text: str, library: Library, *, cards: bool = False) -> Space:
    """A condition ready to be asked about."""
    from advisor.rulework.formulas import Formula

    made = requirement(text)
    assert isinstance(made.expect, Expr)
    return Space(Formula(made.binders, made.expect), library, cards=cards)
