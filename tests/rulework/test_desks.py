"""A tank under any rules."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.rulework.desks import desk_with, tank_read
from advisor.session.opening import shipped
from tests.rules.days import DAY
from tests.rulework.test_lint_readings import small_tank


def test_one_tank_is_read_once_and_asked_under_any_rules(tmp_path: Path) -> None:
    library = shipped()
    tank = tank_read(small_tank(tmp_path), library)
    desk = desk_with(tank, library, DAY)
    assert desk.tank is tank
    assert desk.cards["torch-1"].cards == ("torch",)


def test_a_folder_without_a_tank_is_told(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput) as fault:
        tank_read(tmp_path, shipped())
    assert [problem.code for problem in fault.value.problems] == ["tank-601"]
