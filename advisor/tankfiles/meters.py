"""Light meters a keeper tells of, and the readings that were taken with them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from advisor.errors import Related, Severity, Span
from advisor.model.tank import Event, Fact, Immersion
from advisor.model.vocabulary import NumberType
from advisor.tankfiles.entries import Entry, Reading, note_unknown_key, slug
from advisor.tankfiles.ledger import closest
from advisor.tankfiles.light_told import read_immersion
from advisor.tankfiles.nodes import Node
from advisor.tankfiles.sections import find_entries, section_items
from advisor.units import Dimension, format_number

METER_KEYS = ("id", "name", "immersion factor", "note")
_A_METER = "- {id: old-head, immersion factor: 1.08}"
_UNCORRECTED = "meter-uncorrected"


@dataclass(slots=True)
class Meters:
    """The light meters of a tank file."""

    reading: Reading
    factors: Mapping[str, Immersion | None]
    """What is told of the factor under water of each, by its id."""
    _misspelt: set[str] = field(default_factory=set)

    def read_with(self, facts: tuple[Fact, ...]) -> tuple[Fact, ...]:
        """Return facts with the factor of the meter that `how` names, where the reading tells none."""
        return tuple(self._with_factor(fact) for fact in facts)

    def read_in(self, events: tuple[Event, ...]) -> tuple[Event, ...]:
        """Return events whose readings have the factor of their meter."""
        return tuple(event.model_copy(update={"facts": self.read_with(event.facts)}) for event in events)

    def _with_factor(self, fact: Fact) -> Fact:
        if not fact.said.how or not self.factors or not self._is_light(fact):
            return fact
        named = fact.said.how.split(",")[0].strip()
        known = self.reading.names.resolve(named, self.factors)
        if not known:
            self._note_misspelt(named, fact.said.span)
        factor = self.factors.get(known)
        if factor is None or fact.said.immersion is not None:
            return fact
        return fact.model_copy(update={"said": fact.said.model_copy(update={"immersion": factor})})

    def _is_light(self, fact: Fact) -> bool:
        measure = self.reading.vocabulary.measures.get(fact.measure)
        kind = measure.type if measure is not None else None
        return isinstance(kind, NumberType) and kind.dimension is Dimension.LIGHT

    def _note_misspelt(self, named: str, span: Span | None) -> None:
        """Warn once of a meter that is called almost like one told here."""
        meant = closest(slug(named), self.factors)
        if meant and named not in self._misspelt:
            self._misspelt.add(named)
            self.reading.ledger.note(
                "id-144",
                f"'{named}' is no meter told here, so no factor under water is applied",
                span,
                label=f"meters told here: {', '.join(self.factors)}",
                mend=f"how: {meant}",
                severity=Severity.WARNING,
            )

    def note_at_odds(self, facts: tuple[Fact, ...]) -> None:
        """Warn where the factor of all meters is said not to be known, and one is told all the same."""
        unsure = next((f.said for f in facts if f.measure == _UNCORRECTED and f.said.truth is True), None)
        told = [f.said for f in facts if f.said.immersion is not None and f.said.immersion.factor is not None]
        if unsure is None or not told:
            return
        first = told[0]
        factor = first.immersion.factor if first.immersion is not None else None
        self.reading.ledger.note(
            "reading-163",
            "the factor of the meter is said not to be known, and is told all the same",
            unsure.span,
            label="this holds only for readings of which no factor is told",
            mend="meter uncorrected: no; and immersion factor: unknown at the meter it is true of",
            severity=Severity.WARNING,
            related=() if first.span is None else (
                Related(first.span, f"here {format_number(factor or 1.0)} counts"),
            ),
        )  # fmt: skip


def read_meters(node: Node | None, reading: Reading) -> Meters:
    """Return the light meters of a tank file: ``meters: [{id: old-head, immersion factor: 1.08}]``."""
    nodes = section_items(node, "light meters", reading.ledger, _A_METER)
    found = find_entries(nodes, "meter", reading.names.meters, reading)
    return Meters(reading, {one.id: _factor(one.entry, reading) for one in found})


def _factor(entry: Entry, reading: Reading) -> Immersion | None:
    """What is told of one meter; None where nothing is."""
    node = entry.take("immersion-factor")
    entry.take("note", "notes")
    for _, key, _ in entry.rest():
        note_unknown_key(key, "a light meter", METER_KEYS, reading.ledger)
    return None if node is None else read_immersion(node, reading.ledger)
