"""An animal whose species is not certain: its weapons against a run for each card it may have."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.language.library import Library
from advisor.model.changes import CardChoice
from advisor.reasoning.bindings import population_of
from advisor.reasoning.columns import Numbers
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import FAILS, HOLDS, NOT_COVERED, UNDECIDED, judge
from advisor.reasoning.logic_ops import NumberAggregate
from advisor.reasoning.ops import DefinedQuantity, numbers
from tests.reasoning import armed
from tests.reasoning.survey_samples import animal, gap, tank

SEEDS = st.integers(0, 100_000)

TRUTHS = (
    "any weapon w of a where weapon-reach-most(w) >= 6 cm",
    "any weapon w of a",
    "every weapon w of a where weapon-potency(w) <= 2",
    "every weapon w of a where weapon-kind(w) is not mucus",
    "(count of weapon w of a where (weapon-potency(w) >= 2)) >= 2",
    "(count of weapon w of a) <= 1",
    "(sum of weapon-reach-most(w) for weapon w of a) <= 12 cm",
    "(most of weapon-reach-most(w) for weapon w of a where (weapon-potency(w) >= 2)) >= 5 cm",
    "(least of weapon-reach-most(w) for weapon w of a) >= 3 cm",
)
NESTED = (
    "any weapon w of a where every weapon v of a where weapon-reach-most(v) <= weapon-reach-most(w)",
    "every weapon w of a where (count of weapon v of a where (weapon-potency(v) >= weapon-potency(w))) <= 2",
    "not (any weapon w of a where weapon-potency(w) >= 4) or (most of weapon-potency(v) for weapon v of a)"
    " >= 4",
    "every neighbour b of a where any weapon w of b where weapon-reach-most(w) < gap(a, b)",
)
QUANTITIES = (
    "sum of weapon-reach-most(w) for weapon w of a",
    "most of weapon-reach-most(w) for weapon w of a",
    "least of weapon-reach-most(w) for weapon w of a where weapon-potency(w) >= 2",
)


def verdicts(rules: str, cards: list[str], choice: tuple[str, ...], level: str = "warning") -> list[int]:
    """Return the verdicts of a rule about one animal with some cards, beside another that has the first."""
    library = armed.library(rules.replace("level warning", f"level {level}"), cards)
    of = tank([], [animal("a", "c-0"), animal("b", "c-0")], [gap("a", "b", 7)])
    chosen = {"a": CardChoice(choice), "b": CardChoice(("c-0",))}
    made = armed.Sample(of, chosen, ()).survey(library)
    compiled = armed.compiled(library)
    plane = judge(compiled, made, population_of(made))
    mine = plane.bindings.rows["a"] == made.animal_row("a")
    return [int(code) for code in plane.verdict[mine]]


def drawn(seed: int) -> tuple[list[str], tuple[str, ...]]:
    """Return three random cards, and two or three that an animal may have."""
    rng = np.random.default_rng(seed)
    cards = [armed.card_text(rng, f"c-{at}") for at in range(3)]
    return cards, ("c-0", "c-1", "c-2")[: int(rng.integers(2, 4))]


@settings(max_examples=15, deadline=None)
@pytest.mark.parametrize("expect", TRUTHS)
@given(seed=SEEDS)
def test_what_is_made_of_weapons_is_sure_where_every_card_says_it(expect: str, seed: int) -> None:
    cards, choice = drawn(seed)
    rules = armed.rule_text("animal a", expect)
    whole = verdicts(rules, cards, choice)
    alone = {verdicts(rules, cards, (card,))[0] for card in choice}
    assert whole == ([alone.pop()] if len(alone) == 1 else [UNDECIDED])


@settings(max_examples=15, deadline=None)
@pytest.mark.parametrize("level", ["warning", "danger"])
@pytest.mark.parametrize("expect", NESTED)
@given(seed=SEEDS)
def test_a_weapon_within_a_weapon_never_makes_anything_sure_that_a_card_denies(
    expect: str, level: str, seed: int
) -> None:
    cards, choice = drawn(seed)
    rules = armed.rule_text("animal a", expect)
    whole = verdicts(rules, cards, choice, level)[0]
    alone = {verdicts(rules, cards, (card,), level)[0] for card in choice}
    assert whole == UNDECIDED or alone == {whole}


@settings(max_examples=25, deadline=None)
@pytest.mark.parametrize("level", ["warning", "danger"])
@given(seed=SEEDS)
def test_a_rule_of_each_weapon_folds_over_the_cards(level: str, seed: int) -> None:
    cards, choice = drawn(seed)
    rules = armed.rule_text(
        "animal a, weapon w of a", "weapon-reach-most(w) <= 6 cm", "weapon-potency(w) >= 2"
    )
    whole = verdicts(rules, cards, choice, level)
    alone = [verdicts(rules, cards, (card,), level) for card in choice]
    if FAILS in whole:  # a weapon that every card has fails, whatever card it is
        assert all(FAILS in each for each in alone)
    if not {FAILS, UNDECIDED} & set(whole):
        assert all(set(each) <= {HOLDS, NOT_COVERED} for each in alone)
    if any(FAILS in each for each in alone):
        assert {FAILS, UNDECIDED} & set(whole)


@settings(max_examples=15, deadline=None)
@pytest.mark.parametrize("value", QUANTITIES)
@given(seed=SEEDS)
def test_a_quantity_made_of_weapons_covers_what_each_card_gives(value: str, seed: int) -> None:
    cards, choice = drawn(seed)
    library = armed.library(armed.rule_text("animal a", f"({value}) >= 0 cm"), cards)
    whole = column(library, choice)
    alone = [column(library, (card,)) for card in choice]
    assert whole.low[0] == min(each.low[0] for each in alone)
    assert whole.high[0] == max(each.high[0] for each in alone)


def column(library: Library, choice: tuple[str, ...]) -> Numbers:
    """Return the range of the quantity on the left of a rule."""
    of = tank([], [animal("a", "c-0")])
    made = armed.Sample(of, {"a": CardChoice(choice)}, ()).survey(library)
    compare = armed.compiled(library).expect
    assert compare is not None
    frame = Frame(
        made,
        population_of(made),
        np.zeros(1, np.int64),
        {"a": np.zeros(1, np.int64)},
        np.zeros(1),
    )
    left = compare.inputs[0]
    assert isinstance(left, NumberAggregate | DefinedQuantity)
    return numbers(frame, left)


def test_cards_differ_enough_for_the_runs_above_to_say_something() -> None:
    rules = armed.rule_text("animal a", TRUTHS[0])
    seen = {tuple(verdicts(rules, *drawn(seed))) for seed in range(30)}
    assert seen == {(HOLDS,), (FAILS,), (UNDECIDED,)}


SILENT = 'card c-0 "c-0"\n  group large-polyp'


@pytest.mark.parametrize(
    ("expect", "verdict"),
    [
        ("any weapon w of a where weapon-potency(w) >= 1", UNDECIDED),
        ("every weapon w of a where weapon-potency(w) >= 1", UNDECIDED),
        ("every weapon w of a where weapon-potency(w) >= 0", HOLDS),
        ("(count of weapon w of a) <= 20", UNDECIDED),
        ("(count of weapon w of a) >= 0", HOLDS),
        ("(sum of weapon-reach-most(w) for weapon w of a) <= 500 cm", UNDECIDED),
        ("(most of weapon-reach-most(w) for weapon w of a) <= 60 cm", HOLDS),
    ],
)
@pytest.mark.parametrize("choice", [(), ("c-0",)])
def test_weapons_nobody_tells_of_may_be_any_or_none(
    expect: str, verdict: int, choice: tuple[str, ...]
) -> None:
    assert verdicts(armed.rule_text("animal a", expect), [SILENT], choice) == [verdict]


@pytest.mark.parametrize("choice", [(), ("c-0",)])
def test_a_rule_of_each_weapon_is_open_where_nobody_tells_of_them(choice: tuple[str, ...]) -> None:
    rules = armed.rule_text("animal a, weapon w of a", "weapon-potency(w) <= 1")
    assert verdicts(rules, [SILENT], choice) == [UNDECIDED]
