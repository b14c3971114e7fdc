"""What the keeper's own files changed, told at the node of an explanation that it touches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from advisor.errors import Span
from advisor.language.format_house import card_line
from advisor.language.library import Aside, AsideKind, Library
from advisor.language.nodes import HouseEdit, HouseVerb, Number
from advisor.model.computed import rests_on_cards
from advisor.model.results import Step
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.logic_ops import NumberAggregate, TruthAggregate
from advisor.reasoning.ops import Constant, Op, word_of
from advisor.reasoning.record import CellOp, Row, members_of, ops_below, parts_of
from advisor.units import format_number

_Touched = tuple[str, Span | None]
"""A name of a number that is used, or the place of a value that was read."""
_CHANGES = frozenset({HouseVerb.CHANGE_LET, HouseVerb.CHANGE_CARD})


def house_notes(compiled: CompiledRule, parts: Sequence[Op], row: Row) -> tuple[str, ...]:
    """Return what house lines changed in a rule or in what it reads here; also lines that do not count."""
    library = row.frame.tables.library
    if not library.house and not library.aside:
        return ()
    touched = {found for part in parts for found in _reads(part, row)}
    rule = compiled.rule.name
    out = [
        changed_text(edit, library.on)
        for edit in library.house
        if _is_level(edit, rule) or any(_made(edit, library, name, place) for name, place in touched)
    ]
    out += [
        _not_counted(aside)
        for aside in library.aside
        if _is_level(aside.edit, rule) or any(_meant(aside, name, place) for name, place in touched)
    ]
    return tuple(dict.fromkeys(out))


def noted(step: Step, library: Library) -> Step:
    """Return a recorded step with what the house changed told at every node it touches."""
    if not library.house and not library.aside:
        return step
    name = step.text if step.op == "constant" else ""
    places = [(ground.file, ground.line) for ground in step.grounds]
    lines = [
        changed_text(edit, library.on)
        for edit in library.house
        if edit.verb in _CHANGES and (_names(edit, name) or _place(_stands(edit, library)) in places)
    ]
    lines += [
        _not_counted(aside)
        for aside in library.aside
        if aside.edit.verb in _CHANGES and (_names(aside.edit, name) or _place(aside.where) in places)
    ]
    inputs = tuple(noted(each, library) for each in step.inputs)
    if not lines and all(now is before for now, before in zip(inputs, step.inputs, strict=True)):
        return step
    return step.model_copy(update={"house": tuple(dict.fromkeys(lines)), "inputs": inputs})


def days_text(edit: HouseEdit, on: str) -> str:
    """Return since when and until when a line counts, in brackets: empty where it says neither."""
    parts = [f"since {_day(edit.on)}"] if edit.on else []
    if edit.until:
        left = (date.fromisoformat(edit.until) - date.fromisoformat(on)).days if on else None
        days = "" if left is None else ", its last day" if left == 0 else f", {left} days left"
        parts.append(f"until {_day(edit.until)}{', 1 day left' if left == 1 else days}")
    return f" ({'; '.join(parts)})" if parts else ""


def edit_words(edit: HouseEdit) -> str:
    """Return what a line does, without its reason: ``torch light max from 250 PAR to 230 PAR``."""
    match edit.verb:
        case HouseVerb.CHANGE_LET:
            return f"{edit.target} {_values(edit)}"
        case HouseVerb.CHANGE_CARD:
            alone = f" for {edit.animal}" if edit.animal else ""
            return f"{edit.target} {card_line(edit.key, edit.of)} {_values(edit)}{alone}"
        case HouseVerb.LEVEL:
            old = edit.old_level.value if edit.old_level is not None else ""
            new = edit.new_level.value if edit.new_level is not None else ""
            return f"{edit.target} from {old} to {new}"
        case _:
            return edit.target


def changed_text(edit: HouseEdit, on: str) -> str:
    """Return what a line that counts has changed or switched off, why, and for how long."""
    why = f": {edit.because}" if edit.because else ""
    did = "switched off" if edit.verb is HouseVerb.SWITCH_OFF else "changed"
    return f"your house file {did} {edit_words(edit)}{days_text(edit, on)}{why}"


def _not_counted(aside: Aside) -> str:
    """That a line does not count, and what stands in its stead."""
    line = f"your house file's change of {edit_words(aside.edit)}"
    match aside.kind:
        case AsideKind.DRIFTED | AsideKind.FAULTY:
            return f"{line} does not count: {aside.told}"
        case AsideKind.RAN_OUT:
            return f"{line} ran out on {_day(aside.edit.until)}"
        case _:
            return f"{line} counts from {_day(aside.edit.on)} on, not yet"


def _day(iso: str) -> str:
    """A day as a person says it."""
    day = date.fromisoformat(iso)
    return f"{day.day} {day:%b} {day.year}"


def _values(edit: HouseEdit) -> str:
    """What was changed into what."""
    if edit.old is None or edit.new is None:
        return f"from {', '.join(edit.old_words)} to {', '.join(edit.new_words)}"
    old, new = _number(edit.old), _number(edit.new)
    if edit.old_high is None or edit.new_high is None:
        return f"from {old} to {new}"
    return f"from {old}-{_number(edit.old_high)} to {new}-{_number(edit.new_high)}"


def _number(number: Number) -> str:
    """A number as it is printed."""
    return f"{format_number(number.value, 6)} {number.unit}".rstrip()


def _is_level(edit: HouseEdit, rule: str) -> bool:
    """Whether a line changes the level of a rule."""
    return edit.verb is HouseVerb.LEVEL and edit.target == rule


def _names(edit: HouseEdit, name: str) -> bool:
    """Whether a line changes a named number."""
    return edit.verb is HouseVerb.CHANGE_LET and edit.target == name


def _made(edit: HouseEdit, library: Library, name: str, place: Span | None) -> bool:
    """Whether a line set a number or value that is read."""
    return _names(edit, name) or (edit.verb in _CHANGES and _stands(edit, library) == place)


def _stands(edit: HouseEdit, library: Library) -> Span:
    """Where what a line set stands: a value of a card where the line does, a named number where it did."""
    let = library.lets.get(edit.target) if edit.verb is HouseVerb.CHANGE_LET else None
    return edit.span if let is None else let.span


def _meant(aside: Aside, name: str, place: Span | None) -> bool:
    """Whether a line that does not count would have set a number or value that is read."""
    return _names(aside.edit, name) or (aside.edit.verb is HouseVerb.CHANGE_CARD and aside.where == place)


def _place(span: Span) -> tuple[str, int]:
    """File and line."""
    return span.file, span.line


def _reads(op: Op, row: Row) -> Iterator[_Touched]:
    """Every named number below an operation, and the place of every value of a card that it rests on."""
    for each in ops_below(op):
        if isinstance(each, Constant) and each.name:
            yield each.name, None
        elif isinstance(each, CellOp) and rests_on_cards(word_of(each)):
            for support in row.cell(each).supports:
                yield "", support.span
        elif isinstance(each, TruthAggregate | NumberAggregate):
            for member in members_of(each, row):
                for part in parts_of(each):
                    yield from _reads(part, member)
