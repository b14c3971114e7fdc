"""The light at a point, and what readings say of the lamps, on the screen."""

from __future__ import annotations

import pytest

from advisor.model.lightanswer import FaceLight, LightAnswer, LightFitAnswer, NearReading, OwnReading, Shading
from advisor.reports.light import light_fit_page, light_page
from advisor.reports.printer import render
from tests.model.test_lightanswer import FITTED, HERE

FULL = HERE.model_copy(
    update={
        "model": 150.0,
        "dose_low": 3.0,
        "dose_high": 5.0,
        "hours": "9 hours at full output",
        "over_walls_percent": 20.0,
        "shaded": (Shading(body="roof", percent=40.0), Shading(body="twig", percent=2.0)),
        "readings": 2,
        "near": (NearReading(place="mid", par_umol=110.0, apart_cm=12.4),),
        "moved_cm": -3.2,
        "notes": ("something was left out",),
    }
)


def shown(answer: LightAnswer, level: int = 1) -> str:
    return render(light_page(answer, level))


def test_the_value_comes_first_and_then_what_it_rests_on() -> None:
    lines = shown(FULL).splitlines()
    assert lines[0] == "ledge     120 PAR, 90 to 160"
    order = ["A DAY", "YOU READ", "FROM", "SHADE", "MODEL", "READINGS", "NOTE"]
    assert [line.split("  ")[0] for line in lines[1:] if not line.startswith(" ")][: len(order)] == order
    assert "2 readings; the nearest mid 110 PAR, 12 cm off" in shown(FULL)
    assert "Ledge was set 3 cm down, onto the rock below it." in shown(FULL)


def test_small_shadows_are_for_those_who_ask_for_more() -> None:
    assert "twig" not in shown(FULL)
    assert "twig keeps off 2 %" in shown(FULL, 2)
    assert "SHADE" not in shown(FULL, 0)


def test_a_reading_that_does_not_agree_says_what_to_do() -> None:
    assert "110 PAR, 100 to 120; agrees" in shown(HERE)
    odd = shown(HERE.model_copy(update={"agrees": False}))
    assert "does not agree: read again" in odd


def test_how_a_reading_became_what_counts_stands_below_it() -> None:
    step = "94 shown × 1.25 under water = 118 PAR"
    own = OwnReading(low=105.0, best=118.0, high=130.0, reckoned=(step,))
    for answer in (HERE, HERE.model_copy(update={"agrees": None})):
        lines = shown(answer.model_copy(update={"own": own})).splitlines()
        read = next(at for at, line in enumerate(lines) if line.startswith("YOU READ"))
        assert lines[read + 1].strip() == step


def test_a_place_that_is_darker_than_reckoned_has_a_most_and_no_middle() -> None:
    assert shown(HERE.model_copy(update={"at_most": True})).startswith("ledge     at most 160 PAR")


def test_a_changed_lamp_shows_what_it_is_now() -> None:
    changed = HERE.model_copy(update={"changed": ("left=50%",), "before": 240.0})
    assert "CHANGED   left=50%; as it is now 240 PAR" in shown(changed)


def test_what_is_not_known_says_what_to_tell_and_keeps_the_reading() -> None:
    unknown = LightAnswer(place="[b]ledge", missing=("the lamps", "or readings"), own=HERE.own)
    lines = shown(unknown).splitlines()
    assert lines[0] == "[b]ledge  not known yet"
    assert "YOU READ" in lines[1]
    assert [line.strip() for line in lines[2:]] == ["TELL      The lamps.", "Or readings."]


def test_lamps_alone_say_that_one_reading_would_help() -> None:
    assert "none: only the lamps as told" in shown(HERE.model_copy(update={"own": None, "agrees": None}))


def test_the_fit_names_lamps_water_and_the_odd_reading() -> None:
    (reading,) = FITTED.readings
    odd = reading.model_copy(update={"odd": True, "deviations": -4.2})
    answer = FITTED.model_copy(
        update={"kd_low": 0.0, "kd": 0.1, "kd_high": 0.2, "readings": (odd, reading), "rms_percent": 12.0}
    )
    text = render(light_fit_page(answer))
    assert "300 µmol/s" in text
    assert "takes 10 % of the light on each metre, 0 to 18 %" in text
    assert "read darker by 4.2 deviations" in text
    assert "off by 12 % on the whole" in text
    assert "ODD       ledge: read again, or look what moved since" in text


def test_the_fit_without_readings_or_without_anything_says_what_to_tell() -> None:
    assert "take two or more" in render(light_fit_page(LightFitAnswer()))
    assert render(light_fit_page(LightFitAnswer(missing=("the lamps",)))).strip() == "TELL      The lamps."


@pytest.mark.parametrize("level", [0, 1, 2, 4])
def test_nothing_is_wider_than_a_screen(level: int) -> None:
    long = FULL.model_copy(update={"notes": ("a word " * 40,), "place": "a-very-long-name-of-a-place"})
    assert max(map(len, shown(long, level).splitlines())) <= 80


WALL = FaceLight(
    slope_deg=70.4, side="front", low=60.0, best=85.0, high=120.0, sand_percent=2.0, counts=False
)


@pytest.mark.parametrize(
    ("face", "line"),
    [
        (WALL, "FACE      tilted 70° to the front: 85 PAR, 60 to 120"),
        (WALL.model_copy(update={"best": None, "side": ""}),
         "FACE      tilted 70° to a side that is not told: 60 to 120 PAR"),
        (WALL.model_copy(update={"slope_deg": 179.0, "sand_percent": 97.0, "counts": True}),
         "FACE      looks straight down: 85 PAR, 60 to 120; 97 % of it from the sand; the\n"
         "          rules go by this"),
    ],
)  # fmt: skip
def test_a_tilted_face_stands_beside_a_sensor_that_looks_up(face: FaceLight, line: str) -> None:
    page = shown(FULL.model_copy(update={"face": face}))
    assert page.startswith("ledge     120 PAR, 90 to 160, on a sensor that looks up\n" + line + "\n")


def test_a_place_set_onto_a_side_says_so() -> None:
    face = WALL.model_copy(update={"set_onto": "side"})
    assert "Ledge was set 3 cm aside, onto the nearest side of rock." in shown(
        FULL.model_copy(update={"face": face})
    )


def test_a_reading_of_the_face_is_told_as_one() -> None:
    own = OwnReading(low=100.0, best=110.0, high=120.0, at_face=True)
    assert "110 PAR, 100 to 120, on the face of the rock; agrees" in shown(
        HERE.model_copy(update={"own": own})
    )
