"""What a tank file says of lamps, rocks and walls, as data."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from advisor.model.lighting import LampBody, RockBody, RockShape, Walls, WallState


@pytest.mark.parametrize(
    ("told", "hangs"),
    [
        ({"middle_cm": (30.0, 20.0), "over_water_cm": 20.0}, True),
        ({"middle_cm": (30.0, 20.0)}, False),
        ({"over_water_cm": 20.0}, False),
    ],
)
def test_a_lamp_hangs_where_both_its_place_and_its_height_are_told(
    told: dict[str, object], hangs: bool
) -> None:
    assert LampBody.model_validate(told).hangs is hangs


def test_what_is_not_told_stays_untold() -> None:
    body = LampBody()
    assert (body.photons_umol_per_s, body.watts, body.beam_deg, body.colour) == (None, None, None, None)
    assert Walls().back is None


def test_bodies_are_frozen_read_back_and_take_no_other_key() -> None:
    rock = RockBody(shape=RockShape.ARCH, middle_cm=(1.0, 2.0), size_cm=(3.0, 4.0, 5.0))
    assert RockBody.model_validate_json(rock.model_dump_json()) == rock
    with pytest.raises(ValidationError):
        rock.foot_cm = 3.0
    with pytest.raises(ValidationError):
        Walls.model_validate({"ceiling": WallState.CLEAN})
