"""Levers: they move something that a keeper can move, by an amount of its own kind."""

from __future__ import annotations

from advisor.errors import Problem
from advisor.language.dimensions import PHRASE, alike, number_type
from advisor.language.guess import nearest, several
from advisor.language.mends import in_unit
from advisor.language.nodes import Call, Lever, Name, Number, Text
from advisor.language.valuetypes import Typer
from advisor.model.vocabulary import Kind, Measure, NumberType, Relation, Supplier, TruthType, WordType
from advisor.units import BASE_UNIT, Dimension


def check_lever(lever: Lever, typer: Typer) -> list[Problem]:
    """Return what is wrong with one lever."""
    fresh = Typer(typer.vocabulary, typer.lets, typer.defines)
    scope = {param.name: param.kind for param in lever.params}
    args = tuple(Name(lever.target_span, arg) for arg in lever.args)
    call = Call(lever.target_span, lever.target, args, False, lever.target_span)
    kind = fresh.type_of(call, scope)
    target = fresh.vocabulary.measures.get(lever.target) or fresh.vocabulary.relations.get(lever.target)
    if kind is not None and (target is None or Supplier.KEEPER not in target.suppliers):
        fresh.say(
            "lever-851",
            f"'{lever.target}' is nothing a keeper can change",
            lever.target_span,
            "worked out, or told by a card" if target is None or not target.suppliers else _supplied(target),
            "a lever moves a measure or relation that comes 'from keeper'",
        )
    elif isinstance(target, Measure) and isinstance(kind, NumberType):
        _quantity(lever, target, kind, fresh)
    elif kind is not None:
        _truth_or_word(lever, kind, fresh)
    for text in (lever.say, lever.not_checked):
        if text is not None:
            _sentence(text, scope, fresh)
    return fresh.problems


def _supplied(target: Measure | Relation) -> str:
    """Who says it, in words."""
    return " and ".join(f"it comes from {supplier.value}" for supplier in target.suppliers)


def _quantity(lever: Lever, target: Measure, kind: NumberType, typer: Typer) -> None:
    """A quantity is moved by an amount of its dimension."""
    step = lever.step
    wanted = kind
    if kind.dimension is Dimension.TEMPERATURE:
        wanted = NumberType(Dimension.TEMPERATURE_STEP, BASE_UNIT[Dimension.TEMPERATURE_STEP])
    if step is None:
        typer.say(
            "lever-852",
            f"'{lever.target}' is {PHRASE[kind.dimension]}, which is not made true",
            lever.target_span,
            "a quantity is moved by steps",
            f"changes {lever.target}({', '.join(lever.args)}) by {_one_step(target, wanted)}",
        )
    elif not alike(wanted, number_type(step.unit), right_plain=not step.unit):
        _unlike(lever, wanted, step, typer)
    elif step.value <= 0:
        mend = in_unit(-step.value, number_type(step.unit)) if step.value else _one_step(target, wanted)
        what = "a step must be more than nothing"
        typer.say("units-205", what, step.span, "say up or down before 'by'", mend)


def _one_step(target: Measure, kind: NumberType) -> str:
    """The smallest difference that means anything, with its unit."""
    return f"{target.step / kind.unit.factor:g} {kind.unit.name}".rstrip()


def _unlike(lever: Lever, wanted: NumberType, step: Number, typer: Typer) -> None:
    """A step of another kind than what is moved."""
    if not step.unit:
        typer.say(
            "units-202",
            "this number needs a unit",
            step.span,
            f"{lever.target} is measured in {wanted.unit.name}",
            f"{step.value:g} {wanted.unit.name}",
        )
        return
    found = number_type(step.unit)
    typer.say(
        "units-201",
        f"{PHRASE[wanted.dimension]} is moved by {PHRASE[found.dimension]}",
        step.span,
        f"{lever.target} is measured in {wanted.unit.name or 'plain numbers'}",
        in_unit(step.value, wanted),
    )


def _truth_or_word(lever: Lever, kind: object, typer: Typer) -> None:
    """A relation is made true, a word is made another."""
    words = kind.words if isinstance(kind, WordType) else ()
    if lever.step is not None:
        typer.say(
            "lever-852",
            f"'{lever.target}' is no quantity, it has no steps",
            lever.target_span,
            "this is made so, not moved",
            f"makes {lever.target}({', '.join(lever.args)})" + (f" = {words[0]}" if words else ""),
        )
    elif isinstance(kind, TruthType) == bool(lever.word) or not isinstance(kind, TruthType | WordType):
        typer.say(
            "lever-852",
            f"'{lever.target}' " + ("is true or not" if isinstance(kind, TruthType) else "is a word"),
            lever.target_span,
            "a relation takes no word, a measure of words needs one",
            f"makes {lever.target}({', '.join(lever.args)})" + (f" = {words[0]}" if words else ""),
        )
    elif lever.word and words and lever.word not in words:
        typer.say(
            "lever-853",
            f"'{lever.target}' is never '{lever.word}'",
            lever.target_span,
            f"one of: {several(words)}",
            nearest(lever.word, words, 0.0),
        )


def _sentence(text: Text, scope: dict[str, Kind], typer: Typer) -> None:
    """A sentence of a lever names things only; numbers are put in where it is used."""
    typer.texts(text, scope)
    for piece in text.pieces:
        if not isinstance(piece, str | Name):
            typer.say(
                "lever-854",
                "a lever's sentence names things only",
                piece.span,
                "how far it is moved is added where it is used",
                several([f"{{{name}}}" for name in scope]),
            )
