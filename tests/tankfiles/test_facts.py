"""Keys of the vocabulary as facts."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.model.tank import ANYTHING
from advisor.model.vocabulary import LISTED, Kind, Supplier, Vocabulary
from advisor.tankfiles.entries import Reading
from advisor.tankfiles.facts import BOTH_WAYS, OTHER_SPELLINGS, SEEN_FROM_OTHER, TANK, Subject, known_keys
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]
CORALS = "corals:\n  - {id: a, is: torch}\n  - {id: b, is: hammer}\n"


def pairs(folder: Folder, measure: str) -> list[tuple[tuple[str, ...], bool | None, bool]]:
    return [(f.subjects, f.said.truth, f.said.none) for f in folder.tank.facts if f.measure == measure]


def test_gaps_from_a_spot(tank_of: Make) -> None:
    folder = tank_of("spots:\n  - {id: s, gaps: {a: 36 cm, b: {value: 12 cm, error: 1 cm}}}\n" + CORALS)
    assert [f.said.best for f in folder.said("gap", "s", "a")] == [36.0]
    assert [f.said.error for f in folder.said("gap", "s", "b")] == [1.0]


@pytest.mark.parametrize("key", ["up-flow", "down-flow", "above"])
def test_what_lies_there_is_the_first_of_the_pair(tank_of: Make, key: str) -> None:
    folder = tank_of(f"spots:\n  - {{id: s, {key}: [a]}}\n" + CORALS)
    assert pairs(folder, key) == [(("a", "s"), True, False)]


@pytest.mark.parametrize("key", sorted(BOTH_WAYS))
def test_what_holds_both_ways_is_said_both_ways(tank_of: Make, key: str) -> None:
    folder = tank_of(f"spots:\n  - {{id: s, {key}: a}}\n" + CORALS)
    assert pairs(folder, key) == [(("s", "a"), True, False), (("a", "s"), True, False)]


def test_below_is_above_the_other_way_round_with_the_clear_height(tank_of: Make) -> None:
    folder = tank_of("spots:\n  - {id: s, below: {a: 14 cm}}\n  - {id: t, below: [b]}\n" + CORALS)
    assert pairs(folder, "above") == [(("s", "a"), True, False), (("t", "b"), True, False)]
    assert [f.said.best for f in folder.said("clear-height", "s", "a")] == [14.0]
    assert folder.said("clear-height", "t", "b") == []


@pytest.mark.parametrize(
    ("key", "relation", "subjects"),
    [
        ("up-flow", "up-flow", (ANYTHING, "s")),
        ("down-flow", "down-flow", (ANYTHING, "s")),
        ("above", "above", (ANYTHING, "s")),
        ("below", "above", ("s", ANYTHING)),
        ("divider", "divider", ("s", ANYTHING)),
    ],
)
def test_a_stated_none_closes_a_relation(
    tank_of: Make, key: str, relation: str, subjects: tuple[str, ...]
) -> None:
    for none in ("none", "nothing", "[]"):
        folder = tank_of(f"spots:\n  - {{id: s, {key}: {none}}}\n")
        assert pairs(folder, relation)[0] == (subjects, None, True)


def test_nothing_else_closes_a_list(tank_of: Make) -> None:
    folder = tank_of("spots:\n  - {id: s, up-flow: [a, nothing else], below: [b, nothing else]}\n" + CORALS)
    assert pairs(folder, "up-flow") == [(("a", "s"), True, False), ((ANYTHING, "s"), None, True)]
    assert pairs(folder, "above") == [(("s", "b"), True, False), (("s", ANYTHING), None, True)]


def test_a_relation_may_be_denied_or_not_known_for_one(tank_of: Make) -> None:
    folder = tank_of("spots:\n  - {id: s, up-flow: {a: no, b: unknown}}\n" + CORALS)
    assert pairs(folder, "up-flow") == [(("a", "s"), False, False), (("b", "s"), None, False)]
    assert tank_of("spots:\n  - {id: s, up-flow: unknown}\n").tank.facts == ()


def test_relations_of_one_alone(tank_of: Make) -> None:
    folder = tank_of(
        "corals:\n  - {id: a, is: torch, fenced: yes, kept trimmed: {value: no, on: 2026-01-01}}\n"
    )
    assert pairs(folder, "fenced") == [(("a",), True, False)]
    assert pairs(folder, "kept-trimmed") == [(("a",), False, False)]


def test_the_keepers_own_measures_are_checked_too(tank_of: Make) -> None:
    folder = tank_of("spots:\n  - {id: s, also: {moat: 3 cm, mote: 3 cm}}\n")
    (problem,) = folder.problems
    assert (problem.code, problem.mend) == ("key-121", "moat")


def test_every_measure_a_keeper_may_state_is_a_key_somewhere(
    vocabulary: Vocabulary, reading: Reading
) -> None:
    keys = {
        key
        for subject in (TANK, *(Subject(kind, "") for kind in (Kind.CORAL, Kind.PLACE, *LISTED)))
        for key in known_keys(subject, reading)
    }
    stated = [m.name for m in vocabulary.measures.values() if Supplier.KEEPER in m.suppliers]
    stated += [r.name for r in vocabulary.relations.values() if Supplier.KEEPER in r.suppliers]
    assert keys == set(stated)


def test_other_spellings_lead_to_words_of_the_vocabulary(vocabulary: Vocabulary) -> None:
    assert set(OTHER_SPELLINGS.values()) <= {*vocabulary.measures, *vocabulary.relations}
    stated = {m.name for m in vocabulary.measures.values() if Supplier.KEEPER in m.suppliers}
    stated |= {r.name for r in vocabulary.relations.values() if Supplier.KEEPER in r.suppliers}
    assert not set(OTHER_SPELLINGS) & stated
    assert {*SEEN_FROM_OTHER, *BOTH_WAYS} <= set(vocabulary.relations)


def test_a_place_measure_said_of_an_animal_is_about_where_it_stands(tank_of: Make) -> None:
    folder = tank_of("corals:\n  - {id: a, is: torch, light: 90 PAR, headroom: 12 cm}\n")
    assert [f.subjects for f in folder.tank.facts] == [("a",), ("a",)]
    assert tank_of("light: 90 PAR\n").codes == ["key-121"]
    assert tank_of("spots:\n  - {id: a, alkalinity: 8 dKH}\n").codes == ["key-121"]
