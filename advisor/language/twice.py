"""Two declarations of one name: the second is told, and what a house file may do instead."""

from __future__ import annotations

from typing import TypeAlias

from advisor.errors import Problem, Related, Span
from advisor.language.format_expr import HARD_SPACE, literal
from advisor.language.nodes import Action, Card, Define, Handling, Let, Lever, Prefer, Rule
from advisor.model.vocabulary import Measure, Relation

Named: TypeAlias = Measure | Relation | Let | Define | Rule | Prefer | Card | Lever | Action | Handling
"""A declaration that has a name."""


def place_of(item: Named) -> Span:
    """Return where a declaration begins."""
    span: Span | None = item.span
    return span if span is not None else Span("")


def told_twice(item: Named, first: Named, *, own: bool) -> Problem:
    """Return the problem that a name is taken.

    Parameters
    ----------
    first
        What has the name already.
    own
        Whether a house file repeats what is shipped; such a line can be changed there.
    """
    return Problem(
        "word-126",
        f"two things are called '{item.name}'",
        place_of(item),
        "the second one, left out",
        _mend(item, first) if own else "give one of them another name",
        related=(Related(place_of(first), "the shipped one" if own else "the first one"),),
    )


def _mend(item: Named, first: Named) -> str:
    """What a house file says to have its own way."""
    match first, item:
        case Let(), Let():
            change = f"change {item.name} from {literal(first.value)} to {literal(item.value)}"
            return change.replace(HARD_SPACE, " ")
        case ((Rule() | Prefer()), (Rule() | Prefer())):
            return f"give yours another name, and switch off {item.name}"
        case Card(), Card():
            return f"give yours another name, or change {item.name}, line by line"
        case _:
            return "give yours another name"
