"""Pages of definitions and of levers."""

from __future__ import annotations

import pytest

from advisor.language.format_expr import literal
from advisor.language.walk import bodies, names_used
from advisor.rulework.definition_pages import definition_page, definitions_page, levers_page
from tests.rulework.shelves import shelf

NAMES = sorted(shelf().library.defines)


@pytest.mark.parametrize("name", NAMES)
def test_a_page_holds_every_number_in_force(name: str) -> None:
    library = shelf().library
    text = definition_page(name, shelf()).markdown.replace("\\", "")
    for number in names_used(bodies(library.defines[name]), library.defines) & library.lets.keys():
        assert f"| {number} | {literal(library.lets[number].value)} |".replace("\0", " ") in text
    assert "\0" not in text


def test_cases_are_told_in_order_and_lead_on() -> None:
    text = definition_page("reach-toward", shelf()).markdown
    assert text.index("- 0 cm, if") < text.index("- usual reach of a, if") < text.index("- longest reach")
    assert "[can-hurt](../definitions/can-hurt.md)" in text
    assert "[keep-clear-of-stingers](../rules/keep-clear-of-stingers.md)" in text


def test_every_definition_is_listed_with_how_many_rules_rest_on_it() -> None:
    text = definitions_page(shelf()).markdown
    many = len(shelf().rules_resting_on("can-hurt"))
    assert many > 2
    assert f"| [can-hurt](definitions/can-hurt.md) | a can hurt b | so or not | {many} |" in text
    assert all(f"definitions/{name}.md" in text for name in NAMES)


def test_every_lever_is_listed_cheapest_first() -> None:
    rows = [line for line in levers_page(shelf()).markdown.splitlines() if line.startswith("|")][2:]
    costs = [float(row.split("|")[-2]) for row in rows]
    assert len(rows) == len(shelf().library.levers)
    assert costs == sorted(costs)
    assert any("move a away from b | [gap](readings/gap.md) |" in row for row in rows)
