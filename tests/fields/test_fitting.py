from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from advisor.fields.fitting import Sites, Trust, fit

Floats = npt.NDArray[np.float64]
TRUST = Trust(local=0.12, local_length_cm=20.0, reading=0.06)
CAUSE_SD = np.array([0.5, 0.2, 0.15])


def sites(count: int, seed: int) -> Sites:
    random = np.random.default_rng(seed)
    effects = np.column_stack(
        [np.ones(count), random.uniform(0.1, 1.0, count), -random.uniform(0.1, 0.6, count)]
    )
    return Sites(random.uniform(0.0, 100.0, (count, 3)), np.log(random.uniform(50.0, 400.0, count)), effects)


def some(of: Sites, rows: Floats | slice | list[int]) -> Sites:
    return Sites(of.at_cm[rows], of.log_par[rows], of.effects[rows])


NONE = some(sites(1, 0), slice(0, 0))


def test_without_a_reading_the_field_stays_and_so_does_its_error() -> None:
    asked = sites(5, 1)
    found = fit(asked, NONE, np.zeros(0), np.zeros(0), CAUSE_SD, TRUST)
    assert found.log_par == pytest.approx(asked.log_par)
    assert found.log_sd == pytest.approx(np.sqrt((asked.effects * CAUSE_SD) ** 2 @ np.ones(3) + 0.12**2))
    assert found.causes.tolist() == [0.0, 0.0, 0.0]
    assert found.causes_sd == pytest.approx(CAUSE_SD)
    assert found.left_out.shape == (0,)


def test_one_reading_lifts_the_whole_field() -> None:
    asked, read = sites(20, 1), sites(1, 2)
    found = fit(asked, read, read.log_par + np.log(2.0), np.zeros(1), CAUSE_SD, TRUST)
    assert (found.log_par - asked.log_par > 0.5 * np.log(2.0)).all()
    assert found.causes[0] > 0.0


def test_every_reading_narrows_or_leaves_the_error() -> None:
    asked, read = sites(30, 1), sites(12, 2)
    before = fit(asked, NONE, np.zeros(0), np.zeros(0), CAUSE_SD, TRUST).log_sd
    for count in range(1, 13):
        these = some(read, slice(0, count))
        now = fit(asked, these, these.log_par, np.zeros(count), CAUSE_SD, TRUST).log_sd
        assert (now <= before + 1e-12).all()
        before = now


def test_readings_that_are_right_bring_out_the_causes() -> None:
    read, truth = sites(300, 5), np.array([0.3, -0.2, 0.08])
    trust = replace(TRUST, local=1e-3, reading=1e-3)
    found = fit(sites(1, 6), read, read.log_par + read.effects @ truth, np.zeros(300), CAUSE_SD, trust)
    assert found.causes == pytest.approx(truth, abs=0.01)
    assert (found.causes_sd < 0.01).all()


def test_what_is_left_out_is_what_a_fit_without_it_says() -> None:
    read = sites(8, 3)
    said = read.log_par + np.random.default_rng(7).normal(0.0, 0.1, 8)
    whole = fit(read, read, said, np.full(8, 0.02), CAUSE_SD, TRUST)
    for at in range(8):
        others = [row for row in range(8) if row != at]
        refit = fit(some(read, [at]), some(read, others), said[others], np.full(7, 0.02), CAUSE_SD, TRUST)
        assert whole.left_out[at] == pytest.approx(said[at] - refit.log_par[0], abs=1e-9)
        sd = np.sqrt(refit.log_sd[0] ** 2 + TRUST.reading**2 + 0.02**2)
        assert whole.left_out_sd[at] == pytest.approx(sd, rel=1e-6)


def test_a_reading_at_the_edge_of_a_shadow_weighs_less() -> None:
    asked = sites(1, 1)
    sure, shaky = (
        fit(asked, asked, asked.log_par + 0.3, np.array([placing]), CAUSE_SD, TRUST) for placing in (0.0, 0.5)
    )
    assert shaky.log_par[0] < sure.log_par[0]
    assert shaky.log_sd[0] > sure.log_sd[0]


def test_the_same_reading_twice_does_no_harm() -> None:
    asked = sites(3, 1)
    twice = some(asked, [0, 1, 2, 0, 1, 2])
    trust = replace(TRUST, reading=1e-6)
    found = fit(asked, twice, twice.log_par + 0.1, np.zeros(6), CAUSE_SD, trust)
    assert found.log_par == pytest.approx(asked.log_par + 0.1, abs=1e-3)
