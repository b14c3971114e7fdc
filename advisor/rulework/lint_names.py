"""What is written and never used, and how rules are written: names, bare limits, examples."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from advisor.errors import Severity
from advisor.language.library import Library
from advisor.language.nodes import (
    Aggregate,
    Between,
    Compare,
    Expr,
    Number,
    Outcome,
    Prefer,
    Rule,
    Text,
)
from advisor.language.walk import children, conditions, names_used
from advisor.model.computed import LIGHT_LETS, METER_LETS, PLACE_LETS
from advisor.model.lintfindings import LintFinding
from advisor.model.vocabulary import Measure, Relation
from advisor.planning.bench import GROWTH_DOUBT
from advisor.reasoning.survey_vouch import VOUCH_AFTER
from advisor.rulework.formulas import conjuncts, denied, fails
from advisor.rulework.formulas import every as both
from advisor.rulework.lint_rules import Solver, finding, text_of

READ_BY_PROGRAM = frozenset({GROWTH_DOUBT, VOUCH_AFTER, *LIGHT_LETS, *METER_LETS, *PLACE_LETS})
"""Named numbers that stand for no rule: how growth is doubted, and when an animal vouches for its place."""

Speaking = Rule | Prefer


def speaking(library: Library) -> tuple[Speaking, ...]:
    """Return every rule and preference, those that the house switches off too."""
    off = library.shipped
    return (
        *{**off.rules, **library.rules}.values(),
        *{**off.prefers, **library.prefers}.values(),
    )


def names_in(library: Library) -> frozenset[str]:
    """Return every name that a rule, a preference or a lever leads to, its texts included."""
    parts: list[Expr] = []
    for item in speaking(library):
        texts = (item.because, *((item.remedy, *item.duties) if isinstance(item, Rule) else ()))
        parts += [*conditions(item), *(hole for text in texts for hole in holes(text))]
    parts += [hole for define in library.defines.values() if define.say for hole in holes(define.say)]
    found = set(names_used(tuple(parts), library.defines))
    found |= {lever.target for lever in library.levers.values() if lever.target in library.defines}
    return frozenset(found)


def holes(text: Text) -> tuple[Expr, ...]:
    """Return what the holes of a text are filled with."""
    return tuple(piece for piece in text.pieces if not isinstance(piece, str))


def unused_findings(library: Library, house: Collection[str] = ()) -> Iterator[LintFinding]:
    """Yield what is declared and never used.

    Parameters
    ----------
    house
        Names of the house files. A file that only declares words is a
        vocabulary, offered to whoever writes rules; elsewhere, and in a house
        file, a word is declared for the rules beside it.
    """
    used = names_in(library)
    for let in library.lets.values():
        if let.name not in used | READ_BY_PROGRAM:
            yield finding(
                "lint-201", f"'{let.name}' is never used", let.span, "no rule leads here", "take it out"
            )
    for define in library.defines.values():
        if define.name not in used:
            yield finding(
                "lint-202", f"'{define.name}' is never used", define.span, "no rule leads here", "take it out"
            )
    with_rules = {item.span.file for item in speaking(library)} | set(house)
    words: list[Measure | Relation] = [
        *library.vocabulary.measures.values(),
        *library.vocabulary.relations.values(),
    ]
    for word in words:
        if word.name not in used and word.span is not None and word.span.file in with_rules:
            yield finding(
                "lint-203",
                f"'{word.name}' is declared and no rule reads it",
                word.span,
                "telling of it changes nothing",
                "write the rule that reads it, or take it out",
            )
    for meaning in library.words:
        if meaning.measure not in used and meaning.span.file in with_rules:
            yield finding(
                "lint-204",
                f'"{meaning.word}" stands for {meaning.measure}, which no rule reads',
                meaning.span,
                "saying it changes nothing",
                "take it out",
            )


def style_findings(library: Library) -> Iterator[LintFinding]:
    """Yield how rules could be written so that they are easier to argue with."""
    every: list[Speaking] = [*library.rules.values(), *library.prefers.values()]
    for item in every:
        expect = item.expect if isinstance(item, Rule) else item.want
        if expect is None:
            continue
        yield from _bare_limits(item, expect)
        parts = tuple(conjuncts(expect))
        if len(parts) > 1:
            yield finding(
                "lint-212",
                f"'{item.name}' expects {len(parts)} things at once",
                parts[1].span,
                "a rule of its own tells which of them failed",
                "; ".join(
                    f"rule {item.name}-{index}: {text_of(part)}" for index, part in enumerate(parts, 1)
                ),
                Severity.NOTE,
            )


def _bare_limits(item: Speaking, expect: Expr) -> Iterator[LintFinding]:
    """Limits without a name in what is expected; 0 is none that anybody argues with."""
    limits = [limit for limit in _limits(expect) if limit.value]
    for index, limit in enumerate(limits, 1):
        name = f"{item.name}-limit" + (f"-{index}" if len(limits) > 1 else "")
        said = f"{limit.value:g} {limit.unit}".rstrip()
        yield finding(
            "lint-211",
            f"{said} has no name, so no house file can change it",
            limit.span,
            "a number that a keeper may argue with",
            f'let {name} = {said}  because "…", and {name} here',
            Severity.NOTE,
        )


def _limits(node: Expr) -> Iterator[Number]:
    """The literals that quantities are compared with, those in sums and inside aggregates too."""
    if isinstance(node, Compare | Between):
        sides = children(node)
        yield from (number for side in sides for number in _numbers(side))
        return
    below = (node.where,) if isinstance(node, Aggregate) else children(node)
    for part in below:
        if part is not None:
            yield from _limits(part)


def _numbers(node: Expr) -> Iterator[Number]:
    """The literals of a quantity."""
    if isinstance(node, Number):
        yield node
    for part in children(node):
        yield from _numbers(part)


def needed_outcomes(item: Speaking) -> tuple[Outcome, ...]:
    """Return the outcomes that the examples of a rule should show."""
    expect = item.expect if isinstance(item, Rule) else item.want
    if expect is None:
        return ()
    excused = isinstance(item, Rule) and item.unless is not None
    if isinstance(item, Prefer):
        return Outcome.HOLDS, Outcome.FAILS
    return Outcome.HOLDS, Outcome.FAILS, Outcome.UNDECIDED, *((Outcome.EXCUSED,) if excused else ())


def example_findings(library: Library, rules: Sequence[Rule], solver: Solver) -> Iterator[LintFinding]:
    """Yield the rules whose examples do not show every outcome, with examples that would."""
    shown: dict[str, set[Outcome]] = {}
    for example in library.examples:
        shown.setdefault(example.rule, set()).update(then.outcome for then in example.thens)
    for rule in rules:
        item = library.rules.get(rule.name) or library.prefers[rule.name]
        lacking = [each for each in needed_outcomes(item) if each not in shown.get(rule.name, ())]
        if not lacking:
            continue
        texts = [_shows(rule, outcome, solver) for outcome in lacking]
        listed = ", ".join(outcome.value for outcome in lacking)
        yield finding(
            "lint-221",
            f"no example of '{rule.name}' shows it: {listed}",
            rule.span,
            "what an example shows is tested, and stays so",
            "look at these and keep what you mean" if any(texts) else f"example … for {rule.name}",
            example="\n".join(text for text in texts if text),
        )


def _shows(rule: Rule, outcome: Outcome, solver: Solver) -> str:
    """An example of a rule that comes out as asked, empty where none was found."""
    missed = both(rule.when, denied(rule.expect))
    bodies_of: dict[Outcome, Expr | None] = {
        Outcome.HOLDS: both(rule.when, rule.expect),
        Outcome.FAILS: fails(rule),
        Outcome.EXCUSED: both(missed, rule.unless),
    }
    titles = {
        Outcome.HOLDS: "as it should be",
        Outcome.FAILS: "as it should not be",
        Outcome.EXCUSED: "excused",
    }
    if outcome is Outcome.UNDECIDED:
        return solver.nothing_told("nothing told", rule, rule.when)
    return solver.example(titles[outcome], rule, bodies_of[outcome], outcome, only=True)
