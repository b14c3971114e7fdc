"""The demonstration tank on one day, read once for all properties."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

from advisor import api
from advisor.model.changes import Change
from advisor.planning.bench import Bench, Sitting, bench_of, sitting_of
from advisor.planning.desk import Desk
from advisor.reasoning.survey import make_survey

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "demo-lagoon"
ON = date(2026, 11, 2)


@cache
def desk() -> Desk:
    """Return the demonstration tank with its rules."""
    return api.open_tank(FOLDER, on=ON)._desk


@cache
def bench() -> Bench:
    """Return its rules, compiled."""
    return bench_of(desk().library)


def sitting(*worlds: Change) -> Sitting:
    """Return the tank with some changes laid over it, ready to judge."""
    own = desk()
    survey = make_survey(
        own.tank, own.library, ON, horizon_months=own.horizon_months, worlds=worlds, cards=own.cards
    )
    return sitting_of(bench(), survey, ON, own.horizon_months)
