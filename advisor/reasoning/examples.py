"""Examples of rule files run through the one evaluator: each `then` is one binding of its rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import Call, Example, Level, Name, Outcome, Prefer, Rule, Stage, Text, Then
from advisor.model.results import Reason, Verdict
from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import Bindings, population_of
from advisor.reasoning.columns import Floats
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.frame import Frame
from advisor.reasoning.givens import Givens, names_of
from advisor.reasoning.judge import VERDICTS, Plane, frame_of, judge_frame
from advisor.reasoning.reasons import LEANS, Asked, reasons_for
from advisor.reasoning.record import Row, margin_of, open_cells
from advisor.reasoning.side_by_side import side_by_side
from advisor.units import unit_named

OUTCOMES = {
    Verdict.HOLDS: Outcome.HOLDS,
    Verdict.FAILS: Outcome.FAILS,
    Verdict.UNDECIDED: Outcome.UNDECIDED,
    Verdict.EXCUSED: Outcome.EXCUSED,
    Verdict.NOT_COVERED: Outcome.NOT_COVERED,
}
"""The verdicts an example can ask for, as it writes them."""


@dataclass(frozen=True, slots=True)
class Outcomes:
    """What one `then` of an example asked for, and what came out."""

    example: Example
    then: Then
    ok: bool
    expected: str
    got: str
    reason: Reason | None


@dataclass(frozen=True, slots=True)
class Case:
    """One `then` with the example it belongs to."""

    example: Example
    then: Then


@dataclass(frozen=True, slots=True)
class Trial:
    """Examples judged by one rule: every `then` of each is a row of the frame, in order."""

    compiled: CompiledRule
    cases: tuple[Case, ...]
    frame: Frame
    plane: Plane

    def verdict(self, at: int) -> Verdict:
        """Return the verdict of one `then`."""
        return VERDICTS[int(self.plane.verdict[at])]

    def got(self, at: int, asked: Then | None = None) -> str:
        """Return what came out of one `then`, told as far as `asked` (the `then` itself) asks for it."""
        then = self.cases[at].then if asked is None else asked
        verdict = self.verdict(at)
        outcome = OUTCOMES[verdict].value if verdict in OUTCOMES else verdict.value
        undecided = verdict is Verdict.UNDECIDED
        close = " too close" if then.too_close and self.plane.causes()[at] == "too close" else ""
        lean = LEANS[int(self.plane.lean[at])] if then.leans and undecided else ""
        wanted = [_ask(need) for need in then.needs] if undecided else []
        asks = self.asks(at) if wanted else ()
        needs = "".join(f" needs {ask}" for ask in wanted if ask in asks or _turned(ask) in asks)
        return f"{outcome}{self._amount(at, then)}{close}{f' leans {lean}' if lean else ''}{needs}"

    def asks(self, at: int) -> frozenset[str]:
        """Return the cells that would settle one open `then`, as an example writes them."""
        row = Row(self.frame, at)
        parts = (self.compiled.when, self.compiled.expect, self.compiled.unless)
        return frozenset(
            self.frame.tables.ask(cell.name, where.rows(cell.refs))
            for part in parts
            if part is not None
            for cell, where in open_cells(part, row)
        )

    def _amount(self, at: int, then: Then) -> str:
        """By how much it came out so, in the unit asked for."""
        decided = self.verdict(at) in (Verdict.HOLDS, Verdict.FAILS)
        if then.by is None or not decided or self.compiled.expect is None:
            return ""
        margin, _ = margin_of(self.compiled.expect, Row(self.frame, at))
        if margin is None or margin.best is None:
            return ""
        wanted = unit_named(then.by.unit).factor if then.by.unit else 1.0
        had = unit_named(margin.unit).factor if margin.unit else 1.0
        return f" by {round(abs(margin.best) * had / wanted, 6):g} {then.by.unit}".rstrip()


def run_examples(
    library: Library, examples: Sequence[Example] | None = None, *, explained: bool = True
) -> tuple[Outcomes, ...]:
    """Return what every example of a library (or the given ones) came out as, in order.

    Parameters
    ----------
    explained
        Whether every outcome comes with its reason, or only those that are not as expected.
    """
    chosen = library.examples if examples is None else tuple(examples)
    about: dict[str, list[Example]] = {}
    for example in chosen:
        about.setdefault(example.rule, []).append(example)
    found: dict[int, list[Outcomes]] = {}
    for name, own in about.items():
        rule = rule_of(name, library)
        if rule is None:
            continue
        for outcome in _outcomes(try_out(compile_rule(rule, library), own, library), explained):
            found.setdefault(id(outcome.example), []).append(outcome)
    return tuple(outcome for example in chosen for outcome in found.get(id(example), ()))


def try_out(
    compiled: CompiledRule, examples: Sequence[Example], library: Library, tables: Givens | None = None
) -> Trial:
    """Return examples judged by a rule in one run; the columns stay in the frame.

    Parameters
    ----------
    tables
        The examples side by side, where they were laid out before.
    """
    laid = side_by_side(examples, library) if tables is None else tables
    cases = tuple(Case(example, then) for example in examples for then in example.thens)
    bindings, months = _bindings(compiled, examples)
    frame = frame_of(compiled, laid, population_of(laid), bindings, months)
    return Trial(compiled, cases, frame, judge_frame(compiled, frame, bindings))


def rule_of(name: str, library: Library) -> Rule | None:
    """Return the rule of a name, a preference as the rule that asks for what it wants."""
    prefer = library.prefers.get(name)
    return library.rules.get(name) if prefer is None else _as_rule(prefer)


def expected(then: Then) -> str:
    """Return an expected outcome as one line."""
    amount = f" by {then.by.value:g} {then.by.unit}".rstrip() if then.by is not None else ""
    needs = "".join(f" needs {_ask(need)}" for need in then.needs)
    close = " too close" if then.too_close else ""
    leans = f" leans {then.leans}" if then.leans else ""
    return f"{then.outcome.value}{amount}{close}{leans}{needs}"


def _outcomes(trial: Trial, explained: bool) -> list[Outcomes]:
    """What became of each case of a trial."""
    wanted = [expected(case.then) for case in trial.cases]
    got = [trial.got(at) for at in range(len(trial.cases))]
    asked = [at for at in range(len(trial.cases)) if explained or wanted[at] != got[at]]
    reasons = dict(zip(asked, _reasons(trial, asked), strict=True))
    return [
        Outcomes(case.example, case.then, wanted[at] == got[at], wanted[at], got[at], reasons.get(at))
        for at, case in enumerate(trial.cases)
    ]


def _reasons(trial: Trial, rows: list[int]) -> list[Reason]:
    """The reasons of some cases."""
    if not rows:
        return []
    frame, chosen = trial.frame, trial.plane.bindings.take(np.array(rows))
    return reasons_for(
        trial.compiled, frame.tables, frame.population, chosen, frame.months[rows], [Asked()] * len(rows)
    )


def _bindings(compiled: CompiledRule, examples: Sequence[Example]) -> tuple[Bindings, Floats]:
    """The binding and the month of each `then`; what nobody introduced is the first thing, or the tank."""
    worlds: list[int] = []
    months: list[float] = []
    rows: dict[str, list[int]] = {binder.name: [] for binder in compiled.binders}
    first = 0
    for world, example in enumerate(examples):
        names = names_of(example)
        for then in example.thens:
            worlds.append(world)
            months.append(then.month)
            for place, binder in enumerate(compiled.binders):
                name = then.entities[place] if place < len(then.entities) else ""
                tank = binder.kind is Kind.TANK
                rows[binder.name].append(world if tank else first + names.get(name, 0))
        first += len(names)
    bound = {name: np.array(found, np.int64) for name, found in rows.items()}
    return Bindings(np.array(worlds, np.int64), bound), np.array(months, float)


def _as_rule(prefer: Prefer) -> Rule:
    """A preference as the rule that asks for what it wants."""
    return Rule(
        span=prefer.span,
        name=prefer.name,
        binders=prefer.binders,
        when=prefer.when,
        expect=prefer.want,
        by_eye="",
        until_horizon=False,
        unless=None,
        level=Level.ADVICE,
        stage=Stage.SETTLED,
        because=prefer.because,
        matters="",
        remedy=Text(prefer.span, ()),
        duties=(),
        source=prefer.source,
    )


def _ask(need: Call) -> str:
    """A cell as an example writes it."""
    return f"{need.name}({', '.join(_written(arg) for arg in need.args)})"


def _written(arg: object) -> str:
    """An argument as it is written."""
    match arg:
        case Call(name="spot", args=(Name(name=name),)):
            return f"{name}.spot"
        case Name(name=name):
            return name
        case _:
            return ""


def _turned(ask: str) -> str:
    """A gap asked for the other way round."""
    name, _, rest = ask.partition("(")
    parts = rest.rstrip(")").split(", ")
    return f"{name}({', '.join(reversed(parts))})"
