"""The verb handle: what it passes on, what it prints, how it ends."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from advisor.cli import main
from tests.cli.fake import FakeApi
from tests.reports.test_handling import REFUSAL, SHEET


def test_a_refusal_is_printed_and_ends_with_one(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.handling = REFUSAL
    words = [
        "handle",
        "green",
        "zoa",
        "--to",
        "boil",
        "it",
        "--on",
        "2026-11-02",
        "--tank",
        "t",
        "--house",
        "h",
    ]
    assert main(words) == 1
    assert capsys.readouterr().out.startswith("NO        Never boil it.")
    assert api.changed == [
        ("handle", "green zoa", "boil it", date(2026, 11, 2), Path("t"), (Path("h"),), None)
    ]


def test_the_whole_sheet_ends_well(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["handle", "zoa-1"]) == 0
    assert "NEVER     Never steam it." in capsys.readouterr().out


def test_words_that_are_not_recognised_end_with_one(api: FakeApi) -> None:
    api.handling = SHEET.model_copy(update={"doing": "warp", "not_recognised": True})
    assert main(["handle", "zoa-1", "--to", "warp"]) == 1


def test_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["handle", "zoa-1", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["question"], told["edition"], told["never"][0]["text"]) == ("handle", 1, "Never steam it.")


def test_without_a_coral_the_mend_shows_a_line_that_works(
    api: FakeApi, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["handle"]) == 2
    assert 'advisor handle torch --to "cut the plug"' in capsys.readouterr().err
