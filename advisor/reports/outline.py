"""Every node of an answer under its id and its printed number, so that one can be opened."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from dataclasses import dataclass

from advisor.model.results import Answer, AuditAnswer, Reason, Step, WhereAnswer, WhyAnswer

NEAREST = 3
"""Nodes that are offered for one that is not there."""


@dataclass(frozen=True, slots=True)
class Node:
    """A reason or a step of one, with the number it is printed under."""

    number: str
    id: str
    content: Reason | Step


def numbered_reasons(answer: Answer) -> Iterator[tuple[str, Reason]]:
    """Yield every reason of an answer with its printed number; those of a first night have none."""
    for gate in answer.gates:
        yield gate.number, gate
    match answer:
        case WhereAnswer():
            for rank, place in enumerate(answer.places, 1):
                for reason in place.reasons:
                    yield f"{rank}.{reason.number}", reason
            for reason in answer.tonight.reasons if answer.tonight is not None else ():
                yield "", reason
        case WhyAnswer():
            for reason in answer.place.reasons:
                yield reason.number, reason
        case AuditAnswer():
            for finding in (*answer.now, *answer.later):
                yield str(finding.number), finding.reason
            for reason in (*answer.open, *answer.open_advice, *answer.accepted):
                yield reason.number, reason


def nodes(answer: Answer) -> Iterator[Node]:
    """Yield every reason and, below it, every step, in the order of printing."""
    for number, reason in numbered_reasons(answer):
        yield from _nodes_of(number, reason)


def _nodes_of(number: str, reason: Reason) -> Iterator[Node]:
    """A reason and its steps; of a cell that is told twice the whole one."""
    yield Node(number, reason.id, reason)
    tree = () if reason.step is None else reason.step.inputs
    for step in (*tree, *reason.decides):
        for each in _with_all_below(step):
            path = each.id.removeprefix(reason.id)
            yield Node(f"{number}{path}" if number else "", each.id, each)


def _with_all_below(step: Step) -> Iterator[Step]:
    """A step and all under it."""
    yield step
    for each in step.inputs:
        yield from _with_all_below(each)


def find_node(answer: Answer, wanted: str) -> Node | None:
    """Return the node with this id or printed number; of one that repeats another, what that one says."""
    found = _find(answer, wanted)
    if found is None or isinstance(found.content, Reason) or not found.content.same_as:
        return found
    meant = _find(answer, found.content.same_as)
    return found if meant is None else Node(found.number, found.id, meant.content)


def _find(answer: Answer, wanted: str) -> Node | None:
    """The node as it stands; the first, where an id occurs twice."""
    return next((node for node in nodes(answer) if wanted and wanted in (node.number, node.id)), None)


def nearest_nodes(answer: Answer, wanted: str) -> list[str]:
    """Return the names of nodes most like one that is not there: of its own reason, if that is meant."""
    reasons = list(numbered_reasons(answer))
    head = wanted.partition("/")[0]
    own = next(((number, reason) for number, reason in reasons if head in (number, reason.id)), None)
    if own is None:
        names = [name for number, reason in reasons for name in (reason.id, number) if name]
        return difflib.get_close_matches(head, names, NEAREST, 0.4)
    by_id = head == own[1].id
    names = [node.id if by_id else node.number for node in _nodes_of(*own)]
    return difflib.get_close_matches(wanted, dict.fromkeys(names), NEAREST, 0.4)
