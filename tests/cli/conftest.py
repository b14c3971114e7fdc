"""A fake API and a folder that looks like a tank."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.fake import FakeApi, install


@pytest.fixture
def api(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> FakeApi:
    """The stand-in for the API; the current folder holds a tank.yaml."""
    (tmp_path / "tank.yaml").write_text("name: demo\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ADVISOR_DEBUG", raising=False)
    return install(monkeypatch)
