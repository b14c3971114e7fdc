"""``advisor rules stats`` on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from advisor.cli import main
from tests.cli.fake import FakeApi
from tests.reports.samples_of_statistics import stats


def test_what_is_known_is_printed_by_how_well(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "stats"]) == 0
    assert "values of cards" in capsys.readouterr().out


def test_a_rule_no_example_decides_is_a_finding(api: FakeApi) -> None:
    api.stats = stats().model_copy(update={"never_decided": ("keep-clear",)})
    assert main(["rules", "stats"]) == 1


def test_tanks_are_those_named_or_the_one_here(api: FakeApi, tmp_path: Path) -> None:
    main(["rules", "stats", str(tmp_path / "other")])
    assert api.stats_asked[-1] == (tmp_path / "other",)
    main(["rules", "stats"])
    assert [folder.name for folder in api.stats_asked[-1]] == [tmp_path.name]


def test_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    main(["rules", "stats", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert (told["question"], told["grades"][0]["grade"]) == ("rules stats", "study")
