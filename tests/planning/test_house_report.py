"""House lines that come to nothing in a tank are told in every answer about it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.planning.tanks import opened
from tests.planning.test_accepts import CORALS, spots


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('change torch light max from 250 PAR to 240 PAR for torch-9 because "x"', "torch-9"),
        ('switch off long-sweepers-stand-alone because "one colony"', "long-sweepers-stand-alone"),
    ],
)
def test_a_line_for_nobody_and_a_rule_that_is_off_are_told(tmp_path: Path, line: str, told: str) -> None:
    session = opened(tmp_path, spots=spots("60 cm"), corals=CORALS, house=f"house\n  {line}\n")
    assert any(told in note for note in session.audit(months=0).notes)
    assert any(told in note for note in session.why("torch-1").notes)


def test_without_house_lines_nothing_is_said(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spots("60 cm"), corals=CORALS)
    assert [note for note in session.audit(months=0).notes if "house" in note] == []
