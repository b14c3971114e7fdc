"""Since when something has been so."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from advisor.errors import Span
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Scalar
from advisor.tankfiles.since import read_begun, since_when
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]


@pytest.mark.parametrize(
    ("text", "begun"),
    [
        ("well since 2026-05-01", date(2026, 5, 1)),
        ("well since May 2026", date(2026, 5, 31)),
        ("well, since 2026-12", date(2026, 12, 31)),
        ("well since 3 March 2026", date(2026, 3, 3)),
        ("well since 2025", date(2025, 12, 31)),
    ],
)
def test_a_beginning_is_read_as_the_latest_day_it_may_be(tank_of: Make, text: str, begun: date) -> None:
    (fact,) = tank_of(f"corals:\n  - id: torch-1\n    is: torch\n    doing: {text}\n").said(
        "doing", "torch-1"
    )
    assert (fact.said.words, fact.said.since) == (("well",), begun)


@pytest.mark.parametrize("text", ["well for half a year", "well since 6 months", "well for six months"])
def test_how_long_ago_needs_the_day_it_was_told(tank_of: Make, text: str) -> None:
    plain = f"corals:\n  - id: torch-1\n    is: torch\n    doing: {text}\n"
    (problem,) = tank_of(plain).problems
    assert (problem.code, problem.mend) == ("value-134", "well since 2026-05-01")
    dated = f"corals:\n  - id: torch-1\n    is: torch\n    doing: {{value: {text}, on: 2026-10-31}}\n"
    (fact,) = tank_of(dated).said("doing", "torch-1")
    assert fact.said.since in (date(2026, 5, 1), date(2026, 4, 30), date(2026, 5, 2))


def test_a_date_turned_round_is_offered_the_right_way() -> None:
    ledger = Ledger()
    assert since_when("well since 24.10.2026") == ("well", "24.10.2026")
    assert read_begun("well", "24.10.2026", Scalar("x", Span("tank.yaml")), None, ledger) is None
    assert ledger.problems[0].mend == "well since 2026-10-24"
