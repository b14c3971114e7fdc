"""The verbs that explain."""

from __future__ import annotations

import json

import pytest

from advisor.cli import main
from tests.cli.fake import FakeApi


def test_a_word_of_two_words_needs_no_quotes(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "not", "known", "yet"]) == 0
    assert capsys.readouterr().out.startswith("NOT KNOWN YET\n")


def test_a_code(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "units-202"]) == 0
    assert "  define roomy(animal a, animal b) as gap(a, b) >= 15 cm" in capsys.readouterr().out


def test_alone_it_lists_everything(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain"]) == 0
    assert "undecided" in capsys.readouterr().out


def test_a_word_nobody_knows_gets_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "undecidd"]) == 2
    assert "try: advisor explain undecided" in capsys.readouterr().err


def test_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "stale", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["word"] == "stale"
    assert "older" in found["text"]


def test_a_schema_is_json(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "event"]) == 0
    assert json.loads(capsys.readouterr().out) == {"title": "event"}


def test_several_words_are_explained_one_after_the_other(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "moat", "units-202", "ledge"]) == 0
    shown = capsys.readouterr().out
    assert shown.index("moat\n") < shown.index("units-202  ") < shown.index("ledge\n")


@pytest.mark.parametrize("word", ["moat", "islet", "gap", "reach", "PAR", "LIKELY", "ledge", "margin"])
def test_words_of_the_trade_are_explained(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", word]) == 0
    assert len(capsys.readouterr().out.splitlines()) > 1


@pytest.mark.parametrize(
    "word",
    ["too-close", "THEN DO", "OPEN", "ALSO", "Weakest point", "not-too-bright", "light", "room-allowance"],
)
def test_what_an_answer_prints_is_explained(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", word]) == 0
    assert len(capsys.readouterr().out.splitlines()) > 1


def test_an_unknown_word_is_asked_back(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "not-to-bright"]) == 2
    told = capsys.readouterr().err
    assert "did you mean not-too-bright?" in told
    assert "try: advisor explain not-too-bright" in told
