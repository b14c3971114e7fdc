"""One reason of an answer: a rule at one binding, run again on that row with its columns kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from advisor.language.nodes import AggregateOp, Binder, CompareOp
from advisor.model.results import Ground, Need, Reason, Step, Value, Verdict
from advisor.model.vocabulary import Kind, Source, Supplier, WordType
from advisor.reasoning.bindings import Bindings, Population
from advisor.reasoning.columns import Floats, Truths
from advisor.reasoning.compare_ops import Compare, Within
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.house_notes import house_notes, noted
from advisor.reasoning.judge import UNDECIDED, VERDICTS, frame_of, judge_frame
from advisor.reasoning.logic_ops import Every, Exact, Negation, Some, TruthAggregate
from advisor.reasoning.ops import Defined, NumberCell, Op, RelationCell, WordCell
from advisor.reasoning.record import (
    CellOp,
    Row,
    every_cell,
    fill,
    grounds_of,
    margin_of,
    members_of,
    open_cells,
    step_of,
    value_of,
    weakest_of,
)
from advisor.reasoning.tables import Tables
from advisor.reasoning.word_ops import WordIs

_OPPOSITE = {
    CompareOp.AT_LEAST: CompareOp.LESS,
    CompareOp.LESS: CompareOp.AT_LEAST,
    CompareOp.AT_MOST: CompareOp.MORE,
    CompareOp.MORE: CompareOp.AT_MOST,
}
LEANS = {1: "yes", 0: "", -1: "no"}


@dataclass(frozen=True, slots=True)
class Asked:
    """What an explanation is told of the question.

    Whom it is about, how a month is named, and whether it is going to be read
    down to its steps (otherwise its grounds are those of what decides).
    """

    about: str = ""
    month_text: str = ""
    steps: bool = True


def reasons_for(
    compiled: CompiledRule,
    tables: Tables,
    population: Population,
    bindings: Bindings,
    months: Floats,
    asked: Sequence[Asked],
) -> list[Reason]:
    """Return the reasons of a rule at some bindings, one each, in their order.

    The same compiled operations run on these few rows with their columns
    kept; nothing is remembered from the bulk run.
    """
    frame = frame_of(compiled, tables, population, bindings, months)
    plane = judge_frame(compiled, frame, bindings)
    causes = plane.causes()
    return [
        _reason(compiled, Row(frame, at), int(plane.verdict[at]), causes[at], int(plane.lean[at]), ask)
        for at, ask in enumerate(asked)
    ]


def _reason(compiled: CompiledRule, row: Row, verdict: int, cause: str, lean: int, asked: Asked) -> Reason:
    """The reason of one row of a judged frame."""
    rule, tables = compiled.rule, row.frame.tables
    subjects = tuple(_label(row, binder) for binder in compiled.binders)
    node = f"{rule.name}({','.join(subjects)})"
    parts = [
        (name, op)
        for name, op in (("when", compiled.when), ("expect", compiled.expect), ("unless", compiled.unless))
        if op is not None
    ]
    core, spot = (None, row) if compiled.expect is None else _deciding(compiled.expect, row)
    deciding = [] if core is None else [(core, spot)]
    everything = [(op, row) for _, op in parts] if asked.steps or not deciding else []
    grounds = _grounds([*deciding, *everything])
    margin, steps = (None, None) if compiled.expect is None else margin_of(compiled.expect, row)
    here, low, high = _both_numbers(core, spot)
    source = _rule_ground(rule.source)
    said = compiled.by_eye if compiled.expect is None else compiled.because
    return Reason(
        id=node,
        rule=rule.name,
        level=rule.level.value,
        stage=rule.stage.value,
        verdict=VERDICTS[verdict],
        cause=cause,
        lean=LEANS[lean],
        subjects=subjects,
        quantity=_quantity(core, spot, asked.about),
        here=here,
        wanted_low=low,
        wanted_high=high,
        margin=margin,
        margin_steps=steps,
        sentence=fill(said, row, asked.month_text),
        matters=rule.matters,
        remedy=fill(compiled.remedy, row, asked.month_text),
        duties=tuple(fill(duty, row, asked.month_text) for duty in compiled.duties),
        source=rule.source.text if rule.source else "",
        grade=rule.source.grade.value if rule.source else "",
        weakest=weakest_of((*grounds, *source)),
        grounds=grounds,
        how=_grounds(deciding),
        needs=_needs(tables, [op for _, op in parts], row) if verdict == UNDECIDED else (),
        house=house_notes(compiled, [op for _, op in parts], row),
        disputed=any("disputed" in ground.text or "disputed" in ground.source for ground in grounds),
        step=noted(_tree(node, parts, row, verdict), tables.library) if asked.steps else None,
    )


def weighed(op: Op, row: Row, about: str) -> tuple[str, Value | None, Value | None, Value | None]:
    """Return what a formula is about: a short label, what was found here, and both ends of what is wanted."""
    core, spot = _deciding(op, row)
    return (_quantity(core, spot, about), *_both_numbers(core, spot))


def _tree(node: str, parts: list[tuple[str, Op]], row: Row, verdict: int) -> Step:
    """The recorded steps of a rule's clauses under one root."""
    said = VERDICTS[verdict]
    return Step(
        id=node,
        op="rule",
        text=node.partition("(")[0],
        value=Value(words=(said.value,), known=said is not Verdict.UNDECIDED),
        inputs=tuple(step_of(op, row, f"{node}/{name}") for name, op in parts),
    )


def _label(row: Row, binder: Binder) -> str:
    """The id bound to a variable."""
    kind = Kind.ANIMAL if binder.kind is Kind.CORAL else binder.kind
    return row.frame.tables.label(kind, int(row.frame.rows[binder.name][row.at]))


def _rule_ground(source: Source | None) -> tuple[Ground, ...]:
    """The rule's own source as a ground."""
    return () if source is None else (Ground(text=source.text, grade=source.grade.value),)


def _grounds(parts: Sequence[tuple[Op, Row]]) -> tuple[Ground, ...]:
    """Every ground of every cell, each once: what was found in the tank first, as the parts come."""
    cells: dict[tuple[CellOp, Row], None] = {}
    for part, row in parts:
        cells.update(
            ((cell, row), None) for cell in sorted(every_cell(part), key=lambda cell: not _is_asked(cell))
        )
    found: dict[Ground, None] = {}
    for cell, row in cells:
        found.update((ground, None) for ground in grounds_of(row.cell(cell)))
    return tuple(found)


def _deciding(op: Op, row: Row) -> tuple[Op, Row]:
    """The comparison (and its row) that decides a formula: the worst of an ``and``, the best of an ``or``."""
    match op:
        case Exact(formula=formula):
            return _deciding(formula, row)
        case Defined(body=body):
            return _deciding(body, row)
        case Negation(of=of):
            found, where = _deciding(of, row)
            return _opposite(found), where
        case Every(items=items):
            return _deciding(min(items, key=lambda item: _standing(item, row)), row)
        case Some(items=items):
            return _deciding(max(items, key=lambda item: _standing(item, row)), row)
        case TruthAggregate(op=kind, condition=condition):
            members = members_of(op, row)
            if not members:
                return op, row
            pick = min if kind is AggregateOp.EVERY else max
            return _deciding(condition, pick(members, key=lambda member: _standing(condition, member)))
        case _:
            return op, row


def _opposite(op: Op) -> Op:
    """What is asked for where a comparison must not hold; of a band only what was found."""
    match op:
        case Compare(op=kind):
            return replace(op, op=_OPPOSITE[kind])
        case WordIs(negated=negated):
            return replace(op, negated=not negated)
        case Within(value=value):
            return value
        case _:
            return op


def _standing(op: Op, row: Row) -> tuple[int, float]:
    """How well a truth stands: no, open, yes; then its margin in steps."""
    column = row.frame.value(op)
    if not isinstance(column, Truths):
        return 0, 0.0
    order = 1 if column.yes[row.at] else -1 if column.no[row.at] else 0
    best = float(column.best[row.at])
    return order, 0.0 if np.isnan(best) else best


def _is_asked(op: Op) -> bool:
    """Whether an operation holds something read or computed in the tank, not only card numbers."""
    return any(
        not isinstance(cell, NumberCell | WordCell) or Supplier.CARD not in cell.measure.suppliers
        for cell in every_cell(op)
    )


def _both_numbers(op: Op | None, row: Row) -> tuple[Value | None, Value | None, Value | None]:
    """What was found here, and the low and high end of what is wanted."""
    match op:
        case Compare(op=kind, left=left, right=right):
            turned = not _is_asked(left) and _is_asked(right)
            here, wanted = (right, left) if turned else (left, right)
            at_least = kind in (CompareOp.AT_LEAST, CompareOp.MORE)
            value = value_of(wanted, row)
            low, high = (value, None) if at_least is not turned else (None, value)
            return _found(here, row), low, high
        case Within(value=value_op, low=low_op, high=high_op):
            return _found(value_op, row), value_of(low_op, row), value_of(high_op, row)
        case WordIs(left=left):
            return _found(left, row), _wanted_words(op, row), None
        case None:
            return None, None, None
        case _:
            return value_of(op, row), None, None


def _wanted_words(op: WordIs, row: Row) -> Value | None:
    """The words a comparison asks for; where some must not be, the others there are."""
    listed = value_of(op.right, row) if op.right is not None else Value(words=op.words)
    if not op.negated:
        return listed
    kind = op.left.measure.type if isinstance(op.left, WordCell) else None
    declared = kind.words if isinstance(kind, WordType) else ()
    others = tuple(word for word in declared if word not in listed.words)
    return Value(words=others) if others else None


def _found(op: Op, row: Row) -> Value:
    """A value with the kind of its ground, where it is a single cell."""
    cells = list(every_cell(op))
    kind = row.cell(cells[0]).kind.value if len(cells) == 1 else "computed" if cells else ""
    return value_of(op, row, kind)


def _quantity(op: Op | None, row: Row, about: str) -> str:
    """A short row label: the quantity found here and the other animal, if there is one."""
    if op is None:
        return ""
    cells = list(every_cell(op))
    cells.sort(
        key=lambda cell: isinstance(cell, NumberCell | WordCell) and Supplier.CARD in cell.measure.suppliers
    )
    if not cells:
        return ""
    first = cells[0]
    others = [
        row.label(ref)
        for ref in first.refs
        if ref.target is Kind.ANIMAL and row.label(ref) != about and len(first.refs) > 1
    ]
    word = first.name.replace("-", " ")
    if not others:
        return word
    return f"{word} to {others[-1]}" if first.name == "gap" else f"{word} {others[-1]}"


def _command(cell: CellOp, subjects: tuple[str, ...]) -> str:
    """What to type once a cell is known; nothing where no keeper can tell it."""
    told = cell.relation if isinstance(cell, RelationCell) else cell.measure
    if Supplier.KEEPER not in told.suppliers:
        return ""
    return f'advisor tank add reading {",".join(subjects)} {cell.name} "…"'


def _needs(tables: Tables, parts: list[Op], row: Row) -> tuple[Need, ...]:
    """The readings and looks that would settle an open reason."""
    found: dict[tuple[str, tuple[str, ...]], Need] = {}
    for part in parts:
        for cell, where in open_cells(part, row):
            rows = where.rows(cell.refs)
            subjects = tables.asked_of(cell.name, rows)
            ask = tables.ask(cell.name, rows)
            if ask:
                need = Need(measure=cell.name, subjects=subjects, ask=ask, command=_command(cell, subjects))
                found.setdefault((cell.name, tuple(sorted(subjects))), need)
    return tuple(found.values())
