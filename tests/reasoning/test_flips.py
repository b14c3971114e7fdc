"""What would turn a verdict: flip points by hand, and that the flipped cell really gives the good side."""

from __future__ import annotations

import pytest

from advisor.language.nodes import Given, Number
from advisor.model.results import Verdict
from advisor.model.tank import Statement
from advisor.reasoning.examples import Trial, try_out
from advisor.reasoning.flips import Flip, Way, cost_of, ways_of
from advisor.reasoning.record import Row
from tests.reasoning.small import NOWHERE, compiled_of

PAIR = "animal a, neighbour b of a"
LEVERS = """
lever part(animal a, animal b) changes gap(a, b) up by 2 cm cost 4 say "move {a} off {b}"
  not-checked "what {a} meets"
lever divide(animal a, animal b) makes divider(a, b) cost 3 say "divide {a} and {b}"
lever dim(place p) changes light(p) down by 5 PAR cost 6 say "shade {p}"
lever bed(place p) makes ground(p) = sand cost 2 say "put sand under {p}"
lever fence(animal a) makes fenced(a) cost 1 say "fence {a}"
lever cool(tank) changes warmth(tank) by 0.5 K cost 1 say "set the heater"
"""
GIVEN = "x is coral with reach = 20 cm, potency = 3\n        y is coral with potency = 1"


def trial(expect: str, given: str, *, binders: str = PAIR, when: str = "", unless: str = "") -> Trial:
    """One rule tried out on one example."""
    ids = "x, y" if "," in binders else "x"
    example = f'\nexample "one" for tested\n  given {GIVEN}\n        {given}\n  then  {ids} fails\n'
    more = LEVERS + example
    library, compiled = compiled_of(expect, more=more, binders=binders, when=when, unless=unless)
    return try_out(compiled, library.examples, library)


def ways(tried: Trial, about: str = "") -> list[Way]:
    """The ways found at the example's one binding."""
    return ways_of(tried.compiled, Row(tried.frame, 0), tried.frame.tables.library.levers, about)


def only(found: list[Way]) -> Flip:
    """The one flip of the one way."""
    ((flip,),) = found
    return flip


def test_a_gap_is_widened_past_its_error_and_rounded_up_to_the_step() -> None:
    """12 ±1 cm where 20 are wanted: 8 short and 1 for the error are 9, which in steps of 2 cm is 10."""
    flip = only(ways(trial("gap(a, b) >= reach(a)", "gap(x, y) = 12 cm")))
    assert (flip.fact.said.best, flip.fact.said.error) == (22.0, 1.0)
    assert flip.text == "move x off y by 10 cm, to 22 cm"
    assert (flip.steps, flip.not_checked) == (5, "what x meets")


def test_exactly_the_limit_is_enough_unless_more_is_asked_for() -> None:
    assert only(ways(trial("gap(a, b) >= reach(a)", "gap(x, y) = 13 cm"))).fact.said.best == 21.0
    assert only(ways(trial("gap(a, b) > reach(a)", "gap(x, y) = 13 cm"))).fact.said.best == 23.0


def test_the_factor_of_the_cell_counts() -> None:
    """2 gap - 4 cm >= 20 cm with 8 ±1 cm: the low end 7 gives 10, 10 short, so 5 cm more, in steps 6."""
    assert only(ways(trial("2 * gap(a, b) - 4 cm >= reach(a)", "gap(x, y) = 8 cm"))).fact.said.best == 14.0


def test_of_two_animals_the_one_that_is_not_asked_about_is_moved() -> None:
    tried = trial("gap(a, b) >= reach(a)", "gap(x, y) = 12 cm")
    assert only(ways(tried, "x")).text.startswith("move y off x")
    assert only(ways(tried, "y")).text.startswith("move x off y")


def test_what_excuses_is_a_way_and_the_cheapest_comes_first() -> None:
    found = ways(trial("gap(a, b) >= reach(a)", "gap(x, y) = 12 cm", unless="divider(a, b)"))
    assert [[flip.lever.name for flip in way] for way in found] == [["divide"], ["part"]]
    assert found[0][0].fact.said.truth is True
    assert [cost_of(way) for way in found] == [3, 4]


def test_all_of_a_conjunction_is_needed_and_one_of_a_choice() -> None:
    both = ways(trial("gap(a, b) >= reach(a) and fenced(b)", "gap(x, y) = 12 cm"))
    assert [sorted(flip.lever.name for flip in way) for way in both] == [["fence", "part"]]
    either = ways(trial("gap(a, b) >= reach(a) or fenced(b)", "gap(x, y) = 12 cm"))
    assert [[flip.lever.name for flip in way] for way in either] == [["fence"], ["part"]]


def test_a_band_is_entered_from_the_side_it_lies_on() -> None:
    """A shade may only take light: 200 PAR, to a tenth, comes down below 100 PAR; 10 PAR never comes up."""
    rule = "light(a.spot) between 50 PAR and 100 PAR"
    flip = only(ways(trial(rule, "light(x.spot) = 200 PAR", binders="animal a")))
    said = flip.fact.said
    assert said.best is not None
    assert said.error is not None
    assert said.best + said.error <= 100 < said.best + 5 + said.error * (said.best + 5) / said.best
    assert ways(trial(rule, "light(x.spot) = 10 PAR", binders="animal a")) == []


def test_a_word_is_made_another_and_only_one_that_is_wanted() -> None:
    flip = only(ways(trial("ground(a.spot) is sand", "ground(x.spot) = rock", binders="animal a")))
    assert flip.fact.said.words == ("sand",)
    assert ways(trial("ground(a.spot) is rock", "ground(x.spot) unknown", binders="animal a")) == []
    turned = trial("ground(a.spot) is not rock", "ground(x.spot) = rock", binders="animal a")
    assert only(ways(turned)).text == "put sand under x.spot"


def test_the_tank_has_levers_too() -> None:
    flip = only(ways(trial("warmth(tank) <= 27 °C", "warmth(tank) = 27.2 °C", binders="animal a")))
    assert flip.fact.subjects == ("tank",)
    assert flip.text == "set the heater by 1 K, to 26.2 °C"


def test_what_has_no_lever_is_fixed() -> None:
    assert ways(trial("potency(a) <= 2", "gap(x, y) = 12 cm", binders="animal a")) == []


def test_a_reading_nobody_took_is_never_changed() -> None:
    assert ways(trial("gap(a, b) >= reach(a)", "gap(x, y) unknown")) == []


def test_every_one_of_several_is_needed_where_every_one_must_be() -> None:
    every = "every neighbour n of a where gap(a, n) >= 20 cm"
    found = ways(trial(every, "gap(x, y) = 12 cm", binders="animal a"))
    assert [[flip.fact.subjects for flip in way] for way in found] == [[("x", "y")]]
    some = ways(
        trial("not any neighbour n of a where gap(a, n) < 20 cm", "gap(x, y) = 12 cm", binders="animal a")
    )
    assert only(some).fact.said.best == 22.0


@pytest.mark.parametrize("gap", [3.0, 9.5, 12.0, 18.9, 19.0, 20.0, 20.9])
@pytest.mark.parametrize("sign", [">=", ">"])
@pytest.mark.parametrize("more", ["", " - 1.5 cm", " + gap(a, b)"])
def test_the_flipped_cell_gives_the_good_side_and_a_step_less_does_not(
    gap: float, sign: str, more: str
) -> None:
    tried = trial(f"gap(a, b){more} {sign} reach(a)", f"gap(x, y) = {gap} cm")
    if tried.plane.verdict[0] == 0:
        return
    said = only(ways(tried)).fact.said
    assert said.best is not None
    assert again(tried, said.best) is Verdict.HOLDS
    assert said.best - 2.0 <= gap or again(tried, said.best - 2.0) is not Verdict.HOLDS


def again(tried: Trial, gap_cm: float) -> Verdict:
    """The verdict of the same example with another gap."""
    example = tried.cases[0].example
    givens = tuple(
        Given(NOWHERE, fact=item.fact, low=Number(NOWHERE, gap_cm, "cm"))
        if item.fact is not None and item.fact.name == "gap"
        else item
        for item in example.givens
    )
    changed = type(example)(example.span, example.title, example.rule, givens, example.thens)
    return try_out(tried.compiled, [changed], tried.frame.tables.library).verdict(0)


def test_a_statement_is_never_both_a_point_and_a_range() -> None:
    said = only(ways(trial("gap(a, b) >= reach(a)", "gap(x, y) = 10 to 14 cm"))).fact.said
    assert said == Statement(low=20, high=24, written="as changed")
