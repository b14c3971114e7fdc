"""The tree of steps below an operation: all of it, or only what leads to some cells."""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.model.results import Step
from advisor.reasoning.frame import Ref
from advisor.reasoning.logic_ops import Exact, NumberAggregate, TruthAggregate
from advisor.reasoning.ops import Constant, NumberCell, Op, RelationCell, SetCell, TruthConstant, WordCell
from advisor.reasoning.record import (
    CellOp,
    Key,
    Row,
    cause_of,
    deciding_members,
    describe,
    grounds_of,
    key_of,
    keys_below,
    margin_of,
    members_of,
    parts_of,
    value_of,
)
from advisor.reasoning.step_ops import StepsAway


@dataclass(frozen=True, slots=True)
class Recording:
    """What of an evaluation is written down: everything, or only what leads to some cells."""

    kept: frozenset[Key] = frozenset()
    """Cells the verdict rests on; their steps are marked."""
    shown: frozenset[Key] | None = None
    """Cells to lead to, None for all there are."""
    first: dict[Key, Step] = field(default_factory=dict)
    """The step of each cell, as it is first met."""


def step_of(op: Op, row: Row, node: str, recording: Recording | None = None) -> Step:
    """Return the recorded tree below an operation; `node` is its id."""
    found = step_below(op, row, node, recording or Recording())
    if found is None:
        raise ValueError("nothing below this operation is to be recorded")
    return found


def step_below(op: Op, row: Row, node: str, recording: Recording) -> Step | None:
    """Return the recorded tree below an operation, None where it leads to nothing that is asked for."""
    if isinstance(op, Exact):
        return step_below(op.formula, row, node, recording)
    if isinstance(op, NumberCell | WordCell | SetCell | RelationCell):
        return _cell_step(op, row, node, recording)
    if isinstance(op, TruthAggregate | NumberAggregate):
        named = _members(op, _told(op, row, recording), node)
    else:
        named = [(child, row, f"{node}/{index}") for index, child in enumerate(op.inputs, 1)]
    parts = [(part, step_below(part, where, path, recording)) for part, where, path in named]
    leads = any(step is not None and not isinstance(part, Constant | TruthConstant) for part, step in parts)
    if recording.shown is not None and named and not leads:
        return None
    margin, steps = margin_of(op, row)
    return Step(
        id=node,
        op=type(op).__name__.lower(),
        text=describe(op, row),
        value=value_of(op, row),
        margin=margin,
        margin_steps=steps,
        cause=cause_of(op, row),
        inputs=tuple(step for _, step in parts if step is not None),
    )


def _cell_step(op: CellOp, row: Row, node: str, recording: Recording) -> Step | None:
    """The step of a cell, with its grounds."""
    key = key_of(op, row)
    if recording.shown is not None and key not in recording.shown:
        return None
    cell = row.cell(op)
    margin, steps = margin_of(op, row)
    step = Step(
        id=node,
        op=type(op).__name__.lower(),
        text=describe(op, row),
        value=value_of(op, row, cell.kind.value),
        margin=margin,
        margin_steps=steps,
        cause=cause_of(op, row),
        grounds=grounds_of(cell),
        decides=key in recording.kept,
    )
    recording.first.setdefault(key, step)
    return step


def _told(op: TruthAggregate | NumberAggregate, row: Row, recording: Recording) -> list[Row]:
    """The bindings of an aggregate to write down: of a chain its links, and others that are asked for."""
    if not isinstance(op, StepsAway):
        return members_of(op, row)
    told = deciding_members(op, row)
    held = {key for member in told for key in keys_below(op.condition, member)}
    wanted = recording.kept if recording.shown is None else recording.shown
    missing = (wanted & set(keys_below(op, row))) - held
    for member in members_of(op, row) if missing else ():
        own = missing.intersection(keys_below(op.condition, member))
        if own:
            told.append(member)
            missing -= own
    return told


def _members(
    op: TruthAggregate | NumberAggregate, members: list[Row], node: str
) -> list[tuple[Op, Row, str]]:
    """What an aggregate ran over some of its bindings, each under the names of what is bound."""
    ref = Ref(op.binder.name, op.binder.kind)
    labels: dict[str, int] = {}
    out = []
    for member in members:
        label = member.label(ref)
        labels[label] = labels.get(label, 0) + 1  # things nobody told of have no names of their own
        name = label if labels[label] == 1 else f"{label}.{labels[label]}"
        out += [
            (part, member, f"{node}/{name.replace(' ', '-')}/{index}")
            for index, part in enumerate(parts_of(op), 1)
        ]
    return out
