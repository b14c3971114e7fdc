"""The line a finding prints can be pasted, and then the finding is accepted."""

from __future__ import annotations

import re
from pathlib import Path

from advisor.language.parse import parse_file
from tests.planning.tanks import WATER, opened
from tests.planning.test_accepts import CORALS, RULE, audited, spots, stung


def test_the_printed_line_accepts_what_it_stands_below(tmp_path: Path) -> None:
    found = opened(tmp_path, spots=spots("15 cm"), corals=CORALS).audit(months=0, level=2)
    (reason,) = [each.reason for each in found.now if each.reason.rule == RULE]
    assert " ".join(reason.accept.split()).startswith(f"accept {RULE} for ")
    line = re.sub(r'because "[^"]*"', 'because "glass rod"', reason.accept)
    assert parse_file("house.rules", f"edition 1\n\nhouse\n  {line}\n")[1] == ()
    assert stung(audited(tmp_path, f"house\n  {line}\n")) == ["accepted"]


def test_what_holds_has_no_line(tmp_path: Path) -> None:
    found = opened(tmp_path, spots=spots("60 cm"), corals=CORALS).audit(months=0, level=2)
    assert [each.reason.accept for each in found.now if each.reason.rule == RULE] == []


PUMP = "pumps: [{id: left-pump, cleaned: 2026-01-01}]\n"


def lines_of(folder: Path, water: str = WATER, gap: str = "60 cm") -> dict[str, str]:
    """Return the line of every finding of a tank of two that has one, by its rule."""
    where = spots(gap) if gap else spots("15 cm").replace("gaps: {candy-1: 15 cm}", "islet: no")
    found = opened(folder, spots=where, corals=CORALS, water=water).audit(months=0, level=2)
    reasons = [*(each.reason for each in found.now), *found.open, *found.open_advice]
    return {reason.rule: " ".join(reason.accept.split()) for reason in reasons if reason.accept}


def test_what_was_never_measured_is_accepted_as_unknown_and_no_absurd_number_is_printed(
    tmp_path: Path,
) -> None:
    told = lines_of(tmp_path, WATER + PUMP, gap="")
    assert "short by unknown on 2026-11-02" in told[RULE]
    numbers = [float(number) for line in told.values() for number in re.findall(r"short by ([0-9.]+)", line)]
    assert numbers
    assert max(numbers) < 1000.0
    line = re.sub(r'because "[^"]*"', 'because "glass rod"', told[RULE])
    second = tmp_path / "second"
    second.mkdir()
    where = spots("15 cm").replace("gaps: {candy-1: 15 cm}", "islet: no")
    answer = opened(second, spots=where, corals=CORALS, house=f"house\n  {line}\n").audit(months=0)
    assert stung(answer) == ["accepted"]


def test_what_is_found_of_pumps_and_of_weapons_has_a_line_that_counts(tmp_path: Path) -> None:
    water = WATER + PUMP
    told = lines_of(tmp_path, water)
    assert told["pumps-are-cleaned"].startswith("accept pumps-are-cleaned for left-pump short by ")
    sweepers = told["sweepers-are-looked-for-after-a-month"]
    assert "for torch-1 at here" in sweepers
    second = tmp_path / "second"
    second.mkdir()
    house = "house\n" + "".join(
        f"  {line}\n" for line in (told["pumps-are-cleaned"], sweepers) if line
    ).replace("your reason", "as I like it")
    answer = opened(second, spots=spots("60 cm"), corals=CORALS, water=water, house=house).audit(months=0)
    accepted = {reason.rule for reason in answer.accepted}
    assert {"pumps-are-cleaned", "sweepers-are-looked-for-after-a-month"} <= accepted
