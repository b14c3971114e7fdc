"""The keeper of the scenarios in features/; every step goes through the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.behaviour.keeper import Keeper

STEPS = ("steps_told", "steps_asked", "steps_places", "steps_findings", "steps_files")
"""The modules whose steps the scenarios are made of."""


def pytest_configure(config: pytest.Config) -> None:
    """Make the steps known, each module once."""
    for name in STEPS:
        config.pluginmanager.import_plugin(f"tests.behaviour.{name}")


@pytest.fixture
def keeper(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Keeper:
    """A keeper with nothing yet, in an empty folder."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    return Keeper(tmp_path, capsys)
