"""A scan of 200 000 faces, thinned, lies no farther off than is said: measured by trimesh, by brute force.

The scan is invented: a ball with bumps of three sizes. trimesh's
`closest_point_naive` tries every triangle for each point and shares no line
with how the program bounds the distance.
"""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import numpy.typing as npt
import trimesh

from advisor.errors import Severity
from advisor.fields.scan_place import unpacked
from advisor.tankfiles.folder import read_tank
from tests.reasoning.lit import lit_library

Floats = npt.NDArray[np.float64]
AROUND, UP = 400, 251
MIDDLE_CM = np.array([45.0, 30.0, 13.0])


def bumpy() -> trimesh.Trimesh:
    """A ball of some 12 cm with bumps, open at both poles by a pinhole. [cm]"""
    turn, tilt = np.meshgrid(
        np.linspace(0.0, 2.0 * np.pi, AROUND, endpoint=False),
        np.linspace(0.02, np.pi - 0.02, UP),
        indexing="ij",
    )
    radius = 12.0 + 0.6 * np.sin(5 * turn) * np.sin(4 * tilt) + 0.25 * np.sin(17 * turn) * np.sin(13 * tilt)
    radius += 0.08 * np.sin(61 * turn) * np.sin(47 * tilt)
    level = radius * np.sin(tilt)
    corners = np.stack([level * np.cos(turn), level * np.sin(turn), radius * np.cos(tilt)], axis=-1)
    at, high = np.arange(AROUND)[:, None], np.arange(UP - 1)[None, :]
    here, beside = (at * UP + high).ravel(), ((at + 1) % AROUND * UP + high).ravel()
    faces = np.concatenate(
        [np.stack([here, beside, here + 1], 1), np.stack([beside, beside + 1, here + 1], 1)]
    )
    return trimesh.Trimesh(corners.reshape(-1, 3), faces, process=False)


def far_off(points: Floats, body: trimesh.Trimesh) -> float:
    """Distance of the farthest of some points, by brute force. [cm]"""
    parts = np.array_split(points, max(len(points) // 20, 1))
    far = 0.0
    for part in parts:
        _, apart, _ = trimesh.proximity.closest_point_naive(body, part)  # type: ignore[no-untyped-call]  # untyped there
        far = max(far, float(apart.max()))
    return far


def test_two_hundred_thousand_faces_are_thinned_within_what_is_said(tmp_path: Path) -> None:
    fine = bumpy()
    assert len(fine.faces) == 200_000
    sides = " x ".join(f"{side:.6f}" for side in fine.extents)
    data = fine.export(file_type="ply")
    assert isinstance(data, bytes)
    (tmp_path / "ridge.ply").write_bytes(data)
    (tmp_path / "tank.yaml").write_text(
        "glass: 90 x 60 x 50 cm\nrocks:\n"
        f'  - {{id: ridge, scan: ridge.ply, at: "45, 30 cm", foot: 1 cm, size: {sides} cm}}\n',
        encoding="utf-8",
    )
    tank, problems = read_tank(tmp_path, lit_library().vocabulary)
    assert {each.severity for each in problems} <= {Severity.NOTE, Severity.WARNING}
    (note,) = (each for each in problems if each.code == "scan-218")
    told = re.fullmatch(
        r"ridge.ply has 200000 faces; I reckon with (\d+), at most ([\d.]+) cm off", note.what
    )
    assert told is not None
    assert int(told[1]) <= 20_000
    said_cm = float(told[2])
    assert tank is not None
    body = tank.rocks[0].body
    assert body is not None
    assert body.surface is not None
    coarse = unpacked(body.surface)
    assert len(coarse.faces) == int(told[1])

    low, high = fine.bounds
    points = np.vstack([fine.vertices, fine.triangles_center])
    points += [45.0 - (low[0] + high[0]) / 2.0, 30.0 - (low[1] + high[1]) / 2.0, 1.0 - low[2]]
    random = np.random.default_rng(3)
    some = points[random.choice(len(points), 200, replace=False)]
    crest = points[np.argsort(-np.linalg.norm(points - MIDDLE_CM, axis=1))[:100]]
    hollow = points[np.argsort(np.linalg.norm(points - MIDDLE_CM, axis=1))[:100]]
    assert 0.0 < far_off(np.vstack([some, crest, hollow]), coarse) <= said_cm
    assert said_cm < 0.2  # of a rock 24 cm wide
