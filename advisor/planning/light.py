"""Questions about light: at one point, lamps as they are or changed; and what readings say of the lamps."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

import numpy as np

from advisor.errors import Problem, QuantityError, unusable
from advisor.fields.doses import dose_mol
from advisor.fields.rooms import holds as in_room
from advisor.fields.rooms import room_of
from advisor.language.sheets import HandlingKind
from advisor.model.cells import NumberCell
from advisor.model.lightanswer import (
    LampFit,
    LampShare,
    LightAnswer,
    LightFitAnswer,
    NearReading,
    OwnReading,
    ReadingFit,
    Shading,
)
from advisor.model.tank import Lamp, Statement
from advisor.planning.desk import Desk
from advisor.planning.light_faces import face_light, no_sand, untold_faces
from advisor.reasoning.light_age import named, reading_notes, since_then, today
from advisor.reasoning.light_field import FADING
from advisor.reasoning.light_lamps import photons_of
from advisor.reasoning.light_numbers import Z90, light_numbers
from advisor.reasoning.light_places import rock_bodies
from advisor.reasoning.light_values import Unread
from advisor.reasoning.light_world import LightWorld, light_world
from advisor.reasoning.survey_computed import known
from advisor.reasoning.survey_facts import collect, factor_step, together
from advisor.reasoning.survey_meter import factor_doubt
from advisor.reasoning.survey_rows import place_of
from advisor.reasoning.survey_values import Reader
from advisor.units import UNITS, Dimension, format_number, parse_quantity

_NEAR = 3
PHOTOPERIOD = "photoperiod"
COVERED = "it is under cover, and no rock told here keeps light off it: it is darker than this"


def light_here(desk: Desk, place: str, settings: Sequence[str] = ()) -> LightAnswer:
    """Return the light at a spot, at an animal or at a position.

    Parameters
    ----------
    place
        Id of a spot or an animal, or three numbers such as ``40, 30, 20 cm``.
    settings
        Lamps as they would be: ``left-lamp=80%`` or ``left-lamp=25 cm`` (over water).

    Raises
    ------
    UnusableInput
        If there is no such place or lamp, or a point is not in the water.
    """
    world = light_world(desk.tank, desk.library, desk.on)
    changed = _changed(desk, settings)
    if changed and world.field is None:  # all lamps are off: how it would be is asked
        lamps = tuple(changed.get(lamp.id, lamp) for lamp in desk.tank.lamps)
        world = light_world(desk.tank.model_copy(update={"lamps": lamps}), desk.library, desk.on)
    if changed and world.field is not None and not world.field.lamps:
        what = "no lamp can be changed where light is reckoned from readings alone"
        raise unusable((Problem("ask-413", what, mend="; ".join(world.notes[:1])),))
    key, at, moved = _where(desk, world, place)
    own = _own(desk, world, key)
    if world.field is None or at is None:
        missing = world.missing or (_no_point(world, key),)
        return LightAnswer(place=place, missing=missing, notes=world.notes, own=own)
    field = world.field
    here = field.at(np.array([at]))[0]
    ratio = field.times(np.array([at]), changed)[0] if changed else 1.0
    shares = field.shares(np.array(at), changed) if changed else here.by_lamp
    dose = _dose(desk, shares)
    rest = world.rest_at(key)
    on_face = own if own is not None and own.at_face else None
    face = face_light(world, key, changed, field.told_from, on_face)
    agrees = _agrees(rest, own)
    low, best, high = here.low, here.best, here.high
    if rest is not None and own is not None and on_face is None and not agrees:
        low, best, high = (
            min(own.low, rest.low),
            (rest.best if world.is_odd(key) else own.best),
            max(own.high, rest.high),
        )
    low, best, high = (_possible(desk, each) for each in (low, best, high))
    of_day = (face.low, face.high) if face is not None and face.counts else (low * ratio, high * ratio)
    return LightAnswer(
        place=place,
        at_cm=at,
        low=low * ratio,
        best=best * ratio,
        high=high * ratio,
        face=face,
        model=None if math.isnan(here.model) else here.model,
        before=best if changed else None,
        dose_low=dose and of_day[0] * dose[0],
        dose_high=dose and of_day[1] * dose[0],
        hours=dose[1] if dose else "",
        by_lamp=tuple(LampShare(lamp=lamp, percent=100.0 * share) for lamp, share in shares),
        over_walls_percent=100.0 * here.over_walls,
        shaded=tuple(Shading(body=body, percent=100.0 * off) for body, off in field.shaded_by(np.array(at))),
        readings=len(field.readings) + len(world.odd),
        near=_near(world, at),
        agrees=agrees,
        moved_cm=moved,
        changed=tuple(settings),
        cautions=_of_lamps(desk) if changed else (),
        at_most=key in world.covered or key in world.dark,
        notes=(
            *((COVERED,) if key in world.covered - world.dark else ()),
            *no_sand(world, face),
            *untold_faces(world, key),
            *world.notes,
            *reading_notes(world.since, [each.label for each in field.readings]),
        ),
        own=own,
    )


def _possible(desk: Desk, par_umol: float) -> float:
    """Light no brighter than it can be."""
    measure = desk.library.vocabulary.measures.get("light")
    return par_umol if measure is None else min(par_umol, measure.high)


def light_fit(desk: Desk) -> LightFitAnswer:
    """Return what the readings say of lamps, water and each other."""
    world = light_world(desk.tank, desk.library, desk.on)
    field, numbers = world.field, light_numbers(desk.library)
    if field is None or numbers is None:
        return LightFitAnswer(missing=world.missing, notes=world.notes)
    causes = {cause.name: cause for cause in field.causes}
    lamps = []
    for lamp in field.lamps:
        together, alone = causes["all lamps"], causes[lamp.id]
        fading, by = causes[FADING], field.ages.log_sd(lamp.id)
        change = together.change + alone.change + by * fading.change
        sd = math.hypot(together.sd, alone.sd, by * fading.sd)
        change += math.log(field.ages.kept(lamp.id))
        ends = [math.exp(change + sign * Z90 * sd) for sign in (-1.0, 0.0, 1.0)]
        lamps.append(
            LampFit(lamp=lamp.id, photons_umol_per_s=photons_of(lamp, numbers) * ends[1], times_low=ends[0],
                    times=ends[1], times_high=ends[2])
        )  # fmt: skip
    water = causes.get("water")
    found = [
        ReadingFit(
            place=each.reading.label,
            par_umol=each.reading.par_umol,
            expected_umol=each.expected,
            deviations=each.deviations,
            odd=abs(each.deviations) > numbers.odd_from,
            set_aside=aside,
        )
        for misfits, aside in ((field.misfits, False), (world.odd, True))
        for each in misfits
    ]
    labels = [*(each.label for each in field.readings), *(each.reading.label for each in world.odd)]
    errors = [math.log(each.par_umol / each.expected_umol) for each in found]
    return LightFitAnswer(
        lamps=tuple(lamps),
        kd_low=max(field.kd_per_m + water.change - Z90 * water.sd, 0.0) if water else None,
        kd=max(field.kd_per_m + water.change, 0.0) if water else None,
        kd_high=field.kd_per_m + water.change + Z90 * water.sd if water else None,
        readings=tuple(sorted(found, key=lambda each: -abs(each.deviations))),
        rms_percent=100.0 * math.sqrt(sum(each**2 for each in errors) / len(errors)) if errors else None,
        notes=(*world.notes, *_meter_notes(desk, labels), *reading_notes(world.since, labels)),
    )


# --- where


def _no_point(world: LightWorld, key: str) -> str:
    """What a keeper would have to tell of a place to know its light."""
    rock = world.buried.get(key)
    if rock is not None:
        return f"where this place is: as told it lies inside {rock}; mend its position or that of {rock}"
    return 'where this place is, to a hand\'s width: at: "20, 35, 28 cm"'


def _where(desk: Desk, world: LightWorld, place: str) -> tuple[str, tuple[float, float, float] | None, float]:
    """The key of a place, the point that stands for it, and how far it was moved onto rock."""
    if re.match(r"^\s*[\d.]", place):
        return "", _in_the_open(desk, _position(desk, place)), 0.0
    spots = {spot.id: spot.id for spot in desk.tank.spots}
    animals = {animal.id: animal.spot or place_of(animal.id) for animal in desk.tank.animals}
    key = {**animals, **spots}.get(place.strip())
    if key is None:
        known = ", ".join([*spots][:6]) or "none yet"
        mend = f"spots here: {known}; or a position: 40, 30, 20 cm"
        raise unusable((Problem("ask-411", f"there is no place '{place}' in this tank", mend=mend),))
    point = world.point(key)
    return key, point.at_cm if point else None, point.moved_cm if point else 0.0


def _in_the_open(desk: Desk, at: tuple[float, float, float]) -> tuple[float, float, float]:
    """A point that lies in no rock."""
    bodies = rock_bodies(desk.tank)
    if not bodies:
        return at
    from advisor.fields.footholds import holds, upward_faces_cm  # brings a mesh library

    for name, body in bodies.items():
        if holds(body, at):
            top = max(upward_faces_cm([body], at[0], at[1]), default=at[2])
            mend = f'on top of it: "{at[0]:g}, {at[1]:g}, {math.ceil(top)} cm"'
            raise unusable((Problem("ask-412", f"this point lies inside {name}", mend=mend),))
    return at


def _position(desk: Desk, text: str) -> tuple[float, float, float]:
    """Three lengths, in the water."""
    parts = [part for part in re.split(r"\s*[,;]\s*", text.strip()) if part]
    unit = re.search(r"[A-Za-z\"]+$", text.strip())
    try:
        if len(parts) != 3:
            raise QuantityError(f"a position has three numbers, x, y and z; here are {len(parts)}")
        whole = [
            p if re.search(r"[A-Za-z\"]$", p) else f"{p} {unit.group() if unit else 'cm'}" for p in parts
        ]
        found = [parse_quantity(part) for part in whole]
        if any(each.unit.dimension is not Dimension.LENGTH for each in found):
            raise QuantityError(f"'{text}' is not a position")
        x, y, z = (each.base for each in found)
    except QuantityError as fault:
        raise unusable((Problem("ask-412", str(fault), mend="40, 30, 20 cm"),)) from fault
    glass = desk.tank.glass
    water = 0.0 if glass is None else glass.height_cm if glass.water_cm is None else glass.water_cm
    if glass is not None and not (0 <= x <= glass.length_cm and 0 <= y <= glass.width_cm and 0 <= z < water):
        inside = f"0 to {glass.length_cm:g}, 0 to {glass.width_cm:g} and 0 to {water:g} cm"
        raise unusable((Problem("ask-412", f"{text} is not in the water", mend=f"stay within {inside}"),))
    if glass is not None and glass.outline_cm and not in_room(room_of(glass), x, y, z):
        mend = "stay within the outline of the glass"
        raise unusable((Problem("ask-412", f"{text} is outside the glass, which is no box", mend=mend),))
    return x, y, z


# --- lamps


def _of_lamps(desk: Desk) -> tuple[str, ...]:
    """What a person must mind before a lamp over water is touched, as the handling sheets say it."""
    lines = (line for sheet in desk.library.handlings.values() for line in sheet.lines)
    wanted = [line for line in lines if line.kind is HandlingKind.SAFE and line.actions == ("power",)]
    return tuple(dict.fromkeys(line.text for line in wanted))


def _changed(desk: Desk, settings: Sequence[str]) -> dict[str, Lamp]:
    """The lamps that a what-if changes, as they would be."""
    lamps = {lamp.id: lamp for lamp in desk.tank.lamps}
    changed: dict[str, Lamp] = {}
    for setting in settings:
        name, _, value = (part.strip() for part in setting.partition("="))
        lamp = changed.get(name) or lamps.get(name)
        if lamp is None:
            known = ", ".join(lamps) or "none yet"
            mend = f"lamps here: {known}"
            raise unusable((Problem("ask-413", f"there is no lamp '{name}' in this tank", mend=mend),))
        if not lamp.body.hangs:
            mend = f"lamps: {{id: {name}, at: 35, 30 cm, over water: 20 cm}}"
            what = f"where '{name}' hangs is not told, so nothing is known of its light"
            raise unusable((Problem("ask-413", what, mend=mend),))
        try:
            quantity = parse_quantity(value)
        except QuantityError as fault:
            raise unusable((Problem("ask-414", str(fault), mend=f"--lamp {name}=80%"),)) from fault
        update = _update(quantity.base, quantity.unit.dimension)
        if update is None:
            what = f"'{value}' is neither an output nor a height over the water"
            raise unusable((Problem("ask-414", what, mend=f"--lamp {name}=80% or --lamp {name}=25cm"),))
        changed[name] = lamp.model_copy(update={"body": lamp.body.model_copy(update=update)})
    return changed


def _update(value: float, dimension: Dimension) -> dict[str, float] | None:
    if dimension is Dimension.PERCENT and 0.0 <= value <= 100.0:
        return {"output_percent": value}
    if dimension is Dimension.LENGTH and value > 0.0:
        return {"over_water_cm": value}
    return None


def _dose(desk: Desk, by_lamp: Sequence[tuple[str, float]]) -> tuple[float, str] | None:
    """Dose for each unit of PAR, and how long the lamps shine in words. [mol/m²/d for 1 µmol/m²/s]"""
    programmes = {lamp.id: lamp.body.programme for lamp in desk.tank.lamps}
    shares = [(programmes.get(lamp, ()), share) for lamp, share in by_lamp]
    if shares and all(programme for programme, _ in shares):
        each = [share * dose_mol(1.0, [(hour, percent / 100.0) for hour, percent in programme])
                for programme, share in shares]  # fmt: skip
        return sum(each), "by the programme of each lamp"
    said = collect(desk.tank, desk.library.vocabulary, desk.on).of(PHOTOPERIOD, "tank")
    hours = said[0].best if said else None
    if hours is None:
        return None
    full = hours / UNITS["hours"].factor
    words = f"{format_number(full)} hours at full output; ramps would make it less"
    return dose_mol(1.0, ((0.0, 1.0), (min(full, 24.0), 1.0))), words


# --- readings


def _own(desk: Desk, world: LightWorld, key: str) -> OwnReading | None:
    """What the keeper read at this very place and still counts, as it counts today."""
    vocabulary = desk.library.vocabulary
    measure, facts = vocabulary.measures.get("light"), collect(desk.tank, vocabulary, desk.on)
    said = together(facts.of("light", key)) if key and measure is not None else ()
    if measure is None or not said or said[0].best is None:
        return None
    reader = Reader(vocabulary, desk.library.words, desk.on, factor_doubt(desk.library, facts))
    cell = reader.cell(measure, said)
    if not isinstance(cell, NumberCell) or cell.best is None or not known(cell):
        return None
    since = world.since.get(key)
    found = cell if since is None else today(cell, since, measure)
    steps = [step for each in said for step in reader.factors.as_read(measure, each)[1].reckoned]
    steps += [since_then(cell, since, measure)] if since is not None else []
    return OwnReading(
        low=found.low,
        best=found.best or 0.0,
        high=found.high,
        reckoned=tuple(dict.fromkeys(steps)),
        at_face=key in world.turned or key in world.under,
    )


def _meter_notes(desk: Desk, places: Sequence[str]) -> list[str]:
    """How readings became what counts, those that became so alike in one line."""
    vocabulary = desk.library.vocabulary
    measure, facts = vocabulary.measures.get("light"), collect(desk.tank, vocabulary, desk.on)
    factors = factor_doubt(desk.library, facts)
    alike: dict[str, list[str]] = {}
    told = [(place, said) for place in places for said in together(facts.of("light", place))]
    for place, said in told:
        read = said if measure is None else factors.as_read(measure, said)[1]
        for step in _in_short(read):
            alike.setdefault(step, []).append(place)
    return [f"{step}: {named(tuple(dict.fromkeys(names)))}" for step, names in alike.items()]


def _in_short(said: Statement) -> tuple[str, ...]:
    """How a reading became what counts, in words that fit all that its meter showed."""
    factor = said.immersion.factor if said.immersion is not None else None
    if factor is None or factor == 1.0:
        return said.reckoned
    meter = said.how.split(",")[0].strip() or "the meter"
    short = f"what {meter} showed × {factor:g} under water"
    return tuple(short if factor_step(factor) in step else step for step in said.reckoned)


def _agrees(unread: Unread | None, own: OwnReading | None) -> bool | None:
    """Whether a reading lies where all the rest leads to expect it; None where nothing else tells."""
    return None if own is None or unread is None else own.low <= unread.high and unread.low <= own.high


def _near(world: LightWorld, at: tuple[float, float, float]) -> tuple[NearReading, ...]:
    """The readings next to a point."""
    kept = world.field.readings if world.field is not None else ()
    found = [
        NearReading(place=each.label, par_umol=each.par_umol, apart_cm=math.dist(each.at_cm, at), odd=odd)
        for readings, odd in ((kept, False), ([each.reading for each in world.odd], True))
        for each in readings
    ]
    return tuple(sorted(found, key=lambda each: (each.apart_cm, each.place))[:_NEAR])
