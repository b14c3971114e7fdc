"""What an answer says twice is told once, and can be found from where it is referred to."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from advisor.model.results import Reason, Step, WhereAnswer, WhyAnswer
from advisor.model.tank import Model
from advisor.reports.once import told_once
from advisor.reports.outline import numbered_reasons
from tests.reports import samples


def steps(answer: Model) -> Iterator[Step]:
    """Yield every step in the order of the document."""
    assert isinstance(answer, WhereAnswer | WhyAnswer)
    reasons = [reason for _, reason in numbered_reasons(answer)]
    if isinstance(answer, WhereAnswer) and answer.tonight is not None:
        first = len(answer.tonight.reasons)  # the first night stands before the places
        reasons = [*reasons[-first:], *reasons[:-first]]
    for reason in reasons:
        for step in (*reason.decides, *([reason.step] if reason.step is not None else [])):
            yield from below(step)


def below(step: Step) -> Iterator[Step]:
    """Yield a step and all under it."""
    yield step
    for each in step.inputs:
        yield from below(each)


def test_a_step_that_says_the_same_becomes_a_reference_to_the_first() -> None:
    answer = samples.why_not_torch()
    once = list(steps(told_once(answer)))
    gap = [step for step in once if step.text == "gap between torch-2 and hammer-1"]
    assert len(gap) == 3  # twice as what decides, once in a tree; the second tree is a reference itself
    assert [bool(step.grounds) for step in gap] == [True, False, False]
    assert {step.same_as for step in gap[1:]} == {gap[0].id}


@pytest.mark.parametrize("answer", [samples.where_torch(), samples.why_not_torch()])
def test_every_reference_finds_an_earlier_step_with_all_of_it(answer: WhereAnswer | WhyAnswer) -> None:
    whole = {step.id: step for step in steps(answer)}
    met: set[str] = set()
    for step in steps(told_once(answer)):
        if step.same_as:
            assert step.same_as in met
            first, own = whole[step.same_as], whole[step.id]
            assert (first.text, first.value, first.grounds) == (own.text, own.value, own.grounds)
        else:
            met.add(step.id)


def test_nothing_but_steps_is_cut() -> None:
    answer = samples.where_torch()
    bare = {"decides": (), "step": None}

    def without_steps(each: WhereAnswer) -> list[Reason]:
        return [reason.model_copy(update=bare) for _, reason in numbered_reasons(each)]

    once = told_once(answer)
    assert isinstance(once, WhereAnswer)
    assert without_steps(once) == without_steps(answer)
    assert told_once(once) == once


def test_an_answer_without_reasons_stays_as_it_is() -> None:
    card = samples.card_torch()
    assert told_once(card) is card


def test_findings_are_told_once_too() -> None:
    lagoon = samples.audit_lagoon()
    twice = lagoon.model_copy(update={"now": (lagoon.now[0], lagoon.now[0])})
    text = told_once(twice).model_dump_json()
    assert text.count('"tape"') < twice.model_dump_json().count('"tape"')
