"""A keeper at the keyboard: writes a small tank folder, asks the program, reads what comes out."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from advisor.cli import main

DAY = "2026-11-02"
GOOD_WATER = (
    "{on: 2026-10-31, temperature: 25.5 °C, salinity: 35 ppt, alkalinity: 8.4 dKH, calcium: 425 mg/L,"
    " magnesium: 1330 mg/L, nitrate: 6 mg/L, phosphate: 0.05 mg/L, ammonia: 0 mg/L, how: drop test}"
)
GOOD_TANK = (
    "name: scenario tank",
    "invented: yes",
    "started: 2024-01-01",
    "glass: 100 x 50 x 50 cm",
    "flow: {direction: left to right, pattern: random}",
    "pump guards: yes",
    "carbon: yes",
    "sand: fine",
)

# Published JSON, read back: what is in it is what the models of advisor.model.results say.
Answer = dict[str, Any]
Table = Sequence[Sequence[str]]
"""The rows of a table in a scenario, its headings first."""


@dataclass
class Printed:
    """What one command left behind."""

    argv: tuple[str, ...]
    code: int
    out: str
    err: str

    @property
    def text(self) -> str:
        """Everything on the screen, answers first."""
        return self.out + self.err

    @property
    def flat(self) -> str:
        """The same with every run of blanks and line breaks made one blank."""
        return re.sub(r"\s+", " ", self.text)


@dataclass
class Keeper:
    """The state of one scenario."""

    home: Path
    capsys: pytest.CaptureFixture[str]
    header: list[str] = field(default_factory=list)
    water: str = GOOD_WATER
    places: list[dict[str, str]] = field(default_factory=list)
    corals: list[dict[str, str]] = field(default_factory=list)
    gaps: list[dict[str, str]] = field(default_factory=list)
    raw: str | None = None
    house: str = ""
    more_house: str = ""
    printed: list[Printed] = field(default_factory=list)
    place: str = ""
    """The place the last step spoke of."""

    # --- writing the folder

    @property
    def folder(self) -> Path:
        """The tank folder."""
        return self.home / "tank"

    @property
    def tank_file(self) -> Path:
        """The file the keeper edits."""
        return self.folder / "tank.yaml"

    def write(self) -> None:
        """Write the folder as the steps described it, once."""
        if self.tank_file.exists():
            return
        self.folder.mkdir(exist_ok=True)
        self.tank_file.write_text(self.raw if self.raw is not None else self._tank_text(), encoding="utf-8")
        if self.house:
            (self.folder / "house.rules").write_text(self.house, encoding="utf-8")
        if self.more_house:
            (self.folder / "more.rules").write_text(self.more_house, encoding="utf-8")

    def _tank_text(self) -> str:
        lines = [*self.header, f"water: [{self.water}]"]
        lines += _block("spots", self.places) + _block("corals", self.corals)
        lines += [
            f"  - {{between: [{row['between']}, {row['and']}], gap: {row['gap']}}}"
            if index
            else f"gaps:\n  - {{between: [{row['between']}, {row['and']}], gap: {row['gap']}}}"
            for index, row in enumerate(self.gaps)
        ]
        return "\n".join(lines) + "\n"

    # --- asking

    def run(self, *argv: str) -> Printed:
        """Run the program with these words and keep what it printed."""
        self.capsys.readouterr()
        code = main(list(argv))
        shown = self.capsys.readouterr()
        self.printed.append(Printed(argv, code, shown.out, shown.err))
        return self.printed[-1]

    def ask(self, *words: str, day: bool = True) -> Printed:
        """Ask about the tank of this scenario."""
        self.write()
        on = ("--on", DAY) if day else ()
        return self.run(*words, "--tank", self.folder.name, *on)

    @property
    def last(self) -> Printed:
        """What was printed last, data aside."""
        return [each for each in self.printed if "--json" not in each.argv][-1]

    def answer(self) -> Answer:
        """Return the last answer as data: the same question with --json."""
        printed = self.run(*self.last.argv, "--json")
        assert printed.out, printed.err
        first, *_ = printed.out.splitlines()
        found = json.loads(first)
        assert isinstance(found, dict)
        return found

    # --- reading

    def place_answer(self, place: str) -> Answer:
        """Return what the last answer says of one place."""
        answer = self.answer()
        places = [answer["place"]] if "place" in answer else answer["places"]
        found = [each for each in places if each["place"] == place]
        assert found, f"{place} is not among {[each['place'] for each in places]}"
        self.place = place
        return dict(found[0])

    def findings(self) -> list[Answer]:
        """Return every finding of an audit, those of now first."""
        answer = self.answer()
        return [*answer["now"], *answer["later"]]


def _block(key: str, rows: Sequence[dict[str, str]]) -> list[str]:
    if not rows:
        return []
    lines = [f"{key}:"]
    for row in rows:
        told = {name: value for name, value in row.items() if value != ""}
        first = True
        for name, value in told.items():
            lines.append(f"  {'-' if first else ' '} {name}: {_scalar(name, value)}")
            first = False
    return lines


def _scalar(name: str, value: str) -> str:
    plain = name == "at" or (name == "is" and ":" in value)
    return json.dumps(value, ensure_ascii=False) if plain else value


def rows_of(table: Sequence[Sequence[str]]) -> list[dict[str, str]]:
    """Return a table with a heading as one mapping a row."""
    heading, *body = table
    return [dict(zip(heading, row, strict=True)) for row in body]


def middle(value: Answer | None) -> float | None:
    """Return the one number that stands for a value, if it has one."""
    if value is None:
        return None
    for key in ("best", "low", "high"):
        if value.get(key) is not None:
            return float(value[key])
    return None


def all_reasons(places: Iterable[Answer]) -> list[Answer]:
    """Return the reasons of several places in one list."""
    return [reason for place in places for reason in place["reasons"]]
