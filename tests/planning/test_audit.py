"""What is wrong in a tank, now and later, and the fewest animals to move."""

from __future__ import annotations

import random
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.model.results import Reason, Verdict
from advisor.planning.audit import SHOWN_PER_RULE, fewest_moves
from tests.planning.reasons import reason
from tests.planning.tanks import GOOD, STANDING, WATER, coral, opened, spot, two_spots

EDGES = st.lists(
    st.tuples(st.integers(0, 6), st.integers(0, 6)).filter(lambda edge: edge[0] != edge[1]), max_size=12
)


def dangers(edges: list[tuple[int, int]], alone: list[int]) -> list[Reason]:
    """Return failing dangers between animals, and of single ones."""
    return [reason(f"a{one}", f"a{two}") for one, two in edges] + [reason(f"a{one}") for one in alone]


def smallest(edges: list[tuple[int, int]], alone: list[int]) -> int:
    """Return the size of a smallest set with a part in every danger, by trying all sets."""
    for size in range(8):
        for chosen in combinations(range(7), size):
            if all(one in chosen or two in chosen for one, two in edges) and set(alone) <= set(chosen):
                return size
    raise AssertionError(edges)


@given(edges=EDGES, alone=st.lists(st.integers(0, 6), max_size=2))
def test_the_fewest_moves_take_part_in_every_danger_and_are_fewest(
    edges: list[tuple[int, int]], alone: list[int]
) -> None:
    found = fewest_moves(dangers(edges, alone))
    names = {int(name.removeprefix("a")) for name in found}
    assert len(names) == len(found)
    assert all(one in names or two in names for one, two in edges)
    assert set(alone) <= names
    assert len(found) == smallest(edges, alone)
    assert list(found) == sorted(found)


@given(edges=EDGES, seed=st.integers(0, 99))
def test_the_fewest_moves_do_not_depend_on_the_order_of_findings(
    edges: list[tuple[int, int]], seed: int
) -> None:
    mixed = [edge if random.Random(seed + at).random() < 0.5 else edge[::-1] for at, edge in enumerate(edges)]
    random.Random(seed).shuffle(mixed)
    assert fewest_moves(dangers(edges, [])) == fewest_moves(dangers(mixed, []))


@given(edges=EDGES, stuck=st.sets(st.integers(0, 6)))
def test_of_as_few_moves_those_are_chosen_that_need_nobody_who_is_stuck(
    edges: list[tuple[int, int]], stuck: set[int]
) -> None:
    fewest = smallest(edges, [])
    least = min(
        len(stuck & set(chosen))
        for chosen in combinations(range(7), fewest)
        if all(one in chosen or two in chosen for one, two in edges)
    )
    found = fewest_moves(dangers(edges, []), {f"a{each}" for each in stuck})
    assert len(found) == fewest
    assert len({int(name.removeprefix("a")) for name in found} & stuck) == least


def test_warnings_ask_nobody_to_move() -> None:
    assert fewest_moves([reason("a", "b", level="warning")]) == ()
    assert fewest_moves([]) == ()


def beside(gap: str, one: str = "torch", other: str = "candy cane", more: str = "") -> tuple[str, str]:
    """Return spots and corals of a tank in which two stand a gap apart."""
    corals = coral("one-1", one, f"spot: here, {STANDING}") + coral(
        "two-1", other, f"spot: there, {STANDING}"
    )
    return spot("here", f"gaps: {{two-1: {gap}}}") + spot("there") + more, corals


def test_a_danger_now_is_found_with_its_victim_counted(tmp_path: Path) -> None:
    spots, corals = beside("12 cm")
    answer = opened(tmp_path, spots=spots, corals=corals).audit()
    assert answer.animals == 2
    assert answer.harmed_now == 1
    assert answer.move_first in (("one-1",), ("two-1",))
    (first, *_) = answer.now
    assert first.number == 1
    assert first.reason.level == "danger"
    assert first.reason.subjects == ("one-1", "two-1")


def test_two_that_harm_each_other_are_two_that_are_harmed(tmp_path: Path) -> None:
    spots, corals = beside("5 cm", "galaxy coral", "torch")
    answer = opened(tmp_path, spots=spots, corals=corals).audit()
    assert answer.harmed_now == 2


def test_numbers_go_on_from_now_to_later(tmp_path: Path) -> None:
    spots, corals = beside("34 cm")
    answer = opened(tmp_path, spots=spots, corals=corals).audit(months=36)
    numbers = [finding.number for finding in (*answer.now, *answer.later)]
    assert numbers == list(range(1, len(numbers) + 1))
    assert answer.horizon_months == 36
    assert answer.later
    assert all(finding.reason.until is not None for finding in answer.later)


def test_a_longer_look_ahead_finds_at_least_as_much(tmp_path: Path) -> None:
    spots, corals = beside("34 cm")
    session = opened(tmp_path, spots=spots, corals=corals)
    found = [len(session.audit(months=months).later) for months in (0, 12, 36, 60)]
    assert found == sorted(found)
    assert found[0] == 0
    assert found[-1] > 0


def test_an_unmeasured_pair_is_open_and_asked_about(tmp_path: Path) -> None:
    spots, corals = two_spots(""), beside("1 cm")[1]
    answer = opened(tmp_path, spots=spots, corals=corals).audit()
    assert any(item.level == "danger" and item.cause == "missing" for item in answer.open)
    assert answer.needs[0].measure == "gap"
    assert answer.harmed_now == 0


def test_an_animal_without_a_card_is_not_passed_over_in_silence(tmp_path: Path) -> None:
    corals = coral("thing-1", "some unheard of thing", f"spot: here, {STANDING}")
    session = opened(tmp_path, spots=spot("here"), corals=corals)
    assert any("thing-1" in problem.what for problem in session.problems)
    answer = session.audit(level=2)
    assert "thing-1" in answer.silent or any("thing-1" in item.subjects for item in answer.open)


def test_an_empty_tank_has_nothing_wrong(tmp_path: Path) -> None:
    answer = opened(tmp_path, spots=spot("here")).audit()
    assert (answer.animals, answer.harmed_now, answer.now, answer.later) == (0, 0, (), ())
    assert opened(tmp_path).audit().animals == 0


def test_the_waiting_are_not_audited(tmp_path: Path) -> None:
    corals = beside("60 cm")[1] + coral("new-1", "galaxy coral", "size: 6 cm")
    answer = opened(tmp_path, spots=beside("60 cm")[0], corals=corals).audit()
    assert answer.animals == 2
    assert all("new-1" not in item.subjects for item in (*answer.open, *(f.reason for f in answer.now)))


def test_at_most_a_few_bindings_of_one_rule_are_printed_and_the_rest_counted(tmp_path: Path) -> None:
    names = [f"dark-{at}" for at in range(SHOWN_PER_RULE + 2)]
    dim = "light: {value: 4 PAR, error: 1 PAR, on: 2026-10-28, by: instrument}, ground: rock"
    spots = "".join(spot(f"p{name}", what=dim) for name in names)
    corals = "".join(coral(name, "staghorn", f"spot: p{name}, {STANDING}") for name in names)
    answer = opened(tmp_path, spots=spots, corals=corals).audit()
    by_rule: dict[str, list[int]] = {}
    for finding in answer.now:
        by_rule.setdefault(finding.reason.rule, []).append(finding.others)
    assert by_rule
    assert max(len(others) for others in by_rule.values()) == SHOWN_PER_RULE
    assert any(len(others) + others[-1] == len(names) for others in by_rule.values())
    assert answer.harmed_now == len(names)
    assert set(answer.move_first) == set(names)


def test_a_move_that_is_proposed_has_been_tried(tmp_path: Path) -> None:
    far = spot("far", "gaps: {one-1: 90 cm, two-1: 90 cm}")
    spots, corals = beside("6 cm", more=far)
    session = opened(tmp_path, spots=spots, corals=corals)
    (first, *_) = session.audit().now
    assert "far" in first.do
    mover = session.audit().move_first[0]
    assert mover in first.do
    word = next(place.word for place in session.where(mover).places if place.place == "far")
    assert word.value.startswith("YES")


def test_a_gate_of_the_tank_is_told(tmp_path: Path) -> None:
    spots, corals = beside("60 cm")
    hot = WATER.replace("25.4 °C", "31 °C")
    answer = opened(tmp_path, spots=spots, corals=corals, water=hot).audit()
    assert any(gate.verdict is Verdict.FAILS for gate in answer.gates)


def test_cautions_of_those_a_hand_is_sent_to_are_told(tmp_path: Path) -> None:
    spots, corals = beside("12 cm", "galaxy coral", "palys")
    answer = opened(tmp_path, spots=spots, corals=corals).audit()
    assert answer.cautions


def test_what_may_hold_palytoxin_is_told_of_whether_or_not_a_finding_names_it(tmp_path: Path) -> None:
    spots, corals = beside("90 cm", "qqqqqqqq", "zoas")
    told = {
        who: caution.text
        for caution in opened(tmp_path, spots=spots, corals=corals).audit().cautions
        for who in caution.about
    }
    assert {"one-1", "two-1"} <= told.keys()
    assert "palytoxin" in told["one-1"]
    assert "palytoxin" in told["two-1"]
    assert "No card says what this is" in told["one-1"]


def test_who_is_harmed_and_whom_a_caution_is_about_is_named(tmp_path: Path) -> None:
    spots, corals = beside("12 cm", "galaxy coral", "palys")
    answer = opened(tmp_path, spots=spots, corals=corals).audit(level=0)
    assert len(answer.harmed) == answer.harmed_now > 0
    assert set(answer.harmed) <= {"one-1", "two-1"}
    assert all(caution.about for caution in answer.cautions)


def test_questions_and_numbers_are_the_same_at_every_level(tmp_path: Path) -> None:
    """What only deeper levels tell comes after, so a number always opens the same thing."""
    bare = spot("bare", what="ground: rock")
    spots, corals = beside("12 cm", more=bare)
    corals += coral("three-1", "torch", f"spot: bare, {STANDING}")
    session = opened(tmp_path, spots=spots, corals=corals)
    told = [session.audit(level=level) for level in (0, 1, 2, 4)]
    opens = [[(reason.number, reason.id) for reason in answer.open] for answer in told]
    assert opens[0]
    assert all(found == opens[0] for found in opens)
    assert told[2].open_advice
    found = [{f.number: f.reason.id for f in (*answer.now, *answer.later)} for answer in told]
    assert all(deep[number] == name for deep in found for number, name in found[0].items())
    assert [[need.settles for need in answer.needs] for answer in told] == [
        [need.settles for need in told[0].needs]
    ] * 4


@pytest.mark.parametrize(("one", "other", "mover"), [
    ("staghorn", "torch", "two-1"),
    ("torch", "staghorn", "one-1"),
])  # fmt: skip
def test_of_two_that_clash_the_one_is_to_be_moved_that_a_place_is_known_for(
    one: str, other: str, mover: str, tmp_path: Path
) -> None:
    dim = GOOD.replace("115 PAR", "60 PAR")
    far = spot("far", "gaps: {one-1: 90 cm, two-1: 90 cm}", what=dim)
    spots, corals = beside("6 cm", one=one, other=other, more=far)
    answer = opened(tmp_path, spots=spots, corals=corals).audit()
    assert answer.move_first == (mover,)
    assert answer.nowhere == ()
    assert "to far" in answer.moves[0]
