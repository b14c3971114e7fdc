"""The TextMate grammar, run over every shipped file as an editor would."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from advisor.editors.textmate import SCOPE, textmate_grammar

RULES = Path(__file__).resolve().parents[2] / "rules"
FILES = sorted(RULES.rglob("*.rules"))


class Colouring:
    """The patterns of the grammar, tried in order at each place of a line."""

    def __init__(self) -> None:
        # a grammar is loose JSON by its nature
        self.grammar: dict[str, Any] = json.loads(textmate_grammar())
        whole = self.grammar["repository"]
        self.patterns = [
            whole[item["include"][1:]] if "include" in item else item for item in self.grammar["patterns"]
        ]

    def scopes(self, line: str) -> list[tuple[str, str]]:
        """Return text and scope of every coloured stretch of a line."""
        found: list[tuple[str, str]] = []
        at = 0
        while at < len(line):
            best = min(
                ((match.start(), order) for order, item in enumerate(self.patterns)
                 if (match := re.compile(item.get("match") or item["begin"]).search(line, at))),
                default=None,
            )  # fmt: skip
            if best is None:
                break
            item = self.patterns[best[1]]
            match = re.compile(item.get("match") or item["begin"]).search(line, at)
            assert match
            end = match.end()
            if "begin" in item:
                closed = re.compile(item["end"]).search(line, end)
                end = closed.end() if closed else len(line)
            if "captures" in item:
                found += [(match.group(int(n)), each["name"]) for n, each in item["captures"].items()
                          if match.group(int(n))]  # fmt: skip
            else:
                found.append((line[match.start() : end], item["name"]))
            at = max(end, at + 1)
        return found


@pytest.fixture(scope="module")
def colouring() -> Colouring:
    return Colouring()


def test_it_is_a_grammar_for_rule_files(colouring: Colouring) -> None:
    assert colouring.grammar["scopeName"] == SCOPE
    assert colouring.grammar["fileTypes"] == ["rules"]


@pytest.mark.parametrize(
    ("line", "text", "scope"),
    [
        ("rule keep-clear", "rule", "keyword.declaration"),
        ("rule keep-clear", "keep-clear", "entity.name.coral"),
        ("  expect   gap(a, b) >= 12 cm", "expect", "keyword.control"),
        ("  expect   gap(a, b) >= 12 cm", "gap", "entity.name.function"),
        ("  expect   gap(a, b) >= 12 cm", "12", "constant.numeric"),
        ("  expect   gap(a, b) >= 12 cm", "cm", "keyword.other.unit"),
        ("  when light(a.spot) is not low-light", "light", "entity.name.function"),
        ("  when light-50(a) >= 3", "light-50", "entity.name.function"),
        ("  level    danger", "danger", "constant.language"),
        ('  because "{a} is near" # so', '"{a} is near"', "string.quoted"),
        ('  because "{a} is near" # so', "# so", "comment.line"),
        ("  until 2027-03-01", "2027-03-01", "constant.other.date"),
    ],
)
def test_each_word_has_its_colour(colouring: Colouring, line: str, text: str, scope: str) -> None:
    assert any(found == text and name.startswith(scope) for found, name in colouring.scopes(line))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_letter_of_a_shipped_file_is_coloured(colouring: Colouring, file: Path) -> None:
    for line in file.read_text(encoding="utf-8").splitlines():
        letters = sum(character.isalnum() for character in line)
        told = sum(character.isalnum() for text, _ in colouring.scopes(line) for character in text)
        assert told == letters, line
