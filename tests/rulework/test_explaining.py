"""Names out of the rule files, each in a paragraph."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.reports.glossary import text_page
from advisor.reports.printer import WIDTH, render
from advisor.rulework.explaining import explain_name, names_in_force, nearest_names
from tests.rulework.shelves import shelf


@pytest.mark.parametrize(
    ("name", "title", "told", "more"),
    [
        (
            "not-too-bright",
            "a rule (danger)",
            "light at the place of a must be at most most light for a",
            "advisor rules doc not-too-bright",
        ),
        (
            "light",
            "a reading",
            "Of place; PAR, 0 to 2500 PAR, usually 2 to 1000 PAR, good for 180 days",
            "advisor rules doc light",
        ),
        ("light-in-its-best-band", "a preference", "a place is better where", "advisor rules doc light-in"),
        ("room-allowance", "a number with a name", "It is 4 cm", "change room-allowance from 4 cm to …"),
        ("torch", "a card", "Euphyllia glabrescens", "advisor card torch"),
        ("up-flow", "a reading", "yes or no", "advisor rules doc up-flow"),
    ],
)
def test_each_kind_of_name_is_told_with_how_to_open_its_page(
    name: str, title: str, told: str, more: str
) -> None:
    found = explain_name(name, shelf())
    assert found is not None
    assert found.title == title
    assert told in found.text
    assert more in found.text
    assert max(map(len, render(text_page(found)).splitlines())) <= WIDTH


def test_every_name_of_the_shipped_rules_is_explained() -> None:
    library = shelf().library
    names = {
        *library.rules,
        *library.prefers,
        *library.defines,
        *library.lets,
        *library.vocabulary.measures,
        *library.vocabulary.relations,
        *library.cards,
    }
    for name in names:
        found = explain_name(name, shelf())
        assert found is not None, name
        assert max(map(len, render(text_page(found)).splitlines())) <= WIDTH, name


def test_a_name_is_found_as_it_is_said_and_an_unknown_one_gets_the_nearest() -> None:
    found = explain_name("Not too bright", shelf())
    assert found is not None
    assert found.heading == "not-too-bright"
    assert explain_name("not-to-bright", shelf()) is None
    assert nearest_names("not-to-bright", shelf()) == "not-too-bright"
    assert nearest_names("undecidd", shelf()) == "undecided"
    assert nearest_names("zzzzqqq", shelf()) == ""


def test_names_of_the_house_are_known_and_a_faulty_house_file_is_no_hindrance(tmp_path: Path) -> None:
    own = tmp_path / "house.rules"
    own.write_text('edition 1\nlet my-gap = 3 cm because "mine swell"\n', encoding="utf-8")
    found = explain_name("my-gap", names_in_force(house=[own]))
    assert found is not None
    assert "It is 3 cm, because mine swell. No rule looks at it." in found.text
    own.write_text("edition 1\nlet my-gap =\n", encoding="utf-8")
    assert explain_name("not-too-bright", names_in_force(house=[own])) is not None


def test_long_names_of_the_house_fit_the_page(tmp_path: Path) -> None:
    rule, let = "r" * 64, "l" * 64
    house = tmp_path / "house.rules"
    house.write_text(
        f'edition 1\nlet {let} = 8 cm/s\n  because "so"\nrule {rule}\n  for coral c\n'
        f'  expect flow(c.spot) <= {let}\n  level advice\n  because "{{c}}"\n',
        encoding="utf-8",
    )
    shelf = names_in_force(house=(house,))
    shown = {}
    for name in (rule, let):
        found = explain_name(name, shelf)
        assert found is not None
        shown[name] = render(text_page(found))
        assert max(map(len, shown[name].splitlines())) <= WIDTH
    assert f"  advisor rules doc \\\n    {rule}\n" in shown[rule]
    assert f"  change {let}\n    from 8 cm/s to …\n" in shown[let]
