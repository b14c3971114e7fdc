"""The light of a place as lamps, rocks and readings make it, for places where no meter was held.

A keeper's own reading at a place wins while both agree within their errors;
where they do not, the range covers both and says so. A loose word is narrowed.
A place that is known by words alone has no such light.

Where no lamp is known, readings speak as far as the rules say a reading
reaches, with the wider range that the rules give them, and neither for a place
told to be under cover nor from one. They never contradict each other: light
differs from place to place, and nothing then tells how.

Places of a changed world are lit as in the tank as it is: what a change puts
in or takes out throws no shadow.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from advisor.language.house_state import base as base_of
from advisor.language.library import Library
from advisor.model.cells import Cell, CellKind, NumberCell, Support
from advisor.model.computed import AGE_LETS, LIGHT_LETS, METER_LETS, PLACE_LETS
from advisor.model.tank import Box, Lamp, Tank
from advisor.model.vocabulary import Measure, NumberType
from advisor.reasoning.light_age import Since, lamp_ages, since_read, today
from advisor.reasoning.light_hanging import hanging
from advisor.reasoning.light_numbers import light_numbers
from advisor.reasoning.place_lies import SLOPE
from advisor.reasoning.survey_computed import Context, Supply, known
from advisor.reasoning.survey_facts import WORDS, Facts, sharpness, together, under_cover
from advisor.reasoning.survey_grounds import quantity, span_of
from advisor.reasoning.survey_meter import factor_doubt
from advisor.reasoning.survey_rows import place_of
from advisor.reasoning.survey_touched import changed_lets

if TYPE_CHECKING:
    from advisor.reasoning.light_values import LightHere
    from advisor.reasoning.light_world import LightWorld

_KEPT = 4
"""Of how many tanks the light is remembered."""
_TALLEST_CM = 20.0
"""Places are looked at so much farther than a reading reaches, for a colony may lift its top. [cm]"""
READ_ONLY_REACH = "read-only-reach"
"""The named number of how far a reading speaks where no lamp is known."""
UNDER_COVER = Support("at most, for it is under cover", source="no rock told here keeps light off it")

UNDER_UNTOLD = Support("at most, for it is an underside", source="no slope and no rock tells more of it")
UNDERSIDE = Support("on the underside itself", source="what grows there gets that, not light from above")


def side_share(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """What a side gets of the light that a level sensor reads there, None where no lamp tells.

    Parameters
    ----------
    row
        Of the table of places.
    so_far
        What the keeper says of it, if anything.
    """
    key = context.layout.places[row].key
    lit = _lit(context)
    if known(so_far) or not lit.hangs or context.tank.glass is None:
        return None
    found = lit.side_shares.get(key)
    if found is None:
        return None
    low, best, high = found
    lamps = counted(len(lit.hanging), "lamp")
    against = Support(f"reckoned: {lamps}", source="the face against a sensor that looks up")
    supports = (against, *changed_lets(lit.library, LIGHT_LETS | PLACE_LETS))
    return NumberCell(
        _held(low, measure), None if best is None else _held(best, measure), _held(high, measure),
        CellKind.COMPUTED, None, supports,
    )  # fmt: skip


def reckoned_light(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """The light of a place by lamps and readings, None where they say nothing of it.

    Parameters
    ----------
    row
        Of the table of places.
    so_far
        What the keeper says of the light there, if anything.
    """
    key = context.layout.places[row].key
    lit = _lit(context)
    if not isinstance(measure.type, NumberType):
        return None
    if known(so_far) and not _rests_on_words(context, measure, row):
        read = lit.as_of_today(measure, key, so_far)
        odd = _beside_reading(lit, measure, key, read) if lit.may_speak(key) else None
        return odd or read
    if not lit.may_speak(key):
        return None
    here = lit.here.get(key)
    if here is None:
        return None
    low, high = _held(here.low, measure), _held(here.high, measure)
    best: float | None = _held(here.best, measure)
    supports = (lit.support(key, here, measure), *lit.changed)
    if key in lit.world.under:
        supports = (*supports, UNDERSIDE)
    if key in lit.world.covered:
        why = UNDER_UNTOLD if key in lit.world.dark else UNDER_COVER
        low, best, supports = measure.low, None, (*supports, why)
    if not isinstance(so_far, NumberCell):
        return NumberCell(low, best, high, CellKind.COMPUTED, None, supports)
    if not known(so_far):
        return NumberCell(low, best, high, CellKind.COMPUTED, None, (*supports, *so_far.supports))
    return _narrowed(so_far, NumberCell(low, best, high, CellKind.COMPUTED, None, supports))


def _beside_reading(lit: _Lit, measure: Measure, key: str, said: Cell | None) -> Cell | None:
    """A keeper's own number, widened where all else leads to expect another one."""
    unread = lit.world.rest_at(key)
    if unread is None or not isinstance(said, NumberCell):
        return None
    if unread.low <= said.high and said.low <= unread.high:
        return None
    expected = f"the rest leads to expect {span_of(round(unread.low), round(unread.high), measure)}"
    first, *others = said.supports
    details = f"{first.source}; the two do not agree, so the range covers both".removeprefix("; ")
    odd = replace(first, text=f"{first.text}, but {expected}", source=details)
    low, high = min(said.low, _held(unread.low, measure)), max(said.high, _held(unread.high, measure))
    best = unread.best if lit.world.is_odd(key) else said.best
    return NumberCell(low, best, high, said.kind, None, (odd, *others, *lit.changed))


def _narrowed(said: NumberCell, reckoned: NumberCell) -> NumberCell:
    """What both a word and the lamps allow; everything either allows where they disagree."""
    low, high = max(said.low, reckoned.low), min(said.high, reckoned.high)
    supports = (*reckoned.supports, *said.supports)
    if low > high:
        odd = Support("the two do not agree", source="so the range covers both")
        low, high = min(said.low, reckoned.low), max(said.high, reckoned.high)
        return NumberCell(low, reckoned.best, high, CellKind.COMPUTED, None, (*supports, odd))
    best = None if reckoned.best is None else min(max(reckoned.best, low), high)
    return NumberCell(low, best, high, CellKind.COMPUTED, None, supports)


def _rests_on_words(context: Context, measure: Measure, row: int) -> bool:
    """Whether the newest statement about a place is a loose word."""
    newest = context.facts.of(measure.name, context.layout.places[row].key)[:1]
    return bool(newest) and sharpness(newest[0]) == WORDS


def counted(number: int, what: str) -> str:
    """Return a number of things in words.

    >>> counted(1, "lamp"), counted(3, "reading")
    ('1 lamp', '3 readings')
    """
    return f"{number} {what}{'' if number == 1 else 's'}"


def _held(value: float, measure: Measure) -> float:
    """A value within what is possible."""
    return min(max(value, measure.low), measure.high)


# --- one tank, reckoned once


@dataclass(eq=False)
class _Lit:
    """The light of one tank under one set of numbers, worked out when first asked for."""

    tank: Tank
    library: Library
    facts: Facts
    on: date
    changed: tuple[Support, ...] = field(init=False)
    """What house lines have set of the numbers it rests on."""

    def __post_init__(self) -> None:
        doubt, measure = factor_doubt(self.library, self.facts), self.library.vocabulary.measures.get("light")
        told = [said for each in self.facts.single.get("light", {}).values() for said in together(each)]
        unsure = measure is not None and any(doubt.unsure(measure, said) for said in told)
        self.changed = changed_lets(self.library, LIGHT_LETS | (METER_LETS if unsure else frozenset()))

    def may_speak(self, key: str) -> bool:
        """Whether anything here can tell of the light of a place; cheap, for in most tanks nothing can."""
        if self.tank.glass is None or self.hangs:
            return self.tank.glass is not None
        middle, reach = self.read_in_the_open.get(key), self.library.lets.get(READ_ONLY_REACH)
        if middle is not None or reach is None or under_cover(self.facts, key):
            return False
        box = next((box for name, box in _told(self.tank) if name == key), None)
        if box is None:
            return False
        far = base_of(reach.value) + _TALLEST_CM
        return any(math.dist(at, _middle(box)) <= far for at in self.read_in_the_open.values())

    @cached_property
    def hangs(self) -> bool:
        """Whether light is reckoned from lamps."""
        return bool(self.hanging)

    @property
    def hanging(self) -> tuple[Lamp, ...]:
        """The lamps light is reckoned from."""
        return hanging(self.tank.lamps).lamps

    @cached_property
    def read_in_the_open(self) -> dict[str, tuple[float, float, float]]:
        """Where light was read at a place with a position. [cm]"""
        told = self.facts.single.get("light", {})
        return {
            key: _middle(box)
            for key, box in _told(self.tank)
            if any(each.best is not None for each in told.get(key, ())) and not under_cover(self.facts, key)
        }

    @cached_property
    def world(self) -> LightWorld:
        """The tank as light meets it."""
        from advisor.reasoning.light_world import light_world  # brings numpy's heavier friends

        return light_world(self.tank, self.library, self.on, self.facts)

    @cached_property
    def since(self) -> Mapping[str, Since]:
        """What became of each dated reading since that day, by the key of its place."""
        if self.hangs:
            return self.world.since
        numbers = light_numbers(self.library)
        if numbers is None:
            return {}
        return since_read(self.facts, lamp_ages(self.tank, self.facts, numbers, self.on), {})

    def as_of_today(self, measure: Measure, key: str, said: Cell | None) -> Cell | None:
        """What a keeper read at a place, as it counts today."""
        since = self.since.get(key)
        if since is None or not isinstance(said, NumberCell):
            return said
        found = today(said, since, measure)
        return replace(found, supports=(*found.supports, *changed_lets(self.library, AGE_LETS)))

    @cached_property
    def here(self) -> Mapping[str, LightHere]:
        """The light at every place whose position is known, by the key of the place."""
        return self.world.everywhere()

    @cached_property
    def side_shares(self) -> Mapping[str, tuple[float, float | None, float]]:
        """What each side gets of the light a level sensor reads there, with a 90 % interval. [1]

        Without a best value where it is not known to which side it looks.
        """
        slope = self.library.vocabulary.measures.get(SLOPE)
        off = slope.error if slope is not None else 0.0
        keys = [key for key in self.here if key in self.world.sides]
        leaning = [self.world.shares_on_faces(keys, each) for each in (0.0, off, -off)]
        return {
            key: (
                min(each[key].low for each in leaning),
                upright.best,
                max(each[key].high for each in leaning),
            )
            for key, upright in leaning[0].items()
        }

    def support(self, key: str, here: LightHere, measure: Measure) -> Support:
        """What the light of a place rests on, in words."""
        found = self.world.field
        assert found is not None  # a place has light only where there is a field
        rests = [counted(len(found.lamps), "lamp")] if found.lamps else []
        odd = [each.reading for each in self.world.odd]
        readings = [*found.readings, *odd]
        rests += [counted(len(readings), "reading")] if readings else []
        rests += [f"{counted(len(odd), 'odd one')} among them"] if odd else []
        less, more = (round(100.0 * abs(end / here.best - 1.0)) for end in (here.low, here.high))
        details = f"error -{less} to +{more} %"
        at = self.world.points[key].at_cm
        near = min(readings, key=lambda each: math.dist(each.at_cm, at), default=None)
        if near is not None:
            apart = round(math.dist(near.at_cm, at))
            rests.append(f"the nearest {apart} cm off")
            details = f"{quantity(round(near.par_umol), measure)} at {near.label}, {apart} cm off; {details}"
        return Support(f"reckoned: {', '.join(rests)}", source=details)


def _told(tank: Tank) -> Iterator[tuple[str, Box]]:
    """Every place with a position in numbers."""
    for spot in tank.spots:
        if spot.box is not None and not spot.box.by_word:
            yield spot.id, spot.box
    for animal in tank.animals:
        if animal.box is not None and not animal.box.by_word:
            yield place_of(animal.id), animal.box


def _middle(box: Box) -> tuple[float, float, float]:
    """The middle of a box. [cm]"""
    return sum(box.x) / 2.0, sum(box.y) / 2.0, sum(box.z) / 2.0


_recent: deque[_Lit] = deque(maxlen=_KEPT)


def _lit(context: Context) -> _Lit:
    """The light of the tank of a survey; surveys of one tank on one day share it."""
    for each in _recent:
        if each.tank is context.tank and each.on == context.on and _alike(each.library, context.library):
            return each
    made = _Lit(context.tank, context.library, context.facts, context.on)
    _recent.append(made)
    return made


def _alike(one: Library, other: Library) -> bool:
    """Whether two sets of rules make the same light."""
    if one is other:
        return True
    names = LIGHT_LETS | METER_LETS | PLACE_LETS
    return one.vocabulary.measures.get("light") == other.vocabulary.measures.get("light") and all(
        one.lets.get(name) == other.lets.get(name) for name in names
    )


OF_LIGHT: dict[str, Supply] = {"place-side-share": side_share}
