"""Steps as a tree of lines: each under its number, a repeated one only pointed to."""

from __future__ import annotations

from advisor.model.results import Step, Value
from advisor.reports.printer import render
from advisor.reports.steps import Seen, full_grounds, said, step_blocks
from tests.reports import samples

GAP, REACH = samples.GAP_STEP.inputs


def shown(number: str, step: Step, seen: Seen | None = None, deepest: int | None = None) -> str:
    """Return a tree as one line of text."""
    return " ".join(render(tuple(step_blocks(number, step, seen or Seen(), deepest))).split())


def test_every_step_stands_under_the_number_that_opens_it() -> None:
    text = shown("1.3/expect", samples.GAP_STEP)
    assert text.startswith("1.3/expect gap between torch-2 and hammer-1 is at least reach")
    assert "1.3/expect/2/1 longest reach of torch-2 = 25 cm; decides [reach: card torch" in text
    assert "1.3/expect/2/2 hammer-1 lies down-flow of torch-2 = not known; missing" in text


def test_a_repeated_step_is_printed_once() -> None:
    seen = Seen()
    shown("1/expect", samples.GAP_STEP, seen)
    again = samples.renamed(samples.GAP_STEP, samples.GAP_STEP.id, "elsewhere")
    assert shown("2/expect", again, seen).endswith("= yes, as at 1/expect")


def test_a_reference_points_to_where_its_step_stands() -> None:
    seen = Seen()
    shown("1/expect/1", GAP, seen)
    again = GAP.model_copy(update={"id": "x/when", "grounds": (), "same_as": GAP.id})
    assert shown("4/when", again, seen).endswith("= 36 ±1 cm, as at 1/expect/1")
    assert shown("4/when", again).endswith(f"as at {GAP.id}")


def test_steps_that_only_sound_alike_are_both_printed() -> None:
    cases = [
        Step(id=name, op="cases", text="the case that applies", value=samples.exact(5, "cm"), inputs=(below,))
        for name, below in (("a", GAP), ("b", REACH))
    ]
    seen = Seen()
    assert [shown(step.id, step, seen).count("as at") for step in cases] == [0, 0]


def test_a_number_is_not_said_to_be_itself() -> None:
    zero = Step(id="z", op="number", text="25 cm", value=samples.exact(25, "cm"))
    assert said(zero) == "25 cm"
    assert shown("1", zero) == "1 25 cm"


def test_a_crowd_of_inputs_is_counted() -> None:
    leaf = Step(id="x", op="measure", text="leaf", value=Value(low=1, best=1, high=1, unit="cm"))
    many = tuple(leaf.model_copy(update={"id": f"sum/{at}", "text": f"leaf {at}"}) for at in range(40))
    crowd = Step(id="sum", op="aggregate", text="sum of many", value=Value(), inputs=many)
    text = shown("1/expect", crowd)
    assert text.count("leaf") == 12
    assert "and 28 more of this kind: --open 1/expect" in text


def test_a_page_may_end_some_steps_down() -> None:
    text = shown("1/expect", samples.GAP_STEP, deepest=1)
    assert "1/expect/2 reach toward hammer-1 = 25 cm 2 below: --open 1/expect/2" in text
    assert "longest reach" not in text


def test_grounds_that_stand_above_are_not_told_again() -> None:
    seen = Seen()
    seen.earlier(GAP, "1/expect/1")
    assert shown("1/expect/1", GAP, seen).endswith("= 36 ±1 cm; decides")


def test_what_the_house_changed_stands_beside_the_step_it_touches() -> None:
    step = samples.GAP_STEP.model_copy(update={"house": ("your house file changed x from 1 cm to 2 cm",)})
    assert "; your house file changed x from 1 cm to 2 cm" in shown("1", step)


def test_grounds_are_told_in_full() -> None:
    assert full_grounds((samples.REACH, samples.REACH)) == (
        "reach: card torch (keepers' word); keepers' reports, no study"
    )
