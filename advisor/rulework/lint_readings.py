"""Rules that can never speak for want of a reading: no card has it, or nobody ever told it in a tank."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from advisor.errors import Problem, Severity
from advisor.language.format_house import card_line
from advisor.language.library import Library
from advisor.language.nodes import Rule
from advisor.language.walk import conditions, names_used
from advisor.model.lintfindings import LintFinding
from advisor.model.vocabulary import Kind, Measure, Relation, Supplier
from advisor.reasoning.columns import MISSING, Bools
from advisor.reasoning.judge import NOT_COVERED, UNDECIDED, frame_of
from advisor.rulework.cellspace import CellOp, NotAnalysedError, all_ops
from advisor.rulework.formulas import Formula, every, fails
from advisor.rulework.lint_rules import finding
from advisor.rulework.possible import Space, is_met

if TYPE_CHECKING:
    from advisor.planning.bench import RulePlane, Sitting
    from advisor.planning.desk import Desk

_FEW = 4
"""Names that are listed before the rest is counted."""


def untold(library: Library) -> dict[str, Measure]:
    """Return the measures that come from cards alone and that no card tells."""
    told = {value.key for card in library.cards.values() for value in card.values}
    return {
        name: measure
        for name, measure in library.vocabulary.measures.items()
        if measure.suppliers == (Supplier.CARD,) and measure.card_line not in told
    }


def card_findings(library: Library, rules: Sequence[Rule]) -> Iterator[LintFinding]:
    """Yield rules that no card ever lets speak, and lines that some cards leave out."""
    silent = untold(library)
    for rule in rules:
        used = names_used(conditions(rule), library.defines)
        wanting = {name for name in silent if name in used}
        if wanting and _never_decided(rule, library, wanting):
            listed = ", ".join(sorted(card_line(silent[name].card_line) for name in wanting))
            yield finding(
                "logic-317",
                f"'{rule.name}' can never be decided: no card has a line '{listed}'",
                rule.span,
                f"{', '.join(sorted(wanting))} comes from cards alone",
                "add the line to a card, or let a keeper tell it: `from card …, keeper`",
            )
    yield from _left_out(library, rules)


def _never_decided(rule: Rule, library: Library, blank: set[str]) -> bool:
    """Whether a rule neither holds nor fails in any case met, while some cells are never known."""
    try:
        ends = (every(rule.when, rule.expect), fails(rule))
        return not any(
            is_met(Space(Formula(rule.binders, end), library, blank=blank)) for end in ends if end is not None
        )
    except NotAnalysedError:
        return False


def _left_out(library: Library, rules: Sequence[Rule]) -> Iterator[LintFinding]:
    """Lines that rules read and that only some cards have."""
    readers: dict[str, list[str]] = {}
    for rule in rules:
        for name in names_used(conditions(rule), library.defines):
            readers.setdefault(name, []).append(rule.name)
    for measure in library.vocabulary.measures.values():
        if measure.suppliers != (Supplier.CARD,) or measure.name not in readers:
            continue
        key = measure.card_line
        without = [
            card.name for card in library.cards.values() if all(value.key != key for value in card.values)
        ]
        if without and len(without) < len(library.cards):
            yield finding(
                "lint-232",
                f"{_cards(len(without))} nothing of '{measure.name}', which "
                f"{_rules(len(readers[measure.name]))}",
                measure.span,
                f"left out by {_listed(without)}",
                f"fill in the card line '{card_line(key)}' where it is known",
                Severity.NOTE,
            )


def _cards(count: int) -> str:
    """How many cards say."""
    return "1 card says" if count == 1 else f"{count} cards say"


def _rules(count: int) -> str:
    """How many rules ask."""
    return "1 rule asks for" if count == 1 else f"{count} rules ask for"


def _listed(names: Sequence[str]) -> str:
    """Names, the rest counted."""
    shown = ", ".join(names[:_FEW])
    return shown if len(names) <= _FEW else f"{shown} and {len(names) - _FEW} more"


# --- in one tank ----------------------------------------------------------------------


def tank_findings(desk: Desk) -> Iterator[LintFinding]:
    """Yield, reading by reading, the rules that no animal of a tank lets speak since nobody told it."""
    sitting = desk.sit(desk.survey())
    silent: dict[str, list[str]] = {}
    for plane in sitting.judge(desk.bench.rules, ahead=False):
        for name in _missing_everywhere(plane, sitting):
            silent.setdefault(name, []).append(plane.compiled.rule.name)
    for name, rules in sorted(silent.items(), key=lambda item: (-len(item[1]), item[0])):
        yield LintFinding(problem=_never_told(name, rules, desk.library))


def _missing_everywhere(plane: RulePlane, sitting: Sitting) -> tuple[str, ...]:
    """What is missing at every binding of a rule that is open for all it is asked of."""
    now = plane.now
    asked = now.verdict != NOT_COVERED
    if not asked.any() or not (now.verdict[asked] == UNDECIDED).all():
        return ()
    bindings = now.bindings.take(asked)
    months = np.zeros(len(bindings))
    compiled = plane.compiled
    frame = frame_of(compiled, sitting.tables, sitting.population, bindings, months)
    found: dict[str, None] = {}
    for part in (compiled.when, compiled.expect, compiled.unless):
        for op in () if part is None else all_ops(part):
            if isinstance(op, CellOp):
                flags = frame.value(op).flags
                missing: Bools = (flags & MISSING) != 0
                if missing.all():
                    found[op.name] = None
    return tuple(found)


def _never_told(name: str, rules: Sequence[str], library: Library) -> Problem:
    """The problem of a reading that nobody ever told."""
    word: Measure | Relation = library.vocabulary.measures.get(name) or library.vocabulary.relations[name]
    kinds = [_KINDS.get(param.kind, param.kind.value) for param in word.params]
    where = " of the tank" if word.params[0].kind is Kind.TANK else f" at any {kinds[0]}"
    if len(kinds) > 1:
        where = f" between any {kinds[0]} and another"
    elif word.params[0].kind.lives:
        where = f" of any {kinds[0]}"
    count = "1 rule" if len(rules) == 1 else f"{len(rules)} rules"
    return Problem(
        "data-602",
        f"{count} can never be decided here: {name} has never been told{where}",
        None,
        _listed(rules),
        _question(word),
        Severity.WARNING,
    )


_KINDS = {Kind.PLACE: "spot", Kind.ANIMAL: "animal"}


def _question(word: Measure | Relation) -> str:
    """What to do about it, asked of each thing in turn."""
    said = word.ask
    for param in word.params:
        kind = _KINDS.get(param.kind, param.kind.value)
        said = said.replace("{" + param.name + "}", f"each {kind}")
    return said
