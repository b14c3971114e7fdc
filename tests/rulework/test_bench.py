"""Rules prepared once, and judged again with a change."""

from __future__ import annotations

from advisor.rulework.bench import Bench
from advisor.rulework.mutants import Mutant, Thing, mutants_of
from tests.reasoning.small import library_of
from tests.rulework.little import FAR, NEAR, little


def mutant(bench: Bench, thing: Thing, kind: str, clause: str = "expect") -> Mutant:
    made = mutants_of(thing, bench.ops(["tested"]), bench.library)
    return next(each for each in made if (each.kind, each.clause) == (kind, clause))


def test_a_rule_is_prepared_once() -> None:
    bench = Bench(little(FAR, NEAR))
    ready = bench.proven("tested")
    assert ready is not None
    assert ready is bench.proven("tested")
    assert ready.got == ("holds by 10 cm", "fails by 8 cm")
    assert bench.proven("nothing") is None


def test_a_change_is_noticed_by_verdict_or_by_amount() -> None:
    bench = Bench(little(FAR))
    rule = bench.library.rules["tested"]
    ready = bench.proven("tested")
    assert ready is not None
    for kind, noticed in (("turned round", True), ("limit a step higher", True), ("strictness", False)):
        changed = bench.changed(mutant(bench, rule, kind), "tested")
        assert changed is not None
        assert ready.notices(*changed) is noticed, kind


def test_an_amount_that_no_example_states_is_not_noticed() -> None:
    bench = Bench(little(FAR.replace("holds by 10 cm", "holds")))
    ready = bench.proven("tested")
    changed = bench.changed(mutant(bench, bench.library.rules["tested"], "limit a step higher"), "tested")
    assert ready is not None
    assert changed is not None
    assert not ready.notices(*changed)


def test_a_definition_is_changed_for_the_rules_that_use_it() -> None:
    bench = Bench(little(FAR))
    room = bench.library.defines["room"]
    assert bench.users(room) == ("tested",)
    changed = bench.changed(mutant(bench, room, "denied", "when"), "tested")
    assert changed is not None
    assert changed[1].defines["room"] != room
    assert bench.library.defines["room"] == room


def test_a_rule_checked_by_eye_is_not_prepared() -> None:
    text = (
        'rule looks-well for animal a expect-by-eye "{a} is open" level advice\n'
        '  because "so" matters "so" remedy "so" source "us" kind guess\n'
    )
    assert Bench(library_of(text)).proven("looks-well") is None
