from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
import trimesh

from advisor.fields.rooms import room_of, to_glass_cm
from advisor.fields.scan_room import RoomError, RoomFault, cuts
from advisor.model.tank import Glass, Section

AROUND = 120


def pool(bottom: float = 60.0, top: float = 90.0, height: float = 80.0, lid: bool = False) -> trimesh.Trimesh:
    """A round pool whose wall leans outward, its axis 90 cm from the left and the front."""
    turns = np.linspace(0.0, 2.0 * np.pi, AROUND, endpoint=False)
    ring = np.column_stack([np.cos(turns), np.sin(turns), np.zeros(AROUND)])
    up = np.array([0.0, 0.0, height])
    corners = np.vstack([ring * bottom, ring * top + up, np.zeros(3), up])
    faces = []
    for at in range(AROUND):
        after = (at + 1) % AROUND
        faces += [(at, after, AROUND + after), (at, AROUND + after, AROUND + at), (2 * AROUND, after, at)]
        faces += [(2 * AROUND + 1, AROUND + at, AROUND + after)] * lid
    return trimesh.Trimesh(corners + np.array([90.0, 90.0, 0.0]), faces, process=False)


def block(x: float = 60.0, y: float = 40.0, z: float = 30.0) -> trimesh.Trimesh:
    body: trimesh.Trimesh = trimesh.creation.box((x, y, z))
    body.apply_translation((x / 2.0, y / 2.0, z / 2.0))
    return body


BIG = block(100.0, 60.0, 50.0)


def joined(*bodies: trimesh.Trimesh) -> trimesh.Trimesh:
    found = trimesh.util.concatenate(bodies)
    assert isinstance(found, trimesh.Trimesh)
    return found


def turn(angle: float, axis: tuple[float, float, float]) -> npt.NDArray[np.float64]:
    found = trimesh.transformations.rotation_matrix(angle, axis)  # type: ignore[no-untyped-call]  # untyped there
    return np.asarray(found, np.float64)


def scanned(body: trimesh.Trimesh, water: float | None) -> Glass:
    found = cuts(body, water)
    length, width, height = (float(each) for each in body.bounds[1])
    return Glass(
        length_cm=length, width_cm=width, height_cm=height, water_cm=water, outline_cm=found[0][1],
        sections=tuple(Section(height_cm=at, outline_cm=outline) for at, outline in found),
    )  # fmt: skip


@pytest.mark.parametrize("lid", [True, False])
def test_a_pool_that_widens_upward_is_cut_into_rings_that_widen(lid: bool) -> None:
    for height, outline in cuts(pool(lid=lid), 70.0):
        off = [math.dist(corner, (90.0, 90.0)) for corner in outline]
        radius = 60.0 + 30.0 * height / 80.0
        assert max(off) == pytest.approx(radius)
        assert min(off) >= radius * math.cos(math.pi / AROUND) - 1e-9  # the middle of a chord


def test_a_cone_frustum_holds_what_geometry_says() -> None:
    # V = pi h (R² + R r + r²) / 3, Euclid XII; of a polygon the area is n/2 sin(2 pi / n) for pi
    whole = AROUND / 2.0 * math.sin(2.0 * math.pi / AROUND) * 70.0 * (60.0**2 + 60.0 * 86.25 + 86.25**2) / 3.0
    assert scanned(pool(), 70.0).volume_cm3(70.0) == pytest.approx(whole, rel=2e-3)
    assert scanned(block(), None).volume_cm3(30.0) == pytest.approx(60.0 * 40.0 * 30.0)


def test_a_leaning_wall_is_as_far_as_square_to_it() -> None:
    room = room_of(scanned(pool(), 70.0))
    points = np.array([[90.0 + r, 90.0, z] for r, z in ((0.0, 40.0), (50.0, 10.0), (80.0, 60.0))])
    square = math.cos(math.atan(30.0 / 80.0))
    expected = [(60.0 + 30.0 * z / 80.0 - (x - 90.0)) * square for x, _, z in points]
    assert to_glass_cm(room, points) == pytest.approx(expected, abs=0.05)


def test_pebbles_on_the_floor_and_corners_that_waver_do_not_matter() -> None:
    body = BIG.subdivide().subdivide().subdivide()
    body.merge_vertices()
    body.vertices += np.random.default_rng(1).normal(0.0, 0.1, body.vertices.shape)
    pebble = trimesh.creation.icosphere(2, 1.5)
    pebble.apply_translation((30.0, 30.0, 2.0))
    body = joined(body, pebble)
    body.apply_translation((0.0, 0.0, -float(body.bounds[0, 2])))
    assert scanned(body, 40.0).volume_cm3(40.0) == pytest.approx(100.0 * 60.0 * 40.0, rel=0.02)


def test_corners_that_lie_at_the_very_height_of_a_cut_do_no_harm() -> None:
    body = block().subdivide().subdivide()
    heights = [height for height, _ in cuts(body, None)]
    for row, height in enumerate(sorted(set(np.round(body.vertices[:, 2], 6)))[1:-1]):
        body.vertices[np.isclose(body.vertices[:, 2], height), 2] = heights[3 * row + 2]
    found = cuts(body, None)
    assert {height for height, _ in found} & {float(each) for each in body.vertices[:, 2]}
    for _, outline in found:
        assert np.ptp(np.array(outline), axis=0) == pytest.approx([60.0, 40.0])


def tilted() -> trimesh.Trimesh:
    body = block(100.0, 60.0, 50.0)
    body.apply_transform(turn(math.radians(8.0), (0.0, 1.0, 0.0)))
    body.apply_translation(-body.bounds[0])
    return body


def funnel() -> trimesh.Trimesh:
    body = trimesh.creation.cone(30.0, 40.0)
    body.apply_transform(turn(math.pi, (1.0, 0.0, 0.0)))
    body.apply_translation(-body.bounds[0])
    return body


def two_basins() -> trimesh.Trimesh:
    other = block()
    other.apply_translation((80.0, 0.0, 0.0))
    return joined(block(), other)


def shell() -> trimesh.Trimesh:
    inner = block(56.0, 36.0, 28.0)
    inner.apply_translation((2.0, 2.0, 2.0))
    inner.invert()
    return joined(block(), inner)


def without_some_of_its_wall() -> trimesh.Trimesh:
    body = pool()
    body.update_faces(np.arange(len(body.faces)) >= 30)
    return body


@pytest.mark.parametrize(
    ("body", "fault", "words"),
    [
        (tilted(), RoomFault.NOT_LEVEL, r"it rises by 13\.9 cm"),  # 100 cm times the sine of 8 degrees
        (funnel(), RoomFault.NOT_LEVEL, "it has no floor"),
        (two_basins(), RoomFault.NOT_ONE, "2 outlines"),
        (shell(), RoomFault.NOT_ONE, "2 outlines"),
        (without_some_of_its_wall(), RoomFault.OPEN, "open 0 cm above its floor"),
    ],
    ids=["tilted", "funnel", "two basins", "a shell", "open"],
)
def test_what_is_no_inside_of_a_tank_says_why(body: trimesh.Trimesh, fault: RoomFault, words: str) -> None:
    with pytest.raises(RoomError, match=words) as raised:
        cuts(body, None)
    assert raised.value.fault is fault


def test_a_surface_may_end_above_the_water_but_not_below_it() -> None:
    body = block().subdivide().subdivide()
    corner = (np.asarray(body.triangles)[:, :, 0].max(axis=1) < 16.0) & (
        body.triangles[:, :, 2].min(axis=1) > 20.0
    )
    body.update_faces(~corner)  # the wall is gone above 22.5 cm at the left
    assert cuts(body, 22.0)[-1][0] == pytest.approx(21.5)
    for water in (25.0, None):
        with pytest.raises(RoomError, match=r"open 22\.5 cm above its floor"):
            cuts(body, water)
