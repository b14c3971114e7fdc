from __future__ import annotations

from advisor.reports.page import Grid, Labelled
from advisor.reports.reaches import reach_lines

REACHES = (("keep-clear", "within 60 cm"), ("not-too-bright", "each animal"), ("enough-flow", "each animal"))


def test_counts_by_what_is_asked_of() -> None:
    (block,) = reach_lines(REACHES, each=False)
    assert isinstance(block, Labelled)
    text = "".join(part.text for part in block.parts)
    assert "2 rules of each animal" in text
    assert "1 rule of every two animals near enough to each other" in text


def test_each_rule_on_a_row_of_its_own() -> None:
    (block,) = reach_lines(REACHES, each=True)
    assert isinstance(block, Grid)
    assert len(block.rows) == len(REACHES)


def test_nothing_to_say_of_no_rules() -> None:
    assert reach_lines((), each=False) == ()
