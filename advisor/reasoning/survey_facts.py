"""What was said and read, by what it is about: the newest valid statement counts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import TypeAlias

from advisor.model.tank import Animal, Event, EventKind, Fact, Phase, Statement, Tank
from advisor.model.vocabulary import Kind, Param, Vocabulary
from advisor.reasoning.survey_rows import place_of
from advisor.units import format_number

Statements: TypeAlias = tuple[Statement, ...]
"""Statements about one thing, newest first."""

LIGHT = "light"
"""The measure whose readings hold for what the lamps were set to."""
SHELTER = "shelter"
_FULL_PERCENT = 100.0
"""What lamps are set to of which nothing is told; light is read with the lights at full. [%]"""
LAMP_AGE = "lamp-age"
WORDS = 2
"""Sharpness of words and truths."""
SIZE = "size"
"""The measure that `Animal.size_cm` states."""


@dataclass(slots=True)
class Facts:
    """Everything that was said up to a day."""

    single: dict[str, dict[str, Statements]] = field(default_factory=dict)
    """By measure or relation, then by subject."""
    pairs: dict[str, dict[tuple[str, str], Statements]] = field(default_factory=dict)
    """By measure or relation, then by the two subjects in the order stated."""
    notes: tuple[str, ...] = ()
    """What was left out, and why."""

    def of(self, measure: str, subject: str) -> Statements:
        """Return what was said of one thing, newest first."""
        return self.single.get(measure, {}).get(subject, ())


def said_on(said: Statement) -> date | None:
    """Return the day of a statement; one that only tells since when is as old as that."""
    return said.on or said.since


def newest_first(statements: Iterable[Statement]) -> Statements:
    """Return valid statements, newest first; undated ones are the oldest.

    Of one day, a number goes before a range and a range before a word; what
    is then still equal is ordered by content, so that the order in which
    statements stand in a file never matters.
    """
    valid = [said for said in statements if not said.unknown]
    return tuple(sorted(valid, key=_order) if len(valid) > 1 else valid)


def _order(said: Statement) -> tuple[int, int, str]:
    """Sort key of a statement."""
    on = said_on(said)
    return (-(on.toordinal() if on else 0), sharpness(said), said.model_dump_json(exclude={"span"}))


def sharpness(said: Statement) -> int:
    """Return 0 for a number, 1 for a range, 2 for words and truths."""
    if said.best is not None:
        return 0
    return 1 if said.low is not None or said.high is not None else WORDS


def together(statements: Statements) -> Statements:
    """Return the statements that count: the newest, and any as new and as sharp as it."""
    if len(statements) < 2:
        return statements
    first = statements[0]
    alike = [said for said in statements if _order(said)[:2] == _order(first)[:2]]
    return tuple(alike)


def under_cover(facts: Facts, place: str) -> bool:
    """Return whether a place is told to be anything but open to the light from above."""
    said = together(facts.of(SHELTER, place))
    return bool(said) and any(word != "open" for each in said for word in each.words)


def collect(tank: Tank, vocabulary: Vocabulary, on: date) -> Facts:
    """Return what was said up to and including a day, sorted by what it is about."""
    gatherer = _Gatherer(tank, vocabulary, on)
    for fact in _stated(tank):
        gatherer.take(fact)
    for event in tank.events:
        for fact in event.facts:
            gatherer.take(_of_event(fact, event), event)
    return gatherer.facts()


def _stated(tank: Tank) -> Iterator[Fact]:
    """Facts of the tank file, sizes included."""
    yield from tank.facts
    for animal in tank.animals:
        if animal.size_cm is not None:
            yield Fact(measure=SIZE, subjects=(animal.id,), said=animal.size_cm)


def _of_event(fact: Fact, event: Event) -> Fact:
    """A fact of a journal event, dated by it."""
    if fact.said.on is not None and fact.said.event:
        return fact
    said = fact.said.model_copy(update={"on": fact.said.on or event.on, "event": event.id})
    return fact.model_copy(update={"said": said})


def settled_days(tank: Tank, on: date) -> dict[str, date]:
    """Return since when each animal has stood where it stands, where that is told."""
    days: dict[str, date] = {}
    for animal in tank.animals:
        dates = [event.on for event in tank.events if _puts(event, animal) and event.on <= on]
        told = (animal.placed_on, animal.moved_on)
        dates += [day for day in told if day is not None and day <= on]
        if dates:
            days[animal.id] = max(dates)
    return days


def last_changed(name: str, told: date | None, tank: Tank, on: date) -> date | None:
    """Return the last day up to `on` that a lamp or pump was changed: told of it, or in the journal."""
    days = [event.on for event in tank.events if event.kind is EventKind.CHANGED and event.subject == name]
    return max((day for day in (*days, *((told,) if told else ())) if day <= on), default=None)


@dataclass(frozen=True, slots=True)
class LampAge:
    """How old a lamp is, or what shines in it; told as a range, or by several, it has two ends."""

    low_days: float
    high_days: float
    told_days_ago: int | None = None
    """How long ago the keeper told this age; None where a day it was new is told. [days]"""

    @property
    def middle_days(self) -> float:
        """The middle of the range. [days]"""
        return (self.low_days + self.high_days) / 2.0


def lamp_age(name: str, installed: date | None, tank: Tank, facts: Facts, on: date) -> LampAge | None:
    """Return how old a lamp is, None where nobody tells: the rules and the light both go by this.

    An age in so many days goes before a day when it was new, for it is told of
    what shines in it; a change after that age was told goes before both.

    Parameters
    ----------
    installed
        When it was new, as its entry tells.
    """
    changed = last_changed(name, installed, tank, on)
    said = [each for each in together(facts.of(LAMP_AGE, name)) if sharpness(each) < WORDS]
    told_on = (said_on(said[0]) or on) if said else None
    if told_on is not None and (changed is None or changed <= told_on):
        ends = [_ends(each) for each in said]
        passed = (on - told_on).days
        return LampAge(min(low for low, _ in ends) + passed, max(high for _, high in ends) + passed, passed)
    if changed is None:
        return None
    return LampAge(float((on - changed).days), float((on - changed).days))


def _ends(said: Statement) -> tuple[float, float]:
    """Both ends of an age; one told only from below may be twice as old. [days]"""
    if said.best is not None:
        error = said.error or 0.0
        return max(said.best - error, 0.0), said.best + error
    low = said.low or 0.0
    return low, 2.0 * low if said.high is None else said.high


def _puts(event: Event, animal: Animal) -> bool:
    """Whether an event puts an animal where it now stands."""
    return event.kind in (EventKind.PLACED, EventKind.MOVED) and event.subject == animal.id


def under_water(said: Statement) -> Statement:
    """Return a reading as it is once the factor of its meter under water is applied, where one is told."""
    factor = said.immersion.factor if said.immersion is not None else None
    shown, counts = _shown(said, 1.0), _shown(said, factor or 1.0)
    if factor is None or factor == 1.0 or not shown:
        return said
    return _times(said, factor, f"{shown} {factor_step(factor)} = {counts} PAR")


def factor_step(factor: float) -> str:
    """Return the words by which the step of a reading by the factor of its meter is known.

    >>> factor_step(1.25)
    'shown × 1.25 under water'
    """
    return f"shown × {factor:g} under water"


def _shown(said: Statement, factor: float) -> str:
    """The number or the range of a reading, multiplied; empty for words."""
    ends = (said.low, said.high) if said.best is None else (said.best,)
    return "-".join(format_number(end * factor) for end in ends if end is not None)


def _times(said: Statement, factor: float, step: str) -> Statement:
    """A reading multiplied, its error and the ends of a range alike, and the step told."""
    ends = {name: getattr(said, name) for name in ("best", "error", "low", "high")}
    turned = {name: end * factor for name, end in ends.items() if end is not None}
    return said.model_copy(update={**turned, "reckoned": (*said.reckoned, step)})


class _Gatherer:
    """Sorts facts by what they are about and notes what it leaves out."""

    def __init__(self, tank: Tank, vocabulary: Vocabulary, on: date) -> None:
        self._on = on
        self._spots = {spot.id for spot in tank.spots}
        self._animals = {animal.id: animal for animal in tank.animals}
        self._settled = settled_days(tank, on)
        self._outputs = {lamp.body.output_percent for lamp in tank.lamps} or {_FULL_PERCENT}
        self._params: dict[str, tuple[Param, ...]] = {
            **{name: measure.params for name, measure in vocabulary.measures.items()},
            **{name: relation.params for name, relation in vocabulary.relations.items()},
        }
        self._single: dict[str, dict[str, list[Statement]]] = {}
        self._pairs: dict[str, dict[tuple[str, str], list[Statement]]] = {}
        self._notes: list[str] = []

    def facts(self) -> Facts:
        """Return everything taken so far."""
        return Facts(
            {name: {key: newest_first(all_said) for key, all_said in table.items()}
             for name, table in self._single.items()},
            {name: {pair: newest_first(all_said) for pair, all_said in table.items()}
             for name, table in self._pairs.items()},
            tuple(sorted(set(self._notes))),
        )  # fmt: skip

    def take(self, fact: Fact, event: Event | None = None) -> None:
        """Keep one fact, or note why not."""
        params = self._params.get(fact.measure)
        label = f"{fact.measure} of {' and '.join(fact.subjects)}"
        on = said_on(fact.said)
        if params is None or len(params) != len(fact.subjects):
            self._notes.append(f"{label} is left out: the rules know no such measure")
        elif on is not None and on > self._on:
            self._notes.append(f"{label} is left out: it is dated {on.isoformat()}, after this day")
        elif len(params) == 2:
            self._take_pair(fact, label)
        else:
            self._take_single(fact, params[0].kind, label, event)

    def _take_pair(self, fact: Fact, label: str) -> None:
        """Keep a fact about two things, unless one of them has been moved since."""
        on = said_on(fact.said)
        for subject in fact.subjects:
            since = self._settled.get(subject)
            if on is not None and since is not None and on < since:
                self._notes.append(f"{label} is left out: {subject} has been moved since")
                return
            animal = self._animals.get(subject)
            if animal is not None and animal.phase is Phase.WAITING:
                self._notes.append(f"{label} is left out: {subject} does not stand in the tank yet")
                return
        first, second = fact.subjects
        self._pairs.setdefault(fact.measure, {}).setdefault((first, second), []).append(fact.said)

    def _take_single(self, fact: Fact, kind: Kind, label: str, event: Event | None) -> None:
        """Keep a fact about one thing; a place may be named by the animal on it."""
        subject = fact.subjects[0]
        if kind is Kind.PLACE and subject in self._animals:
            place = self._place_of(fact, self._animals[subject], label, event)
            if not place:
                return
            subject = place
        said: Statement | None = under_water(fact.said)
        if said is not None and fact.measure == LIGHT:
            said = self._as_lit_now(said, label)
        if said is not None:
            self._single.setdefault(fact.measure, {}).setdefault(subject, []).append(said)

    def _as_lit_now(self, said: Statement, label: str) -> Statement | None:
        """A reading of light as it would be with the lamps as set now, None where nobody can tell."""
        then = said.output_percent
        if then is None:
            return said
        if len(self._outputs) > 1:
            why = f"it was read with the lamps at {then:g} %, and now each is set otherwise"
            self._notes.append(f"{label} is left out: {why}; read it again")
            return None
        (now,) = self._outputs
        if then == now:
            return said
        return _times(said, now / then, f"read at {then:g} %, reckoned at {now:g} %")

    def _place_of(self, fact: Fact, animal: Animal, label: str, event: Event | None) -> str:
        """Where a statement about the place of an animal belongs; empty if nowhere."""
        if event is not None and event.spot in self._spots:
            return event.spot
        on, since = said_on(fact.said), self._settled.get(animal.id)
        if animal.phase is Phase.WAITING:
            self._notes.append(f"{label} is left out: {animal.id} does not stand in the tank yet")
        elif on is not None and since is not None and on < since:
            self._notes.append(f"{label} is left out: {animal.id} has been moved since")
        else:
            return animal.spot or place_of(animal.id)
        return ""
