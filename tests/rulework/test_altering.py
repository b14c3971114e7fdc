"""Examples with one fact told otherwise."""

from __future__ import annotations

from advisor.language.nodes import Example
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import rule_of, try_out
from advisor.reasoning.record import Row
from advisor.rulework.altering import (
    Change,
    Slot,
    Value,
    alone,
    altered,
    cells_at,
    choices,
    pool_of,
    slot_of,
    told,
    written_given,
)
from advisor.rulework.pasting import block_of
from tests.rulework.little import CROWD, FAR, NEAR, ONE, PARTED, little

GAP = Slot("gap", ("x", "y"))
LIBRARY = little(FAR, NEAR, PARTED)


def example(at: int = 0) -> Example:
    return LIBRARY.examples[at]


def test_a_fact_is_told_otherwise_in_its_place() -> None:
    found = altered(example(), [Change(GAP, Value(7.5, 7.5))], LIBRARY)
    assert told(found, GAP) == Value(7.5, 7.5)
    assert "gap(x, y) = 7.5 cm" in block_of(found, ())
    assert told(example(), GAP) == Value(30.0, 30.0)


def test_a_gap_is_found_either_way_round() -> None:
    assert told(example(), Slot("gap", ("y", "x"))) == Value(30.0, 30.0)


def test_a_fact_is_added_left_out_or_left_open() -> None:
    fence = Slot("fenced", ("y",))
    assert told(altered(example(), [Change(fence, Value(word="yes"))], LIBRARY), fence) == Value(word="yes")
    assert told(altered(example(), [Change(GAP, None)], LIBRARY), GAP) is None
    opened = altered(example(), [Change(GAP, Value())], LIBRARY)
    assert "gap(x, y) unknown" in block_of(opened, ())
    light = Slot("light", ("x.spot",))
    assert "light(x.spot) = 40 to 50 PAR" in block_of(
        altered(example(), [Change(light, Value(40.0, 50.0))], LIBRARY), ()
    )


def test_a_change_is_said_as_an_example_would_tell_it() -> None:
    vocabulary = LIBRARY.vocabulary
    assert written_given(Change(GAP, Value(7.5, 7.5)), vocabulary) == "gap(x, y) = 7.5 cm"
    assert written_given(Change(GAP, Value(7.0, 9.0)), vocabulary) == "gap(x, y) = 7 to 9 cm"
    assert written_given(Change(GAP, None), vocabulary) == "gap(x, y) not told"
    assert written_given(Change(GAP, Value()), vocabulary) == "gap(x, y) unknown"
    assert written_given(Change(Slot("group", ("x",)), Value(word="soft")), vocabulary) == "group(x) = soft"


def test_what_else_a_fact_may_be() -> None:
    pool = pool_of(LIBRARY.examples)
    assert pool["gap"] == (Value(30.0, 30.0), Value(12.0, 12.0))
    assert choices(GAP, LIBRARY, pool, [Value(20.0, 20.0)]) == (
        Value(20.0, 20.0),
        Value(30.0, 30.0),
        Value(12.0, 12.0),
        None,
    )
    assert choices(Slot("divider", ("x", "y")), LIBRARY, pool, ()) == (
        Value(word="yes"),
        Value(word="no"),
        Value(),
    )
    assert {value.word for value in choices(Slot("group", ("x",)), LIBRARY, {}, ()) if value} == {
        "soft",
        "stony",
        "clam",
        "anemone",
    }


def test_an_outcome_by_itself_keeps_only_what_it_names_unless_others_matter() -> None:
    other = little(FAR.replace("        y is coral\n", "        y is coral\n        z is coral\n"))
    whole = other.examples[0]
    assert [given.entity for given in alone(whole, whole.thens[0], crowd=False).givens if given.entity] == [
        "x",
        "y",
    ]
    assert alone(whole, whole.thens[0], crowd=True).givens == whole.givens


def test_the_cells_of_members_are_read_too_and_may_be_narrowed_to_a_part() -> None:
    library = little(ONE, rules=CROWD)
    rule = rule_of("roomy", library)
    assert rule is not None
    compiled = compile_rule(rule, library)
    assert compiled.expect is not None
    row = Row(try_out(compiled, library.examples, library).frame, 0)
    assert {slot_of(cell, where) for cell, where in cells_at(compiled.expect, row)} == {GAP}
    assert list(cells_at(compiled.expect, row, [compiled.expect.inputs[1]])) == []
