"""What the evaluator asks of the tables it reads: the survey, or the givens of an example."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from advisor.language.library import Library
from advisor.model.cells import Cell
from advisor.model.vocabulary import Kind
from advisor.reasoning.columns import Bools, Floats, Ints, Numbers, Sets, Truths, Words
from advisor.reasoning.listing import Listing


class Tables(Protocol):
    """Cells by row, a column at a time.

    Animals of every world share one row numbering: rows with world -1 stand in
    every world that has not removed them, any other row only in its own.
    """

    @property
    def library(self) -> Library:
        """The checked rules and vocabulary."""

    @property
    def animal_world(self) -> Ints:
        """World of each animal row, -1 where shared. Shape (animals,)."""

    @property
    def animal_place(self) -> Ints:
        """Place row of each animal row. Shape (animals,)."""

    @property
    def removed(self) -> Bools:
        """Whether a shared animal row is gone in a world. Shape (worlds, shared rows)."""

    @property
    def place_count(self) -> int:
        """Number of place rows."""

    def tank_rows(self, worlds: Ints) -> Ints:
        """Return the row of the tank table for each world."""

    def listing(self, kind: Kind, apart: bool = False) -> Listing:
        """Return who there is of a kind that is neither an animal nor the tank.

        Parameters
        ----------
        apart
            Of weapons: one row for each card the animal may have, instead of one row for each weapon.
        """

    def numbers(self, measure: str, rows: tuple[Ints, ...], months: Floats | None, assume: bool) -> Numbers:
        """Return a quantity for each row, one index array per parameter. [base unit]"""

    def words(self, measure: str, rows: tuple[Ints, ...]) -> Words:
        """Return the words still possible for each row."""

    def sets(self, measure: str, rows: tuple[Ints, ...]) -> Sets:
        """Return a set-valued measure for each row."""

    def truths(self, relation: str, rows: tuple[Ints, ...], months: Floats | None) -> Truths:
        """Return whether a relation holds for each row."""

    def cell(self, name: str, rows: tuple[int, ...], month: float = 0.0, assume: bool = True) -> Cell:
        """Return one value with its grounds; the same numbers as the column call."""

    def label(self, kind: Kind, row: int) -> str:
        """Return the id to print for one row."""

    def say(self, name: str, rows: tuple[int, ...]) -> str:
        """Return the phrase for a measure or relation of these rows."""

    def ask(self, name: str, rows: tuple[int, ...]) -> str:
        """Return the question to put when this is not known."""

    def asked_of(self, name: str, rows: tuple[int, ...]) -> tuple[str, ...]:
        """Return the ids a question is put about, as a keeper would type them."""

    def set_domain(self, measure: str, words: Sequence[str]) -> None:
        """Make sure these words have a place in the columns of an open-name measure."""
