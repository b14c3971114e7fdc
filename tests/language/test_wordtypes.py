"""Comparisons of words."""

from __future__ import annotations

import pytest

from tests.language.texts import ANIMALS, codes, truth, typer


def told(text: str) -> list[str]:
    """The codes of a condition."""
    found = typer()
    found.truth(truth(text), ANIMALS)
    return codes(tuple(found.problems))


@pytest.mark.parametrize(
    "text",
    [
        "a.group is soft",
        "a.group is not b.group",
        "a.genus is anything-at-all",
        "a.group is one of soft, clam",
        "ground(p) is one of footing(a)",
        "a.footing has rock",
        "a.footing has not ground(p)",
        "ledge(p) is yes",
        "a.genus is b.genus",
    ],
)
def test_words_that_may_be_compared(text: str) -> None:
    assert told(text) == []


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("a.group is rock", "word-119"),
        ("a.group is one of soft, rock", "word-119"),
        ("a.group is ground(p)", "word-119"),
        ("ledge(p) is maybe", "word-119"),
        ("a.footing is rock", "units-210"),
        ("a.group has soft", "units-210"),
        ("ground(p) is footing(a)", "units-210"),
        ("size(a) is big", "units-209"),
        ("can-hurt(a, b) is no", "units-209"),
        ("a is b", "word-122"),
        ("a.group is kindd(b)", "word-104"),
    ],
)
def test_words_that_may_not(text: str, code: str) -> None:
    assert told(text) == [code]


def test_a_denied_condition_is_mended_by_not() -> None:
    found = typer()
    found.truth(truth("can-hurt(a, b) is no"), ANIMALS)
    assert found.problems[0].mend == "not can-hurt(a, b)"
