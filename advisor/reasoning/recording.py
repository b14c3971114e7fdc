"""The tree of steps below an operation: all of it, or only what leads to some cells."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from operator import itemgetter

from advisor.language.nodes import AggregateOp
from advisor.model.results import Step, Value
from advisor.reasoning.frame import Ref
from advisor.reasoning.logic_ops import Exact, NumberAggregate, TruthAggregate
from advisor.reasoning.ops import (
    Constant,
    NumberCell,
    Op,
    RelationCell,
    SetCell,
    TruthConstant,
    WordCell,
    truth,
)
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
    names_below,
    parts_of,
    value_of,
)
from advisor.reasoning.step_ops import StepsAway


@dataclass(frozen=True)
class Recording:
    """What of an evaluation is written down: everything, or only what leads to some cells."""

    kept: frozenset[Key] = frozenset()
    """Cells the verdict rests on; their steps are marked."""
    shown: frozenset[Key] | None = None
    """Cells to lead to, None for all there are."""
    first: dict[Key, Step] = field(default_factory=dict)
    """The step of each cell, as it is first met."""
    written: dict[tuple[Op, int, int], Step | None] = field(default_factory=dict)
    """The step of each operation at each row of a frame; written once, then only referred to."""

    def leads_nowhere(self, op: Op) -> bool:
        """Return whether an operation reads nothing of what is asked for, whatever it is about."""
        parts = bool(op.inputs) or isinstance(op, TruthAggregate | NumberAggregate)
        return parts and self.names.isdisjoint(names_below(op))

    @cached_property
    def names(self) -> frozenset[str]:
        """Measures and relations of the cells to lead to."""
        return frozenset(name for name, _ in self.shown or ())


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
    if recording.shown is not None and recording.leads_nowhere(op):
        return None
    key = (op, id(row.frame), row.at)
    if key in recording.written:
        before = recording.written[key]
        return None if before is None else _again(before, node)
    if isinstance(op, NumberCell | WordCell | SetCell | RelationCell):
        made = _cell_step(op, row, node, recording)
    else:
        made = _step(op, row, node, recording)
    recording.written[key] = made
    return made


def _again(before: Step, node: str) -> Step:
    """A step that stands once more in the same tree: a reference, unless there is nothing to refer to."""
    if not before.grounds and not before.inputs:
        return before.model_copy(update={"id": node})
    again = {"id": node, "grounds": (), "inputs": (), "same_as": before.id}
    return before.model_copy(update=again)


def _step(op: Op, row: Row, node: str, recording: Recording) -> Step | None:
    """The step of an operation with what is below it, None where that leads to nothing asked for."""
    others: tuple[Step, ...] = ()
    if isinstance(op, TruthAggregate | NumberAggregate):
        told = _told(op, row, recording)
        named = _members(op, told, node)
        if recording.shown is None and not isinstance(op, StepsAway):
            others = _others(len(members_of(op, row)) - len(told), node)
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
        inputs=(*(step for _, step in parts if step is not None), *others),
    )


def _others(count: int, node: str) -> tuple[Step, ...]:
    """One step for all members of an aggregate that make no difference."""
    if not count:
        return ()
    return (Step(id=f"{node}/others", op="others", text="others that make no difference", value=Value(
        low=count, best=count, high=count)),)  # fmt: skip


def _makes_no_difference(op: TruthAggregate | NumberAggregate, member: Row, recording: Recording) -> bool:
    """Whether a member of an aggregate neither counts nor holds anything the verdict rests on."""
    if op.condition is None:
        return False
    held = truth(member.frame, op.condition)
    neutral = held.yes if op.op is AggregateOp.EVERY else held.no
    return bool(neutral[member.at]) and all(
        recording.kept.isdisjoint(keys_below(part, member)) for part in parts_of(op)
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
    """The bindings of an aggregate to write down: those that count; of a chain what it rests or turns on."""
    if not isinstance(op, StepsAway):
        members = members_of(op, row)
        if recording.shown is not None:
            return members
        return [member for member in members if not _makes_no_difference(op, member, recording)]
    wanted = recording.kept if recording.shown is None else recording.shown
    told: list[Row] = []
    missing = wanted.intersection(keys_below(op, row))
    for member in (*deciding_members(op, row), *members_of(op, row)) if missing else ():
        own = missing.intersection(keys_below(op.condition, member))
        if own:
            told.append(member)
            missing -= own
    return told or deciding_members(op, row)


def _members(
    op: TruthAggregate | NumberAggregate, members: list[Row], node: str
) -> list[tuple[Op, Row, str]]:
    """What an aggregate ran over some of its bindings, each under the names of what is bound."""
    bound = [Ref(op.binder.name, op.binder.kind)]
    if isinstance(op, StepsAway):  # a link leads from one to another
        bound.insert(0, Ref(op.before, op.binder.kind))
    labels: dict[str, int] = {}
    out = []
    named = [("-".join(member.label(ref) for ref in bound), member) for member in members]
    # the links of a chain stand as they lead from one end to the other
    for label, member in named if isinstance(op, StepsAway) else sorted(named, key=itemgetter(0)):
        labels[label] = labels.get(label, 0) + 1  # things nobody told of have no names of their own
        name = label if labels[label] == 1 else f"{label}.{labels[label]}"
        out += [
            (part, member, f"{node}/{name.replace(' ', '-')}/{index}")
            for index, part in enumerate(parts_of(op), 1)
        ]
    return out
