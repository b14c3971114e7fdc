"""While the water is out of order nothing small is put down to light or flow."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.model.results import Reason, Verdict
from advisor.planning.held_back import held_back, note_of
from tests.planning.reasons import reason
from tests.planning.tanks import WATER, coral, opened, spot


def about(quantity: str, level: str = "warning", rule: str = "r") -> Reason:
    """Return a finding about something."""
    return reason("a", rule=rule, level=level, quantity=quantity)


DIM = about("light", rule="dim")
SLACK = about("flow", "advice", rule="slack")
BRIGHT = about("light", "danger", rule="bright")
NEAR = about("gap to a", rule="near")


@pytest.mark.parametrize("level", ["danger", "warning"])
def test_light_and_flow_wait_for_the_water(level: str) -> None:
    kept, waiting = held_back([DIM, SLACK, BRIGHT, NEAR], [about("salinity", level)])
    assert kept == [BRIGHT, NEAR]
    assert waiting == [DIM, SLACK]
    assert note_of(waiting)[0].startswith("2 findings by light or flow")


def test_nothing_waits_while_the_water_is_in_order() -> None:
    holds = about("salinity").model_copy(update={"verdict": Verdict.UNDECIDED})
    for gates in ([], [holds], [about("magnesium", "advice")]):
        assert held_back([DIM, NEAR], gates) == ([DIM, NEAR], [])
    assert note_of(()) == ()


def test_one_is_one() -> None:
    assert note_of([DIM])[0].startswith("1 finding by light")


def test_an_audit_of_wrong_water_says_what_it_holds_back(tmp_path: Path) -> None:
    standing = "size: 10 cm, placed: 2025-05-10, fixing: glued"
    dim = "light: {value: 42 PAR, error: 2 PAR, on: 2026-10-28, by: instrument}, ground: rock, faces: up"
    spots, corals = spot("here", what=dim), coral("one-1", "torch", f"spot: here, {standing}")
    wrong = WATER.replace("salinity: 35 ppt", "salinity: 29 ppt")
    told = opened(tmp_path, spots=spots, corals=corals, water=wrong).audit()
    right = opened(tmp_path, spots=spots, corals=corals).audit()
    by_light = [finding.reason.rule for finding in right.now if finding.reason.quantity == "light"]
    assert by_light
    assert not any(finding.reason.quantity == "light" for finding in told.now)
    assert any("held back" in note for note in told.notes)
    assert not any("held back" in note for note in right.notes)
