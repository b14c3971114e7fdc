"""Quantities that do not go together: what each is, and what was probably meant."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.errors import Related
from advisor.language.dimensions import PHRASE, kin_unit, number_type, of_dimension, shown
from advisor.language.guess import nearest
from advisor.language.mends import in_unit
from advisor.language.nodes import (
    Arith,
    ArithOp,
    Call,
    Expr,
    Name,
    Number,
)
from advisor.language.things import source_text
from advisor.model.vocabulary import (
    NumberType,
)
from advisor.units import BASE_UNIT, DIMENSIONLESS, Dimension

if TYPE_CHECKING:
    from advisor.language.valuetypes import Typer


def unlike(typer: Typer, left: Expr, a: NumberType, right: Expr, b: NumberType) -> None:
    """Record two quantities that cannot be compared."""
    for bare, other, known in ((right, left, a), (left, right, b)):
        if typer.plain(bare) and known.dimension not in DIMENSIONLESS:
            _needs_unit(typer, bare, other, known)
            return
    mend = in_unit(right.value, a) if isinstance(right, Number) else _let_of(typer, a.dimension, right)
    if {a.dimension, b.dimension} == {Dimension.TEMPERATURE, Dimension.TEMPERATURE_STEP}:
        mend = "°C is a temperature, K is a difference of two"
    typer.say(
        "units-201",
        f"{PHRASE[a.dimension]} is compared with {PHRASE[b.dimension]}",
        left.span,
        f"{a.unit.name or 'a plain number'}, {a.dimension.value}",
        mend,
        (Related(right.span, _seen(typer, right, b)),),
    )


def _seen(typer: Typer, expr: Expr, found: NumberType) -> str:
    """What an operand is, with the place a let was set."""
    if isinstance(expr, Name) and expr.name in typer.lets:
        let = typer.lets[expr.name]
        return (
            f"{shown(let.value.value, let.value.unit)}, {found.dimension.value} "
            f"(set at {let.span.file}:{let.span.line})"
        )
    return f"{found.unit.name or 'a plain number'}, {found.dimension.value}"


def _let_of(typer: Typer, dimension: Dimension, expr: Expr) -> str:
    """The let of a dimension that was probably meant."""
    names = [name for name, let in typer.lets.items() if number_type(let.value.unit).dimension is dimension]
    meant = nearest(expr.name if isinstance(expr, Name | Call) else "", names, 0.0)
    if not meant:
        return ""
    value = typer.lets[meant].value
    return f"did you mean {meant} ({shown(value.value, value.unit)})?"


def _needs_unit(typer: Typer, bare: Expr, other: Expr, known: NumberType) -> None:
    """A bare number against a quantity with a unit."""
    unit = known.unit.name or BASE_UNIT[known.dimension].name
    name = other.name if isinstance(other, Name | Call) else "the other side"
    value = shown(bare.value, "") if isinstance(bare, Number) else "…"
    kin = kin_unit(known.dimension)
    more = f"          ({value} {kin} would be allowed, too)" if kin and kin != unit else ""
    typer.say(
        "units-202",
        "this number needs a unit",
        bare.span,
        f"{name} is measured in {unit}",
        f"{value} {unit}{more}",
    )


def uncombinable(typer: Typer, expr: Arith, a: NumberType, b: NumberType) -> None:
    """Record two quantities that no arithmetic joins."""
    word = {
        ArithOp.ADD: "added to",
        ArithOp.SUBTRACT: "taken from",
        ArithOp.MULTIPLY: "multiplied by",
        ArithOp.DIVIDE: "divided by",
    }[expr.op]
    if expr.op in (ArithOp.ADD, ArithOp.SUBTRACT):
        for bare, other, known in ((expr.right, expr.left, a), (expr.left, expr.right, b)):
            if typer.plain(bare) and known.dimension not in DIMENSIONLESS:
                _needs_unit(typer, bare, other, known)
                return
        first, second = PHRASE[b.dimension], PHRASE[a.dimension]
    else:
        first, second = PHRASE[a.dimension], PHRASE[b.dimension]
    typer.say(
        "units-207",
        f"{first} cannot be {word} {second}",
        expr.span,
        f"{a.unit.name or 'plain'} {expr.op.value} {b.unit.name or 'plain'}",
        _combinable(expr, a, b),
    )


def _combinable(expr: Arith, a: NumberType, b: NumberType) -> str:
    """What may stand there: the left side with something that goes with it."""
    left, degree = source_text(expr.left), Dimension.TEMPERATURE
    if expr.op in (ArithOp.ADD, ArithOp.SUBTRACT):
        wanted = of_dimension(Dimension.TEMPERATURE_STEP) if a.dimension is degree else a
        value = expr.right.value if isinstance(expr.right, Number) else 1.0
        return f"{left} {expr.op.value} {in_unit(value, wanted)}"
    if a.dimension is degree:
        return f"({left} - {in_unit(25.0, a)}) {expr.op.value} 2"
    return f"{left} {expr.op.value} 2"
