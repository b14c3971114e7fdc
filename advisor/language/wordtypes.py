"""Comparisons of words: is, is one of, has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.errors import Related
from advisor.language.dimensions import PHRASE
from advisor.language.guess import nearest, several
from advisor.language.mends import value_of
from advisor.language.nodes import Call, Expr, Is, IsOp, Name
from advisor.language.things import Scope, source_text
from advisor.model.vocabulary import NumberType, SetType, TruthType, WordType

if TYPE_CHECKING:
    from advisor.language.valuetypes import Typer


def check_words(typer: Typer, expr: Is, scope: Scope) -> None:
    """Record what is wrong with a comparison of words."""
    if isinstance(expr.left, Name) and (expr.left.name in scope or expr.left.name == "tank"):
        typer.say(
            "word-122",
            f"'{expr.left.name}' is a thing; what of it is compared?",
            expr.left.span,
            "a word-valued measure is expected",
            f"{expr.left.name}.group is …",
        )
        return
    left = typer.type_of(expr.left, scope)
    if left is None:
        return
    if isinstance(left, NumberType):
        typer.say(
            "units-209",
            "a quantity is not compared with 'is'",
            expr.left.span,
            PHRASE[left.dimension],
            "use >=, <=, >, < or between",
        )
    elif isinstance(left, TruthType):
        text = source_text(expr.left)
        no = expr.negated != (isinstance(expr.right[0], Name) and expr.right[0].name == "no")
        typer.say(
            "units-209",
            "a condition needs no 'is'",
            expr.left.span,
            "true or false already",
            f"not {text}" if no else text,
        )
    elif isinstance(left, SetType) and expr.op is not IsOp.HAS:
        typer.say(
            "units-210",
            "this measure holds several words",
            expr.left.span,
            "one word cannot be all of them",
            f"{source_text(expr.left)} has …",
        )
    elif isinstance(left, WordType) and expr.op is IsOp.HAS:
        typer.say(
            "units-210",
            "this measure holds one word",
            expr.left.span,
            "'has' asks among several",
            f"{source_text(expr.left)} is …",
        )
    else:
        for item in expr.right:
            _word(typer, item, left, expr, scope)


def _word(typer: Typer, item: Expr, left: WordType | SetType, expr: Is, scope: Scope) -> None:
    """Check one word, or a measure that gives words, on the right of a comparison."""
    if isinstance(item, Name) and item.name not in scope:
        if left.words and item.name not in left.words:
            _no_such_word(typer, item, left.words, expr.left)
        return
    found = typer.type_of(item, scope)
    if found is None:
        return
    several_allowed = expr.op is IsOp.ONE_OF and len(expr.right) == 1
    if not isinstance(found, SetType if several_allowed else WordType) or (
        isinstance(item, Call) and len(expr.right) > 1
    ):
        what = "a measure of several words" if several_allowed else "a word"
        mend = value_of(SetType(left.words) if several_allowed else WordType(left.words))
        if isinstance(found, SetType | WordType) and len(expr.right) == 1 and expr.op is not IsOp.HAS:
            sign = "is" if several_allowed else "is one of"
            sign = sign.replace("is", "is not", 1) if expr.negated else sign
            mend = f"{source_text(expr.left)} {sign} {source_text(item)}"
        typer.say("units-210", f"{what} is expected here", item.span, "this is something else", mend)
    elif left.words and found.words and not set(left.words) & set(found.words):
        typer.say(
            "word-119",
            "these two have no word in common",
            item.span,
            several(found.words),
            left.words[0],
            related=(Related(expr.left.span, several(left.words)),),
        )


def _no_such_word(typer: Typer, item: Name, words: tuple[str, ...], left: Expr) -> None:
    """A word that the measure on the left does not have."""
    measure = left.name if isinstance(left, Call) else "the left side"
    typer.say(
        "word-119",
        f"'{item.name}' is not a word of {measure}",
        item.span,
        f"{measure} is one of: {several(words, 12)}",
        nearest(item.name, words, 50.0),
    )
