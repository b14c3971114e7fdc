"""What a command refuses because of where things stand."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.errors import UnusableInput
from advisor.model.tank import Event
from advisor.tankfiles.changes import add_coral, add_reading, move
from tests.tankfiles.conftest import Folder
from tests.tankfiles.test_changes import DAY, TANK

Make = Callable[[str], Folder]


def test_nothing_is_measured_from_a_coral_that_waits(tank_of: Make) -> None:
    folder = tank_of(TANK)
    with pytest.raises(UnusableInput) as caught:
        add_reading(folder.path, folder.vocabulary, ("hammer-1", "torch-1"), "gap", "40 cm", on=DAY)
    assert caught.value.problems[0].mend == (
        'measure from the spot: advisor tank add reading SPOT,torch-1 gap "40 cm"'
    )
    assert not (folder.path / "journal.jsonl").exists()


def test_a_full_spot_names_who_is_there_and_what_is_free(tank_of: Make) -> None:
    folder = tank_of(TANK)
    acts: tuple[Callable[[], Event], ...] = (
        lambda: move(folder.path, folder.vocabulary, "hammer-1", "ledge", on=DAY),
        lambda: add_coral(folder.path, folder.vocabulary, "duncan", on=DAY, spot="ledge"),
    )
    for act in acts:
        with pytest.raises(UnusableInput, match="ledge is full: torch-1 stands there") as caught:
            act()
        assert caught.value.problems[0].mend == "a free spot: shelf"
