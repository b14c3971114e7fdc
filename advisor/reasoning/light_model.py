"""Light by lamps, walls, rock and sand alone, before any reading, and how what is told of them moves it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.emitters import Emitters
from advisor.fields.fitting import Sites
from advisor.fields.rooms import room_of, within
from advisor.fields.sand_light import sand_by_source, sand_light
from advisor.fields.tank_light import Light, Water, light_at, more
from advisor.model.lighting import WaterLook
from advisor.model.tank import Glass, Lamp
from advisor.reasoning.light_age import LampAges
from advisor.reasoning.light_lamps import by_side, cut_off_share, emitters_of, fading_of, water_of
from advisor.reasoning.light_numbers import LightNumbers

if TYPE_CHECKING:
    from advisor.fields.shadows import Shadows

Floats: TypeAlias = npt.NDArray[np.float64]
Bools: TypeAlias = npt.NDArray[np.bool_]

LEAST_UMOL = 0.5
"""Below this a meter shows nothing; keeps logarithms finite. [µmol/m²/s]"""
_CELLS = (7, 5, 4)
"""Into how many parts length, width and water are cut for a mean over a tank."""
_FLOOR_CELLS = (7, 4)
_FLOOR_CELL_CM = 4.0
"""A face that looks down sees the floor in squares of about this size."""
_ROUGHLY = 4
"""So many rings are enough to see which share of the sand is seen over a wall."""
_LEAST_TIMES, _MOST_TIMES = 0.1, 10.0
"""What a lamp sends onto a turned face changes by no more than this where its beam or height is off."""


@dataclass(frozen=True, slots=True, eq=False)
class OnFaces:
    """What the model says of turned faces at some points."""

    sites: Sites
    by_lamp: Floats
    """PAR that each lamp brings there, by way of the sand too, shape (lamps, n). [µmol/m²/s]"""
    sand: Floats
    """Share of the light of each face that comes from the sand, shape (n,). [1]"""


class LampLight:
    """The light of the lamps of a tank as they are told.

    Parameters
    ----------
    glass
        With the height of the water.
    lamps
        Those of which it is told where they hang.
    shade
        Rock and colonies, None where nothing is in the way.
    numbers
        The named numbers of the rule files.
    sand
        Whether the floor is pale sand.
    look
        How clear the water is to the eye.
    ages
        How the lamps have aged.
    """

    def __init__(
        self,
        glass: Glass,
        lamps: Sequence[Lamp],
        shade: Shadows | None,
        numbers: LightNumbers,
        *,
        sand: bool,
        look: WaterLook,
        ages: LampAges,
    ) -> None:
        self.lamps = tuple(lamps)
        self.shade = shade
        self.sand = sand
        self.look = look
        self.ages = ages
        self.water = water_of(glass, lamps, look, numbers)
        boxed = water_of(glass, lamps, look, numbers, boxed=True)
        self._boxed = None if boxed == self.water else boxed
        self._numbers = numbers
        self._glass = glass

    def with_lamps(self, changed: Mapping[str, Lamp]) -> LampLight:
        """Return the light of the same tank with some lamps changed."""
        lamps = [changed.get(lamp.id, lamp) for lamp in self.lamps]
        return LampLight(
            self._glass, lamps, self.shade, self._numbers, sand=self.sand, look=self.look, ages=self.ages
        )

    def light(self, points_cm: Floats, facing: Floats | None = None) -> Light:
        """Return what lamps send to some points, on level faces or on turned ones. [cm]"""
        return self._reaching(points_cm, self._emitters(), facing, self.shade)

    def without(self, point_cm: Floats, body: str) -> float:
        """Return PAR at one point if one body that throws a shadow were not there. [µmol/m²/s]"""
        from advisor.fields.shadows import shadows  # only where something throws one

        assert self.shade is not None
        others = shadows([other for other in self.shade.occluders if other.id != body])
        return float(self._reaching(point_cm[None, :], self._emitters(), shade=others).par_umol[0])

    def of_lamp(self, points_cm: Floats, lamp: Lamp) -> Floats:
        """Return PAR of one lamp alone on level faces, shape (n,). [µmol/m²/s]"""
        light = self._reaching(points_cm, [self._sent(lamp)], shade=self.shade)
        found: Floats = self.lit(light).sum(axis=0)
        return found

    def lit(self, light: Light) -> Floats:
        """Return PAR of each lamp on level faces, with what reaches a full shadow, shape (lamps, n)."""
        found: Floats = light.by_lamp + self._numbers.scattered_share * light.open_by_lamp
        return found

    def sites(self, points_cm: Floats) -> tuple[Sites, Light]:
        """Return level faces with the light there, and how that would change by each cause of doubt."""
        light = self.light(points_cm)
        unshaded = light.open_by_lamp.sum(axis=0)
        lit = self.lit(light)
        par = lit.sum(axis=0) + self._from_sand(points_cm)
        with np.errstate(divide="ignore", invalid="ignore"):
            shares = np.nan_to_num(lit / lit.sum(axis=0))
            walls = np.nan_to_num(light.by_wall / light.par_umol)
            turned = [
                np.nan_to_num(np.log(self._reaching(points_cm, other).par_umol / unshaded))
                for other in self._otherwise()
            ]
        effects = np.column_stack([np.ones(len(points_cm)), shares.T, -light.path_m, walls.T, *turned])
        return Sites(points_cm, np.log(np.maximum(par, LEAST_UMOL)), effects), light

    def on_faces(self, points_cm: Floats, facing: Floats) -> OnFaces:
        """Return turned faces with the light there, and how that would change by each cause of doubt.

        Parameters
        ----------
        points_cm, facing
            Shape (n, 3) each; outward unit normals. [cm, 1]

        Notes
        -----
        Light that reaches a full shadow comes from all over the upper half of
        the water: a tilted face has so much of it as it sees of that half.
        """
        light = self.light(points_cm, facing)
        upper = (1.0 + facing[:, 2]) / 2.0
        level = self._reaching(points_cm, self._emitters()).open_by_lamp
        direct = light.by_lamp + self._numbers.scattered_share * upper * level
        thrown = self._seen_sand(points_cm, facing)
        by_lamp, sand = direct + thrown, thrown.sum(axis=0)
        par = np.maximum(by_lamp.sum(axis=0), LEAST_UMOL)
        open_umol = light.open_by_lamp.sum(axis=0)
        turned = []
        for other in self._otherwise():
            then = self._reaching(points_cm, other, facing).par_umol
            times = np.divide(then, open_umol, out=np.ones(len(points_cm)), where=open_umol > 0.0)
            times = np.clip(times, _LEAST_TIMES, _MOST_TIMES)
            turned.append(np.log1p((times - 1.0) * direct.sum(axis=0) / par))
        path = (light.path_m * direct.sum(axis=0) + self._floor_path_m * sand) / par
        walls = self._of_walls(points_cm, facing, light.by_wall, sand, par)
        effects = np.column_stack([np.ones(len(points_cm)), (by_lamp / par).T, -path, walls.T, *turned])
        return OnFaces(Sites(points_cm, np.log(par), effects), by_lamp, sand / par)

    @cached_property
    def box_adds(self) -> float:
        """What flat walls all around add to the light beyond what is followed, as a mean of logarithms. [1]

        Where oblique walls cut off corners alone, it is what all walls add by the root of their share.
        """
        cut_off = cut_off_share(self._glass)
        if not self.lamps or (self._boxed is None and not cut_off):
            return 0.0
        sides = (self._glass.length_cm, self._glass.width_cm, self.water.surface_cm)
        cells = ((np.arange(count) + 0.5) * side / count for count, side in zip(_CELLS, sides, strict=True))
        points = np.stack(np.meshgrid(*cells, indexing="ij"), axis=-1).reshape(-1, 3)
        points = points[within(room_of(self._glass), points)]
        if not len(points):
            return 0.0
        light = light_at(points, self._emitters(), self._boxed or self.water)
        boxed, none = light.par_umol, light.par_umol - light.over_walls
        bare = light_at(points, self._emitters(), self.water).par_umol
        by_box, by_walls = (
            float(np.mean(np.log(np.maximum(boxed, LEAST_UMOL) / np.maximum(other, LEAST_UMOL))))
            for other in (bare, none)
        )
        return math.hypot(by_box, math.sqrt(cut_off) * by_walls)

    def _reaching(
        self,
        points_cm: Floats,
        sent: Sequence[Emitters],
        facing: Floats | None = None,
        shade: Shadows | None = None,
    ) -> Light:
        """What some lamps send to some points, with an estimate of what walls that are no mirrors add."""
        bare = light_at(points_cm, sent, self.water, facing, shade)
        if self._boxed is None:
            return bare
        return more(bare, light_at(points_cm, sent, self._boxed, facing, shade), self._numbers.no_box_gain)

    def _of_walls(
        self, points_cm: Floats, facing: Floats, by_wall: Floats, sand: Floats, par: Floats
    ) -> Floats:
        """What one unit of doubt of each wall changes on turned faces, shape (walls, n).

        A wall nobody told of is a mirror or filmed. By as much more as film
        would darken a face than level ground, by way of the sand too, this
        goes up and down beyond what it does there: where most light comes
        over one wall that is far more than its share.
        """
        lost = 1.0 - self._numbers.filmed_share
        darker = lost * by_wall
        if self.sand:
            darker = darker + self._sand_lost(points_cm, facing, lost) * sand
        light = self.light(points_cm)
        level = light.by_wall / np.maximum(self.lit(light).sum(axis=0), LEAST_UMOL)
        more_than_level = _filmed(darker / par, lost) - _filmed(lost * level, lost)
        found: Floats = np.where(self._mirrors[:, None], level + more_than_level, by_wall / par)
        return found

    @cached_property
    def _mirrors(self) -> Bools:
        """Which walls are taken for clean mirrors though nobody told of them."""
        sides = by_side(self._glass.walls).items()
        found = [state is None and getattr(self.water.walls, side) is None for side, state in sides]
        return np.array(found, np.bool_)

    def _sand_lost(self, points_cm: Floats, facing: Floats, lost: float) -> Floats:
        """Share of what sand throws at turned faces in the open that film on one wall takes, (walls, n)."""
        light, wet = self._seen_floor
        lit = np.nan_to_num(light.par_umol * wet)
        lighted = lit > 0.0
        over = np.divide(light.by_wall, lit, out=np.zeros_like(light.by_wall), where=lighted)
        found = np.zeros((len(over), len(points_cm)))
        if not self._mirrors.any():
            return found

        def thrown(water: Water, floor: Floats) -> Floats:
            cells = floor.reshape(1, *self._fine_cells)
            found: Floats = sand_by_source(points_cm, water, 1.0, cells, facing, zeniths=_ROUGHLY)[0]
            return found

        now = thrown(self.water, lit)
        for row, side in enumerate(by_side(self._glass.walls)):
            if self._mirrors[row]:
                walls = replace(self.water.walls, **{side: self._numbers.filmed_share})
                then = thrown(
                    replace(self.water, walls=walls), lit * (1.0 - np.clip(lost * over[row], 0.0, lost))
                )
                found[row] = 1.0 - np.divide(then, now, out=np.ones(len(now)), where=now > 0.0)
        return found

    def _emitters(self, beam: float = 1.0, raised_cm: float = 0.0) -> list[Emitters]:
        """The lamps, their beams and heights changed alike."""
        return [self._sent(lamp, beam, raised_cm) for lamp in self.lamps]

    def _sent(self, lamp: Lamp, beam: float = 1.0, raised_cm: float = 0.0) -> Emitters:
        """One lamp as it shines today."""
        surface, kept = self.water.surface_cm, self.ages.kept(lamp.id)
        fading = fading_of(lamp, self.look, self._numbers)
        return emitters_of(lamp, surface, fading, self._numbers, beam, raised_cm, kept)

    def _otherwise(self) -> tuple[list[Emitters], list[Emitters]]:
        """The lamps if their beams were narrower, and if they hung higher."""
        narrower = self._emitters(beam=1.0 - self._numbers.beam_doubt)
        return narrower, self._emitters(raised_cm=self._numbers.hang_doubt_cm)

    # --- the floor

    def _from_sand(self, points_cm: Floats) -> Floats:
        """What pale sand throws back to level faces by way of the surface."""
        if not self.sand:
            return np.zeros(len(points_cm))
        lit, wet = self._floor(_FLOOR_CELLS)
        mean = float(np.nanmean(lit.par_umol[wet] if wet.any() else lit.par_umol))
        return sand_light(
            points_cm, self._boxed or self.water, self._numbers.sand_share, mean, shade=self.shade
        )

    def _seen_sand(self, points_cm: Floats, facing: Floats) -> Floats:
        """What pale sand throws at turned faces, past all that stands between, shape (lamps, n)."""
        if not self.sand:
            return np.zeros((len(self.lamps), len(points_cm)))
        light, wet = self._seen_floor
        floor = np.nan_to_num(self.lit(light) * wet).reshape(len(self.lamps), *self._fine_cells)
        water = self._boxed or self.water
        return sand_by_source(points_cm, water, self._numbers.sand_share, floor, facing, self.shade)

    @cached_property
    def _fine_cells(self) -> tuple[int, int]:
        """Into how many squares the floor is parted for faces that see it."""
        length, width = self._glass.length_cm, self._glass.width_cm
        return max(1, round(length / _FLOOR_CELL_CM)), max(1, round(width / _FLOOR_CELL_CM))

    @cached_property
    def _seen_floor(self) -> tuple[Light, Bools]:
        """The light on each square of the floor, and which squares are inside the tank."""
        return self._floor(self._fine_cells)

    @cached_property
    def _floor_path_m(self) -> float:
        """Mean way through water of the light on the floor. [m]"""
        return float(np.nanmean(self._seen_floor[0].path_m)) if self.sand else 0.0

    def _floor(self, cells: tuple[int, int]) -> tuple[Light, Bools]:
        """The light on an even grid over the floor, its rows along the length, and what of it is inside."""
        x, y = (
            (np.arange(count) + 0.5) * side / count
            for count, side in zip(cells, (self._glass.length_cm, self._glass.width_cm), strict=True)
        )
        plan = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
        points = np.column_stack([plan, np.zeros(len(plan))])
        return self.light(points), within(room_of(self._glass), points)


def _filmed(darker: Floats, lost: float) -> Floats:
    """What film that keeps off so much of a light does to its logarithm, by the share of a mirror lost."""
    found: Floats = -np.log1p(-np.clip(darker, 0.0, lost)) / lost
    return found
