"""Where the living tissue of every animal row is: position, radius, growth."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from advisor.fields.growth import radius_cm
from advisor.model.tank import Box
from advisor.model.vocabulary import Measure
from advisor.reasoning.columns import MISSING, Bools, Floats, Ints, Numbers
from advisor.reasoning.survey_rows import AnimalRow, Layout, PlaceRow
from advisor.reasoning.survey_singles import Singles

NO_SPOT = -1


@dataclass(frozen=True, slots=True)
class Positions:
    """Where each animal row stands; one entry a row. [cm]"""

    low: Floats
    high: Floats
    """Opposite corners of the box its middle is in, shape (n, 3); NaN where not known."""
    exact: Bools
    """Whether a position was told, not only a place word."""
    own: Bools
    """Whether the position is the animal's own rather than its spot's."""
    spot: Ints
    """Number of the spot it stands on, the same in every world; `NO_SPOT` where none."""
    extent: Floats
    """Distance across that spot, NaN where not told."""
    room: Floats
    """How far from the middle of its spot it may stand."""
    here: Bools
    """Whether it stands where the statements found it."""
    moved_day: Ints
    """Day number of its last move by a command, 0 where none."""
    entity: Ints


def positions_of(layout: Layout) -> Positions:
    """Return where every animal row stands."""
    rows, places = layout.animals, layout.places
    spots = layout.spot_place
    at = [spots[places[row.place].key] if places[row.place].spot is not None else NO_SPOT for row in rows]
    boxes = [_box(row, places[row.place]) for row in rows]
    corners = np.array([_corners(box, room) for box, room, _ in boxes], np.float64).reshape(len(rows), 2, 3)
    return Positions(
        corners[:, 0],
        corners[:, 1],
        np.array([box is not None and not box.by_word for box, _, _ in boxes], np.bool_),
        np.array([own for _, _, own in boxes], np.bool_),
        np.array(at, np.int64),
        np.array([_extent(places[row.place]) for row in rows], np.float64),
        np.array([_room(places[row.place]) for row in rows], np.float64),
        np.array([row.here for row in rows], np.bool_),
        np.array([day_number(row.animal.moved_on) for row in rows], np.int64),
        layout.entity_of_animals(),
    )


def day_number(day: date | None) -> int:
    """Return a day as a number, 0 for none."""
    return 0 if day is None else day.toordinal()


def _box(row: AnimalRow, place: PlaceRow) -> tuple[Box | None, float, bool]:
    """The box an animal is in, how far it may stand beside it, and whether the box is its own."""
    if row.here and row.animal.box is not None:
        return row.animal.box, 0.0, True
    return (place.spot.box, _room(place), False) if place.spot is not None else (None, 0.0, False)


def _extent(place: PlaceRow) -> float:
    """Distance across a spot. [cm]"""
    return place.spot.extent_cm if place.spot is not None and place.spot.extent_cm is not None else np.nan


def _room(place: PlaceRow) -> float:
    """How far from the middle of a spot an animal may stand; one alone stands in the middle. [cm]"""
    spot = place.spot
    return spot.extent_cm / 2.0 if spot is not None and spot.extent_cm is not None and spot.holds > 1 else 0.0


def _corners(box: Box | None, room: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Opposite corners of a box, widened by the room on a spot."""
    if box is None:
        return (np.nan,) * 3, (np.nan,) * 3
    axes = (box.x, box.y, box.z)
    return tuple(min(axis) - room for axis in axes), tuple(max(axis) + room for axis in axes)


class Sizes:
    """Radius, height and growth of every entity, each worked out once."""

    def __init__(self, singles: Singles, measures: dict[str, Measure], count: int) -> None:
        self._singles = singles
        self._measures = measures
        self._rows = np.arange(count, dtype=np.int64)
        self._radius: dict[bool, Numbers] = {}
        self._named: dict[str, Numbers] = {}

    def radius(self, assume: bool) -> Numbers:
        """Return the distance from the middle to the edge of living tissue. [cm]"""
        found = self._radius.get(assume)
        if found is None:
            found = self._radius[assume] = self._opened(self._width(assume))
        return found

    def _width(self, assume: bool) -> Numbers:
        """Width at rest; one that is not told is at most the grown width of the card."""
        width = self._number("size", assume)
        grown = self.named("mature-width")
        capped = (width.flags & MISSING).astype(np.bool_) & (grown.flags == 0)
        high = np.where(capped, np.minimum(width.high, np.maximum(grown.high, width.low)), width.high)
        return Numbers(width.low, width.best, high, width.flags)

    def _opened(self, width: Numbers) -> Numbers:
        """Radius of animals that a tape is held to where they have opened."""
        opens, swells = self._open(), self.named("swells")
        sure = opens & ~self._edge_may_be("skeleton")
        low = np.where(sure, swells.low, 1.0)
        best = np.where(opens, np.where(sure, swells.best, np.nan), 1.0)
        high = np.where(opens, swells.high, 1.0)
        flags = width.flags | np.where(opens, swells.flags, 0).astype(np.uint8)
        return Numbers(
            radius_cm(width.low, low), radius_cm(width.best, best), radius_cm(width.high, high), flags
        )

    def measured_by(self, entity: int, assume: bool) -> tuple[str, ...]:
        """Return the measures from cards that the radius of one entity is worked out with."""
        width, grown = self._number("size", assume), self.named("mature-width")
        capped = bool(width.flags[entity] & MISSING) and not grown.flags[entity]
        return ("edge", *["swells"] * bool(self._open()[entity]), *["mature-width"] * capped)

    def _open(self) -> Bools:
        """Which entities are, or may be, measured at their open edge."""
        return self._edge_may_be("open")

    def _edge_may_be(self, word: str) -> Bools:
        """Which entities a tape may be held to at such an edge, as their cards have it."""
        edge = self._measures.get("edge")
        if edge is None:
            return np.zeros(len(self._rows), np.bool_)
        words = self._singles.words(edge, self._rows)
        found: Bools = (words.flags == 0) & words.possible[:, words.domain.index(word)]
        return found

    def named(self, name: str) -> Numbers:
        """Return a measure of every entity, without assumptions."""
        found = self._named.get(name)
        if found is None:
            found = self._named[name] = self._number(name, False)
        return found

    def _number(self, name: str, assume: bool) -> Numbers:
        """A measure of every entity, unbounded where the rules do not know it."""
        measure = self._measures.get(name)
        if measure is None:
            size = len(self._rows)
            return Numbers(
                np.zeros(size), np.full(size, np.nan), np.full(size, np.inf), np.full(size, MISSING, np.uint8)
            )
        return self._singles.numbers(measure, self._rows, assume)
