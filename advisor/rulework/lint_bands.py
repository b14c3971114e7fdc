"""Rules that ask by bands of one reading: what lies between two bands, and what lies in both."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from advisor.errors import Problem, Related, Severity
from advisor.language.library import Library
from advisor.language.nodes import Between, Call, Compare, CompareOp, Expr, Name, Number, Rule
from advisor.language.walk import names_used
from advisor.model.lintfindings import LintFinding
from advisor.model.vocabulary import NumberType
from advisor.reasoning.examples import rule_of
from advisor.rulework.formulas import NOWHERE, alike, conjuncts, denied, every, renamed
from advisor.rulework.lint_rules import Solver, text_of
from advisor.rulework.possible import Settled
from advisor.rulework.samplecase import example_of, written
from advisor.units import format_quantity, from_base, to_base, unit_named

_TURNED = {
    CompareOp.AT_LEAST: CompareOp.AT_MOST,
    CompareOp.AT_MOST: CompareOp.AT_LEAST,
    CompareOp.MORE: CompareOp.LESS,
    CompareOp.LESS: CompareOp.MORE,
}


@dataclass(frozen=True, slots=True)
class Band:
    """A rule that speaks only while one reading is in a band. [base unit]"""

    rule: Rule
    part: Expr
    """The condition that makes the band."""
    reading: Call
    low: float
    high: float
    rest: tuple[str, ...]
    """Its other conditions as they are written."""
    asks: frozenset[str]


def band_findings(library: Library, solver: Solver) -> Iterator[LintFinding]:
    """Yield gaps between the bands of rules that otherwise speak of the same, and bands that overlap."""
    rules = [rule_of(name, library) for name in (*library.rules, *library.prefers)]
    judged = [rule for rule in rules if rule is not None and rule.expect is not None]
    for group in _groups(judged, library):
        ordered = sorted(group, key=lambda band: (band.low, band.high))
        for below, above in pairwise(ordered):
            if above.low > below.high and _unspoken(below, above, judged, library, solver):
                yield _gap(below, above, library, solver)
            elif below.low < above.low < below.high < above.high:
                yield _overlap(below, above, library, solver)


def _groups(rules: Sequence[Rule], library: Library) -> list[list[Band]]:
    """Bands of one reading with the same other conditions and something in common that they expect."""
    groups: list[list[Band]] = []
    for rule in rules:
        for band in _bands(rule, library):
            for group in groups:
                fitting = _as_in(group[0], band)
                if fitting is not None:
                    group.append(fitting)
                    break
            else:
                groups.append([band])
    return [group for group in groups if len(group) > 1]


def _as_in(first: Band, band: Band) -> Band | None:
    """A band with its variables called as in another, if the two belong together."""
    called = alike(first.rule.binders, band.rule.binders)
    if called is None or not first.asks & band.asks:
        return None
    reading = renamed(band.reading, called)
    rest = _rest(renamed(band.rule, called), renamed(band.part, called))
    if text_of(reading) != text_of(first.reading) or rest != first.rest:
        return None
    return Band(renamed(band.rule, called), band.part, reading, band.low, band.high, rest, band.asks)


def _bands(rule: Rule, library: Library) -> Iterator[Band]:
    """The bands a rule's conditions make of single readings."""
    vocabulary = library.vocabulary
    used = names_used(() if rule.expect is None else (rule.expect,), library.defines)
    asks = used & (vocabulary.measures.keys() | vocabulary.relations.keys())
    for part in conjuncts(rule.when):
        found = _band_of(part, library)
        if found is not None:
            reading, low, high = found
            yield Band(rule, part, reading, low, high, _rest(rule, part), asks)


def _rest(rule: Rule, part: Expr) -> tuple[str, ...]:
    """The other conditions of a rule as they are written, in one order."""
    own = text_of(part)
    return tuple(sorted(text for text in map(text_of, conjuncts(rule.when)) if text != own))


def _band_of(part: Expr, library: Library) -> tuple[Call, float, float] | None:
    """The reading a condition compares with plain numbers, and the band it must be in."""
    match part:
        case Between(value=Call() as reading, low=low, high=high):
            ends = _number(low, library), _number(high, library)
        case Compare(left=Call() as reading, op=op, right=limit):
            ends = _open_band(op, _number(limit, library))
        case Compare(left=limit, op=op, right=Call() as reading):
            ends = _open_band(_TURNED[op], _number(limit, library))
        case _:
            return None
    measure = library.vocabulary.measures.get(reading.name)
    if measure is None or not isinstance(measure.type, NumberType) or ends[0] is None or ends[1] is None:
        return None
    return reading, max(ends[0], measure.low), min(ends[1], measure.high)


def _open_band(op: CompareOp, limit: float | None) -> tuple[float | None, float | None]:
    """The band on one side of a limit."""
    if limit is None:
        return None, None
    return (limit, math.inf) if op in (CompareOp.AT_LEAST, CompareOp.MORE) else (-math.inf, limit)


def _number(node: Expr, library: Library) -> float | None:
    """The value of a literal or a named number, None for anything else. [base unit]"""
    if isinstance(node, Name) and node.name in library.lets:
        node = library.lets[node.name].value
    if not isinstance(node, Number):
        return None
    return to_base(node.value, unit_named(node.unit)) if node.unit else node.value


def _unspoken(below: Band, above: Band, rules: Sequence[Rule], library: Library, solver: Solver) -> bool:
    """Whether no other rule that expects something of the same speaks of what lies between two bands."""
    inside = _middle(below, above, library)
    for rule in rules:
        if rule.name in (below.rule.name, above.rule.name) or not _of_the_kind(rule, below, library):
            continue
        called = alike(below.rule.binders, rule.binders)
        silent = None if called is None else denied(renamed(rule, called).when)
        if rule.when is None or solver.never(below.rule, every(inside, silent)):
            return False
    return solver.ask(below.rule.name, below.rule.binders, inside) is Settled.POSSIBLE


def _of_the_kind(rule: Rule, band: Band, library: Library) -> bool:
    """Whether a rule asks something of the same as a band, under what the rule of the band asks for."""
    called = alike(band.rule.binders, rule.binders)
    if called is None or rule.expect is None:
        return False
    asks = names_used((rule.expect,), library.defines) & band.asks
    own = set(map(text_of, conjuncts(renamed(rule, called).when)))
    return bool(asks) and own.issuperset(band.rest)


def _middle(below: Band, above: Band, library: Library) -> Expr | None:
    """What the two rules speak of, with the reading between their bands."""
    others = (part for part in conjuncts(below.rule.when) if part is not below.part)
    unit = _unit(below, library)
    ends = (
        Compare(NOWHERE, CompareOp.MORE, below.reading, _literal(below.high, unit)),
        Compare(NOWHERE, CompareOp.LESS, below.reading, _literal(above.low, unit)),
    )
    return every(*others, *ends)


def _unit(band: Band, library: Library) -> str:
    """The unit a band's reading is measured in."""
    kind = library.vocabulary.measures[band.reading.name].type
    return kind.unit.name if isinstance(kind, NumberType) else ""


def _literal(base: float, unit: str) -> Number:
    """A base value as a literal."""
    return Number(NOWHERE, from_base(base, unit_named(unit)) if unit else base, unit)


def _shown(base: float, band: Band, library: Library) -> str:
    """A base value with its unit."""
    kind = library.vocabulary.measures[band.reading.name].type
    return format_quantity(base, kind.unit) if isinstance(kind, NumberType) else f"{base:g}"


def _gap(below: Band, above: Band, library: Library, solver: Solver) -> LintFinding:
    """The finding about a reading that falls between two bands."""
    case = solver.case(below.rule.binders, _middle(below, above, library))
    title = f"between {below.rule.name} and {above.rule.name}"
    example = "" if case is None else written(example_of(title, below.rule, case, library))
    ends = f"{_shown(below.high, below, library)} and {_shown(above.low, above, library)}"
    problem = Problem(
        "logic-312",
        f"between {ends} neither '{below.rule.name}' nor '{above.rule.name}' speaks",
        below.part.span,
        f"'{below.rule.name}' ends at {_shown(below.high, below, library)}",
        "let the two bands meet, or add a rule for what lies between",
        Severity.WARNING,
        (Related(above.part.span, f"'{above.rule.name}' begins at {_shown(above.low, above, library)}"),),
    )
    return LintFinding(problem=problem, example=example)


def _overlap(below: Band, above: Band, library: Library, solver: Solver) -> LintFinding:
    """The finding about a reading that two bands share."""
    case = solver.case(below.rule.binders, every(below.rule.when, above.rule.when))
    title = f"in both {below.rule.name} and {above.rule.name}"
    example = "" if case is None else written(example_of(title, below.rule, case, library))
    ends = f"{_shown(above.low, below, library)} and {_shown(below.high, above, library)}"
    problem = Problem(
        "logic-313",
        f"between {ends} both '{below.rule.name}' and '{above.rule.name}' speak",
        below.part.span,
        f"'{below.rule.name}' ends here",
        "let the two bands meet, unless both are meant",
        Severity.NOTE,
        (Related(above.part.span, f"'{above.rule.name}' begins here"),),
    )
    return LintFinding(problem=problem, example=example)
