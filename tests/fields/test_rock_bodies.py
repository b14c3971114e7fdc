from __future__ import annotations

from advisor.fields.rock_bodies import body_of
from advisor.fields.rock_shapes import rock_body
from advisor.fields.scan_place import Standing, packed
from advisor.model.lighting import RockBody, RockShape

BLOCK = rock_body(RockShape.BLOCK, (40.0, 30.0), 2.0, (30.0, 20.0, 10.0))


def test_a_shape_makes_a_body() -> None:
    told = RockBody(shape=RockShape.BLOCK, middle_cm=(40.0, 30.0), foot_cm=2.0, size_cm=(30.0, 20.0, 10.0))
    body = body_of(told)
    assert body is not None
    assert (body.bounds == BLOCK.bounds).all()


def test_a_scan_makes_a_body() -> None:
    body = body_of(RockBody(mesh="ridge.stl", surface=packed(Standing(BLOCK, 1.0), 0.0)))
    assert body is not None
    assert (body.bounds == BLOCK.bounds).all()


def test_what_is_not_told_makes_none() -> None:
    assert body_of(None) is None
    assert body_of(RockBody(mesh="unread.stl")) is None
    assert body_of(RockBody(shape=RockShape.BLOCK, middle_cm=(40.0, 30.0))) is None
