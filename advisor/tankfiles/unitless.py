"""Numbers that a command was given without a unit: they are asked for, never guessed.

In tank.yaml a bare number is in the unit that its key names and the schema shows. Who types one into a
command has no such page before them, and a number that went in wrong is found by nobody.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from advisor.errors import Problem, unusable
from advisor.model.tank import Event, EventKind, Fact, Tank
from advisor.model.vocabulary import Measure, NumberType, Vocabulary
from advisor.tankfiles.pasted import PastedCoral
from advisor.tankfiles.tidied import without_fractions
from advisor.units import DIMENSIONLESS, UNITS

_NUMBER = re.compile(r"\d+(?:\.\d+)?(?:[eE][+-]?\d+)?")
_BESIDE = re.compile(
    r"\b(?:to|at least|at most|more than|less than|over|above|under|below|from|up to|plus or minus|or)\b",
    re.IGNORECASE,
)
_ERROR = re.compile(r"±|\+/-|\+-|plus or minus", re.IGNORECASE)
_OPTIONS = {"size": "--size", "origin-light": "--light"}
"""The options of ``tank add coral`` that take a quantity."""


def is_bare(text: str) -> bool:
    """Return whether a text tells a number and no unit.

    Examples
    --------
    >>> [is_bare(text) for text in ("126", "126 ±10", "100-140", "126 ±10 PAR", "126 ±10 %", "medium")]
    [True, True, True, False, True, False]
    """
    value, *error = _ERROR.split(without_fractions(text), maxsplit=1)
    if not _NUMBER.search(value) or _unit_in(value):
        return False
    return not error or not _unit_in(error[0]) or _unit_in(error[0]) == "%"


def with_unit_of(word: str, text: str, measure: Measure | None) -> str:
    """Return a number with the unit that the word before it names: ``PAR 126`` is 126 PAR."""
    if measure is None or not isinstance(measure.type, NumberType) or not is_bare(text):
        return text
    unit = next((unit for name, unit in UNITS.items() if name.lower() == word.strip().lower()), None)
    fits = unit is not None and unit.dimension is measure.type.dimension
    return _with(text, word_of(unit.name)) if unit is not None and fits else text


def require_units(before: Tank, after: Tank, event: Event, vocabulary: Vocabulary) -> None:
    """Refuse quantities that a command adds without a unit.

    Parameters
    ----------
    before, after
        The tank without and with what is added.
    event
        What the command does.

    Raises
    ------
    UnusableInput
        If there are any; each says what to type instead.
    """
    if event.kind not in (EventKind.ADDED, EventKind.MEASURED, EventKind.TESTED):
        return
    faults = tuple(_fault(fact, measure, event) for fact, measure in _bare(before, after, vocabulary))
    if faults:
        raise unusable(faults)


def require_unit_of_place(at: str) -> None:
    """Refuse a position in numbers that does not say in which unit.

    Raises
    ------
    UnusableInput
        If it does not.
    """
    if is_bare(at):
        mend = f'--at "{at.strip()} cm"'
        raise unusable((Problem("edit-193", f"'{at}' has no unit", label="a position needs one", mend=mend),))


def require_units_in_line(coral: PastedCoral) -> None:
    """Refuse numbers in a coral's line of which nobody can say what they are.

    Raises
    ------
    UnusableInput
        If there are any.
    """
    lost = next((part for part in coral.note.split(", ") if is_bare(part)), "")
    if lost:
        what, label = f"'{lost}' has no unit", "it may be a size or the light it comes from"
        mend = f'"{coral.called}, {lost} cm" or "{coral.called}, {lost} PAR"'
        raise unusable((Problem("edit-193", what, label=label, mend=mend),))


def word_of(unit: str) -> str:
    """Return a unit as it is typed behind a number."""
    return f" {unit}" if unit and unit != "%" else unit


def _bare(before: Tank, after: Tank, vocabulary: Vocabulary) -> Iterator[tuple[Fact, Measure]]:
    """Every quantity that is new and has no unit, with its measure."""
    had = Counter(_sign(fact) for fact in before.facts)
    for fact in after.facts:
        had[_sign(fact)] -= 1
        measure = vocabulary.measures.get(fact.measure)
        if had[_sign(fact)] >= 0 or measure is None or not isinstance(measure.type, NumberType):
            continue
        if measure.type.dimension not in DIMENSIONLESS and is_bare(fact.said.written):
            yield fact, measure


def _sign(fact: Fact) -> tuple[object, ...]:
    """What makes a statement the same one in a file with a line more."""
    return fact.measure, fact.subjects, fact.said.written, fact.said.on, fact.said.how


def _fault(fact: Fact, measure: Measure, event: Event) -> Problem:
    """A number without a unit, and what to type instead."""
    kind, written = measure.type, fact.said.written.strip()
    unit = kind.unit.name if isinstance(kind, NumberType) else ""
    if unit == "cm" and without_fractions(written) != written:
        unit = "inch"
    meant = _with(written, word_of(unit))
    if event.kind is EventKind.ADDED:
        option = _OPTIONS.get(fact.measure)
        mend = f'{option} "{meant}"' if option else f'--set "{fact.measure}={meant}"'
    else:
        mend = f'advisor tank add reading {",".join(fact.subjects)} {fact.measure} "{meant}"'
    return Problem(
        "edit-193",
        f"'{written}' has no unit",
        label=f"{fact.measure} is told with one, such as {unit}",
        mend=mend,
    )


def _with(text: str, unit: str) -> str:
    """A number, a range or a number with its error, with a unit; an error in percent stays one."""
    value, *_ = _ERROR.split(text, maxsplit=1)
    rest = text[len(value) :]
    in_percent = _unit_in(rest) == "%"
    return f"{value.rstrip()}{unit} {rest}" if in_percent else f"{text.strip()}{unit}"


def _unit_in(text: str) -> str:
    """What is left of a text without numbers, signs and the words beside them."""
    return re.sub(r"[\s\d.,;:~<>≥≤=±+−–—-]+", "", _NUMBER.sub("", _BESIDE.sub(" ", text)))
