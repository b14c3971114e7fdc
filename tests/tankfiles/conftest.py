"""Tank folders for the tests, written into a temporary folder."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from advisor.errors import Problem, Severity
from advisor.language.check import check
from advisor.language.parse import parse_file
from advisor.model.tank import Fact, Tank
from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.folder import read_tank
from advisor.tankfiles.ledger import Ledger

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def vocabulary() -> Vocabulary:
    """The shipped vocabulary."""
    text = (ROOT / "rules" / "measures.rules").read_text(encoding="utf-8")
    file, problems = parse_file("measures.rules", text)
    assert [p for p in problems if p.severity is Severity.ERROR] == []
    return check([file])[0].vocabulary


@pytest.fixture
def reading(vocabulary: Vocabulary) -> Reading:
    """What a reader needs, with nothing known yet."""
    return Reading(vocabulary, Ledger())


@dataclass
class Folder:
    """One tank folder of a test."""

    path: Path
    vocabulary: Vocabulary

    def write(self, name: str, text: str | bytes) -> Folder:
        """Write one file of the folder."""
        file = self.path / name
        if isinstance(text, bytes):
            file.write_bytes(text)
        else:
            file.write_text(text, encoding="utf-8", newline="")
        return self

    def text(self, name: str = "tank.yaml") -> str:
        """Return one file of the folder."""
        return (self.path / name).read_bytes().decode("utf-8")

    def read(self) -> tuple[Tank | None, tuple[Problem, ...]]:
        """Read the folder as the program does."""
        return read_tank(self.path, self.vocabulary)

    @property
    def tank(self) -> Tank:
        """The tank, where nothing is wrong with it."""
        tank, problems = self.read()
        assert tank is not None
        assert [p for p in problems if p.severity is Severity.ERROR] == []
        return tank

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Everything noted about the folder."""
        return self.read()[1]

    @property
    def codes(self) -> list[str]:
        """The codes of everything noted, in order."""
        return [p.code for p in self.problems]

    def said(self, measure: str, *subjects: str) -> list[Fact]:
        """The facts about one measure of some subjects."""
        return [f for f in self.tank.facts if f.measure == measure and f.subjects == subjects]


@pytest.fixture
def tank_of(tmp_path: Path, vocabulary: Vocabulary) -> Callable[[str], Folder]:
    """Make a tank folder from the text of its tank.yaml."""

    def make(text: str) -> Folder:
        folder = tmp_path / "tank"
        folder.mkdir(exist_ok=True)
        return Folder(folder, vocabulary).write("tank.yaml", text)

    return make
