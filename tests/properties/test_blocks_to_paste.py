"""Whatever an example holds, its block to paste fits a terminal where it can and is read back as it was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hypothesis import HealthCheck, given, settings

from advisor.language.declare import PLACE_FOR_OUTCOME
from advisor.language.format import same_tree
from advisor.language.format_cases import given_lines
from advisor.language.nodes import Example, Outcome, Then
from advisor.language.parse import parse_file
from advisor.rulework.crowding import crowds_of
from advisor.rulework.pasting import WIDEST, block_of
from advisor.rulework.samplecase import written
from tests.language.declaration_trees import examples
from tests.language.texts import errors, shipped_trees

SLOW = settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


def read(texts: Sequence[str]) -> list[Example]:
    """The examples that some texts hold; they must be without an error."""
    file, problems = parse_file("again.rules", "edition 1\n\n" + "\n\n".join(texts) + "\n")
    assert errors(problems) == [], "\n".join(texts)
    return [item for item in file.declarations if isinstance(item, Example)]


def require_read_back(examples: Sequence[Example]) -> None:
    """Write examples both ways and read them again: no fact may be lost or become another."""
    for example, again in zip(examples, read([written(each) for each in examples]), strict=True):
        assert same_tree(again, example)
    blocks = [block_of(each, ("comes out: fails by 8 cm",)) for each in examples]
    answered = [block.replace(f" {PLACE_FOR_OUTCOME}", " holds") for block in blocks]
    for example, block, again in zip(examples, blocks, read(answered), strict=True):
        thens = tuple(
            Then(then.span, then.entities, Outcome.HOLDS, month=then.month) for then in example.thens
        )
        assert block.count(f" {PLACE_FOR_OUTCOME}") >= len(thens)
        assert same_tree(again, replace(example, thens=thens))


def widest(text: str) -> int:
    """The length of the longest line that could have been broken."""
    lines = (line for line in text.splitlines() if len(line.strip().split(" ")) > 1 and '"' not in line)
    return max(map(len, lines), default=0)


@given(examples)
@SLOW
def test_any_example_is_read_back_from_its_block(example: Example) -> None:
    require_read_back([example])


def test_the_longest_shipped_examples_and_crowds_of_them_are_read_back_and_fit() -> None:
    shipped = [item for file in shipped_trees() for item in file.declarations if isinstance(item, Example)]
    assert len(shipped) > 500
    longest = sorted(shipped, key=lambda each: max(map(len, given_lines(each))), reverse=True)[:150]
    every = [each for example in longest for each in (example, *list(crowds_of(example))[:1])]
    require_read_back(every)
    assert max(widest(written(each)) for each in every) <= WIDEST
