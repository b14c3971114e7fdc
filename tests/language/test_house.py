"""House edits laid over what is shipped."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.check import check
from advisor.language.house import lay_over
from advisor.language.nodes import HouseEdit, HouseVerb, Level
from advisor.language.parse import parse_file
from tests.language.texts import COMPUTED, base, base_library, checked, codes, read

LINES = (
    'change sweeper-allowance from 5 cm to 6 cm because "a"',
    'level light-enough from warning to danger because "b"',
    "switch off light-enough",
    'accept keep-clear for torch-1, zoa-2 because "c" until 2027-06-01',
    'change lamp-torch light max from 250 PAR to 300 PAR because "d"',
    'change lamp-torch light max from 250 PAR to 280 PAR for torch-1 because "e"',
)


def edits(*lines: str) -> list[HouseEdit]:
    """House edits as read."""
    text = "house\n" + "\n".join(f"  {line}" for line in lines)
    return [item for item in read(text).declarations if isinstance(item, HouseEdit)]


def test_a_level_is_changed() -> None:
    library, problems = checked(f"house\n  {LINES[1]}")
    assert problems == ()
    assert library.rules["light-enough"].level is Level.DANGER
    assert [edit.verb for edit in library.house] == [HouseVerb.LEVEL]


def test_a_rule_is_switched_off_with_its_examples() -> None:
    example = 'example "e" for light-enough\n  given a-1 is animal\n  then a-1 undecided\n'
    assert len(checked(example)[0].examples) == 1
    library, problems = checked(example, f"house\n  {LINES[2]}")
    assert problems == ()
    assert "light-enough" not in library.rules
    assert library.examples == ()
    assert [edit.target for edit in library.house] == ["light-enough"]


def test_an_acceptance_is_kept_for_the_judge() -> None:
    library, problems = checked(f"house\n  {LINES[3]}")
    assert problems == ()
    assert library.rules == base_library().rules
    assert [(edit.entities, edit.until) for edit in library.house] == [(("torch-1", "zoa-2"), "2027-06-01")]


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("level keep-clear from danger to warning", "house-504"),
        ("level keep-clear from warning to advice", "house-501"),
        ("switch off keep-clear", "house-504"),
        ('switch off mind-your-hands because "x"', "house-506"),
        ('level mind-your-hands from warning to advice because "x"', "house-506"),
        ("accept keep-clear for torch-1, zoa-2", "house-504"),
        ('accept keep-clear for torch-1 because "x"', "house-507"),
        ('accept keep-clear for a, b because "x" until 2027-13-01', "house-509"),
        ("accept keep-far for a, b", "house-502"),
    ],
)
def test_an_edit_that_may_not_be_is_refused_and_changes_nothing(line: str, code: str) -> None:
    library, problems = lay_over(base_library(), edits(line))
    assert codes(tuple(problems)) == [code]
    assert library == base_library()


def test_a_caution_may_be_made_sharper() -> None:
    library, problems = lay_over(
        base_library(), edits('level mind-your-hands from warning to danger because "children"')
    )
    assert problems == []
    assert library.rules["mind-your-hands"].level is Level.DANGER


def test_the_same_edit_twice_is_one() -> None:
    library, problems = lay_over(base_library(), edits(LINES[0], LINES[0].replace('"a"', '"other words"')))
    assert problems == []
    assert len(library.house) == 1


def test_two_edits_that_disagree_are_both_left_out() -> None:
    library, problems = lay_over(base_library(), edits(LINES[1], LINES[2]))
    assert codes(tuple(problems)) == ["house-503"]
    assert library == base_library()


@given(st.permutations(LINES), st.integers(0, len(LINES)))
def test_neither_order_nor_file_of_edits_makes_a_difference(lines: list[str], cut: int) -> None:
    def laid(first: list[str], second: list[str]) -> tuple[object, ...]:
        files = []
        for index, part in enumerate((first, second)):
            text = "edition 1\nhouse\n" + "".join(f"  {line}\n" for line in part)
            files.append(parse_file(f"house-{index}.rules", text)[0])
        library, problems = check([base(), *files], COMPUTED)
        house = sorted((edit.target, edit.verb, edit.animal) for edit in library.house)
        levels = {name: rule.level for name, rule in library.rules.items()}
        values = {name: let.value.value for name, let in library.lets.items()}
        numbers = [value.number for value in library.cards["lamp-torch"].values]
        return house, levels, values, numbers, sorted(codes(problems))

    assert laid(lines[:cut], lines[cut:]) == laid(list(LINES), [])
