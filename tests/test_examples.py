"""Every folder of examples/ is a story: a tank, a command, and what it must print.

``expected.txt`` is written by hand from a checked run and never by this test.
"""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path

import pytest

from advisor.cli import main

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
STORIES = sorted(path for path in EXAMPLES.iterdir() if path.is_dir())


def test_no_story_is_missing_a_part() -> None:
    parts = ("tank.yaml", "command.txt", "expected.txt")
    assert [
        f"{story.name}/{part}" for story in STORIES for part in parts if not (story / part).is_file()
    ] == []


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.name)
def test_the_story_comes_out_as_told(
    story: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(story, tmp_path / story.name)
    monkeypatch.chdir(tmp_path / story.name)
    shown = []
    for command in (story / "command.txt").read_text(encoding="utf-8").splitlines():
        program, *words = shlex.split(command)
        assert program == "advisor"
        code = main(words)
        printed = capsys.readouterr()
        assert code in (0, 1), printed.err
        shown.append(f"$ {command}\n{printed.out}{printed.err}")
    assert "\n".join(shown) == (story / "expected.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.name)
def test_the_tank_says_that_it_is_invented(story: Path) -> None:
    text = (story / "tank.yaml").read_text(encoding="utf-8")
    assert "invented: yes" in text
    assert "Invented:" in text.split("\nname:")[0]


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.name)
def test_the_tank_is_read_without_a_fault(story: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["tank", "check", "--tank", str(story), "--on", "2026-11-02"])
    assert code == 0, capsys.readouterr().err
