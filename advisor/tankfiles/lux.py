"""Readings in lux turned into PAR by the colours of the lamps, where every lamp tells its own."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from advisor.errors import Related, Severity, Span
from advisor.fields.spectra import daylight, spectrum_of
from advisor.model.lighting import Colour
from advisor.model.tank import Event, Fact, Immersion, Lamp, Statement
from advisor.model.vocabulary import Measure
from advisor.tankfiles.ledger import Ledger

if TYPE_CHECKING:
    from advisor.tankfiles.entries import Reading  # which reads amounts, and these know of lux
from advisor.units import format_number

LUX = re.compile(r"(?<=\d)\s*(k?)(?:lux|lx)\b", re.IGNORECASE)
"""The unit of a reading in lux, or thousands of them, behind its number."""
_READ_PAR = "read a PAR meter, or say it in a word: low, medium, high"
_ENDS = ("best", "error", "low", "high")


def in_par(
    facts: Sequence[Fact], events: Sequence[Event], lamps: Sequence[Lamp], reading: Reading
) -> tuple[tuple[Fact, ...], tuple[Event, ...]]:
    """Return facts and events with every light told in lux as PAR; what cannot be is noted and left out.

    Parameters
    ----------
    lamps
        All lamps of the tank; the colours of each must be told.

    Notes
    -----
    Where lamps differ, which of them lit the meter is not known, so a reading
    is a range that takes in both ends. One in lux is as rough as one whose
    factor under water nobody knows; a factor that is told is not applied.
    """
    light = reading.vocabulary.measures.get("light")
    if light is None:
        return tuple(facts), tuple(events)
    turned = [
        event.model_copy(update={"facts": _each_in_par(event.facts, lamps, light, reading.ledger)})
        for event in events
    ]
    return _each_in_par(facts, lamps, light, reading.ledger), tuple(turned)


def _each_in_par(
    facts: Sequence[Fact], lamps: Sequence[Lamp], measure: Measure, ledger: Ledger
) -> tuple[Fact, ...]:
    """Facts in PAR."""
    found: list[Fact] = []
    for fact in facts:
        said = _turned(fact.said, lamps, measure, ledger) if fact.said.lux else fact.said
        if said is not None:
            found.append(fact if said is fact.said else fact.model_copy(update={"said": said}))
    return tuple(found)


def note_lux(span: Span | None, ledger: Ledger, dull: Sequence[Lamp] = ()) -> None:
    """Note that lux cannot be taken for PAR while nobody tells the colours of the light."""
    mend = _READ_PAR
    if dull:
        mend += f"; or give {dull[0].id} a spectrum, from the chart of its maker: spectrum: {{400: 5 %, …}}"
    ledger.note(
        "value-139",
        "lux is what an eye sees, and says little of PAR under a coloured lamp",
        span,
        label="under white light 54 to 76 lux are 1 PAR, under blue light 1 to 7",
        mend=mend,
        related=tuple(Related(lamp.span, "its colours are not told") for lamp in dull[:1] if lamp.span),
    )


def _turned(said: Statement, lamps: Sequence[Lamp], measure: Measure, ledger: Ledger) -> Statement | None:
    """A statement in PAR, None where that is not known."""
    dull = [lamp for lamp in lamps if _lux_per_par(lamp) is None]
    factors = [factor for lamp in lamps if (factor := _lux_per_par(lamp)) is not None]
    if dull or not factors:
        note_lux(said.span, ledger, dull)
        return None
    low, high = min(factors), max(factors)
    if said.best is not None and high > low:
        turned = [None, None, said.best / high, said.best / low]
    else:
        told = [(said.best, low), (said.error, low), (said.low, high), (said.high, low)]
        turned = [None if end is None else end / by for end, by in told]
    ends = dict(zip(_ENDS, turned, strict=True))
    for name in ("best", "low", "high"):
        end = ends[name]
        if end is not None and not measure.low <= end <= measure.high:
            what = f"{said.written} would be {format_number(end)} PAR, which cannot be"
            ledger.note("value-132", what, said.span, label="under lamps of these colours", mend=_READ_PAR)
            return None
    if said.immersion is not None and said.immersion.factor not in (None, 1.0):
        what = "a factor under water belongs to a PAR sensor, and is not applied to lux"
        ledger.note("value-141", what, said.span, mend="take it out", severity=Severity.WARNING)
    by = f"{low:.0f}" if round(low) == round(high) else f"{low:.0f} to {high:.0f}"
    return said.model_copy(
        update={
            **ends,
            "immersion": Immersion(factor=None),  # no lux meter is made for these colours, or for water
            "reckoned": (*said.reckoned, f"{said.written} at {by} lux a PAR"),
            "lux": False,
        }
    )


def _lux_per_par(lamp: Lamp) -> float | None:
    """Lux of one PAR of a lamp, None where its colours are not told."""
    if lamp.body.spectrum:
        return spectrum_of(lamp.body.spectrum).lux_per_umol()
    return daylight().lux_per_umol() if lamp.body.colour is Colour.DAYLIGHT else None
