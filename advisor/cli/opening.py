"""Nodes of an answer, found by their ids or by the numbers they are printed under."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, TypeVar

from advisor.cli.output import Output
from advisor.errors import Problem, unusable

if TYPE_CHECKING:
    from advisor.model.results import Answer
    from advisor.reports.outline import Node

Asked = TypeVar("Asked", bound="Answer")

_WHOLE = 4
_SHOWN = 3
"""The deepest level whose numbers are those of every level before."""


def open_nodes(out: Output, ask: Callable[[int], Sequence[Asked]], wanted: Sequence[str]) -> Sequence[Asked]:
    """Print some nodes with the cautions of their answers, and return the answers that were looked through.

    Nothing is remembered between two commands: the question is asked again.

    Parameters
    ----------
    ask
        Asks the question at a level.
    wanted
        The ids of nodes, or their numbers, in the order to print them.

    Raises
    ------
    UnusableInput
        If there is no such node; nothing is printed then.
    """
    asked = cache(ask)
    found = [_looked_up(asked, each) for each in wanted]
    missing = [each for each, node in zip(wanted, found, strict=True) if node is None]
    if missing:
        every = [*asked(_SHOWN), *asked(_WHOLE)]
        raise unusable(tuple(_no_such_node(every, each) for each in missing))
    told: set[str] = set()
    for answer, node in filter(None, found):
        _print(out, answer, node, told)
    return asked(_WHOLE)


def _looked_up(asked: Callable[[int], Sequence[Asked]], wanted: str) -> tuple[Answer, Node] | None:
    """A node with all that is below it, under the number it was asked by; None if there is none."""
    if "(" in wanted:
        found = _found(asked(_WHOLE), wanted)
        if found is not None:
            return found
    found = _found(asked(_SHOWN), wanted)
    if found is None:  # what only the deepest level tells has its number there
        return _found(asked(_WHOLE), wanted)
    answer, node = found
    deeper = _found(asked(_WHOLE), node.id)
    return (answer, node) if deeper is None else (deeper[0], replace(deeper[1], number=node.number))


def _print(out: Output, answer: Answer, node: Node, told: set[str]) -> None:
    """Print one node; what touches a person's safety comes first, on a page of several once."""
    from advisor.model.results import NodeAnswer
    from advisor.reports.footer import caution_blocks
    from advisor.reports.opened import node_page
    from advisor.reports.page import Blank

    fresh = tuple(caution for caution in answer.cautions if caution.text not in told)
    before = (Blank(),) if told else ()
    told |= {"", *(caution.text for caution in fresh)}
    opened = NodeAnswer(cautions=answer.cautions, node=node.content)
    out.answer(opened, (*before, *caution_blocks(fresh, 1), *node_page(node)))


def _found(answers: Sequence[Answer], wanted: str) -> tuple[Answer, Node] | None:
    """The first answer that has a node, and the node."""
    from advisor.reports.outline import find_node

    for answer in answers:
        node = find_node(answer, wanted)
        if node is not None:
            return answer, node
    return None


def _no_such_node(answers: Sequence[Answer], wanted: str) -> Problem:
    """The problem of a node that is not there, with those most like it."""
    from advisor.reports.outline import nearest_nodes

    near = list(dict.fromkeys(name for answer in answers for name in nearest_nodes(answer, wanted)))[:3]
    mend = " or ".join(f"--open '{name}'" for name in near) or "--level 2 shows every number and node"
    return Problem("command-104", f"this answer has no node '{wanted}'", mend=mend)
