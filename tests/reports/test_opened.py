"""One node, opened."""

from __future__ import annotations

from advisor.reports.opened import node_page
from advisor.reports.outline import Node, find_node
from advisor.reports.printer import render
from tests.reports import samples


def opened(name: str) -> list[str]:
    """Return the lines of one node of the sample answer."""
    node = find_node(samples.where_torch(), name)
    assert node is not None
    return render(node_page(node)).splitlines()


def test_a_step_tells_what_it_is_and_what_is_below_it_with_ids() -> None:
    lines = opened("1.3/expect/2")
    assert lines[:3] == [
        "node      keep-clear-of-stingers(torch-2,hammer-1)/expect/2",
        "kind      define",
        "says      reach toward hammer-1 = 25 cm",
    ]
    assert "below it:" in lines
    assert any("1.3/expect/2/1  longest reach of torch-2 = 25 cm" in line for line in lines)


def test_a_cell_tells_its_grounds_and_that_it_decides() -> None:
    lines = opened("keep-clear-of-stingers(torch-2,hammer-1)/expect/2/1")
    assert "grounds   reach: card torch (keepers' word); keepers' reports, no study" in lines
    assert "decides   yes: were it not known, the verdict would not stand" in lines
    assert "below it:" not in lines


def test_what_is_open_and_what_the_house_changed_is_told() -> None:
    step = samples.GAP_STEP.inputs[1].inputs[1]
    changed = step.model_copy(update={"house": ("your house file changed x",)})
    lines = render(node_page(Node("1/x", step.id, changed))).splitlines()
    assert {"open      missing", "house     your house file changed x"} <= set(lines)


def test_a_reason_is_told_with_its_sources_and_the_clauses_below_it() -> None:
    text = "\n".join(opened("1.3"))
    assert "source    common practice, no source (keepers' word)" in text
    assert "below it:" in text
    assert "1.3/expect  gap between torch-2 and hammer-1 is at least" in text


def test_a_node_without_a_number_goes_by_its_id() -> None:
    shown = render(node_page(Node("", samples.GAP_OK.id, samples.GAP_OK)))
    assert shown.startswith("keep-clear-of-stingers(torch-2,hammer-1) ")
