"""One reason of an answer: a rule at one binding, run again on that row with its columns kept."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.language.nodes import Binder
from advisor.model.results import Ground, Need, Reason, Step, Value, Verdict
from advisor.model.vocabulary import Kind, Measure, NumberType, Source, Supplier
from advisor.reasoning.bindings import Bindings, Population
from advisor.reasoning.columns import Floats
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.deciding import both_numbers, decided_by, is_asked, quantity_of
from advisor.reasoning.disputes import disputed
from advisor.reasoning.forget import kept_cells
from advisor.reasoning.house_notes import house_notes, noted
from advisor.reasoning.judge import UNDECIDED, VERDICTS, Plane, frame_of, judge_frame
from advisor.reasoning.leaves import Seen
from advisor.reasoning.ops import Op, RelationCell
from advisor.reasoning.record import (
    CellOp,
    Key,
    Row,
    every_cell,
    grounds_of,
    key_of,
    margin_of,
    open_cells,
    value_of,
    weakest_of,
)
from advisor.reasoning.recording import Recording, step_below
from advisor.reasoning.sentences import fill
from advisor.reasoning.tables import Tables
from advisor.units import Dimension

LEANS = {1: "yes", 0: "", -1: "no"}
WORDS_ONLY, NUMBERS, CELLS, PATHS, EVERYTHING = range(5)
"""How deep a reason is read: its words, its numbers, the cells it rests on, the way to them, everything."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is told of the question: whom it is about, how a month is named, how deep the reason is read."""

    about: str = ""
    month_text: str = ""
    level: int = EVERYTHING
    placed: bool = True
    """Whether the place an animal is only thought to stand at is part of the id."""


@dataclass(frozen=True, slots=True)
class _Judged:
    """One row of a judged frame with what came of it."""

    row: Row
    plane: Plane
    cause: str
    kept: tuple[Seen, ...]
    contested: bool
    """Whether another line of a card would change the verdict."""

    @property
    def verdict(self) -> int:
        """The code of the verdict."""
        return int(self.plane.verdict[self.row.at])

    @property
    def keys(self) -> frozenset[Key]:
        """The cells the verdict rests on."""
        return frozenset(seen.key for seen in self.kept)


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
    kept; nothing is remembered from the bulk run. They run again with cells
    forgotten, so that each reason tells only of what its verdict rests on.
    """
    frame = frame_of(compiled, tables, population, bindings, months)
    plane = judge_frame(compiled, frame, bindings)
    causes = plane.causes()
    idle = all(ask.level <= WORDS_ONLY for ask in asked)
    kept = [()] * frame.size if idle else kept_cells(compiled, frame, plane)
    contested = np.zeros(frame.size, np.bool_) if idle else disputed(compiled, frame, plane)
    return [
        _reason(compiled, _Judged(Row(frame, at), plane, causes[at], kept[at], bool(contested[at])), ask)
        for at, ask in enumerate(asked)
    ]


def _reason(compiled: CompiledRule, judged: _Judged, asked: Asked) -> Reason:
    """The reason of one row of a judged frame."""
    rule, row, verdict = compiled.rule, judged.row, judged.verdict
    labels = [_node_label(row, binder, asked.placed) for binder in compiled.binders]
    node = f"{rule.name}({','.join(labels)})"
    named = (("when", compiled.when), ("expect", compiled.expect), ("unless", compiled.unless))
    parts = [(name, op) for name, op in named if op is not None]
    ops = [op for _, op in parts]
    core, spot = (None, row) if compiled.expect is None else decided_by(compiled.expect, row, judged.keys)
    how, grounds = _rests_on(core, spot, judged)
    margin, steps = (None, None) if compiled.expect is None else margin_of(compiled.expect, row)
    here, low, high = both_numbers(core, spot)
    said = compiled.by_eye if compiled.expect is None else compiled.because
    still_open = _open(ops, row) if verdict == UNDECIDED else ()
    decides, tree = _recorded(node, parts, judged, asked.level, still_open)
    return Reason(
        id=node,
        rule=rule.name,
        level=rule.level.value,
        stage=rule.stage.value,
        verdict=VERDICTS[verdict],
        cause=judged.cause,
        lean=LEANS[int(judged.plane.lean[row.at])],
        subjects=tuple(_label(row, binder) for binder in compiled.binders),
        quantity=quantity_of(core, spot, asked.about),
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
        weakest=weakest_of((*grounds, *_rule_ground(rule.source))),
        grounds=grounds,
        how=how,
        needs=_needs(row.frame.tables, still_open),
        house=house_notes(compiled, ops, row),
        disputed=judged.contested,
        controllable=core is None or is_asked(core),
        decides=decides,
        step=tree,
    )


def _rests_on(core: Op | None, spot: Row, judged: _Judged) -> tuple[tuple[Ground, ...], tuple[Ground, ...]]:
    """The grounds of the two numbers, and of everything the verdict rests on.

    Of the two numbers only those the verdict rests on count; of an open one,
    which rests on what is not known, all of them.
    """
    found = [] if core is None else sorted(every_cell(core), key=lambda cell: not is_asked(cell))
    counted = [cell for cell in found if key_of(cell, spot) in judged.keys]
    numbers = [(cell, spot) for cell in (found if judged.verdict == UNDECIDED or not counted else counted)]
    others = [(seen.op, seen.row) for seen in judged.kept]
    return _grounds(numbers), _grounds([*numbers, *others])


def _recorded(
    node: str,
    parts: Sequence[tuple[str, Op]],
    judged: _Judged,
    level: int,
    still_open: Sequence[tuple[CellOp, Row]],
) -> tuple[tuple[Step, ...], Step | None]:
    """The cells a verdict rests on, most telling first, and the tree of steps as deep as it is read."""
    if level < CELLS:
        return (), None
    row, kept = judged.row, judged.keys
    also = frozenset(key_of(cell, where) for cell, where in still_open) if level >= PATHS else frozenset()
    recording = Recording(kept, None if level >= EVERYTHING else kept | also)
    steps = [step_below(op, row, f"{node}/{name}", recording) for name, op in parts]
    library = row.frame.tables.library
    decides = tuple(noted(_told(seen, recording), library) for seen in judged.kept)
    if level < PATHS:
        return decides, None
    said = VERDICTS[judged.verdict]
    tree = Step(
        id=node,
        op="rule",
        text=node.partition("(")[0],
        value=Value(words=(said.value,), known=said is not Verdict.UNDECIDED),
        inputs=tuple(step for step in steps if step is not None),
    )
    return decides, noted(tree, library)


def _told(seen: Seen, recording: Recording) -> Step:
    """The step of a cell; of one that only an assumption tells of, as it is assumed."""
    step, row = recording.first[seen.key], seen.row
    if not row.frame.assume or step.grounds == (grounds := grounds_of(row.cell(seen.op))):
        return step
    value = value_of(seen.op, row, row.cell(seen.op).kind.value)
    return step.model_copy(update={"value": value, "grounds": grounds})


def _node_label(row: Row, binder: Binder, placed: bool) -> str:
    """The id bound to a variable; of an animal that is only thought to stand somewhere, with the place."""
    label, tables = _label(row, binder).replace(" ", "-"), row.frame.tables  # typed without quotes
    bound = int(row.frame.rows[binder.name][row.at])
    if not placed or binder.kind not in (Kind.ANIMAL, Kind.CORAL) or tables.animal_world[bound] < 0:
        return label
    place = tables.label(Kind.PLACE, int(tables.animal_place[bound]))
    return label if " " in place else f"{label}@{place}"


def _label(row: Row, binder: Binder) -> str:
    """The id bound to a variable."""
    kind = Kind.ANIMAL if binder.kind is Kind.CORAL else binder.kind
    return row.frame.tables.label(kind, int(row.frame.rows[binder.name][row.at]))


def _rule_ground(source: Source | None) -> tuple[Ground, ...]:
    """The rule's own source as a ground."""
    return () if source is None else (Ground(text=source.text, grade=source.grade.value),)


def _grounds(cells: Iterable[tuple[CellOp, Row]]) -> tuple[Ground, ...]:
    """Every ground of some cells, each once, as the cells come."""
    return tuple(dict.fromkeys(ground for cell, row in cells for ground in grounds_of(row.cell(cell))))


_TIMED = "20 cm in …, …, … s"
"""How a crumb that was timed is told; the seconds are to be filled in."""


def _command(cell: CellOp, subjects: tuple[str, ...]) -> str:
    """What to type once a cell is known; nothing where no keeper can tell it."""
    told = cell.relation if isinstance(cell, RelationCell) else cell.measure
    if Supplier.KEEPER not in told.suppliers:
        return ""
    kind = told.type if isinstance(told, Measure) else None
    is_speed = isinstance(kind, NumberType) and kind.dimension is Dimension.SPEED
    return f'advisor tank add reading {",".join(subjects)} {cell.name} "{_TIMED if is_speed else "…"}"'


def _open(parts: Sequence[Op], row: Row) -> tuple[tuple[CellOp, Row], ...]:
    """The cells that keep a rule's clauses open, each as it is first read."""
    found: dict[Key, tuple[CellOp, Row]] = {}
    for part in parts:
        for cell, where in open_cells(part, row):
            found.setdefault(key_of(cell, where), (cell, where))
    return tuple(found.values())


def _needs(tables: Tables, still_open: Iterable[tuple[CellOp, Row]]) -> tuple[Need, ...]:
    """The readings and looks that would settle an open reason."""
    found: dict[tuple[str, tuple[str, ...]], Need] = {}
    for cell, where in still_open:
        rows = where.rows(cell.refs)
        subjects = tables.asked_of(cell.name, rows)
        ask = tables.ask(cell.name, rows)
        if ask:
            need = Need(measure=cell.name, subjects=subjects, ask=ask, command=_command(cell, subjects))
            found.setdefault((cell.name, tuple(sorted(subjects))), need)
    return tuple(found.values())
