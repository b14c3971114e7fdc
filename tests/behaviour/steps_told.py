"""What a keeper has and tells: the first lines of the scenarios."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from pytest_bdd import given, parsers

from tests.behaviour.keeper import GOOD_TANK, Keeper, Table, rows_of


@given("a tank in good order")
def good_tank(keeper: Keeper) -> None:
    keeper.header = list(GOOD_TANK)


@given("these places")
def these_places(keeper: Keeper, datatable: Table) -> None:
    keeper.places += rows_of(datatable)


@given("these corals")
def these_corals(keeper: Keeper, datatable: Table) -> None:
    keeper.corals += rows_of(datatable)


@given("these distances by tape")
def these_gaps(keeper: Keeper, datatable: Table) -> None:
    keeper.gaps += rows_of(datatable)


@given("the water was tested as follows")
def water(keeper: Keeper, datatable: Table) -> None:
    (row,) = rows_of(datatable)
    keeper.water = "{" + ", ".join(f"{name}: {value}" for name, value in row.items()) + "}"


@given("my tank file is")
def tank_file(keeper: Keeper, docstring: str) -> None:
    keeper.raw = docstring + "\n"


@given(parsers.parse("the file {name} in my tank folder is"))
def file_in_folder(keeper: Keeper, name: str, docstring: str) -> None:
    keeper.folder.mkdir(exist_ok=True)
    (keeper.folder / name).write_text(docstring + "\n", encoding="utf-8")


@given("my house rules are")
def house_rules(keeper: Keeper, docstring: str) -> None:
    keeper.house = docstring + "\n"


@given("a second house file of mine is")
def second_house_file(keeper: Keeper, docstring: str) -> None:
    keeper.more_house = docstring + "\n"


@given(parsers.parse('I accept what is wrong between {one} and {other} because "{why}"'))
def accept(keeper: Keeper, one: str, other: str, why: str) -> None:
    lines = [
        f'accept {reason["rule"]} for {", ".join(reason["subjects"])} because "{why}"'
        for reason in found_between(keeper, one, other)
    ]
    write_house(keeper, lines)


@given(parsers.parse('I accepted what is wrong between {one} and {other} until {day} because "{why}"'))
def accept_until(keeper: Keeper, one: str, other: str, day: str, why: str) -> None:
    lines = [
        re.sub(r" on \S+", " on 2026-09-01", re.sub(r"until \S+", f"until {day}", reason["accept"]))
        for reason in found_between(keeper, one, other)
    ]
    write_house(keeper, [line.replace("your reason", why) for line in lines])


def found_between(keeper: Keeper, one: str, other: str) -> list[dict[str, Any]]:
    """Return what an audit finds wrong between two, each once; it is read in full."""
    keeper.ask("audit", "--level", "2")
    found = {
        (each["reason"]["rule"], tuple(each["reason"]["subjects"])): each["reason"]
        for each in keeper.findings()
        if {one, other} <= set(each["reason"]["subjects"]) and each["reason"]["accept"]
    }
    assert found
    return [found[key] for key in sorted(found)]


def write_house(keeper: Keeper, lines: Sequence[str]) -> None:
    """Write a house file of these lines beside the tank."""
    text = "edition 1\n\nhouse\n" + "\n".join(f"  {line}" for line in lines) + "\n"
    (keeper.folder / "house.rules").write_text(text, encoding="utf-8")
