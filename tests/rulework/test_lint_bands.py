"""Gaps between the bands of rules, and bands that overlap."""

from __future__ import annotations

import pytest

from tests.rulework.lints import codes, findings

LETS = 'let small = 2 cm because "a"\nlet large = 4 cm because "a"\nlet low = 50 PAR because "a"\n'


def banded(name: str, band: str, limit: str = "small", kind: str = "soft") -> str:
    return (
        f"rule {name}\n  for animal a\n  when group(a) is {kind} and {band}\n  expect size(a) >= {limit}\n"
        '  level advice\n  because "{a}"\n'
    )


def said(*rules: str) -> list[str]:
    return [code for code in codes(LETS + "".join(rules)) if code.startswith("logic")]


@pytest.mark.parametrize(
    ("below", "above", "code"),
    [
        ("light(a.spot) < low", "light(a.spot) > 80 PAR", ["logic-312"]),
        ("low > light(a.spot)", "80 PAR < light(a.spot)", ["logic-312"]),
        ("light(a.spot) < low", "light(a.spot) between 80 PAR and 100 PAR", ["logic-312"]),
        ("light(a.spot) < low", "light(a.spot) >= 50 PAR", []),
        ("light(a.spot) < 90 PAR", "light(a.spot) > 80 PAR", ["logic-313"]),
        ("light(a.spot) < light-min(a)", "light(a.spot) > 80 PAR", []),
    ],
)
def test_two_bands_of_one_kind(below: str, above: str, code: list[str]) -> None:
    assert said(banded("dim-ones", below), banded("bright-ones", above, "large")) == code


def test_a_third_rule_for_the_same_kind_fills_the_gap() -> None:
    ends = banded("dim-ones", "light(a.spot) < low"), banded("bright-ones", "light(a.spot) > 80 PAR", "large")
    middle = banded("middling", "light(a.spot) between low and 80 PAR", "large")
    assert said(*ends, middle) == []


def test_bands_of_different_kinds_have_no_gap() -> None:
    clams = banded("bright-ones", "light(a.spot) > 80 PAR", "large", kind="clam")
    assert said(banded("dim-ones", "light(a.spot) < low"), clams) == []


def test_the_gap_is_told_with_its_ends_and_a_case_in_it() -> None:
    rules = (
        banded("dim-ones", "light(a.spot) < low"),
        banded("bright-ones", "light(a.spot) > 80 PAR", "large"),
    )
    (found,) = [each for each in findings(LETS + "".join(rules)) if each.code == "logic-312"]
    assert found.problem.what == "between 50 PAR and 80 PAR neither 'dim-ones' nor 'bright-ones' speaks"
    assert "light(coral-1.spot) = 65 PAR" in found.example
    assert "not covered" in found.example
