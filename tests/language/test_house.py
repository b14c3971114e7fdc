"""House lines laid over what is shipped."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.check import check
from advisor.language.format_house import edit_text
from advisor.language.house import lay_over, taken_off
from advisor.language.library import AsideKind
from advisor.language.nodes import HouseVerb, Level
from advisor.language.parse import parse_file
from tests.language.house_lines import edits
from tests.language.texts import COMPUTED, base, base_library, checked, codes

LINES = (
    'change sweeper-allowance from 5 cm to 6 cm because "a"',
    'change sweeper-allowance from 5 cm to 6 cm because "another reason"',
    'level light-enough from warning to danger because "b"',
    "accept keep-clear for torch-1 at ledge, zoa-2 at sand short by 8 cm on 2026-11-02 "
    'because "c" until 2027-06-01',
    'change lamp-torch light max from 250 PAR to 300 PAR because "d"',
    'change lamp-torch light max from 250 PAR to 280 PAR for torch-1 because "e"',
    'change lamp-torch light best from 80 to 150 PAR to 90 to 160 PAR because "f"',
    'change lamp-torch weapon from sweeper-tentacles to filaments because "g"',
    "change lamp-torch light min from 40 PAR to 45 PAR",
    'change low-light from 50 PAR to 60 PAR because "h" until 2026-01-01',
    'change low-light from 50 PAR to 70 PAR because "i"',
    'switch off mind-your-hands because "j"',
)


def test_a_level_is_changed() -> None:
    library, problems = checked(f"house\n  {LINES[2]}")
    assert problems == ()
    assert library.rules["light-enough"].level is Level.DANGER
    assert [edit.verb for edit in library.house] == [HouseVerb.LEVEL]


def test_a_rule_is_switched_off_with_its_examples() -> None:
    example = 'example "e" for light-enough\n  given a-1 is animal\n  then a-1 undecided\n'
    assert len(checked(example)[0].examples) == 1
    library, problems = checked(example, "house\n  switch off light-enough")
    assert problems == ()
    assert "light-enough" not in library.rules
    assert library.examples == ()
    assert [edit.target for edit in library.house] == ["light-enough"]
    assert len(library.shipped.examples) == 1


def test_an_acceptance_is_kept_for_the_judge() -> None:
    library, problems = checked(f"house\n  {LINES[3]}")
    assert problems == ()
    assert library.rules == base_library().rules
    assert [(edit.entities, edit.until) for edit in library.house] == [(("torch-1", "zoa-2"), "2027-06-01")]


@pytest.mark.parametrize(
    "line",
    [
        'accept keep-clear for a, b because "x" until 2027-13-01',
        'accept keep-clear for a, b short by 8 cm on 2027-06-02 because "x" until 2027-06-01',
        "switch off light-enough on 2026-02-30",
    ],
)
def test_a_line_whose_days_are_none_changes_nothing(line: str) -> None:
    library, problems = lay_over(base_library(), edits(line))
    assert codes(tuple(problems)) == ["house-509"]
    assert replace(library, aside=()) == base_library()
    assert [aside.kind for aside in library.aside] == [AsideKind.FAULTY]


def test_a_caution_may_be_made_sharper() -> None:
    library, problems = lay_over(
        base_library(), edits('level mind-your-hands from warning to danger because "children"')
    )
    assert problems == []
    assert library.rules["mind-your-hands"].level is Level.DANGER


def test_the_same_line_twice_is_one() -> None:
    library, problems = lay_over(base_library(), edits(LINES[0], LINES[1]))
    assert problems == []
    assert [edit.because for edit in library.house] == ["a"]


@pytest.mark.parametrize(
    "lines",
    [
        ('level light-enough from warning to danger because "x"', "switch off light-enough"),
        ("change low-light from 50 PAR to 60 PAR", "change low-light from 50 PAR to 70 PAR"),
        (
            "change low-light from 50 PAR to 60 PAR",
            "change low-light from 50 PAR to 60 PAR until 2027-01-01",
        ),
        (
            'change lamp-torch weapon at-most from 20 cm to 15 cm because "x"',
            'change lamp-torch weapon sweeper-tentacles at-most from 20 cm to 30 cm because "x"',
        ),
        (
            "change lamp-torch light best from 80 to 150 PAR to 90 to 160 PAR",
            "change lamp-torch light best-high from 150 PAR to 170 PAR",
        ),
        (LINES[3], LINES[3].replace("8 cm", "9 cm")),
        (LINES[3], LINES[3].replace("2027-06-01", "2027-07-01")),
    ],
)
def test_two_lines_that_disagree_are_both_left_out(lines: tuple[str, str]) -> None:
    library, problems = lay_over(base_library(), edits(*lines))
    assert codes(tuple(problems)) == ["house-503"]
    assert replace(library, aside=(), contested=()) == base_library()
    assert len(library.contested) == 2
    assert len(library.aside) == (2 if lines[0].startswith("accept") else 0)


def test_lines_about_different_values_of_one_kind_do_not_disagree() -> None:
    library, problems = lay_over(
        base_library(),
        edits(
            'change lamp-torch weapon at-most from 20 cm to 15 cm because "x"',
            'change lamp-torch weapon at-most from 2 cm to 3 cm because "x"',
        ),
    )
    assert problems == []
    assert len(library.house) == 2


def test_what_was_laid_over_can_be_taken_off_again() -> None:
    library, _ = lay_over(base_library(), edits(*LINES))
    assert library != base_library()
    assert taken_off(library) == base_library()


def test_a_refused_line_is_put_aside_where_it_could_only_have_let_something_pass() -> None:
    """Without any other line a danger might be hidden, so that nobody may be answered without it."""
    library, problems = lay_over(
        base_library(),
        edits(
            "switch off ligt-enough",
            "accept keep-clear for a",
            "level keep-clear from danger to advice",
            "level light-enouf from advice to danger",
            "change low-lite from 50 PAR to 60 PAR",
        ),
    )
    assert len(problems) == 5
    assert {(aside.edit.target, aside.kind) for aside in library.aside} == {
        ("ligt-enough", AsideKind.FAULTY),
        ("keep-clear", AsideKind.FAULTY),
    }
    assert len(library.aside) == 3
    told = {aside.edit.target: aside.told for aside in library.aside}
    assert told["ligt-enough"] == "there is no rule 'ligt-enough'"
    for aside in library.aside:
        assert [problem.what for problem in problems if aside.holds(problem.span)] == [aside.told]


AT_ODDS = (
    'level light-enough from warning to danger because "a"',
    "level light-enough from warning to advice",
    'accept light-enough for torch-1 because "c"',
    'accept keep-clear for torch-1 at ledge, zoa-2 at sand short by 8 cm on 2026-11-02 because "d"',
    "change low-light from 50 PAR to 60 PAR until 2026-06-30",
    "change low-light from 50 PAR to 65 PAR on 2026-06-30 until 2026-12-31",
    "change low-light from 50 PAR to 70 PAR on 2027-01-01",
    "change lamp-torch light min from 50 PAR to 60 PAR until 2026-06-30",
    "change lamp-torch light min from 50 PAR to 70 PAR on 2026-07-01",
    "change lamp-torch light max from 240 PAR to 230 PAR",
    "switch off keep-clear",
    "switch off kep-clear",
)


@given(st.permutations(AT_ODDS))
def test_the_order_of_lines_at_odds_changes_neither_what_counts_nor_what_is_told(lines: list[str]) -> None:
    def laid(text: list[str]) -> tuple[object, ...]:
        library, problems = lay_over(base_library(), edits(*text))
        numbers = [(value.key, value.number) for value in library.cards["lamp-torch"].values]
        lets = {name: let.value.value for name, let in library.lets.items()}
        told = sorted((problem.code, problem.what, problem.label, problem.mend) for problem in problems)
        house = [edit_text(edit) for edit in library.house]
        return house, lets, numbers, {rule.name: rule.level for rule in library.rules.values()}, told

    found = laid(lines)
    assert found == laid(list(AT_ODDS))
    assert str(found[-1]).count("house-510") == 2


@given(st.permutations(LINES), st.integers(0, len(LINES)), st.sampled_from(("a", "b")))
def test_neither_order_nor_file_of_lines_makes_a_difference(lines: list[str], cut: int, first: str) -> None:
    def laid(*parts: list[str]) -> tuple[object, ...]:
        files = []
        for name, part in zip((first, "ab".replace(first, "")), parts, strict=True):
            text = "edition 1\nhouse\n" + "".join(f"  {line}\n" for line in part)
            files.append(parse_file(f"house-{name}.rules", text)[0])
        library, problems = check([*files, base()], COMPUTED)
        house = [(edit.target, edit.verb, edit.key, edit.animal, edit.because) for edit in library.house]
        aside = [(aside.edit.target, aside.kind, aside.told) for aside in library.aside]
        levels = {name: rule.level for name, rule in library.rules.items()}
        values = {name: (let.value.value, let.because) for name, let in library.lets.items()}
        cards = (library.cards["lamp-torch"], library.alone["torch-1"]["lamp-torch"])
        numbers = [
            [(value.key, value.of, value.number, value.words) for value in card.values] for card in cards
        ]
        return house, aside, levels, values, numbers, sorted(codes(problems))

    assert laid(lines[:cut], lines[cut:]) == laid(list(LINES), [])
