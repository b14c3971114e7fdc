from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from advisor.model.tank import Box, Spot
from advisor.reasoning.columns import ASSUMED, MISSING
from advisor.reasoning.survey_bodies import NO_SPOT, Positions, day_number, positions_of
from advisor.reasoning.survey_worlds import lay_out
from tests.reasoning.survey_samples import animal, fact, library, point, row, spot, survey, tank

WORDS = Box(x=(0.0, 40.0), y=(0.0, 20.0), z=(5.0, 9.0), by_word=True)


def stands(on: Spot, **more: object) -> Positions:
    standing = animal("a-1", at=on.id).model_copy(update=more)
    return positions_of(lay_out(tank([on], [standing]), (), {}))


def test_an_animal_is_where_its_spot_is() -> None:
    at = stands(spot("ledge", WORDS))
    assert (at.low.tolist(), at.high.tolist()) == ([[0.0, 0.0, 5.0]], [[40.0, 20.0, 9.0]])
    assert (at.exact.tolist(), at.own.tolist(), at.spot.tolist()) == ([False], [False], [0])


def test_a_position_of_its_own_goes_before_that_of_its_spot() -> None:
    at = stands(spot("ledge", WORDS), box=point(1.0, 2.0, 3.0))
    assert at.low.tolist() == at.high.tolist() == [[1.0, 2.0, 3.0]]
    assert (at.exact.tolist(), at.own.tolist()) == ([True], [True])


@pytest.mark.parametrize(("holds", "room"), [(1, 0.0), (3, 4.0)])
def test_only_where_several_stand_may_one_stand_beside_the_middle(holds: int, room: float) -> None:
    at = stands(spot("ledge", point(10.0, 10.0, 10.0), holds=holds, extent_cm=8.0))
    assert at.low.tolist() == [[10.0 - room] * 3]
    assert at.high.tolist() == [[10.0 + room] * 3]
    assert (at.room.tolist(), at.extent.tolist()) == ([room], [8.0])


def test_without_a_position_nothing_is_known() -> None:
    at = stands(spot("ledge"))
    assert np.isnan(at.low).all()
    assert (at.exact.tolist(), np.isnan(at.extent).tolist()) == ([False], [True])


def test_an_animal_without_a_spot_stands_on_none() -> None:
    at = positions_of(lay_out(tank((), [animal("a-1", moved_on=date(2026, 9, 1))]), (), {}))
    assert at.spot.tolist() == [NO_SPOT]
    assert at.moved_day.tolist() == [day_number(date(2026, 9, 1))]
    assert day_number(None) == 0


def test_a_tank_without_animals_has_no_positions() -> None:
    at = positions_of(lay_out(tank([spot("ledge")]), (), {}))
    assert at.low.shape == (0, 3)


# --- outlines


def radii(taxon: str, size_cm: float | None, assume: bool = True) -> tuple[float, float, int]:
    found = survey(tank((), [animal("a-1", taxon, size_cm=size_cm)]))
    radius = found._pairs.sizes.radius(assume)
    return float(radius.low[0]), float(radius.high[0]), int(radius.flags[0])


def test_only_what_is_measured_open_is_taken_open() -> None:
    assert radii("stinger", 8.0) == (4.0, 4.0, 0)
    assert radii("mat", 8.0) == (12.0, 12.0, 0)
    assert radii("oddity", 8.0) == (4.0, 4.0, 0)


def test_an_open_edge_of_unknown_swelling_may_be_anywhere() -> None:
    rules = library('card puff "puff"\n  edge open\n')
    of = survey(tank((), [animal("a-1", "puff", size_cm=8.0)]), rules=rules, names={"a-1": ("puff",)})
    radius = of._pairs.sizes.radius(True)
    assert (radius.low.tolist(), radius.high.tolist(), radius.flags.tolist()) == ([4.0], [24.0], [MISSING])


def test_an_edge_that_may_be_either_leaves_the_width_between_the_two() -> None:
    rules = library('card either "either"\n  edge open\n  edge skeleton\n  swells most 2 times\n')
    of = survey(tank((), [animal("a-1", "either", size_cm=8.0)]), rules=rules, names={"a-1": ("either",)})
    radius = of._pairs.sizes.radius(True)
    assert (radius.low.tolist(), radius.high.tolist(), radius.flags.tolist()) == ([4.0], [8.0], [0])
    assert np.isnan(radius.best).all()


def test_an_untold_width_is_a_guess_or_at_most_the_grown_width() -> None:
    assert radii("stinger", None) == (0.5, 4.0, ASSUMED)
    assert radii("stinger", None, assume=False) == (0.25, 15.0, MISSING)
    assert radii("oddity", None, assume=False) == (0.25, 75.0, MISSING)


def test_a_rule_file_without_widths_leaves_every_radius_open() -> None:
    of = survey(tank((), [animal("a-1")]))
    gone = of._pairs.sizes.named("no-such-measure")
    assert (gone.low.tolist(), gone.high.tolist(), gone.flags.tolist()) == ([0.0], [np.inf], [MISSING])


def test_outlines_hold_all_tissue_at_a_month() -> None:
    of = survey(
        tank(
            [spot("ledge", point(0.0, 0.0, 10.0))],
            [animal("a-1", at="ledge")],
            [fact("fenced", "a-1", truth=True)],
        )
    )
    low, high = of.outlines(10.0)
    assert low[row(of, "a-1")].tolist() == pytest.approx([-6.0, -6.0, 4.0])
    assert high[row(of, "a-1")].tolist() == pytest.approx([6.0, 6.0, 16.0])
