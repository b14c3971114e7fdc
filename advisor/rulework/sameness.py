"""Whether a change of a rule can be noticed at all."""

from __future__ import annotations

from advisor.errors import Span
from advisor.language.library import Library
from advisor.language.nodes import Example, Given, Outcome, Then
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import Truths
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.examples import try_out
from advisor.reasoning.frame import Frame
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.ops import NumberCell, Op, RelationCell, SetCell, WordCell
from advisor.rulework.bench import Bench
from advisor.rulework.following import ops_of
from advisor.rulework.meaning import meaning_of
from advisor.rulework.mutants import Mutant

_NOWHERE = Span("")


def same_meaning(mutant: Mutant, bench: Bench) -> str:
    """Return why a change changes nothing, as far as that is plain; empty if it may."""
    alike = always = True
    for name in bench.users(mutant.thing):
        ready, changed = bench.proven(name), bench.changed(mutant, name)
        if ready is None or changed is None:
            continue
        alike = alike and meaning_of(ready.compiled) == meaning_of(changed[0])
        always = always and _settled_alike(mutant, ready.compiled, *changed, bench.library)
    if alike:
        return "it says the same in other words"
    return "the condition comes out the same whatever is measured" if always else ""


def _settled_alike(
    mutant: Mutant, compiled: CompiledRule, changed: CompiledRule, after: Library, before: Library
) -> bool:
    """Whether a changed condition is decided, and alike, where nothing at all is known."""
    old = ops_of(compiled, before).get(id(mutant.node))
    new = None if mutant.fresh is None else ops_of(changed, after).get(id(mutant.fresh))
    sides = [(rule, op) for rule, op in ((compiled, old), (changed, new)) if op is not None]
    if len(sides) < 2 or any(_reaches_further(op, rule) for rule, op in sides):
        return False
    columns = [_where_nothing_is_known(rule, before).value(op) for rule, op in sides]
    if not all(isinstance(column, Truths) for column in columns):
        return False
    first, second = (column for column in columns if isinstance(column, Truths))
    return bool((first.yes & second.yes).all() or (first.no & second.no).all())


def _reaches_further(op: Op, compiled: CompiledRule) -> bool:
    """Whether an operation asks about others than the things a rule binds."""
    if isinstance(op, TruthAggregate | NumberAggregate):
        return True
    bound = {binder.name for binder in compiled.binders}
    if isinstance(op, NumberCell | WordCell | SetCell | RelationCell):
        return any(ref.var not in bound and ref.kind is not Kind.TANK for ref in op.refs)
    return any(_reaches_further(child, compiled) for child in op.inputs)


def _where_nothing_is_known(compiled: CompiledRule, library: Library) -> Frame:
    """A frame of one row whose things are there and of which nothing is told."""
    things = [binder for binder in compiled.binders if binder.kind is not Kind.TANK]
    givens = tuple(
        Given(_NOWHERE, entity=binder.name, kind=binder.kind, of=binder.weapon_of) for binder in things
    )
    then = Then(_NOWHERE, tuple(binder.name for binder in compiled.binders), Outcome.UNDECIDED)
    made = try_out(compiled, (Example(_NOWHERE, "", compiled.rule.name, givens, (then,)),), library).frame
    return Frame(made.tables, made.population, made.worlds, made.rows, made.months, assume=False)
