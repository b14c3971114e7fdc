"""The whole line by which a keeper could accept a finding, ready to be pasted into a house file."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

from advisor.errors import Span
from advisor.language.format_house import pasteable
from advisor.language.house_state import is_caution
from advisor.language.library import Library
from advisor.language.nodes import HouseEdit, HouseVerb, Level
from advisor.model.results import Reason, Verdict
from advisor.model.tank import Phase, Tank
from advisor.planning.accepts import TANK_SUBJECT, accepts_of, places_of, same_things, shortfall, things_of
from advisor.planning.dates import months_on

PROPOSED_MONTHS = 6
"""How long a suggested accept counts: a keeper may write any other day. [months]"""
_OPEN = (Verdict.FAILS, Verdict.UNDECIDED)


def with_line(reason: Reason, library: Library, tank: Tank) -> Reason:
    """Return a finding of the tank as it stands with the whole line that would accept it, where one can."""
    rule = library.rules.get(reason.rule)
    stood = _stood(reason, tank)
    short = shortfall(reason)
    if (
        rule is None
        or stood is None
        or reason.verdict not in _OPEN
        or reason.until is not None
        or is_caution(rule, library)
        or (rule.level is Level.DANGER and _somewhere(reason, stood, tank))
        or (short is not None and not math.isfinite(short.value))
        or not library.on
    ):
        return reason
    until = months_on(date.fromisoformat(library.on), PROPOSED_MONTHS).isoformat()
    because = next((edit.because for edit in _before(reason, library)), "")
    edit = HouseEdit(
        Span(""),
        HouseVerb.ACCEPT,
        reason.rule,
        entities=things_of(reason),
        stood=stood if any(stood) else (),
        short=short,
        on=library.on,
        until=until,
        because=because,
    )
    return reason.model_copy(update={"accept": pasteable(edit)})


def _before(reason: Reason, library: Library) -> Sequence[HouseEdit]:
    """Accepts of the same that count no longer, or not any more for this: their reason may still be right."""
    aside = [item.edit for item in library.aside if item.edit.verb is HouseVerb.ACCEPT]
    return [
        edit
        for edit in (*accepts_of(library, reason.rule), *aside)
        if edit.target == reason.rule and same_things(edit, reason)
    ]


def _stood(reason: Reason, tank: Tank) -> tuple[str, ...] | None:
    """Where each thing of a reason stands; None if one of them is not in the tank."""
    animals = {animal.id: animal for animal in tank.animals if animal.phase is not Phase.WAITING}
    spots = {spot.id for spot in tank.spots}
    out = []
    for subject in reason.subjects:
        if subject == TANK_SUBJECT:
            continue
        animal = animals.get(subject)
        if animal is None and subject not in spots:
            return None
        out.append(next(iter(places_of(animal)), "") if animal is not None else "")
    return tuple(out)


def _somewhere(reason: Reason, stood: tuple[str, ...], tank: Tank) -> bool:
    """Whether it is not told where an animal of a reason stands, so that its move could not be seen."""
    animals = {animal.id for animal in tank.animals}
    return any(not place and name in animals for name, place in zip(things_of(reason), stood, strict=True))
