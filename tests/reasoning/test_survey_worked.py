from __future__ import annotations

import pytest

from advisor.model.cells import Cause, CellKind, TruthCell
from advisor.model.tank import Box, Fact, Flow, Rock, Tank
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import animal, fact, point, row, spot, survey, tank, truth, waiting

LEFT, RIGHT = point(0.0, 0.0), point(40.0, 5.0)


def told(*facts: Fact, direction: float | None = None, at: bool = False) -> Survey:
    """Return two animals on two spots, with positions if `at`."""
    spots = [spot("left", LEFT if at else None), spot("right", RIGHT if at else None), spot("arch")]
    animals = [animal("a-1", at="left"), animal("b-1", at="right"), waiting("n-1")]
    return survey(tank(spots, animals, facts, flow=Flow(direction_deg=direction)))


def cell(of: Survey, name: str, *names: str, world: int = 0) -> TruthCell:
    found = of.cell(name, tuple(row(of, each, world) for each in names))
    assert isinstance(found, TruthCell)
    return found


def test_without_a_direction_or_a_statement_the_side_is_not_known() -> None:
    found = cell(told(at=True), "down-flow", "b-1", "a-1")
    assert (found.value, found.kind, found.cause) == (None, CellKind.UNKNOWN, Cause.MISSING)


def test_positions_and_the_main_stream_tell_the_side() -> None:
    of = told(direction=0.0, at=True)
    assert truth(of, "down-flow", "b-1", "a-1") is True
    assert truth(of, "up-flow", "a-1", "b-1") is True
    assert truth(of, "down-flow", "a-1", "b-1") is False
    assert truth(of, "up-flow", "b-1", "a-1") is False
    assert cell(of, "down-flow", "b-1", "a-1").supports[0].text == "positions"


def test_the_stream_may_pass_beside_both() -> None:
    of = told(direction=90.0, at=True)
    assert [truth(of, "down-flow", *pair) for pair in (("a-1", "b-1"), ("b-1", "a-1"))] == [False, False]


def test_place_words_may_leave_the_side_open() -> None:
    wide = Box(x=(0.0, 40.0), y=(0.0, 40.0), z=(0.0, 0.0), by_word=True)
    animals = [animal("a-1", at="left"), animal("b-1", at="right")]
    of = survey(tank([spot("left", wide), spot("right", wide)], animals, flow=Flow(direction_deg=0.0)))
    assert truth(of, "down-flow", "a-1", "b-1") is None


def stacked(*facts: Fact, apart_cm: float = 4.0) -> Survey:
    spots = [spot("top", point(0.0, 0.0, 30.0)), spot("foot", point(apart_cm, 0.0, 10.0))]
    return survey(tank(spots, [animal("a-1", at="top"), animal("b-1", at="foot")], facts))


def test_positions_and_widths_tell_what_stands_over_what() -> None:
    assert truth(stacked(), "above", "a-1", "b-1") is True
    assert truth(stacked(), "above", "b-1", "a-1") is False
    assert truth(stacked(apart_cm=7.0), "above", "a-1", "b-1") is False


def test_growth_may_bring_one_over_the_other() -> None:
    of = stacked(apart_cm=8.0)
    assert [truth(of, "above", "a-1", "b-1", month=month) for month in (0.0, 3.0, 4.0)] == [
        False,
        False,
        True,
    ]
    assert truth(of, "above", "b-1", "a-1", month=4.0) is False


def test_without_positions_nobody_knows_what_stands_over_what() -> None:
    assert truth(told(), "above", "a-1", "b-1") is None


def test_on_one_spot_nobody_knows_who_is_where() -> None:
    shelf = spot("shelf", LEFT, holds=2)
    of = survey(
        tank([shelf], [animal("a-1", at="shelf"), animal("b-1", at="shelf")], flow=Flow(direction_deg=0.0))
    )
    assert [truth(of, name, "a-1", "b-1") for name in ("above", "down-flow")] == [None, None]


def on_rocks(*rocks: Rock) -> Tank:
    spots = [spot("one", rock="r1"), spot("two", rock="r2"), spot("three", rock="r1"), spot("sand")]
    animals = [animal(f"{name}-1", at=name) for name in ("one", "two", "three", "sand")]
    return tank(spots, [*animals, animal("free-1", rock="r2")], rocks=rocks)


@pytest.mark.parametrize(
    ("rocks", "touch"),
    [
        ((Rock(id="r1"), Rock(id="r2")), None),
        ((), None),
        ((Rock(id="r1", touches=("r2",)), Rock(id="r2")), True),
        ((Rock(id="r1"), Rock(id="r2", touches=("r1",))), True),
        ((Rock(id="r1", touches=()), Rock(id="r2")), False),
        ((Rock(id="r1", touches=()), Rock(id="r2", touches=("r1",))), True),
        ((Rock(id="r2", touches=("r1",)), Rock(id="r1", touches=())), True),
    ],
)
def test_rocks_touch_where_either_is_told_to(rocks: tuple[Rock, ...], touch: bool | None) -> None:
    of = survey(on_rocks(*rocks))
    assert truth(of, "same-rock", "one-1", "two-1") is touch
    assert truth(of, "same-rock", "two-1", "one-1") is touch
    assert truth(of, "same-rock", "one-1", "free-1") is touch


def test_one_rock_is_one_rock_and_no_rock_tells_nothing() -> None:
    of = survey(on_rocks(Rock(id="r1"), Rock(id="r2")))
    assert truth(of, "same-rock", "one-1", "three-1") is True
    assert truth(of, "same-rock", "two-1", "free-1") is True
    assert truth(of, "same-rock", "one-1", "sand-1") is None


def test_what_a_keeper_says_of_a_rock_goes_before_all() -> None:
    base = on_rocks(Rock(id="r1", touches=()), Rock(id="r2", touches=()))
    of = survey(base.model_copy(update={"facts": (fact("same-rock", "two-1", "one", truth=True),)}))
    assert truth(of, "same-rock", "one-1", "two-1") is True


def test_pieces_of_one_colony_are_one_clone_and_all_others_are_strangers() -> None:
    animals = [
        animal("a-1", clone="mother"),
        animal("b-1", clone="mother"),
        animal("c-1", clone="other"),
        animal("d-1"),
    ]
    of = survey(tank((), [*animals, animal("e-1")]))
    assert truth(of, "same-clone", "a-1", "b-1") is True
    assert [truth(of, "same-clone", "a-1", name) for name in ("c-1", "d-1")] == [False, False]
    assert truth(of, "same-clone", "d-1", "e-1") is False
    assert (
        cell(of, "same-clone", "d-1", "e-1").supports[0].source
        == "colonies of one kind are strangers unless told"
    )
    assert cell(of, "same-clone", "a-1", "b-1").supports[0].text == "clones as told"


def test_shade_is_what_stands_over_it_and_grows_over_it() -> None:
    now, later = stacked(), stacked(apart_cm=7.0)
    assert truth(now, "shaded-by", "b-1", "a-1") is True
    assert truth(now, "shaded-by", "a-1", "b-1") is False
    for month in (0.0, 3.0, 4.0):
        assert truth(later, "shaded-by", "b-1", "a-1", month=month) == truth(
            later, "above", "a-1", "b-1", month=month
        )
    assert cell(now, "shaded-by", "b-1", "a-1").supports == cell(now, "above", "a-1", "b-1").supports
    assert truth(told(), "shaded-by", "b-1", "a-1") is None
