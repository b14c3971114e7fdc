"""The shipped files stand in their one form."""

from __future__ import annotations

from pathlib import Path

from advisor.rulework.formatting import format_files

RULES = Path(__file__).resolve().parents[2] / "rules"


def test_every_shipped_file_is_as_the_formatter_prints_it() -> None:
    files = format_files([RULES], write=False)
    assert len(files) > 120
    assert [each.file for each in files if each.changed or each.problems] == []
