"""Ids with a slip in them."""

from __future__ import annotations

import pytest

from advisor.knowledge.slips import ids_meant, numbered_stem

IDS = ["torch-1", "torch-2", "hammer-1", "zoa", "left-ledge"]


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("torch-9", ["torch-1", "torch-2"]),
        ("hammer-l", ["hammer-1"]),
        ("hamner-1", ["hammer-1"]),
        ("hamemr-1", ["hammer-1"]),
        ("torch 1", ["torch-1", "torch-2"]),
        ("zoas", ["zoa"]),
        ("left-lege", ["left-ledge"]),
        ("torch", []),
        ("frogspawn-1", []),
        ("", []),
    ],
)
def test_one_letter_off_or_another_number(text: str, meant: list[str]) -> None:
    assert ids_meant(text, IDS) == meant


def test_no_more_are_offered_than_anybody_reads() -> None:
    assert len(ids_meant("zoa-99", [f"zoa-{number}" for number in range(1, 30)])) == 4


@pytest.mark.parametrize(
    ("text", "stem"), [("torch-9", "torch"), ("a-b-12", "a-b"), ("torch", ""), ("12", "")]
)
def test_the_stem_of_an_id(text: str, stem: str) -> None:
    assert numbered_stem(text) == stem
