"""Questions about light, asked of small tanks. Invented, every one."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.api import Session
from advisor.errors import UnusableInput
from tests.planning.tanks import opened

LAMPS = (
    "lamps:\n"
    "  - {id: left, at: '40, 30 cm', over water: 20 cm, size: 30 x 20 cm, photons: 300 umol/s, beam: 90}\n"
    "  - {id: right, at: '110, 30 cm', over water: 20 cm, size: 30 x 20 cm, photons: 300 umol/s, beam: 90}\n"
)
PROGRAMME = LAMPS.replace("beam: 90}", "beam: 90, programme: {9: 0 %, 11: 100 %, 17: 100 %, 19: 0 %}}")
GLASS = "{length: 150 cm, width: 60 cm, height: 50 cm, water: 45 cm}"
HEAD = f"name: lit\ninvented: yes\nglass: {GLASS}\nsand: fine\nphotoperiod: 9 hours\n"
SPOTS = (
    "  - {id: here, at: '40, 30, 20 cm'}\n"
    "  - {id: read, at: '60, 20, 15 cm', light: {value: 300 PAR, on: 2026-10-28}}\n"
    "  - {id: also, at: '20, 40, 15 cm', light: {value: 290 PAR, on: 2026-10-28}}\n"
    "  - {id: word, at: 'left, back, low', light: medium}\n"
)


def session(folder: Path, lamps: str = LAMPS, spots: str = SPOTS, corals: str = "") -> Session:
    return opened(folder, water=HEAD + lamps, spots=spots, corals=corals)


def test_a_spot_has_light_error_dose_and_what_it_rests_on(tmp_path: Path) -> None:
    found = session(tmp_path).light("here")
    assert found.low is not None
    assert found.best is not None
    assert found.high is not None
    assert found.low < found.best < found.high
    assert found.dose_low == pytest.approx(found.low * 9 * 3.6e-3)
    assert (found.readings, [each.place for each in found.near]) == (2, ["also", "read"])
    assert sum(each.percent for each in found.by_lamp) == pytest.approx(100.0)
    assert found.by_lamp[0].percent > found.by_lamp[1].percent


def test_a_position_and_an_animal_are_places_too(tmp_path: Path) -> None:
    asked = session(tmp_path, corals="  - {id: torch-1, is: torch, spot: here, size: 8 cm}\n")
    at_spot, at_animal = asked.light("here"), asked.light("torch-1")
    assert at_spot.at_cm == at_animal.at_cm == pytest.approx((40.0, 30.0, 25.0))
    assert asked.light("40, 30, 25 cm").best == pytest.approx(at_spot.best)
    assert asked.light("15.748 in, 30 cm, 25 cm").best == pytest.approx(at_spot.best, rel=1e-4)


def test_ramps_make_the_day_shorter_than_its_hours(tmp_path: Path) -> None:
    found = session(tmp_path, PROGRAMME).light("here")
    assert found.low is not None
    assert found.dose_low == pytest.approx(found.low * 8 * 3.6e-3)
    assert found.hours == "by the programme of each lamp"


def test_a_lamp_dimmed_raised_or_off_is_reckoned_and_its_share_follows(tmp_path: Path) -> None:
    asked = session(tmp_path)
    now = asked.light("here")
    dim, high, off = (asked.light("here", [f"left={value}"]) for value in ("50%", "40cm", "0%"))
    assert now.best is not None
    assert dim.best is not None
    assert high.best is not None
    assert off.best is not None
    assert off.best < dim.best < now.best
    assert high.best < now.best
    assert dim.before == now.best
    assert off.by_lamp[0].percent == 0.0
    assert dim.by_lamp[0].percent < now.by_lamp[0].percent


def test_a_reading_is_shown_and_compared_with_all_else(tmp_path: Path) -> None:
    found = session(tmp_path).light("read")
    assert found.own is not None
    assert (found.own.best, found.agrees) == (300.0, True)
    odd = SPOTS + "  - {id: odd, at: '42, 28, 20 cm', light: {value: 20 PAR, on: 2026-10-28}}\n"
    covering = session(tmp_path, spots=odd).light("odd")
    assert covering.agrees is False
    assert covering.own is not None
    assert (covering.low, covering.best) == (covering.own.low, 20.0)
    assert covering.high is not None
    assert covering.high > 5 * 20.0


@pytest.mark.parametrize("told", ["0 PAR", "{value: 20 PAR, on: 2026-09-01}"])
def test_a_reading_that_cannot_be_folded_in_is_still_held_against_the_lamps(
    tmp_path: Path, told: str
) -> None:
    new = LAMPS.replace("beam: 90}", "beam: 90, installed: 2026-10-01}")
    found = session(tmp_path, new, SPOTS + f"  - {{id: odd, at: '42, 28, 20 cm', light: {told}}}\n").light(
        "odd"
    )
    assert found.readings == 2
    assert found.agrees is False
    assert any("at odd is left out" in note for note in found.notes)


def test_a_word_is_no_position_and_says_what_to_tell(tmp_path: Path) -> None:
    found = session(tmp_path).light("word")
    assert (found.best, found.own) == (None, None)
    assert "to a hand's width" in found.missing[0]


def test_a_place_inside_a_rock_says_so(tmp_path: Path) -> None:
    rock = "rocks:\n  - {id: block, shape: block, at: '40, 30 cm', size: 30 x 30 x 40 cm}\n"
    found = session(tmp_path, LAMPS + rock).light("here")
    assert found.missing == (
        "where this place is: as told it lies inside block; mend its position or that of block",
    )


def test_a_point_typed_inside_a_rock_is_refused_with_the_top_of_it(tmp_path: Path) -> None:
    rock = "rocks:\n  - {id: block, shape: block, at: '40, 30 cm', size: 30 x 30 x 20 cm}\n"
    with pytest.raises(UnusableInput) as fault:
        session(tmp_path, LAMPS + rock).light("41, 31, 10 cm")
    (problem,) = fault.value.problems
    assert (problem.code, problem.mend) == ("ask-412", 'on top of it: "41, 31, 20 cm"')


def test_a_lamp_asked_to_be_changed_brings_its_cautions(tmp_path: Path) -> None:
    found = session(tmp_path).light("here", ["left=50%"])
    assert any("Pull the plug" in text for text in found.cautions)
    assert session(tmp_path).light("here").cautions == ()


@pytest.mark.parametrize(
    ("place", "settings", "code"),
    [
        ("nowhere", (), "ask-411"),
        ("40, 30 cm", (), "ask-412"),
        ("40, 30, 48 cm", (), "ask-412"),
        ("40 PAR, 30, 20 cm", (), "ask-412"),
        ("here", ("middle=80%",), "ask-413"),
        ("here", ("left=bright",), "ask-414"),
        ("here", ("left=150%",), "ask-414"),
        ("here", ("left=0 cm",), "ask-414"),
        ("here", ("left",), "ask-414"),
    ],
)
def test_what_cannot_be_asked_is_refused(
    tmp_path: Path, place: str, settings: tuple[str, ...], code: str
) -> None:
    with pytest.raises(UnusableInput) as fault:
        session(tmp_path).light(place, settings)
    (problem,) = fault.value.problems
    assert problem.code == code
    assert problem.mend


def test_a_lamp_that_hangs_nowhere_cannot_be_changed(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput) as fault:
        session(tmp_path, LAMPS + "  - {id: spare}\n").light("here", ["spare=50%"])
    assert "where 'spare' hangs is not told" in fault.value.problems[0].what


def test_the_fit_tells_lamps_water_and_each_reading_against_the_others(tmp_path: Path) -> None:
    fitted = session(tmp_path).light_fit()
    assert [each.lamp for each in fitted.lamps] == ["left", "right"]
    assert all(each.times_low < each.times < each.times_high for each in fitted.lamps)
    assert fitted.kd is not None
    assert fitted.kd_low is not None
    assert fitted.kd_high is not None
    assert 0.0 <= fitted.kd_low <= fitted.kd <= fitted.kd_high
    assert {each.place for each in fitted.readings} == {"read", "also"}
    assert fitted.rms_percent is not None
    assert fitted.rms_percent > 0.0


OLD_LAMPS = LAMPS.replace("{id: left,", "{id: left, kind: tube, installed: 2025-11-02,").replace(
    "{id: right,", "{id: right, kind: tube, installed: 2025-11-02,"
)
OLD_SPOTS = SPOTS.replace("2026-10-28", "2026-05-10")


def test_a_reading_tells_how_what_the_meter_showed_became_what_counts(tmp_path: Path) -> None:
    spots = SPOTS.replace("300 PAR", "240 PAR, immersion factor: 1.25, output: 50 %")
    own = session(tmp_path, spots=spots).light("read").own
    assert own is not None
    assert own.best == pytest.approx(600.0)
    assert own.reckoned == ("240 shown × 1.25 under water = 300 PAR", "read at 50 %, reckoned at 100 %")


def test_a_factor_that_is_not_known_is_told_at_that_reading_and_makes_it_less_sure(tmp_path: Path) -> None:
    spots = SPOTS.replace("300 PAR", "300 PAR, immersion factor: unknown")
    unsure, sure = session(tmp_path, spots=spots).light("read").own, session(tmp_path).light("read").own
    assert unsure is not None
    assert sure is not None
    assert unsure.high == pytest.approx(300.0 * 1.2)
    assert sure.high == pytest.approx(300.0 * 1.12)
    assert (unsure.reckoned, sure.reckoned) == (("the factor of its meter under water is not known",), ())


def test_the_fit_puts_readings_of_one_meter_into_one_line(tmp_path: Path) -> None:
    meters = "meters:\n  - {id: old-head, immersion factor: 1.08}\n"
    spots = SPOTS.replace("on: 2026", "how: old-head, on: 2026")
    fitted = session(tmp_path, meters + LAMPS, spots).light_fit()
    assert fitted.notes == ("what old-head showed × 1.08 under water: also and read",) or fitted.notes == (
        "what old-head showed × 1.08 under water: read and also",
    )
    assert {round(each.par_umol) for each in fitted.readings} == {324, 313}


def test_lux_with_a_factor_are_told_without_it(tmp_path: Path) -> None:
    lamps = LAMPS.replace("beam: 90}", "beam: 90, colour: daylight}")
    spots = SPOTS.replace("300 PAR", "13000 lux, immersion factor: 1.25")
    notes = session(tmp_path, lamps, spots).light_fit().notes
    assert not any("× 1.25" in note for note in notes)
    assert "the factor of its meter under water is not known: read" in notes
    assert [note for note in notes if note.startswith("13000 lux at ")] == ["13000 lux at 55 lux a PAR: read"]


def test_lamps_and_readings_that_have_aged_are_told_and_counted(tmp_path: Path) -> None:
    new = session(tmp_path)
    model, of_new = new.light("here").model, {each.lamp: each.times for each in new.light_fit().lamps}
    assert model is not None
    aged = session(tmp_path, OLD_LAMPS, OLD_SPOTS)
    own = aged.light("read").own
    assert own is not None
    assert own.best == pytest.approx(300.0 * 0.8 ** (176 / 365.25))
    assert own.reckoned[0].startswith("300 PAR then; since then 10 % less for lamps that fade")
    assert aged.light("here").notes == aged.light_fit().notes
    lamps, readings = aged.light_fit().notes
    assert lamps == "left and right, 1.0 years old, are taken to send 20 % less than when new"
    assert readings.startswith("read 176 days ago at read and also: 10 % less for lamps that fade, ")
    assert aged.light("here").model == pytest.approx(0.8 * model, rel=1e-3)
    # what the readings say of a lamp is told against what was told of it when it was new
    times = {each.lamp: each.times for each in aged.light_fit().lamps}
    assert times["left"] < of_new["left"]
    for each in aged.light_fit().lamps:
        assert each.photons_umol_per_s == pytest.approx(300.0 * each.times)


def test_what_is_fresh_says_nothing_of_its_age(tmp_path: Path) -> None:
    fresh = LAMPS.replace("{id: left,", "{id: left, installed: 2026-09-01,")
    assert session(tmp_path, fresh).light("read").notes == ()


def test_the_fit_of_a_tank_without_lamps_and_positions_says_what_to_tell(tmp_path: Path) -> None:
    fitted = session(tmp_path, "", "  - {id: word, at: 'left, back, low', light: 100 PAR}\n").light_fit()
    assert fitted.missing
    assert fitted.readings == ()
    assert "where it was taken is not known" in fitted.notes[0]
