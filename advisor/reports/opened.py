"""One node of an answer, opened: what it says, on what ground, what the house changed, and what is below."""

from __future__ import annotations

from advisor.model.results import Reason, Step
from advisor.reports.detail import reason_blocks
from advisor.reports.outline import Node
from advisor.reports.page import Block, Page, Tone, labelled, line
from advisor.reports.steps import Seen, full_grounds, said, step_blocks

_DEEPEST = 2
_SOURCES = 3


def node_page(node: Node) -> Page:
    """Return the page of one opened node: itself, and the nodes below it with the numbers that open them."""
    number = node.number or node.id
    if isinstance(node.content, Reason):
        reason = node.content
        told = reason_blocks(number, reason.model_copy(update={"step": None}), _SOURCES)
        below = () if reason.step is None else reason.step.inputs
        return (*told, *_below(number, reason.id, below))
    return (*_step_page(node, node.content), *_below(number, node.content.id, node.content.inputs))


def _step_page(node: Node, step: Step) -> list[Block]:
    blocks: list[Block] = [
        labelled("node", node.id, Tone.QUIET),
        labelled("kind", step.op, Tone.QUIET),
        labelled("says", said(step)),
    ]
    if step.decides:
        blocks.append(labelled("decides", "yes: were it not known, the verdict would not stand"))
    if step.cause:
        blocks.append(labelled("open", step.cause, Tone.OPEN))
    if step.grounds:
        blocks.append(labelled("grounds", full_grounds(step.grounds)))
    blocks.extend(labelled("house", change, Tone.OPEN) for change in step.house)
    return blocks


def _below(number: str, parent: str, inputs: tuple[Step, ...]) -> list[Block]:
    """The steps below a node, as deep as a page is worth."""
    if not inputs:
        return []
    seen = Seen()
    blocks: list[Block] = [line("below it:", Tone.QUIET)]
    for step in inputs:
        blocks.extend(step_blocks(f"{number}{step.id.removeprefix(parent)}", step, seen, _DEEPEST))
    return blocks
