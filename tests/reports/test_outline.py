"""Every node of an answer can be found by its id and by its printed number."""

from __future__ import annotations

import pytest

from advisor.model.results import Answer
from advisor.reports.outline import find_node, node_ids, nodes, numbered_reasons
from advisor.reports.printer import render
from advisor.reports.where import where_page
from tests.reports import samples


@pytest.mark.parametrize("answer", [samples.where_torch(), samples.why_not_torch(), samples.audit_lagoon()])
def test_every_number_finds_its_own_node(answer: Answer) -> None:
    every = list(nodes(answer))
    assert len({node.number for node in every}) == len(every)
    for node in every:
        assert find_node(answer, node.number) == node


def test_an_id_finds_the_step_it_names() -> None:
    wanted = "keep-clear-of-stingers(torch-2,hammer-1)/expect/2/1"
    node = find_node(samples.where_torch(), wanted)
    assert node is not None
    assert (node.number, node.content.id) == ("1.3.2.1", wanted)


def test_numbers_are_those_that_are_printed() -> None:
    answer = samples.where_torch()
    shown = render(where_page(answer, 4))
    for number, reason in numbered_reasons(answer):
        assert f"\n{number}  {reason.level} {reason.rule}" in shown


def test_an_audit_numbers_open_and_accepted_apart() -> None:
    numbers = [number for number, _ in numbered_reasons(samples.audit_lagoon())]
    assert numbers == ["g1", "1", "2", "3", "4", "o1", "o2", "o3", "o4", "a1"]


def test_an_unknown_node_is_none() -> None:
    assert find_node(samples.where_torch(), "nowhere/9") is None


def test_ids_and_numbers_are_listed_for_a_suggestion() -> None:
    assert {"1", samples.STUNG.id} <= set(node_ids(samples.why_not_torch()))
