"""The files an open one is checked with."""

from __future__ import annotations

import shutil
from pathlib import Path

from advisor.editors.desk import desk_for
from advisor.knowledge.load import shipped_rules

ROOT = Path(__file__).resolve().parents[2]


def test_a_file_in_a_folder_of_rules_is_checked_with_that_folder(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(ROOT / "rules", tmp_path / "mine"))
    desk = desk_for(folder / "light.rules")
    assert (desk.folder, desk.house) == (folder, ())
    library, problems = desk.library({folder / "light.rules": "edition 1\n\nlet dim = 5 PAR\n"})
    assert library.lets["dim"].value.value == 5
    assert "not-too-bright" not in library.rules
    assert all(problem.span is not None for problem in problems)


def test_a_house_file_is_laid_over_the_shipped_rules(tmp_path: Path) -> None:
    shelf = Path(shutil.copytree(ROOT / "examples" / "first-shelf", tmp_path / "shelf"))
    (shelf / "own.rules").write_text("edition 1\n\nlet mine = 4 cm\n", encoding="utf-8")
    desk = desk_for(shelf / "house.rules")
    assert desk.folder == shipped_rules()
    typed = {shelf / "house.rules": "edition 1\n\nhouse\n  switch off nothing-such\n"}
    library, problems = desk.library(typed)
    assert "mine" in library.lets
    assert [problem.code for problem in problems if problem.code.startswith("house")] == ["house-502"]


def test_only_what_changed_is_read_again() -> None:
    desk = desk_for(ROOT / "rules" / "light.rules")
    first, _ = desk.library({})
    assert desk.library({})[0] is first
    text = (ROOT / "rules" / "light.rules").read_text(encoding="utf-8")
    again, _ = desk.library({ROOT / "rules" / "light.rules": text + "\nlet dim = 5 PAR\n"})
    assert again is not first
    assert again.rules["not-too-bright"].name == "not-too-bright"
