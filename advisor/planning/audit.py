"""What is wrong in the tank now, and what will be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

import networkx as nx
import numpy as np

from advisor.language.nodes import Level, Stage
from advisor.model.changes import CardChoice
from advisor.model.results import AuditAnswer, Caution, Finding, Reason, Verdict
from advisor.model.tank import Animal, Phase
from advisor.planning.accept_lines import with_line
from advisor.planning.ailing import doing_badly
from advisor.planning.bench import RulePlane, Sitting
from advisor.planning.by_eye import looks
from advisor.planning.desk import Desk, cautions_for, gates_of, may_be_poisonous
from advisor.planning.fold import speaks, table_of
from advisor.planning.held_back import held_back, note_of
from advisor.planning.house_loosened import Question, loosened
from advisor.planning.house_report import accepted_here, house_lines_here
from advisor.planning.moves import moves_together
from advisor.planning.pick import explained, needs_of, numbered, reason_order, without_echoes
from advisor.reasoning.judge import FAILS, NOT_COVERED

MOST_MOVES = 6
"""Movers an audit looks for a better place for: each is a question of its own."""

SHOWN_PER_RULE = 3
"""Bindings of one rule that an audit tells before it counts the rest."""

_ADVICE = Level.ADVICE.value

WHOLE = 4
"""The level from which every binding is told."""


def audit(desk: Desk, months: int | None = None, *, level: int = 1) -> AuditAnswer:
    """Return every finding of the tank as it stands, grouped, and those to come within the horizon.

    Parameters
    ----------
    months
        How far to look ahead; None for the tank's own horizon. [months]
    """
    horizon = desk.horizon_months if months is None else months
    desk = Desk(desk.tank, desk.bench, desk.cards, desk.on, horizon)
    survey = desk.survey()
    sitting = desk.sit(survey)
    planes = sitting.judge(desk.bench.at((Stage.ALWAYS, Stage.SETTLED)))
    table = table_of(planes, sitting, everything=True)
    keep = speaks(table)
    if level < 2:
        keep &= (table.level < 2) | (table.verdict == FAILS) | table.later
    rows = table.rows(keep).tolist()
    every = [reason for _, reason in explained(rows, table, planes, sitting, level=level)]
    if level >= 2:
        every = [with_line(reason, desk.library, desk.tank) for reason in every]
    harmed_now, harmed_later = _harmed(every, later=False), _harmed(every, later=True)
    reasons = without_echoes(every)
    accepted = accepted_here(desk, sitting, level=level)
    now = [reason for reason in reasons if reason.verdict is Verdict.FAILS and reason.until is None]
    later = [reason for reason in reasons if reason.until is not None]
    still_open = numbered(_still_open(reasons), mark="o")
    grouped = numbered((*_grouped(now), *_grouped(later)))
    movers, cures = _movers(desk, now, grouped)
    most = SHOWN_PER_RULE if level < WHOLE else len(every)
    gates = gates_of(desk, sitting, about_world=False, level=level)
    shown, waiting = held_back(grouped[: len(now)], gates if level < 2 else ())
    placed = [animal for animal in desk.tank.animals if animal.phase is not Phase.WAITING]
    return AuditAnswer(
        question="audit",
        tank=desk.tank.name,
        on=desk.on,
        horizon_months=horizon,
        cautions=_cautions(desk, (*now, *later)),
        gates=gates,
        animals=len(placed),
        harmed_now=len(harmed_now),
        harmed_later=len(harmed_later - harmed_now),
        harmed=tuple(sorted(harmed_now)),
        doing_badly=doing_badly(desk, survey),
        harmed_then=tuple(sorted(harmed_later - harmed_now)),
        now=_findings(shown, most, cures),
        later=_findings(grouped[len(now) :], most, cures),
        open=tuple(each for each in still_open if each.level != _ADVICE),
        open_advice=tuple(each for each in still_open if each.level == _ADVICE),
        accepted=numbered(sorted(accepted, key=reason_order), mark="a"),
        notes=(*note_of(waiting), *house_lines_here(desk, sitting)),
        loosened=loosened(desk, sitting, Question({0: ""})),
        by_eye=looks(sitting),
        silent=_silent(desk, placed, planes, sitting),
        move_first=movers,
        moves=tuple(cures.values()),
        nowhere=_nowhere(movers, cures),
        needs=needs_of(each for each in still_open if each.level != _ADVICE),
    )


def _still_open(reasons: Sequence[Reason]) -> list[Reason]:
    """What is open, advice last, so that numbers mean the same at every level."""
    found = [reason for reason in reasons if reason.verdict is Verdict.UNDECIDED and reason.until is None]
    return sorted(found, key=reason_order)


def _harmed(reasons: Sequence[Reason], *, later: bool) -> set[str]:
    """The animals that failing dangers are about, now or to come: the last subject bears the harm."""
    return {
        reason.subjects[-1]
        for reason in reasons
        if reason.level == "danger"
        and reason.subjects
        and (reason.until is not None if later else reason.verdict is Verdict.FAILS and not reason.until)
    }


def _movers(
    desk: Desk, now: Sequence[Reason], findings: Sequence[Reason]
) -> tuple[tuple[str, ...], dict[str, str]]:
    """Whom to move, of as few as can be those that a place is known for, and the moves that help them."""
    movers, cures = _found(desk, now, findings, frozenset())
    stuck: set[str] = set()
    while not stuck.issuperset(nowhere := _nowhere(movers, cures)):
        stuck.update(nowhere)
        others, moves = _found(desk, now, findings, stuck)
        if len(_nowhere(others, moves)) >= len(nowhere):
            break
        movers, cures = others, moves
    return movers, cures


def _found(
    desk: Desk, now: Sequence[Reason], findings: Sequence[Reason], stuck: Collection[str]
) -> tuple[tuple[str, ...], dict[str, str]]:
    """The fewest animals to move, rather none of those that are stuck, and the moves that help them."""
    movers = _in_order_of_findings(fewest_moves(now, stuck), findings)
    return movers, moves_together(desk, movers[:MOST_MOVES])


def _nowhere(movers: Sequence[str], cures: Mapping[str, str]) -> tuple[str, ...]:
    """Those of the movers looked at that no place is known for."""
    return tuple(mover for mover in movers[:MOST_MOVES] if mover not in cures)


def fewest_moves(reasons: Sequence[Reason], stuck: Collection[str] = ()) -> tuple[str, ...]:
    """Return a smallest set of animals that has a part in every danger between two.

    Parameters
    ----------
    stuck
        Animals that no place is known for: of sets that are as small, one with few of them.

    Notes
    -----
    A minimum vertex cover of the conflict graph, exact: within each connected
    part, as the complement of a largest clique of the complement graph.
    """
    pairs: set[tuple[str, ...]] = set()
    found: set[str] = set()
    for reason in reasons:
        if reason.level == "danger" and len(reason.subjects) == 2:
            pairs.add(tuple(sorted(reason.subjects)))
        elif reason.level == "danger" and reason.subjects:
            found.add(reason.subjects[0])
    left = sorted(pair for pair in pairs if not found & set(pair))
    names = sorted({name for pair in left for name in pair})
    number = {name: index for index, name in enumerate(names)}  # numbers, so that ties fall alike every time
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(range(len(names)))
    graph.add_edges_from((number[one], number[other]) for one, other in left)
    for part in nx.connected_components(graph):
        piece: nx.Graph[int] = nx.Graph(nx.induced_subgraph(graph, sorted(part)))
        rest = nx.complement(piece)
        # one more animal that stays outweighs all that would rather stay
        worth = {index: len(piece) + 1 + (names[index] in stuck) for index in piece}
        nx.set_node_attributes(rest, worth, "worth")
        kept, _ = nx.max_weight_clique(rest, weight="worth")
        found |= {names[index] for index in set(piece) - set(kept)}
    return tuple(sorted(found))


def _in_order_of_findings(movers: Sequence[str], findings: Sequence[Reason]) -> tuple[str, ...]:
    """Movers in the order in which findings name them: moves are read in the order they are made."""
    named = [
        subject for reason in findings if reason.level == "danger" for subject in sorted(reason.subjects)
    ]
    return tuple(sorted(movers, key=named.index))


def _grouped(reasons: Sequence[Reason]) -> list[Reason]:
    """The reasons in their order, those of one rule together."""
    by_rule: dict[str, list[Reason]] = {}
    for reason in sorted(reasons, key=reason_order):
        by_rule.setdefault(reason.rule, []).append(reason)
    return [reason for group in by_rule.values() for reason in group]


def _findings(grouped: Sequence[Reason], most: int, cures: dict[str, str]) -> tuple[Finding, ...]:
    """Findings with what to do about each: at most some of one rule, the last with the count of the rest."""
    of_rule = Counter(reason.rule for reason in grouped)
    met: Counter[str] = Counter()
    out = []
    for reason in grouped:
        met[reason.rule] += 1
        if met[reason.rule] <= most:
            others = max(0, of_rule[reason.rule] - most) if met[reason.rule] == most else 0
            number = int(reason.number)
            out.append(Finding(number=number, reason=reason, others=others, do=_do(reason, cures)))
    return tuple(out)


def _do(reason: Reason, cures: dict[str, str]) -> str:
    """A move that is known to help, else the rule's own remedy."""
    moves = [cures[subject] for subject in reason.subjects if subject in cures]
    return moves[0] if moves and reason.level == "danger" else reason.remedy


def _silent(
    desk: Desk, placed: Sequence[Animal], planes: Sequence[RulePlane], sitting: Sitting
) -> tuple[str, ...]:
    """The animals no rule spoke about, and those that have no card for rules to speak of."""
    spoken: set[int] = set()
    for plane in planes:
        covered = plane.now.verdict != NOT_COVERED
        for binder in plane.compiled.binders:
            if binder.kind.value in ("animal", "coral"):
                spoken |= set(np.unique(plane.now.bindings.rows[binder.name][covered]).tolist())
    rows = {row.id: index for index, row in enumerate(getattr(sitting.tables, "animals", ()))}
    nameless = {animal.id for animal in placed if not desk.cards.get(animal.id, CardChoice(())).cards}
    return tuple(each.id for each in placed if each.id in nameless or rows.get(each.id) not in spoken)


def _cautions(desk: Desk, reasons: Sequence[Reason]) -> tuple[Caution, ...]:
    """What a person must mind with the animals that findings name, and with any zoanthid; each once."""
    touched = {subject for reason in reasons for subject in reason.subjects}
    touched |= {name for name, choice in desk.cards.items() if may_be_poisonous(desk, choice)}
    found: dict[str, Caution] = {}
    about: dict[str, list[str]] = {}
    for animal in sorted(touched & set(desk.cards)):
        for caution in cautions_for(desk, desk.cards[animal]):
            found.setdefault(caution.text, caution)
            about.setdefault(caution.text, []).append(animal)
    return tuple(each.model_copy(update={"about": tuple(about[text])}) for text, each in found.items())
