"""The examples of the shipped files."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.rulework.proving import run_examples


def test_every_shipped_example_comes_out_as_it_says() -> None:
    results = run_examples()
    assert len(results) > 400
    assert [result.title for result in results if not result.ok] == []


def test_broken_files_run_nothing(tmp_path: Path) -> None:
    (tmp_path / "one.rules").write_text("rule x\n  for corl c\n", encoding="utf-8")
    with pytest.raises(UnusableInput):
        run_examples(rules=tmp_path)
