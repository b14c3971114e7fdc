from __future__ import annotations

import numpy as np
import pytest

from advisor.errors import QuantityError
from advisor.fields.spectra import Peak, eye_response, lux_per_umol, umol_per_joule


def test_an_eye_is_best_at_yellow_green() -> None:
    colours = np.arange(400.0, 701.0)
    assert colours[eye_response(colours).argmax()] == 555.0


def test_red_light_has_more_photons_in_a_joule() -> None:
    assert umol_per_joule(700.0) / umol_per_joule(400.0) == pytest.approx(7.0 / 4.0)


def test_only_the_shape_of_a_spectrum_counts() -> None:
    one = lux_per_umol([Peak(450.0, 20.0, 0.3), Peak(550.0, 100.0, 0.7)])
    assert lux_per_umol([Peak(450.0, 20.0, 3.0), Peak(550.0, 100.0, 7.0)]) == pytest.approx(one)


@pytest.mark.parametrize("peaks", [[], [Peak(450.0, 0.0, 1.0)], [Peak(450.0, 20.0, 0.0)]])
def test_a_spectrum_without_light_is_refused(peaks: list[Peak]) -> None:
    with pytest.raises(QuantityError, match="above 0"):
        lux_per_umol(peaks)
