"""A found case as an example: it can be read again, and comes out as it says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.language.nodes import Expr, Outcome, Rule
from advisor.language.parse import parse_file
from advisor.reasoning.examples import run_examples
from advisor.rulework.formulas import Formula, denied, every, fails
from advisor.rulework.possible import Space, settle
from advisor.rulework.samplecase import example_of, names_for, written
from tests.language.texts import base_library
from tests.rulework.little import NEAR, little

RULES = ("keep-clear", "light-enough", "mind-your-hands")


def ways(rule: Rule) -> dict[Outcome, Expr | None]:
    missed = every(rule.when, denied(rule.expect))
    return {
        Outcome.HOLDS: every(rule.when, rule.expect),
        Outcome.FAILS: fails(rule),
        Outcome.EXCUSED: every(missed, rule.unless) if rule.unless is not None else None,
        Outcome.NOT_COVERED: denied(rule.when),
    }


@pytest.mark.parametrize("name", RULES)
@pytest.mark.parametrize("outcome", [Outcome.HOLDS, Outcome.FAILS, Outcome.EXCUSED, Outcome.NOT_COVERED])
def test_a_case_of_each_outcome_is_an_example_of_it(name: str, outcome: Outcome) -> None:
    library = base_library()
    rule = library.rules[name]
    body = ways(rule)[outcome]
    if body is None:
        assert rule.unless is None or rule.when is None
        return
    case = settle(Space(Formula(rule.binders, body), library)).case
    assert case is not None
    example = example_of("made", rule, case, library, wanted=outcome)
    assert example.thens[0].outcome is outcome
    file, problems = parse_file("made.rules", "edition 1\n" + written(example))
    assert problems == ()
    (again,) = file.declarations
    (seen,) = run_examples(library, [again])  # type: ignore[list-item]  # one example was written
    assert seen.ok


def test_things_are_called_by_their_kind() -> None:
    binders = base_library().rules["keep-clear"].binders
    assert names_for(binders) == {"a": "coral-1", "b": "coral-2"}


def test_a_sample_fits_a_terminal_however_long_the_name_of_its_rule() -> None:
    name = "a-very-long-name-of-a-house-rule-that-nobody-would-write-out"
    (example,) = little(NEAR).examples
    lines = written(replace(example, rule=name)).splitlines()
    assert max(map(len, lines)) <= 80
    assert lines[1].strip() == name
