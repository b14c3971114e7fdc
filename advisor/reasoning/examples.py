"""Examples of rule files run through the one evaluator: each `then` is one binding of its rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.language.library import Library
from advisor.language.nodes import Call, Example, Level, Name, Outcome, Prefer, Rule, Stage, Text, Then
from advisor.model.results import Reason, Verdict
from advisor.reasoning.bindings import Bindings, population_of
from advisor.reasoning.columns import Floats, Ints
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.frame import Frame
from advisor.reasoning.givens import Givens, givens_of
from advisor.reasoning.judge import VERDICTS, Plane, frame_of, judge_frame
from advisor.reasoning.reasons import LEANS, Asked, reasons_for
from advisor.reasoning.record import Row, margin_of, open_cells
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
class Trial:
    """One example judged: its `then`s are the rows of the frame, in their order."""

    compiled: CompiledRule
    example: Example
    frame: Frame
    plane: Plane

    def verdict(self, at: int) -> Verdict:
        """Return the verdict of one `then`."""
        return VERDICTS[int(self.plane.verdict[at])]

    def got(self, at: int, asked: Then | None = None) -> str:
        """Return what came out of one `then`, told as far as `asked` (the `then` itself) asks for it."""
        then = self.example.thens[at] if asked is None else asked
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
        if then.by is None or self.compiled.expect is None:
            return ""
        margin, _ = margin_of(self.compiled.expect, Row(self.frame, at))
        if margin is None or margin.best is None:
            return ""
        wanted = unit_named(then.by.unit).factor if then.by.unit else 1.0
        had = unit_named(margin.unit).factor if margin.unit else 1.0
        return f" by {round(abs(margin.best) * had / wanted, 6):g} {then.by.unit}".rstrip()


def run_examples(library: Library, examples: Sequence[Example] | None = None) -> tuple[Outcomes, ...]:
    """Return what every example of a library (or the given ones) came out as, in order."""
    compiled: dict[str, CompiledRule] = {}
    out: list[Outcomes] = []
    for example in library.examples if examples is None else examples:
        rule = rule_of(example.rule, library)
        if rule is None:
            continue
        if rule.name not in compiled:
            compiled[rule.name] = compile_rule(rule, library)
        out.extend(_outcomes(try_out(compiled[rule.name], example, library)))
    return tuple(out)


def try_out(compiled: CompiledRule, example: Example, library: Library) -> Trial:
    """Return an example judged by a rule; the columns stay in the frame."""
    tables = givens_of(example, library)
    bindings, months = _bindings(compiled, example, tables)
    frame = frame_of(compiled, tables, population_of(tables), bindings, months)
    return Trial(compiled, example, frame, judge_frame(compiled, frame, bindings))


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


def _outcomes(trial: Trial) -> list[Outcomes]:
    """What became of each `then` of a judged example."""
    frame, plane = trial.frame, trial.plane
    thens = trial.example.thens
    asked = [Asked()] * len(thens)
    reasons = reasons_for(trial.compiled, frame.tables, frame.population, plane.bindings, frame.months, asked)
    wanted = [expected(then) for then in thens]
    got = [trial.got(at) for at in range(len(thens))]
    return [
        Outcomes(trial.example, then, wanted[at] == got[at], wanted[at], got[at], reasons[at])
        for at, then in enumerate(thens)
    ]


def _bindings(compiled: CompiledRule, example: Example, tables: Givens) -> tuple[Bindings, Floats]:
    """The binding and the month of each `then`; what nobody introduced is the first thing, or the tank."""
    names = {name: row for row, name in enumerate(tables.names)}
    size = len(example.thens)
    rows: dict[str, Ints] = {}
    for place, binder in enumerate(compiled.binders):
        bound = [then.entities[place] if place < len(then.entities) else "" for then in example.thens]
        rows[binder.name] = np.array([names.get(name, 0) for name in bound], np.int64)
    months = np.array([then.month for then in example.thens], float)
    return Bindings(np.zeros(size, np.int64), rows), months


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
