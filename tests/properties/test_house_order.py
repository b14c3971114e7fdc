"""House lines in any order and any file give the same answers."""

from __future__ import annotations

import json
import random
import re
import shutil
from pathlib import Path

import pytest

from advisor import api
from tests.properties.demo import FOLDER, ON

LINES = (
    'change room-allowance from 2 cm to 3 cm because "the tape slips"',
    'change torch light max from 250 PAR to 230 PAR because "two bleached" until 2027-01-31',
    'change torch light max from 250 PAR to 240 PAR for torch-2 because "this one stands more"',
    'change torch light best from 80 to 150 PAR to 70 to 140 PAR because "they retract"',
    'change galaxea flow pattern from random to alternating because "new pumps"',
    'change acan-lord light max from 1 PAR to 150 PAR because "an old card"',
    'level enough-light from warning to advice because "old lamps"',
    'switch off ground-it-accepts because "coarse sand"',
    'accept keep-clear-of-stingers for galaxy-1 at left-corner, crust-2 at "26, 13, 9 cm"'
    ' short by 19 cm on 2026-11-02 because "a glass plate" until 2027-05-02',
    'accept not-too-bright for blasto-1 because "it eats"',
    "accept room-for-reach-and-growth for mat-1, disc-1 short by 1 cm on 2025-01-01 until 2026-01-01",
)
OWN = (
    'let lid-room = 5 cm because "hot"',
    "rule small-enough\n  for animal a\n  expect size(a) <= 30 cm\n  level advice\n"
    '  because "{a} is {size(a)}"',
)


def answers(folder: Path) -> dict[str, object]:
    """Return what is told of a tank, without where in which file anything stands."""
    session = api.open_tank(folder, on=ON)
    audit = json.loads(session.audit(level=2).model_dump_json())
    why = json.loads(session.why("torch-2", "sand-right", level=4).model_dump_json())
    problems = sorted(
        (problem.code, re.sub(r"\S+\.rules:\d+", "", problem.what + problem.label + problem.mend))
        for problem in session.problems
    )
    return {"audit": blind(audit), "why": blind(why), "problems": problems}


def blind(told: object) -> object:
    """Return an answer without files and lines."""
    if isinstance(told, dict):
        return {key: blind(value) for key, value in told.items() if key not in ("file", "line")}
    return [blind(item) for item in told] if isinstance(told, list) else told


def tank(folder: Path, files: dict[str, list[str]], own: dict[str, list[str]]) -> Path:
    """Return the demonstration tank with these house files beside it."""
    shutil.copytree(FOLDER, folder)
    (folder / "house.rules").unlink()
    text = (folder / "tank.yaml").read_text(encoding="utf-8")
    (folder / "tank.yaml").write_text(text.replace("house: [house.rules]", ""), encoding="utf-8")
    for name in {*files, *own}:
        parts = ["edition 1", *own.get(name, []), "house", *(f"  {line}" for line in files.get(name, []))]
        (folder / name).write_text("\n".join(parts) + "\n", encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> dict[str, object]:
    """What is told with every line in one file."""
    lines = list(LINES)
    found = answers(
        tank(tmp_path_factory.mktemp("plain") / "tank", {"house.rules": lines}, {"house.rules": list(OWN)})
    )
    assert str(found).count("your house file") > 3
    return found


@pytest.mark.parametrize("seed", [1, 2])
def test_neither_the_order_of_lines_nor_of_files_changes_an_answer(
    seed: int, plain: dict[str, object], tmp_path: Path
) -> None:
    dice = random.Random(seed)
    lines = list(LINES)
    dice.shuffle(lines)
    cut = dice.randint(1, len(lines) - 1)
    own = list(OWN)
    dice.shuffle(own)
    files = {"zz.rules": lines[:cut], "aa.rules": lines[cut:]}
    folder = tank(tmp_path / "tank", files, {"zz.rules": own[:1], "mm.rules": own[1:]})
    assert answers(folder) == plain
