"""Every node of an answer under its id and its printed number, so that one can be opened."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.model.results import Answer, AuditAnswer, Reason, Step, WhereAnswer, WhyAnswer


@dataclass(frozen=True, slots=True)
class Node:
    """A reason or a step of one, with the number it is printed under."""

    number: str
    id: str
    content: Reason | Step


def numbered_reasons(answer: Answer) -> Iterator[tuple[str, Reason]]:
    """Yield every reason of an answer with its printed number."""
    for index, gate in enumerate(answer.gates, 1):
        yield f"g{index}", gate
    match answer:
        case WhereAnswer():
            for rank, place in enumerate(answer.places, 1):
                for index, reason in enumerate(place.reasons, 1):
                    yield f"{rank}.{index}", reason
        case WhyAnswer():
            for index, reason in enumerate(answer.place.reasons, 1):
                yield str(index), reason
        case AuditAnswer():
            yield from _audit_reasons(answer)


def _audit_reasons(answer: AuditAnswer) -> Iterator[tuple[str, Reason]]:
    for finding in (*answer.now, *answer.later):
        yield str(finding.number), finding.reason
    for index, reason in enumerate(answer.open, 1):
        yield f"o{index}", reason
    for index, reason in enumerate(answer.accepted, 1):
        yield f"a{index}", reason


def nodes(answer: Answer) -> Iterator[Node]:
    """Yield every reason and, below it, every step, in the order of printing."""
    for number, reason in numbered_reasons(answer):
        yield Node(number, reason.id, reason)
        if reason.step is not None:
            yield from _steps(number, reason.step, root=True)


def _steps(number: str, step: Step, root: bool = False) -> Iterator[Node]:
    if not root:
        yield Node(number, step.id, step)
    else:
        yield Node(f"{number}.0", step.id, step)
    for index, each in enumerate(step.inputs, 1):
        yield from _steps(f"{number}.{index}", each)


def find_node(answer: Answer, wanted: str) -> Node | None:
    """Return the node with this id or printed number; the first, where an id occurs twice."""
    for node in nodes(answer):
        if wanted in (node.number, node.id):
            return node
    return None


def node_ids(answer: Answer) -> list[str]:
    """Return every id and number that can be opened."""
    return [name for node in nodes(answer) for name in (node.number, node.id)]
