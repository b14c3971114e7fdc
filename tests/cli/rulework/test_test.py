"""The verbs for those who edit rules."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from advisor.cli import main
from tests.cli.fake import FakeApi
from tests.reports import samples
from tests.reports.samples_of_proofs import moved


def test_examples_that_hold_end_well(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.results = samples.examples()[:2]
    assert main(["rules", "test"]) == 0
    assert capsys.readouterr().out.startswith("2 examples, 2 outcomes: all as expected.")


def test_a_failed_example_is_a_finding(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.results = samples.examples()
    assert main(["rules", "test"]) == 1
    assert "expected  undecided needs gap(torch-1, zoa-2)" in capsys.readouterr().out


def test_no_examples_are_no_success(api: FakeApi) -> None:
    assert main(["rules", "test"]) == 1


def test_examples_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.results = samples.examples()
    main(["rules", "test", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert told["question"] == "rules test"
    assert [each["ok"] for each in told["examples"]] == [True, True, False]


def test_which_examples_are_run_can_be_said(api: FakeApi) -> None:
    api.results = samples.examples()[:2]
    assert main(["rules", "test", "own.rules", "--only", "keep-clear", "--house", "house.rules"]) == 0
    asked = api.examples_asked[0]
    assert (asked["files"], asked["only"], asked["house"]) == (
        [Path("own.rules")],
        ["keep-clear"],
        [Path("house.rules")],
    )


def test_what_a_house_moves_is_no_fault(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.results, api.moved = samples.examples()[:2], (moved(),)
    assert main(["rules", "test", "--house", "house.rules"]) == 0
    assert "The house moves 1 shipped outcome." in capsys.readouterr().out
