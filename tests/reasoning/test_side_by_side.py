"""Examples judged side by side come out as each does alone, and none sees another's things."""

from __future__ import annotations

from advisor.language.library import Library
from advisor.model.vocabulary import Kind
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import rule_of, try_out
from advisor.reasoning.side_by_side import side_by_side
from advisor.session.opening import shipped
from tests.reasoning.small import VOCABULARY, library_of, rule_text

COUNTED = rule_text("count of neighbour b of a where (gap(a, b) < 10 cm) <= 0", binders="animal a")
CROWDED = """example "one near" for tested
  given x is animal
        y is animal
        gap(x, y) = 5 cm
  then  x fails by 1
"""
ALONE = """example "nobody near" for tested
  given x is animal
  then  x holds
"""


def small(*examples: str) -> Library:
    return library_of(COUNTED + "".join(examples), VOCABULARY)


def test_nobody_is_a_neighbour_of_another_example() -> None:
    made = small(CROWDED, ALONE, CROWDED.replace("one near", "again"))
    rule = rule_of("tested", made)
    assert rule is not None
    trial = try_out(compile_rule(rule, made), made.examples, made)
    assert [trial.got(at) for at in range(3)] == ["fails by 1", "holds", "fails by 1"]


def test_things_keep_the_names_of_their_own_example() -> None:
    tables = side_by_side(small(CROWDED, ALONE).examples, small(CROWDED, ALONE))
    assert [tables.label(Kind.ANIMAL, row) for row in range(3)] == ["x", "y", "x"]
    assert tables.label(Kind.TANK, 1) == "tank"
    assert tables.ask("gap", (0, 1)) == "gap(x, y)"


def test_no_examples_make_empty_tables() -> None:
    made = small()
    rule = rule_of("tested", made)
    assert rule is not None
    assert try_out(compile_rule(rule, made), (), made).cases == ()


def test_every_shipped_example_comes_out_alone_as_it_does_among_all_of_its_rule() -> None:
    library = shipped()
    different = []
    for name in (*library.rules, *library.prefers):
        rule = rule_of(name, library)
        assert rule is not None
        compiled = compile_rule(rule, library)
        own = [example for example in library.examples if example.rule == name]
        together = try_out(compiled, own, library)
        alone = [try_out(compiled, (example,), library) for example in own]
        rows = [(trial, row) for trial in alone for row in range(len(trial.cases))]
        for at, (trial, row) in enumerate(rows):
            if together.got(at) != trial.got(row) or together.asks(at) != trial.asks(row):
                different.append((name, together.cases[at].example.title))
    assert different == []
