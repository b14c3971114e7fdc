"""Text and recorded evaluation go hand in hand."""

from __future__ import annotations

from advisor.language.library import Library
from advisor.language.nodes import Case, Compare
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import Trial, rule_of, try_out
from advisor.reasoning.record import Row
from advisor.rulework.coverage import written
from advisor.rulework.following import conditions_of, conditions_within, ops_of, sights_of
from advisor.session.opening import shipped
from tests.reasoning.small import expect_of, library_of, rule_text
from tests.rulework.little import CROWD, FAR, NEAR, ONE, PARTED, little


def tried(library: Library, name: str = "tested") -> Trial:
    rule = rule_of(name, library)
    assert rule is not None
    own = [example for example in library.examples if example.rule == name]
    return try_out(compile_rule(rule, library), own, library)


def seen(library: Library, at: int = 0, name: str = "tested") -> list[tuple[str, str, bool | None]]:
    """Clause, text and truth of every condition a case reached."""
    trial = tried(library, name)
    return [
        (clause, written(sight.node.value if isinstance(sight.node, Case) else sight.node), sight.taken)
        for clause, sight in sights_of(trial.compiled, Row(trial.frame, at), library)
    ]


def test_what_holds_reaches_no_exception_and_only_the_case_that_applies() -> None:
    assert seen(little(FAR)) == [
        ("when", "potency(a) >= 2", True),
        ("expect", "gap(a, b) >= room(a)", True),
        ("expect", "group(a) is soft", False),
        ("expect", "least", False),
        ("expect", "reach(a)", True),
    ]


def test_what_fails_reaches_every_exception() -> None:
    found = seen(little(NEAR, PARTED), 1)
    assert ("unless", "divider(a, b)", True) in found
    assert ("unless", "fenced(b)", False) in found


def test_what_is_not_covered_reaches_nothing_more() -> None:
    assert seen(little(NEAR.replace("potency = 3", "potency = 1"))) == [("when", "potency(a) >= 2", False)]


def test_a_case_behind_an_open_one_is_open() -> None:
    found = seen(little(FAR.replace("group = stony, ", "")))
    assert ("expect", "group(a) is soft", None) in found
    assert ("expect", "least", None) in found
    assert ("expect", "reach(a)", None) in found


def test_conditions_of_the_members_of_a_count_are_seen() -> None:
    found = seen(little(ONE, rules=CROWD), name="roomy")
    assert ("expect", "gap(a, b) < 10 cm", True) in found


def test_the_links_of_a_chain_are_seen() -> None:
    rules = "define near(animal a, animal b) as gap(a, b) < 5 cm\n" + rule_text(
        "b is not within 2 steps of a over near", binders="animal a, neighbour b of a"
    )
    one = """example "by way of another" for tested
  given x is coral
        y is coral
        z is coral
        gap(x, z) = 1 cm
        gap(z, y) = 1 cm
        gap(x, y) = 50 cm
  then  x, y fails
"""
    found = seen(library_of(rules + one))
    assert ("expect", "b is within 2 steps of a over near", True) in found
    assert ("expect", "gap(a, b) < 5 cm", True) in found


def test_conditions_inside_a_quantity_are_found_and_no_others() -> None:
    expect = expect_of(little(rules=CROWD), "roomy")
    assert [written(node) for node in conditions_of(expect)] == [written(expect), "gap(a, b) < 10 cm"]
    assert isinstance(expect, Compare)
    assert [written(node) for node in conditions_within(expect.left)] == ["gap(a, b) < 10 cm"]


def test_every_condition_of_every_shipped_rule_has_its_operation() -> None:
    library = shipped()
    missing = []
    for name in (*library.rules, *library.prefers):
        rule = rule_of(name, library)
        assert rule is not None
        ops = ops_of(compile_rule(rule, library), library)
        for clause in (rule.when, rule.expect, rule.unless):
            missing += [
                (name, written(node))
                for node in (() if clause is None else conditions_of(clause))
                if id(node) not in ops
            ]
    assert missing == []
