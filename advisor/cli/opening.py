"""One node of an answer, found by its id or by the number it is printed under."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
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


def open_node(out: Output, ask: Callable[[int], Sequence[Asked]], wanted: str) -> Sequence[Asked]:
    """Print one node with the cautions of its answer, and return the answers that were looked through.

    Nothing is remembered between two commands: the question is asked again.

    Parameters
    ----------
    ask
        Asks the question at a level.
    wanted
        The id of a node, or its number.

    Raises
    ------
    UnusableInput
        If there is no such node.
    """
    from advisor.model.results import NodeAnswer
    from advisor.reports.footer import caution_blocks
    from advisor.reports.opened import node_page

    whole = ask(_WHOLE)
    found = _found(whole, wanted) if "(" in wanted else None
    if found is None:
        shown = ask(_SHOWN)
        found = _found(shown, wanted)
        if found is None:
            raise unusable((_no_such_node([*shown, *whole], wanted),))
        answer, node = found
        deeper = _found(whole, node.id)
        found = (answer, node) if deeper is None else (deeper[0], replace(deeper[1], number=node.number))
    answer, node = found
    # what touches a person's safety comes first, also before a single node
    opened = NodeAnswer(cautions=answer.cautions, node=node.content)
    out.answer(opened, (*caution_blocks(answer.cautions, 1), *node_page(node)))
    return whole


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
