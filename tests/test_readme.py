"""What the README shows is what comes out, and what it tells to type works."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest

from advisor.cli import main

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Shown:
    """One command of the README with the output printed under it."""

    command: str
    output: str


def blocks(language: str) -> list[str]:
    """Return the fenced blocks of one language."""
    return [body for name, body in FENCE.findall(README) if name == language]


def shown_commands() -> list[Shown]:
    """Return every ``$ advisor …`` with what the README prints below it."""
    found = []
    for body in blocks("text"):
        for part in re.split(r"^\$ ", body, flags=re.MULTILINE)[1:]:
            command, _, output = part.partition("\n")
            found.append(Shown(command, output.strip("\n")))
    return found


def marked_block(mark: str) -> str:
    """Return the block after ``<!-- mark -->``, as .ci/run takes it."""
    match = re.search(rf"^<!-- {mark} -->\n```\w*\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
    assert match, f"README.md has no block after <!-- {mark} -->"
    return match.group(1)


def test_the_commands_print_what_the_readme_shows(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """In order and in one folder, as a reader would type them."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    commands = shown_commands()
    assert len(commands) >= 3
    for shown in commands:
        program, *words = shlex.split(shown.command)
        assert program == "advisor"
        main(words)
        printed = capsys.readouterr()
        assert (printed.out + printed.err).strip("\n") == shown.output, shown.command


def test_the_readme_opens_with_a_tank_file_a_command_and_its_report() -> None:
    kinds = [name for name, _ in FENCE.findall(README)]
    assert kinds[:2] == ["yaml", "text"]
    assert README.index("```text") < 6000


def test_the_tank_file_shown_is_the_one_in_the_examples() -> None:
    shown = blocks("yaml")[0]
    assert shown in (ROOT / "examples" / "first-shelf" / "tank.yaml").read_text(encoding="utf-8")


def test_the_house_rules_shown_can_be_used(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (rules,) = blocks("rules")
    house = tmp_path / "house.rules"
    house.write_text(rules, encoding="utf-8")
    tank = str(ROOT / "examples" / "first-shelf")
    code = main(["why-not", "torch-1", "middle", "--tank", tank, "--house", str(house), "--on", "2026-11-02"])
    assert code == 1
    assert main(["rules", "check", "--house", str(house)]) == 0, capsys.readouterr().err


def test_the_two_command_sets_are_there_and_say_the_whole_of_it() -> None:
    use, test = marked_block("commands-use"), marked_block("commands-test")
    assert "-m venv" in use
    assert "pip install ." in use
    assert re.search(r"^advisor \w+ .*examples/", use, re.MULTILINE)
    assert re.search(r"pip install .*\[test\]", test)
    assert "python -m tests" in test


def test_the_check_runs_exactly_these_two_sets() -> None:
    """`.ci/run` takes the same two blocks out of the README, by the same marks."""
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "for name in commands-use commands-test" in script
    assert "pip install" not in script
    extract = re.search(r"^block\(\) \{\n.*?^\}\n", script, re.MULTILINE | re.DOTALL)
    assert extract
    for mark in ("commands-use", "commands-test"):
        taken = subprocess.run(
            ["bash", "-c", f"{extract.group(0)}\nblock {mark}"],
            cwd=ROOT,
            check=True,
            capture_output=True,
            text=True,
        )
        assert taken.stdout == marked_block(mark)
