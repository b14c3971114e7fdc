"""Colours and help for editors, from the command line."""

from __future__ import annotations

import json

import pytest

from advisor.cli import main
from advisor.cli.rulework import editor


def test_alone_it_tells_how(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "editor"]) == 0
    shown = capsys.readouterr().out
    assert "--colours" in shown
    assert "--serve" in shown
    assert max(map(len, shown.splitlines())) <= 80


def test_colours_are_a_grammar(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "editor", "--colours"]) == 0
    assert json.loads(capsys.readouterr().out)["fileTypes"] == ["rules"]


def test_without_the_library_it_says_what_to_install(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(editor, "find_spec", lambda name: None)
    assert main(["rules", "editor", "--serve"]) == 2
    shown = capsys.readouterr().err
    assert "command-110" in shown
    assert "pip install" in shown
