"""Readings of light as published factors and lives of lamps have them.

Immersion factors: Apogee Instruments, owner's manuals of MQ-610 and MQ-650
(1.25); Vernier, technical note 3102 (1.15 for a sensor like SQ-100X, 1.08 for
one like SQ-110); 1.32 for SQ-500 and MQ-500 is from memory. Lives: IES TM-21
gives ``L_p = ln(100 B / p) / a`` hours to p per cent for an exponential decay
of rate a (the formula is from memory, and so are the lives that data sheets of
LED lamps commonly state, 25,000 to 50,000 hours to 70 %). Metal halide lamps
keep 65 to 80 % at 40 % of some 10,000 rated hours (IES Lighting Handbook, from
memory). That tubes are renewed after 9 to 14 months, for a loss keepers put at
15 to 30 %, is common practice, no source.
"""

from __future__ import annotations

import json
import math
import re
from datetime import date
from pathlib import Path

import pytest

from advisor.api import open_tank, schema
from advisor.errors import UnusableInput
from advisor.reasoning.light_numbers import light_numbers
from advisor.reports.glossary import entry
from tests.reasoning.lit import lit_library

FACTORS = {"610": (1.25, 0.01), "SQ-100X": (1.15, 0.01), "SQ-110": (1.08, 0.01), "SQ-500": (1.32, 0.02)}
"""By sensor: the published factor and its last digit."""
HOURS_A_YEAR = 10.0 * 365.25


def read_with(folder: Path, factor: str) -> None:
    """Write a tank in which a meter of this factor shows 94 PAR."""
    text = f"""glass: 60 x 40 x 40 cm
meters: [{{id: head, immersion factor: {factor}}}]
spots: [{{id: ledge, light: {{value: 94 PAR, how: head, on: 2026-11-01}}}}]
"""
    (folder / "tank.yaml").write_text(text, encoding="utf-8")


@pytest.mark.parametrize(("factor", "digit"), FACTORS.values(), ids=FACTORS.keys())
def test_what_a_published_sensor_shows_is_multiplied_by_its_factor(
    tmp_path: Path, factor: float, digit: float
) -> None:
    read_with(tmp_path, f"{factor}")
    own = open_tank(tmp_path, on=date(2026, 11, 2)).light("ledge").own
    assert own is not None
    assert own.best == pytest.approx(94.0 * factor, abs=94.0 * digit / 2.0)


@pytest.mark.parametrize("factor", [factor for factor, _ in FACTORS.values()], ids=FACTORS.keys())
def test_its_inverse_is_refused_with_the_factor_as_what_may_be_meant(tmp_path: Path, factor: float) -> None:
    read_with(tmp_path, f"{1.0 / factor:.3f}")
    with pytest.raises(UnusableInput) as refused:
        open_tank(tmp_path, on=date(2026, 11, 2))
    (problem,) = refused.value.problems
    assert problem.code == "value-141"
    assert float(problem.mend) == pytest.approx(factor, abs=0.005)


def test_the_long_text_and_the_schema_tell_the_published_factors() -> None:
    found = entry("value-141")
    assert found is not None
    text = " ".join(found.words.split())
    assert {float(each) for each in re.findall(r"1\.\d\d", text)} == {each for each, _ in FACTORS.values()}
    for sensor, (factor, _) in FACTORS.items():
        assert re.findall(r"1\.\d\d", text[: text.index(sensor)])[-1:] == [f"{factor}"], sensor
    told = next(line for line in json.dumps(schema("tank"), indent=0).splitlines() if "SQ-110" in line)
    for sensor, (factor, _) in FACTORS.items():
        assert re.findall(rf"{sensor.removeprefix('SQ-')}\D*(?:650 )?\D*(1\.\d\d)", told)[:1] == [f"{factor}"]


def test_an_led_lamp_fades_between_the_lives_that_data_sheets_state() -> None:
    numbers = light_numbers(lit_library())
    assert numbers is not None
    hours_to_70_percent = math.log(1.0 / 0.7) / (numbers.led_fade_per_year / HOURS_A_YEAR)
    assert 25_000 <= hours_to_70_percent <= 50_000


def test_a_tube_or_burner_fades_as_handbook_and_practice_have_it() -> None:
    numbers = light_numbers(lit_library())
    assert numbers is not None
    of_burner = math.exp(-numbers.tube_fade_per_year * 0.4 * 10_000 / HOURS_A_YEAR)
    assert 0.65 <= of_burner <= 0.80
    lost = [1.0 - math.exp(-numbers.tube_fade_per_year * months / 12.0) for months in (9, 14)]
    assert all(0.15 <= each <= 0.30 for each in lost)
