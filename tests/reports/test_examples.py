"""What came of the examples in the rule files."""

from __future__ import annotations

from advisor.model.results import ExamplesAnswer, Step, Value
from advisor.reports.examples import examples_page
from advisor.reports.printer import render
from tests.reports import samples
from tests.reports.samples_of_proofs import example_answer, moved


def test_only_the_failed_ones_are_shown_with_both_outcomes_and_the_reason() -> None:
    shown = render(examples_page(example_answer()))
    assert 'keep-clear: example "no tape"' in shown
    assert "rules/spacing.rules:31" in shown
    assert "expected  undecided needs gap(torch-1, zoa-2)" in shown
    assert "got       fails by 8 cm" in shown
    assert "gap to zoa-2 12 ±1 cm, wanted 20 cm or more" in shown
    assert '"far"' not in shown
    assert shown.endswith("3 examples, 3 outcomes: 1 not as expected.\n")


def test_both_sides_of_each_comparison_are_shown_with_their_units() -> None:
    gap = Step(id="k/expect/1", op="numbercell", text="gap", value=samples.about(12, 1, "cm"))
    reach = Step(id="k/expect/2", op="numbercell", text="reach", value=samples.exact(20, "cm"))
    compared = Step(
        id="k/expect",
        op="compare",
        text="gap is at least reach",
        value=Value(truth=False),
        inputs=(gap, reach),
    )
    wrong = samples.examples()[2]
    assert wrong.reason is not None
    reason = wrong.reason.model_copy(
        update={"step": Step(id="k", op="rule", text="k", value=Value(words=("fails",)), inputs=(compared,))}
    )
    answer = ExamplesAnswer(examples=(wrong.model_copy(update={"reason": reason}),))
    assert "expect    gap = 12 ±1 cm; reach = 20 cm: no" in render(examples_page(answer))


def test_what_a_house_moves_is_shown_with_its_line() -> None:
    answer = ExamplesAnswer(examples=samples.examples()[:2], moved=(moved(),))
    shown = render(examples_page(answer))
    assert "shipped   holds by 3 cm" in shown
    assert "here      fails by 2 cm" in shown
    assert "house     change allowance from 5 cm to 10 cm (house.rules:3)" in shown
    assert shown.endswith("The house moves 1 shipped outcome.\n")
    assert "holds by 3 cm; here fails by 2 cm (house.rules:3)" in " ".join(
        render(examples_page(answer, short=True)).split()
    )


def test_level_four_names_those_that_held() -> None:
    assert "ok  keep-clear: far" in render(examples_page(example_answer(), 4))


def test_short_is_one_line_each() -> None:
    shown = render(examples_page(example_answer(), short=True))
    assert shown.startswith('rules/spacing.rules:31: keep-clear: example "no tape": expected undecided')


def test_all_good_is_one_line_that_may_tell_how_long_it_took() -> None:
    good = example_answer(only_good=True)
    assert render(examples_page(good)) == "2 examples, 2 outcomes: all as expected.\n"
    assert render(examples_page(good, seconds=1.234)) == "2 examples, 2 outcomes: all as expected (1.2 s).\n"


def test_no_examples_is_not_success() -> None:
    assert render(examples_page(ExamplesAnswer(examples=()))) == "There is no example to run.\n"
