"""What changed in a declaration, clause by clause."""

from __future__ import annotations

from advisor.model.difference import Declared
from advisor.rulework.clauses import declared_change, written_clauses
from advisor.rulework.declared import Key, parts_of
from tests.rulework.lints import library_of

KEEP = Key("rule", "keep-clear")
HOUSE = 'house\n  level keep-clear from danger to advice because "a"\n'
CARD = 'house\n  change lamp-torch weapon sweeper-tentacles at-most from 20 cm to 25 cm because "seen"\n'


def test_a_level_is_told_as_it_was_and_is() -> None:
    before, after = parts_of(library_of("")), parts_of(library_of(HOUSE))
    change = declared_change(KEEP, before[KEEP], after[KEEP])
    assert change.what is Declared.CHANGED
    assert [(line.clause, line.old, line.new) for line in change.lines] == [("level", "danger", "advice")]
    assert (change.id, change.file) == ("rule keep-clear", "base.rules")


def test_a_card_line_is_told_by_the_name_a_keeper_writes() -> None:
    key = Key("line", "lamp-torch", "weapon-at-most", "sweeper-tentacles")
    before, after = parts_of(library_of("")), parts_of(library_of(CARD))
    first = declared_change(key, before[key], after[key]).lines[0]
    assert (first.clause, first.old, first.new) == ("weapon sweeper-tentacles at-most", "20 cm", "25 cm")


def test_what_is_new_has_only_new_clauses() -> None:
    parts = parts_of(library_of('let spare = 3 cm because "why"\n'))
    change = declared_change(Key("let", "spare"), None, parts[Key("let", "spare")])
    assert change.what is Declared.ADDED
    assert [(line.clause, line.old, line.new) for line in change.lines] == [
        ("value", "", "3 cm"),
        ("because", "", "why"),
    ]
    gone = declared_change(Key("let", "spare"), parts[Key("let", "spare")], None)
    assert (gone.what, gone.lines[0].old, gone.lines[0].new) == (Declared.REMOVED, "3 cm", "")


def test_every_kind_of_declaration_can_be_written() -> None:
    text = (
        'prefer glow\n  for animal a\n  want light(a.spot) >= low-light\n  weight 2\n  because "{a}"\n'
        'word "dim" of light from seller means 20 to 60 PAR\n'
        'lever fence(animal a, animal b) makes divider(a, b) cost 2 say "fence {a} from {b}"\n'
        "house\n  accept keep-clear for a-1 at p-1, b-1 at p-2 short by 3 cm on 2026-09-01\n"
        '    because "g" until 2026-12-01\n'
    )
    for key, part in parts_of(library_of(text)).items():
        told = written_clauses(part)
        assert told, key
        assert all(text and "\x00" not in text for text in told.values())
