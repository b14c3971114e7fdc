"""The line a finding prints can be pasted, and then the finding is accepted."""

from __future__ import annotations

import re
from pathlib import Path

from advisor.language.parse import parse_file
from tests.planning.tanks import opened
from tests.planning.test_accepts import CORALS, RULE, audited, spots, stung


def test_the_printed_line_accepts_what_it_stands_below(tmp_path: Path) -> None:
    found = opened(tmp_path, spots=spots("15 cm"), corals=CORALS).audit(months=0, level=2)
    (reason,) = [each.reason for each in found.now if each.reason.rule == RULE]
    assert " ".join(reason.accept.split()).startswith(f"accept {RULE} for ")
    line = re.sub(r'because "[^"]*"', 'because "glass rod"', reason.accept)
    assert parse_file("house.rules", f"edition 1\n\nhouse\n  {line}\n")[1] == ()
    assert stung(audited(tmp_path, f"house\n  {line}\n")) == ["accepted"]


def test_what_holds_has_no_line(tmp_path: Path) -> None:
    found = opened(tmp_path, spots=spots("60 cm"), corals=CORALS).audit(months=0, level=2)
    assert [each.reason.accept for each in found.now if each.reason.rule == RULE] == []
