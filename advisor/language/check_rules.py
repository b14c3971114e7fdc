"""Lets, definitions, rules and preferences: names, kinds, units, texts and grounds."""

from __future__ import annotations

from advisor.errors import Problem, Severity
from advisor.language.dimensions import PHRASE, alike, number_type
from advisor.language.nodes import Binder, Define, Level, Number, Prefer, Rule
from advisor.language.things import source_text
from advisor.language.valuetypes import Typer
from advisor.model.vocabulary import CARRIES, WEAPONS_CARRIED, Kind, NumberType
from advisor.units import DIMENSIONLESS


def check_define(define: Define, typer: Typer) -> list[Problem]:
    """Return what is wrong with one definition."""
    fresh = Typer(typer.vocabulary, typer.lets, typer.defines)
    scope = {param.name: param.kind for param in define.params}
    for case in define.cases:
        if case.when is not None:
            fresh.truth(case.when, scope)
        if define.unit is None:
            fresh.truth(case.value, scope)
    if define.unit is None:
        if len(define.cases) > 1:
            fresh.say(
                "define-805",
                f"'{define.name}' is a truth and has cases",
                define.span,
                "cases are for quantities",
                "join them with or, and, not; or say its unit: in cm",
            )
    else:
        _quantities(define, define.unit, scope, fresh)
    if define.say is not None:
        fresh.texts(define.say, scope)
    return fresh.problems


def _quantities(define: Define, unit: str, scope: dict[str, Kind], typer: Typer) -> None:
    """Every case of a quantity has the definition's dimension."""
    declared = number_type(unit)
    for case in define.cases:
        found = typer.quantity(case.value, scope, declared)
        plain = typer.plain(case.value)
        if found is None or alike(declared, found, right_plain=plain):
            continue
        if plain and declared.dimension not in DIMENSIONLESS:
            typer.say(
                "units-202",
                "this number needs a unit",
                case.value.span,
                f"{define.name} is measured in {unit}",
                f"{case.value.value:g} {unit}" if isinstance(case.value, Number) else f"… {unit}",
            )
        else:
            typer.say(
                "units-201",
                f"'{define.name}' is {PHRASE[declared.dimension]}, this case is {PHRASE[found.dimension]}",
                case.value.span,
                f"{found.unit.name or 'a plain number'}, {found.dimension.value}",
                _said_in(define, found),
            )


def _said_in(define: Define, kind: NumberType) -> str:
    """The head of a definition in the unit of what it gives; one of a single case as a whole."""
    params = ", ".join(
        "tank" if param.kind is Kind.TANK else f"{param.kind.value} {param.name}" for param in define.params
    )
    body = source_text(define.cases[0].value) if len(define.cases) == 1 else "…"
    return f"define {define.name}({params}) in {kind.unit.name or kind.dimension.value} as {body}"


def check_rule(rule: Rule, typer: Typer) -> list[Problem]:
    """Return what is wrong with one rule."""
    fresh = Typer(typer.vocabulary, typer.lets, typer.defines)
    scope: dict[str, Kind] = {}
    for binder in rule.binders:
        fresh.bind(binder, scope)
        _weapons_are_known(binder, fresh)
    for part in (rule.when, rule.expect, rule.unless):
        if part is not None:
            fresh.truth(part, scope)
    for text in (rule.because, rule.remedy, *rule.duties):
        fresh.texts(text, scope, rule.until_horizon)
    if rule.level is Level.DANGER and rule.source is None:
        fresh.problems.append(
            Problem(
                "text-406",
                f"the danger '{rule.name}' names no source",
                rule.span,
                "a danger says where it is known from",
                'source "…" kind experience',
                Severity.WARNING,
            )
        )
    if not rule.because.pieces:
        fresh.say(
            "text-407",
            f"'{rule.name}' gives an empty reason",
            rule.because.span,
            "what is seen here?",
            'because "…"',
        )
    return fresh.problems


def _weapons_are_known(binder: Binder, typer: Typer) -> None:
    """A rule about weapons needs to know whose they are: a species that is not certain has them perhaps."""
    carries = typer.vocabulary.relations.get(CARRIES)
    if binder.kind is Kind.WEAPON and (carries is None or carries.computed_by != WEAPONS_CARRIED):
        typer.say(
            "measure-606",
            "nothing tells here which weapons an animal has",
            binder.span,
            f"the relation '{CARRIES}' is missing",
            f"relation {CARRIES}(animal a, weapon w) from computed by {WEAPONS_CARRIED}",
        )


def check_prefer(prefer: Prefer, typer: Typer) -> list[Problem]:
    """Return what is wrong with one preference."""
    fresh = Typer(typer.vocabulary, typer.lets, typer.defines)
    scope: dict[str, Kind] = {}
    for binder in prefer.binders:
        fresh.bind(binder, scope)
        _weapons_are_known(binder, fresh)
    for part in (prefer.when, prefer.want):
        if part is not None:
            fresh.truth(part, scope)
    fresh.texts(prefer.because, scope)
    return fresh.problems
