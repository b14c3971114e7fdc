"""A timed crumb."""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import QuantityError
from advisor.tankfiles.changes import add_reading
from advisor.tankfiles.crumb import speed_of_runs
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]


def test_one_run_leaves_the_error_to_the_measure() -> None:
    assert speed_of_runs(20.0, [2.0], 0.3) == (10.0, None)


def test_the_error_of_several_runs_is_the_90_percent_range_of_their_mean() -> None:
    """Student's t from scipy, an independent implementation of the published distribution."""
    from scipy import stats

    seconds = [2.0, 3.0, 1.5, 2.5]
    speeds = [20.0 / s for s in seconds]
    low, high = stats.t.interval(0.90, len(speeds) - 1, loc=statistics.fmean(speeds), scale=stats.sem(speeds))
    mean, error = speed_of_runs(20.0, seconds, 0.0)
    assert error is not None
    assert mean - error == pytest.approx(low, rel=1e-3)
    assert mean + error == pytest.approx(high, rel=1e-3)


def test_runs_that_agree_by_luck_are_not_proof() -> None:
    _, error = speed_of_runs(20.0, [2.0] * 4, 0.3)
    assert error == pytest.approx(10.0 * 0.3 / math.sqrt(4))


@pytest.mark.parametrize(("distance", "seconds"), [(0.0, [2.0]), (20.0, []), (20.0, [0.0]), (-1.0, [2.0])])
def test_nothing_to_time_is_refused(distance: float, seconds: list[float]) -> None:
    with pytest.raises(QuantityError):
        speed_of_runs(distance, seconds, 0.3)


@given(st.lists(st.floats(0.5, 30.0), min_size=2, max_size=40))
def test_the_mean_speed_lies_between_the_slowest_and_the_fastest_run(seconds: list[float]) -> None:
    mean, error = speed_of_runs(20.0, seconds, 0.3)
    assert 20.0 / max(seconds) <= mean * (1 + 1e-9)
    assert mean <= 20.0 / min(seconds) * (1 + 1e-9)
    assert error is not None
    assert error > 0


def test_a_tank_file_states_a_timed_crumb(tank_of: Make) -> None:
    folder = tank_of(
        "spots:\n  - {id: a, flow: {distance: 20 cm, seconds: [2.1, 1.9, 2.3], on: 2026-10-20}}\n"
        "  - {id: b, flow: {distance: 8 in, seconds: 2, repeats: 5}}\n"
        "  - {id: c, flow: {distance: 20, seconds: 4 s}}\n"
    )
    (a,), (b,), (c,) = (folder.said("flow", spot) for spot in "abc")
    assert a.said.best == pytest.approx(statistics.fmean([20 / 2.1, 20 / 1.9, 20 / 2.3]))
    assert a.said.how == "crumb timed 3 times"
    assert b.said.best == pytest.approx(8 * 2.54 / 2)
    assert b.said.error == pytest.approx(8 * 2.54 / 2 * 0.3 / math.sqrt(5))
    assert (c.said.best, c.said.error, c.said.how) == (5.0, None, "crumb timed once")


@pytest.mark.parametrize(
    "value",
    ["{distance: 20 cm, seconds: fast}", "{seconds: 2}", "{distance: 20 PAR, seconds: 2}",
     "{distance: 20 cm, seconds: 2, repeats: often}"],
)  # fmt: skip
def test_a_crumb_without_distance_or_time_is_a_problem(tank_of: Make, value: str) -> None:
    assert tank_of(f"spots:\n  - {{id: a, flow: {value}}}\n").codes == ["value-135"]


def test_light_is_not_timed(tank_of: Make) -> None:
    assert tank_of("spots:\n  - {id: a, light: {distance: 20 cm, seconds: 2}}\n").codes == ["value-135"]


@pytest.mark.parametrize(
    "text",
    [
        "2 s over 20 cm",
        "20 cm in 2 seconds",
        "20 cm in 2.0, 2.0, 2.0 s",
        "20 cm in 2 s, 2 s and 2 s",
        "8 in in 2.032 s",
        "2.0 2.0 2.0 s over 20 cm",
        "20 cm in 2.0 2.0 s",
        "2.0 s, 2.0 s, and 2.0 s over 20 cm",
        "2.0/2.0 s over 20 cm",
        "20 cm: 2.0, 2.0 s",
    ],
)
def test_a_timed_crumb_in_one_text_is_a_flow(tank_of: Callable[[str], Folder], text: str) -> None:
    folder = tank_of(f"name: t\nspots:\n  - id: a\n    flow: '{text}'\n")
    (fact,) = folder.said("flow", "a")
    assert fact.said.best == pytest.approx(10.0)
    add_reading(folder.path, folder.vocabulary, ("a",), "flow", text, on=date(2026, 11, 2))
    assert folder.said("flow", "a")[-1].said.best == pytest.approx(10.0)


def test_runs_with_blanks_between_them_are_all_counted(tank_of: Callable[[str], Folder]) -> None:
    folder = tank_of("name: t\nspots:\n  - {id: a, flow: 2.0 2.2 1.9 2.1 2.0 s over 20 cm}\n")
    (fact,) = folder.said("flow", "a")
    assert fact.said.best == pytest.approx(statistics.fmean([20 / s for s in (2.0, 2.2, 1.9, 2.1, 2.0)]))
    assert fact.said.how == "crumb timed 5 times"


def test_a_time_alone_is_never_called_a_speed(tank_of: Callable[[str], Folder]) -> None:
    (problem,) = tank_of("name: t\nspots:\n  - {id: a, flow: 2.0 s}\n").problems
    assert problem.mend == "2.0 s over 20 cm, if it was 20 cm"
