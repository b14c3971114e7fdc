from __future__ import annotations

from advisor.model.results import Word
from advisor.model.tank import Box, Spot
from advisor.planning.fold import Standing
from advisor.planning.grid import OF_EACH_ROCK, few_of_grid


def place(name: str, x: float, rock: str = "", *, sampled: bool = True) -> Spot:
    return Spot(id=name, box=Box(x=(x, x), y=(30.0, 30.0), z=(0.0, 0.0)), rock=rock, sampled=sampled)


def standing(world: int, word: Word) -> Standing:
    """How a world stands whose answer is YES, LIKELY or NO."""
    found = Standing(
        world, int(word is Word.NO), 0, int(word is Word.LIKELY), 0, warned_now=False, comes_later=False,
        comfort_low=0.0, comfort=0.0, comfort_high=0.0,
    )  # fmt: skip
    assert found.word is word
    return found


def few(*spots: tuple[Spot, Word]) -> tuple[list[str], tuple[str, ...]]:
    """The ids that are told of places in this order, and the note."""
    order = [(rank, standing(rank, word)) for rank, (_, word) in enumerate(spots, 1)]
    kept, note = few_of_grid(order, lambda item: spots[item.world - 1][0])
    return [spots[item.world - 1][0].id for _, item in kept], note


def test_places_a_keeper_named_all_stay_whatever_they_are() -> None:
    named = [(place(f"s{at}", 0.0, sampled=False), Word.NO) for at in range(9)]
    assert few(*named) == ([f"s{at}" for at in range(9)], ())


def test_of_each_rock_the_best_few_are_told() -> None:
    spots = [
        (place(f"{rock}-{x}", 20.0 * x, rock), Word.YES) for x in range(5) for rock in ("ridge", "arch", "")
    ]
    kept, note = few(*spots)
    assert kept == [f"{rock}-{x}" for x in range(OF_EACH_ROCK) for rock in ("ridge", "arch", "")]
    assert note == ("15 places of the grid were looked at: the best 9 are told",)


def test_of_two_side_by_side_one_is_told() -> None:
    kept, _ = few(
        (place("a", 0.0), Word.YES), (place("beside-a", 9.0), Word.YES), (place("b", 10.0), Word.LIKELY)
    )
    assert kept == ["a", "b"]


def test_those_where_it_would_be_harmed_are_only_counted() -> None:
    kept, note = few((place("a", 0.0), Word.YES), (place("b", 20.0), Word.NO), (place("c", 40.0), Word.NO))
    assert kept == ["a"]
    assert note == ("3 places of the grid were looked at: the best 1 are told, 2 are NO",)
