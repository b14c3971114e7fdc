"""Rules that wait for a reading: no card has it, or nobody told it in a tank."""

from __future__ import annotations

from pathlib import Path

from advisor.rulework.desks import desk_with, tank_read
from advisor.rulework.lint_readings import card_findings, tank_findings, untold
from advisor.session.opening import shipped
from tests.rules.days import DAY
from tests.rulework.lints import END, library_of

SMALL = """name: small
glass: 60 x 40 x 40 cm
spots:
  - id: ledge
    light: 120 PAR
corals:
  - {id: torch-1, is: torch, spot: ledge}
"""


def small_tank(folder: Path, more: str = "") -> Path:
    (folder / "tank.yaml").write_text(SMALL.replace("    light", more + "    light"), encoding="utf-8")
    return folder


def told(folder: Path) -> dict[str, str]:
    library = shipped()
    found = tank_findings(desk_with(tank_read(folder, library), library, DAY))
    return {each.problem.what: each.problem.mend for each in found if each.code == "data-602"}


def test_a_reading_nobody_told_is_named_with_the_rules_that_wait(tmp_path: Path) -> None:
    without = told(small_tank(tmp_path))
    flow = [what for what in without if ": flow has never been told at any spot" in what]
    assert len(flow) == 1
    assert without[flow[0]] == "Time a crumb over 20 cm at each spot, five times"
    assert not [what for what in without if ": light has" in what]
    with_flow = told(small_tank(tmp_path, "    flow: 9 cm/s\n"))
    assert not [what for what in with_flow if ": flow has" in what]


def test_a_line_no_card_has_keeps_a_rule_from_speaking() -> None:
    library = library_of(
        "rule slow\n  for animal a\n  expect grows-out(a) <= 9 mm/month or size(a) > 9 cm" + END
    )
    assert "grows-out" in untold(library)
    found = list(card_findings(library, [library.rules["slow"]]))
    assert [each.code for each in found] == []  # the size can decide it
    library = library_of("rule slow\n  for animal a\n  expect grows-out(a) <= 9 mm/month" + END)
    assert [each.code for each in card_findings(library, [library.rules["slow"]])] == ["logic-317"]
