"""The nearest example that would notice a change."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.language.nodes import Example
from advisor.language.parse import parse_file
from advisor.model.mutation import Survivor
from advisor.rulework.bench import Bench
from advisor.rulework.killing import survivor_of
from advisor.rulework.mutants import mutants_of
from advisor.rulework.mutation import change_of
from tests.rulework.little import CROWD, FAR, NEAR, ONE, little


def test_every_block_that_is_offered_notices_its_change() -> None:
    library = little(FAR, NEAR)
    bench = Bench(library)
    rule = library.rules["tested"]
    ready = bench.proven("tested")
    assert ready is not None
    survived = 0
    for mutant in mutants_of(rule, bench.ops(["tested"]), library):
        changed = bench.changed(mutant, "tested")
        assert changed is not None
        if ready.notices(*changed):
            continue
        survived += 1
        found = survivor_of(change_of(mutant), mutant, bench)
        assert found.comes_out != found.changed
        file, problems = parse_file(
            "own.rules", f"edition 1\n\n{found.example.removesuffix('…')}{found.comes_out}\n"
        )
        assert problems == ()
        added = tuple(item for item in file.declarations if isinstance(item, Example))
        better = Bench(replace(library, examples=(*library.examples, *added))).proven("tested")
        assert better is not None
        assert better.notices(*changed)
    assert survived > 5


@pytest.mark.parametrize(
    ("kind", "outcomes"),
    [
        ("strictness", ("holds by 1 cm", "undecided too close leans yes")),
        ("limit a step higher", ("holds by 1 cm", "undecided too close leans yes")),
        ("turned round", ("holds by 10 cm", "fails by 10 cm")),
    ],
)
def test_both_outcomes_are_told(kind: str, outcomes: tuple[str, str]) -> None:
    bench = Bench(little(FAR.replace("holds by 10 cm", "holds")))
    rule = bench.library.rules["tested"]
    made = mutants_of(rule, bench.ops(["tested"]), bench.library)
    mutant = next(each for each in made if (each.kind, each.clause) == (kind, "expect"))
    found = survivor_of(change_of(mutant), mutant, bench)
    assert (found.rule, found.comes_out, found.changed) == ("tested", *outcomes)
    assert f"# comes out: {found.comes_out}\n  # with the change: {found.changed}\n" in found.example


def test_others_are_added_where_a_rule_counts_them() -> None:
    bench = Bench(little(ONE, rules=CROWD))
    rule = bench.library.rules["roomy"]
    mutants = list(mutants_of(rule, bench.ops(["roomy"]), bench.library))
    found = [survivor_of(change_of(each), each, bench) for each in mutants if each.kind == "strictness"]
    assert found
    assert all(each.example for each in found)


def test_without_examples_there_is_nothing_to_alter() -> None:
    bench = Bench(little())
    mutant = next(mutants_of(bench.library.rules["tested"], bench.ops(["tested"]), bench.library))
    assert survivor_of(change_of(mutant), mutant, bench) == Survivor(change=change_of(mutant))
