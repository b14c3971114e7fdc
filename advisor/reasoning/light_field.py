"""Light anywhere in a tank: lamps, walls, rocks and colonies, mended by what readings there are."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import numpy.typing as npt

from advisor.fields.fitting import Fit, Sites, Trust, fit, widened
from advisor.fields.tank_light import Light
from advisor.model.lighting import WaterLook
from advisor.model.tank import Glass, Lamp
from advisor.reasoning.light_age import AGELESS, LampAges
from advisor.reasoning.light_lamps import by_side, strength_doubt
from advisor.reasoning.light_model import LEAST_UMOL, LampLight, OnFaces
from advisor.reasoning.light_numbers import Z90, LightNumbers
from advisor.reasoning.light_values import Cause, LightHere, LightReading, Misfit, OnFace, Unread, spanning

if TYPE_CHECKING:
    from advisor.fields.shadows import Shadows

Floats: TypeAlias = npt.NDArray[np.float64]

FADING = "fading of all lamps"
"""The cause that makes all lamps fade faster or slower than told, each by what it has lost."""

_FAR_CM = 1e6
"""Away from every reading."""


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
    look
        How clear the water is to the eye.
    meter_doubt
        Error that all readings share, as a standard deviation of a logarithm.
    ages
        How the lamps have aged.
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
        look: WaterLook,
        meter_doubt: float,
        ages: LampAges = AGELESS,
    ) -> None:
        self.lamps = tuple(lamps)
        self.readings = tuple(readings)
        self._numbers = numbers
        self._meter_doubt = meter_doubt
        self._model = LampLight(glass, self.lamps, shade, numbers, sand=sand, look=look, ages=ages)
        self._glass = glass
        self._other: LightField | None = None
        miss = math.hypot(numbers.model_miss, numbers.no_box_miss * self._model.box_adds)
        self._trust = Trust(miss, numbers.miss_reach_cm, numbers.reading_scatter)
        if not self.lamps:
            self._trust = Trust(numbers.read_only_spread, numbers.read_only_reach_cm, numbers.reading_scatter)

    def with_readings(self, readings: Sequence[LightReading]) -> LightField:
        """Return the field of the same tank with other readings."""
        return LightField(
            self._glass, self.lamps, self._model.shade, readings, self._numbers, sand=self._model.sand,
            look=self._model.look, meter_doubt=self._meter_doubt, ages=self._model.ages,
        )  # fmt: skip

    def beside(self, other: LightField) -> LightField:
        """Return this field with intervals that take in those of another one that cannot be ruled out."""
        found = self.with_readings(self.readings)
        found._other = other
        return found

    # --- asked from outside

    def at(self, points_cm: Floats) -> list[LightHere]:
        """Return the light on a level face at some points in the water, shape (n, 3). [cm]"""
        sites, light = self._sites(points_cm)
        found = self._fit(sites)
        sd = np.hypot(self.widened * found.log_sd, self._common)
        here = [
            LightHere(
                *_interval(found.log_par[row], sd[row]),
                model=float(np.exp(sites.log_par[row])) if light is not None else float("nan"),
                by_lamp=self._by_lamp(light, row),
                over_walls=_share(light.over_walls[row], light.par_umol[row]) if light else 0.0,
            )
            for row in range(len(points_cm))
        ]
        return here if self._other is None else spanning(here, self._other.at(points_cm))

    def on_faces(self, points_cm: Floats, facing: Floats) -> list[OnFace]:
        """Return the light on turned faces at some points, mended by the readings as that on level ones is.

        Parameters
        ----------
        points_cm, facing
            Shape (n, 3) each; outward unit normals. [cm, 1]

        Returns
        -------
        One a face, none at all where no lamp is known: readings do not say from where light comes.
        """
        if not self.lamps or not len(points_cm):
            return []
        said = self._model.on_faces(points_cm, facing)
        here = self._spanned(self._fit(said.sites), said, self._common)
        return here if self._other is None else spanning(here, self._other.on_faces(points_cm, facing))

    def _spanned(self, found: Fit, said: OnFaces, common: float) -> list[OnFace]:
        """What a fit says of faces, with the doubt of the sand and an error they share."""
        of_sand = self._numbers.sand_doubt * said.sand
        sd = np.sqrt((self.widened * found.log_sd) ** 2 + common**2 + of_sand**2)
        return [
            OnFace(*_interval(found.log_par[row], sd[row]), sand=float(said.sand[row]))
            for row in range(len(sd))
        ]

    def shares_on_faces(self, points_cm: Floats, facing: Floats) -> list[OnFace]:
        """Return what turned faces get of the light on a level face at the same points. [1]

        Parameters
        ----------
        points_cm, facing
            Shape (n, 3) each; outward unit normals. [cm, 1]

        Returns
        -------
        One a face, with a 90 % interval; none at all where no lamp is known. What moves both alike falls
        out; what moves the face more than the level stays, and what the model misses of the way light comes.
        """
        if not self.lamps or not len(points_cm):
            return []
        level, _ = self._sites(points_cm)
        said = self._model.on_faces(points_cm, facing)
        face = said.sites
        found = self._fit(
            Sites(points_cm + _FAR_CM, face.log_par - level.log_par, face.effects - level.effects)
        )
        here = self._spanned(found, said, 0.0)
        return here if self._other is None else spanning(here, self._other.shares_on_faces(points_cm, facing))

    @property
    def told_from(self) -> float:
        """A face is told apart from level ground where its light differs by more than this share. [1]"""
        return self._numbers.face_told_from

    @property
    def ages(self) -> LampAges:
        """How the lamps have aged."""
        return self._model.ages

    @property
    def _common(self) -> float:
        """Error that all readings share, as a standard deviation of a logarithm; none without readings."""
        return self._meter_doubt if self.readings else 0.0

    def shaded_by(self, point_cm: Floats) -> tuple[tuple[str, float], ...]:
        """Return what each body keeps off one point, the most first, as a share of the light without it."""
        if self._model.shade is None:
            return ()
        whole = float(self._model.light(point_cm[None, :]).par_umol[0])
        found: list[tuple[str, float]] = []
        for each in self._model.shade.occluders:
            lit = self._model.without(point_cm, each.id)
            if lit > 0.0 and (lit - whole) / lit > 0.01:
                found.append((each.id, (lit - whole) / lit))
        return tuple(sorted(found, key=lambda one: (-one[1], one[0])))

    def kept_off(self, points_cm: Floats) -> Floats:
        """Return which share of the lamps' light something keeps off some points, shape (n,)."""
        light = self._model.light(points_cm)
        lit, unshaded = light.by_lamp.sum(axis=0), light.open_by_lamp.sum(axis=0)
        found: Floats = 1.0 - np.divide(lit, unshaded, out=np.ones(len(points_cm)), where=unshaded > 0.0)
        return found

    def told_shares(self, points_cm: Floats) -> list[dict[str, float]]:
        """Return the part of each lamp as told in the light of some points, shape (n, 3). [1]"""
        lit = self._model.light(points_cm).by_lamp
        names = [lamp.id for lamp in self.lamps]
        return [dict(zip(names, parts.tolist(), strict=True)) for parts in lit.T]

    def times(self, points_cm: Floats, changed: Mapping[str, Lamp]) -> Floats:
        """Return how many times as bright it would be at some points with some lamps changed, shape (n,).

        What the readings say of the strength of each lamp stays.
        """
        now, then = (self._lamp_by_lamp(points_cm, other).sum(axis=0) for other in ({}, changed))
        found: Floats = np.divide(then, now, out=np.ones(len(points_cm)), where=now > 0.0)
        return found

    def times_on_faces(self, points_cm: Floats, facing: Floats, changed: Mapping[str, Lamp]) -> Floats:
        """Return how many times as bright turned faces would be with some lamps changed, shape (n,)."""
        strength = self._strengths[:, None]
        now, then = (
            (strength * model.on_faces(points_cm, facing).by_lamp).sum(axis=0)
            for model in (self._model, self._model.with_lamps(changed))
        )
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
        parts = [
            times * self._model.of_lamp(points_cm, changed.get(lamp.id, lamp))
            for lamp, times in zip(self.lamps, self._strengths, strict=True)
        ]
        return np.array(parts, np.float64).reshape(len(self.lamps), len(points_cm))

    @cached_property
    def _strengths(self) -> Floats:
        """How many times as strong each lamp is beside the others as told, shape (lamps,). [1]"""
        changes = {cause.name: cause.change for cause in self.causes}
        found: Floats = np.exp([changes[lamp.id] for lamp in self.lamps]) if self.lamps else np.ones(0)
        return found * np.exp(changes.get(FADING, 0.0) * self._fading)

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
        return self._model.water.kd_per_m

    # --- the model

    def _sites(self, points_cm: Floats) -> tuple[Sites, Light | None]:
        """Points with what the model says there and how that would change."""
        if self.lamps:
            return self._model.sites(points_cm)
        said = [each.par_umol for each in self.readings]
        middle = np.full(len(points_cm), float(np.mean(np.log(said))) if said else 0.0)
        return Sites(points_cm, middle, np.zeros((len(points_cm), 0))), None

    def _doubts(self) -> list[tuple[str, float]]:
        """Every cause that may be off, and by how much; in the order of the effects of `Sites`."""
        if not self.lamps:
            return []
        of_strength = max(strength_doubt(lamp, self._numbers) for lamp in self.lamps)
        doubt, of_one = self._numbers.wall_doubt, self._numbers.lamp_doubt
        walls = [
            (f"{side} wall", doubt if state is None else doubt / 2.0)
            for side, state in by_side(self._glass.walls).items()
        ]
        return [
            ("all lamps", of_strength),
            *((lamp.id, math.hypot(of_one, self.ages.own_log_sd(lamp.id))) for lamp in self.lamps),
            ("water", self._numbers.kd_doubt_per_m),
            *walls,
            ("beam", 1.0),
            ("height", 1.0),
            (FADING, 1.0),
        ]

    @cached_property
    def _fading(self) -> Floats:
        """How doubtful the fading of each lamp is, as a logarithm: all fade for one cause, shape (lamps,)."""
        return np.array([self.ages.log_sd(lamp.id) for lamp in self.lamps], np.float64)

    def _faded(self, sites: Sites) -> Sites:
        """Points with what they would lose if all lamps had faded less, each by its share."""
        if not self.lamps:
            return sites
        return _with(sites, (sites.effects[:, 1 : 1 + len(self.lamps)] @ self._fading)[:, None])

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
                lit = self._model.lit(self._model.light(there))
                moved.append(np.log(np.maximum(lit.sum(axis=0), LEAST_UMOL)) - sites.log_par)
        return sites, np.sqrt(np.mean(np.square(moved), axis=0))

    def _fit(self, sites: Sites) -> Fit:
        """The field at some points after all readings."""
        (read, placing), sites = self._read, self._faded(sites)
        said = np.log([each.par_umol for each in self.readings]) if self.readings else np.zeros(0)
        own = np.array([each.log_sd for each in self.readings])
        extra = np.sqrt(placing**2 + np.clip(own**2 - self._trust.reading**2, 0.0, None))
        shared = self._shared()
        doubt = np.array([*(sd for _, sd in self._doubts()), *np.ones(shared.shape[1])])
        sites = _with(sites, np.zeros((len(sites.log_par), shared.shape[1])))
        return fit(sites, _with(self._faded(read), shared), said, extra, doubt, self._trust)

    def _shared(self) -> Floats:
        """What some readings may be off together, shape (readings, causes); it says nothing of the field."""
        parts = [dict(each.shared) for each in self.readings]
        names = sorted({name for part in parts for name in part})
        found = [[part.get(name, 0.0) for name in names] for part in parts]
        return np.array(found, np.float64).reshape(len(parts), len(names))

    def _by_lamp(self, light: Light | None, row: int) -> tuple[tuple[str, float], ...]:
        if light is None:
            return ()
        total = light.by_lamp[:, row].sum()
        return tuple((lamp.id, _share(light.by_lamp[at, row], total)) for at, lamp in enumerate(self.lamps))


def _with(sites: Sites, effects: Floats) -> Sites:
    """Sites with the effects of more causes."""
    return Sites(sites.at_cm, sites.log_par, np.hstack([sites.effects, effects]))


def _interval(log: float, sd: float) -> tuple[float, float, float]:
    """Low end, middle and high end at 90 % of a value told by its logarithm."""
    low, best, high = np.exp(log + Z90 * sd * np.array([-1.0, 0.0, 1.0]))
    return float(low), float(best), float(high)


def _share(part: float, whole: float) -> float:
    return float(part / whole) if whole > 0.0 else 0.0
