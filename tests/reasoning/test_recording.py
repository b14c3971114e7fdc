"""The tree of steps: its ids, its values, and only the way to some cells."""

from __future__ import annotations

from unittest.mock import patch

import numpy as np
import pytest

from advisor.model.results import Step
from advisor.reasoning.record import Key
from advisor.reasoning.recording import Recording, step_below, step_of
from tests.reasoning.grids import Grid
from tests.reasoning.test_record import Known, expected, row_of


def step(expect: str, **known: Known) -> Step:
    """Return the recorded expectation of a rule."""
    compiled, row = row_of(expect, known)
    return step_of(expected(compiled), row, "rule(a0,a1)/expect")


def test_a_comparison_records_both_operands_and_its_margin_in_both_units() -> None:
    found = step("gap(a, b) >= reach(a) + 2 cm", gap=(11.0, 12.0, 13.0, 0.0), reach=(18.0,))
    assert found.op == "compare"
    assert found.value.truth is False
    assert found.margin is not None
    assert (found.margin.low, found.margin.best, found.margin.high, found.margin.unit) == (-9, -8, -7, "cm")
    assert found.margin_steps == -8
    here, wanted = found.inputs
    assert (here.op, here.value.best) == ("numbercell", 12.0)
    assert wanted.value.best == 20.0
    assert [item.value.best for item in wanted.inputs] == [18.0, 2.0]


def test_steps_are_named_by_their_path() -> None:
    found = step("gap(a, b) >= reach(a) + 2 cm and potency(a) >= 1")
    assert found.id == "rule(a0,a1)/expect"
    assert [item.id for item in found.inputs] == ["rule(a0,a1)/expect/1", "rule(a0,a1)/expect/2"]
    assert found.inputs[0].inputs[1].inputs[0].id == "rule(a0,a1)/expect/1/2/1"


def test_every_node_of_an_aggregate_has_a_member_and_a_name_of_its_own() -> None:
    found = step("count of neighbour n of a where (gap(a, n) < 9 cm) <= 2", gap=(4.0,))
    count = found.inputs[0]
    assert count.value.best == 2.0
    assert len(count.inputs) == 2
    assert {item.id for item in count.inputs} == {"rule(a0,a1)/expect/1/a1/1", "rule(a0,a1)/expect/1/a2/1"}
    assert all(item.value.truth is True for item in count.inputs)


def test_a_member_that_does_not_count_is_told_where_the_verdict_rests_on_its_amount() -> None:
    compiled, row = row_of("least of gap(a, n) for neighbour n of a where potency(n) > 4 >= 5 cm", {
        "gap": (12.0,), "potency": (1.0,),
    })  # fmt: skip
    recording = Recording(frozenset({("gap", (0, 1))}))
    found = step_of(expected(compiled), row, "rule(a0,a1)/expect", recording)
    assert recording.first["gap", (0, 1)].decides
    assert [leaf.text for leaf in leaves(found)] == [
        "potency of (1,)", "4", "gap of (0, 1)", "others that make no difference", "5 cm",
    ]  # fmt: skip


def test_a_repeated_unknown_is_recorded_without_the_machinery_that_decides_it() -> None:
    found = step("reach(a) >= 5 cm or not reach(a) >= 5 cm", reach=(0.0, np.nan, 60.0, 1.0))
    assert found.op == "some"
    assert [item.op for item in found.inputs] == ["compare", "negation"]


@pytest.mark.parametrize(("values", "cause"), [
    ((4.0, 5.0, 6.0, 0.0), "too close"), ((0.0, np.nan, 60.0, 1.0), "missing"),
    ((0.0, 5.0, 60.0, 2.0), "stale"), ((40.0, np.nan, 60.0, 1.0), ""), ((1.0,), ""),
])  # fmt: skip
def test_a_step_says_why_it_is_open(values: tuple[float, ...], cause: str) -> None:
    assert step("reach(a) >= 5 cm", reach=values).cause == cause


def test_a_step_of_a_value_says_that_it_is_missing() -> None:
    found = step("reach(a) >= 5 cm", reach=(0.0, np.nan, 60.0, 1.0))
    assert found.inputs[0].cause == "missing"
    assert not found.inputs[0].value.known


# --- only the way to some cells -----------------------------------------------------


def leaves(found: Step) -> list[Step]:
    """Return the steps that have nothing below them."""
    return [leaf for each in found.inputs for leaf in leaves(each)] if found.inputs else [found]


FORMULA = "gap(a, b) >= reach(a) + 2 cm and (potency(a) >= 1 or divider(a, b))"
GAP: Key = ("gap", (0, 1))
REACH: Key = ("reach", (0,))


def test_only_what_leads_to_some_cells_is_recorded_and_ids_stay() -> None:
    compiled, row = row_of(FORMULA, {"gap": (12.0,), "reach": (18.0,)})
    recording = Recording(frozenset({GAP}), frozenset({GAP, REACH}))
    found = step_below(expected(compiled), row, "r/expect", recording)
    assert found is not None
    assert [(leaf.id, leaf.decides) for leaf in leaves(found)] == [
        ("r/expect/1/1", True), ("r/expect/1/2/1", False), ("r/expect/1/2/2", False),
    ]  # fmt: skip
    assert set(recording.first) == {GAP, REACH}
    whole = step_of(expected(compiled), row, "r/expect")
    assert {leaf.id for leaf in leaves(found)} < {leaf.id for leaf in leaves(whole)}


def test_what_leads_to_nothing_asked_for_is_not_recorded() -> None:
    compiled, row = row_of(FORMULA, {})
    assert (
        step_below(expected(compiled), row, "r/expect", Recording(shown=frozenset({("size", (0,))}))) is None
    )
    with pytest.raises(ValueError, match="nothing below"):
        step_of(expected(compiled), row, "r/expect", Recording(shown=frozenset()))


def test_members_of_one_name_are_told_apart() -> None:
    compiled, row = row_of("count of neighbour n of a where (gap(a, n) < 9 cm) <= 2", {"gap": (4.0,)})
    with patch.object(Grid, "label", lambda grid, kind, at: "somebody else"):
        found = step_of(expected(compiled), row, "r/expect")
    assert [each.id for each in found.inputs[0].inputs] == [
        "r/expect/1/somebody-else/1", "r/expect/1/somebody-else.2/1",
    ]  # fmt: skip
