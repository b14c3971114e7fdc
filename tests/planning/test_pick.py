"""Which reasons an answer shows, in which order, and what it asks for."""

from __future__ import annotations

import itertools

from advisor.model.results import Need, Verdict
from advisor.planning.pick import (
    duties_of,
    main_measure,
    needs_of,
    numbered,
    reason_order,
    upper_end,
    weakest_point,
    without_echoes,
    without_open_advice,
)
from tests.planning.reasons import LATER, reason
from tests.reasoning.small import compiled_of

F, U, H = Verdict.FAILS, Verdict.UNDECIDED, Verdict.HOLDS


def test_the_order_of_an_explanation() -> None:
    """What fails, worst first, then what is open by its cause, then what holds; in each dangers first."""
    wanted = [
        reason("1", verdict=F, margin=-9),
        reason("2", verdict=F, margin=-1),
        reason("3", verdict=H, margin=4, until=LATER),
        reason("4", level="warning", verdict=F, margin=-2),
        reason("5", level="warning", verdict=F, margin=-3, until=LATER),
        reason("6", level="advice", verdict=F),
        reason("7", verdict=U, cause="missing"),
        reason("8", verdict=U, cause="stale"),
        reason("9", verdict=U, cause="too close", margin=-1),
        reason("a", verdict=U, cause="too close", margin=4),
        reason("b", level="warning", verdict=U, cause="missing"),
        reason("c", level="advice", verdict=U, cause="missing"),
        reason("d", verdict=H, margin=1),
        reason("e", verdict=H, margin=1).model_copy(update={"controllable": False}),
        reason("f", verdict=H, margin=3),
        reason("g", level="warning", verdict=H, margin=2),
    ]
    for mixed in (wanted[::-1], wanted[5:] + wanted[:5]):
        assert [item.subjects for item in sorted(mixed, key=reason_order)] == [
            item.subjects for item in wanted
        ]


def test_numbers_follow_the_order_and_carry_their_mark() -> None:
    assert [each.number for each in numbered([reason("a"), reason("b")])] == ["1", "2"]
    assert [each.number for each in numbered([reason("a")], mark="o")] == ["o1"]


def test_of_one_rule_the_nearest_comes_first() -> None:
    far, near = (
        reason("a", name).model_copy(update={"apart_cm": cm}) for name, cm in (("b", 30.0), ("c", 4.0))
    )
    untold = reason("a", "z")
    assert sorted([far, near, untold], key=reason_order) == [untold, near, far]
    other = near.model_copy(update={"rule": "zz", "apart_cm": 0.0})
    assert sorted([other, far], key=reason_order) == [far, other]


def test_the_order_is_total() -> None:
    """Alike in everything but whom they are about, reasons still have one order."""
    first, second = reason("a", "b"), reason("a", "c")
    assert reason_order(first) < reason_order(second)


def test_a_rule_between_two_is_told_once_the_worse_way_round() -> None:
    near, nearer = (
        reason("a", "b", margin=-2, quantity="gap to b"),
        reason("b", "a", margin=-8, quantity="gap to a"),
    )
    kept = without_echoes([near, nearer])
    assert [(each.id, each.echoes) for each in kept] == [(nearer.id, ("rule",))]
    assert without_echoes([near, nearer], both_ways=True) == sorted([near, nearer], key=reason_order)


def test_a_warning_about_what_a_danger_says_already_is_left_out() -> None:
    danger = reason("a", "b", rule="sting", quantity="gap to b")
    echo = reason("b", "a", rule="room", level="warning", quantity="gap to a")
    other = reason("a", rule="dim", level="warning", quantity="light")
    assert [item.rule for item in without_echoes([echo, danger, other])] == ["sting", "dim"]


def test_what_is_told_by_another_is_still_named_with_its_number() -> None:
    danger = reason("a", "b", rule="sting", quantity="gap to b")
    rooms = [reason("b", "a", rule=f"room-{at}", level="warning", quantity="gap to a") for at in range(2)]
    advice = reason("b", "a", rule="hint", level="advice", quantity="gap to a")
    open_one = reason("b", "a", rule="sure", level="warning", verdict=U, cause="stale", quantity="gap to a")
    kept = without_echoes(numbered([danger, *rooms, advice, open_one]))
    assert [each.rule for each in kept] == ["sting"]
    assert kept[0].echoes == ("2 room-0", "3 room-1")


def test_a_danger_is_never_left_out_for_a_danger_of_another_rule() -> None:
    one = reason("a", "b", rule="sting", quantity="gap to b")
    two = reason("a", "b", rule="poison", quantity="gap to b")
    assert {item.rule for item in without_echoes([one, two])} == {"sting", "poison"}


def test_a_danger_that_is_open_silences_no_warning() -> None:
    danger = reason("a", "b", rule="sting", verdict=U, cause="missing", quantity="gap to b")
    warning = reason("a", "b", rule="room", level="warning", quantity="gap to b")
    assert len(without_echoes([danger, warning])) == 2


def test_open_advice_is_left_out_and_failing_advice_is_not() -> None:
    advice = [reason("a", level="advice", verdict=U), reason("b", level="advice", verdict=F)]
    kept = without_open_advice([*advice, reason("c", verdict=U)])
    assert [item.subjects for item in kept] == [("b",), ("c",)]


def need(ask: str) -> Need:
    """Return a question."""
    return Need(measure="light", subjects=("a",), ask=ask)


def test_questions_are_asked_once_the_gravest_first_and_counted() -> None:
    found = needs_of([
        reason("a", level="warning", verdict=U, needs=(need("light?"), need("gap?"))),
        reason("b", level="warning", verdict=U, needs=(need("light?"),)),
        reason("c", verdict=U, needs=(need("gap?"),)),
        reason("d", level="warning", verdict=U, needs=(need("flow?"),)),
    ])  # fmt: skip
    assert [(item.ask, item.settles) for item in found] == [("gap?", 2), ("light?", 2), ("flow?", 1)]


def test_a_gap_is_one_question_whichever_way_round_it_is_put() -> None:
    there = Need(measure="gap", subjects=("a", "b"), ask="Measure from a to b")
    back = Need(measure="gap", subjects=("b", "a"), ask="Measure from b to a")
    found = needs_of([reason("a", verdict=U, needs=(there,)), reason("b", verdict=U, needs=(back,))])
    assert [(item.ask, item.settles) for item in found] == [("Measure from a to b", 2)]


def test_questions_do_not_depend_on_the_order_of_reasons() -> None:
    reasons = [
        reason("a", verdict=U, needs=(need("one"), need("two"))),
        reason("b", level="warning", verdict=U, needs=(need("three"),)),
        reason("c", level="advice", verdict=U, needs=(need("two"),)),
    ]
    orders = [needs_of(order) for order in itertools.permutations(reasons)]
    assert all(order == orders[0] for order in orders)


def test_duties_are_due_where_a_rule_is_not_met_or_may_not_be() -> None:
    reasons = [
        reason("a", verdict=F, duties=("feed it",)),
        reason("b", verdict=U, lean="no", duties=("look at night", "feed it")),
        reason("c", verdict=U, lean="yes", duties=("leans well",)),
        reason("d", verdict=H, duties=("never",)),
    ]
    assert duties_of(reasons) == ("feed it", "look at night")


def test_a_rule_is_about_what_it_reads_in_the_tank() -> None:
    binders = "animal a, neighbour b of a"
    assert main_measure(compiled_of("reach(a) <= gap(a, b)", binders=binders)[1]) == "gap"
    assert main_measure(compiled_of("light(a.spot) >= 30 PAR")[1]) == "light"
    assert main_measure(compiled_of("potency(a) >= 2")[1]) == "potency"


def test_which_end_of_a_quantity_a_rule_limits() -> None:
    assert upper_end(compiled_of("light(a.spot) <= 300 PAR")[1]) == 1
    assert upper_end(compiled_of("light(a.spot) >= 30 PAR")[1]) == 0
    assert upper_end(compiled_of("group(a) is soft")[1]) == 0


def test_nothing_graded_is_no_weakest_point() -> None:
    assert weakest_point([reason("a")]) == ""
