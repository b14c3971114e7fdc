"""What is known of a name: shown beside it, offered while typing, and where it is declared."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.errors import Span
from advisor.language.library import Library
from advisor.language.nodes import Card, Define, Let, Prefer, Rule
from advisor.model.vocabulary import Measure, NumberType, Relation, SetType, Source, WordType
from advisor.units import from_base

Thing = Let | Define | Rule | Prefer | Card | Measure | Relation


@dataclass(frozen=True, slots=True)
class Entry:
    """One name of the rule files."""

    name: str
    kind: str
    """``measure``, ``relation``, ``let``, ``define``, ``rule``, ``prefer`` or ``card``."""
    thing: Thing

    @property
    def span(self) -> Span:
        """Where it is declared."""
        return self.thing.span or Span("")


def entries(library: Library) -> dict[str, tuple[Entry, ...]]:
    """Return everything that has a name; a card and a measure may share one."""
    tables: tuple[tuple[str, dict[str, Thing]], ...] = (
        ("measure", dict(library.vocabulary.measures)),
        ("relation", dict(library.vocabulary.relations)),
        ("let", dict(library.lets)),
        ("define", dict(library.defines)),
        ("rule", dict(library.rules)),
        ("prefer", dict(library.prefers)),
        ("card", dict(library.cards)),
    )
    found: dict[str, tuple[Entry, ...]] = {}
    for kind, table in tables:
        for name, thing in table.items():
            if thing.span is not None and thing.span.file:  # what is made in passing is declared nowhere
                found[name] = (*found.get(name, ()), Entry(name, kind, thing))
    return found


def explained(entry: Entry, library: Library) -> str:
    """Return what is known of a name as Markdown: unit, value in force, and where it comes from."""
    lines = [f"**{entry.name}** ({entry.kind})", *_told(entry.thing), *_changed(entry, library)]
    lines.append(f"`{entry.span.file}:{entry.span.line}`")
    return "\n\n".join(line for line in lines if line)


def _told(thing: Thing) -> list[str]:
    """What a declaration says of itself."""
    match thing:
        case Let(value=value, because=because, source=source):
            return [f"{value.value:g} {value.unit}".strip(), because, _ground(source)]
        case Measure():
            return [_typed(thing), thing.say, thing.ask, f"from {', '.join(thing.suppliers)}"]
        case Relation():
            return ["yes or no" + (", no unless told" if thing.given else ""), thing.say, thing.ask]
        case Define(unit=unit, params=params):
            about = ", ".join(f"{param.kind.value} {param.name}" for param in params)
            return [f"of {about}, " + ("a truth" if unit is None else f"in {unit or 'plain numbers'}")]
        case Rule(level=level, matters=matters, source=source):
            return [level.value, matters, _ground(source)]
        case Prefer(weight=weight, source=source):
            return [f"weight {weight:g}", _ground(source)]
        case Card(title=title, also=also):
            return [title, f"also {', '.join(also)}" if also else ""]


def _typed(measure: Measure) -> str:
    """Unit and range of a measure."""
    match measure.type:
        case NumberType(unit=unit):
            low, high = from_base(measure.low, unit), from_base(measure.high, unit)
            step = measure.step / unit.factor
            return f"in {unit.name or 'plain numbers'}, {low:g} to {high:g}, step {step:g}"
        case WordType(words=words):
            return f"one of {', '.join(words)}" if words else "a name"
        case SetType(words=words):
            return f"several of {', '.join(words)}"
        case _:
            return "yes or no"


def _ground(source: Source | None) -> str:
    """A source with its grade."""
    return "" if source is None else f"source: {source.text} ({source.grade.value})"


def _changed(entry: Entry, library: Library) -> list[str]:
    """What house files have changed of it."""
    return [
        f"changed by the house at `{edit.span.file}:{edit.span.line}`"
        + (f": {edit.because}" if edit.because else "")
        for edit in library.house
        if edit.target == entry.name
    ]
