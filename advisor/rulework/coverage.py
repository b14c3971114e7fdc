"""What the examples of rule files reach: verdicts, conditions both ways, limits from both sides, cases."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from advisor.language.format_expr import HARD_SPACE, expression
from advisor.language.library import Library
from advisor.language.nodes import And, Between, Case, Compare, Define, Example, Expr, Not, Or, Prefer, Rule
from advisor.language.walk import conditions, names_used
from advisor.model.coverage import ConditionCover, Mark, ThingCover
from advisor.model.results import Verdict
from advisor.reasoning.compare_ops import Compare as CompareOp
from advisor.reasoning.compare_ops import Within
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.examples import Trial, rule_of, try_out
from advisor.reasoning.ops import numbers, truth
from advisor.reasoning.record import Row
from advisor.rulework.following import Condition, Sight, conditions_of, conditions_within, sights_of

MET, MISSED = "met within a step", "missed within a step"
LOW_MET, LOW_MISSED = "low end met within a step", "low end missed within a step"
HIGH_MET, HIGH_MISSED = "high end met within a step", "high end missed within a step"
TRUTHS = {True: "true", False: "false", None: "unknown"}
TAKEN = "taken"

Key = tuple[int, str]
"""A node of the tree (by identity) and a mark of it."""


@dataclass(slots=True)
class Tracks:
    """Where the outcomes of some examples went."""

    marks: dict[Key, set[tuple[str, int]]] = field(default_factory=dict)
    """For each mark the outcomes that show it: rule, and place among its cases."""
    visits: dict[int, list[Sight]] = field(default_factory=dict)
    """For each node, every row that reached it."""
    verdicts: dict[tuple[str, Verdict], int] = field(default_factory=dict)

    def follow(self, trial: Trial, library: Library) -> None:
        """Take note of everything a trial's outcomes reached."""
        name = trial.compiled.rule.name
        for at in range(len(trial.cases)):
            key = (name, trial.verdict(at))
            self.verdicts[key] = self.verdicts.get(key, 0) + 1
            for _, sight in sights_of(trial.compiled, Row(trial.frame, at), library):
                self.visits.setdefault(id(sight.node), []).append(sight)
                for mark in marks_of(sight):
                    self.marks.setdefault((id(sight.node), mark), set()).add((name, at))

    def seen(self, node: Condition | Case, mark: str) -> int:
        """Return how many outcomes show a mark."""
        return len(self.marks.get((id(node), mark), ()))


def marks_of(sight: Sight) -> Iterator[str]:
    """Yield what one row shows of a condition or a case."""
    if isinstance(sight.node, Case):
        if sight.taken:
            yield TAKEN
        return
    yield TRUTHS[sight.taken]
    op, frame, at = sight.op, sight.row.frame, sight.row.at
    if isinstance(op, CompareOp):
        found = truth(frame, op)
        surely = bool(found.yes[at]), bool(found.no[at])
        yield from _near(float(found.low[at]), float(found.high[at]), surely, MET, MISSED)
    elif isinstance(op, Within):
        value, low, high = (numbers(frame, part) for part in op.inputs)
        over = (value.low[at] - low.high[at]) / op.step, (value.high[at] - low.low[at]) / op.step
        under = (high.low[at] - value.high[at]) / op.step, (high.high[at] - value.low[at]) / op.step
        for (least, most), names in ((over, (LOW_MET, LOW_MISSED)), (under, (HIGH_MET, HIGH_MISSED))):
            yield from _near(least, most, (least >= 0.0, most < 0.0), *names)


def _near(low: float, high: float, surely: tuple[bool, bool], met: str, missed: str) -> Iterator[str]:
    """Whether the nearer end of a margin is within a step of the limit it is surely beyond. [steps]"""
    edge = 1.0 + 1e-9  # a reading one step off is written in decimals, its error may be a fraction
    if surely[0] and low <= edge:
        yield met
    elif surely[1] and -high <= edge:
        yield missed


def track(library: Library, names: Iterable[str]) -> tuple[Tracks, list[Trial]]:
    """Return where the examples of some rules and preferences go, and the trials themselves."""
    tracks = Tracks()
    trials = []
    for name in names:
        rule = rule_of(name, library)
        if rule is not None:
            trial = try_out(compile_rule(rule, library), examples_of(name, library), library)
            tracks.follow(trial, library)
            trials.append(trial)
    return tracks, trials


def examples_of(name: str, library: Library) -> tuple[Example, ...]:
    """Return the examples of a rule or preference."""
    return tuple(example for example in library.examples if example.rule == name)


def users_of(define: str, library: Library) -> tuple[str, ...]:
    """Return the rules and preferences whose verdict rests on a definition."""
    speaking: list[Rule | Prefer] = [*library.rules.values(), *library.prefers.values()]
    return tuple(item.name for item in speaking if define in names_used(conditions(item), library.defines))


def cover_rule(item: Rule | Prefer, tracks: Tracks) -> ThingCover:
    """Return what the examples show of a rule or preference."""
    rule = item if isinstance(item, Rule) else None
    expect = rule.expect if rule is not None else item.want if isinstance(item, Prefer) else None
    by_eye = expect is None
    needed = {
        Verdict.HOLDS: True,
        Verdict.FAILS: True,
        Verdict.UNDECIDED: True,
        Verdict.EXCUSED: rule is not None and rule.unless is not None,
        Verdict.NOT_COVERED: item.when is not None,
    }
    verdicts = [
        Mark(
            what=verdict.value,
            seen=tracks.verdicts.get((item.name, verdict), 0),
            needed=wanted and not by_eye,
        )
        for verdict, wanted in needed.items()
    ]
    named = (("when", item.when), ("expect", expect), ("unless", rule.unless if rule is not None else None))
    lines = [
        line
        for clause, node in named
        if node is not None
        for line in _lines(clause, node, tracks, needed=not by_eye)
    ]
    return ThingCover(
        name=item.name,
        kind="rule" if rule is not None else "preference",
        file=item.span.file,
        line=item.span.line,
        by_eye=by_eye,
        verdicts=tuple(verdicts),
        conditions=tuple(lines),
    )


def cover_define(define: Define, tracks: Tracks, *, decides: bool = True) -> ThingCover:
    """Return what the examples of every rule that uses a definition show of it.

    Parameters
    ----------
    decides
        Whether a verdict rests on it; what only stands in a sentence needs no marks.
    """
    lines: list[ConditionCover] = []
    for case in define.cases:
        if define.unit is not None:
            lines.append(_case_line(case, tracks, needed=decides))
        if case.when is not None:
            lines.extend(_lines("when", case.when, tracks, needed=decides))
        if define.unit is None:
            lines.extend(_lines("as", case.value, tracks, needed=decides))
        else:
            within = [("", 1, condition) for condition in conditions_within(case.value)]
            lines.extend(_told("as", within, tracks, needed=decides))
    return ThingCover(
        name=define.name,
        kind="definition",
        file=define.span.file,
        line=define.span.line,
        conditions=tuple(lines),
    )


def _case_line(case: Case, tracks: Tracks, *, needed: bool) -> ConditionCover:
    """A case of a quantity: whether it was taken."""
    when = "otherwise" if case.when is None else f"when {written(case.when)}"
    return ConditionCover(
        clause="case",
        text=f"{written(case.value)} {when}",
        file=case.span.file,
        line=case.span.line,
        marks=(Mark(what=TAKEN, seen=tracks.seen(case, TAKEN), needed=needed),),
    )


def _lines(clause: str, node: Expr, tracks: Tracks, *, needed: bool) -> Iterator[ConditionCover]:
    """Each condition of a formula as a line."""
    return _told(clause, _laid_out(node, "", 0), tracks, needed=needed)


def _told(
    clause: str, conditions: Iterable[tuple[str, int, Condition]], tracks: Tracks, *, needed: bool
) -> Iterator[ConditionCover]:
    """Some conditions, each with how it is joined and how deep it stands, as lines."""
    for joined, depth, condition in conditions:
        yield ConditionCover(
            clause=clause,
            joined=joined,
            depth=depth,
            text=written(condition),
            file=condition.span.file,
            line=condition.span.line,
            marks=tuple(
                Mark(what=mark, seen=tracks.seen(condition, mark), needed=needed)
                for mark in wanted(condition)
            ),
        )


def _laid_out(node: Expr, joined: str, depth: int) -> Iterator[tuple[str, int, Condition]]:
    """The conditions of a formula with how they are joined and how deep they stand."""
    match node:
        case And(items=items) | Or(items=items):
            word = "and" if isinstance(node, And) else "or"
            for index, item in enumerate(items):
                yield from _laid_out(item, joined if index == 0 else word, depth + isinstance(item, And | Or))
        case Not(of=of):
            yield from _laid_out(of, f"{joined} not".strip(), depth)
        case _:
            for index, condition in enumerate(conditions_of(node)):
                inner = index > 0 or condition is not node
                yield ("where" if inner else joined), depth + inner, condition


def wanted(condition: Condition) -> tuple[str, ...]:
    """Return the marks a condition needs."""
    limits: tuple[str, ...] = ()
    if isinstance(condition, Compare):
        limits = (MET, MISSED)
    elif isinstance(condition, Between):
        limits = (LOW_MET, LOW_MISSED, HIGH_MET, HIGH_MISSED)
    return (*TRUTHS.values(), *limits)


def written(node: Expr) -> str:
    """Return an expression as it stands in a file."""
    return expression(node).replace(HARD_SPACE, " ")


def nodes_of(item: Rule | Prefer | Define) -> Iterator[tuple[str, Condition | Case]]:
    """Yield every condition and case of a thing with its clause, in the order of its lines."""
    if isinstance(item, Define):
        for case in item.cases:
            if item.unit is not None:
                yield "case", case
            yield from (("when", found) for found in _found(case.when))
            inside = conditions_of if item.unit is None else conditions_within
            yield from (("as", found) for found in inside(case.value))
        return
    expect = item.expect if isinstance(item, Rule) else item.want
    unless = item.unless if isinstance(item, Rule) else None
    for clause, node in (("when", item.when), ("expect", expect), ("unless", unless)):
        yield from ((clause, found) for found in _found(node))


def _found(node: Expr | None) -> Iterable[Condition]:
    """The conditions of a clause that may be missing."""
    return () if node is None else conditions_of(node)
