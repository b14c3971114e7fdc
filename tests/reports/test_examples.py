"""What came of the examples in the rule files."""

from __future__ import annotations

from advisor.reports.examples import examples_page
from advisor.reports.printer import render
from tests.reports import samples


def test_only_the_failed_ones_are_shown_with_both_outcomes_and_the_reason() -> None:
    shown = render(examples_page(samples.examples()))
    assert 'keep-clear: example "no tape"' in shown
    assert "rules/spacing.rules:31" in shown
    assert "expected  undecided needs gap(torch-1, zoa-2)" in shown
    assert "got       fails by 8 cm" in shown
    assert "gap to zoa-2 12 ±1 cm, wanted 20 cm or more" in shown
    assert '"far"' not in shown
    assert shown.endswith("3 examples: 1 not as expected.\n")


def test_level_four_names_those_that_held() -> None:
    assert "ok  keep-clear: far" in render(examples_page(samples.examples(), 4))


def test_short_is_one_line_each() -> None:
    shown = render(examples_page(samples.examples(), short=True))
    assert shown.startswith('rules/spacing.rules:31: keep-clear: example "no tape": expected undecided')


def test_all_good_is_one_line() -> None:
    assert render(examples_page(samples.examples()[:2])) == "2 examples: all as expected.\n"


def test_no_examples_is_not_success() -> None:
    assert render(examples_page(())) == "There is no example to run.\n"
