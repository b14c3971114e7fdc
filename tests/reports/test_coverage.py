"""What the examples of rule files reach, printed."""

from __future__ import annotations

from advisor.model.coverage import Mark
from advisor.reports.coverage import coverage_page, marks_text
from advisor.reports.printer import WIDTH, render
from tests.reports.samples_of_proofs import BLOCK, cover, covered


def test_every_rule_has_a_line_with_its_verdicts_and_share() -> None:
    shown = render(coverage_page(cover()))
    line = next(line for line in shown.splitlines() if line.startswith("keep-clear"))
    assert line.split() == ["keep-clear", "2", "1", "1", "0", "12/15"]
    assert "looks-well" in shown
    assert "by eye" in shown
    assert "room  1/1" in shown
    assert "Shown: 13 of 16 marks (81.2 %) by 3 examples, 5 outcomes." in shown
    assert max(map(len, shown.splitlines())) <= WIDTH


def test_one_rule_is_its_text_with_marks_and_its_gaps() -> None:
    shown = render(coverage_page(cover(covered(gaps=True))))
    assert "TF? +·  expect  gap(a, b) >= reach(a)" in shown
    assert "TF·     unless  divider(a, b)" in shown
    assert "TF?             or fenced(a)" in shown
    assert "never  unknown: divider(a, b)" in shown
    assert "why    in every example it is no" in shown
    assert BLOCK in shown


def test_a_gap_without_an_example_says_so() -> None:
    thing = covered(gaps=True)
    bare = thing.model_copy(update={"gaps": (thing.gaps[0].model_copy(update={"example": ""}),)})
    assert "no example was found that would show it" in render(coverage_page(cover(bare)))


def test_failing_examples_are_told_and_count() -> None:
    shown = render(coverage_page(cover(failed=2), 0))
    assert shown.startswith(
        "2 outcomes not as expected; what they reach counts all the same.\nShown: 13 of 16"
    )


def test_outcomes_that_the_house_moves_are_told_apart_from_faults() -> None:
    answer = cover().model_copy(update={"moved": 25, "moved_by": ("house.rules",)})
    shown = " ".join(render(coverage_page(answer, 0)).split())
    assert "25 shipped outcomes otherwise because of lines of your house file; that is no fault." in shown
    assert "advisor rules test --house house.rules" in shown
    assert "not as expected" not in shown


def test_an_example_that_shows_two_things_is_printed_once() -> None:
    thing = covered(gaps=True)
    twice = thing.model_copy(update={"gaps": (thing.gaps[0], thing.gaps[0])})
    shown = render(coverage_page(cover(twice)))
    assert shown.count(BLOCK) == 1
    assert "the same example as above shows it" in shown


def test_marks_are_letters_and_dots() -> None:
    marks = (
        Mark(what="true", seen=1),
        Mark(what="false", seen=0),
        Mark(what="low end met within a step", seen=1),
        Mark(what="low end missed within a step", seen=2),
        Mark(what="high end met within a step", seen=0),
    )
    assert marks_text(marks) == "T· +-·"
