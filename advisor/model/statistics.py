"""What shipped knowledge rests on: published as the answer of ``advisor rules stats``."""

from __future__ import annotations

from advisor.model.results import ANSWER_EDITION
from advisor.model.tank import Model


class GradeCount(Model):
    """How much rests on one grade of source."""

    grade: str
    values: int
    """Values of cards: numbers and words, each end of a range for itself; notes are not counted."""
    numbers: int
    """Those of them that are numbers."""
    cards: int
    """Cards with at least one such value."""
    rules: int
    preferences: int
    named_numbers: int
    loose_words: int
    assumptions: int
    """What is reckoned with while a keeper has told nothing."""


class LineTrust(Model):
    """One kind of line of cards: how many rest on memory alone, and how much turns on it."""

    line: str
    values: int
    memory: int
    """Values with nothing but memory behind them: graded a guess."""
    dangers: int
    """Dangers that examples decide, one way or the other, and that rest on such a line."""
    weight: float
    """Mean weight of the grades times `dangers`; the larger, the less it should be trusted."""


class ValueTrust(Model):
    """One value, and how much turns on it."""

    name: str
    text: str
    grade: str
    source: str
    file: str
    line: int
    dangers: int
    """Dangers of the tanks that were looked at, decided one way or the other, that rest on it."""
    weight: float
    """Weight of its grade times `dangers`."""


class StatsAnswer(Model):
    """Counts of what is known, by how well it is known."""

    edition: int = ANSWER_EDITION
    question: str = "rules stats"
    cards: int
    values: int
    rules: int
    grades: tuple[GradeCount, ...]
    weights: dict[str, float]
    """How much less each grade is trusted."""
    lines: tuple[LineTrust, ...]
    """Every kind of line of cards, the least to be trusted first."""
    trust_least: tuple[ValueTrust, ...]
    """Values and named numbers that dangers rest on, the least to be trusted first."""
    tanks: tuple[str, ...]
    tank_dangers: int
    """Dangers decided in these tanks."""
    never_decided: tuple[str, ...]
    """Rules that no example shows to hold or to fail."""
    by_eye: tuple[str, ...]
    """Rules that are only looked at: no example can decide them."""
