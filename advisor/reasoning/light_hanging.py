"""Which lamps the light is reckoned from, and what a keeper would have to tell of the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from advisor.model.tank import Lamp

STRAINED = 1.5
"""Errors that readings made so many times as wide are told of."""
_WHERE = 'at: "35, 30 cm", over water: 20 cm'
_READ = (
    'or readings at places whose position is told: spots: [{id: ledge, at: "20, 35, 28 cm", light: 118 PAR}]'
)


@dataclass(frozen=True, slots=True)
class Hanging:
    """The lamps of a tank as far as light can be reckoned from them."""

    lamps: tuple[Lamp, ...]
    """Those reckoned with; none where one that shines does not tell where it hangs: all would be too dark."""
    notes: tuple[str, ...] = ()
    dark: str = ""
    """Why there is no light at all to be reckoned; empty where there is."""


def hanging(lamps: Sequence[Lamp]) -> Hanging:
    """Return which lamps count, and what is to be told of the others."""
    shining = [lamp for lamp in lamps if lamp.body.output_percent > 0.0]
    nowhere = [lamp.id for lamp in shining if not lamp.body.hangs]
    told = tuple(lamp for lamp in lamps if lamp.body.hangs)
    if lamps and not shining:
        return Hanging((), dark="what the lamps are set to by day: as told all are off, at output: 0 %")
    if told and nowhere:
        names = " and ".join(nowhere)
        what = f"where {names} hangs" if len(nowhere) == 1 else f"where {names} hang"
        note = f"{what} is not told, so the light is reckoned from readings alone: tell {_WHERE}"
        return Hanging((), (note,))
    return Hanging(told)


def untold(lamps: Sequence[Lamp]) -> tuple[str, ...]:
    """Return what would give light where neither lamp nor reading does, as short sentences."""
    where = f"where a lamp hangs: lamps: [{{id: lamp-1, {_WHERE}, size: 30 x 20 cm, photons: 350 umol/s}}]"
    return (where, _READ) if lamps else (f"the lamps, and {where}", _READ)


def strain(times: float) -> tuple[str, ...]:
    """Return what is said of errors that readings made some times as wide; nothing where they did not."""
    if times < STRAINED:
        return ()
    odd = "the readings contradict the lamps as told, or each other"
    return (f"{odd}: every error is {times:.1f} times as wide; advisor light --fit names them",)
