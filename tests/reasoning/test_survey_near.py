from __future__ import annotations

import numpy as np
import pytest

from advisor.model.changes import Add, Move, Remove
from advisor.reasoning import survey_near
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import animal, fact, gap, point, row, spot, survey, tank, waiting

SPOTS = [spot("a", point(0.0, 0.0)), spot("b", point(30.0, 0.0)), spot("c", point(200.0, 0.0)), spot("d")]
TANK = tank(SPOTS, [animal(f"{name}-1", at=name) for name in "abcd"] + [waiting("n-1"), waiting("m-1")])


def names(of: Survey, pairs: tuple[object, object]) -> set[tuple[str, str]]:
    first, second = (np.asarray(each) for each in pairs)
    return {
        (of.animals[int(one)].id, of.animals[int(other)].id) for one, other in zip(first, second, strict=True)
    }


def test_a_pair_is_left_out_only_if_it_is_surely_too_far_apart() -> None:
    of = survey(TANK)
    found = names(of, of.pair_rows(60.0, 0.0, of.rows_in(0)))
    assert found == {("a-1", "b-1"), ("b-1", "a-1"), *((one, "d-1") for one in ("a-1", "b-1", "c-1")),
                     *(("d-1", one) for one in ("a-1", "b-1", "c-1"))}  # fmt: skip


def test_growth_brings_pairs_into_reach() -> None:
    of = survey(TANK)
    within = 160.0  # b and c are 170 cm apart and 3 cm wide to each side
    assert ("b-1", "c-1") not in names(of, of.pair_rows(within, 0.0, of.rows_in(0)))
    assert ("b-1", "c-1") in names(of, of.pair_rows(within, 10.0, of.rows_in(0)))


def test_without_a_distance_every_pair_counts() -> None:
    of = survey(TANK)
    assert len(of.pair_rows(None, 0.0, of.rows_in(0))[0]) == 12


def test_pairs_never_cross_worlds_and_leave_out_what_is_gone() -> None:
    new, more = TANK.animals[4:]
    of = survey(TANK, [(Add(new, "d"),), (Add(more, "d"), Remove("a-1")), (Move("b-1", "d"),)])
    found = names(of, of.pair_rows(None, 0.0, np.arange(len(of.animals))))
    assert ("n-1", "m-1") not in found
    assert ("n-1", "a-1") in found
    assert ("m-1", "a-1") not in found
    assert ("m-1", "b-1") in found
    moved = row(of, "b-1", 3)
    first, second = of.pair_rows(None, 0.0, np.arange(len(of.animals)))
    assert row(of, "b-1") not in second[first == moved]


def test_pairs_come_ordered_whatever_the_order_of_the_rows() -> None:
    of = survey(TANK)
    one, other = of.pair_rows(60.0, 0.0, of.rows_in(0)), of.pair_rows(60.0, 0.0, of.rows_in(0)[::-1])
    assert [each.tolist() for each in one] == [each.tolist() for each in other]
    assert sorted(zip(*(each.tolist() for each in one), strict=True)) == list(
        zip(*(each.tolist() for each in one), strict=True)
    )


def test_no_rows_have_no_pairs() -> None:
    of = survey(TANK)
    assert [each.tolist() for each in of.pair_rows(60.0, 0.0, np.zeros(0, np.int64))] == [[], []]


def crowd(seed: int, count: int) -> Survey:
    """Return many animals here and there: most with positions, some without, some with stated gaps."""
    made = np.random.default_rng(seed)
    at = made.uniform((0.0, 0.0, 0.0), (900.0, 60.0, 50.0), (count, 3))
    spots = [spot(f"s{i}", None if i % 10 == 0 else point(*at[i])) for i in range(count)]
    animals = [animal(f"a-{i}", ("stinger", "mat", "plate")[i % 3], f"s{i}") for i in range(count)]
    facts = [
        gap(f"a-{i}", f"a-{(i * 7 + 1) % count}", 5.0) for i in range(1, count, 9) if (i * 7 + 1) % count != i
    ]
    new = waiting("n-1")
    return survey(tank(spots, animals, facts), [(Add(new, "s3"), Remove("a-5"))])


@pytest.mark.parametrize("months", [0.0, 12.0])
def test_the_sweep_finds_what_looking_at_every_pair_finds(
    months: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    of = crowd(3, 120)
    every = np.arange(len(of.animals))
    dense = of.pair_rows(40.0, months, every)
    monkeypatch.setattr(survey_near, "CHUNK", 500)
    swept = of.pair_rows(40.0, months, every)
    assert [each.tolist() for each in swept] == [each.tolist() for each in dense]
    assert 0 < len(dense[0]) < len(every) * (len(every) - 1)


def test_the_graph_joins_what_any_reach_may_span() -> None:
    of = survey(TANK, horizon_months=10)
    graph = of.graph()
    assert sorted(graph) == ["a-1", "b-1", "c-1", "d-1"]
    assert not graph.has_edge("a-1", "c-1")
    assert graph.has_edge("a-1", "d-1")
    edge = graph.edges["a-1", "b-1"]
    assert (edge["gap_low_cm"], edge["gap_high_cm"]) == (24.0, 24.0)
    assert (edge["later_low_cm"], edge["later_high_cm"]) == (18.0, 18.0)
    assert edge["reach_cm"] == 25.0
    assert edge["down_flow"] is None


def test_an_edge_tells_on_which_side_of_the_stream_its_end_lies() -> None:
    base = TANK.model_copy(update={"facts": (fact("down-flow", "b-1", "a-1", truth=True),)})
    graph = survey(base).graph()
    assert graph.edges["a-1", "b-1"]["down_flow"] is True
    assert graph.edges["b-1", "a-1"]["down_flow"] is False


def test_an_animal_without_a_card_may_reach_anywhere() -> None:
    of = survey(tank(SPOTS, [animal("a-1", "oddity", "a"), animal("b-1", at="b")]))
    assert of.graph().edges["a-1", "b-1"]["reach_cm"] is None


def test_a_tank_without_animals_has_an_empty_graph() -> None:
    assert len(survey(tank(SPOTS)).graph()) == 0
