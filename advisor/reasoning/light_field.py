"""Light anywhere in a tank: lamps, walls, rocks and colonies, mended by what readings there are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.emitters import Emitters
from advisor.fields.fitting import Fit, Sites, Trust, fit, widened
from advisor.fields.sand_light import sand_light
from advisor.fields.tank_light import Light, light_at
from advisor.model.tank import Glass, Lamp
from advisor.reasoning.light_lamps import emitters_of, strength_doubt, water_of
from advisor.reasoning.light_numbers import LightNumbers

if TYPE_CHECKING:
    from advisor.fields.shadows import Shadows

Floats: TypeAlias = npt.NDArray[np.float64]

Z90 = 1.6448536269514722
"""Half width of a 90 % interval in standard deviations of a normal distribution."""
_LEAST_UMOL = 0.5
"""Below this a meter shows nothing; keeps logarithms finite. [µmol/m²/s]"""
_FLOOR_CELLS = (7, 4)


@dataclass(frozen=True, slots=True)
class LightReading:
    """One reading that counts: where, what, and how far it may be off beside the meter's common error."""

    label: str
    at_cm: tuple[float, float, float]
    par_umol: float
    log_sd: float
    spread_cm: float
    """How far from there the meter may have been held. [cm]"""


@dataclass(frozen=True, slots=True)
class LightHere:
    """Light at one point."""

    low: float
    """Ends of the 90 % interval. [µmol/m²/s]"""
    best: float
    high: float
    model: float
    """What lamps, walls and rocks alone lead to expect, NaN where no lamp is known. [µmol/m²/s]"""
    by_lamp: tuple[tuple[str, float], ...]
    """Share of each lamp. [1]"""
    over_walls: float
    """Share that comes over the walls. [1]"""


@dataclass(frozen=True, slots=True)
class Unread:
    """What all but the reading at a point lead to expect there, as a 90 % interval. [µmol/m²/s]"""

    low: float
    best: float
    high: float


@dataclass(frozen=True, slots=True)
class Misfit:
    """How a reading agrees with what all others and the lamps lead to expect there."""

    reading: LightReading
    expected: float
    """[µmol/m²/s]"""
    deviations: float
    """How many standard deviations it is off, above 0 where it is brighter."""


@dataclass(frozen=True, slots=True)
class Cause:
    """Something told of the tank that the readings correct."""

    name: str
    change: float
    """Against what was told: a logarithm for strengths, in its own unit else."""
    sd: float


class LightField:
    """The light of one tank, with its readings folded in.

    Parameters
    ----------
    glass
        With the height of the water.
    lamps
        Those of which it is told where they hang; none is allowed where there are readings.
    shade
        Rock and colonies, None where nothing is in the way.
    readings
        None or more.
    numbers
        The named numbers of the rule files.
    sand
        Whether the floor is pale sand.
    meter_doubt
        Error that all readings share, as a standard deviation of a logarithm.
    """

    def __init__(
        self,
        glass: Glass,
        lamps: Sequence[Lamp],
        shade: Shadows | None,
        readings: Sequence[LightReading],
        numbers: LightNumbers,
        *,
        sand: bool,
        meter_doubt: float,
    ) -> None:
        self.lamps = tuple(lamps)
        self.readings = tuple(readings)
        self._numbers = numbers
        self._shade = shade
        self._sand = sand
        self._meter_doubt = meter_doubt
        self._water = water_of(glass, lamps, numbers)
        self._glass = glass
        miss = np.hypot(numbers.model_miss, numbers.no_box_miss) if glass.outline_cm else numbers.model_miss
        self._trust = Trust(float(miss), numbers.miss_reach_cm, numbers.reading_scatter)
        if not self.lamps:
            self._trust = Trust(numbers.read_only_spread, numbers.read_only_reach_cm, numbers.reading_scatter)

    def with_readings(self, readings: Sequence[LightReading]) -> LightField:
        """Return the field of the same tank with other readings."""
        return LightField(
            self._glass, self.lamps, self._shade, readings, self._numbers,
            sand=self._sand, meter_doubt=self._meter_doubt,
        )  # fmt: skip

    # --- asked from outside

    def at(self, points_cm: Floats) -> list[LightHere]:
        """Return the light on a level face at some points in the water, shape (n, 3). [cm]"""
        sites, light = self._sites(points_cm)
        found = self._fit(sites)
        common = self._meter_doubt if self.readings else 0.0
        sd = np.sqrt((self.widened * found.log_sd) ** 2 + common**2)
        return [
            LightHere(
                low=float(np.exp(found.log_par[row] - Z90 * sd[row])),
                best=float(np.exp(found.log_par[row])),
                high=float(np.exp(found.log_par[row] + Z90 * sd[row])),
                model=float(np.exp(sites.log_par[row])) if light is not None else float("nan"),
                by_lamp=self._by_lamp(light, row),
                over_walls=_share(light.over_walls[row], light.par_umol[row]) if light else 0.0,
            )
            for row in range(len(points_cm))
        ]

    def shaded_by(self, point_cm: Floats) -> tuple[tuple[str, float], ...]:
        """Return what each body keeps off one point, the most first, as a share of the light without it."""
        whole = self._light(point_cm[None, :]).par_umol[0]
        found: list[tuple[str, float]] = []
        if self._shade is None:
            return ()
        from advisor.fields.shadows import shadows  # only where something throws one

        for each in self._shade.occluders:
            without = shadows([other for other in self._shade.occluders if other.id != each.id])
            lit = light_at(point_cm[None, :], self._emitters(), self._water, shade=without).par_umol[0]
            if lit > 0.0 and (lit - whole) / lit > 0.01:
                found.append((each.id, float((lit - whole) / lit)))
        return tuple(sorted(found, key=lambda one: (-one[1], one[0])))

    def kept_off(self, points_cm: Floats) -> Floats:
        """Return which share of the lamps' light something keeps off some points, shape (n,)."""
        light = self._light(points_cm)
        lit, unshaded = light.by_lamp.sum(axis=0), light.open_by_lamp.sum(axis=0)
        found: Floats = 1.0 - np.divide(lit, unshaded, out=np.ones(len(points_cm)), where=unshaded > 0.0)
        return found

    def times(self, points_cm: Floats, changed: Mapping[str, Lamp]) -> Floats:
        """Return how many times as bright it would be at some points with some lamps changed, shape (n,).

        What the readings say of the strength of each lamp stays.
        """
        now, then = (self._lamp_by_lamp(points_cm, other).sum(axis=0) for other in ({}, changed))
        found: Floats = np.divide(then, now, out=np.ones(len(points_cm)), where=now > 0.0)
        return found

    def shares(self, point_cm: Floats, changed: Mapping[str, Lamp]) -> tuple[tuple[str, float], ...]:
        """Return the share of each lamp in the light of one point with some lamps changed."""
        parts = self._lamp_by_lamp(point_cm[None, :], changed)[:, 0]
        return tuple(
            (lamp.id, _share(part, parts.sum())) for lamp, part in zip(self.lamps, parts, strict=True)
        )

    def _lamp_by_lamp(self, points_cm: Floats, changed: Mapping[str, Lamp]) -> Floats:
        """PAR of each lamp with the strength that the readings say it has, shape (lamps, points)."""
        strength = {cause.name: float(np.exp(cause.change)) for cause in self.causes}
        parts = [
            strength.get(lamp.id, 1.0) * self._one_lamp(points_cm, changed.get(lamp.id, lamp))
            for lamp in self.lamps
        ]
        return np.array(parts, np.float64).reshape(len(self.lamps), len(points_cm))

    def _one_lamp(self, points_cm: Floats, lamp: Lamp) -> Floats:
        """PAR of one lamp alone."""
        sent = [emitters_of(lamp, self._water.surface_cm, self._numbers)]
        light = light_at(points_cm, sent, self._water, shade=self._shade)
        found: Floats = light.par_umol + self._numbers.scattered_share * light.open_by_lamp.sum(axis=0)
        return found

    @cached_property
    def misfits(self) -> tuple[Misfit, ...]:
        """Each reading against what everything else leads to expect there; none where there is but one."""
        if not self.readings or (len(self.readings) == 1 and not self.lamps):
            return ()
        found = self._of_readings
        said = np.log([each.par_umol for each in self.readings])
        return tuple(
            Misfit(each, float(np.exp(said[row] - found.left_out[row])),
                   float(found.left_out[row] / found.left_out_sd[row]))
            for row, each in enumerate(self.readings)
        )  # fmt: skip

    def unread(self, label: str) -> Unread | None:
        """Return what is expected where a reading was taken without it; None where nothing else tells."""
        row = next((at for at, each in enumerate(self.misfits) if each.reading.label == label), None)
        if row is None:
            return None
        found, misfit = self._of_readings, self.misfits[row]
        own = max(misfit.reading.log_sd, self._trust.reading)
        common = self._meter_doubt if len(self.readings) > 1 else 0.0
        wide = Z90 * float(np.sqrt(max(found.left_out_sd[row] ** 2 - own**2, 0.0) + common**2))
        best = misfit.expected
        return Unread(best * float(np.exp(-wide)), best, best * float(np.exp(wide)))

    @cached_property
    def _of_readings(self) -> Fit:
        """The field where the readings were taken."""
        return self._fit(self._read[0])

    @cached_property
    def causes(self) -> tuple[Cause, ...]:
        """What the readings correct of lamps, water and walls."""
        found = self._of_readings
        return tuple(
            Cause(name, float(found.causes[row]), self.widened * float(found.causes_sd[row]))
            for row, (name, _) in enumerate(self._doubts())
        )

    @cached_property
    def widened(self) -> float:
        """How many times as wide errors are because readings contradict the lamps or each other. [1]"""
        surprise = self._of_readings.surprise if self.readings else 0.0
        return widened(surprise, len(self.readings), self._numbers.trust_in_doubts)

    @property
    def kd_per_m(self) -> float:
        """Attenuation that is believed before any reading. [1/m]"""
        return self._water.kd_per_m

    # --- the model

    def _emitters(self, beam: float = 1.0, raised_cm: float = 0.0) -> list[Emitters]:
        """The lamps, their beams and heights changed alike."""
        surface = self._water.surface_cm
        return [emitters_of(lamp, surface, self._numbers, beam, raised_cm) for lamp in self.lamps]

    def _light(self, points_cm: Floats) -> Light:
        return light_at(points_cm, self._emitters(), self._water, shade=self._shade)

    def _sites(self, points_cm: Floats) -> tuple[Sites, Light | None]:
        """Points with what the model says there and how that would change."""
        if not self.lamps:
            said = [each.par_umol for each in self.readings]
            middle = np.full(len(points_cm), float(np.mean(np.log(said))) if said else 0.0)
            return Sites(points_cm, middle, np.zeros((len(points_cm), 0))), None
        light = self._light(points_cm)
        unshaded = light.open_by_lamp.sum(axis=0)
        lit = light.by_lamp + self._numbers.scattered_share * light.open_by_lamp
        par = lit.sum(axis=0) + self._from_sand(points_cm)
        log_par = np.log(np.maximum(par, _LEAST_UMOL))
        with np.errstate(divide="ignore", invalid="ignore"):
            shares = np.nan_to_num(lit / lit.sum(axis=0))
            walls = np.nan_to_num(light.by_wall / light.par_umol)
            turned = [
                np.nan_to_num(np.log(light_at(points_cm, other, self._water).par_umol / unshaded))
                for other in (
                    self._emitters(beam=1.0 - self._numbers.beam_doubt),
                    self._emitters(raised_cm=self._numbers.hang_doubt_cm),
                )
            ]
        effects = np.column_stack([np.ones(len(points_cm)), shares.T, -light.path_m, walls.T, *turned])
        return Sites(points_cm, log_par, effects), light

    def _from_sand(self, points_cm: Floats) -> Floats:
        """What pale sand throws back."""
        if not self._sand:
            return np.zeros(len(points_cm))
        return sand_light(points_cm, self._water, self._numbers.sand_share, self._on_floor)

    @cached_property
    def _on_floor(self) -> float:
        """Mean light on the floor. [µmol/m²/s]"""
        x, y = (
            (np.arange(count) + 0.5) * side / count
            for count, side in zip(_FLOOR_CELLS, (self._glass.length_cm, self._glass.width_cm), strict=True)
        )
        floor = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
        return float(np.nanmean(self._light(np.column_stack([floor, np.zeros(len(floor))])).par_umol))

    def _doubts(self) -> list[tuple[str, float]]:
        """Every cause that may be off, and by how much; in the order of the effects of `Sites`."""
        if not self.lamps:
            return []
        of_strength = max(strength_doubt(lamp, self._numbers) for lamp in self.lamps)
        sides = self._glass.walls
        states = {"left": sides.left, "right": sides.right, "front": sides.front, "back": sides.back}
        doubt = self._numbers.wall_doubt
        walls = [(f"{side} wall", doubt if state is None else doubt / 2.0) for side, state in states.items()]
        return [
            ("all lamps", of_strength),
            *((lamp.id, self._numbers.lamp_doubt) for lamp in self.lamps),
            ("water", self._numbers.kd_doubt_per_m),
            *walls,
            ("beam", 1.0),
            ("height", 1.0),
        ]

    # --- the readings

    @cached_property
    def _read(self) -> tuple[Sites, Floats]:
        """The readings' points, and how much the field changes there where a hand wavers."""
        at = np.array([each.at_cm for each in self.readings], np.float64).reshape(-1, 3)
        sites, _ = self._sites(at)
        if not self.lamps:
            return sites, np.zeros(len(at))
        wide = np.array([max(each.spread_cm, self._numbers.hand_waver_cm) for each in self.readings])
        sides = (self._glass.length_cm, self._glass.width_cm)
        moved = []
        for axis in (0, 1):
            for sign in (1.0, -1.0):
                there = at.copy()
                there[:, axis] += sign * wide
                there[:, axis] = np.clip(there[:, axis], 0.1, sides[axis] - 0.1)
                light = self._light(there)
                lit = light.by_lamp + self._numbers.scattered_share * light.open_by_lamp
                moved.append(np.log(np.maximum(lit.sum(axis=0), _LEAST_UMOL)) - sites.log_par)
        return sites, np.sqrt(np.mean(np.square(moved), axis=0))

    def _fit(self, sites: Sites) -> Fit:
        """The field at some points after all readings."""
        read, placing = self._read
        said = np.log([each.par_umol for each in self.readings]) if self.readings else np.zeros(0)
        own = np.array([each.log_sd for each in self.readings])
        extra = np.sqrt(placing**2 + np.clip(own**2 - self._trust.reading**2, 0.0, None))
        doubt = np.array([sd for _, sd in self._doubts()])
        return fit(sites, read, said, extra, doubt, self._trust)

    def _by_lamp(self, light: Light | None, row: int) -> tuple[tuple[str, float], ...]:
        if light is None:
            return ()
        total = light.by_lamp[:, row].sum()
        return tuple((lamp.id, _share(light.by_lamp[at, row], total)) for at, lamp in enumerate(self.lamps))


def _share(part: float, whole: float) -> float:
    return float(part / whole) if whole > 0.0 else 0.0
