"""Two rules side by side: what cannot both be met, and what one says already."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from advisor.errors import Problem, Related, Severity, Span
from advisor.language.library import Library
from advisor.language.nodes import Expr, Level, Or, Outcome, Rule, Stage
from advisor.language.walk import names_used
from advisor.model.lintfindings import LintFinding
from advisor.reasoning.examples import rule_of
from advisor.rulework.formulas import alike, denied, every, fails, renamed
from advisor.rulework.lint_rules import Solver
from advisor.rulework.possible import Settled
from advisor.rulework.samplecase import example_of, written

_WORST_FIRST = list(Level)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two rules that bind the same things, the second with its variables called as in the first."""

    one: Rule
    other: Rule
    called: dict[str, str]
    """What the first calls the variables of the second."""


def pairs_of(library: Library) -> Iterator[Pair]:
    """Yield every two rules or preferences that bind the same and expect something of one reading."""
    speaking = [rule_of(name, library) for name in (*library.rules, *library.prefers)]
    judged = [
        (rule, _expected(rule, library)) for rule in speaking if rule is not None and rule.expect is not None
    ]
    for (one, ours), (other, theirs) in combinations(judged, 2):
        called = alike(one.binders, other.binders)
        if called is not None and ours & theirs:
            yield Pair(one, renamed(other, called), called)


def _expected(rule: Rule, library: Library) -> frozenset[str]:
    """The measures and relations that what a rule expects rests on."""
    vocabulary = library.vocabulary
    used = names_used(() if rule.expect is None else (rule.expect,), library.defines)
    return used & (vocabulary.measures.keys() | vocabulary.relations.keys())


def pair_findings(library: Library, solver: Solver) -> Iterator[LintFinding]:
    """Yield what speaks against two rules side by side."""
    for pair in pairs_of(library):
        yield from _apart(pair, library, solver)
        if _is_preference(pair.one, library) is _is_preference(pair.other, library):
            yield from _same(pair, library, solver)


def _is_preference(rule: Rule, library: Library) -> bool:
    """Whether a rule stands for a preference."""
    return rule.name in library.prefers


def _apart(pair: Pair, library: Library, solver: Solver) -> Iterator[LintFinding]:
    """Two that ask of the same things what cannot both be, in any case or for every animal on the cards."""
    one, other = pair.one, pair.other
    if (
        {one.stage, other.stage} == {Stage.TONIGHT, Stage.SETTLED}
        or one.expect is None
        or other.expect is None
    ):
        return
    name = f"{one.name}, {other.name}"
    both = every(one.when, other.when)
    met = every(both, _met(one), _met(other))
    settled = solver.ask(name, one.binders, met)
    of_cards = (
        settled is Settled.POSSIBLE
        and len(one.binders) == 1
        and solver.never_on_cards(one.binders, both, met)
    )
    if settled is not Settled.NEVER and not of_cards:
        return
    first = every(both, _met(one), denied(other.expect))
    second = every(both, _met(other), denied(one.expect))
    cases = [solver.case(one.binders, body, cards=of_cards) for body in (first, second)]
    if None in cases:  # the two never speak of one and the same, or one of them can never hold at all
        return
    case = cases[0]
    assert case is not None
    shown = [
        written(example_of(f"not both: {other.name}", one, case, library)),
        written(example_of(f"not both: {one.name}", _own(other, library), case, library, pair.called)),
    ]
    whom = " by any animal on the cards" if of_cards else ""
    problem = Problem(
        "logic-301",
        f"these two cannot both be met{whom}" + ("" if both is None else " where both speak"),
        one.expect.span,
        f"'{one.name}' {_asks(one, library)} this",
        "narrow one of them with `when`, or move a limit",
        Severity.WARNING,
        (Related(other.expect.span, f"'{other.name}' {_asks(other, library)} this"),),
    )
    yield LintFinding(problem=problem, example="\n".join(shown))


def _met(rule: Rule) -> Expr | None:
    """When a rule that speaks is content: what it expects is so, or it is excused."""
    if rule.expect is None or rule.unless is None:
        return rule.expect
    return Or(rule.expect.span, (rule.expect, rule.unless))


def _asks(rule: Rule, library: Library) -> str:
    """How a rule or preference asks."""
    return "wants" if _is_preference(rule, library) else "expects"


def _own(rule: Rule, library: Library) -> Rule:
    """A rule with its own names for its variables."""
    return rule_of(rule.name, library) or rule


def _same(pair: Pair, library: Library, solver: Solver) -> Iterator[LintFinding]:
    """Two of which one fails only where the other fails too."""
    one, other = pair.one, pair.other
    forth = _says_already(other, one, solver)
    back = _says_already(one, other, solver)
    if forth and back:
        own = pair.one.span.file in solver.house
        narrow, wide = (pair.one, pair.other) if own else (pair.other, pair.one)
        yield _told(narrow, wide, pair, library, solver, twice=True)
    elif forth:
        yield _told(pair.one, pair.other, pair, library, solver, twice=False)
    elif back:
        yield _told(pair.other, pair.one, pair, library, solver, twice=False)


def _says_already(wide: Rule, narrow: Rule, solver: Solver) -> bool:
    """Whether `wide` fails wherever `narrow` does, as gravely and whenever that is asked."""
    graver = _WORST_FIRST.index(wide.level) <= _WORST_FIRST.index(narrow.level)
    as_often = wide.stage in (narrow.stage, Stage.ALWAYS) and narrow.stage is not Stage.GATE
    as_far = wide.until_horizon or not narrow.until_horizon
    if not (graver and (as_often or wide.stage is narrow.stage) and as_far):
        return False
    name = f"{wide.name}, {narrow.name}"
    missed = fails(narrow)
    alone = every(missed, denied(fails(wide)))
    if solver.ask(name, wide.binders, alone) is not Settled.NEVER:
        return False
    return solver.ask(name, wide.binders, missed) is Settled.POSSIBLE


def _told(
    narrow: Rule, wide: Rule, pair: Pair, library: Library, solver: Solver, *, twice: bool
) -> LintFinding:
    """The finding about a rule that another one makes needless."""
    case = solver.case(pair.one.binders, fails(narrow))
    called = pair.called if narrow is pair.other else {}
    example = (
        ""
        if case is None
        else written(
            example_of(
                f"{wide.name} fails here too", _own(narrow, library), case, library, called, Outcome.FAILS
            )
        )
    )
    if twice:
        code, what = "logic-302", f"'{narrow.name}' says the same as '{wide.name}'"
        mend = "keep one of them"
    else:
        code, what = "logic-303", f"'{narrow.name}' never fails without '{wide.name}' failing too"
        mend = f"take it out, make it graver than '{wide.name}', or let it ask for more"
    span: Span | None = narrow.expect.span if narrow.expect is not None else narrow.span
    other = wide.expect.span if wide.expect is not None else wide.span
    problem = Problem(
        code,
        what,
        span,
        "asked here",
        mend,
        Severity.WARNING if twice else Severity.NOTE,
        (Related(other, "and asked here" if twice else "and asked here already"),),
    )
    return LintFinding(problem=problem, example=example)
