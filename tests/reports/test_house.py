"""A loosened danger is printed at every level."""

from __future__ import annotations

import pytest

from advisor.model.results import Loosened, Verdict
from advisor.reports.house import loosened_blocks
from advisor.reports.printer import render

ENDED = Loosened(
    rule="keep-clear", subjects=("torch-1", "candy-1"), places=("left", "right", "top"),
    shipped=Verdict.FAILS, lines=("your house file changed torch reach from 25 cm to 5 cm: tape",),
)  # fmt: skip
SOFTER = ENDED.model_copy(update={"rule": "no-shade", "shipped": Verdict.UNDECIDED, "places": ()})
OFF = Loosened(rule="no-copper", lines=("your house file switched off no-copper: test kit",))
TAKEN = Loosened(rule="kin", subjects=("a-1", "b-1"), lines=("you accepted this: rod",), accepted=True)


def printed(*found: Loosened, level: int, accepted: bool = True) -> str:
    """Return what is printed, on one line."""
    return " ".join(render(tuple(loosened_blocks(found, level, accepted=accepted))).split())


def test_level_0_tells_every_one_of_them_by_name() -> None:
    assert printed(ENDED, OFF, TAKEN, level=0) == (
        "HOUSE Accepted by you: kin (a-1 and b-1). "
        "Loosened by your house file: keep-clear (torch-1 and candy-1). Switched off: no-copper."
    )


def test_many_things_of_one_danger_are_counted() -> None:
    found = [ENDED.model_copy(update={"subjects": (f"a-{number}", "b")}) for number in range(4)]
    assert "keep-clear (a-0 and b, a-1 and b and 2 more)" in printed(*found, level=0)


@pytest.mark.parametrize(
    ("found", "told"),
    [
        (ENDED, "As shipped the danger keep-clear fails for torch-1 and candy-1 at left, right and 1 more."),
        (ENDED, "Your house file changed torch reach from 25 cm to 5 cm: tape."),
        (SOFTER, "As shipped the danger no-shade is open for torch-1 and candy-1."),
        (OFF, "The danger no-copper is off. Your house file switched off no-copper: test kit."),
        (TAKEN, "The danger kin for a-1 and b-1 is accepted. You accepted this: rod."),
    ],
)
def test_deeper_it_tells_by_which_line(found: Loosened, told: str) -> None:
    assert told in printed(found, level=1)


def test_what_is_listed_as_accepted_anyway_is_told_here_only_at_level_0() -> None:
    assert printed(TAKEN, level=1, accepted=False) == ""
    assert "kin" in printed(TAKEN, level=0, accepted=False)
    assert loosened_blocks((), 0) == []
