from __future__ import annotations

import numpy as np
import pytest

from advisor.fields.emitters import MOST_POINTS, PANEL_STEP_CM, panel, tube
from advisor.fields.lobes import cosine_lobe

LOBE = cosine_lobe(90.0)


def test_a_panel_shares_its_flux_evenly_among_points_that_stand_close() -> None:
    found = panel((60.0, 30.0, 70.0), 42.0, 11.0, 300.0, LOBE)
    assert found.flux_umol_per_s * len(found.at_cm) == pytest.approx(300.0)
    assert found.at_cm.mean(axis=0) == pytest.approx([60.0, 30.0, 70.0])
    xs = np.unique(found.at_cm[:, 0])
    assert np.diff(xs).max() <= PANEL_STEP_CM
    assert xs[-1] - xs[0] < 42.0


def test_a_lamp_without_sides_is_one_point() -> None:
    assert panel((1.0, 2.0, 3.0), 0.0, 0.0, 50.0, LOBE).at_cm.tolist() == [[1.0, 2.0, 3.0]]


def test_a_tube_is_a_row_of_points() -> None:
    assert len(tube((0.0, 0.0, 9.0), 80.0, 60.0).at_cm) == 16


def test_a_tube_shines_across_itself_and_not_along() -> None:
    lamp = tube((0.0, 0.0, 9.0), 0.0, 60.0, turned_deg=90.0)
    found = lamp.per_sr(np.zeros(2), np.array([[1.0, 0.0], [0.0, 1.0]]))
    assert found == pytest.approx([60.0 / np.pi**2, 0.0], abs=1e-6)


def test_a_tube_sends_its_whole_flux_in_all_directions() -> None:
    lamp = tube((0.0, 0.0, 9.0), 0.0, 60.0)
    ways = np.random.default_rng(0).normal(size=(200_000, 3))
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    mean = lamp.per_sr(ways[:, 2], ways[:, :2]).mean()
    assert 4.0 * np.pi * mean == pytest.approx(60.0, rel=0.005)


def test_a_panel_turned_by_a_right_angle_stands_across() -> None:
    along = panel((0.0, 0.0, 9.0), 40.0, 10.0, 60.0, LOBE)
    across = panel((0.0, 0.0, 9.0), 40.0, 10.0, 60.0, LOBE, turned_deg=90.0)
    assert np.ptp(across.at_cm[:, 1]) == pytest.approx(np.ptp(along.at_cm[:, 0]))
    assert np.ptp(across.at_cm[:, 0]) == pytest.approx(np.ptp(along.at_cm[:, 1]))


def test_a_lamp_of_absurd_size_takes_no_minutes() -> None:
    for length, width in ((3000.0, 2000.0), (1e6, 0.0)):
        found = panel((0.0, 0.0, 9.0), length, width, 60.0, LOBE)
        assert len(found.at_cm) <= 1.1 * MOST_POINTS
        assert np.ptp(found.at_cm[:, 0]) == pytest.approx(length, rel=0.03)
    assert len(tube((0.0, 0.0, 9.0), 1e6, 60.0).at_cm) == MOST_POINTS
