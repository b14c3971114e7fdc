"""From checked trees to column operations: rules and preferences with their texts."""

from __future__ import annotations

import re
from collections.abc import Sequence

from advisor.language.library import Library
from advisor.language.nodes import Binder, Prefer, Rule
from advisor.reasoning.compiled_rule import CompiledPrefer as CompiledPrefer
from advisor.reasoning.compiled_rule import CompiledRule as CompiledRule
from advisor.reasoning.compiled_rule import Template as Template
from advisor.reasoning.frame import Ref
from advisor.reasoning.maker import Maker, Scope
from advisor.reasoning.scales import CompileError as CompileError


def compile_rule(rule: Rule, library: Library) -> CompiledRule:
    """Return `rule` as operations.

    Raises
    ------
    CompileError
        If the rule was never checked.
    """
    maker = Maker(library)
    scope = _scope(rule.binders)
    return CompiledRule(
        rule,
        maker.condition(rule.when, scope, maker.bound(rule.binders, scope)),
        maker.condition(rule.expect, scope),
        maker.condition(rule.unless, scope),
        maker.template(rule.because, scope),
        _named(rule.by_eye, scope),
        maker.template(rule.remedy, scope),
        tuple(maker.template(duty, scope) for duty in rule.duties),
        maker.aggregates,
    )


def compile_prefer(prefer: Prefer, library: Library) -> CompiledPrefer:
    """Return a preference as operations."""
    maker = Maker(library)
    scope = _scope(prefer.binders)
    when = maker.condition(prefer.when, scope, maker.bound(prefer.binders, scope))
    want = maker.expr(prefer.want, scope)
    return CompiledPrefer(prefer, when, want, maker.template(prefer.because, scope), maker.aggregates)


def _scope(binders: Sequence[Binder]) -> Scope:
    """The references that a rule's own variables stand for."""
    return {binder.name: Ref(binder.name, binder.kind) for binder in binders}


def _named(text: str, scope: Scope) -> Template:
    """A plain sentence whose ``{name}`` holes stand for a rule's own variables."""
    pieces = re.split(r"\{([a-z][a-z0-9-]*)\}", text)
    return Template(
        tuple(scope.get(piece, piece) if index % 2 else piece for index, piece in enumerate(pieces))
    )
