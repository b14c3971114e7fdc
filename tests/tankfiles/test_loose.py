"""Loose words where a number belongs."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.errors import Severity, UnusableInput
from advisor.tankfiles.changes import add_reading
from advisor.tankfiles.folder import read_tank
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
WORDS = ("medium", "low", "high", "polyps sway")


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("age: one year old", "1 year"),
        ("spots: [{id: a, light: medum}]", "did you mean medium?"),
        ("spots: [{id: a, light: ': medium'}]", "did you mean medium?"),
        ("spots: [{id: a, flow: polyp sway}]", "did you mean polyps sway?"),
        ("corals: [{id: a, is: torch, size: big}]", "a number, such as 12 cm"),
    ],
)
def test_a_word_nobody_knows_is_told(tank_of: Make, text: str, mend: str) -> None:
    folder = tank_of(f"name: t\n{text}\n")
    _, problems = read_tank(folder.path, folder.vocabulary, words=WORDS)
    assert [(p.code, p.severity, p.mend) for p in problems] == [("value-138", Severity.WARNING, mend)]


def test_a_word_that_is_known_is_taken(tank_of: Make) -> None:
    folder = tank_of("spots: [{id: a, light: Medium, flow: low to medium}]\n")
    assert read_tank(folder.path, folder.vocabulary, words=WORDS)[1] == ()


def test_without_a_list_only_what_is_surely_no_word_is_told(tank_of: Make) -> None:
    assert tank_of("age: one year old\nspots: [{id: a, light: medum}]\n").codes == ["value-138"]


def test_a_command_refuses_a_word_nobody_knows(tank_of: Make) -> None:
    folder = tank_of("spots: [{id: a, light: brigt}]\n")
    day = date(2026, 11, 2)
    with pytest.raises(UnusableInput, match="medum"):
        add_reading(folder.path, folder.vocabulary, ("a",), "light", "medum", on=day, words=WORDS)
    add_reading(folder.path, folder.vocabulary, ("a",), "light", "medium", on=day, words=WORDS)
    assert folder.said("light", "a")[-1].said.words == ("medium",)
