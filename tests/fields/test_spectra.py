"""Light as colour: only the shape of a spectrum counts, and what is red goes first."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.errors import QuantityError
from advisor.fields.spectra import daylight, kd_of, spectrum_of, steady, umol_per_joule


def test_red_light_has_more_photons_in_a_joule() -> None:
    four, seven = umol_per_joule(np.array([400.0, 700.0]))
    assert seven / four == pytest.approx(7.0 / 4.0)


def test_only_the_shape_of_a_spectrum_counts() -> None:
    one, other = (spectrum_of([(400.0, 1.0 * k), (450.0, 9.0 * k), (700.0, 0.0)]) for k in (1.0, 30.0))
    assert one.lux_per_umol() == pytest.approx(other.lux_per_umol())
    assert one.photons == pytest.approx(other.photons)
    assert one.photons.sum() == pytest.approx(1.0)


@pytest.mark.parametrize("table", [[(300.0, 1.0), (399.0, 1.0)], [(400.0, 0.0), (700.0, 0.0)]])
def test_a_spectrum_without_par_is_refused(table: list[tuple[float, float]]) -> None:
    with pytest.raises(QuantityError, match="400 and 700"):
        spectrum_of(table)


def test_what_is_left_after_some_water_is_bluer_and_fades_more_slowly() -> None:
    fading = daylight().fading_in(kd_of("IB"))
    none, half, one, four = fading.left(np.array([0.0, 0.5, 1.0, 4.0]))
    assert none == pytest.approx(1.0)
    assert half / none < one / half
    assert one > four > 0.0


def test_light_of_one_colour_fades_alike_on_every_metre() -> None:
    blue = spectrum_of([(449.0, 0.0), (450.0, 1.0), (451.0, 0.0)]).fading_in(np.full(471, 0.3))
    ways = np.array([0.1, 1.0, 3.3])
    assert blue.left(ways) == pytest.approx(np.exp(-0.3 * ways), rel=1e-6)
    assert steady(0.3).left(ways) == pytest.approx(blue.left(ways))
