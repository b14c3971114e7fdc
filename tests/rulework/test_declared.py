"""A set of rules as single declarations, exchanged one at a time."""

from __future__ import annotations

import pytest

from advisor.language.check import check
from advisor.language.library import Library
from advisor.language.parse import parse_file
from advisor.rulework.declared import Key, differing, mixed, parts_of, same
from tests.language.texts import COMPUTED, HERE
from tests.rulework.lints import library_of

BASE = (HERE / "base.rules").read_text(encoding="utf-8")
EDITS = (
    ("let sweeper-allowance = 5 cm", "let sweeper-allowance = 8 cm", "let sweeper-allowance"),
    ("level    danger", "level    advice", "rule keep-clear"),
    ("max 250 PAR", "max 230 PAR", "card lamp-torch light-max"),
    ("at-most 20 cm", "at-most 22 cm", "card lamp-torch sweeper-tentacles weapon-at-most"),
    ('card lamp-torch "lamp torch"', 'card lamp-torch "lamp torch coral"', "card lamp-torch"),
    ("potency(a) >= 1 and", "potency(a) >= 2 and", "define can-hurt"),
    ("between 0 and 500 cm step 1 cm error 1 cm", "between 0 and 500 cm step 1 cm error 2 cm", "measure gap"),
    (
        "relation down-flow(animal a, animal b)",
        "relation down-flow(animal a, animal b) given",
        "relation down-flow",
    ),
)


def read(text: str) -> Library:
    file, problems = parse_file("base.rules", text)
    library, more = check([file], COMPUTED)
    assert (*problems, *more) == ()
    return library


@pytest.mark.parametrize(("old", "new", "key"), EDITS, ids=[key for _, _, key in EDITS])
def test_one_edit_is_one_declaration_and_can_be_made_alone(old: str, new: str, key: str) -> None:
    assert old in BASE
    before, after = read(BASE), read(BASE.replace(old, new))
    keys = differing(parts_of(before), parts_of(after))
    assert [str(each) for each in keys] == [key]
    assert differing(parts_of(mixed(before, after, keys)), parts_of(after)) == ()
    assert mixed(before, after, ()) is before


def test_several_edits_are_made_one_by_one() -> None:
    text = BASE
    for old, new, _ in EDITS:
        text = text.replace(old, new)
    before, after = read(BASE), read(text)
    keys = differing(parts_of(before), parts_of(after))
    assert len(keys) == len(EDITS)
    for key in keys:
        alone = mixed(before, after, [key])
        assert differing(parts_of(before), parts_of(alone)) == (key,)
    assert differing(parts_of(mixed(before, after, keys)), parts_of(after)) == ()


def test_comments_spacing_and_places_do_not_count() -> None:
    lines = [f"   {line}" if line.startswith("  ") else line for line in BASE.splitlines()]
    text = "# a remark\n" + "\n".join(lines) + "\n"
    moved = read(text.replace("# a remark\nedition 1", "edition 1\n# a remark\n"))
    assert differing(parts_of(read(BASE)), parts_of(moved)) == ()


def test_what_is_new_and_what_is_gone() -> None:
    more = 'let spare = 3 cm because "a"\n'
    before, after = library_of(""), library_of(more)
    assert differing(parts_of(before), parts_of(after)) == (Key("let", "spare"),)
    assert "spare" in mixed(before, after, [Key("let", "spare")]).lets
    assert "spare" not in mixed(after, before, [Key("let", "spare")]).lets


def test_a_card_for_one_animal_and_for_all() -> None:
    own = 'house\n  change lamp-torch light max from 250 PAR to 300 PAR for torch-1 because "a"\n'
    shared = 'house\n  change lamp-torch light min from 50 PAR to 60 PAR because "b"\n'
    before, after = library_of(""), library_of(own + shared)
    keys = differing(parts_of(before), parts_of(after))
    assert [str(key) for key in keys] == [
        "card lamp-torch light-min",
        "card lamp-torch light-max for torch-1",
    ]
    both = mixed(before, after, keys)
    alone = both.alone["torch-1"]["lamp-torch"]
    told = {value.key: value.number for value in alone.values if value.key in ("light-min", "light-max")}
    assert told == {"light-min": 60.0, "light-max": 300.0}
    only_own = mixed(before, after, [keys[1]])
    assert only_own.cards == before.cards
    assert {value.number for value in only_own.alone["torch-1"]["lamp-torch"].values} >= {50.0, 300.0}
    assert mixed(after, before, [keys[1]]).alone == {}


def test_what_is_accepted_is_a_declaration() -> None:
    line = "accept keep-clear for a-1 at p-1, b-1 at p-2 short by 3 cm on 2026-09-01"
    accept = f'house\n  {line} because "glass" until 2026-12-01\n'
    before, after = library_of(""), library_of(accept)
    (key,) = differing(parts_of(before), parts_of(after))
    assert (key.kind, key.name) == ("accept", "keep-clear for a-1, b-1")
    assert [edit.target for edit in mixed(before, after, [key]).house] == ["keep-clear"]
    assert mixed(after, before, [key]).house == ()


def test_a_switched_off_rule_is_gone() -> None:
    after = library_of('house\n  switch off light-enough because "a"\n')
    assert [str(key) for key in differing(parts_of(library_of("")), parts_of(after))] == ["rule light-enough"]


def test_nothing_is_the_same_as_something() -> None:
    part = parts_of(library_of(""))[Key("let", "low-light")]
    assert same(None, None)
    assert not same(part, None)
    assert same(part, parts_of(library_of(""))[Key("let", "low-light")])
