"""Each rule by itself: what it can never say, and the parts of it that change nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from advisor.errors import Problem, Severity, Span
from advisor.language.format_expr import HARD_SPACE, expression
from advisor.language.library import Library
from advisor.language.nodes import (
    Aggregate,
    Between,
    Binder,
    Call,
    Compare,
    Define,
    Expr,
    Is,
    Not,
    Or,
    Outcome,
    Rule,
)
from advisor.language.walk import children, walk
from advisor.model.lintfindings import LintFinding
from advisor.rulework.cardindex import CardIndex, index_of
from advisor.rulework.cellspace import NotAnalysedError
from advisor.rulework.formulas import NOWHERE, Formula, binders_of, conjuncts, denied, every, fails
from advisor.rulework.possible import Case, Settled, Space, can_be, settle
from advisor.rulework.samplecase import example_of, written


@dataclass(slots=True)
class Solver:
    """Answers whether conditions can be true, and remembers what it could not look into."""

    library: Library
    house: frozenset[str] = frozenset()
    """Names of the house files."""
    not_analysed: dict[str, None] = field(default_factory=dict)
    known: dict[tuple[tuple[Binder, ...], str], Settled | None] = field(default_factory=dict)
    _told: CardIndex = field(default_factory=CardIndex)

    def __post_init__(self) -> None:
        self._told = index_of(self.library)

    def space(self, binders: tuple[Binder, ...], body: Expr, *, cards: bool = False) -> Space:
        """Return a condition ready to be asked about.

        Raises
        ------
        NotAnalysedError
            If it is not made of single cells.
        """
        return Space(Formula(binders, body), self.library, self._told, cards=cards)

    def ask(self, name: str, binders: tuple[Binder, ...], body: Expr | None) -> Settled | None:
        """Return what is known of a condition of `name`; None where nothing can be said."""
        if body is None:
            return None
        key = (tuple(replace(binder, span=NOWHERE) for binder in binders), text_of(body))
        if key not in self.known:
            try:
                self.known[key] = can_be(self.space(binders, body))
            except NotAnalysedError:
                self.known[key] = None
        if self.known[key] is None:
            self.not_analysed[name] = None
        return self.known[key]

    def never(self, rule: Rule, body: Expr | None) -> bool:
        """Return whether a condition of a rule is surely never true."""
        return self.ask(rule.name, rule.binders, body) is Settled.NEVER

    def example(
        self, title: str, rule: Rule, body: Expr | None, wanted: Outcome | None = None, *, only: bool = False
    ) -> str:
        """Return a case of a condition as an example of a rule, empty where there is none.

        Parameters
        ----------
        only
            Empty, too, where the case does not come out as wanted.
        """
        case = self.case(rule.binders, body)
        if case is None:
            return ""
        example = example_of(title, rule, case, self.library, wanted=wanted)
        return "" if only and example.thens[0].outcome is not wanted else written(example)

    def nothing_told(self, title: str, rule: Rule, body: Expr | None) -> str:
        """Return an example in which a rule speaks and nothing else is told, if that leaves it undecided."""
        case = self.case(rule.binders, body) or Case({})
        example = example_of(title, rule, case, self.library, wanted=Outcome.UNDECIDED)
        return written(example) if example.thens[0].outcome is Outcome.UNDECIDED else ""

    def case(self, binders: tuple[Binder, ...], body: Expr | None, *, cards: bool = False) -> Case | None:
        """Return a case in which a condition is true, None where none is known.

        Parameters
        ----------
        cards
            Only of animals that are on the cards.
        """
        if body is None:
            return None
        try:
            return settle(self.space(binders, body, cards=cards)).case
        except NotAnalysedError:
            return None

    def never_on_cards(self, binders: tuple[Binder, ...], where: Expr | None, body: Expr | None) -> bool:
        """Return whether a condition is never true of an animal on the cards, although `where` is of some."""
        if body is None:
            return False
        space = self.space(binders, body, cards=True)
        if len(space.decks) != 1 or can_be(space) is not Settled.NEVER:
            return False
        return where is None or can_be(self.space(binders, where, cards=True)) is Settled.POSSIBLE


def text_of(node: Expr) -> str:
    """Return a condition as it stands in a file."""
    return expression(node).replace(HARD_SPACE, " ")


def finding(
    code: str,
    what: str,
    span: Span | None,
    label: str = "",
    mend: str = "",
    severity: Severity = Severity.WARNING,
    example: str = "",
) -> LintFinding:
    """Return one finding."""
    return LintFinding(problem=Problem(code, what, span, label, mend, severity), example=example)


def rule_findings(rule: Rule, solver: Solver) -> Iterator[LintFinding]:
    """Yield what speaks against one rule, or a preference as the rule that asks for what it wants."""
    if rule.when is not None and solver.never(rule, rule.when):
        yield finding(
            "logic-304",
            f"'{rule.name}' never speaks",
            rule.when.span,
            "this can never be true",
            "take the rule out, or say when it is meant",
        )
        return
    if rule.expect is None:
        return
    yield from _when(rule, solver)
    yield from _expect(rule, rule.expect, solver)
    yield from _unless(rule, rule.expect, solver)
    yield from _branches(rule, solver)


def _when(rule: Rule, solver: Solver) -> Iterator[LintFinding]:
    """A condition that is always true, or a part of one that the others settle."""
    if rule.when is None:
        return
    if solver.never(rule, denied(rule.when)):
        yield finding(
            "logic-309",
            f"the `when` of '{rule.name}' is always true",
            rule.when.span,
            "nothing is left out by this",
            "take the `when` out",
        )
        return
    parts = list(conjuncts(rule.when))
    for part in parts if len(parts) > 1 else ():
        others = every(*(other for other in parts if other is not part))
        if solver.never(rule, every(others, denied(part))):
            yield finding(
                "logic-311",
                f"a part of the `when` of '{rule.name}' changes nothing",
                part.span,
                "always true where the rest is",
                "take it out",
            )


def _expect(rule: Rule, expect: Expr, solver: Solver) -> Iterator[LintFinding]:
    """What is expected and cannot be otherwise, or cannot be at all."""
    if solver.never(rule, every(rule.when, denied(expect))):
        yield finding(
            "logic-305",
            f"'{rule.name}' can never fail",
            expect.span,
            "always true where the rule speaks",
            "set the limit where something can miss it, or take the rule out",
        )
    elif solver.never(rule, every(rule.when, expect)):
        yield finding(
            "logic-306",
            f"'{rule.name}' can never hold",
            expect.span,
            "never true where the rule speaks",
            "set the limit where something can meet it",
            example=solver.example("whatever it is, it fails", rule, fails(rule), Outcome.FAILS),
        )
    yield from _one_value(rule, expect)


def _one_value(rule: Rule, expect: Expr) -> Iterator[LintFinding]:
    """A reading that must be one exact value."""
    for node in walk(expect):
        if isinstance(node, Between) and text_of(node.low) == text_of(node.high):
            yield finding(
                "logic-315",
                f"'{rule.name}' asks a reading to be one exact value",
                node.span,
                "every reading has an error, so this is never sure",
                f"{text_of(node.value)} >= {text_of(node.low)}, or a band with some width",
            )


def _unless(rule: Rule, expect: Expr, solver: Solver) -> Iterator[LintFinding]:
    """An exception that never counts, or that always does."""
    if rule.unless is None:
        return
    missed = every(rule.when, denied(expect))
    if solver.never(rule, every(missed, rule.unless)):
        yield finding(
            "logic-307",
            f"the `unless` of '{rule.name}' never excuses anything",
            rule.unless.span,
            "never true where the rule would fail",
            "take it out, or say what is meant to excuse it",
        )
    elif solver.never(rule, every(missed, denied(rule.unless))):
        yield finding(
            "logic-308",
            f"the `unless` of '{rule.name}' excuses everything",
            rule.unless.span,
            "always true where the rule would fail",
            "take the rule out, or narrow its `unless`",
            example=solver.example(
                "excused, as everything is", rule, every(missed, rule.unless), Outcome.EXCUSED
            ),
        )


def _branches(rule: Rule, solver: Solver) -> Iterator[LintFinding]:
    """One of several alternatives that never counts."""
    missed = every(rule.when, denied(rule.expect))
    for clause, part, context in (
        ("when", rule.when, None),
        ("unless", rule.unless, missed),
        ("expect", rule.expect, rule.when),
    ):
        for node in _alternatives(part):
            for item in node.items:
                if not solver.never(rule, every(context, item)):
                    continue
                yield finding(
                    "logic-310",
                    f"one of the alternatives in the `{clause}` of '{rule.name}' can never be true",
                    item.span,
                    "never true" if context is None else "never true where it would count",
                    "take it out",
                )


def _alternatives(part: Expr | None) -> Iterator[Or]:
    """The alternatives a clause itself offers."""
    for item in conjuncts(part):
        if isinstance(item, Or):
            yield item


def comparison_findings(rule: Rule, solver: Solver) -> Iterator[LintFinding]:
    """Yield single comparisons that what is physically possible settles once and for all."""
    parts = [part for part in (rule.when, rule.expect, rule.unless) if part is not None]
    whole = {id(part) for part in parts}
    for node in (node for part in parts for node in _own_nodes(part)):
        if not isinstance(node, Compare | Between | Is) or id(node) in whole:
            continue
        yield from _settled(rule, node, solver)


def _own_nodes(node: Expr) -> Iterator[Expr]:
    """A condition and everything below it that is about the rule's own things."""
    yield node
    for below in () if isinstance(node, Aggregate) else children(node):
        yield from _own_nodes(below)


def _settled(rule: Rule, node: Expr, solver: Solver) -> Iterator[LintFinding]:
    """One comparison that is always, or never, true."""
    if not any(isinstance(below, Call) for below in walk(node)):
        return
    for told, body in (("always", denied(node)), ("never", node)):
        if solver.never(rule, body):
            yield finding(
                "logic-314",
                f"a comparison in '{rule.name}' is {told} true",
                node.span,
                "whatever is read, its physical range settles this",
                "set the limit inside the range of what is read",
            )


def define_findings(define: Define, solver: Solver) -> Iterator[LintFinding]:
    """Yield the cases of a definition that are never reached."""
    before: list[Expr] = []
    binders = binders_of(define)
    for case in define.cases:
        reached = every(*(Not(guard.span, guard) for guard in before), case.when)
        if solver.ask(define.name, binders, reached) is Settled.NEVER:
            yield finding(
                "logic-316",
                f"a case of '{define.name}' is never reached",
                case.span,
                "the cases above it leave nothing for this one",
                "take it out, or move it up",
            )
        if case.when is not None:
            before.append(case.when)
