"""The named numbers of the rule files that the light model reads."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.language.house_state import base
from advisor.language.library import Library
from advisor.model.computed import LIGHT_LETS

Z90 = 1.6448536269514722
"""Half width of a 90 % interval in standard deviations of a normal distribution."""
_PERCENT = 100.0


@dataclass(frozen=True, slots=True)
class LightNumbers:
    """Every number of the light model; a doubt is one standard deviation, of a logarithm where unitless."""

    water_index: float
    blue_kd_per_m: float
    white_kd_per_m: float
    yellowed_blue_kd_per_m: float
    yellowed_white_kd_per_m: float
    cloudy_blue_kd_per_m: float
    cloudy_white_kd_per_m: float
    kd_doubt_per_m: float
    filmed_share: float
    overgrown_share: float
    painted_share: float
    wall_doubt: float
    sand_share: float
    sand_doubt: float
    beam_deg: float
    beam_doubt: float
    hang_doubt_cm: float
    photons_per_watt: float
    """[µmol/J]"""
    photons_doubt: float
    watts_doubt: float
    untold_doubt: float
    lamp_doubt: float
    model_miss: float
    no_box_gain: float
    no_box_miss: float
    miss_reach_cm: float
    reading_scatter: float
    odd_from: float
    """[standard deviations]"""
    odd_least: float
    odd_share: float
    meter_doubt: float
    hand_waver_cm: float
    scattered_share: float
    colony_share: float
    read_only_spread: float
    read_only_reach_cm: float
    led_fade_per_year: float
    """What a lamp loses a year, as a falling logarithm. [1/year]"""
    tube_fade_per_year: float
    fading_doubt: float
    """Of what a lamp has lost, as a logarithm, the share that is doubtful."""
    unseen_change_per_year: float
    """[1/year]"""
    age_counts_from: float
    """A smaller change of a reading by its age is left out."""
    trust_in_doubts: float
    """How many readings it takes to outweigh these doubts."""
    face_told_from: float
    """A face is told apart from level ground where its light differs by more than this share. [1]"""


_SHARES = {
    "filmed_share": "filmed-wall-share",
    "overgrown_share": "overgrown-wall-share",
    "painted_share": "painted-wall-share",
    "wall_doubt": "wall-doubt",
    "sand_share": "sand-share",
    "sand_doubt": "sand-doubt",
    "beam_doubt": "beam-doubt",
    "photons_doubt": "told-photons-doubt",
    "watts_doubt": "told-watts-doubt",
    "untold_doubt": "untold-lamp-doubt",
    "lamp_doubt": "lamp-beside-lamp-doubt",
    "model_miss": "model-miss",
    "no_box_miss": "no-box-miss",
    "reading_scatter": "reading-scatter",
    "meter_doubt": "meter-doubt",
    "scattered_share": "scattered-light",
    "colony_share": "colony-lets-through",
    "read_only_spread": "read-only-spread",
    "odd_share": "odd-readings-share",
    "fading_doubt": "fading-doubt",
    "unseen_change_per_year": "unseen-change-a-year",
    "age_counts_from": "age-counts-from",
    "face_told_from": "face-told-from",
}
_PLAIN = {
    "water_index": "water-index",
    "beam_deg": "usual-beam",
    "hang_doubt_cm": "hang-doubt",
    "photons_per_watt": "photons-per-watt",
    "no_box_gain": "no-box-gain",
    "miss_reach_cm": "model-miss-reach",
    "hand_waver_cm": "hand-waver",
    "odd_from": "odd-reading-from",
    "odd_least": "odd-reading-of",
    "read_only_reach_cm": "read-only-reach",
    "trust_in_doubts": "trust-in-doubts",
}
_LOST = {
    "blue_kd_per_m": "blue-light-lost",
    "white_kd_per_m": "white-light-lost",
    "yellowed_blue_kd_per_m": "yellowed-blue-lost",
    "yellowed_white_kd_per_m": "yellowed-white-lost",
    "cloudy_blue_kd_per_m": "cloudy-blue-lost",
    "cloudy_white_kd_per_m": "cloudy-white-lost",
    "kd_doubt_per_m": "water-doubt",
    "led_fade_per_year": "led-fades-a-year",
    "tube_fade_per_year": "tube-fades-a-year",
}


def light_numbers(library: Library) -> LightNumbers | None:
    """Return the numbers of the light model, or None where a rule set has not all of them."""
    values = {name: base(library.lets[name].value) for name in LIGHT_LETS if name in library.lets}
    if len(values) < len(LIGHT_LETS):
        return None
    return LightNumbers(
        **{field: values[name] / _PERCENT for field, name in _SHARES.items()},
        **{field: values[name] for field, name in _PLAIN.items()},
        **{field: -math.log(1.0 - values[name] / _PERCENT) for field, name in _LOST.items()},
    )
