"""Every node of an answer can be found by its id and by its printed number."""

from __future__ import annotations

import pytest

from advisor.model.results import Answer, Reason
from advisor.reports.outline import find_node, nearest_nodes, nodes, numbered_reasons
from advisor.reports.printer import render
from advisor.reports.where import where_page
from tests.reports import samples


@pytest.mark.parametrize("answer", [samples.where_torch(), samples.why_not_torch(), samples.audit_lagoon()])
def test_every_number_finds_its_own_node(answer: Answer) -> None:
    for node in nodes(answer):
        found = find_node(answer, node.number or node.id)
        assert found is not None
        assert found.id == node.id


def test_an_id_finds_the_step_it_names() -> None:
    wanted = "keep-clear-of-stingers(torch-2,hammer-1)/expect/2/1"
    node = find_node(samples.where_torch(), wanted)
    assert node is not None
    assert (node.number, node.content.id) == ("1.3/expect/2/1", wanted)


def test_a_reference_opens_what_it_refers_to_under_the_id_that_was_asked_for() -> None:
    answer = samples.why_not_torch()
    gap = samples.GAP_STEP.inputs[0]
    again = gap.model_copy(update={"id": f"{samples.GAP_OK.id}/when/1", "grounds": (), "same_as": gap.id})
    root = samples.GAP_RULE.model_copy(update={"inputs": (samples.GAP_STEP, again)})
    reason = samples.GAP_OK.model_copy(update={"step": root, "number": "1", "decides": ()})
    place = answer.place.model_copy(update={"reasons": (reason,)})
    node = find_node(answer.model_copy(update={"place": place}), "1/when/1")
    assert node is not None
    assert not isinstance(node.content, Reason)
    assert (node.number, node.id) == ("1/when/1", again.id)
    assert node.content.grounds == gap.grounds


def test_a_cell_told_without_its_tree_is_a_node_too() -> None:
    answer = samples.why_not_torch()
    bare = [reason.model_copy(update={"step": None}) for reason in answer.place.reasons]
    place = answer.place.model_copy(update={"reasons": tuple(bare)})
    node = find_node(answer.model_copy(update={"place": place}), "4/expect/1")
    assert node is not None
    assert node.content.id == "keep-clear-of-stingers(torch-2,hammer-1)/expect/1"


def test_numbers_are_those_that_are_printed() -> None:
    answer = samples.where_torch()
    shown = render(where_page(answer, 4))
    for number, reason in numbered_reasons(answer):
        assert not number or f"\n{number}  {reason.level} {reason.rule}" in shown


def test_an_audit_numbers_open_and_accepted_apart() -> None:
    numbers = [number for number, _ in numbered_reasons(samples.audit_lagoon())]
    assert numbers == ["g1", "1", "2", "3", "4", "o1", "o2", "o3", "o4", "a1"]


def test_an_unknown_node_is_none_and_nothing_is_not_a_name() -> None:
    assert find_node(samples.where_torch(), "nowhere/9") is None
    assert find_node(samples.where_torch(), "") is None


def test_the_nearest_are_of_the_reason_that_was_meant() -> None:
    answer = samples.where_torch()
    assert nearest_nodes(answer, "keep-clear-of-stinger(torch-2,hammer-1)/expect/1")[0] == samples.GAP_OK.id
    near = nearest_nodes(answer, "1.3/expct/2/1")
    assert near[0] == "1.3/expect/2/1"
    assert all(name.startswith("1.3/") for name in near)
    assert len(near) <= 3
