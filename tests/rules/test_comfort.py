"""Comfort of the shipped preferences by hand: weight x (1 + margin in steps / fade), never below 0."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.model.results import Comfort
from tests.planning.tanks import GOOD, coral, opened, spot

TORCH = coral("torch-1", "torch", "comes from: {light: 100 PAR}")
"""Card: best from 80 to 150 PAR and from 6 to 15 cm/s."""


def terms(folder: Path, light: str, flow: str) -> dict[str, Comfort]:
    """The comfort of a torch on one spot, by preference."""
    what = GOOD.replace("{value: 115 PAR, error: 6 PAR,", f"{{{light},").replace(
        "{value: 10 cm/s, error: 1 cm/s,", f"{{{flow},"
    )
    place = opened(folder, spots=spot("here", what=what), corals=TORCH, months=1).why("torch-1", "here").place
    return {term.preference: term for term in place.comforts}


@pytest.mark.parametrize(
    ("par", "comfort"),
    [
        (115.0, 3.0),  # inside: the whole weight of 3
        (150.0, 3.0),  # the very end still counts
        (165.0, 2.1),  # 15 PAR over are 3 steps of 5 PAR: 3 x (1 - 3/10)
        (60.0, 1.8),  # 20 PAR short are 4 steps: 3 x (1 - 4/10)
        (200.0, 0.0),  # 50 PAR over are 10 steps: faded to nothing
        (20.0, 0.0),  # and never below nothing
    ],
)
def test_light_fades_over_ten_steps_of_5_par(tmp_path: Path, par: float, comfort: float) -> None:
    term = terms(tmp_path, f"value: {par} PAR, error: 0 PAR", "value: 10 cm/s, error: 0 cm/s")
    light = term["light-in-its-best-band"]
    assert (light.low, light.best, light.high) == pytest.approx((comfort, comfort, comfort))
    assert light.weight == 3.0


@pytest.mark.parametrize(
    ("flow", "comfort"),
    [(10.0, 2.0), (18.0, 1.0), (4.0, 4 / 3), (21.0, 0.0)],  # 2 x (1 - 3/6), 2 x (1 - 2/6), 2 x (1 - 6/6)
)
def test_flow_fades_over_six_steps_of_1_cm_per_s(tmp_path: Path, flow: float, comfort: float) -> None:
    term = terms(tmp_path, "value: 115 PAR, error: 0 PAR", f"value: {flow} cm/s, error: 0 cm/s")
    assert term["flow-in-its-best-band"].best == pytest.approx(comfort)


def test_a_reading_with_an_error_gives_a_range_of_comfort(tmp_path: Path) -> None:
    """165 ±10 PAR is 5 to 25 PAR over: 1 to 5 steps, so 3 x 0.5 to 3 x 0.9, and 3 x 0.7 at best."""
    light = terms(tmp_path, "value: 165 PAR, error: 10 PAR", "value: 10 cm/s, error: 0 cm/s")[
        "light-in-its-best-band"
    ]
    assert (light.low, light.best, light.high) == pytest.approx((1.5, 2.1, 2.7))


def test_a_word_has_no_margin_and_gives_all_or_nothing(tmp_path: Path) -> None:
    found = terms(tmp_path, "value: 115 PAR, error: 0 PAR", "value: 10 cm/s, error: 0 cm/s")
    pattern = found["pattern-it-likes"]
    assert {pattern.low, pattern.high} <= {0.0, 1.0}
