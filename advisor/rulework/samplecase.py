"""A found case written as an example block that can be pasted beside the rule it is about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from advisor.language.format_cases import example_clauses
from advisor.language.library import Library
from advisor.language.nodes import Binder, Call, Example, Expr, Given, Name, Number, Outcome, Rule, Then
from advisor.model.vocabulary import CARRIES, Kind, NumberType
from advisor.reasoning.columns import Column, Numbers, Sets, Truths, Words
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import OUTCOMES, try_out
from advisor.reasoning.frame import Ref
from advisor.reasoning.ops import NumberCell
from advisor.rulework.cellspace import CellOp
from advisor.rulework.formulas import NOWHERE
from advisor.rulework.pasting import WIDEST
from advisor.rulework.possible import Case
from advisor.units import from_base, unit_named

_WAYS = ((0.0, 0.0), (-0.04, 0.04), (-0.04, 0.0), (0.0, 0.04))
"""How a reading is told: as it is, then as a range too narrow for its error to matter. [steps]"""


@dataclass(frozen=True, slots=True)
class Naming:
    """What an example calls the things a rule binds."""

    names: Mapping[str, str]
    called: Mapping[str, str]
    """What the case calls the rule's variables, where it calls them otherwise."""

    def of(self, ref: Ref) -> Expr:
        """Return a thing as an argument of a fact."""
        if ref.kind is Kind.TANK:
            return Name(NOWHERE, "tank")
        var = next((own for own, other in self.called.items() if other == ref.var), ref.var)
        name = Name(NOWHERE, self.names[var])
        return Call(NOWHERE, "spot", (name,), dotted=True) if ref.spot else name


def example_of(
    title: str,
    rule: Rule,
    case: Case,
    library: Library,
    called: Mapping[str, str] | None = None,
    wanted: Outcome | None = None,
) -> Example:
    """Return a case as an example of a rule, with the outcome that the rule gives it.

    Parameters
    ----------
    called
        What the case calls the variables of the rule, where it calls them otherwise.
    wanted
        The outcome to show; where the error of a reading is in the way, the
        reading is told as a narrow range.
    """
    naming = Naming(names_for(rule.binders), called or {})
    tries = [_example(title, rule, case, naming, way) for way in _WAYS]
    trial = try_out(compile_rule(rule, library), tries, library)
    got = [OUTCOMES.get(trial.verdict(at)) for at in range(len(tries))]
    at = got.index(wanted) if wanted in got else 0
    then = replace(tries[at].thens[0], outcome=got[at] or Outcome.UNDECIDED)
    return replace(tries[at], thens=(then,))


def written(example: Example) -> str:
    """Return an example as text to paste, no wider than a terminal."""
    return "\n".join(line for clause in example_clauses(example, WIDEST) for line in clause.lines)


def names_for(binders: Sequence[Binder]) -> dict[str, str]:
    """Return a name for each variable of a rule: ``coral-1``."""
    counts: dict[str, int] = {}
    names: dict[str, str] = {}
    for binder in binders:
        kind = Kind.CORAL if binder.kind is Kind.ANIMAL else binder.kind
        counts[kind.value] = counts.get(kind.value, 0) + 1
        names[binder.name] = "tank" if kind is Kind.TANK else f"{kind.value}-{counts[kind.value]}"
    return names


def _example(title: str, rule: Rule, case: Case, naming: Naming, way: tuple[float, float]) -> Example:
    """A case as an example, its outcome not looked at yet."""
    facts = [
        _given(cell, column, naming, way) for cell, column in case.columns.items() if cell.name != CARRIES
    ]
    givens: list[Given] = []
    for binder in rule.binders:
        if binder.kind is Kind.TANK:
            continue
        name = naming.names[binder.name]
        kind = Kind.CORAL if binder.kind is Kind.ANIMAL else binder.kind
        givens.append(Given(NOWHERE, name, kind, of=naming.names.get(binder.weapon_of, "")))
        own = [fact for fact in facts if fact.fact is not None and fact.fact.args == (Name(NOWHERE, name),)]
        facts = [fact for fact in facts if fact not in own]
        givens += own
    bound = tuple(naming.names[binder.name] for binder in rule.binders)
    return Example(NOWHERE, title, rule.name, (*givens, *facts), (Then(NOWHERE, bound, Outcome.HOLDS),))


def _given(cell: CellOp, column: Column, naming: Naming, way: tuple[float, float]) -> Given:
    """A cell as a fact of an example."""
    args = tuple(naming.of(ref) for ref in cell.refs)
    call = Call(NOWHERE, cell.name, args, name_span=NOWHERE)
    match column:
        case Numbers(low=low) if isinstance(cell, NumberCell):
            ends = _told(cell, float(low[0]), way)
            return Given(NOWHERE, fact=call, low=ends[0], high=ends[1])
        case Words(possible=possible, domain=domain):
            return Given(NOWHERE, fact=call, word=domain[int(np.argmax(possible[0]))])
        case Sets(surely=surely, domain=domain):
            held = [word for word, has in zip(domain, surely[0], strict=True) if has]
            return Given(NOWHERE, fact=call, word=", ".join(held))
        case Truths(yes=yes):
            return Given(NOWHERE, fact=call, word="yes" if yes[0] else "no")
        case _:
            raise TypeError(f"a column of quantities for {cell.name}")


def _told(cell: NumberCell, value: float, way: tuple[float, float]) -> tuple[Number, Number]:
    """A quantity in the unit of its measure, as it is or as a narrow range within what is possible."""
    measure = cell.measure
    step = measure.step if measure.error else 0.0  # what has no error is never in doubt
    kind = measure.type
    unit = kind.unit.name if isinstance(kind, NumberType) else ""
    ends = [min(max(value + part * step, measure.low), measure.high) for part in way]
    low, high = (Number(NOWHERE, float(f"{_shown(end, unit):.10g}"), unit) for end in ends)
    return low, high


def _shown(base: float, unit: str) -> float:
    """A base value in a unit."""
    return from_base(base, unit_named(unit)) if unit else base
