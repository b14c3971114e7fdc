from __future__ import annotations

import numpy as np
import pytest

from advisor.errors import QuantityError
from advisor.fields.rock_shapes import rock_body
from advisor.fields.shadows import Occluder, shadows
from advisor.model.lighting import RockShape

SIZE = (30.0, 20.0, 10.0)


@pytest.mark.parametrize("shape", list(RockShape))
def test_every_rock_is_closed_looks_outward_and_fills_its_extent(shape: RockShape) -> None:
    body = rock_body(shape, (50.0, 20.0), 5.0, SIZE)
    assert body.is_watertight
    assert body.volume > 0.0
    assert body.bounds == pytest.approx(np.array([[35.0, 10.0, 5.0], [65.0, 30.0, 15.0]]), abs=0.3)


def test_an_arch_can_be_looked_through() -> None:
    body = rock_body(RockShape.ARCH, (50.0, 20.0), 0.0, (40.0, 10.0, 20.0))
    through, leg = np.array([[50.0, 0.0, 5.0]]), np.array([[32.0, 0.0, 5.0]])
    ahead = np.array([[0.0, 1.0, 0.0]])
    found = shadows([Occluder("arch", body)])(np.vstack([through, leg]), np.vstack([ahead, ahead]))
    assert found.tolist() == [1.0, 0.0]


def test_a_turned_rock_lies_across() -> None:
    body = rock_body(RockShape.BLOCK, (50.0, 20.0), 0.0, SIZE, turned_deg=90.0)
    assert body.bounds == pytest.approx(np.array([[40.0, 5.0, 0.0], [60.0, 35.0, 10.0]]))


@pytest.mark.parametrize("size", [(0.0, 1.0, 1.0), (1.0, -1.0, 1.0), (1.0, 1.0, float("nan"))])
def test_a_rock_without_a_body_is_refused(size: tuple[float, float, float]) -> None:
    with pytest.raises(QuantityError, match="above 0"):
        rock_body(RockShape.BLOCK, (0.0, 0.0), 0.0, size)
