"""Light by tracing rays backwards from a sensor to the lamps: the truth that the light model is held against.

It shares no line and no shortcut with the model: lamps are areas, not points;
rays are followed over any number of walls; sand sends light on in all
directions; noise falls with the square root of the number of rays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import trimesh

Floats = npt.NDArray[np.float64]
MEETINGS = 24


@dataclass(frozen=True)
class Panel:
    """A flat lamp with the lobe ``cos^power``; lengths in cm, flux in µmol/s."""

    x: float
    y: float
    over_water: float
    length: float
    width: float
    flux: float
    power: float


@dataclass(frozen=True)
class Round:
    """An upright wall on a circle seen from above, the water within it; lengths in cm."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class Scene:
    """A box of glass; lengths in cm; walls are left, right, front, back, None for clean glass.

    `bent` walls cut off what of the box lies beyond them; they come after the four.
    """

    length: float
    width: float
    water: float
    panels: Sequence[Panel]
    index: float = 1.34
    kd_per_m: float = 0.06
    walls: tuple[float | None, ...] = (None, None, None, None)
    albedo: float = 0.0
    rock: trimesh.Trimesh | None = field(default=None)
    bent: tuple[Round, ...] = ()


def traced_umol(scene: Scene, point_cm: Floats, side: int, seed: int) -> float:
    """Return the PAR on a level sensor by ``side²`` rays. [µmol/m²/s]"""
    random = np.random.default_rng(seed)
    square = (np.stack(np.meshgrid(np.arange(side), np.arange(side)), axis=-1).reshape(-1, 2)
              + random.uniform(size=(side * side, 2))) / side  # fmt: skip
    way = _even_over_cosine(square)
    at = np.tile(np.asarray(point_cm, np.float64), (len(way), 1))
    weight = np.ones(len(way))
    found = 0.0
    for _ in range(MEETINGS):
        distance, what = _next(scene, at, way)
        at = at + way * distance[:, None]
        weight = weight * np.exp(-scene.kd_per_m * distance / 100.0)
        found += _leaving(scene, at, way, weight, what == 5)
        way, weight = _turned(scene, at, way, weight, what, random)
        kept = weight > 1e-4
        at, way, weight = at[kept], way[kept], weight[kept]
        if not len(at):
            break
    return float(np.pi * found / side**2)


def _even_over_cosine(square: Floats) -> Floats:
    """Upward directions, as many as their cosine has weight."""
    radius, angle = np.sqrt(square[:, 0]), 2.0 * np.pi * square[:, 1]
    return np.column_stack([radius * np.cos(angle), radius * np.sin(angle), np.sqrt(1.0 - square[:, 0])])


def _next(scene: Scene, at: Floats, way: Floats) -> tuple[Floats, npt.NDArray[np.int64]]:
    """Distance to what a ray meets next: 0 to 3 the walls, 4 the sand, 5 the surface, 6 rock, 7 on bent."""
    with np.errstate(divide="ignore", invalid="ignore"):
        planes = np.column_stack([
            -at[:, 0] / way[:, 0], (scene.length - at[:, 0]) / way[:, 0], -at[:, 1] / way[:, 1],
            (scene.width - at[:, 1]) / way[:, 1], -at[:, 2] / way[:, 2], (scene.water - at[:, 2]) / way[:, 2],
        ])  # fmt: skip
    toward = np.column_stack([way[:, 0] < 0, way[:, 0] > 0, way[:, 1] < 0, way[:, 1] > 0, way[:, 2] < 0,
                              way[:, 2] > 0])  # fmt: skip
    planes = np.where(toward, np.clip(planes, 0.0, None), np.inf)
    what = planes.argmin(axis=1)
    distance = planes[np.arange(len(at)), what]
    for number, wall in enumerate(scene.bent):
        far = _to_round(wall, at, way)
        nearer = far < distance
        distance[nearer], what[nearer] = far[nearer], 7 + number
    if scene.rock is not None:
        face = scene.rock.ray.intersects_first(at + 1e-3 * way, way)
        hit = np.flatnonzero(face >= 0)
        normal, corner = scene.rock.face_normals[face[hit]], scene.rock.triangles[face[hit], 0]
        far = ((corner - at[hit]) * normal).sum(axis=1) / (way[hit] * normal).sum(axis=1)
        nearer = far < distance[hit]
        distance[hit[nearer]], what[hit[nearer]] = far[nearer], 6
    return distance, what


def _to_round(wall: Round, at: Floats, way: Floats) -> Floats:
    """Distance from within a circle, seen from above, out to it."""
    off = at[:, :2] - (wall.x, wall.y)
    a, b = (way[:, :2] ** 2).sum(axis=1), (off * way[:, :2]).sum(axis=1)
    root = np.sqrt(np.clip(b**2 - a * ((off**2).sum(axis=1) - wall.radius**2), 0.0, None))
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(a > 0.0, np.clip((root - b) / a, 0.0, None), np.inf)


def _fresnel(cosine: Floats, ratio: float) -> Floats:
    """Unpolarised reflectance by amplitudes; `ratio` is index beyond by index before."""
    sine_beyond = np.sqrt(1.0 - cosine**2) / ratio
    beyond = np.sqrt(np.clip(1.0 - sine_beyond**2, 0.0, None))
    s = (cosine - ratio * beyond) / (cosine + ratio * beyond)
    p = (beyond - ratio * cosine) / (beyond + ratio * cosine)
    return np.where(sine_beyond >= 1.0, 1.0, (s**2 + p**2) / 2.0)


def _leaving(scene: Scene, at: Floats, way: Floats, weight: Floats, up: npt.NDArray[np.bool_]) -> float:
    """Radiance that rays bring which leave through the surface, summed."""
    passed = weight[up] * (1.0 - _fresnel(way[up, 2], 1.0 / scene.index))
    sine = way[up, :2] * scene.index
    cosine = np.sqrt(np.clip(1.0 - (sine**2).sum(axis=1), 1e-12, None))
    total = 0.0
    for panel in scene.panels:
        x, y = (at[up, :2] + sine / cosine[:, None] * panel.over_water).T
        over = (abs(x - panel.x) <= panel.length / 2) & (abs(y - panel.y) <= panel.width / 2)
        area = panel.length * panel.width / 1e4
        radiance = panel.flux * (panel.power + 1) / (2 * np.pi * area) * cosine ** (panel.power - 1)
        total += float((passed * over * radiance).sum()) * scene.index**2
    return total


def _turned(
    scene: Scene, at: Floats, way: Floats, weight: Floats, what: npt.NDArray[np.int64],
    random: np.random.Generator,
) -> tuple[Floats, Floats]:  # fmt: skip
    """Direction and weight after each meeting."""
    way, weight = way.copy(), weight.copy()
    normals = [np.array(normal) for normal in ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0))]
    for wall, share in enumerate(scene.walls):
        here = what == (wall if wall < 4 else wall + 3)
        if wall < 4:
            out = np.tile(normals[wall], (int(here.sum()), 1))
        else:
            bent = scene.bent[wall - 4]
            out = (at[here, :2] - (bent.x, bent.y)) / bent.radius
        toward = (way[here, :2] * out).sum(axis=1)
        weight[here] *= (
            _fresnel(np.clip(abs(toward), 0.0, 1.0), 1.0 / scene.index) if share is None else share
        )
        way[here, :2] -= 2.0 * toward[:, None] * out
    sand = what == 4
    weight[sand] *= scene.albedo
    way[sand] = _even_over_cosine(random.uniform(size=(int(sand.sum()), 2)))
    surface = what == 5
    weight[surface] *= _fresnel(way[surface, 2], 1.0 / scene.index)
    way[surface, 2] *= -1.0
    weight[what == 6] = 0.0
    return way, weight
