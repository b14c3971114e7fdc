from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from advisor.fields.fitting import Sites, Spread, fit

Floats = npt.NDArray[np.float64]
SPREAD = Spread(strength=0.5, lamp=0.2, kd_per_m=0.15, local=0.12, local_length_cm=20.0, reading=0.06)


def sites(count: int, seed: int, lamps: int = 2) -> Sites:
    random = np.random.default_rng(seed)
    shares = random.uniform(0.1, 1.0, (count, lamps))
    return Sites(
        at_cm=random.uniform(0.0, 100.0, (count, 3)),
        shares=shares / shares.sum(axis=1, keepdims=True),
        path_m=random.uniform(0.1, 0.6, count),
        log_par=np.log(random.uniform(50.0, 400.0, count)),
    )


def none() -> Sites:
    return Sites(np.zeros((0, 3)), np.zeros((0, 2)), np.zeros(0), np.zeros(0))


def test_without_a_reading_the_field_stays_and_so_does_its_error() -> None:
    asked = sites(5, 1)
    found = fit(asked, none(), np.zeros(0), np.zeros(0), SPREAD)
    assert found.log_par == pytest.approx(asked.log_par)
    own = 0.5**2 + 0.2**2 * (asked.shares**2).sum(axis=1) + (0.15 * asked.path_m) ** 2 + 0.12**2
    assert found.log_sd == pytest.approx(np.sqrt(own))
    assert found.left_out.shape == (0,)


def test_one_reading_lifts_the_whole_field() -> None:
    asked, read = sites(20, 1), sites(1, 2)
    found = fit(asked, read, read.log_par + np.log(2.0), np.zeros(1), SPREAD)
    assert (found.log_par - asked.log_par > 0.5 * np.log(2.0)).all()
    assert (found.strength > 0.0).all()


def test_every_reading_narrows_or_leaves_the_error() -> None:
    asked, read = sites(30, 1), sites(12, 2)
    before = fit(asked, none(), np.zeros(0), np.zeros(0), SPREAD).log_sd
    for count in range(1, 13):
        some = Sites(read.at_cm[:count], read.shares[:count], read.path_m[:count], read.log_par[:count])
        now = fit(asked, some, some.log_par, np.zeros(count), SPREAD).log_sd
        assert (now <= before + 1e-12).all()
        before = now


def test_readings_that_are_right_bring_out_lamps_and_water() -> None:
    read = sites(300, 5)
    trust = replace(SPREAD, local=1e-3, reading=1e-3)
    said = read.log_par + read.shares @ np.array([0.3, -0.2]) - 0.08 * read.path_m
    found = fit(sites(1, 6), read, said, np.zeros(300), trust)
    assert found.strength == pytest.approx([0.3, -0.2], abs=0.01)
    assert found.kd_change_per_m == pytest.approx(0.08, abs=0.02)
    assert (found.strength_sd < 0.05).all()


def test_what_is_left_out_is_what_a_fit_without_it_says() -> None:
    read = sites(8, 3)
    said = read.log_par + np.random.default_rng(7).normal(0.0, 0.1, 8)
    whole = fit(read, read, said, np.full(8, 0.02), SPREAD)
    for at in range(8):
        keep = np.arange(8) != at
        others = Sites(read.at_cm[keep], read.shares[keep], read.path_m[keep], read.log_par[keep])
        one = Sites(read.at_cm[[at]], read.shares[[at]], read.path_m[[at]], read.log_par[[at]])
        refit = fit(one, others, said[keep], np.full(7, 0.02), SPREAD)
        assert whole.left_out[at] == pytest.approx(said[at] - refit.log_par[0], abs=1e-9)
        sd = np.sqrt(refit.log_sd[0] ** 2 + SPREAD.reading**2 + 0.02**2)
        assert whole.left_out_sd[at] == pytest.approx(sd, rel=1e-6)


def test_a_reading_at_the_edge_of_a_shadow_weighs_less() -> None:
    asked = sites(1, 1)
    sure = fit(asked, asked, asked.log_par + 0.3, np.array([0.0]), SPREAD)
    shaky = fit(asked, asked, asked.log_par + 0.3, np.array([0.5]), SPREAD)
    assert shaky.log_par[0] < sure.log_par[0]
    assert shaky.log_sd[0] > sure.log_sd[0]


def test_the_same_reading_twice_does_no_harm() -> None:
    asked = sites(3, 1)
    twice = Sites(
        *(np.concatenate([each, each]) for each in (asked.at_cm, asked.shares, asked.path_m, asked.log_par))
    )
    found = fit(asked, twice, twice.log_par + 0.1, np.zeros(6), replace(SPREAD, reading=1e-6))
    assert np.isfinite(found.log_par).all()
    assert found.log_par == pytest.approx(asked.log_par + 0.1, abs=1e-3)
