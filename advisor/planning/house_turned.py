"""Dangers that house lines keep from speaking: found by judging the same question as the rules are shipped.

A danger that a line ends leaves nothing behind that could be noted: it holds,
or covers nothing, or is not there. So where a line touches a danger at all, the
dangers it touches are judged once more without any house line, and for each
verdict that is milder now the lines are named without which it would not be.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from advisor.language.house import lay_over, taken_off
from advisor.language.house_state import names_behind
from advisor.language.library import Library
from advisor.language.nodes import HouseEdit, HouseVerb, Level
from advisor.model.vocabulary import Kind
from advisor.planning.bench import Bench, RulePlane, Sitting, comes_later, sitting_of
from advisor.reasoning.compile import compile_rule
from advisor.reasoning.judge import ACCEPTED, FAILS, UNDECIDED
from advisor.reasoning.survey import Survey

WEAPON = "weapon"
"""The line of a card whose words take the numbers of a weapon along."""
_CHANGES = frozenset({HouseVerb.CHANGE_CARD, HouseVerb.CHANGE_LET, HouseVerb.LEVEL, HouseVerb.SWITCH_OFF})

Binding = tuple[int, tuple[str, ...]]
"""A world, and the names of what a rule is about there."""
Harm = tuple[int, int]
"""How bad a danger is now and later: 2 it fails, 1 it is open, 0 neither."""
_NONE: Harm = (0, 0)


@dataclass(frozen=True, slots=True)
class Turned:
    """One danger whose verdict is milder than the shipped rules have it, and by which lines."""

    rule: str
    world: int
    subjects: tuple[str, ...]
    fails: bool
    """Whether it fails as shipped, now or later; else it is open."""
    edits: tuple[HouseEdit, ...]


def turned(sitting: Sitting) -> tuple[Turned, ...]:
    """Return every danger of some tables that house lines have turned to the better, in a fixed order."""
    library, survey = sitting.bench.library, sitting.tables
    if not isinstance(survey, Survey) or not any(edit.verb in _CHANGES for edit in library.house):
        return ()
    shipped = without(library, library.house)
    touching = lines_on_dangers(library, shipped, _cards_in(survey))
    if not touching:
        return ()
    before = _harms(_sitting(sitting, survey, shipped, touching), list(touching))
    now = _harms(sitting, list(touching))
    milder = {
        (rule, binding): harm
        for rule, found in before.items()
        for binding, harm in found.items()
        if now[rule].get(binding, _NONE) < harm
    }
    lines = _lines_of(sitting, survey, touching, milder, now)
    return tuple(
        Turned(rule, binding[0], binding[1], max(milder[rule, binding]) > 1, lines[rule, binding])
        for rule, binding in sorted(milder)
    )


def without(library: Library, edits: Collection[HouseEdit]) -> Library:
    """Return a library as it would be without some of its house lines."""
    kept = [edit for edit in library.house if edit not in edits]
    return replace(lay_over(taken_off(library), kept)[0], on=library.on)


def lines_on_dangers(
    library: Library, shipped: Library, cards: Mapping[str, Collection[str]]
) -> dict[str, tuple[HouseEdit, ...]]:
    """Return the shipped dangers that house lines touch, each with those lines.

    Parameters
    ----------
    cards
        The cards that the animals in question may have, by id of the animal.
    """
    dangers = {name: rule for name, rule in shipped.rules.items() if rule.level is Level.DANGER}
    behind = {name: names_behind(rule, shipped) for name, rule in dangers.items()}
    found = {
        name: tuple(edit for edit in library.house if _touches(edit, name, behind[name], library, cards))
        for name in sorted(dangers)
    }
    return {name: edits for name, edits in found.items() if edits}


def _touches(
    edit: HouseEdit,
    rule: str,
    names: frozenset[str],
    library: Library,
    cards: Mapping[str, Collection[str]],
) -> bool:
    """Whether a line may have a say in a danger here."""
    match edit.verb:
        case HouseVerb.SWITCH_OFF | HouseVerb.LEVEL:
            return edit.target == rule
        case HouseVerb.CHANGE_LET:
            return edit.target in names
        case HouseVerb.CHANGE_CARD:
            ours = [cards.get(edit.animal, ())] if edit.animal else cards.values()
            lines = {library.vocabulary.measures[name].card_line for name in names & _measures(library)}
            return any(edit.target in each for each in ours) and bool(lines & _keys(edit, library))
        case _:
            return False


def _measures(library: Library) -> frozenset[str]:
    """The names of all measures."""
    return frozenset(library.vocabulary.measures)


def _keys(edit: HouseEdit, library: Library) -> set[str]:
    """The lines of cards that a change moves: of a band its ends, of a weapon its numbers with it."""
    every = {measure.card_line for measure in library.vocabulary.measures.values()} - {""}
    if edit.key == WEAPON:
        return {line for line in every if line == WEAPON or line.startswith(f"{WEAPON}-")}
    return every & {edit.key, f"{edit.key}-low", f"{edit.key}-high"}


def _cards_in(survey: Survey) -> dict[str, set[str]]:
    """The cards that each animal of some tables may have, by its id."""
    found: dict[str, set[str]] = {}
    for row, animal in enumerate(survey.animals):
        found.setdefault(animal.id, set()).update(survey.species(row))
    return found


def _sitting(sitting: Sitting, survey: Survey, library: Library, names: Collection[str]) -> Sitting:
    """The same question before other rules, of which only some are compiled."""
    rules = tuple(compile_rule(library.rules[name], library) for name in names if name in library.rules)
    return sitting_of(
        Bench(library, rules, ()),
        survey.under(library),
        sitting.on,
        sitting.horizon_months,
        sitting.base_world,
        sees_far=sitting.sees_far,
    )


def _harms(sitting: Sitting, names: Sequence[str]) -> dict[str, dict[Binding, Harm]]:
    """Where some rules do harm as dangers; a rule that is off or no danger does none."""
    found: dict[str, dict[Binding, Harm]] = {name: {} for name in names}
    rules = [each for each in sitting.bench.rules if each.rule.name in found]
    for plane in sitting.judge([each for each in rules if each.rule.level is Level.DANGER]):
        found[plane.compiled.rule.name] = _of_plane(plane, sitting)
    return found


def _of_plane(plane: RulePlane, sitting: Sitting) -> dict[Binding, Harm]:
    """Where one danger does harm; what the keeper accepted counts as what it is."""
    now, later = plane.now, comes_later(plane)
    out: dict[Binding, Harm] = {}
    speaks = np.isin(now.verdict, (FAILS, UNDECIDED, ACCEPTED)) | later
    for at in np.flatnonzero(speaks).tolist():
        code = int(now.verdict[at])
        worst = 2 if code in (FAILS, ACCEPTED) else int(code == UNDECIDED)
        out[binding_at(plane, sitting, at)] = (worst, 2 * int(later[at]))
    return out


def binding_at(plane: RulePlane, sitting: Sitting, at: int) -> Binding:
    """Return the world of one binding of a rule, and the names of what it is about."""
    bindings = plane.now.bindings
    labels = tuple(
        sitting.tables.label(
            Kind.ANIMAL if binder.kind.lives else binder.kind, int(bindings.rows[binder.name][at])
        )
        for binder in plane.compiled.binders
    )
    return int(bindings.worlds[at]), labels


def _lines_of(
    sitting: Sitting,
    survey: Survey,
    touching: Mapping[str, tuple[HouseEdit, ...]],
    milder: Mapping[tuple[str, Binding], Harm],
    now: Mapping[str, Mapping[Binding, Harm]],
) -> dict[tuple[str, Binding], tuple[HouseEdit, ...]]:
    """By which lines each verdict was turned: those without which it is worse, else all that touch it."""
    rules = {rule for rule, _ in milder}
    doubted = dict.fromkeys(
        edit for name in sorted(rules) for edit in touching[name] if len(touching[name]) > 1
    )
    library = sitting.bench.library
    gone = {
        edit: _harms(_sitting(sitting, survey, without(library, (edit,)), rules), sorted(rules))
        for edit in doubted
    }
    out = {}
    for rule, binding in milder:
        here = now[rule].get(binding, _NONE)
        guilty = [
            edit for edit in touching[rule] if edit in gone and gone[edit][rule].get(binding, _NONE) > here
        ]
        out[rule, binding] = tuple(guilty) or touching[rule]
    return out
