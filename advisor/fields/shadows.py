"""Shadow: what rock stops and what a colony lets through, by casting rays at their surfaces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import trimesh

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]

CLEAR_CM = 0.1
"""A ray starts so far along its way, that the surface it starts on does not stop it."""


@dataclass(frozen=True, slots=True, eq=False)
class Occluder:
    """A body in the way of light, and the share it lets through: 0 for rock."""

    id: str
    body: trimesh.Trimesh
    passes: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Shadows:
    """All bodies of a tank; called with rays it returns what each lets through together."""

    occluders: tuple[Occluder, ...]
    _opaque: trimesh.Trimesh | None
    _thin: tuple[Occluder, ...]
    _all_thin: trimesh.Trimesh | None
    """All of those joined, so that most rays are asked only once."""

    def __call__(self, starts_cm: Floats, directions: Floats) -> Floats:
        """Return the share of light that passes along each ray, 0 to 1, shape (n,)."""
        unit = directions / np.linalg.norm(directions, axis=1)[:, None]
        from_ = starts_cm + CLEAR_CM * unit
        passed = np.ones(len(from_))
        if self._opaque is not None:
            passed[_hits(self._opaque, from_, unit)] = 0.0
        if self._all_thin is not None:
            lit = np.flatnonzero(passed > 0.0)
            met = lit[_hits(self._all_thin, from_[lit], unit[lit])]
            for each in self._thin:
                passed[met] *= np.where(_hits(each.body, from_[met], unit[met]), each.passes, 1.0)
        return passed


def shadows(occluders: Sequence[Occluder]) -> Shadows:
    """Return the shadow of some bodies; solid ones are joined so that they are asked at once."""
    solid = [each.body for each in occluders if each.passes == 0.0]
    thin = tuple(each for each in occluders if each.passes > 0.0)
    return Shadows(tuple(occluders), _joined(solid), thin, _joined([each.body for each in thin]))


def _joined(bodies: Sequence[trimesh.Trimesh]) -> trimesh.Trimesh | None:
    """All bodies as one."""
    if not bodies:
        return None
    offsets = np.cumsum([0, *(len(body.vertices) for body in bodies)])
    faces = [body.faces + offset for body, offset in zip(bodies, offsets, strict=False)]
    return trimesh.Trimesh(np.vstack([body.vertices for body in bodies]), np.vstack(faces), process=False)


def _hits(body: trimesh.Trimesh, starts_cm: Floats, directions: Floats) -> Bools:
    """Whether each ray meets the body anywhere ahead."""
    if not len(starts_cm):
        return np.zeros(0, np.bool_)
    found: Bools = body.ray.intersects_any(starts_cm, directions)  # type: ignore[no-untyped-call]  # untyped there
    return found
