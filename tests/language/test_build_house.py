"""House edits out of the parser's tree."""

from __future__ import annotations

import pytest

from advisor.language.format_house import STEPS, UNKNOWN
from advisor.language.nodes import HouseEdit, HouseVerb, Level, Number
from advisor.language.parse import parse_file
from tests.language.texts import codes, faults, read


def edits(text: str) -> list[HouseEdit]:
    """House edits."""
    return [item for item in read("house\n" + text).declarations if isinstance(item, HouseEdit)]


def test_house_edits_say_what_they_change() -> None:
    let, card, weapon, level, accept, off = edits(
        "  change allowance from 5 to 8 cm\n"
        '  change torch light best low from 80 PAR to 90 PAR for Torch_1 because "y"\n'
        "  change torch weapon sweeper-tentacles at-most from 25 cm to 20 cm\n"
        "  level x from advice to danger\n"
        '  accept x for torch-1, zoa-2 because "y" until 2027-06-01\n'
        "  switch off x\n"
    )
    assert (let.verb, let.target, let.old and let.old.unit) == (HouseVerb.CHANGE_LET, "allowance", "cm")
    assert (card.verb, card.key, card.animal) == (HouseVerb.CHANGE_CARD, "light-best-low", "Torch_1")
    assert (weapon.key, weapon.of) == ("weapon-at-most", "sweeper-tentacles")
    assert (level.old_level, level.new_level) == (Level.ADVICE, Level.DANGER)
    assert (accept.entities, accept.until) == (("torch-1", "zoa-2"), "2027-06-01")
    assert off.verb is HouseVerb.SWITCH_OFF


def amounts(*numbers: Number | None) -> list[tuple[float, str] | None]:
    """Numbers without their places."""
    return [None if number is None else (number.value, number.unit) for number in numbers]


def test_words_and_both_ends_of_a_band_are_changed_as_a_card_writes_them() -> None:
    words, name, best = edits(
        "  change torch flow pattern from random, pulsing to pulsing\n"
        '  change torch taxon from "Examplea lampas" to "Examplea lampoides"\n'
        "  change torch light best from 80 to 150 PAR to 90 to 160 PAR\n"
    )
    assert (words.key, words.old_words, words.new_words) == (
        "flow-pattern",
        ("random", "pulsing"),
        ("pulsing",),
    )
    assert (name.key, name.old_words, name.new_words) == (
        "taxon",
        ("Examplea lampas",),
        ("Examplea lampoides",),
    )
    assert amounts(best.old, best.old_high, best.new, best.new_high) == [
        (80.0, "PAR"),
        (150.0, "PAR"),
        (90.0, "PAR"),
        (160.0, "PAR"),
    ]


def test_an_accept_says_where_they_stood_how_short_it_was_and_on_which_day() -> None:
    accept, steps = edits(
        '  accept x for Torch_1 at ledge, zoa-2 at "26, 13, 9 cm" short by 8 cm on 2026-11-02\n'
        '    because "y" until 2027-06-01\n'
        "  accept x for torch-1 short by 3 steps\n"
    )
    assert accept.entities == ("Torch_1", "zoa-2")
    assert accept.stood == ("ledge", "26, 13, 9 cm")
    assert amounts(accept.short) == [(8.0, "cm")]
    assert (accept.on, accept.until) == ("2026-11-02", "2027-06-01")
    assert amounts(steps.short) == [(3.0, STEPS)]
    assert steps.stood == ()
    (unknown,) = edits("  accept x for torch-1 short by unknown on 2026-11-02\n")
    assert amounts(unknown.short) == [(0.0, UNKNOWN)]


def test_every_line_may_have_its_days() -> None:
    found = edits(
        '  change x from 5 cm to 6 cm on 2026-01-01 because "y" until 2027-06-01\n'
        "  level x from advice to danger until 2027-06-02\n"
        "  switch off x until 2027-06-03 on 2026-01-02\n"
    )
    assert [(edit.on, edit.until) for edit in found] == [
        ("2026-01-01", "2027-06-01"),
        ("", "2027-06-02"),
        ("2026-01-02", "2027-06-03"),
    ]


@pytest.mark.parametrize("reason", ["…", "...", " ", "", "-", "?!", "your reason", "Your  Reason"])
def test_a_reason_that_says_nothing_is_refused_where_it_stands(reason: str) -> None:
    (problem,) = faults(f'house\n  switch off x because "{reason}"\n')
    assert problem.code == "house-515"
    assert problem.span is not None
    assert problem.span.column == 24
    assert "between the quotes" in problem.mend


def test_a_suggestion_pasted_as_it_is_is_told_to_wait_for_words() -> None:
    (problem,) = faults('house\n  switch off x because "your reason"\n')
    assert problem.what == '"your reason" waits for your own words'
    (file, _) = parse_file("house.rules", 'edition 1\nhouse\n  switch off x because "-"\n')
    assert [edit.because for edit in file.declarations if isinstance(edit, HouseEdit)] == ["-"]


@pytest.mark.parametrize("reason", ["7", "ja", "5 cm", "my reason: it grows"])
def test_a_reason_of_any_words_is_one(reason: str) -> None:
    (edit,) = edits(f'  switch off x because "{reason}"\n')
    assert edit.because == reason


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("change x from 5 cm to wide", "house-508"),
        ("change x from 5 to 6 cm to 7 cm", "house-508"),
        ("change x from 5 cm to 6 cm for torch-1", "house-507"),
        ("switch off x for torch-1", "house-507"),
        ("level x from advice to danger short by 3 cm", "house-507"),
        ("change x light max from 5 PAR to 6 PAR for a, b", "house-507"),
        ("change x light max from 5 PAR to 6 PAR for a at A3", "house-507"),
        ('change x light max from 5 PAR to 6 PAR for a at "26, 13, 9 cm"', "house-507"),
        ("accept x for a short by 5 cm steps", "house-514"),
        ('switch off x because "a" because "b"', "word-113"),
    ],
)
def test_a_line_that_says_what_it_cannot_is_told(line: str, code: str) -> None:
    assert codes(faults(f"house\n  {line}\n")) == [code]
