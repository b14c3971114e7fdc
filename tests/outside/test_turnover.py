"""How often pumps turn a tank over: 5000 L/h through 300 L is 16.6667 times an hour, by arithmetic."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.cli import main

RULE = """
rule turned-over-{name}
  for      tank
  expect   turnover(tank) >= {limit} times
  level    advice
  stage    settled
  because  "all pumps together move the water {{turnover(tank)}} over in an hour"
  matters  "a test"
  remedy   "another pump"
  source   "arithmetic" kind guess

example "five thousand litres through three hundred, {name}" for turned-over-{name}
  given left-pump is pump with pump-flow = 5000 to 5000.1 L/h
        volume(tank) = 300 to 300.001 L
  then  tank {outcome}
"""


def test_turnover(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    house = tmp_path / "turn.rules"
    below = RULE.format(name="below", limit=16.66, outcome="holds")
    above = RULE.format(name="above", limit=16.67, outcome="fails")
    house.write_text(f"edition 1\n{below}{above}", encoding="utf-8")
    only = ("--only", "turned-over-below", "--only", "turned-over-above")
    code = main(["rules", "test", "--house", str(house), *only])
    shown = capsys.readouterr()
    assert code == 0, shown.out + shown.err
    assert "2 outcomes: all as expected" in shown.out
