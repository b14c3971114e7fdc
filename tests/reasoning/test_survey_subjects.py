"""What statements are about, whatever kind of thing it is."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.cells import TruthCell
from advisor.model.changes import Change, SetFact
from advisor.model.tank import Fact, Fish, Pump, Rock, Tank
from advisor.model.vocabulary import Kind
from advisor.reasoning.survey import Survey
from advisor.reasoning.survey_subjects import rows_of, table_of
from advisor.reasoning.survey_worlds import lay_out
from tests.reasoning import armed
from tests.reasoning.survey_samples import animal, fact, spot, tank, truth, words_of

ROCKS = (Rock(id="arch", touches=("pillar",)), Rock(id="pillar"), Rock(id="islet", touches=()))
HOME = tank(
    [spot("ledge", rock="arch"), spot("sand"), spot("somewhere")],
    [
        animal("a", at="ledge"),
        animal("b", at="sand"),
        animal("c", at="somewhere"),
        animal("d", rock="pillar"),
    ],
    [fact("ground", "sand", words=("sand",)), fact("ground", "somewhere", words=("rock",))],
    rocks=ROCKS,
    pumps=(Pump(id="p"),),
    fish=(Fish(id="f", kind="tang"),),
    told=("rock",),
)
PAIRS = (
    fact("mood", "f", "a", words=("wild",)),
    fact("habits", "f", "a", words=("rubs", "bites")),
    fact("pull", "p", "ledge", best=12.0, error=1.0),
    fact("ties", "a", "b", words=("old-friends",)),
)


def made(facts: tuple[Fact, ...] = PAIRS, *changes: Change) -> Survey:
    """Return the survey of the tank with what is said of pairs."""
    of: Tank = HOME.model_copy(update={"facts": (*HOME.facts, *facts)})
    return armed.Sample(of, {}, changes).survey(armed.library("", []))


def row(of: Survey, kind: Kind, name: str, world: int = 0) -> int:
    """Return the row of anything in a world."""
    if kind.lives:
        return of.animal_row(name, world)
    listing = of.listing(kind)
    rows = listing.rows[listing.starts[world] : listing.starts[world + 1]]
    return next(int(row) for row in rows if of.label(kind, int(row)) == name)


def relation(of: Survey, name: str, first: tuple[Kind, str], second: tuple[Kind, str]) -> bool | None:
    """Return a relation of two things, the same from the column as from the cell."""
    rows = (row(of, *first), row(of, *second))
    cell = of.cell(name, rows)
    column = of.truths(name, (np.array(rows[:1]), np.array(rows[1:])), None)
    found: bool | None = True if column.yes[0] else False if column.no[0] else None
    assert isinstance(cell, TruthCell)
    assert cell.value is found
    return found


@pytest.mark.parametrize(
    ("name", "rock", "expected"),
    [
        ("a", "arch", True),
        ("a", "pillar", False),
        ("b", "arch", False),
        ("c", "arch", None),
        ("d", "pillar", True),
        ("d", "arch", False),
    ],
)
def test_what_stands_on_sand_stands_on_no_rock(name: str, rock: str, expected: bool | None) -> None:
    assert relation(made(), "stands-on", (Kind.ANIMAL, name), (Kind.ROCK, rock)) is expected


def test_a_place_is_on_its_rock() -> None:
    assert relation(made(), "on-rock", (Kind.PLACE, "ledge"), (Kind.ROCK, "arch")) is True
    assert relation(made(), "on-rock", (Kind.PLACE, "sand"), (Kind.ROCK, "arch")) is False
    assert relation(made(), "on-rock", (Kind.PLACE, "somewhere"), (Kind.ROCK, "arch")) is None


def test_rocks_touch_where_one_of_them_says_so_and_a_keeper_knows_better() -> None:
    of = made()
    assert relation(of, "touches", (Kind.ROCK, "pillar"), (Kind.ROCK, "arch")) is True
    assert relation(of, "touches", (Kind.ROCK, "islet"), (Kind.ROCK, "arch")) is False
    told = made((fact("touches", "pillar", "arch", truth=False),))
    assert relation(told, "touches", (Kind.ROCK, "arch"), (Kind.ROCK, "pillar")) is False


def test_words_of_two_things_are_found_by_row() -> None:
    of = made()
    fish, pair = row(of, Kind.FISH, "f"), ("a", "b")
    cells = [of.cell("mood", (fish, of.animal_row(name))) for name in pair]
    assert [words_of(cell) for cell in cells] == [{"wild"}, {"calm", "wild"}]
    column = of.words("mood", (np.array([fish, fish]), np.array([of.animal_row(name) for name in pair])))
    assert column.domain == ("calm", "wild")
    assert column.possible.tolist() == [[False, True], [True, True]]
    sets = of.sets("habits", (np.array([fish]), np.array([of.animal_row("a")])))
    assert sets.surely.tolist() == [[True, True]]


def test_an_open_name_of_two_animals_may_be_another() -> None:
    of = made()
    of.set_domain("ties", ["new-friends"])
    rows = (np.array([of.animal_row("a"), of.animal_row("c")]), np.array([of.animal_row("b")] * 2))
    column = of.words("ties", rows)
    assert set(column.domain) >= {"old-friends", "new-friends"}
    assert column.possible.sum(axis=1).tolist() == [1, len(column.domain)]


def test_a_pair_of_a_thing_and_a_place_has_its_reading() -> None:
    of = made()
    rows = (
        np.array([row(of, Kind.PUMP, "p")] * 2),
        np.array([row(of, Kind.PLACE, x) for x in ("ledge", "sand")]),
    )
    column = of.numbers("pull", rows, None, True)
    assert column.low.tolist() == [11, 0]
    assert column.high.tolist() == [13, 90]
    assert getattr(of.cell("pull", (int(rows[0][0]), int(rows[1][0]))), "best", None) == 12


def test_a_change_speaks_of_two_things_in_its_own_world() -> None:
    change: Change = (SetFact(fact("mood", "f", "a", words=("calm",))),)
    of = made(PAIRS, change)
    rows = (row(of, Kind.FISH, "f", 1), of.animal_row("a", 1))
    assert words_of(of.cell("mood", rows)) == {"calm"}
    assert words_of(of.cell("mood", (row(of, Kind.FISH, "f"), of.animal_row("a")))) == {"wild"}


def test_each_kind_has_a_table_of_its_own() -> None:
    layout = lay_out(HOME, (), {})
    assert [rows_of(layout, kind) for kind in (Kind.CORAL, Kind.PLACE, Kind.TANK, Kind.ROCK)] == [4, 4, 1, 3]
    assert rows_of(layout, Kind.FISH) == 2
    assert table_of(Kind.CORAL) is Kind.ANIMAL
    assert truth(made(), "same-rock", "a", "d") is True
