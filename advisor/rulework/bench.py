"""Rules under test: each compiled with its examples laid out and judged once, and again with a change."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from advisor.language.library import Library
from advisor.language.nodes import Define, Example, Prefer, Rule
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.examples import Trial, rule_of, try_out
from advisor.reasoning.givens import Givens
from advisor.reasoning.ops import Op
from advisor.reasoning.scales import CompileError
from advisor.reasoning.side_by_side import side_by_side
from advisor.rulework.coverage import examples_of, users_of
from advisor.rulework.following import ops_of
from advisor.rulework.mutants import Mutant, Thing


@dataclass(frozen=True, slots=True)
class Proven:
    """A rule or preference with its examples laid out and judged."""

    compiled: CompiledRule
    examples: tuple[Example, ...]
    tables: Givens
    trial: Trial
    got: tuple[str, ...]

    def notices(self, changed: CompiledRule, library: Library) -> bool:
        """Return whether an example comes out otherwise under a changed rule."""
        trial = try_out(changed, self.examples, library, self.tables)
        if (trial.plane.verdict != self.trial.plane.verdict).any():
            return True
        return any(trial.got(at) != got for at, got in enumerate(self.got))


def proven(name: str, library: Library) -> Proven | None:
    """Return a rule with its examples judged; None where there is no such rule or it is checked by eye."""
    rule = rule_of(name, library)
    if rule is None or rule.expect is None:
        return None
    compiled, examples = compile_rule(rule, library), examples_of(name, library)
    tables = side_by_side(examples, library)
    trial = try_out(compiled, examples, library, tables)
    return Proven(compiled, examples, tables, trial, tuple(trial.got(at) for at in range(len(trial.cases))))


@dataclass(slots=True)
class Bench:
    """The rules under test, each prepared once."""

    library: Library
    ready: dict[str, Proven | None] = field(default_factory=dict)
    using: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def proven(self, name: str) -> Proven | None:
        """Return a rule with its examples judged."""
        if name not in self.ready:
            self.ready[name] = proven(name, self.library)
        return self.ready[name]

    def users(self, thing: Thing) -> tuple[str, ...]:
        """Return the rules whose examples are to notice a change of a thing."""
        if thing.name not in self.using:
            names = users_of(thing.name, self.library) if isinstance(thing, Define) else (thing.name,)
            self.using[thing.name] = tuple(name for name in names if self.proven(name) is not None)
        return self.using[thing.name]

    def ops(self, names: Iterable[str]) -> dict[int, Op]:
        """Return the operation of every node of some rules."""
        found: dict[int, Op] = {}
        for name in names:
            ready = self.proven(name)
            if ready is not None:
                found.update(ops_of(ready.compiled, self.library))
        return found

    def changed(self, mutant: Mutant, name: str) -> tuple[CompiledRule, Library] | None:
        """Return a rule compiled with a change; None where the change cannot be."""
        thing, library = mutant.changed, self.library
        match thing:
            case Define():
                library = replace(library, defines={**library.defines, thing.name: thing})
            case Rule():
                library = replace(library, rules={**library.rules, thing.name: thing})
            case Prefer():
                library = replace(library, prefers={**library.prefers, thing.name: thing})
        rule = rule_of(name, library)
        if rule is None:
            return None
        try:
            return compile_rule(rule, library), library
        except CompileError:
            return None
