"""A name that nothing has: what was meant, of the kind that fits, or a subtraction without its spaces."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from advisor.errors import Span
from advisor.language.dimensions import PHRASE
from advisor.language.guess import nearest, several
from advisor.model.vocabulary import Kind, NumberType, TruthType, ValueType

if TYPE_CHECKING:
    from advisor.language.things import Scope, Things

_FITS = 45.0
"""How like a name of the right kind must be: little, since so few are of that kind."""
_LIKE = 60.0
_ELSEWHERE = 75.0


def tell_unknown(
    things: Things,
    name: str,
    span: Span,
    scope: Scope,
    want: ValueType | None,
    known: Collection[str],
    of: Sequence[Kind | None] = (),
) -> None:
    """Record a name that is not in the vocabulary.

    Parameters
    ----------
    want
        What is expected there, if that is known: then only a name of that kind is offered.
    known
        The names that could stand there by what they are asked of.
    of
        What it is asked of.
    """
    everything = {*scope, *things.lets, *things.callable()}
    apart = _subtraction(things, name, everything)
    if apart:
        label = "this is one name; a subtraction needs spaces"
        things.say("word-104", f"I do not know '{name}'", span, label, apart)
        return
    fitting = sorted(other for other in known if want is not None and things.fits(other, want))
    if fitting:
        label = f"expected {_phrase(want)}{_asked(of)} ({several(fitting, 5)})"
        guess = nearest(name, fitting, _FITS)
        other = "" if guess else nearest(name, known, _LIKE)
        label += f"; {other} is {_phrase(things.what(other))}" if other else ""
    else:
        label = "not in the vocabulary"
        guess = nearest(name, known, _LIKE) or nearest(name, everything, _ELSEWHERE)
    things.say("word-104", f"I do not know '{name}'", span, label, guess)


def _subtraction(things: Things, name: str, everything: Collection[str]) -> str:
    """The name taken apart into names and numbers that are known; empty if that is not possible."""
    found = _taken_apart(name.split("-"), everything)
    if len(found) < 2:
        return ""
    units = [unit for part in found if not part.isdigit() and (unit := _unit_of(things, part))]
    unit = units[0] if units else ""
    return " - ".join(
        f"{part} {unit}".rstrip() if part.isdigit() else _as_value(things, part) for part in found
    )


def _taken_apart(words: list[str], everything: Collection[str]) -> list[str]:
    """The longest known names, from left to right, or numbers; nothing if a part is neither."""
    if not words:
        return []
    for end in range(len(words), 0, -1):
        part = "-".join(words[:end])
        if part in everything or (end == 1 and part.isdigit()):
            rest = _taken_apart(words[end:], everything)
            if rest or end == len(words):
                return [part, *rest]
    return []


def _unit_of(things: Things, name: str) -> str:
    """The unit of a named number or a measure."""
    if name in things.lets:
        return things.lets[name].value.unit
    found = things.value_of(name) if things.params(name) is not None else None
    return found.unit.name if isinstance(found, NumberType) else ""


def _as_value(things: Things, name: str) -> str:
    """A name as it stands in an expression."""
    params = things.params(name)
    return f"{name}({', '.join(param.name for param in params)})" if params else name


def _phrase(want: ValueType | None) -> str:
    """What was wanted."""
    if isinstance(want, NumberType):
        return PHRASE[want.dimension]
    return "a condition" if isinstance(want, TruthType) else "a word"


def _asked(of: Sequence[Kind | None]) -> str:
    """What it is asked of, as a sentence goes on."""
    from advisor.language.things import ARTICLE

    kinds = [kind for kind in of if kind is not None]
    if not kinds or len(kinds) != len(of):
        return ""
    return " of " + " and ".join(ARTICLE[kind] for kind in kinds)
