"""Which species an open answer hangs on: the same question asked for each card an animal may have."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.model.changes import CardChoice
from advisor.model.results import Need, Reason, Verdict
from advisor.model.vocabulary import Kind, Supplier
from advisor.reasoning.bindings import Bindings, population_of
from advisor.reasoning.columns import Floats
from advisor.reasoning.compiled_rule import CompiledRule
from advisor.reasoning.judge import FAILS, UNDECIDED, judge_bindings
from advisor.reasoning.open_names import open_words
from advisor.reasoning.survey import Survey
from advisor.reasoning.tables import Tables

SPECIES = "taxon"
"""The measure whose question asks what an animal is."""


def told_by_species(
    reasons: Sequence[Reason], compiled: CompiledRule, tables: Tables, bindings: Bindings, months: Floats
) -> list[Reason]:
    """Return reasons, those left open by a species that is not certain with what each species would say.

    Parameters
    ----------
    bindings, months
        What each reason is about, and how far ahead it is asked. [months]
    """
    weapons = any(binder.kind is Kind.WEAPON for binder in compiled.binders)
    if not isinstance(tables, Survey) or weapons:  # a weapon is called after its species already
        return list(reasons)
    return [
        _told(reason, compiled, tables, bindings.take(np.array([at])), months[[at]])
        if reason.verdict is Verdict.UNDECIDED
        else reason
        for at, reason in enumerate(reasons)
    ]


def _told(
    reason: Reason, compiled: CompiledRule, survey: Survey, binding: Bindings, months: Floats
) -> Reason:
    """One open reason with what the species of each of its animals would make of it."""
    for binder in compiled.binders:
        row = int(binding.rows[binder.name][0])
        cards = survey.species(row) if binder.kind.lives else ()
        if len(cards) < 2:
            continue
        animal = survey.animals[row].id
        codes = {card: _code(compiled, survey, animal, card, binding, months) for card in cards}
        if len(set(codes.values())) > 1:
            sentence = f"{reason.sentence}; {_in_words(animal, codes)}"
            needs = _species_first(reason.needs, survey, row, animal)
            return reason.model_copy(update={"sentence": sentence, "needs": needs})
    return reason


def _code(
    compiled: CompiledRule, survey: Survey, animal: str, card: str, binding: Bindings, months: Floats
) -> str:
    """What comes out if an animal is of one species."""
    certain = survey.as_if(animal, CardChoice((card,)))
    for measure, words in open_words(survey.library).items():
        certain.set_domain(measure, words)
    plane = judge_bindings(compiled, certain, population_of(certain), binding, months)
    return {FAILS: "fails", UNDECIDED: "stays open"}.get(int(plane.verdict[0]), "holds")


def _in_words(animal: str, codes: dict[str, str]) -> str:
    """``this fails if brain-1 is favites or platygyra, and holds if it is leptoria``."""
    parts: list[str] = []
    for code in ("fails", "stays open", "holds"):
        cards = [card for card, found in codes.items() if found == code]
        if cards:
            parts.append(f"{code} if {'it' if parts else animal} is {_either(cards)}")
    return f"this {', and '.join((', '.join(parts[:-1]), parts[-1]))}"


def _either(names: Sequence[str]) -> str:
    """``a, b or c``."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _species_first(needs: Sequence[Need], survey: Survey, row: int, animal: str) -> tuple[Need, ...]:
    """The question what it is, instead of every question that its card would answer."""
    measures = survey.library.vocabulary.measures
    rest = tuple(
        need
        for need in needs
        if need.subjects != (animal,)
        or need.measure not in measures
        or Supplier.CARD not in measures[need.measure].suppliers
    )
    if SPECIES not in measures:
        return rest or tuple(needs)
    what = Need(measure=SPECIES, subjects=(animal,), ask=survey.ask(SPECIES, (row,)), command="")
    return (what, *rest)
