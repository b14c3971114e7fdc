"""Which small changes no example notices, printed."""

from __future__ import annotations

from advisor.model.mutation import MutateAnswer
from advisor.reports.mutation import mutation_page
from advisor.reports.printer import WIDTH, render
from tests.reports.samples_of_proofs import BLOCK, mutated


def test_a_change_nobody_notices_is_shown_with_the_example_that_would() -> None:
    shown = render(mutation_page(mutated()))
    assert "keep-clear  spacing.rules:6" in shown
    assert "expect  gap(a, b) >= reach(a)" in shown
    assert "changed gap(a, b) > reach(a)" in shown
    assert BLOCK in shown
    assert "changed left out" in shown
    assert "none was found that would" in shown
    assert "it says the same in other words" in " ".join(shown.split())
    assert shown.endswith("4 changes tried: 2 noticed (50.0 %), 2 not; 1 change would change nothing.\n")
    assert max(map(len, shown.splitlines())) <= WIDTH


def test_short_is_a_line_each_and_level_nothing_only_the_count() -> None:
    assert render(mutation_page(mutated(), short=True)).startswith(
        "spacing.rules:6: keep-clear, strictness: gap(a, b) >= reach(a) -> gap(a, b) >"
    )
    assert len(render(mutation_page(mutated(), 0)).splitlines()) == 1


def test_what_could_not_be_tried_is_told_at_level_two() -> None:
    assert "out looks-well: it is checked by eye" in render(mutation_page(mutated(), 2))


def test_nothing_to_change_is_all_noticed() -> None:
    assert "0 changes tried: 0 noticed (100.0 %), 0 not." in render(
        mutation_page(MutateAnswer(tried=0, noticed=0))
    )
