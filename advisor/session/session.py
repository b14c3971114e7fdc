"""One tank opened for questions about one date."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.errors import Problem, Severity

if TYPE_CHECKING:
    from advisor.model.lightanswer import LightAnswer, LightFitAnswer
    from advisor.model.results import AuditAnswer, WhereAnswer, WhyAnswer
    from advisor.model.tank import Tank
    from advisor.planning.desk import Desk


@dataclass(frozen=True, slots=True, eq=False)
class Session:
    """One tank opened for questions about one date."""

    tank: Tank
    problems: tuple[Problem, ...]
    """Warnings and notes met while reading; nothing here stopped the tank from being used."""
    _desk: Desk

    @property
    def waiting(self) -> tuple[str, ...]:
        """Ids of the animals that wait for a place, in the order of the tank file."""
        return tuple(animal.id for animal in self.tank.animals if animal.phase.value == "waiting")

    @property
    def waiting_taxa(self) -> tuple[str, ...]:
        """What each animal that waits is, in the same order: its taxon, or its id where none is told."""
        taxa = {animal.id: animal.taxon or animal.id for animal in self.tank.animals}
        return tuple(taxa[each] for each in self.waiting)

    def idle_house_lines(self) -> tuple[Problem, ...]:
        """Return a warning for each line of the house files that comes to nothing in this tank.

        Of a line with an error that error tells enough.
        """
        from advisor.language.library import AsideKind
        from advisor.planning.house_report import unmatched

        faulty = {aside.edit for aside in self._desk.library.aside if aside.kind is AsideKind.FAULTY}
        return tuple(
            Problem(
                "house-513",
                item.text,
                item.edit.span,
                "this line comes to nothing in this tank",
                "correct it, or take it out",
                Severity.WARNING,
            )
            for item in unmatched(self._desk, self._desk.sit(self._desk.survey()))
            if item.edit not in faulty
        )

    def lapsed_accepts(self, animal: str) -> tuple[str, ...]:
        """Return what the keeper accepted of an animal and counts no longer, by a move of it or another."""
        from advisor.planning.house_report import lapsed_by_moves

        return lapsed_by_moves(self._desk.library, animal)

    def where(self, coral: str, *, level: int = 1) -> WhereAnswer:
        """Return where a coral should go, tonight and for good.

        Raises
        ------
        UnusableInput
            If nobody knows the coral.
        """
        from advisor.planning.where import where

        return where(self._desk, coral, level=level)

    def where_each(self, corals: Sequence[str], *, level: int = 1) -> list[WhereAnswer]:
        """Return where each of several corals should go, every one reckoning with those before it.

        Raises
        ------
        UnusableInput
            If nobody knows one of them.
        """
        from advisor.planning.where import where_each

        return where_each(self._desk, corals, level=level)

    def why(self, coral: str, spot: str | None = None, *, level: int = 1) -> WhyAnswer:
        """Return every reason for and against a coral at a spot (default: where it stands).

        Raises
        ------
        UnusableInput
            If nobody knows the coral or the spot.
        """
        from advisor.planning.why import why

        return why(self._desk, coral, spot or "", level=level)

    def light(self, place: str, lamps: Sequence[str] = ()) -> LightAnswer:
        """Return the light at a place, with lamps as they are or as `lamps` sets them.

        Raises
        ------
        UnusableInput
            If there is no such place or lamp.
        """
        from advisor.planning.light import light_here

        return light_here(self._desk, place, lamps)

    def light_fit(self) -> LightFitAnswer:
        """Return what the readings say of lamps, water and each other."""
        from advisor.planning.light import light_fit

        return light_fit(self._desk)

    def inside_rocks(self) -> tuple[Problem, ...]:
        """Return a warning for every place that as told lies inside a rock."""
        from advisor.planning.buried import inside_rocks

        return inside_rocks(self._desk)

    def audit(self, months: int | None = None, *, level: int = 1) -> AuditAnswer:
        """Return what is wrong in the tank now, and what will be within some months."""
        from advisor.planning.audit import audit

        return audit(self._desk, months, level=level)
