"""House lines laid over what is shipped: order makes no difference, and nothing is changed by guess."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from advisor.errors import Problem, Related
from advisor.language.format_house import edit_text
from advisor.language.house_cards import card_change, cards_after
from advisor.language.house_lets import let_change
from advisor.language.house_rules import accepted, level_change, switched_off
from advisor.language.house_state import House, Meant
from advisor.language.library import Library, Shipped
from advisor.language.nodes import Example, HouseEdit, HouseVerb


def lay_over(library: Library, edits: Sequence[HouseEdit]) -> tuple[Library, list[Problem]]:
    """Return the library with the house's lines applied, and what is wrong with them.

    A line is checked against what is shipped, never against another line, so
    their order makes no difference; two that disagree are both left out.
    """
    levels = {edit.target: edit.new_level for edit in edits if edit.new_level is not None}
    house = House.of(library, levels)
    sound = [edit for edit in edits if _has_days(house, edit)]
    meant = _agreed(house, [meant for edit in sound for meant in _meant(house, edit)])
    for item in meant:
        item.apply(house)
    applied = sorted({item.edit for item in meant}, key=_text)
    return _laid(house, tuple(applied)), house.problems


def taken_off(library: Library) -> Library:
    """Return a library as it was before its house lines, those that do not count forgotten."""
    before = library.shipped
    return replace(
        library,
        lets={**library.lets, **before.lets},
        rules={**library.rules, **before.rules},
        prefers={**library.prefers, **before.prefers},
        cards={**library.cards, **before.cards},
        examples=_in_order((*library.examples, *before.examples)),
        house=(),
        shipped=Shipped(),
        alone={},
        aside=(),
    )


def _laid(house: House, applied: tuple[HouseEdit, ...]) -> Library:
    """The library with everything the lines changed, and what stood there before."""
    before = house.before
    cards, alone = cards_after(house)
    rules = {**house.rules, **house.prefers}
    return replace(
        before,
        lets=house.lets,
        rules=house.rules,
        prefers=house.prefers,
        cards=cards,
        examples=tuple(example for example in before.examples if example.rule in rules),
        house=applied,
        shipped=Shipped(
            {name: let for name, let in before.lets.items() if house.lets[name] is not let},
            {name: rule for name, rule in before.rules.items() if house.rules.get(name) is not rule},
            {name: want for name, want in before.prefers.items() if name not in house.prefers},
            {
                name: card
                for name, card in before.cards.items()
                if cards[name] is not card or any(name in own for own in alone.values())
            },
            tuple(example for example in before.examples if example.rule not in rules),
        ),
        alone=alone,
        aside=tuple(sorted(house.aside, key=lambda aside: _text(aside.edit))),
    )


def _in_order(examples: Sequence[Example]) -> tuple[Example, ...]:
    """Examples in the order of their files and lines."""
    return tuple(sorted(examples, key=lambda item: (item.span.file, item.span.line, item.span.column)))


def _text(edit: HouseEdit) -> str:
    """What a line says: an order that does not depend on where it stands."""
    return edit_text(edit)


def _place(edit: HouseEdit) -> tuple[str, int, int]:
    """Where a line stands."""
    return edit.span.file, edit.span.line, edit.span.column


def _has_days(house: House, edit: HouseEdit) -> bool:
    """Whether the days of a line are days, and in order; recorded if not."""
    days = []
    for day in (edit.on, edit.until):
        try:
            days.append(date.fromisoformat(day) if day else None)
        except ValueError:
            house.refuse("house-509", f"there is no day {day}", edit.span, "year-month-day", "2027-06-01")
            return False
    first, last = days
    if first is not None and last is not None and last < first:
        house.refuse(
            "house-509",
            "this line ends before it begins",
            edit.span,
            f"it counts from {first} until {last}",
            "give it a later last day",
        )
        return False
    return True


def _meant(house: House, edit: HouseEdit) -> list[Meant]:
    """What one line comes to; nothing if it is refused, with the reason recorded."""
    match edit.verb:
        case HouseVerb.CHANGE_CARD:
            return card_change(house, edit)
        case HouseVerb.CHANGE_LET:
            found = let_change(house, edit)
        case HouseVerb.LEVEL:
            found = level_change(house, edit)
        case HouseVerb.ACCEPT:
            found = accepted(house, edit)
        case _:
            found = switched_off(house, edit)
    return [found] if found is not None else []


def _agreed(house: House, every: Sequence[Meant]) -> list[Meant]:
    """Each thing's one change: without repetitions, and without lines that contradict each other."""
    about: dict[tuple[str, ...], list[Meant]] = {}
    for item in sorted(every, key=lambda item: _text(item.edit)):
        for thing in item.things:
            about.setdefault(thing, []).append(item)
    apart: set[HouseEdit] = set()
    twice: set[HouseEdit] = set()
    told: set[frozenset[HouseEdit]] = set()
    for group in about.values():
        edits = {item.edit for item in group}
        days = {(item.edit.on, item.edit.until) for item in group}
        if len({item.meaning for item in group}) == 1 and (len(days) == 1 or len(edits) == 1):
            twice |= edits - {group[0].edit}
            continue
        apart |= edits
        if frozenset(edits) not in told:
            told.add(frozenset(edits))
            _contradict(house, sorted(edits, key=_place))
    return [item for item in every if item.edit not in apart | twice]


def _contradict(house: House, edits: Sequence[HouseEdit]) -> None:
    """Record that several lines do not agree on one thing."""
    house.refuse(
        "house-503",
        f"'{edits[0].target}' is changed in {'two' if len(edits) == 2 else len(edits)} ways",
        edits[0].span,
        "so here; neither is applied" if len(edits) == 2 else "so here; none is applied",
        "keep one of them",
        tuple(Related(edit.span, "and otherwise here") for edit in edits[1:]),
    )
