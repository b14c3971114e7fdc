"""A reason holds all that is printed of one rule at one binding; what says nothing is left out of a step."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from advisor.model.reason import Reason, Step, Value, Verdict


def test_seven_verdicts_are_kept_apart() -> None:
    assert len(set(Verdict)) == 7


def test_steps_nest() -> None:
    leaf = Step(id="r(a)/expect/0", op="measure", text="gap", value=Value(best=12.0, unit="cm"))
    top = Step(
        id="r(a)/expect", op="compare", text="gap is 25 or more", value=Value(truth=False), inputs=(leaf,)
    )
    reason = Reason(
        id="r(a)",
        rule="r",
        level="danger",
        stage="always",
        verdict=Verdict.FAILS,
        subjects=("a",),
        sentence="s",
        step=top,
    )
    assert reason.step is not None
    assert reason.step.inputs[0].value.best == 12.0
    with pytest.raises(ValidationError):
        reason.verdict = Verdict.HOLDS


def test_a_printed_step_has_no_empty_keys_and_keeps_nought_and_no() -> None:
    step = Step(id="r/expect", op="compare", text="t", value=Value(low=0.0, best=0.0, truth=False))
    told = step.model_dump()
    assert told["value"]["low"] == 0.0
    assert told["value"]["truth"] is False
    assert not {"grounds", "inputs", "decides", "cause"} & told.keys()
    assert Step.model_validate(told) == step
