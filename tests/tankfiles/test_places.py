"""Place words and positions."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import Span
from advisor.model.tank import Box, Glass
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import Scalar
from advisor.tankfiles.places import Place, read_place

GLASS = Glass(length_cm=90, width_cm=60, height_cm=48, water_cm=45)
X, Y, Z = ("left", "middle", "right"), ("front", "middle", "back"), ("low", "middle", "high")


def place(text: str, glass: Glass | None = GLASS) -> Place:
    ledger = Ledger()
    found = read_place(Scalar(text, Span("t")), glass, ledger)
    assert ledger.problems == ()
    return found


def box(text: str) -> Box:
    found = place(text).box
    assert found is not None
    return found


def test_words_stand_for_thirds_of_the_glass_up_to_the_water() -> None:
    assert box("left, back, high") == Box(x=(0, 30), y=(40, 60), z=(30, 45), by_word=True)
    assert box("middle, middle, middle") == Box(x=(30, 60), y=(20, 40), z=(15, 30), by_word=True)


def test_an_axis_not_named_is_open() -> None:
    assert box("left") == Box(x=(0, 30), y=(0, 60), z=(0, 45), by_word=True)


def test_words_may_stand_in_any_order_and_have_other_names() -> None:
    assert box("top, rear, left") == box("left back high") == box("left, back, high")
    assert box("centre, front, bottom") == box("middle, front, low")


def test_adjacent_thirds_share_an_edge_and_nothing_more() -> None:
    for first, second in itertools.pairwise(X):
        a, b = (box(f"{word}, front, low") for word in (first, second))
        assert a.x[1] == b.x[0]


def test_the_27_words_fill_the_glass() -> None:
    total = 0.0
    for words in itertools.product(X, Y, Z):
        found = box(", ".join(words))
        total += (found.x[1] - found.x[0]) * (found.y[1] - found.y[0]) * (found.z[1] - found.z[0])
    assert total == pytest.approx(90 * 60 * 45)


def test_without_glass_words_give_no_box_but_are_kept() -> None:
    assert place("left, back, high", None) == Place("left, back, high")


def test_positions_in_a_row() -> None:
    assert box("20, 35, 28 cm") == Box(x=(20, 20), y=(35, 35), z=(28, 28))
    assert box("20 cm, 350 mm, 28") == Box(x=(20, 20), y=(35, 35), z=(28, 28))
    assert box("20-24, 35 ± 2, 28 cm") == Box(x=(20, 24), y=(33, 37), z=(28, 28))
    assert place("10, 10, 10 in", None).box == Box(x=(25.4, 25.4), y=(25.4, 25.4), z=(25.4, 25.4))


@given(st.tuples(st.integers(0, 90), st.integers(0, 60), st.integers(0, 45)))
def test_every_position_within_the_glass_is_read_as_written(at: tuple[int, int, int]) -> None:
    x, y, z = at
    assert box(f"{x}, {y}, {z} cm") == Box(x=(x, x), y=(y, y), z=(z, z))


@given(st.integers(-50, 200), st.integers(-50, 200), st.integers(-50, 200))
def test_a_position_is_a_box_exactly_when_it_is_inside(x: int, y: int, z: int) -> None:
    ledger = Ledger()
    found = read_place(Scalar(f"{x}, {y}, {z} cm", Span("t")), GLASS, ledger)
    inside = 0 <= x <= 90 and 0 <= y <= 60 and 0 <= z <= 45
    assert (found.box is not None) is inside
    assert bool(ledger.problems) is not inside
