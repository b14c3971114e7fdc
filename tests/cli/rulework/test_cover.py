"""``advisor rules cover`` on the command line."""

from __future__ import annotations

import json

import pytest

from advisor.cli import main
from tests.cli.fake import FakeApi
from tests.reports.samples_of_proofs import cover, defined


def test_gaps_are_findings(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "cover"]) == 1
    assert "Shown: 13 of 16 marks" in capsys.readouterr().out


def test_everything_shown_ends_well(api: FakeApi) -> None:
    api.cover = cover(defined())
    assert main(["rules", "cover", "room"]) == 0


def test_cover_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    main(["rules", "cover", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert (told["question"], told["total"]) == ("rules cover", {"seen": 13, "needed": 16})
