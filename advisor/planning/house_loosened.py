"""What an answer says, at every level, of dangers that the keeper's own lines end, switch off or accept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.language.nodes import HouseEdit, HouseVerb, Level
from advisor.model.results import Loosened, Verdict
from advisor.planning.accepts import accepts_of, named_of, short_text
from advisor.planning.bench import Sitting
from advisor.planning.desk import Desk
from advisor.planning.house_report import is_danger_off
from advisor.planning.house_turned import Binding, Turned, binding_at, turned
from advisor.reasoning.house_notes import changed_text, days_text, edit_words
from advisor.reasoning.judge import ACCEPTED

BASE_WORLD = 0
"""The tank as it is: what is asked of water, pumps and lamps is asked there."""


@dataclass(frozen=True, slots=True)
class Question:
    """Which bindings an answer is about: some worlds, each with its place, and one animal or all."""

    worlds: Mapping[int, str]
    animal: str = ""

    def about(self, binding: Binding, animals: frozenset[str]) -> bool:
        """Return whether the answer is about a binding of a rule."""
        world, names = binding
        living = animals & set(names)
        if not self.animal or self.animal in living:
            return world in self.worlds
        return not living and world in (*self.worlds, BASE_WORLD)


def loosened(desk: Desk, sitting: Sitting, question: Question) -> tuple[Loosened, ...]:
    """Return the dangers that house lines end, soften, switch off or accept in what is asked, worst first."""
    library = desk.library
    if not library.house:
        return ()
    animals = frozenset(row.id for row in getattr(sitting.tables, "animals", ()))
    milder = [each for each in turned(sitting) if question.about((each.world, each.subjects), animals)]
    named = {edit for each in milder for edit in each.edits}
    off = [
        Loosened(rule=edit.target, lines=(changed_text(edit, library.on),))
        for edit in library.house
        if is_danger_off(edit, library) and edit not in named
    ]
    found = [*_joined(milder, question, library.on), *_accepted(desk, sitting, question, animals), *off]
    return tuple(sorted(found, key=lambda each: (each.shipped is not Verdict.FAILS, each.shipped is None)))


def kept_quiet(sitting: Sitting, animal: str = "", *, after: int = 0) -> dict[int, tuple[str, ...]]:
    """Return by world which dangers only house lines keep quiet there, in words for a suggestion.

    Parameters
    ----------
    animal
        The one whom the suggestion moves; empty for everybody.
    after
        The last world that the answer itself speaks about: what is quiet there already is told with it.
    """
    every = turned(sitting)
    told = {(each.rule, each.subjects) for each in every if each.world <= after}
    found: dict[int, list[str]] = {}
    for each in every:
        mine = not animal or animal in each.subjects
        if each.world > after and mine and (each.rule, each.subjects) not in told:
            lines = " and ".join(edit_words(edit) for edit in each.edits)
            one = len(each.edits) == 1
            text = (
                f"only your house {'line' if one else 'lines'} ({lines}) "
                f"{'keeps' if one else 'keep'} the danger {each.rule} quiet there"
            )
            found.setdefault(each.world, []).append(text)
    return {world: tuple(dict.fromkeys(texts)) for world, texts in found.items()}


def _joined(milder: Sequence[Turned], question: Question, on: str) -> list[Loosened]:
    """Verdicts turned by the same lines about the same things, those at several places as one."""
    places: dict[tuple[str, tuple[str, ...], bool, tuple[HouseEdit, ...]], list[str]] = {}
    for each in milder:
        key = (each.rule, each.subjects, each.fails, each.edits)
        places.setdefault(key, []).append(question.worlds.get(each.world, ""))
    return [
        Loosened(
            rule=rule,
            subjects=subjects,
            places=tuple(dict.fromkeys(place for place in where if place)),
            shipped=Verdict.FAILS if fails else Verdict.UNDECIDED,
            lines=tuple(changed_text(edit, on) for edit in edits),
        )
        for (rule, subjects, fails, edits), where in places.items()
    ]


def _accepted(desk: Desk, sitting: Sitting, question: Question, animals: frozenset[str]) -> list[Loosened]:
    """The dangers in what is asked that the keeper has accepted."""
    targets = {edit.target for edit in accepts_of(desk.library)}
    rules = [
        each for each in desk.bench.rules if each.rule.name in targets and each.rule.level is Level.DANGER
    ]
    out = []
    for plane in sitting.judge(rules, ahead=False):
        for at in np.flatnonzero(plane.now.verdict == ACCEPTED).tolist():
            binding = binding_at(plane, sitting, at)
            if question.about(binding, animals):
                lines = _accepts(desk, plane.compiled.rule.name, binding[1])
                out.append(
                    Loosened(rule=plane.compiled.rule.name, subjects=binding[1], lines=lines, accepted=True)
                )
    return out


def _accepts(desk: Desk, rule: str, subjects: Sequence[str]) -> tuple[str, ...]:
    """What accepts some things of a rule."""
    library = desk.library
    return tuple(
        f"you accepted this{short_text(edit)}{days_text(edit, library.on)}"
        f"{f': {edit.because}' if edit.because else ''}"
        for edit in accepts_of(library, rule)
        if edit.verb is HouseVerb.ACCEPT and edit.entities == named_of(rule, subjects, library)
    )
