"""The verbs for those who edit rules."""

from __future__ import annotations

import json

import pytest

from advisor.cli import main
from tests.cli.fake import FakeApi
from tests.reports import samples


def test_examples_that_hold_end_well(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.results = samples.examples()[:2]
    assert main(["rules", "test"]) == 0
    assert capsys.readouterr().out == "2 examples: all as expected.\n"


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
