"""Opening a tank: the folder meant, its own rules, and what stops it."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.session.opening import house_rules, open_tank

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"


def test_the_nearest_folder_above_is_meant(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shelf = Path(shutil.copytree(EXAMPLES / "first-shelf", tmp_path / "shelf"))
    (shelf / "photos").mkdir()
    monkeypatch.chdir(shelf / "photos")
    assert open_tank(None, on=date(2026, 11, 2)).waiting == ("torch-1",)


def test_outside_a_tank_the_mend_makes_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(UnusableInput) as refused:
        open_tank(None, on=date(2026, 11, 2))
    assert refused.value.problems[0].code == "tank-602"
    assert house_rules(None) == ()


def test_a_day_beyond_reckoning_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput) as refused:
        open_tank(EXAMPLES / "first-shelf", on=date(2900, 1, 1))
    assert refused.value.problems[0].code == "ask-403"


def test_an_animal_without_a_card_is_told_beside_other_errors(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").write_text(
        "spots: [ledge]\ncorals:\n  - {id: odd, is: xyzzy}\n  - {id: t, is: torch, lihgt: 3 PAR}\n",
        encoding="utf-8",
    )
    with pytest.raises(UnusableInput) as caught:
        open_tank(tmp_path, on=date(2026, 11, 25))
    found = {problem.code: problem for problem in caught.value.problems}
    assert set(found) == {"key-121", "name-301"}
    span = found["name-301"].span
    assert span is not None
    assert (span.file, span.line) == ("tank.yaml", 3)
