"""From statements to cells: errors, words, age, and what is not known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from advisor.language.nodes import WordMeaning
from advisor.model.cells import Cause, Cell, CellKind, NumberCell, SetCell, Support, WordCell
from advisor.model.tank import Said, Statement
from advisor.model.vocabulary import Measure, NumberType, SetType, Vocabulary, WordType
from advisor.reasoning.survey_facts import Statements, said_on, together
from advisor.reasoning.survey_grounds import said_support, stale_support, word_support
from advisor.reasoning.survey_meter import KNOWN_FACTORS, FactorDoubt
from advisor.units import Dimension

LOG_SYMMETRIC = frozenset({Dimension.LIGHT, Dimension.DOSE, Dimension.SPEED})
"""What is wrong by a factor rather than by an amount."""

ANYONE = "anyone"


@dataclass(frozen=True, slots=True)
class Reader:
    """Turns statements into cells: what words mean, and what day it is."""

    vocabulary: Vocabulary
    meanings: tuple[WordMeaning, ...]
    on: date
    factors: FactorDoubt = KNOWN_FACTORS
    """What is not known of light meters under water."""

    def cell(self, measure: Measure, statements: Statements) -> Cell | None:
        """Return the cell of the newest statement, or None where nothing usable was said."""
        counting = together(statements)
        if not counting:
            return None
        if self._is_stale(measure, counting[0]):
            return stale(measure, counting[0], self.on)
        match measure.type:
            case NumberType():
                found = [cell for said in counting if (cell := self._number(measure, said)) is not None]
                return join_numbers(found) if found else None
            case SetType():
                return self._set(measure.type, counting)
            case _:
                return self._word(counting)

    def _is_stale(self, measure: Measure, said: Statement) -> bool:
        """Whether a statement is older than its measure keeps."""
        day = said_on(said)
        return (
            day is not None and measure.stale_days is not None and (self.on - day).days > measure.stale_days
        )

    def _number(self, measure: Measure, said: Statement) -> NumberCell | None:
        """The cell of one statement about a quantity."""
        changed = self.factors.changed if self.factors.unsure(measure, said) else ()
        measure, said = self.factors.as_read(measure, said)
        if said.best is not None:
            low, high = reading_range(measure, said.best, said.error)
            kind = CellKind.STATED if said.by in (Said.SELLER, Said.SHOP) else CellKind.MEASURED
            best = min(max(said.best, low), high)
            return NumberCell(low, best, high, kind, None, (said_support(said, self.on, measure), *changed))
        if said.low is not None or said.high is not None:
            low = measure.low if said.low is None else max(said.low, measure.low)
            high = measure.high if said.high is None else min(said.high, measure.high)
            low, high = min(low, high), max(low, high)
            return NumberCell(low, None, high, CellKind.STATED, None, (said_support(said, self.on, measure),))
        return self._worded(measure, said)

    def _worded(self, measure: Measure, said: Statement) -> NumberCell | None:
        """The range that loose words stand for, or that nobody knows them."""
        words = said.words or (("none",) if said.none else ())
        if not words:
            return None
        meanings = [self.meaning(measure, word, said.by) for word in words]
        known = [meaning for meaning in meanings if meaning is not None]
        if not known:
            support = said_support(said, self.on)
            unknown = Support(
                support.text, None, support.on, support.age_days, "not a word I know", support.span
            )
            return NumberCell(measure.low, None, measure.high, CellKind.UNKNOWN, Cause.MISSING, (unknown,))
        low = max(min(meaning.low for meaning in known), measure.low)
        high = min(max(meaning.high for meaning in known), measure.high)
        supports = tuple(word_support(said, meaning, self.on, measure) for meaning in known)
        return NumberCell(low, None, high, CellKind.STATED, None, supports)

    def meaning(self, measure: Measure, word: str, by: Said) -> WordMeaning | None:
        """Return what a word means of a measure when this person says it."""
        spoken = [meaning for meaning in self.meanings if meaning.word.casefold() == word.casefold()]
        own = [meaning for meaning in spoken if meaning.measure == measure.name]
        akin = [meaning for meaning in spoken if self._alike(meaning.measure, measure)]
        for group in (own, akin):
            for who in (by.value, ANYONE):
                for meaning in group:
                    if meaning.said_by == who:
                        return meaning
        return None

    def _alike(self, name: str, measure: Measure) -> bool:
        """Whether a measure has the dimension of another."""
        other = self.vocabulary.measures.get(name)
        if other is None or not isinstance(other.type, NumberType):
            return False
        return isinstance(measure.type, NumberType) and other.type.dimension is measure.type.dimension

    def _word(self, counting: Statements) -> WordCell | None:
        """The cell of statements about one word; a yes or no is a word too."""
        words = frozenset(word for said in counting for word in _words_of(said))
        if not words:
            return None
        return WordCell(words, CellKind.STATED, None, self._supports(counting))

    def _set(self, kind: SetType, counting: Statements) -> SetCell | None:
        """The cell of statements about several words."""
        sets = [
            frozenset(("none",) if said.none and "none" in kind.words else said.words) for said in counting
        ]
        if not any(sets) and not any(said.none for said in counting):
            return None
        surely = frozenset.intersection(*sets)
        return SetCell(surely, frozenset.union(*sets), CellKind.STATED, None, self._supports(counting))

    def _supports(self, counting: Statements) -> tuple[Support, ...]:
        """Grounds of the statements that count."""
        return tuple(said_support(said, self.on) for said in counting)


def _words_of(said: Statement) -> tuple[str, ...]:
    """The words of a statement, a truth among them."""
    if said.words:
        return said.words
    if said.truth is not None:
        return ("yes" if said.truth else "no",)
    return ("none",) if said.none else ()


def reading_range(measure: Measure, value: float, error: float | None) -> tuple[float, float]:
    """Return the range of a reading: its stated error, or the usual one of the measure.

    Parameters
    ----------
    value
        What was read. [base unit]
    error
        Stated absolute error, None for the measure's own. [base unit]

    Returns
    -------
    Lowest and highest value, within the physical range. [base unit]

    Notes
    -----
    A fractional error e of light or flow is a factor: v/(1+e) to v(1+e).
    """
    if error is not None or not measure.error_is_fraction:
        wide = measure.error if error is None else error
        low, high = value - wide, value + wide
    elif isinstance(measure.type, NumberType) and measure.type.dimension in LOG_SYMMETRIC:
        low, high = value / (1.0 + measure.error), value * (1.0 + measure.error)
    else:
        low, high = value * (1.0 - measure.error), value * (1.0 + measure.error)
    return min(max(low, measure.low), measure.high), max(min(high, measure.high), measure.low)


def join_numbers(cells: Sequence[NumberCell]) -> NumberCell:
    """Return the hull of cells that count alike; one cell is itself."""
    if len(cells) == 1:
        return cells[0]
    bests = [cell.best for cell in cells]
    known = [best for best in bests if best is not None]
    best = sum(known) / len(known) if len(known) == len(bests) else None
    cause = next((cell.cause for cell in cells if cell.cause is not None), None)
    supports = tuple(dict.fromkeys(support for cell in cells for support in cell.supports))
    return NumberCell(min(cell.low for cell in cells), best, max(cell.high for cell in cells),
                      cells[0].kind, cause, supports)  # fmt: skip


def unknown(measure: Measure, supports: tuple[Support, ...], cause: Cause = Cause.MISSING,
            was: float | None = None) -> Cell:  # fmt: skip
    """Return the cell of something that is not known: its whole physical range, or any word."""
    match measure.type:
        case NumberType():
            best = None if was is None else min(max(was, measure.low), measure.high)
            return NumberCell(measure.low, best, measure.high, CellKind.UNKNOWN, cause, supports)
        case SetType(words):
            return SetCell(frozenset(), frozenset(words) or None, CellKind.UNKNOWN, cause, supports)
        case WordType(words):
            return WordCell(frozenset(words) or None, CellKind.UNKNOWN, cause, supports)
        case _:
            return WordCell(None, CellKind.UNKNOWN, cause, supports)


def stale(measure: Measure, said: Statement, on: date) -> Cell:
    """Return the cell of a statement that is too old to count."""
    return unknown(measure, (stale_support(said, on, measure),), Cause.STALE, said.best)
