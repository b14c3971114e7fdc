"""The smallest changes that would help, each judged again for the whole tank.

What may be changed is declared by levers of the rule files; beside them only
the animal itself may go to another spot. A candidate is one world laid over
the tank; it is offered only if the answer there really is better.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.language.nodes import Stage
from advisor.model.changes import Change, SetFact
from advisor.model.results import Cure, Reason, Verdict, Word
from advisor.model.tank import Spot
from advisor.planning.bench import RulePlane
from advisor.planning.desk import Desk, Subject
from advisor.planning.fold import Table, standings, table_of
from advisor.planning.house_loosened import kept_quiet
from advisor.planning.pick import explained, reasons_by_world
from advisor.planning.place import light_step_rules, word_of
from advisor.planning.rounds import Round, change_for, free_spots, judged, sitting_for, survey_for
from advisor.reasoning.bindings import Bindings
from advisor.reasoning.columns import Bools
from advisor.reasoning.flips import Flip, Way, cost_of, ways_of
from advisor.reasoning.judge import FAILS, UNDECIDED, frame_of, judge_frame
from advisor.reasoning.record import Row
from advisor.reasoning.survey import Survey

MOST_CURES = 3
MOST_LEVERS = 3
"""Levers one cure may pull: nobody puts up a dozen dividers for one coral."""
MOST_WORLDS = 60
"""Candidates that are judged; beyond it only dearer combinations are left."""

_HELPS = tuple(word for word in Word if word not in (Word.NOT_KNOWN, Word.NO))
"""Words a cure may end in, best first; one that ends in another is none."""
_ORDER = [*_HELPS, Word.NOT_KNOWN, Word.NO]
_MOST_SAID = 2


@dataclass(frozen=True, slots=True)
class Candidate:
    """Some levers used together, the edits they stand for, and what came of judging them."""

    way: Way
    edits: Change
    word: Word
    changes: tuple[str, ...]

    @property
    def kind(self) -> frozenset[str]:
        """Which levers it uses: two cures of one kind are not both shown."""
        return frozenset(flip.lever.name for flip in self.way)

    @property
    def order(self) -> tuple[float, float, str]:
        """Cheapest first, then the one of fewest steps."""
        return cost_of(self.way), sum(flip.steps for flip in self.way), self.text

    @property
    def text(self) -> str:
        """What to do."""
        return " and ".join(sorted(flip.text for flip in self.way))


def cures_for(desk: Desk, subject: Subject, spot: Spot, found: Round, word: Word) -> tuple[Cure, ...]:
    """Return up to three changes of different kind that make the answer better, cheapest first.

    Parameters
    ----------
    found
        The place as it was judged: world 1 is the animal on the spot.
    word
        The answer there.
    """
    out: list[Cure] = []
    elsewhere = _other_place(desk, subject, spot, word)
    if elsewhere is not None:
        out.append(elsewhere)
    kinds: list[frozenset[str]] = []
    for candidate in candidates(desk, subject, spot, found, word):
        if len(out) < MOST_CURES and not any(kind <= candidate.kind for kind in kinds):
            kinds.append(candidate.kind)
            out.append(Cure(text=candidate.text, makes=candidate.word, changes=candidate.changes))
    return tuple(out)


def better(word: Word, than: Word) -> bool:
    """Return whether an answer is one that helps and better than another."""
    return word in _HELPS and _ORDER.index(word) < _ORDER.index(than)


def candidates(desk: Desk, subject: Subject, spot: Spot, found: Round, word: Word) -> list[Candidate]:
    """Return every set of levers that makes the answer better, cheapest first, as it was judged."""
    ways = _joint_ways(desk, subject, found)
    if not ways:
        return []
    edits = [tuple(SetFact(flip.fact) for flip in way) for way in ways]
    words = _judged_again(desk, subject, spot, edits)
    made = [
        Candidate(way, edit, after, (*changes, *_not_checked(way)))
        for way, edit, (after, changes) in zip(ways, edits, words, strict=True)
        if better(after, word)
    ]
    return sorted(made, key=lambda candidate: candidate.order)


def _not_checked(way: Way) -> tuple[str, ...]:
    """What also changes with some levers and nobody can reckon."""
    return tuple(dict.fromkeys(f"not checked: {flip.not_checked}" for flip in way if flip.not_checked))


# --- which levers could help ------------------------------------------------------


def _joint_ways(desk: Desk, subject: Subject, found: Round) -> list[Way]:
    """Sets of flips that together could turn everything that stands in the way, cheapest first."""
    rows = _in_the_way(found.table)
    sets: list[Way] = [()]
    for plane, at in rows:
        ways = _ways(desk, found, plane, at, subject.animal.id)
        if not ways:
            return []
        joint = (merged((*done, *way)) for done in sets for way in ways)
        sets = _fewest([way for way in joint if len(way) <= MOST_LEVERS])
    return [way for way in sets if way]


def _in_the_way(table: Table) -> list[tuple[int, int]]:
    """Plane and binding of what keeps world 1 from a better answer: dangers first, else what warns now."""
    here = table.world == 1
    bad = (table.verdict == FAILS) | ((table.verdict == UNDECIDED) & (table.lean <= 0))
    dangers = here & bad & (table.level == 0)
    kept = dangers if dangers.any() else here & (table.verdict == FAILS) & (table.level == 1) & ~table.later
    return [(int(table.plane[row]), int(table.at[row])) for row in np.flatnonzero(kept)]


def _ways(desk: Desk, found: Round, plane: int, at: int, about: str) -> list[Way]:
    """The ways to turn one binding of one rule."""
    compiled, now = found.planes[plane].compiled, found.planes[plane].now
    bindings = now.bindings.take(np.array([at], np.int64))
    sitting = found.sitting
    frame = frame_of(compiled, sitting.tables, sitting.population, bindings, np.zeros(1))
    judge_frame(compiled, frame, bindings)
    return ways_of(compiled, Row(frame, 0), desk.library.levers, about)


def merged(flips: Sequence[Flip]) -> Way:
    """Return flips without those that another one of the same thing goes further than."""
    furthest: dict[tuple[str, frozenset[str]], Flip] = {}
    for flip in flips:
        before = furthest.get(flip.key)
        if before is None or flip.steps > before.steps:
            furthest[flip.key] = flip
    return tuple(furthest.values())


def _fewest(sets: Sequence[Way]) -> list[Way]:
    """Each different set once, cheapest first, no more than can be judged."""
    seen: dict[tuple[str, ...], Way] = {}
    for way in sets:
        seen.setdefault(tuple(sorted(flip.text for flip in way)), way)
    return sorted(seen.values(), key=cost_of)[:MOST_WORLDS]


# --- what comes of them ---------------------------------------------------------------


def _judged_again(
    desk: Desk, subject: Subject, spot: Spot, edits: Sequence[Change]
) -> list[tuple[Word, tuple[str, ...]]]:
    """The answer for the animal in each changed tank, and what else then begins to fail."""
    standing = subject.placed and spot.id in ("", subject.animal.spot)
    put: Change = () if standing else change_for(subject, spot)
    worlds: list[Change] = [put, *((*put, *edit) for edit in edits)]
    if standing:
        survey, base = desk.survey(worlds), 0
    else:
        survey = survey_for(desk, subject, worlds)
        base = len(worlds) + 1 if subject.placed else 0
    sitting = desk.sit(survey, base_world=base)
    planes = sitting.judge(desk.bench.at((Stage.ALWAYS, Stage.SETTLED)))
    table = _answerable(table_of(planes, sitting), planes, survey, subject.animal.id)
    order = standings(table, len(worlds) + 1, [[] for _ in range(len(worlds) + 1)])
    found = Round((), sitting, planes, table, [], [])
    rules = light_step_rules(desk.bench)
    quiet = kept_quiet(sitting, after=1)
    told = []
    for item in order[1:]:
        row = survey.animal_row(subject.animal.id, item.world)
        touched = row >= 0 and survey.animal_world[row] == item.world  # else nothing about it was judged anew
        word = word_of(found, item, rules) if touched else Word.NO
        begins = _begins(found, item.world, subject.animal.id)
        told.append((word, (*begins, *quiet.get(item.world, ()))))
    return told


def _answerable(table: Table, planes: Sequence[RulePlane], survey: Survey, animal: str) -> Table:
    """The rows each world answers for: the animal's own, and those that are worse than without the change."""
    keep = np.zeros(len(table.at), np.bool_)
    subject = np.array([row.id == animal for row in survey.animals], np.bool_)
    for index, plane in enumerate(planes):
        here = np.flatnonzero(table.plane == index)
        bindings = plane.now.bindings
        keep[here] = _with(bindings, plane, subject)[table.at[here]]
        before = _worst(plane, bindings.worlds <= 1, survey)
        for row in here[~keep[here] & np.isin(table.verdict[here], (FAILS, UNDECIDED))]:
            at = int(table.at[row])
            keep[row] = _harm(plane, at) > before.get(_names(plane, at, survey), 0)
    return table.only(keep)


def _with(bindings: Bindings, plane: RulePlane, subject: Bools) -> Bools:
    """Which bindings one animal takes part in."""
    found = np.zeros(len(bindings), np.bool_)
    for binder in plane.compiled.binders:
        if binder.kind.value in ("animal", "coral"):
            found |= subject[bindings.rows[binder.name]]
    return found


def _worst(plane: RulePlane, which: Bools, survey: Survey) -> dict[tuple[str, ...], int]:
    """How bad each binding is, by the names of its things, in the tank without any lever."""
    out: dict[tuple[str, ...], int] = {}
    for at in np.flatnonzero(which & np.isin(plane.now.verdict, (FAILS, UNDECIDED))).tolist():
        names = _names(plane, at, survey)
        out[names] = max(out.get(names, 0), _harm(plane, at))
    return out


def _names(plane: RulePlane, at: int, survey: Survey) -> tuple[str, ...]:
    """The ids of the things of a binding."""
    rows = plane.now.bindings.rows
    return tuple(survey.label(binder.kind, int(rows[binder.name][at])) for binder in plane.compiled.binders)


def _harm(plane: RulePlane, at: int) -> int:
    """2 where a rule fails, 1 where it is open."""
    return {FAILS: 2, UNDECIDED: 1}.get(int(plane.now.verdict[at]), 0)


def _begins(found: Round, world: int, animal: str) -> tuple[str, ...]:
    """What a world warns of that is not about the animal itself."""
    rows = found.table.rows((found.table.world == world) & (found.table.verdict == FAILS))
    told = [reason for _, reason in explained(rows.tolist(), found.table, found.planes, found.sitting)]
    fresh = (reason for reason in told if animal not in reason.subjects)
    return tuple(dict.fromkeys(f"then {reason.sentence}" for reason in fresh))[:_MOST_SAID]


# --- another place --------------------------------------------------------------------


def _other_place(desk: Desk, subject: Subject, spot: Spot, word: Word) -> Cure | None:
    """The best other spot, if it is better than this one."""
    free = tuple(item for item in free_spots(desk, subject)[0] if item.id != spot.id and not item.temporary)
    if not free:
        return None
    found = judged(desk, free, sitting_for(desk, subject, free)[1])
    item = found.order[0][1]
    if not better(item.word, word):
        return None
    return Cure(
        text=f"put {subject.animal.id} on {found.spot(item).id} instead",
        makes=item.word,
        changes=(
            *_warned(found, subject),
            *kept_quiet(found.sitting, subject.animal.id).get(item.world, ()),
        ),
    )


def _warned(found: Round, subject: Subject) -> tuple[str, ...]:
    """What the best place of a round still warns of."""
    item = found.order[0][1]
    reasons = reasons_by_world([item.world], found.table, found.planes, found.sitting, subject.animal.id, 1)
    return tuple(reason.sentence for reason in reasons[item.world] if _still_warns(reason))[:_MOST_SAID]


def _still_warns(reason: Reason) -> bool:
    """Whether a warning fails."""
    return reason.verdict is Verdict.FAILS and reason.level == "warning"
