"""The page of a rule."""

from __future__ import annotations

import pytest

from advisor.language.format_expr import literal
from advisor.rulework.rule_pages import rule_page
from tests.rulework.shelves import shelf

NAMES = sorted((*shelf().library.rules, *shelf().library.prefers))


@pytest.mark.parametrize("name", NAMES)
def test_a_page_holds_every_number_source_and_example(name: str) -> None:
    item, text = shelf().item(name), rule_page(name, shelf()).markdown
    unescaped = text.replace("\\", "")
    for number in shelf().numbers[name]:
        assert f"| {number} | {literal(shelf().library.lets[number].value)}".replace("\0", " ") in unescaped
    if item.source is not None:
        assert " ".join(item.source.text.split()) in unescaped
    for example in shelf().library.examples:
        assert example.rule != name or " ".join(example.title.split()) in unescaped
    assert "\0" not in text


def test_what_the_house_changed_stands_beside_the_number() -> None:
    text = rule_page("room-for-reach-and-growth", shelf()).markdown
    assert "| number | value | why | shipped | changed by the house |" in text
    assert "| room-allowance | 4 cm | mine swell | 2 cm | change room-allowance from 2 cm to 4 cm" in text


def test_a_level_the_house_changed_tells_the_shipped_one() -> None:
    text = rule_page("near-kin-keep-their-gap", shelf()).markdown
    assert "| level | advice (shipped: warning) |" in text
    assert "calm kin" in text


def test_the_readings_lead_to_their_pages() -> None:
    text = rule_page("not-too-bright", shelf()).markdown
    assert "[light](../readings/light.md) | PAR | keeper, computed" in text
