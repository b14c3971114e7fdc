"""What cards and named numbers have a share in a measure that is worked out: declared here, once.

Whoever changes a line of a card moves more than the measure of that line. A
line that is looked for behind a rule is therefore looked for here too.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from advisor.model.vocabulary import WEAPONS_CARRIED, Measure, Relation, Supplier, Vocabulary


@dataclass(frozen=True, slots=True)
class RestsOn:
    """Names of the measures from cards, and of the named numbers, behind something worked out."""

    now: frozenset[str]
    ahead: frozenset[str] = frozenset()
    """What counts besides at a month to come."""


PLACE_LETS = frozenset(
    {
        "hand-patch", "tilted-from", "side-from", "under-from", "overhang-height", "shut-in-reach",
        "cave-share", "crevice-share", "ledge-drop", "rocks-touch-within", "rocks-apart-from",
    }
)  # fmt: skip
"""Named numbers that put the lie of a place into words."""

_WIDTH = frozenset({"edge", "swells", "mature-width"})
_LIGHT = frozenset({"light-min", "light-max", "vouch-after"})
_FLOW = frozenset({"flow-min", "flow-max", "vouch-after"})

AGE_LETS = frozenset(
    {"led-fades-a-year", "tube-fades-a-year", "fading-doubt", "unseen-change-a-year", "age-counts-from"}
)
"""Names of the named numbers by which lamps fade and readings age."""
METER_LETS = frozenset({"unsure-meter-error"})
"""Names of the named numbers of light meters."""
LIGHT_LETS = frozenset(
    {
        "water-index", "blue-light-lost", "white-light-lost", "yellowed-blue-lost", "yellowed-white-lost",
        "cloudy-blue-lost", "cloudy-white-lost", "water-doubt", "filmed-wall-share", "overgrown-wall-share",
        "painted-wall-share", "wall-doubt", "sand-share", "sand-doubt", "usual-beam", "beam-doubt",
        "hang-doubt", "photons-per-watt", "told-photons-doubt", "told-watts-doubt", "untold-lamp-doubt",
        "lamp-beside-lamp-doubt", "model-miss", "no-box-gain", "no-box-miss", "model-miss-reach",
        "reading-scatter", "odd-reading-from", "odd-reading-of", "odd-readings-share", "meter-doubt",
        "hand-waver", "scattered-light", "colony-lets-through", "read-only-spread", "read-only-reach",
        "trust-in-doubts", "face-told-from",
    }
) | AGE_LETS  # fmt: skip
"""Names of the named numbers of the light model."""

RESTS_ON: Mapping[str, RestsOn] = {
    "gap": RestsOn(_WIDTH, frozenset({"grows-out"})),
    "clear-height": RestsOn(frozenset({"mature-height"}), frozenset({"grows-up"})),
    "above": RestsOn(_WIDTH, frozenset({"grows-out"})),
    "light-here": RestsOn(_LIGHT | LIGHT_LETS | METER_LETS | PLACE_LETS),
    "place-side-share": RestsOn(LIGHT_LETS | METER_LETS | PLACE_LETS),
    "vouched-flow": RestsOn(_FLOW),
    WEAPONS_CARRIED: RestsOn(frozenset({"weapons"})),
    **dict.fromkeys(
        (
            "place-ground",
            "place-faces",
            "place-ledge",
            "place-shelter",
            "place-headroom",
            "place-slope",
            "place-islet",
            "place-moat",
            "rocks-touch",
            "same-rock",
        ),
        RestsOn(PLACE_LETS),
    ),
}
"""By what stands after ``computed by``. What is not named here rests on no card."""


def rests_on_cards(word: Measure | Relation) -> bool:
    """Return whether cards tell a measure or relation, or have a share in how it is worked out."""
    return Supplier.CARD in word.suppliers or word.computed_by in RESTS_ON


def behind(names: Iterable[str], vocabulary: Vocabulary, *, ahead: bool = True) -> frozenset[str]:
    """Return some names and all that stands behind those that are worked out.

    Parameters
    ----------
    ahead
        Whether months to come are looked at, so that growth counts.

    Returns
    -------
    Measures, relations and named numbers. Two measures that are read from one
    line of a card stand for each other.
    """
    found = set(names)
    for name in tuple(found):
        word = vocabulary.measures.get(name) or vocabulary.relations.get(name)
        rests = RESTS_ON.get(word.computed_by) if word is not None else None
        if rests is not None:
            found |= rests.now | (rests.ahead if ahead else frozenset())
    lines = {measure.card_line for name in found if (measure := vocabulary.measures.get(name)) is not None}
    return frozenset(
        found | {name for name, each in vocabulary.measures.items() if each.card_line in lines - {""}}
    )
