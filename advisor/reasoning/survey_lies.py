"""How a place lies where the keeper says nothing of it: read off the shapes and scans of the rocks."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from advisor.model.cells import Cell, CellKind, NumberCell, Support, WordCell
from advisor.model.computed import PLACE_LETS
from advisor.model.tank import Tank
from advisor.model.vocabulary import Measure
from advisor.reasoning.place_lies import lies_of
from advisor.reasoning.place_numbers import PlaceNumbers, place_numbers
from advisor.reasoning.survey_computed import Context, Supply, known
from advisor.reasoning.survey_grounds import HOUSE_FILE, plain
from advisor.reasoning.survey_touched import touched_spans
from advisor.reasoning.survey_values import reading_range
from advisor.units import format_number

if TYPE_CHECKING:
    from advisor.fields.places import Lie

SAND_GRAIN = "sand-grain"
"""The measure of the tank whose words tell of which sand the floor is, or that there is none."""
_WHOLE_TURN = 360.0
_SIDES = ("right", "back", "left", "front")


def _word(of: Callable[[Context, Lie, PlaceNumbers], frozenset[str]], *, whole: bool = False) -> Supply:
    """A supply of words, of all that a place may be; `whole` needs every rock of the tank described."""

    def supply(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
        found = _lies(context, row, whole)
        if found is None or known(so_far):
            return None
        lies, numbers = found
        words = frozenset(word for lie in lies for word in of(context, lie, numbers))
        return WordCell(words, CellKind.COMPUTED, None, _supports(context, lies[0]))

    return supply


def _number(of: Callable[[Lie], float], *, whole: bool = False) -> Supply:
    """A supply of a number with the error a reading of it would have; see `_word`."""

    def supply(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
        found = _lies(context, row, whole)
        if found is None or known(so_far):
            return None
        lies, _ = found
        ends = [reading_range(measure, min(max(of(lie), measure.low), measure.high), None) for lie in lies]
        best = min(max(of(lies[0]), measure.low), measure.high)
        low, high = min(low for low, _ in ends), max(high for _, high in ends)
        return NumberCell(low, best, high, CellKind.COMPUTED, None, _supports(context, lies[0]))

    return supply


def _lies(context: Context, row: int, whole: bool) -> tuple[tuple[Lie, ...], PlaceNumbers] | None:
    """How a place lies, None where nothing can be told."""
    tank = context.tank
    if tank.glass is None or all(rock.body is None for rock in tank.rocks):
        return None
    if whole and any(rock.body is None for rock in tank.rocks):
        return None
    numbers = place_numbers(context.library)
    lies = lies_of(tank, numbers).get(context.layout.places[row].key) if numbers is not None else None
    return (lies, numbers) if lies and numbers is not None else None


def rock_under(context: Context, row: int) -> str:
    """Return the rock a place lies on by its position, empty where that is not sure."""
    found = _lies(context, row, whole=False)
    rocks = {lie.rock for lie in found[0]} if found is not None else set()
    return next(iter(rocks)) if len(rocks) == 1 else ""


def _supports(context: Context, lie: Lie) -> tuple[Support, ...]:
    """Where it is read off, and how the ground there lies."""
    spans = touched_spans(context.library)
    lets = (context.library.lets[name] for name in sorted(PLACE_LETS))
    changed = (
        Support(HOUSE_FILE, source=f"changed {let.name}", span=let.span) for let in lets if let.span in spans
    )
    return (plain(_whose(context.tank, lie), described(lie)), *changed)


def _whose(tank: Tank, lie: Lie) -> str:
    """Which body a place is read off."""
    body = next((rock.body for rock in tank.rocks if rock.id == lie.rock), None)
    if body is None:
        return "shapes of the rocks"
    return f"scan of {lie.rock}" if body.surface is not None else f"shape of {lie.rock}"


def described(lie: Lie) -> str:
    """Return how a place lies, in a few words."""
    slope = f"slopes by {round(lie.slope_deg)} degrees"
    if lie.facing_deg is not None:
        slope += f" to the {_SIDES[round(lie.facing_deg / _WHOLE_TURN * 4.0) % 4]}"
    over = "nothing above it" if lie.rock_over_cm is None else f"rock {_cm(lie.rock_over_cm)} above it"
    return f"{slope}, {over}, {_cm(lie.water_over_cm)} of water, {_cm(lie.glass_cm)} to the glass"


def _cm(value: float) -> str:
    return f"{format_number(round(value))} cm"


def _ground(context: Context, lie: Lie, numbers: PlaceNumbers) -> frozenset[str]:
    """What a place is of."""
    if lie.rock:
        return frozenset({"rock"})
    cell = context.of_tank(SAND_GRAIN, 0) if SAND_GRAIN in context.library.vocabulary.measures else None
    words = cell.possible if isinstance(cell, WordCell) and known(cell) else None
    if words is None or (words > {"none"}):
        return frozenset({"sand", "glass"})
    return frozenset({"glass"}) if words == {"none"} else frozenset({"sand"})


def _faces(context: Context, lie: Lie, numbers: PlaceNumbers) -> frozenset[str]:
    """Which way a place looks."""
    if lie.slope_deg < numbers.tilted_deg:
        return frozenset({"up"})
    return frozenset({"tilted" if lie.slope_deg < numbers.side_deg else "side"})


def _shelter(context: Context, lie: Lie, numbers: PlaceNumbers) -> frozenset[str]:
    """How far rock closes over and around a place."""
    if lie.rock_over_cm is not None and lie.rock_over_cm <= numbers.over_cm:
        return frozenset({"cave" if lie.shut_in >= numbers.cave else "overhang"})
    return frozenset({"crevice" if lie.shut_in >= numbers.crevice else "open"})


def _ledge(context: Context, lie: Lie, numbers: PlaceNumbers) -> frozenset[str]:
    """Whether something can fall from a place."""
    return frozenset({"yes" if lie.drop_cm > numbers.drop_cm else "no"})


def _free_height(lie: Lie) -> float:
    """Height up to rock or to the surface. [cm]"""
    return lie.water_over_cm if lie.rock_over_cm is None else min(lie.rock_over_cm, lie.water_over_cm)


OF_LIES: dict[str, Supply] = {
    "place-ground": _word(_ground),
    "place-faces": _word(_faces),
    "place-ledge": _word(_ledge),
    "place-shelter": _word(_shelter, whole=True),
    "place-headroom": _number(_free_height, whole=True),
    "place-slope": _number(lambda lie: lie.slope_deg),
}
"""By what stands after ``computed by`` in a rule file."""
