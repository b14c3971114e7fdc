from __future__ import annotations

import pytest

from advisor.errors import QuantityError
from advisor.fields.doses import dose_mol


def test_without_a_programme_there_is_no_light() -> None:
    assert dose_mol(200.0, ()) == 0.0


def test_a_ramp_counts_half() -> None:
    assert dose_mol(100.0, ((0.0, 0.0), (2.0, 1.0))) == pytest.approx(
        dose_mol(100.0, ((0.0, 1.0), (1.0, 1.0)))
    )


@pytest.mark.parametrize(
    "programme", [((9.0, 1.0), (8.0, 1.0)), ((-1.0, 0.0), (5.0, 1.0)), ((1.0, 0.0), (25.5, 1.0))]
)
def test_hours_rise_within_a_day_and_night(programme: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(QuantityError, match="hours"):
        dose_mol(100.0, programme)


@pytest.mark.parametrize("share", [-0.1, 1.2])
def test_a_lamp_shines_between_not_at_all_and_fully(share: float) -> None:
    with pytest.raises(QuantityError, match="between 0 and 1"):
        dose_mol(100.0, ((8.0, share), (9.0, 1.0)))


def test_hours_may_go_on_past_midnight() -> None:
    evening = dose_mol(100.0, ((18.0, 1.0), (26.0, 1.0)))
    assert evening == pytest.approx(dose_mol(100.0, ((8.0, 1.0), (16.0, 1.0))))
