"""Readings that put a comparison exactly on its limit, or just beside it."""

from __future__ import annotations

from advisor.language.library import Library
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import rule_of, try_out
from advisor.rulework.altering import Slot, Value
from advisor.rulework.beside import beside_limits
from tests.reasoning.small import library_of, rule_text
from tests.rulework.little import FAR, little


def values(library: Library, slot: Slot) -> list[Value]:
    rule = rule_of("tested", library)
    assert rule is not None
    compiled = compile_rule(rule, library)
    parts = [op for op in (compiled.when, compiled.expect) if op is not None]
    return beside_limits(try_out(compiled, library.examples, library), 0, parts)[slot]


def test_a_reading_is_put_so_that_its_nearer_end_touches_the_limit() -> None:
    found = values(little(FAR), Slot("gap", ("x", "y")))
    assert Value(20.0, 20.0) in found
    assert Value(21.0, 21.0) in found  # 1 cm of error: surely met
    assert Value(18.5, 18.5) in found  # surely missed, by half a step
    assert Value(20.0, 23.0) in found  # a range that begins at the limit


def test_a_number_on_the_other_side_is_moved_the_other_way() -> None:
    found = values(little(FAR), Slot("reach", ("x",)))
    assert Value(30.0, 30.0) in found
    assert Value(29.0, 32.0) in found  # with the error of the gap, just open
    assert all(value.low is not None and 0.0 <= value.low <= 60.0 for value in found)


def test_a_rank_stays_whole() -> None:
    found = values(little(FAR), Slot("potency", ("x",)))
    assert {value.low for value in found if value.low == value.high} == {1.0, 2.0, 3.0}
    assert all(value.low == round(value.low or 0.0) for value in found)


def test_an_error_in_proportion_grows_with_the_reading() -> None:
    text = 'example "t" for tested\n  given x is coral\n  light(x.spot) = 200 PAR\n  then  x holds\n'
    found = values(library_of(rule_text("light(a.spot) >= 100 PAR") + text), Slot("light", ("x.spot",)))
    assert Value(110.0, 110.0) in found  # 110 PAR with a tenth of error ends at 100
