"""An answer is traced back to the edit, or to the fewest edits, that bring it about."""

from __future__ import annotations

from collections.abc import Collection

import pytest

from advisor.language.library import Library
from advisor.rulework.causes import Tracer
from advisor.rulework.declared import differing, parts_of
from advisor.rulework.outcomes import Asked, Outcomes, of_examples
from tests.reasoning.survey_samples import RULES as SHIPPED
from tests.reasoning.survey_samples import library_of as laid
from tests.rulework.lints import library_of

RULES = """let first = {0} PAR because "a"
let second = {1} PAR because "a"
rule own
  for      animal a
  expect   light(a.spot) <= larger of first, second
  level    advice
  because  "{{a}}"
example "bright" for own
  given a-1 is animal
        light(a-1.spot) = 130 PAR
  then  a-1 fails
"""
ASKED = Asked("example", "own", ("bright", "a-1"))


def traced(before: str, after: str) -> tuple[list[str], bool, list[int]]:
    """The causes of the one example's answer, whether they were seen, and how many edits each run had."""
    one, other = library_of(before), library_of(after)
    edits = differing(parts_of(one), parts_of(other))
    runs: list[int] = []

    def judge(library: Library, scope: Collection[str] | None) -> Outcomes:
        runs.append(len(differing(parts_of(one), parts_of(library))))
        return of_examples(library, other.examples, scope)

    wanted = of_examples(other, other.examples).sides[ASKED].answer
    tracer = Tracer(
        one,
        other,
        edits,
        judge,
        lambda asked, seen: seen.sides[asked].answer == wanted,
        lambda asked: frozenset({asked.rule}),
        frozenset({"own"}),
    )
    causes, seen = tracer.causes(ASKED)
    again, _ = tracer.causes(ASKED)
    assert again == causes
    return [str(key) for key in causes], seen, runs


def test_one_edit_among_several_that_do_nothing() -> None:
    noise = 'let low-noise = {0} PAR because "a"\n'
    causes, seen, runs = traced(
        RULES.format(100, 100) + noise.format(1), RULES.format(200, 100) + noise.format(2)
    )
    assert (causes, seen) == (["let first"], True)
    assert runs == [1]  # what has nothing to do with the rule is not tried first, and nothing is run twice


def test_two_edits_that_only_together_bring_it_about() -> None:
    causes, seen, _ = traced(RULES.format(200, 200), RULES.format(100, 100))
    assert (causes, seen) == (["let first", "let second"], True)


def test_what_no_edit_brings_about_is_not_claimed() -> None:
    one, other = library_of(RULES.format(100, 100)), library_of(RULES.format(200, 100))
    tracer = Tracer(
        one,
        other,
        differing(parts_of(one), parts_of(other)),
        lambda library, scope: Outcomes(),
        lambda asked, seen: False,
        lambda asked: frozenset({asked.rule}),
        frozenset({"own"}),
    )
    causes, seen = tracer.causes(ASKED)
    assert ([str(key) for key in causes], seen) == (["let first"], False)


CROWDED = """rule apart
  for      coral c, neighbour n of c
  expect   gap(c, n) >= 5 cm until horizon
  level    advice
  because  "{{c}}"
let noise = {0} PAR because "a"
card puff "puff"
  swells most {1} times
  growth mature-width {2} cm
  light max {3} PAR
"""


def ruled(text: str) -> Library:
    """The shipped measures and some declarations."""
    measures = (SHIPPED / "measures.rules").read_text(encoding="utf-8")
    return laid([("measures.rules", measures), ("own.rules", "edition 1\n" + text)])


@pytest.mark.parametrize(
    ("before", "after", "line"),
    [
        ((1, 2, 30, 200), (2, 3, 30, 250), "swells-most"),
        ((1, 2, 30, 200), (2, 2, 20, 250), "growth-mature-width"),
    ],
)
def test_a_card_line_behind_what_is_worked_out_is_tried_first(
    before: tuple[int, ...], after: tuple[int, ...], line: str
) -> None:
    one, other = (ruled(CROWDED.format(*numbers)) for numbers in (before, after))
    edits = differing(parts_of(one), parts_of(other))
    tried: list[list[str]] = []

    def judge(library: Library, scope: Collection[str] | None) -> Outcomes:
        tried.append([str(key) for key in differing(parts_of(one), parts_of(library))])
        return Outcomes()

    tracer = Tracer(
        one,
        other,
        edits,
        judge,
        lambda asked, seen: True,
        lambda asked: frozenset({asked.rule}),
        frozenset({"apart"}),
    )
    causes, seen = tracer.causes(Asked("place", "apart", ("puff-1",)))
    assert ([str(key) for key in causes], seen) == ([f"card puff {line}"], True)
    assert tried == [[f"card puff {line}"]]
