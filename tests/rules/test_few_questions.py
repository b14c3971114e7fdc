"""A keeper who has measured nothing is not buried in questions."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.knowledge.names import choose_cards
from advisor.language.library import Library
from advisor.language.nodes import Level, Stage
from advisor.model.changes import Add
from advisor.model.results import Verdict
from advisor.model.tank import Animal, Fact, Phase, Spot, Statement, Tank
from advisor.reasoning.bindings import Bindings, population_of
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.reasons import Asked, reasons_for
from advisor.reasoning.survey import Survey, make_survey
from tests.rules.days import DAY

GOOD_WATER: tuple[tuple[str, float], ...] = (
    ("temperature", 25.5), ("salinity", 34.8), ("alkalinity", 8.3), ("calcium", 425.0), ("magnesium", 1330.0),
    ("nitrate", 8.0), ("phosphate", 0.05), ("ammonia", 0.0), ("tank-age", 730.0),
)  # fmt: skip
TOLD = (("light", "medium"), ("flow", "sways"), ("ground", "rock"))


def a_tank() -> Tank:
    spot = Spot(id="shelf", nothing_else_within_cm=80.0)
    facts = [
        Fact(measure=name, subjects=("tank",), said=Statement(best=value, error=0.0, on=DAY))
        for name, value in GOOD_WATER
    ]
    facts += [
        Fact(measure=name, subjects=("shelf",), said=Statement(words=(word,), on=DAY)) for name, word in TOLD
    ]
    return Tank(id="hall", name="hall", spots=(spot,), facts=tuple(facts))


def questions(library: Library, taxon: str, levels: set[Level], stages: set[Stage]) -> set[tuple[str, ...]]:
    """The cells that keep any rule open about one newcomer on the only spot."""
    newcomer = Animal(id="new", taxon=taxon, phase=Phase.WAITING, size_cm=Statement(best=5.0, error=0.5))
    cards = choose_cards([newcomer], library)
    survey: Survey = make_survey(a_tank(), library, DAY, worlds=((Add(newcomer, "shelf"),),), cards=cards)
    row = np.array([survey.animal_row("new", 1)], np.int64)
    found: set[tuple[str, ...]] = set()
    for rule in library.rules.values():
        if rule.level not in levels or rule.stage not in stages or len(rule.binders) != 1:
            continue
        bound = {rule.binders[0].name: row if rule.binders[0].kind.value != "tank" else np.zeros(1, np.int64)}
        where = Bindings(np.ones(1, np.int64), bound)
        (reason,) = reasons_for(
            compile_rule(rule, library), survey, population_of(survey), where, np.zeros(1), (Asked(),)
        )
        if reason.verdict is Verdict.UNDECIDED:
            found |= {(need.measure, *need.subjects) for need in reason.needs}
    return found


@pytest.mark.parametrize("taxon", ["torch", "candy-cane", "zoanthus", "toadstool", "staghorn-acropora"])
def test_words_for_light_flow_and_ground_leave_a_handful_of_questions(library: Library, taxon: str) -> None:
    asked = questions(library, taxon, {Level.DANGER, Level.WARNING}, {Stage.ALWAYS, Stage.SETTLED})
    assert len(asked) <= 6, sorted(asked)


@pytest.mark.parametrize("taxon", ["torch", "candy-cane", "zoanthus", "toadstool"])
def test_no_exotic_question_stands_in_the_way_of_a_first_night(library: Library, taxon: str) -> None:
    asked = questions(library, taxon, {Level.DANGER}, {Stage.ALWAYS, Stage.TONIGHT})
    assert asked <= {("light", "shelf"), ("flow", "shelf")}, sorted(asked)


def test_good_water_opens_every_gate(library: Library) -> None:
    gates = {Stage.GATE}
    assert questions(library, "staghorn-acropora", set(Level), gates) == set()
