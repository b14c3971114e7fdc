"""How often pumps turn a tank over: 5000 L/h through 300 L is 16.6667 times an hour, arithmetic of the litre."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.cli import main

RULE = """edition 1

rule turned-over
  for      tank
  expect   turnover(tank) >= {limit} times
  level    advice
  stage    settled
  because  "all pumps together move the water {{turnover(tank)}} over in an hour"
  matters  "a test"
  remedy   "another pump"
  source   "arithmetic" kind guess

example "five thousand litres through three hundred" for turned-over
  given left-pump is pump with pump-flow = 5000 to 5000.1 L/h
        volume(tank) = 300 to 300.001 L
  then  tank {outcome}
"""


@pytest.mark.parametrize(("limit", "outcome"), [("16.66", "holds"), ("16.67", "fails")])
def test_turnover(tmp_path: Path, capsys: pytest.CaptureFixture[str], limit: str, outcome: str) -> None:
    house = tmp_path / "turn.rules"
    house.write_text(RULE.format(limit=limit, outcome=outcome), encoding="utf-8")
    code = main(["rules", "test", "--house", str(house), "--only", "turned-over"])
    shown = capsys.readouterr()
    assert code == 0, shown.out + shown.err
    assert "1 outcome: all as expected" in shown.out
