"""The named numbers of the rule files by which the lie of a place is put into words."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.language.house_state import base
from advisor.language.library import Library
from advisor.model.computed import PLACE_LETS

_PERCENT = 100.0


@dataclass(frozen=True, slots=True)
class PlaceNumbers:
    """What makes a place level, tilted, sheltered or a ledge."""

    patch_cm: float
    tilted_deg: float
    side_deg: float
    under_deg: float
    over_cm: float
    reach_cm: float
    cave: float
    """Share of the way around. [1]"""
    crevice: float
    drop_cm: float
    touch_cm: float
    """Rocks nearer than this touch."""
    apart_cm: float
    """Rocks farther off than this do not; in between it is not known."""


def place_numbers(library: Library) -> PlaceNumbers | None:
    """Return the numbers, or None where a rule set has not all of them."""
    value = {name: base(library.lets[name].value) for name in PLACE_LETS if name in library.lets}
    if len(value) < len(PLACE_LETS):
        return None
    return PlaceNumbers(
        patch_cm=value["hand-patch"],
        tilted_deg=value["tilted-from"],
        side_deg=value["side-from"],
        under_deg=value["under-from"],
        over_cm=value["overhang-height"],
        reach_cm=value["shut-in-reach"],
        cave=value["cave-share"] / _PERCENT,
        crevice=value["crevice-share"] / _PERCENT,
        drop_cm=value["ledge-drop"],
        touch_cm=value["rocks-touch-within"],
        apart_cm=value["rocks-apart-from"],
    )
