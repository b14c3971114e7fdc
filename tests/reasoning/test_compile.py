"""From trees to operations: sharing, names, texts, and work that does not grow with bindings."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from advisor.language.nodes import Call, Name, Rule
from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import Bindings, population_of
from advisor.reasoning.compile import (
    CompiledRule,
    compile_prefer,
    compile_rule,
)
from advisor.reasoning.frame import Frame, Ref
from advisor.reasoning.judge import judge
from advisor.reasoning.logic_ops import Exact, operations_run
from advisor.reasoning.ops import DefinedQuantity, NumberCell, Op, truth
from advisor.reasoning.scales import CompileError, as_quantity
from advisor.reasoning.tables import Tables
from tests.properties import demo
from tests.reasoning.compiled import PAIR, below, expect_op, grid_with, sides, value_of
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import NOWHERE, compiled_of, library_of, rule_text


def test_equal_parts_of_a_rule_are_one_operation() -> None:
    _, compiled = compiled_of(
        "gap(a, b) >= reach(a) + 2 cm",
        when="reach(a) + 2 cm > 5 cm and gap(a, b) < 30 cm",
        because="{reach(a)} and {gap(b, a)}",
        binders=PAIR,
    )
    assert compiled.expect is not None
    assert compiled.when is not None
    shared = {op for op in below(compiled.expect) if isinstance(op, NumberCell)}
    assert shared == {op for op in below(compiled.when) if isinstance(op, NumberCell)}
    assert shared == {piece for piece in compiled.because.pieces if isinstance(piece, Op)}


def test_a_gap_is_the_same_both_ways_round_and_other_pairs_are_not() -> None:
    library = library_of(rule_text("gap(a, b) + gap(b, a) >= 3 cm", binders=PAIR))
    op = compile_rule(library.rules["tested"], library).expect
    assert op is not None
    assert sum(isinstance(item, NumberCell) for item in below(op)) == 1
    both = expect_op("reach(a) + reach(b) >= 3 cm", binders=PAIR)
    assert sum(isinstance(item, NumberCell) for item in below(both)) == 2


def test_the_same_aggregate_in_two_places_is_counted_once() -> None:
    counted = "count of neighbour n of a where gap(a, n) < 9 cm"
    _, compiled = compiled_of(f"{counted} <= 3", when=f"{counted} >= 1", because=f"{{{counted}}} stand near")
    assert compiled.expect is not None
    assert compiled.when is not None
    expect_side, when_side = compiled.expect.inputs[0], compiled.when.inputs[0]
    assert expect_side is when_side
    assert expect_side in compiled.because.pieces


def test_aggregates_within_aggregates_keep_their_variables_apart() -> None:
    """Each n is its own: an animal is crowded if some neighbour itself has a neighbour nearer than 3 cm."""
    library, compiled = compiled_of(
        "not any neighbour n of a where (gap(a, n) < 6 cm and crowded(n))",
        more="define crowded(animal a) as any neighbour n of a where gap(a, n) < 3 cm\n",
    )
    grid = random_grid(library, 0, animals=3, worlds=0, known=1.0)
    gaps = np.array([[0.0, 7.0, 9.0], [7.0, 0.0, 2.0], [9.0, 2.0, 0.0]])
    grid.number["gap"] = [gaps, gaps, gaps, np.zeros((3, 3))]
    plane = judge(compiled, grid, population_of(grid))
    crowded = [any(gaps[i, j] < 3 for j in range(3) if j != i) for i in range(3)]
    expected = [not any(gaps[i, j] < 6 and crowded[j] for j in range(3) if j != i) for i in range(3)]
    assert (plane.verdict == 0).tolist() == expected == [True, False, False]


def test_a_definition_used_for_both_animals_keeps_them_apart() -> None:
    library, compiled = compiled_of(
        "room(a, b) >= room(b, a)",
        more="define room(animal a, animal b) in cm as reach(a) + 2 * size(b)\n",
        binders=PAIR,
    )
    grid = random_grid(library, 0, animals=2, worlds=0, known=1.0)
    for name, values in (("reach", (1.0, 9.0)), ("size", (2.0, 3.0))):
        grid.number[name] = [np.array(values)] * 3 + [np.zeros(2)]
    plane = judge(compiled, grid, population_of(grid))
    assert plane.best.tolist() == [(1 + 6) - (9 + 4), (9 + 4) - (1 + 6)]


# --- names, words, texts ----------------------------------------------------


def test_a_named_number_keeps_its_name_and_takes_its_base_value() -> None:
    _, right = sides("reach(a) >= room", more="let room = 20 mm\n")
    assert value_of(right, grid_with()) == 2.0
    assert getattr(right, "name", "") == "room"


def test_a_definition_keeps_a_node_of_its_own() -> None:
    left, _ = sides("room(a) >= 3 cm", more="define room(animal a) in mm as reach(a) + 1 cm\n")
    assert isinstance(left, DefinedQuantity)
    assert (left.name, left.refs, left.unit.name) == ("room", (Ref("a", left.refs[0].kind),), "mm")
    assert value_of(left, grid_with(reach=4.0)) == 5.0


def test_a_text_keeps_its_pieces_and_knows_animals_places_and_the_month() -> None:
    _, compiled = compiled_of(
        "light(a.spot) >= 5 PAR", because="in {month} {a} at {a.spot} has {light(a.spot)}, {group(a)}"
    )
    kinds = [type(piece).__name__ for piece in compiled.because.pieces]
    assert kinds == ["str", "str", "str", "Ref", "str", "Ref", "str", "NumberCell", "str", "WordCell"]
    assert compiled.because.pieces[1] == "{month}"


def test_a_rule_knows_whether_it_counts_others() -> None:
    _, plain = compiled_of("reach(a) >= 2 cm")
    _, counting = compiled_of(
        "reach(a) >= 2 cm",
        when="crowded(a)",
        more="define crowded(animal a) as count of neighbour n of a >= 3\n",
    )
    assert not plain.aggregates
    assert counting.aggregates


def test_a_preference_is_compiled_like_a_rule() -> None:
    library = library_of(
        "prefer calm for animal a when group(a) is soft want light(a.spot) between 50 PAR and 90 PAR\n"
        '  weight 3 fade 10 steps because "{a} sits in {light(a.spot)}" source "us" kind guess\n'
    )
    found = compile_prefer(library.prefers["calm"], library)
    assert found.when is not None
    assert (found.prefer.weight, found.prefer.fade_steps, found.aggregates) == (3, 10, False)
    assert [binder.name for binder in found.binders] == ["a"]


def test_what_the_checker_should_have_refused_is_an_error_and_no_answer() -> None:
    library = library_of(rule_text("reach(a) >= 2 cm"))
    rule = library.rules["tested"]

    def broken(expect: object) -> Rule:
        """Return the rule with another expectation."""
        return replace(rule, expect=expect)  # type: ignore[arg-type]  # on purpose

    unknown = Call(NOWHERE, "nonsense", (Name(NOWHERE, "a"),))
    stranger = Call(NOWHERE, "reach", (Name(NOWHERE, "z"),))
    nothing = Name(NOWHERE, "w")
    wrong = ((unknown, "not in the vocabulary"), (stranger, "not bound"), (nothing, "not a value"))
    for expect, text in wrong:
        with pytest.raises(CompileError, match=text):
            compile_rule(broken(expect), library)
    with pytest.raises(CompileError, match="a quantity was expected"):
        as_quantity(compiled_of("fenced(a)")[1].expect or Op(NOWHERE))


# --- the work does not grow with the bindings -------------------------------


def operations(compiled: CompiledRule, grid: Grid, size: int) -> int:
    """Return how many operations a rule runs over `size` bindings."""
    rng = np.random.default_rng(0)
    animals = len(grid.animal_world)
    rows = {binder.name: rng.integers(0, animals, size).astype(np.int64) for binder in compiled.binders}
    bindings = Bindings(np.zeros(size, np.int64), rows)
    frame = Frame(grid, population_of(grid), bindings.worlds, bindings.rows, np.zeros(size))
    for op in (compiled.when, compiled.expect, compiled.unless):
        if op is not None:
            truth(frame, op)
    return operations_run(frame)


RULES = (
    "gap(a, b) >= reach(a) + 2 cm",
    "reach(a) >= 2 cm or not reach(a) >= 2 cm or group(a) is group(b)",
    "count of neighbour n of a where (gap(a, n) < 6 cm) <= 2",
    "any neighbour n of a where (least of gap(n, m) for neighbour m of n) >= 3 cm",
)


@pytest.mark.parametrize("expect", RULES)
def test_two_and_two_thousand_bindings_take_the_same_operations(expect: str) -> None:
    library, compiled = compiled_of(expect, binders=PAIR)
    grid = random_grid(library, 0, animals=8, worlds=0)
    assert operations(compiled, grid, 2) == operations(compiled, grid, 2000) > 2


def test_a_repeated_comparison_is_wrapped_once() -> None:
    op = expect_op("reach(a) >= 2 cm or not reach(a) >= 2 cm")
    assert isinstance(op, Exact)
    assert len(op.repeated) == 1


def every_shipped() -> list[str]:
    """Return the names of the shipped rules."""
    return sorted(item.rule.name for item in demo.bench().rules)


def rows_of_kind(tables: Tables, kind: Kind) -> int:
    """Return the number of rows of a kind's table."""
    if kind is Kind.TANK:
        return 1
    return len(tables.animal_world if kind.lives else tables.listing(kind).world)


@pytest.mark.parametrize("name", every_shipped())
def test_every_shipped_rule_takes_the_same_operations_for_two_and_two_thousand(name: str) -> None:
    whole = demo.sitting()
    compiled = next(item for item in whole.bench.rules if item.rule.name == name)
    counts = []
    for size in (2, 2000):
        rng = np.random.default_rng(7)
        rows = {
            binder.name: rng.integers(0, rows_of_kind(whole.tables, binder.kind), size)
            for binder in compiled.binders
        }
        frame = Frame(whole.tables, whole.population, np.zeros(size, np.int64), rows, np.zeros(size))
        for op in (compiled.when, compiled.expect, compiled.unless):
            if op is not None:
                frame.value(op)
        counts.append(operations_run(frame))
    assert counts[0] == counts[1]
    by_eye_alone = compiled.expect is None and compiled.when is None
    assert (counts[0] == 0) is by_eye_alone
