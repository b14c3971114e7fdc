"""Whether a formula can be true: against every case of a small world, and against the rules' own judge."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from advisor.reasoning.columns import Column
from advisor.reasoning.ops import NumberCell, RelationCell, WordCell
from advisor.rulework.cellspace import held_column, number_column, unknown_column
from advisor.rulework.possible import Columns, Settled, Space, can_be, is_met, settle, shortened
from tests.language.texts import base_library
from tests.rulework.lints import library_of, space

LIGHTS = (0.0, 50.0, 75.0, 100.0, 120.0, 150.0, 900.0)
ATOMS = (
    "group(a) is soft",
    "group(a) is clam",
    "light(a.spot) >= 100 PAR",
    "light(a.spot) < 50 PAR",
    "light(a.spot) between 50 PAR and 150 PAR",
    "divider(a, b)",
)


@pytest.mark.parametrize(
    ("text", "known"),
    [
        ("group(a) is soft and group(a) is clam", Settled.NEVER),
        ("group(a) is soft or group(a) is clam", Settled.POSSIBLE),
        ("light(a.spot) >= 300 PAR and light(a.spot) <= 100 PAR", Settled.NEVER),
        ("light(a.spot) >= 300 PAR and light(a.spot) <= 300 PAR", Settled.POSSIBLE),
        ("light(a.spot) > 300 PAR and light(a.spot) < 300 PAR", Settled.NEVER),
        ("light(a.spot) > 2500 PAR", Settled.NEVER),
        ("size(a) >= 0 cm", Settled.POSSIBLE),
        ("not size(a) >= 0 cm", Settled.NEVER),
        ("light(a.spot) >= light-min(a) and light(a.spot) < light-min(a)", Settled.NEVER),
        ("light(a.spot) > light-min(a) and light(a.spot) < light-max(a)", Settled.POSSIBLE),
        ("light-min(a) > light-max(a) and light-max(a) > 1500 PAR", Settled.NEVER),
        ("footing(a) has rock and not (footing(a) has rock)", Settled.NEVER),
        ("footing(a) has rock and footing(a) has sand", Settled.POSSIBLE),
        ("ground(a.spot) is one of footing(a)", Settled.POSSIBLE),
        ("genus(a) is genus(b) and genus(a) is not genus(b)", Settled.NEVER),
    ],
)
def test_what_is_known_of_a_formula(text: str, known: Settled) -> None:
    assert can_be(space(text, base_library())) is known


def test_nothing_is_claimed_of_quantities_that_are_linked_beyond_it() -> None:
    text = "light(a.spot) > 3 times * light-min(a) and light(a.spot) <= 2 times * light-min(a)"
    text += " and light-min(a) > 1 PAR"
    assert can_be(space(text, base_library())) is not Settled.POSSIBLE


def formulas() -> list[str]:
    """Random formulas over a few conditions."""
    chance = np.random.default_rng(5)
    out = []
    for _ in range(60):
        picked = chance.choice(len(ATOMS), size=4)
        parts = [("not " if chance.random() < 0.5 else "") + f"({ATOMS[index]})" for index in picked]
        words = chance.choice(["and", "or"], size=3)
        out.append(
            f"(({parts[0]} {words[0]} {parts[1]}) {words[1]} {parts[2]}) and ({parts[3]} or {parts[0]})"
        )
    return out


def ever_true(made: Space) -> bool:
    """Whether a formula is true in any case of the small world, each judged as a point."""
    cells = [choice.cell for choice in made.choices]
    domains: list[list[object]] = []
    for choice in made.choices:
        match choice.cell:
            case NumberCell():
                domains.append(list(LIGHTS))
            case WordCell():
                domains.append(list(range(len(choice.words))))
            case _:
                domains.append([False, True])
    rows = list(itertools.product(*domains))
    columns: Columns = {}
    for place, (cell, choice) in enumerate(zip(cells, made.choices, strict=True)):
        values = np.array([row[place] for row in rows])
        if isinstance(cell, NumberCell):
            columns[cell] = number_column(values.astype(float))
        elif isinstance(cell, RelationCell):
            columns[cell] = held_column(choice, values.astype(np.bool_))
        else:
            columns[cell] = held_column(choice, np.eye(len(choice.words), dtype=np.bool_)[values.astype(int)])
    return bool(made.judged(columns, len(rows)).yes.any())


@pytest.mark.parametrize("text", formulas())
def test_a_proof_and_a_case_agree_with_every_case_there_is(text: str) -> None:
    made = space(text, base_library())
    known = can_be(made)
    assert known is not Settled.OPEN
    assert (known is Settled.POSSIBLE) == ever_true(made)


def test_a_case_holds_only_what_matters() -> None:
    made = space("group(a) is soft and (divider(a, b) or light(a.spot) >= 100 PAR)", base_library())
    found = settle(made)
    assert found.case is not None
    assert len(found.case.columns) == 2
    for cell in found.case.columns:
        rest = {other: column for other, column in found.case.columns.items() if other is not cell}
        blank = {**{choice.cell: _unknown(made, choice.cell.name) for choice in made.choices}, **rest}
        assert not made.judged(blank, 1).yes[0]
    assert shortened(made, found.case).columns.keys() == found.case.columns.keys()


def _unknown(made: Space, name: str) -> Column:
    return unknown_column(next(choice for choice in made.choices if choice.cell.name == name))


def test_what_a_card_tells_goes_together() -> None:
    library = library_of("")
    text = "group(a) is large-polyp and light-max(a) > 250 PAR"
    assert can_be(space(text, library)) is Settled.POSSIBLE
    assert can_be(space(text, library, cards=True)) is Settled.NEVER
    assert can_be(space(text.replace("> 250", ">= 250"), library, cards=True)) is Settled.POSSIBLE


def test_a_cell_nobody_ever_knows_settles_nothing() -> None:
    from advisor.rulework.formulas import Formula
    from tests.rulework.lints import requirement

    made = requirement("grows-out(a) <= 10 mm/month")
    assert made.expect is not None
    formula = Formula(made.binders, made.expect)
    assert is_met(Space(formula, base_library()))
    assert not is_met(Space(formula, base_library(), blank=["grows-out"]))
