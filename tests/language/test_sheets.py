"""The parts of a handling sheet."""

from __future__ import annotations

from advisor.errors import Span
from advisor.language.codec import from_data, to_data
from advisor.language.nodes import Action, Handling, HandlingKind, HandlingLine, RuleFile
from advisor.model.vocabulary import Grade, Source

AT = Span("test.rules", 2, 1, 2, 5, "handling")


def test_sheets_come_out_of_the_cache_as_they_went_in() -> None:
    line = HandlingLine(AT, HandlingKind.NEVER, "Never.", ("boil",), "Leave it.", Source("A", Grade.STUDY))
    sheet = Handling(AT, "zoas", "zoanthids", (line,), ("palytoxin",), ("zoanthid",), False, True)
    file = RuleFile("test.rules", 1, (Action(AT, "boil", "boiling it", ("cook",)), sheet))
    assert from_data(to_data(file)) == file


def test_the_kinds_of_lines_are_the_words_of_the_language() -> None:
    assert [kind.value for kind in HandlingKind] == ["never", "wait", "safe", "sign", "help", "defer"]
