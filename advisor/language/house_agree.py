"""House lines that say the same, and those that contradict each other on some day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.errors import Related
from advisor.language.format_house import card_line, edit_text
from advisor.language.house_rules import WORST
from advisor.language.house_state import CONTRADICTED, House, Meant
from advisor.language.library import Aside, AsideKind
from advisor.language.nodes import HouseEdit, HouseVerb

_FIRST_DAY, _LAST_DAY = "0000-00-00", "9999-99-99"
"""Beyond every day of a line that names none."""


def agreed(house: House, every: Sequence[Meant]) -> list[Meant]:
    """Return each thing's changes: no line that repeats another, none that contradicts another.

    Two lines contradict each other where they say different things of one
    thing, or count for different days, and there is a day on which both count.
    """
    about: dict[tuple[str, ...], list[Meant]] = {}
    for item in sorted(every, key=lambda item: text_of(item.edit)):
        for thing in item.things:
            about.setdefault(thing, []).append(item)
    out: set[HouseEdit] = set()
    told: set[frozenset[HouseEdit]] = set()
    for group in about.values():
        apart = _at_odds(group)
        for edits in apart:
            if frozenset(edits) not in told:
                told.add(frozenset(edits))
                _contradict(house, sorted(edits, key=_place))
        out.update(edit for edits in apart for edit in edits)
        out |= _repeated(group)
    return [item for item in every if item.edit not in out]


def text_of(edit: HouseEdit) -> str:
    """Return what a line says: an order that does not depend on where it stands."""
    return edit_text(edit)


def lets_pass(edit: HouseEdit) -> bool:
    """Return whether a line can only let something pass, so that answers are stricter without it."""
    match edit.verb:
        case HouseVerb.ACCEPT | HouseVerb.SWITCH_OFF:
            return True
        case HouseVerb.LEVEL if edit.old_level is not None and edit.new_level is not None:
            return WORST.index(edit.new_level) < WORST.index(edit.old_level)
        case _:
            return False


def _place(edit: HouseEdit) -> tuple[str, int, int]:
    """Where a line stands."""
    return edit.span.file, edit.span.line, edit.span.column


def _same(one: Meant, other: Meant) -> bool:
    """Whether two lines say the same for the same days."""
    return (one.meaning, one.edit.on, one.edit.until) == (other.meaning, other.edit.on, other.edit.until)


def _meet(one: HouseEdit, other: HouseEdit) -> bool:
    """Whether there is a day on which two lines count."""
    first = max(edit.on or _FIRST_DAY for edit in (one, other))
    return first <= min(edit.until or _LAST_DAY for edit in (one, other))


def _at_odds(group: Sequence[Meant]) -> list[set[HouseEdit]]:
    """Those lines about one thing that contradict each other, together with all that contradict them."""
    apart: list[set[HouseEdit]] = []
    for at, one in enumerate(group):
        for other in group[:at]:
            if one.edit != other.edit and not _same(one, other) and _meet(one.edit, other.edit):
                pair = {one.edit, other.edit}
                joined = pair.union(*(edits for edits in apart if edits & pair))
                apart = [edits for edits in apart if not edits & pair] + [joined]
    return apart


def _repeated(group: Sequence[Meant]) -> set[HouseEdit]:
    """Those lines about one thing that say only what one before them says."""
    return {
        one.edit
        for at, one in enumerate(group)
        if any(one.edit != other.edit and _same(one, other) for other in group[:at])
    }


def _contradict(house: House, edits: Sequence[HouseEdit]) -> None:
    """Record that several lines do not agree on one thing."""
    house.contested += edits
    if all(lets_pass(edit) for edit in edits):
        told = "another line of yours says otherwise"
        house.aside += [Aside(edit, AsideKind.FAULTY, edit.span, told) for edit in edits]
    done = "accepted" if edits[0].verb is HouseVerb.ACCEPT else "changed"
    house.refuse(
        CONTRADICTED,
        f"'{_named(edits)}' is {done} in {'two' if len(edits) == 2 else len(edits)} ways",
        edits[0].span,
        "so here; neither is applied" if len(edits) == 2 else "so here; none is applied",
        "keep one of them, or give them days that do not meet",
        tuple(Related(edit.span, "and otherwise here") for edit in edits[1:]),
    )


def _named(edits: Iterable[HouseEdit]) -> str:
    """What several lines are about: the rule, the number, or the line of a card."""
    first = min(edits, key=text_of)
    match first.verb:
        case HouseVerb.CHANGE_CARD:
            alone = f" for {first.animal}" if first.animal else ""
            return f"{first.target} {card_line(first.key, first.of)}{alone}"
        case HouseVerb.ACCEPT if first.entities:
            return f"{first.target} for {', '.join(first.entities)}"
        case _:
            return first.target
