"""Comparisons of words against every choice of words still possible."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain, combinations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.nodes import IsOp
from advisor.reasoning.columns import STALE, Sets, Words
from advisor.reasoning.ops import truth
from advisor.reasoning.word_ops import WordIs
from tests.reasoning.fixed import frame_of_size, words_op
from tests.reasoning.small import NOWHERE, letters, missing

DOMAIN = ("soft", "stony", "clam", "anemone")
OTHER = ("clam", "soft", "sponge")
"""A domain in another order, with a word the first does not have."""
SUBSETS = st.sets(st.sampled_from(DOMAIN), min_size=1)
SETS = st.sets(st.sampled_from(DOMAIN))


def words(possible: Iterable[str], domain: tuple[str, ...] = DOMAIN) -> Words:
    """Return one row of words still possible."""
    there = set(possible)
    return Words(np.array([[word in there for word in domain]]), domain, missing(1))


def sets(surely: Iterable[str], possibly: Iterable[str], domain: tuple[str, ...] = DOMAIN) -> Sets:
    """Return one row of a set."""
    sure, may = set(surely), set(surely) | set(possibly)
    return Sets(
        np.array([[word in sure for word in domain]]),
        np.array([[word in may for word in domain]]),
        domain,
        missing(1),
    )


def verdict(
    op: IsOp,
    left: Words | Sets,
    right: Words | Sets | None = None,
    listed: Iterable[str] = (),
    *,
    negated: bool = False,
) -> str:
    """Return what a comparison says of one row."""
    made = WordIs(
        NOWHERE, op, words_op(left), None if right is None else words_op(right), tuple(listed), negated
    )
    return letters(truth(frame_of_size(1), made))


def over(outcomes: Iterable[bool]) -> str:
    """Return what is sure of all outcomes together."""
    found = set(outcomes)
    return "u" if len(found) == 2 else "t" if found == {True} else "f"


def choices(surely: set[str], possibly: set[str]) -> list[set[str]]:
    """Return every set that has all of `surely` and some of `possibly` besides."""
    doubtful = sorted(possibly - surely)
    some = chain.from_iterable(combinations(doubtful, size) for size in range(len(doubtful) + 1))
    return [surely | set(part) for part in some]


@given(left=SUBSETS, listed=SUBSETS, negated=st.booleans())
def test_a_word_against_a_list(left: set[str], listed: set[str], *, negated: bool) -> None:
    expected = over((word in listed) is not negated for word in left)
    assert verdict(IsOp.ONE_OF, words(left), listed=sorted(listed), negated=negated) == expected


@given(left=SUBSETS, word=st.sampled_from(DOMAIN), negated=st.booleans())
def test_a_word_against_one_word(left: set[str], word: str, *, negated: bool) -> None:
    expected = over((item == word) is not negated for item in left)
    assert verdict(IsOp.IS, words(left), listed=[word], negated=negated) == expected


@given(left=SUBSETS, right=st.sets(st.sampled_from(OTHER), min_size=1), negated=st.booleans())
def test_a_word_against_another_animals_word(left: set[str], right: set[str], *, negated: bool) -> None:
    expected = over((a == b) is not negated for a in left for b in right)
    assert verdict(IsOp.IS, words(left), words(right, OTHER), negated=negated) == expected


@given(left=SUBSETS, surely=SETS, possibly=SETS, negated=st.booleans())
def test_a_word_inside_a_set(left: set[str], surely: set[str], possibly: set[str], *, negated: bool) -> None:
    expected = over((word in full) is not negated for word in left for full in choices(surely, possibly))
    assert verdict(IsOp.ONE_OF, words(left), sets(surely, possibly), negated=negated) == expected


@given(surely=SETS, possibly=SETS, word=st.sampled_from(DOMAIN), negated=st.booleans())
def test_a_set_has_a_word(surely: set[str], possibly: set[str], word: str, *, negated: bool) -> None:
    expected = over((word in full) is not negated for full in choices(surely, possibly))
    assert verdict(IsOp.HAS, sets(surely, possibly), listed=[word], negated=negated) == expected


def test_a_word_outside_the_domain_is_never_there() -> None:
    assert verdict(IsOp.HAS, sets(["soft"], ["soft"]), listed=["sponge"]) == "f"
    assert verdict(IsOp.IS, words(["soft", "clam"]), listed=["sponge"]) == "f"
    assert verdict(IsOp.IS, words(["soft"]), words(["sponge"], OTHER)) == "f"


def test_nothing_said_about_a_set_of_no_words_is_known_to_be_outside() -> None:
    assert verdict(IsOp.ONE_OF, words(["soft"]), sets([], [])) == "f"


def test_an_open_comparison_keeps_the_cause_and_a_sure_one_drops_it() -> None:
    stale = Words(np.array([[True, True, False, False]]), DOMAIN, np.full(1, STALE, np.uint8))
    made = WordIs(NOWHERE, IsOp.IS, words_op(stale), None, ("soft",), negated=False)
    assert truth(frame_of_size(1), made).flags.tolist() == [STALE]
    sure = WordIs(NOWHERE, IsOp.IS, words_op(stale), None, ("clam",), negated=True)
    assert truth(frame_of_size(1), sure).flags.tolist() == [0]
