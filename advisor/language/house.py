"""House lines laid over what is shipped: order makes no difference, and nothing is changed by guess."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from advisor.errors import Problem
from advisor.language.house_accepts import accepted
from advisor.language.house_agree import agreed, lets_pass, text_of
from advisor.language.house_cards import card_change, cards_after
from advisor.language.house_idle import idle_changes
from advisor.language.house_lets import let_change
from advisor.language.house_rules import level_change, switched_off
from advisor.language.house_state import House, Meant
from advisor.language.library import Aside, AsideKind, Library, Shipped
from advisor.language.nodes import Example, HouseEdit, HouseVerb, Level


def lay_over(library: Library, edits: Sequence[HouseEdit]) -> tuple[Library, list[Problem]]:
    """Return the library with the house's lines applied, and what is wrong with them.

    A line is checked against what is shipped, never against another line, so
    their order makes no difference; two that disagree are both left out.
    """
    # of several lines about one level, whatever their order, the one that makes it a danger counts here
    dangers = {edit.target: Level.DANGER for edit in edits if edit.new_level is Level.DANGER}
    house = House.of(library, dangers)
    ordered = sorted(edits, key=text_of)
    found = {edit: _meant(house, edit) if _has_days(house, edit) else [] for edit in ordered}
    _left_out(house, [edit for edit in ordered if not found[edit]])
    meant = agreed(house, [meant for edit in ordered for meant in found[edit]])
    for item in meant:
        item.apply(house)
    applied = sorted({item.edit for item in meant}, key=text_of)
    laid = _laid(house, tuple(applied))
    house.problems.extend(idle_changes(house, applied, laid.cards, laid.alone))
    return laid, house.problems


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
        contested=(),
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
        aside=tuple(sorted(house.aside, key=lambda aside: text_of(aside.edit))),
        contested=tuple(sorted(set(house.contested), key=text_of)),
    )


def _in_order(examples: Sequence[Example]) -> tuple[Example, ...]:
    """Examples in the order of their files and lines."""
    return tuple(sorted(examples, key=lambda item: (item.span.file, item.span.line, item.span.column)))


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


def _left_out(house: House, refused: Sequence[HouseEdit]) -> None:
    """Put those refused lines aside without which answers are only stricter, with what is wrong with them."""
    told = {aside.edit for aside in house.aside}
    for edit in refused:
        if lets_pass(edit) and edit not in told:
            aside = Aside(edit, AsideKind.FAULTY, edit.span)
            wrong = {problem.what for problem in house.problems if aside.holds(problem.span)}
            house.aside.append(replace(aside, told="; ".join(sorted(wrong))))


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
