"""How often each value decides a danger: in the examples of the rules, and in tanks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import numpy as np

from advisor.errors import Span
from advisor.language.library import Library
from advisor.language.nodes import Level
from advisor.planning.desk import Desk
from advisor.reasoning.columns import Ints
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.examples import rule_of, try_out
from advisor.reasoning.forget import kept_cells
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import FAILS, HOLDS, Plane, frame_of, judge_frame
from advisor.reasoning.leaves import Seen
from advisor.reasoning.ops import RelationCell
from advisor.rulework.coverage import examples_of


@dataclass(slots=True)
class Decisions:
    """What dangers rest on, and how often."""

    lines: Counter[str] = field(default_factory=Counter)
    """Kinds of card lines, in the dangers that examples decide."""
    values: Counter[Span] = field(default_factory=Counter)
    """Values of cards by where they stand, in the dangers that are decided in tanks."""
    rules: Counter[str] = field(default_factory=Counter)
    """Outcomes of examples that hold or fail, by rule."""
    tank_rules: Counter[str] = field(default_factory=Counter)
    """Dangers decided in tanks, by rule."""


def decisions_of(library: Library, desks: Iterable[Desk]) -> Decisions:
    """Return what the dangers of all examples and of some tanks rest on.

    A danger is decided where it holds or fails; it rests on the values without
    which it would be open, the same that a printed reason tells.
    """
    found = Decisions()
    for name in (*library.rules, *library.prefers):
        _count_examples(name, library, found)
    cards = frozenset(value.span for card in library.cards.values() for value in card.values)
    for desk in desks:
        _count_tank(desk, cards, found)
    return found


def _count_examples(name: str, library: Library, found: Decisions) -> None:
    rule, examples = rule_of(name, library), examples_of(name, library)
    if rule is None or rule.expect is None or not examples:
        return
    trial = try_out(compile_rule(rule, library), examples, library)
    decided = _decided(trial.plane)
    found.rules[name] += len(decided)
    if name in library.rules and rule.level is Level.DANGER:
        for seen in _rested_on(trial.compiled, trial.frame, trial.plane, decided):
            found.lines.update({line for line in map(_card_line, seen) if line})


def _count_tank(desk: Desk, cards: frozenset[Span], found: Decisions) -> None:
    sitting = desk.sit(desk.survey())
    dangers = [compiled for compiled in desk.bench.rules if compiled.rule.level is Level.DANGER]
    for compiled, judged in zip(dangers, sitting.judge(dangers, ahead=False), strict=True):
        if compiled.rule.expect is None:
            continue
        bindings = judged.now.bindings.take(_decided(judged.now))
        if not len(bindings):
            continue
        today = np.zeros(len(bindings))
        frame = frame_of(compiled, sitting.tables, sitting.population, bindings, today)
        plane = judge_frame(compiled, frame, bindings)
        decided = _decided(plane)
        found.tank_rules[compiled.rule.name] += len(decided)
        for seen in _rested_on(compiled, frame, plane, decided):
            found.values.update({place for each in seen for place in _places(each, cards)})


def _decided(plane: Plane) -> Ints:
    """The rows of a plane that hold or fail."""
    return np.flatnonzero((plane.verdict == HOLDS) | (plane.verdict == FAILS))


def _rested_on(compiled: CompiledRule, frame: Frame, plane: Plane, rows: Ints) -> Iterator[tuple[Seen, ...]]:
    """What each of some rows rests on."""
    kept = kept_cells(compiled, frame, plane)
    return (kept[row] for row in rows.tolist())


def _card_line(seen: Seen) -> str:
    """The line of a card that a cell is read from; empty where cards say nothing of it."""
    return "" if isinstance(seen.op, RelationCell) else seen.op.measure.card_line


def _places(seen: Seen, cards: frozenset[Span]) -> Iterator[Span]:
    """Where the values of cards stand that a cell rests on."""
    for support in seen.row.cell(seen.op).supports:
        if support.span in cards and support.span is not None:
            yield support.span
