"""Distances between boxes and the side of the stream, against scipy and plain trigonometry.

Source: scipy.spatial.Rectangle (documented as minimum and maximum distance between
hyper-rectangles, `min_distance_rectangle`, `max_distance_rectangle`), scipy >= 1.12; and
the angle of a vector by atan2. Tolerance 1e-9 cm: both sides are double precision.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial import Rectangle

from advisor.fields.boxes import farthest_cm, nearest_cm
from advisor.fields.stream import down_stream

CM = st.floats(0.0, 300.0, allow_nan=False)
CORNERS = st.tuples(*[st.tuples(CM, CM).map(sorted)] * 3)


def corners(box: tuple[list[float], ...]) -> tuple[np.ndarray, np.ndarray]:
    """Return the two opposite corners of a box of ranges, one row each."""
    return np.array([[side[0] for side in box]]), np.array([[side[1] for side in box]])


@given(a=CORNERS, b=CORNERS)
def test_nearest_and_farthest_points_agree_with_scipy(
    a: tuple[list[float], ...], b: tuple[list[float], ...]
) -> None:
    (low_a, high_a), (low_b, high_b) = corners(a), corners(b)
    ours = nearest_cm(low_a, high_a, low_b, high_b)[0], farthest_cm(low_a, high_a, low_b, high_b)[0]
    one, other = Rectangle(high_a[0], low_a[0]), Rectangle(high_b[0], low_b[0])
    assert ours[0] == pytest.approx(one.min_distance_rectangle(other), abs=1e-9)
    assert ours[1] == pytest.approx(one.max_distance_rectangle(other), abs=1e-9)


@given(angle=st.floats(0.0, 360.0), stream=st.floats(0.0, 360.0), far=st.floats(1.0, 100.0))
def test_down_stream_is_within_forty_five_degrees(angle: float, stream: float, far: float) -> None:
    off = abs((angle - stream + 180.0) % 360.0 - 180.0)
    assume(abs(off - 45.0) > 1e-3)
    here = np.array([[150.0, 30.0]])
    there = here + far * np.array([[math.cos(math.radians(angle)), math.sin(math.radians(angle))]])
    surely, never = down_stream(here, here, there, there, stream)
    assert bool(surely[0]) is (off < 45.0)
    assert bool(never[0]) is (off > 45.0)
