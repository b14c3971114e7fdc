"""The whole line by which a keeper could accept a finding, ready to be pasted into a house file."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from advisor.errors import Span
from advisor.language.format_house import pasteable
from advisor.language.house_short import amounts_compared
from advisor.language.house_state import is_caution
from advisor.language.library import Library
from advisor.language.nodes import HouseEdit, HouseVerb, Level
from advisor.model.results import Reason, Verdict
from advisor.model.tank import Phase, Tank
from advisor.planning.accepts import accepts_of, places_of, same_things, shortfall, things_of
from advisor.planning.dates import months_on
from advisor.reasoning.survey_worlds import listed_in

PROPOSED_MONTHS = 6
"""How long a suggested accept counts: a keeper may write any other day. [months]"""
_OPEN = (Verdict.FAILS, Verdict.UNDECIDED)


def with_line(reason: Reason, library: Library, tank: Tank) -> Reason:
    """Return a finding of the tank as it stands with the whole line that would accept it, where one can."""
    rule = library.rules.get(reason.rule)
    stood = None if rule is None else _stood(things_of(reason, library), tank)
    short = shortfall(reason)
    if (
        rule is None
        or stood is None
        or reason.verdict not in _OPEN
        or reason.until is not None
        or is_caution(rule, library)
        or (rule.level is Level.DANGER and _somewhere(things_of(reason, library), stood, tank))
        or (short is None and amounts_compared(rule, library))
        or not library.on
    ):
        return reason
    until = months_on(date.fromisoformat(library.on), PROPOSED_MONTHS).isoformat()
    because = next((edit.because for edit in _before(reason, library)), "")
    edit = HouseEdit(
        Span(""),
        HouseVerb.ACCEPT,
        reason.rule,
        entities=things_of(reason, library),
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
        if edit.target == reason.rule and same_things(edit, reason, library)
    ]


def _stood(things: Sequence[str], tank: Tank) -> tuple[str, ...] | None:
    """Where each of some things stands, empty for what does not; None if one of them is not in the tank."""
    animals = {animal.id: animal for animal in tank.animals if animal.phase is not Phase.WAITING}
    others = {spot.id for spot in tank.spots}.union(*listed_in(tank).values())
    if not others.issuperset(set(things) - animals.keys()):
        return None
    return tuple(next(iter(places_of(animals[name])), "") if name in animals else "" for name in things)


def _somewhere(things: Sequence[str], stood: tuple[str, ...], tank: Tank) -> bool:
    """Whether it is not told where one of some animals stands, so that its move could not be seen."""
    animals = {animal.id for animal in tank.animals}
    return any(not place and name in animals for name, place in zip(things, stood, strict=True))
