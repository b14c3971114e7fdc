"""How a place lies where the keeper says nothing of it: read off the shapes and scans of the rocks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from advisor.model.cells import Cell, CellKind, NumberCell, Support, WordCell
from advisor.model.computed import PLACE_LETS
from advisor.model.tank import Tank
from advisor.model.vocabulary import Measure
from advisor.reasoning.place_islands import Islands, islands_of
from advisor.reasoning.place_lies import lies_of
from advisor.reasoning.place_numbers import PlaceNumbers, place_numbers
from advisor.reasoning.survey_computed import Context, Supply, known, rock_of
from advisor.reasoning.survey_grounds import plain
from advisor.reasoning.survey_touched import changed_lets
from advisor.reasoning.survey_values import reading_range
from advisor.units import format_number

if TYPE_CHECKING:
    from advisor.fields.places import Lie

SAND_GRAIN = "sand-grain"
"""The measure of the tank whose words tell of which sand the floor is, or that there is none."""
_UPRIGHT_DEG = 90.0


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
    if numbers is None:
        return None
    lies = lies_of(tank, numbers, context.facts).get(context.layout.places[row].key)
    return (lies, numbers) if lies else None


def rock_under(context: Context, row: int) -> str:
    """Return the rock a place is on, as told or else by its position; empty where that is not sure."""
    told = rock_of(context, row)
    if told:
        return told
    found = _lies(context, row, whole=False)
    rocks = {lie.rock for lie in found[0]} if found is not None else set()
    return next(iter(rocks)) if len(rocks) == 1 else ""


def touches_seen(context: Context) -> Mapping[frozenset[str], bool | None]:
    """Return whether every two rocks touch, as far as their shapes tell."""
    numbers = place_numbers(context.library)
    islands = islands_of(context.tank.rocks, numbers) if numbers is not None else None
    return {} if islands is None else islands.touching


def _supports(context: Context, lie: Lie) -> tuple[Support, ...]:
    """Where it is read off, and how the ground there lies."""
    return (plain(_whose(context.tank, lie), described(lie)), *changed_lets(context.library, PLACE_LETS))


def _whose(tank: Tank, lie: Lie) -> str:
    """Which body a place is read off."""
    body = next((rock.body for rock in tank.rocks if rock.id == lie.rock), None)
    if body is None:
        return "shapes of the rocks"
    return f"scan of {lie.rock}" if body.surface is not None else f"shape of {lie.rock}"


def described(lie: Lie) -> str:
    """Return how a place lies, in a few words."""
    ends = f"{_cm(lie.water_over_cm)} of water, {_cm(lie.glass_cm)} to the glass"
    if lie.front_cm is not None:
        return f"{_steep(lie)}, {ends}"
    slope = f"slopes by {round(lie.slope_deg)} degrees"
    if lie.facing_deg is not None:
        slope += f" to the {_side(lie.facing_deg)}"
    over = "nothing above it" if lie.rock_over_cm is None else f"rock {_cm(lie.rock_over_cm)} above it"
    return f"{slope}, {over}, {ends}"


def _steep(lie: Lie) -> str:
    """How a side or an underside lies, and how much room is before it."""
    assert lie.front_cm is not None
    side = "straight down" if lie.facing_deg is None else f"to the {_side(lie.facing_deg)}"
    return f"looks {side}, {round(lie.slope_deg)} degrees from level, {_cm(lie.front_cm)} free before it"


def _side(facing_deg: float) -> str:
    from advisor.fields.places import side_of  # brings a mesh library, which most tanks never need

    return side_of(facing_deg)


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
    if lie.slope_deg < numbers.side_deg:
        return frozenset({"tilted"})
    return frozenset({"side" if lie.slope_deg < numbers.under_deg else "under"})


def _shelter(context: Context, lie: Lie, numbers: PlaceNumbers) -> frozenset[str]:
    """How far rock closes over and around a place."""
    if lie.rock_over_cm is not None and lie.rock_over_cm <= numbers.over_cm:
        return frozenset({"cave" if lie.shut_in >= numbers.cave else "overhang"})
    return frozenset({"crevice" if lie.shut_in >= numbers.crevice else "open"})


def _ledge(context: Context, lie: Lie, numbers: PlaceNumbers) -> frozenset[str]:
    """Whether something can fall from a place; on a side and below rock nothing rests."""
    steep = lie.slope_deg >= numbers.side_deg
    return frozenset({"yes" if steep or lie.drop_cm > numbers.drop_cm else "no"})


def _free_height(lie: Lie) -> float:
    """Room for what grows there: up to rock or the surface, and off a side; off the rock where it hangs over.

    What grows on a wall grows off it and then up to the light, what grows
    below rock only away from it. [cm]
    """
    up = lie.water_over_cm if lie.rock_over_cm is None else min(lie.rock_over_cm, lie.water_over_cm)
    if lie.front_cm is None:
        return up
    return lie.front_cm if lie.slope_deg > _UPRIGHT_DEG else min(up, lie.front_cm)


def place_islet(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """Whether the rock under a place stands apart from all others."""
    found = _island(context, row)
    if found is None or known(so_far):
        return None
    lie, islands = found
    met = islands.neighbours(lie.rock)
    if not met:
        return None
    touches = sorted(other for other, each in met.items() if each)
    words = {"no"} if touches else {"yes", "no"} if None in met.values() else {"yes"}
    why = f"touches {', '.join(touches)}" if touches else "what lies nearest to it"
    supports = (plain("shapes of the rocks", why), *changed_lets(context.library, PLACE_LETS))
    return WordCell(frozenset(words), CellKind.COMPUTED, None, supports)


def place_moat(context: Context, measure: Measure, row: int, so_far: Cell | None) -> Cell | None:
    """How wide the floor is between the rock under a place, with all it touches, and the next rock."""
    found = _island(context, row)
    wide = found[1].moat_cm(found[0].rock) if found is not None and not known(so_far) else None
    if found is None or wide is None:
        return None
    low, high = reading_range(measure, min(wide, measure.high), None)
    own = ", ".join(sorted(found[1].island(found[0].rock)))
    supports = (
        plain("shapes of the rocks", f"floor around {own}"),
        *changed_lets(context.library, PLACE_LETS),
    )
    return NumberCell(low, min(wide, measure.high), high, CellKind.COMPUTED, None, supports)


def _island(context: Context, row: int) -> tuple[Lie, Islands] | None:
    """How a place on rock lies, and how all rocks of the tank lie to each other."""
    found = _lies(context, row, whole=True)
    if found is None or len({lie.rock for lie in found[0]}) != 1 or not found[0][0].rock:
        return None
    islands = islands_of(context.tank.rocks, found[1])
    return (found[0][0], islands) if islands is not None else None


OF_LIES: dict[str, Supply] = {
    "place-ground": _word(_ground),
    "place-faces": _word(_faces),
    "place-ledge": _word(_ledge),
    "place-shelter": _word(_shelter, whole=True),
    "place-headroom": _number(_free_height, whole=True),
    "place-islet": place_islet,
    "place-moat": place_moat,
    "place-slope": _number(lambda lie: lie.slope_deg),
}
"""By what stands after ``computed by`` in a rule file."""
