"""``advisor rules mutate`` on the command line."""

from __future__ import annotations

import json

import pytest

from advisor.cli import main
from advisor.model.mutation import MutateAnswer
from tests.cli.fake import FakeApi


def test_a_change_nobody_notices_is_a_finding(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "mutate", "keep-clear", "--most", "5"]) == 1
    assert api.changed == [("mutate", ["keep-clear"], 5)]
    assert "4 changes tried" in capsys.readouterr().out


def test_all_noticed_ends_well(api: FakeApi) -> None:
    api.mutated = MutateAnswer(tried=3, noticed=3)
    assert main(["rules", "mutate"]) == 0


def test_mutate_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    main(["rules", "mutate", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert (told["question"], told["tried"], len(told["survivors"])) == ("rules mutate", 4, 2)


@pytest.mark.parametrize("most", ["0", "-1", "many"])
def test_a_number_of_changes_is_a_number(api: FakeApi, most: str) -> None:
    assert main(["rules", "mutate", "--most", most]) == 2
