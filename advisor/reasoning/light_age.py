"""How lamps fade: what each sends today of what it sent when new, and what became of an older reading."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from advisor.model.cells import NumberCell
from advisor.model.lighting import LampForm
from advisor.model.tank import Lamp, Tank
from advisor.model.vocabulary import Measure
from advisor.reasoning.light_numbers import Z90, LightNumbers
from advisor.reasoning.survey_facts import LIGHT, WORDS, Facts, LampAge, lamp_age, sharpness, together
from advisor.reasoning.survey_grounds import days_ago, quantity, span_of

_DAYS_A_YEAR = 365.25
_FEW = 3
"""So many places or lamps are named in one line."""
_KIND = "lamp-kind"


@dataclass(frozen=True, slots=True)
class Since:
    """What became of the light at a place since it was read."""

    days: int
    times: float
    """What is left of it. [1]"""
    log_sd: float
    """How far that may be off, and what else changed unseen, as a standard deviation of a logarithm."""

    def in_words(self) -> str:
        """Return what is reckoned: ``since then 4 % less for lamps that fade, 5 % less sure``."""
        return f"since then {_in_words([self])}"


@dataclass(frozen=True, slots=True)
class LampAges:
    """How the lamps of a tank have aged up to a day."""

    on: date
    new_on: Mapping[str, date] = field(default_factory=dict)
    """When each lamp was last new, by its id; one of unknown age is missing."""
    fades: Mapping[str, float] = field(default_factory=dict)
    """What each lamp loses a year, as a falling logarithm; of an unknown kind the middle. [1/year]"""
    doubt: float = 0.0
    """Of what a lamp has lost, the share that is doubtful. [1]"""
    unseen: float = 0.0
    """What else changes unseen, as a standard deviation of a logarithm. [1/year]"""
    counts_from: float = 0.0
    """A smaller change of a reading, or of its error, by its age is left out. [1]"""
    fades_sd: Mapping[str, float] = field(default_factory=dict)
    """How doubtful that is of each lamp alone for its kind is not told. [1/year]"""
    age_sd_days: Mapping[str, float] = field(default_factory=dict)
    """How doubtful the age of each lamp is; one told as a range has such a doubt."""
    dark: frozenset[str] = frozenset()
    """Lamps that are off by day: none of them changes what is read."""
    kinds: Mapping[str, str] = field(default_factory=dict)
    """What is taken for the kind of each lamp, in words, where the keeper does not tell it."""

    def kept(self, lamp: str) -> float:
        """Return what a lamp sends of what it sent when new; all of it where its age is not known. [1]"""
        return math.exp(-self._lost(lamp))

    def log_sd(self, lamp: str) -> float:
        """Return how doubtful that is for the one cause by which all lamps fade, as a deviation. [1]"""
        return self.doubt * self._lost(lamp)

    def own_log_sd(self, lamp: str) -> float:
        """Return how doubtful it is for the kind and age of this lamp alone, as a deviation. [1]"""
        of_kind = self.fades_sd.get(lamp, 0.0) * (self.days(lamp) or 0)
        of_age = self.fades.get(lamp, 0.0) * self.age_sd_days.get(lamp, 0.0)
        return math.hypot(of_kind, of_age) / _DAYS_A_YEAR

    def days(self, lamp: str) -> int | None:
        """Return how old a lamp is, None where nobody told. [days]"""
        new = self.new_on.get(lamp)
        return None if new is None else (self.on - new).days

    def _lost(self, lamp: str) -> float:
        return self.fades.get(lamp, 0.0) * (self.days(lamp) or 0) / _DAYS_A_YEAR

    def newer(self, day: date) -> dict[str, date]:
        """Return which lamps that shine by day were new after a day, and when."""
        return {lamp: new for lamp, new in self.new_on.items() if new > day and lamp not in self.dark}

    def since(self, day: date, shares: Mapping[str, float] | None) -> Since | None:
        """Return what became of light that was read on a day, None where that is too little to count.

        Parameters
        ----------
        day
            When it was read.
        shares
            Part of each lamp in the light of that place today, by its id; None where nobody can
            tell, and then only lamps that all faded alike change what was read. [1]

        Notes
        -----
        A lamp of unknown age may have been renewed, and one renewed since is another lamp: what was
        read is not lowered by them. All lamps fade for one cause, so their doubts add up; what is not
        told of the kind of each is its own.
        """
        years = max((self.on - day).days, 0) / _DAYS_A_YEAR
        lost = {lamp: years * rate if self._shone(lamp, day) else 0.0 for lamp, rate in self.fades.items()}
        doubts = {
            lamp: years * rate * (self.doubt if self._shone(lamp, day) else 1.0)
            for lamp, rate in self.fades.items()
        }
        own = {lamp: years * sd for lamp, sd in self.fades_sd.items()}
        times = 1.0
        if shares is not None and sum(shares.values()) > 0.0:
            parts = {lamp: share / sum(shares.values()) for lamp, share in shares.items()}
            times = 1.0 / sum(share * math.exp(lost.get(lamp, 0.0)) for lamp, share in parts.items())
            fading = sum(share * doubts.get(lamp, 0.0) for lamp, share in parts.items())
            alone = math.hypot(*(share * own.get(lamp, 0.0) for lamp, share in parts.items()))
        else:
            alike = len(set(lost.values())) == 1
            times = math.exp(-next(iter(lost.values()))) if alike else 1.0
            fading, alone = max(doubts.values(), default=0.0), max(own.values(), default=0.0)
        log_sd = math.hypot(fading, alone, years * self.unseen)
        if max(1.0 - times, log_sd) <= self.counts_from:
            return None
        return Since((self.on - day).days, times, log_sd)

    def _shone(self, lamp: str, day: date) -> bool:
        """Whether it is told that a lamp shone on a day as it does now."""
        new = self.new_on.get(lamp)
        return new is not None and new <= day


AGELESS = LampAges(date.min)
"""Lamps of which nobody told how old they are."""


def since_read(facts: Facts, ages: LampAges, shares: Mapping[str, Mapping[str, float]]) -> dict[str, Since]:
    """Return what became of every dated reading of light, by its place; what is too little is left out.

    Parameters
    ----------
    shares
        Part of each lamp in the light of a place, by its place; only where lamps tell of it. [1]
    """
    newest = {key: said[0] for key, said in facts.single.get(LIGHT, {}).items() if said}
    return {
        key: since
        for key, said in newest.items()
        if said.on is not None and sharpness(said) < WORDS and (since := ages.since(said.on, shares.get(key)))
    }


def since_then(cell: NumberCell, since: Since, measure: Measure) -> str:
    """Return what was read and what became of it: ``225 PAR then; since then 8 % less sure``."""
    read = span_of(cell.low, cell.high, measure) if cell.best is None else quantity(cell.best, measure)
    return f"{read} then; {since.in_words()}"


def today(cell: NumberCell, since: Since, measure: Measure) -> NumberCell:
    """Return what was read of the light as it counts today: lower by what lamps lost, and less sure."""
    middle = math.sqrt(cell.low * cell.high) if cell.best is None else cell.best
    if middle <= 0.0 or cell.low > cell.high:
        return cell
    doubt, now = Z90 * since.log_sd, middle * since.times
    less = math.hypot(math.log(middle / cell.low), doubt) if cell.low > 0.0 else math.inf
    more = math.hypot(math.log(cell.high / middle), doubt)
    supports = cell.supports
    if supports:
        first, *others = supports
        source = "; ".join(filter(None, (first.source, since_then(cell, since, measure))))
        supports = (replace(first, source=source), *others)
    return replace(
        cell,
        low=max(now * math.exp(-less), measure.low),
        best=None if cell.best is None else cell.best * since.times,
        high=min(now * math.exp(more), measure.high),
        supports=supports,
    )


def lamp_notes(lamps: Sequence[Lamp], ages: LampAges) -> tuple[str, ...]:
    """Return which lamps are taken to send less than when new, those of like age in one line."""
    alike: dict[tuple[str, int, str], list[str]] = {}
    for lamp in lamps:
        lost = 1.0 - ages.kept(lamp.id)
        if lost > ages.counts_from:
            key = (_years_old(lamp.id, ages), round(100.0 * lost), ages.kinds.get(lamp.id, ""))
            alike.setdefault(key, []).append(lamp.id)
    return tuple(
        f"{named(names)}, {years}, {'are' if len(names) > 1 else 'is'} taken"
        f" to send {lost} % less than when new{kind and f'; {kind}'}"
        for (years, lost, kind), names in alike.items()
    )


def _years_old(lamp: str, ages: LampAges) -> str:
    """The age of a lamp in words, with both ends where it is told as a range."""
    days, half = ages.days(lamp) or 0, Z90 * ages.age_sd_days.get(lamp, 0.0)
    ends = [f"{max(end, 0.0) / _DAYS_A_YEAR:.1f}" for end in (days - half, days + half)]
    return f"{'-'.join(dict.fromkeys(ends))} years old"


def reading_notes(since: Mapping[str, Since], places: Sequence[str]) -> tuple[str, ...]:
    """Return which readings count less for their age, those of one day in one line."""
    alike: dict[int, list[str]] = {}
    for place in places:
        if place in since:
            alike.setdefault(since[place].days, []).append(place)
    return tuple(
        f"read {days_ago(days)} at {named(names)}: {_in_words([since[name] for name in names])}"
        for days, names in sorted(alike.items())
    )


def _in_words(found: Sequence[Since]) -> str:
    """What became of some readings: ``3 to 8 % less for lamps that fade, 7 % less sure``."""
    lost = _percent([1.0 - each.times for each in found])
    parts = [f"{lost} less for lamps that fade"] if lost else []
    return ", ".join([*parts, f"{_percent([math.expm1(each.log_sd) for each in found])} less sure"])


def _percent(shares: Sequence[float]) -> str:
    """Some shares as a range of per cent, empty where all of them round to none."""
    low, high = (round(100.0 * end(shares)) for end in (min, max))
    return "" if high == 0 else f"{low} %" if low == high else f"{low} to {high} %"


def named(names: Sequence[str]) -> str:
    """Return a few names, one or more, as they stand in a sentence: ``ledge, foot and 2 more``."""
    shown = [name.removeprefix("at ") for name in names[:_FEW]]
    if len(names) > _FEW:
        return f"{', '.join(shown)} and {len(names) - _FEW} more"
    return " and ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else shown[0]


def lamp_ages(tank: Tank, facts: Facts, numbers: LightNumbers, on: date) -> LampAges:
    """Return how the lamps of a tank have aged up to a day.

    Parameters
    ----------
    facts
        All that is said up to that day: kinds of lamps, and ages told in so many days.
    numbers
        The named numbers of the rule files.
    """
    told = {lamp.id: lamp_age(lamp.id, lamp.installed_on, tank, facts, on) for lamp in tank.lamps}
    known = {lamp: age for lamp, age in told.items() if age is not None}
    kinds = {lamp.id: _kind(lamp, facts) for lamp in tank.lamps}
    ends = {lamp: [_rate(kind, numbers) for kind in may] for lamp, (may, _) in kinds.items()}
    return LampAges(
        on,
        {lamp: on - timedelta(days=round(age.middle_days)) for lamp, age in known.items()},
        {lamp: sum(rates) / len(rates) for lamp, rates in ends.items()},
        numbers.fading_doubt,
        numbers.unseen_change_per_year,
        numbers.age_counts_from,
        {lamp: (max(rates) - min(rates)) / 2.0 / Z90 for lamp, rates in ends.items()},
        {lamp: _half_days(age) / Z90 for lamp, age in known.items()},
        frozenset(lamp.id for lamp in tank.lamps if lamp.body.output_percent == 0.0),
        {lamp: words for lamp, (_, words) in kinds.items() if words},
    )


def _half_days(age: LampAge) -> float:
    """Half of the range of an age. [days]"""
    return (age.high_days - age.low_days) / 2.0


def _kind(lamp: Lamp, facts: Facts) -> tuple[tuple[str, ...], str]:
    """What kinds a lamp may be, and in words what is taken for its kind where that is not told."""
    said = sorted({word for each in together(facts.of(_KIND, lamp.id)) for word in each.words})
    if said:
        return tuple(said), ""
    if lamp.body.form is LampForm.TUBE:
        return ("tube",), "by its form it is taken as a fluorescent tube: tell kind: led if not"
    return ("led", "tube"), "an LED fades less, a tube more: tell its kind"


def _rate(kind: str, numbers: LightNumbers) -> float:
    """What a lamp of some kind loses a year, as a falling logarithm. [1/year]"""
    return numbers.led_fade_per_year if kind == "led" else numbers.tube_fade_per_year
