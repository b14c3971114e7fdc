from __future__ import annotations

import numpy as np
import pytest

from advisor.errors import QuantityError
from advisor.fields.lobes import Lobe, cosine_lobe, cosine_power, tabled_lobe


def flux(lobe: Lobe) -> float:
    angle = np.linspace(0.0, np.pi / 2.0, 20001)
    return float(2.0 * np.pi * np.trapezoid(lobe.at(np.cos(angle)) * np.sin(angle), angle))


@pytest.mark.parametrize("beam_deg", [15.0, 60.0, 120.0, 170.0])
def test_a_lobe_sends_its_whole_flux_and_half_its_strength_at_half_the_beam(beam_deg: float) -> None:
    lobe = cosine_lobe(beam_deg)
    assert flux(lobe) == pytest.approx(1.0, rel=1e-4)
    half = lobe.at(np.cos(np.radians([beam_deg / 2.0])))
    assert half == pytest.approx(lobe.at(np.array([1.0])) / 2.0)


def test_a_table_sends_its_whole_flux_and_nothing_beyond_its_last_angle() -> None:
    lobe = tabled_lobe(np.array([0.0, 30.0, 60.0]), np.array([10.0, 8.0, 1.0]))
    assert flux(lobe) == pytest.approx(1.0, rel=1e-3)
    assert lobe.at(np.cos(np.radians([70.0]))).tolist() == [0.0]


def test_a_table_of_a_cosine_is_that_cosine() -> None:
    angles = np.linspace(0.0, 90.0, 91)
    lobe = tabled_lobe(angles, np.clip(np.cos(np.radians(angles)), 0.0, None))
    assert lobe.at(np.array([0.3, 0.8])) == pytest.approx(
        cosine_lobe(120.0).at(np.array([0.3, 0.8])), rel=1e-3
    )


@pytest.mark.parametrize("beam_deg", [0.0, -10.0, 180.0, 360.0])
def test_no_beam_is_as_wide_as_half_the_room(beam_deg: float) -> None:
    with pytest.raises(QuantityError, match="180 degrees"):
        cosine_power(beam_deg)


@pytest.mark.parametrize(
    ("angles", "shares", "said"),
    [
        ([0.0], [1.0], "two angles"),
        ([0.0, 10.0], [1.0], "one intensity for each"),
        ([5.0, 10.0], [1.0, 1.0], "rise from 0"),
        ([0.0, 20.0, 20.0], [1.0, 1.0, 1.0], "rise from 0"),
        ([0.0, 95.0], [1.0, 1.0], "rise from 0"),
        ([0.0, 20.0], [1.0, -1.0], "0 or more"),
        ([0.0, 20.0], [0.0, 0.0], "not all 0"),
        ([0.0, 20.0], [1.0, np.nan], "0 or more"),
    ],
)
def test_a_faulty_table_is_refused(angles: list[float], shares: list[float], said: str) -> None:
    with pytest.raises(QuantityError, match=said):
        tabled_lobe(np.array(angles), np.array(shares))
