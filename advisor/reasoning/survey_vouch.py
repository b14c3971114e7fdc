"""An animal that has done well on a spot for months is evidence for that spot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.language.house_state import base as base_of
from advisor.model.cells import Cell, CellKind, NumberCell, Support, WordCell
from advisor.model.vocabulary import Grade, Measure
from advisor.reasoning.survey_computed import Context, Supply, known
from advisor.reasoning.survey_facts import sharpness
from advisor.reasoning.survey_grounds import HOUSE_FILE, span_of
from advisor.reasoning.survey_light import reckoned_light
from advisor.reasoning.survey_touched import touched, touched_spans

VOUCH_AFTER = "vouch-after"
"""The named number of the rule files that says how long is long enough."""


@dataclass(frozen=True, slots=True)
class _Voucher:
    """One animal's word for a place."""

    animal_id: str
    low: float
    high: float
    days: float
    changed: tuple[Support, ...] = ()
    """What house lines have set of what it rests on."""


def light_here(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """The light of a place as lamps and readings make it; without them as the animals there vouch."""
    reckoned = reckoned_light(context, measure, row, so_far)
    if reckoned is not None:
        return reckoned
    return _vouched(context, measure, row, so_far, ("light-min", "light-max"))


def vouched_flow(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """The flow at a place, as far as the animals that do well there tell."""
    return _vouched(context, measure, row, so_far, ("flow-min", "flow-max"))


def _vouched(
    context: Context, measure: Measure, row: int, so_far: Cell | None, ends: tuple[str, str]
) -> Cell | None:
    """Narrow an unknown cell, or one that rests on words, to what the animals there vouch for."""
    vouchers = list(_vouchers(context, row, ends))
    if not vouchers or (known(so_far) and not _rests_on_words(context, measure, row)):
        return None
    low, high = max(each.low for each in vouchers), min(each.high for each in vouchers)
    agree = low <= high
    if not agree:
        low, high = min(each.low for each in vouchers), max(each.high for each in vouchers)
    changed = (support for each in vouchers for support in each.changed)
    supports = (*(_support(each, measure, agree) for each in vouchers), *dict.fromkeys(changed))
    if so_far is None or not isinstance(so_far, NumberCell):
        return NumberCell(low, None, high, CellKind.VOUCHED, None, supports)
    if not known(so_far):
        best = so_far.best if so_far.best is not None and low <= so_far.best <= high else None
        return NumberCell(low, best, high, CellKind.VOUCHED, None, (*supports, *so_far.supports))
    return _narrowed(so_far, low, high, supports)


def _narrowed(said: NumberCell, low: float, high: float, supports: tuple[Support, ...]) -> NumberCell:
    """What both a word and the animals there allow; everything either allows where they disagree."""
    both = max(low, said.low), min(high, said.high)
    if both[0] > both[1]:
        odd = Support("the two do not agree", source="so the range covers both")
        low, high = min(low, said.low), max(high, said.high)
        return NumberCell(low, None, high, CellKind.STATED, None, (*said.supports, *supports, odd))
    narrows = both != (said.low, said.high)
    grounds = (*said.supports, *supports) if narrows else said.supports
    return NumberCell(both[0], None, both[1], CellKind.VOUCHED if narrows else said.kind, None, grounds)


def _rests_on_words(context: Context, measure: Measure, row: int) -> bool:
    """Whether the newest statement about a place is a loose word."""
    place = context.layout.places[row]
    said = [fact.said for fact in place.facts if fact.measure == measure.name]
    statements = said[-1:] or context.facts.of(measure.name, place.key)[:1]
    return bool(statements) and sharpness(statements[0]) == 2


def _vouchers(context: Context, row: int, ends: tuple[str, str]) -> Iterator[_Voucher]:
    """The animals that have done well at a place for long enough."""
    enough = context.library.lets.get(VOUCH_AFTER)
    if enough is None:
        return
    spans = touched_spans(context.library)
    set_here = (Support(HOUSE_FILE, source=f"changed {VOUCH_AFTER}", span=enough.span),)
    own = set_here if enough.span in spans else ()
    for animal in context.standing.get(context.layout.places[row].key, ()):
        days = _well_for(context, animal.entity)
        low, high = (context.of_animal(name, animal.entity) for name in ends)
        if days < base_of(enough.value) or not (known(low) or known(high)):
            continue
        if isinstance(low, NumberCell) and isinstance(high, NumberCell):
            yield _Voucher(animal.id, low.low, high.high, days, (*touched((low, high), spans), *own))


def _well_for(context: Context, entity: int) -> float:
    """For how many days an animal has surely done well where it stands; -1 if not."""
    doing = context.of_animal("doing", entity)
    if not isinstance(doing, WordCell) or doing.possible != frozenset(("well",)):
        return -1.0
    here = _least(context.of_animal("days-here", entity))
    return here if here >= 0.0 else _least(context.of_animal("doing-since", entity))


def _least(cell: Cell) -> float:
    """The smallest value of a known number, -1 where unknown."""
    return cell.low if isinstance(cell, NumberCell) and known(cell) else -1.0


def _support(voucher: _Voucher, measure: Measure, agree: bool) -> Support:
    """Who vouches, for what, and for how long."""
    told = f"has done well there for {voucher.days:.0f} days; its card allows "
    told += span_of(voucher.low, voucher.high, measure)
    if not agree:
        told += "; the animals there do not agree, so the range covers them all"
    return Support(f"{voucher.animal_id} does well there", Grade.EXPERIENCE, source=told)


VOUCHES: dict[str, Supply] = {
    "light-here": light_here,
    "vouched-flow": vouched_flow,
}
