"""Every sample of the reference is read, checked and run."""

from __future__ import annotations

import re
import shlex
import shutil
from functools import cache
from pathlib import Path

import pytest

from advisor.cli import main
from advisor.language.parse import parse_file
from advisor.rulework.checking import check_rules
from advisor.rulework.proving import run_examples

ROOT = Path(__file__).resolve().parents[2]
REFERENCE = (ROOT / "rules" / "README.md").read_text(encoding="utf-8")
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
EXPRESSIONS = REFERENCE.partition("## Expressions")[2].partition("##")[0]
SAMPLES = [
    code
    for row in re.findall(r"^\| (.*?) \|", EXPRESSIONS, re.MULTILINE)
    for code in re.findall(r"`([^`]*)`", row)
    if re.search(r"[a-z]\(|\.[a-z]| of [a-z]", code)
]


def blocks(language: str, text: str = REFERENCE) -> list[str]:
    """Return the fenced blocks of one language."""
    return [body for name, body in FENCE.findall(text) if name == language]


@cache
def samples() -> str:
    """Return all samples outside the walk-through as one file."""
    head, _, tail = REFERENCE.partition("<!-- walk-through -->")
    rest = tail.partition("<!-- end of walk-through -->")[2] or tail
    return "edition 1\n\n" + "\n".join([*blocks("rules", head), *blocks("rules", rest)])


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """The samples as a house file."""
    path = tmp_path / "house.rules"
    path.write_text(samples(), encoding="utf-8")
    return path


def test_every_sample_is_without_fault(house: Path) -> None:
    assert check_rules(house=[house])[0] == ()


def test_every_sample_example_comes_out_as_it_says(house: Path) -> None:
    own = [result for result in run_examples(own=[house]).examples if result.file.endswith("house.rules")]
    assert len(own) >= 6
    assert [(result.title, result.got) for result in own if not result.ok] == []


def test_the_expressions_are_told() -> None:
    assert len(SAMPLES) >= 14


@pytest.mark.parametrize("code", SAMPLES)
def test_every_expression_of_the_table_is_one(code: str, tmp_path: Path) -> None:
    text = code.replace("…", "group(n) is soft")
    ends = {"count": ">= 1", "sum": ">= 1 cm", "least": ">= 1 cm", "most": ">= 1 cm", "days": "> 3 days"}
    end = ends.get(text.split()[0], "")
    whole = f"({text}) {end}" if end else text
    file = tmp_path / "house.rules"
    file.write_text(f"edition 1\n\ndefine sampled(animal a, animal b) as {whole}\n", encoding="utf-8")
    assert parse_file("house.rules", file.read_text(encoding="utf-8"))[1] == ()
    assert check_rules(house=[file])[0] == ()


def test_every_word_that_begins_a_thing_is_in_the_table() -> None:
    from advisor.language.pieces import TOP_WORDS

    table = REFERENCE.partition("## A file")[2].partition("##")[0]
    told = {word for row in re.findall(r"^\| (`.*?`) \|", table, re.MULTILINE) for word in row.split("`")}
    assert set(TOP_WORDS) - {"edition"} <= told


def test_the_walk_through_comes_out_as_shown(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """File by file and command by command, as a reader would go."""
    walk = REFERENCE.partition("<!-- walk-through -->")[2].partition("<!-- end of walk-through -->")[0]
    shutil.copytree(ROOT / "examples" / "first-shelf", tmp_path / "my-tank")
    monkeypatch.chdir(tmp_path / "my-tank")
    shown = 0
    for kind, body in FENCE.findall(walk):
        if kind == "rules":
            Path("house.rules").write_text(body, encoding="utf-8")
            continue
        for part in re.split(r"^\$ ", body, flags=re.MULTILINE)[1:]:
            command, _, output = part.partition("\n")
            program, *words = shlex.split(command)
            assert program == "advisor"
            main(words)
            printed = capsys.readouterr()
            assert (printed.out + printed.err).strip("\n") == output.strip("\n"), command
            shown += 1
    assert shown >= 6
