from __future__ import annotations

import pytest

from advisor.fields.places import Lie
from advisor.model.cells import Cell, CellKind, NumberCell, TruthCell, WordCell
from advisor.model.lighting import RockShape
from advisor.model.tank import Rock, RockPart, Spot, Tank
from advisor.reasoning.survey import Survey
from advisor.reasoning.survey_lies import described
from tests.reasoning.lying import BLOCK, HEAP, ROOF, lying, lying_library, rock
from tests.reasoning.survey_samples import animal, fact, point, spot, survey


def lie_survey(tank: Tank, house: str = "") -> Survey:
    return survey(tank, rules=lying_library(house))


def cell(measure: str, place: str, tank: Tank | None = None, house: str = "") -> Cell:
    of = lie_survey(tank or lying(), house)
    return of.cell(measure, (of.spot_place[place],))


def words(measure: str, place: str, tank: Tank | None = None, house: str = "") -> set[str]:
    found = cell(measure, place, tank, house)
    assert isinstance(found, WordCell)
    return set(found.possible or ()) if found.cause is None else {"not known"}


@pytest.mark.parametrize(
    ("measure", "place", "expected"),
    [
        ("ground", "top", {"rock"}),
        ("faces", "top", {"up"}),
        ("faces", "flank", {"tilted"}),
        ("shelter", "top", {"overhang"}),
        ("shelter", "roof-top", {"open"}),
        ("ledge", "top", {"no"}),
        ("ledge", "rim", {"yes", "no"}),
        ("ground", "sand", {"sand", "glass"}),
        ("shelter", "sand", {"open"}),
        ("ground", "midwater", {"not known"}),
    ],
)
def test_a_place_is_put_into_words(measure: str, place: str, expected: set[str]) -> None:
    assert words(measure, place) == expected


def test_at_a_place_of_the_grid_it_is_sure_what_a_hand_could_not_tell() -> None:
    rim = spot("block-39-30-10", point(39.0, 30.0, 10.0), sampled=True)
    assert words("ledge", "block-39-30-10", lying(spots=(rim,))) == {"yes"}


CEILING = spot("roof-underside-42-30-20", point(42.0, 30.0, 20.0), sampled=True, part=RockPart.UNDERSIDE)
WALL = spot("block-facing-left-20-30-6", point(20.0, 30.0, 6.0), sampled=True, part=RockPart.SIDE)


@pytest.mark.parametrize(
    ("place", "measure", "expected"),
    [
        (CEILING, "faces", {"under"}),
        (CEILING, "shelter", {"overhang"}),
        (CEILING, "ground", {"rock"}),
        (CEILING, "ledge", {"yes"}),
        (WALL, "faces", {"side"}),
        (WALL, "ground", {"rock"}),
        (WALL, "ledge", {"yes"}),
    ],
)
def test_sides_and_undersides_are_put_into_words_too(place: Spot, measure: str, expected: set[str]) -> None:
    assert words(measure, place.id, lying(spots=(place,))) == expected


def test_room_is_below_an_underside_and_before_a_side() -> None:
    below = cell("headroom", CEILING.id, lying(spots=(CEILING,)))
    before = cell("headroom", WALL.id, lying(spots=(WALL,)))
    assert isinstance(below, NumberCell)
    assert isinstance(before, NumberCell)
    assert below.best == pytest.approx(20.0)  # the floor, for the block ends at 40
    assert before.best == pytest.approx(14.0)  # up to the roof; 20 to the glass beside
    assert below.supports[0].source.startswith("looks straight down, 180 degrees from level, 20 cm free")
    slope = cell("slope", CEILING.id, lying(spots=(CEILING,)))
    assert isinstance(slope, NumberCell)
    assert slope.best == pytest.approx(180.0)
    assert slope.high == 180.0


def test_an_underside_a_keeper_tells_of_lies_under_the_rock_above() -> None:
    told = spot("ceiling", point(36.0, 30.0, 19.0))
    tank = lying(fact("faces", "ceiling", words=("under",)), spots=(told,))
    assert words("shelter", "ceiling", tank) == {"overhang"}
    room = cell("headroom", "ceiling", tank)
    assert isinstance(room, NumberCell)
    assert room.best == pytest.approx(10.0)


def test_the_floor_is_what_the_tank_has_on_it() -> None:
    assert words("ground", "sand", lying(fact("sand-grain", "tank", words=("fine",)))) == {"sand"}
    assert words("ground", "sand", lying(fact("sand-grain", "tank", words=("none",)))) == {"glass"}


def test_a_slope_and_a_headroom_have_the_error_of_a_reading() -> None:
    slope, room = cell("slope", "flank"), cell("headroom", "top")
    assert isinstance(slope, NumberCell)
    assert isinstance(room, NumberCell)
    assert slope.best is not None
    assert slope.best == pytest.approx(45.0, abs=1.5)
    assert slope.low <= slope.best - 10.0
    assert slope.high >= slope.best + 10.0
    assert (room.low, room.best, room.high) == pytest.approx((9.0, 10.0, 11.0))
    assert (slope.kind, room.kind, slope.cause) == (CellKind.COMPUTED, CellKind.COMPUTED, None)


def test_free_height_ends_at_the_surface() -> None:
    room = cell("headroom", "roof-top")
    assert isinstance(room, NumberCell)
    assert room.best == pytest.approx(22.0)


def test_what_the_keeper_says_wins() -> None:
    assert words("faces", "top", lying(fact("faces", "top", words=("side",)))) == {"side"}


def test_it_says_off_which_rock_it_is_read() -> None:
    (support, *_) = cell("faces", "flank").supports
    assert support.text == "shape of heap"
    assert support.source.startswith("slopes by 45 degrees to the right, nothing above it, 36 cm of water")


def test_a_rock_nobody_described_may_hang_over_any_place() -> None:
    tank = lying(rocks=(BLOCK, ROOF, HEAP, Rock(id="other")))
    assert words("shelter", "top", tank) == {"not known"}
    assert words("faces", "top", tank) == {"up"}


def test_a_house_line_changes_what_counts_as_tilted_and_is_named() -> None:
    house = 'house\n  change tilted-from from 25 degrees to 50 degrees\n    because "they hold"'
    assert words("faces", "flank", house=house) == {"up"}
    assert "your house file" in [each.text for each in cell("faces", "flank", house=house).supports]


@pytest.mark.parametrize(
    ("facing", "side"), [(2.0, "right"), (88.0, "back"), (181.0, "left"), (275.0, "front")]
)
def test_a_place_is_described_in_a_few_words(facing: float, side: str) -> None:
    lie = Lie((0.0, 0.0, 0.0), "ridge", 30.4, facing, 0.2, 0.0, 12.2, 30.0, 8.1, 0.0)
    expected = f"slopes by 30 degrees to the {side}, rock 12 cm above it, 30 cm of water, 8 cm to the glass"
    assert described(lie) == expected


def test_a_rock_that_stands_alone_is_an_islet_with_a_moat() -> None:
    assert words("islet", "flank") == {"yes"}
    moat = cell("moat", "flank")
    assert isinstance(moat, NumberCell)
    assert moat.best == pytest.approx(20.0, abs=1.0)  # from 40 to 60
    assert moat.supports[0].source == "floor around heap"


def test_a_rock_that_touches_another_is_none_and_the_moat_is_around_both() -> None:
    beside = rock("beside", RockShape.BLOCK, (45.0, 30.0), (10.0, 10.0, 10.0))
    tank = lying(rocks=(BLOCK, beside, HEAP))
    assert words("islet", "top", tank) == {"no"}
    moat = cell("moat", "top", tank)
    assert isinstance(moat, NumberCell)
    assert moat.best == pytest.approx(10.0, abs=1.0)


def test_one_rock_alone_or_the_floor_has_no_moat() -> None:
    assert words("islet", "top", lying(rocks=(BLOCK,))) == {"not known"}
    assert words("islet", "sand") == {"not known"}


def test_what_stands_on_touching_rocks_stands_on_one_rock() -> None:
    beside = rock("beside", RockShape.BLOCK, (45.0, 30.0), (10.0, 10.0, 10.0))
    animals = (
        animal("a", box=point(30.0, 30.0, 10.0)),
        animal("b", box=point(45.0, 30.0, 10.0)),
        animal("c", box=point(90.0, 30.0, 10.0)),
    )
    of = lie_survey(lying(rocks=(BLOCK, beside, HEAP), spots=(), animals=animals))

    def together(one: str, other: str) -> bool | None:
        found = of.cell("same-rock", (of.animal_row(one), of.animal_row(other)))
        assert isinstance(found, TruthCell)
        return found.value

    assert together("a", "b") is True
    assert together("a", "c") is False


def test_what_the_keeper_says_of_rocks_goes_before_their_shapes() -> None:
    beside = rock("beside", RockShape.BLOCK, (45.0, 30.0), (10.0, 10.0, 10.0))
    apart = BLOCK.model_copy(update={"touches": ()})
    animals = (animal("a", box=point(30.0, 30.0, 10.0)), animal("b", box=point(45.0, 30.0, 10.0)))
    of = lie_survey(lying(rocks=(apart, beside), spots=(), animals=animals))
    found = of.cell("same-rock", (of.animal_row("a"), of.animal_row("b")))
    assert isinstance(found, TruthCell)
    assert found.value is False
