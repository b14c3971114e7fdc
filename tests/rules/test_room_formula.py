"""The room two animals want for a year, from the shipped cards and rules, against a reckoning by hand.

The reckoning: the longest reach of the one that can hurt the other (the usual
reach where the other lies up-flow in a steady stream), at least 2 cm; twelve
months of both edges' growth; 2 cm of allowance. Whole centimetres.
"""

from __future__ import annotations

import numpy as np
import pytest

from advisor.knowledge.names import choose_cards
from advisor.language.library import Library
from advisor.model.tank import Animal, Fact, Phase, Statement, Tank
from advisor.reasoning.bindings import Bindings, population_of
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.judge import judge_bindings
from advisor.reasoning.survey import make_survey
from tests.rules.days import DAY

APART_CM = 100.0
RULE = "room-for-reach-and-growth"


def tank_of(first: str, second: str, pattern: str, up_flow: bool) -> Tank:
    animals = tuple(
        Animal(
            id=name, taxon=taxon, phase=Phase.PLACED, placed_on=DAY, size_cm=Statement(best=8.0, error=0.0)
        )
        for name, taxon in (("one", first), ("other", second))
    )
    facts = (
        Fact(measure="gap", subjects=("one", "other"), said=Statement(best=APART_CM, error=0.0, on=DAY)),
        Fact(measure="tank-flow-pattern", subjects=("tank",), said=Statement(words=(pattern,), on=DAY)),
        Fact(measure="up-flow", subjects=("other", "one"), said=Statement(truth=up_flow, on=DAY)),
    )
    return Tank(id="two", name="two animals", animals=animals, facts=facts)


def room_wanted_cm(library: Library, tank: Tank, months: float) -> float:
    """How much of today's gap the rule asks for, from what it leaves over of a wide one. [cm]"""
    cards = choose_cards(tank.animals, library)
    survey = make_survey(tank, library, DAY, cards=cards)
    compiled = compile_rule(library.rules[RULE], library)
    first, second = (binder.name for binder in compiled.binders)
    rows = {first: np.array([0, 1]), second: np.array([1, 0])}
    plane = judge_bindings(
        compiled, survey, population_of(survey), Bindings(np.zeros(2, np.int64), rows), np.full(2, months)
    )
    return APART_CM - float(min(plane.low))


@pytest.mark.parametrize(
    ("first", "second", "pattern", "up_flow", "wanted_cm"),
    [
        ("torch", "branching-hammer", "random", False, 29),  # 25 + 12 x (0.9 + 0.9) / 10 + 2 = 29.16
        ("galaxea", "encrusting-montipora", "steady", False, 38),  # 30 + 12 x (1 + 4) / 10 + 2 = 38
        ("galaxea", "encrusting-montipora", "steady", True, 18),  # 10 + 12 x (1 + 4) / 10 + 2 = 18
        ("chalice", "blasto-wellsi", "random", False, 16),  # 10 + 12 x (2.5 + 0.8) / 10 + 2 = 15.96
        ("platygyra", "favites", "random", False, 14),  # 10 + 12 x (0.8 + 0.9) / 10 + 2 = 14.04
        ("frogspawn", "maxima-clam", "random", False, 25),  # 20 + 12 x (0.9 + 1.5) / 10 + 2 = 24.88
    ],
)
def test_room_for_a_year(
    library: Library, first: str, second: str, pattern: str, up_flow: bool, wanted_cm: int
) -> None:
    assert round(room_wanted_cm(library, tank_of(first, second, pattern, up_flow), 12.0)) == wanted_cm


def test_growth_is_what_a_year_adds(library: Library) -> None:
    tank = tank_of("galaxea", "encrusting-montipora", "steady", False)
    assert room_wanted_cm(library, tank, 12.0) - room_wanted_cm(library, tank, 0.0) == pytest.approx(6.0)
