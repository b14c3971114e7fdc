"""Why something is never shown by the examples, and an example that would show it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from advisor.language.library import Library
from advisor.language.nodes import Case, Define, Example, Prefer, Rule
from advisor.model.coverage import Gap, ThingCover
from advisor.model.results import Value, Verdict
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.examples import Trial, rule_of, try_out
from advisor.reasoning.ops import NumberCell, Op
from advisor.reasoning.record import Row, value_of
from advisor.reasoning.sentences import in_words
from advisor.rulework.altering import cells_at
from advisor.rulework.coverage import (
    TAKEN,
    Tracks,
    examples_of,
    marks_of,
    nodes_of,
    users_of,
    wanted,
    written,
)
from advisor.rulework.following import Condition, Sight, sights_of
from advisor.rulework.pasting import block_of, outcome_of, titled
from advisor.rulework.searching import Goal, search, starts_of

_MOST_FACTS = 3
"""How many facts a reason names."""
_MOST_USERS = 4
"""How many of the rules that use a definition are searched for an example."""

Shows = Callable[[Trial, int], bool]
"""Whether one outcome of a trial shows what is looked for."""


def gaps_of(
    item: Rule | Prefer | Define, cover: ThingCover, tracks: Tracks, library: Library
) -> tuple[Gap, ...]:
    """Return everything the examples do not show of a thing, each with a reason and an example to paste."""
    if not any(mark.needed for mark in cover.marks):
        return ()
    return (*_verdict_gaps(item, cover, library), *_condition_gaps(item, tracks, library))


def _verdict_gaps(item: Rule | Prefer | Define, cover: ThingCover, library: Library) -> Iterator[Gap]:
    """The verdicts no example comes out as."""
    if isinstance(item, Define):
        return
    had = ", ".join(mark.what for mark in cover.verdicts if mark.seen)
    for mark in cover.verdicts:
        if mark.lacking:
            verdict = Verdict(mark.what)

            def shows(trial: Trial, at: int, verdict: Verdict = verdict) -> bool:
                return trial.verdict(at) is verdict

            why = f"every example comes out as: {had}" if had else "there is no example"
            yield _gap("verdict", mark.what, why, (item.name,), (), shows, library)


def _condition_gaps(item: Rule | Prefer | Define, tracks: Tracks, library: Library) -> Iterator[Gap]:
    """The conditions not seen both ways, the limits not approached, the cases never taken."""
    users = users_of(item.name, library)[:_MOST_USERS] if isinstance(item, Define) else (item.name,)
    for clause, node in nodes_of(item):
        marks = (TAKEN,) if isinstance(node, Case) else wanted(node)
        for mark in marks:
            if not tracks.seen(node, mark):

                def shows(trial: Trial, at: int, node: Condition | Case = node, mark: str = mark) -> bool:
                    return _shows(trial, at, node, mark, library)

                why = why_never(node, clause, mark, tracks)
                text = written(node.value if isinstance(node, Case) else node)
                yield _gap(text, mark, why, users, (node,), shows, library)


def _shows(trial: Trial, at: int, node: Condition | Case, mark: str, library: Library) -> bool:
    """Whether one outcome shows a mark of a condition."""
    seen = sights_of(trial.compiled, Row(trial.frame, at), library)
    return any(sight.node is node and mark in marks_of(sight) for _, sight in seen)


def _gap(
    where: str,
    what: str,
    why: str,
    users: Iterable[str],
    nodes: Sequence[Condition | Case],
    shows: Shows,
    library: Library,
) -> Gap:
    """A gap with the first example found in any of the rules that can show it."""
    for name in users:
        rule = rule_of(name, library)
        examples = examples_of(name, library)
        if rule is None or not examples:
            continue
        compiled = compile_rule(rule, library)
        starts = starts_of(compiled, examples, library, _focus(compiled, nodes, library, examples))
        found = search(starts, _goal(compiled, shows, library), library)
        if found is not None:
            trial = try_out(compiled, (found.example,), library)
            comes_out = outcome_of(trial, 0)
            named = titled(found.example, found.changes, library.vocabulary)
            block = block_of(named, (f"comes out: {comes_out}",))
            return Gap(where=where, what=what, why=why, example=block, comes_out=comes_out)
    return Gap(where=where, what=what, why=why)


def _goal(compiled: CompiledRule, shows: Shows, library: Library) -> Goal:
    """The places of the examples that show what is looked for."""

    def places(examples: Sequence[Example]) -> Iterator[int]:
        trial = try_out(compiled, examples, library)
        return (at for at in range(len(trial.cases)) if shows(trial, at))

    return places


def _focus(
    compiled: CompiledRule, nodes: Sequence[Condition | Case], library: Library, examples: Sequence[Example]
) -> list[Op]:
    """The operations of some conditions, as far as an example reaches them."""
    trial = try_out(compiled, examples, library)
    found: dict[Op, None] = {}
    for at in range(len(trial.cases)):
        for _, sight in sights_of(compiled, Row(trial.frame, at), library):
            if any(sight.node is node for node in nodes):
                found[sight.op] = None
    return list(found)


def why_never(node: Condition | Case, clause: str, mark: str, tracks: Tracks) -> str:
    """Return why a mark is never seen, in terms of what the examples tell."""
    visits = tracks.visits.get(id(node), [])
    if not visits:
        return _unreached(clause)
    if isinstance(node, Case):
        return "another case applies in every example"
    told = _facts(visits)
    return "in every example " + "; ".join(told) if told else f"it is never {mark} in any example"


def _unreached(clause: str) -> str:
    """Why a clause is reached by no example."""
    return {
        "when": "there is no example",
        "expect": "no example comes past the `when`",
        "unless": "in every example the `expect` holds, or the `when` does not",
    }.get(clause, "no example uses it so far")


def _facts(visits: Sequence[Sight]) -> list[str]:
    """What the examples tell of the facts a condition rests on: the one value, or from where to where."""
    values: dict[str, dict[str, Value]] = {}
    numeric: set[str] = set()
    for sight in visits:
        for cell, where in cells_at(sight.op, sight.row):
            name = f"{cell.name}({', '.join(ref.key.partition(chr(39))[0] for ref in cell.refs)})"
            value = value_of(cell, where)
            values.setdefault(name, {})[in_words(value)] = value
            numeric.update({name} if isinstance(cell, NumberCell) else set())
    told = []
    for name, found in values.items():
        if len(found) == 1:
            told.append(f"{name} is {next(iter(found))}")
        elif name in numeric:
            told.append(f"{name} {_range(list(found.values()))}")
    return told[:_MOST_FACTS]


def _range(values: Sequence[Value]) -> str:
    """From where to where some quantities run."""
    best = [value.best for value in values if value.best is not None]
    if not best:
        return "is never a single value"
    unit = values[0].unit
    return f"runs from {min(best):g} to {max(best):g} {unit}".rstrip()
