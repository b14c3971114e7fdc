"""From trees to operations: sharing, units, collected cells, and work that does not grow with bindings."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from advisor.language.nodes import Call, Name, Rule
from advisor.reasoning.bindings import Bindings, population_of
from advisor.reasoning.columns import Numbers
from advisor.reasoning.compile import (
    CompiledRule,
    CompileError,
    as_quantity,
    compile_prefer,
    compile_rule,
    open_words,
)
from advisor.reasoning.frame import Frame, Ref
from advisor.reasoning.judge import judge
from advisor.reasoning.logic_ops import Exact, operations_run
from advisor.reasoning.ops import Compare, DefinedQuantity, NumberCell, Op, Quantity, numbers, truth
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import NOWHERE, compiled_of, letters, library_of, rule_text

PAIR = "animal a, neighbour b of a"


def below(op: Op) -> list[Op]:
    """Return every operation below and with one, each once."""
    found: dict[Op, None] = {}
    todo = [op]
    while todo:
        item = todo.pop()
        if item not in found:
            found[item] = None
            todo.extend(item.inputs)
            todo.extend(
                part
                for part in (getattr(item, "condition", None), getattr(item, "of", None))
                if isinstance(part, Op)
            )
    return list(found)


def expect_op(expect: str, *, more: str = "", binders: str = "animal a") -> Op:
    """Return the compiled expectation of a rule."""
    _, compiled = compiled_of(expect, more=more, binders=binders)
    assert compiled.expect is not None
    return compiled.expect


def sides(expect: str, *, more: str = "", binders: str = "animal a") -> tuple[Quantity, Quantity]:
    """Return both sides of a comparison."""
    op = expect_op(expect, more=more, binders=binders)
    assert isinstance(op, Compare)
    return as_quantity(op.left), as_quantity(op.right)


def point(grid: Grid, measure: str, value: float) -> None:
    """Make one measure the same known number everywhere."""
    for table in (grid.number, grid.plain):
        shape = table[measure][0].shape
        table[measure] = [np.full(shape, value)] * 3 + [np.zeros(shape)]


def value_of(quantity: Quantity, grid: Grid) -> float:
    """Return a quantity of the first animal, in base units."""
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), {"a": np.zeros(1, np.int64)}, np.zeros(1))
    found: Numbers = numbers(frame, quantity)
    assert found.low[0] == found.high[0] == found.best[0]
    return float(found.best[0])


def grid_with(**values: float) -> Grid:
    """Return one animal whose measures are known numbers."""
    grid = random_grid(library_of(), 0, animals=1, worlds=0)
    for name, value in values.items():
        point(grid, name, value)
    return grid


# --- sharing ----------------------------------------------------------------


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


# --- like cells collected ---------------------------------------------------


@pytest.mark.parametrize(("expect", "verdict"), [
    ("gap(a, b) >= gap(a, b)", "t"),
    ("gap(a, b) > gap(b, a)", "f"),
    ("gap(a, b) + reach(a) >= gap(a, b) + 3 cm", "t"),
    ("gap(a, b) - 1 cm < gap(a, b)", "t"),
    ("2 * gap(a, b) >= gap(a, b)", "t"),
    ("gap(a, b) >= gap(a, b) / 2", "t"),
    ("gap(a, b) * 50 % <= gap(a, b)", "t"),
    ("-gap(a, b) <= gap(a, b)", "t"),
    ("twice(a, b) >= gap(a, b) + gap(a, b)", "t"),
    ("gap(a, b) between gap(a, b) - 1 cm and gap(a, b) + 1 cm", "t"),
    ("gap(a, b) >= reach(b)", "u"),
])  # fmt: skip
def test_a_reading_on_both_sides_is_the_same_reading(expect: str, verdict: str) -> None:
    library, compiled = compiled_of(
        expect, binders=PAIR, more="define twice(animal a, animal b) in cm as 2 * gap(a, b)\n"
    )
    grid = random_grid(library, 0, animals=2, worlds=0)
    for part, value in enumerate((0.0, np.nan, 500.0, 1.0)):
        grid.number["gap"][part][:] = value
    point(grid, "reach", 5.0)
    assert compiled.expect is not None
    frame = Frame(
        grid,
        population_of(grid),
        np.zeros(1, np.int64),
        {"a": np.array([0]), "b": np.array([1])},
        np.zeros(1),
    )
    assert letters(truth(frame, compiled.expect)) == verdict


# --- units ------------------------------------------------------------------


def test_growth_times_time_is_a_length() -> None:
    left, right = sides("grows(a) * 6 months >= 2 cm")
    assert left.unit.name == "cm"
    assert value_of(left, grid_with(grows=4.0)) == pytest.approx(2.4)  # 4 mm a month, six months
    assert value_of(right, grid_with()) == 2.0
    days, _ = sides("grows(a) * 30.4375 days >= 2 cm")
    assert value_of(days, grid_with(grows=4.0)) == pytest.approx(0.4)


def test_a_length_over_a_growth_rate_is_a_time() -> None:
    left, _ = sides("reach(a) / grows(a) >= 3 months")
    assert left.unit.name == "days"
    assert value_of(left, grid_with(reach=4.0, grows=10.0)) == pytest.approx(4 * 30.4375)


def test_a_percentage_of_a_quantity_is_that_quantity() -> None:
    left, _ = sides("reach(a) * 20 % >= 2 cm")
    assert left.unit.name == "cm"
    assert value_of(left, grid_with(reach=15.0)) == pytest.approx(3.0)
    turned, _ = sides("20 % * reach(a) >= 2 cm")
    assert value_of(turned, grid_with(reach=15.0)) == pytest.approx(3.0)
    over, _ = sides("reach(a) / 20 % >= 2 cm")
    assert value_of(over, grid_with(reach=15.0)) == pytest.approx(75.0)


def test_a_quotient_of_like_quantities_is_a_ratio() -> None:
    left, _ = sides("reach(a) / size(a) >= 2")
    assert left.unit.name == "times"
    assert value_of(left, grid_with(reach=15.0, size=6.0)) == pytest.approx(2.5)


def test_two_temperatures_differ_by_a_temperature_difference() -> None:
    op = expect_op("warmth(tank) - 25 °C <= 2 K", binders="tank")
    assert isinstance(op, Compare)
    assert as_quantity(op.left).unit.name == "K"
    grid = grid_with(warmth=26.5)
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), {}, np.zeros(1))
    found = truth(frame, op)
    assert found.best[0] == pytest.approx(0.5 / 0.5)


def test_a_margin_of_temperatures_is_a_difference_and_not_a_temperature() -> None:
    op = expect_op("warmth(tank) <= 77 °F", binders="tank")
    assert isinstance(op, Compare)
    assert op.unit.name == "K"
    grid = grid_with(warmth=26.0)
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), {}, np.zeros(1))
    assert truth(frame, op).best[0] * op.step == pytest.approx(-1.0)


def test_a_temperature_and_a_difference_add_to_a_temperature() -> None:
    left, _ = sides("2 K + warmth(tank) <= 28 °C", binders="tank")
    assert left.unit.name == "°C"


def test_units_of_one_dimension_mix() -> None:
    left, _ = sides("reach(a) + 2 in >= 0.1 m")
    assert value_of(left, grid_with(reach=1.0)) == pytest.approx(6.08)


@pytest.mark.parametrize(
    "expect", ["reach(a) * size(a) >= 3 cm", "origin(a) / reach(a) >= 2", "2 / reach(a) >= 3"]
)
def test_what_cannot_be_combined_is_refused(expect: str) -> None:
    with pytest.raises(CompileError, match="cannot be combined"):
        expect_op(expect)


def test_a_margin_is_counted_in_steps_of_the_measure_that_is_read() -> None:
    op = expect_op("2 cm <= size(a)")
    assert isinstance(op, Compare)
    assert op.step == 0.5
    plain = expect_op("count of neighbour n of a <= 3")
    assert isinstance(plain, Compare)
    assert plain.step == 1.0


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


def test_words_that_open_names_are_compared_with_are_collected() -> None:
    library = library_of(
        rule_text("genus(a) is one of acropora, porites", unless="genus(a) is not fungia")
        + "define kin(animal a) as genus(a) is montipora\n"
        + rule_text("kin(a)", name="other", when="group(a) is soft")
    )
    found = open_words(library)
    assert set(found) == {"genus"}
    assert set(found["genus"]) == {"acropora", "porites", "fungia", "montipora"}


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
