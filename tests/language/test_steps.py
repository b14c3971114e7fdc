"""Chains of a relation, in conditions and in what is looked for. Every fault has a file in `bad/`."""

from __future__ import annotations

from advisor.language.expressions import Aggregate, Not, StepsAway
from advisor.language.format_expr import expression
from advisor.language.walk import names_used
from tests.language.texts import checked, codes, truth


def test_it_reads_as_it_is_said() -> None:
    found = truth("b is within 2 steps of a over divider")
    assert isinstance(found, StepsAway)
    assert (found.chain.steps, found.chain.of, found.chain.over) == (2, "a", "divider")
    denied = truth("b is not within 1 step of a over divider")
    assert isinstance(denied, Not)
    assert isinstance(denied.of, StepsAway)


def test_what_is_looked_for_may_be_some_steps_away() -> None:
    found = truth("any animal n within 3 steps of a over divider where size(n) >= 5 cm")
    assert isinstance(found, Aggregate)
    assert found.binder.chain is not None
    assert found.binder.chain.steps == 3
    near = truth("count of neighbour n of a within 2 steps of b over divider >= 2")
    assert "neighbour n of a within 2 steps of b over divider" in expression(near)


def test_it_is_printed_as_it_was_read() -> None:
    for text in (
        "b is within 2 steps of a over divider",
        "b is not within 1 step of a over divider",
        "any coral n within 3 steps of a over divider where size(n) >= 5 cm",
    ):
        assert expression(truth(text)).replace("\x00", " ") == text


def test_a_definition_it_goes_over_counts_as_used() -> None:
    library, problems = checked(
        "define touching(animal a, animal b) as gap(a, b) <= 1 cm\n"
        "define chained(animal a, animal b) as b is within 2 steps of a over touching\n"
        "define crowd(animal a) as any animal b within 2 steps of a over touching\n"
    )
    assert problems == ()
    for name in ("chained", "crowd"):
        used = names_used((library.defines[name].cases[0].value,), library.defines)
        assert {"touching", "gap"} <= used


def test_a_definition_cannot_rest_on_a_chain_of_itself() -> None:
    _, problems = checked("define linked(animal a, animal b) as b is within 2 steps of a over linked")
    assert codes(problems) == ["define-801"]
    _, problems = checked("define lone(animal a, animal b) as not any animal n within 2 steps of a over lone")
    assert codes(problems) == ["define-801"]
    assert problems[0].what == "lone needs not lone: a definition cannot rest on its own denial"
