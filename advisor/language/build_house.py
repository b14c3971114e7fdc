"""House edits out of the parser's tree: what is changed, accepted or switched off, why, and until when."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from advisor.errors import Problem
from advisor.language.build import Refused, Site, amount, branches, joined, name_of, named, tokens, unquoted
from advisor.language.build import words as names_in
from advisor.language.build_words import once
from advisor.language.dimensions import shown
from advisor.language.format_house import FILL_IN, STEPS, UNKNOWN, YOUR_REASON, is_reason
from advisor.language.nodes import HouseEdit, HouseVerb, Level, Number

if TYPE_CHECKING:
    from advisor.language.build import Branch

_TAILS = ("because", "until_date", "on_date", "edit_short", "edit_for")


def house(site: Site, tree: Branch) -> list[HouseEdit]:
    """Return the edits of one house block."""
    edits = []
    for part in branches(tree):
        try:
            edits.append(_edit(site, part))
        except Refused as refused:  # the other lines of the block are sound
            site.problems.append(refused.problem)
    return edits


def _edit(site: Site, tree: Branch) -> HouseEdit:
    """One line of a house block."""
    tails = once(site, named(tree, *_TAILS), "this line")
    edit = _plain_edit(site, tree)
    if "because" in tails:
        edit = replace(edit, because=_reason(site, tails["because"]))
    if "until_date" in tails:
        edit = replace(edit, until=str(tokens(tails["until_date"], "DATE")[0]))
    if "on_date" in tails:
        edit = replace(edit, on=str(tokens(tails["on_date"], "DATE")[0]))
    if "edit_short" in tails:
        edit = replace(edit, short=_short(site, tails["edit_short"]))
    if edit.short is not None and edit.verb is not HouseVerb.ACCEPT:
        _idle(site, tails["edit_short"], "short by")
    return _about(site, edit, tails["edit_for"]) if "edit_for" in tails else edit


def _plain_edit(site: Site, tree: Branch) -> HouseEdit:
    """A line without what follows it."""
    span = site.span(tree)
    match tree.data:
        case "change":
            return _change(site, tree)
        case "level_edit":
            old, new = (Level(str(part.children[0])) for part in named(tree, "level"))
            return HouseEdit(span, HouseVerb.LEVEL, name_of(tree), old_level=old, new_level=new)
        case "accept":
            return HouseEdit(span, HouseVerb.ACCEPT, name_of(tree))
        case _:
            return HouseEdit(span, HouseVerb.SWITCH_OFF, name_of(tree))


def _change(site: Site, tree: Branch) -> HouseEdit:
    """A change of a named number or of a card's value."""
    names = names_in(tree)
    edit = HouseEdit(site.span(tree), HouseVerb.CHANGE_LET, names[0])
    if len(names) > 1:
        head, rest, of = names[1], names[2:], ""
        if head == "weapon" and len(rest) > 1:
            of, rest = rest[0], rest[1:]
        edit = replace(edit, verb=HouseVerb.CHANGE_CARD, key="-".join((head, *rest)), of=of)
    values = named(tree, "amount", "edit_words")
    if all(part.data == "edit_words" for part in values) and len(values) == 2:
        old, new = (_words(part) for part in values)
        return replace(edit, old_words=old, new_words=new)
    if not all(part.data == "amount" for part in values) or len(values) not in (2, 4):
        raise Refused(
            Problem(
                "house-508",
                "this line does not say what is changed into what",
                site.span(values[0], values[-1]),
                "two numbers, two ranges, or words on both sides",
                "from 5 cm to 8 cm, or from 80 to 150 PAR to 90 to 160 PAR",
            )
        )
    return _with_numbers(edit, [amount(site, part) for part in values])


def _words(tree: Branch) -> tuple[str, ...]:
    """The words on one side of a change."""
    return tuple(_said(part) for part in branches(tree))


def _said(tree: Branch) -> str:
    """A word as it is, or what stands in quotes."""
    quotes = tokens(tree, "STRING")
    return unquoted(str(quotes[0])) if quotes else str(tree.children[0])


def _with_numbers(edit: HouseEdit, numbers: list[Number]) -> HouseEdit:
    """The edit with its numbers; one without a unit takes that of the last."""
    unit = numbers[-1].unit
    filled = [number if number.unit else replace(number, unit=unit) for number in numbers]
    if len(filled) == 2:
        return replace(edit, old=filled[0], new=filled[1])
    old, old_high, new, new_high = filled
    return replace(edit, old=old, old_high=old_high, new=new, new_high=new_high)


def _reason(site: Site, tree: Branch) -> str:
    """The keeper's reason; one that says nothing is told, and kept as it is written."""
    reason = joined(named(tree, "texts")[0])
    if not is_reason(reason):
        untouched = " ".join(reason.split()).lower() in (YOUR_REASON, FILL_IN, "...")
        site.say(
            "house-515",
            f'"{reason}" is no reason' if not untouched else f'"{reason}" waits for your own words',
            named(tree, "texts")[0],
            "say in a few words why you do this, for whoever reads it in a year",
            "write your own words between the quotes",
        )
    return reason or FILL_IN


def _short(site: Site, tree: Branch) -> Number:
    """The shortfall that is accepted."""
    if not branches(tree):
        return Number(site.span(tree), 0.0, UNKNOWN)
    number = amount(site, branches(tree)[0])
    if not any(str(leaf) == STEPS for leaf in tree.children if isinstance(leaf, str)):
        return number
    if number.unit:
        site.say(
            "house-514",
            f"a shortfall is in {number.unit} or in steps, not in both",
            tree,
            "two units are given",
            f"short by {shown(number.value, number.unit)}",
        )
        return number
    return replace(number, unit=STEPS)


def _about(site: Site, edit: HouseEdit, tree: Branch) -> HouseEdit:
    """The edit with those it is about, and where they stood."""
    things = branches(tree)
    ids = tuple(str(branches(part)[0].children[0]) for part in things)
    stood = tuple(_stood(part) for part in things)
    if edit.verb is HouseVerb.ACCEPT:
        return replace(edit, entities=ids, stood=stood if any(stood) else ())
    if edit.verb is not HouseVerb.CHANGE_CARD:
        _idle(site, tree, "for")
        return edit
    for part, place in zip(things, stood, strict=True):
        if place:
            _placed(site, named(part, "edit_place")[0], place)
    if len(ids) > 1:
        site.say(
            "house-507",
            "a card is changed for one animal at a time",
            edit.span,
            "several are named",
            "write one line for each",
        )
    return replace(edit, animal=ids[0])


def _placed(site: Site, tree: Branch, place: str) -> None:
    """Say that a change for one animal is bound to no place."""
    site.say(
        "house-507",
        "a change for one animal counts wherever it stands",
        tree,
        "only an accept says where an animal stood",
        f"leave 'at {place}' out",
    )


def _stood(tree: Branch) -> str:
    """Where one of them stood, empty where it is not said."""
    places = named(tree, "edit_place")
    return _said(places[0]) if places else ""


def _idle(site: Site, tree: Branch, word: str) -> None:
    """Say that a part of a line means nothing there."""
    site.say(
        "house-507",
        f"'{word}' says nothing here",
        tree,
        "only a card is changed for one animal, and only an accept has a shortfall",
        "leave it out",
    )


__all__ = ["house"]
