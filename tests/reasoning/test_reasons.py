"""One reason: both numbers, what is wanted, what it asks for, and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest

from advisor.model.results import Reason, Verdict
from advisor.model.vocabulary import Kind
from advisor.reasoning.bindings import population_of
from advisor.reasoning.reasons import CELLS, NUMBERS, PATHS, WORDS_ONLY, Asked, reasons_for
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import animal_binding, compiled_of
from tests.reasoning.test_record import GONE, NO_GAP, PAIR, Known, point

LETS = "let near = 5 cm\n"


def told(
    expect: str,
    known: Mapping[str, Known],
    *,
    when: str = "",
    unless: str = "",
    level: str = "warning",
    more: str = "",
    asked: Asked | None = None,
    words: dict[str, str] | None = None,
) -> Reason:
    """Return the reason of a rule about two animals, all quantities known but those given."""
    library, compiled = compiled_of(
        expect, more=LETS + more, when=when, unless=unless, level=level, binders=PAIR
    )
    grid: Grid = random_grid(library, 3, animals=3, worlds=0, known=1.0)
    for name, values in known.items():
        point(grid, name, *values)
    for name, word in (words or {}).items():
        domain = grid.domains[name]
        mask = np.array([item in word.split(" or ") for item in domain])
        shape = grid.word[name][0].shape
        grid.word[name] = (np.broadcast_to(mask, shape).copy(), np.zeros(shape[:-1]))
    binding = animal_binding({"a": 0, "b": 1})
    return reasons_for(compiled, grid, population_of(grid), binding, np.zeros(1), [asked or Asked()])[0]


@pytest.mark.parametrize(("expect", "here", "low", "high"), [
    ("gap(a, b) >= 20 cm", 12, 20, None),
    ("gap(a, b) > 20 cm", 12, 20, None),
    ("gap(a, b) <= 20 cm", 12, None, 20),
    ("20 cm <= gap(a, b)", 12, 20, None),
    ("reach(a) <= gap(a, b)", 12, 9, None),
    ("gap(a, b) between 2 cm and 20 cm", 12, 2, 20),
    ("not gap(a, b) < 20 cm", 12, 20, None),
    ("not gap(a, b) >= 20 cm", 12, None, 20),
    ("not (gap(a, b) > 20 cm or gap(a, b) < 3 cm)", 12, None, 20),
])  # fmt: skip
def test_both_numbers_stand_on_their_own_side(
    expect: str, here: float, low: float | None, high: float | None
) -> None:
    found = told(expect, {"gap": (12.0,), "reach": (9.0,)})
    assert found.here is not None
    assert found.here.best == here
    assert (found.wanted_low.best if found.wanted_low else None) == low
    assert (found.wanted_high.best if found.wanted_high else None) == high


def test_what_failed_is_told_of_an_and_and_what_came_nearest_of_an_or() -> None:
    known = {"gap": (12.0,), "reach": (9.0,)}
    failing = told("gap(a, b) >= 5 cm and gap(a, b) >= 20 cm", known)
    assert failing.wanted_low is not None
    assert failing.wanted_low.best == 20
    nearest = told("gap(a, b) >= 40 cm or gap(a, b) >= 15 cm", known)
    assert nearest.wanted_low is not None
    assert nearest.wanted_low.best == 15


def test_the_worst_member_of_an_every_is_told_with_its_name() -> None:
    found = told("every neighbour n of a where gap(a, n) >= 40 cm", {"gap": (12.0,)}, asked=Asked("a0"))
    assert found.verdict is Verdict.FAILS
    assert found.quantity.startswith("gap to a")


def test_words_show_what_was_found_and_what_is_wanted() -> None:
    found = told("group(a) is one of soft, clam", {}, words={"group": "stony"})
    assert found.verdict is Verdict.FAILS
    assert found.here is not None
    assert found.wanted_low is not None
    assert (found.here.words, found.wanted_low.words) == (("stony",), ("soft", "clam"))


@pytest.mark.parametrize("expect", ["group(a) is not stony", "not group(a) is stony"])
def test_what_a_word_must_not_be_is_never_told_as_wanted(expect: str) -> None:
    found = told(expect, {}, words={"group": "stony"})
    assert found.verdict is Verdict.FAILS
    assert found.wanted_low is not None
    assert set(found.wanted_low.words) == {"soft", "clam", "anemone"}


def test_quantities_name_the_other_animal() -> None:
    assert told("gap(a, b) >= 5 cm", {"gap": (12.0,)}, asked=Asked("a0")).quantity == "gap to a1"
    assert told("gap(a, b) >= 5 cm", {"gap": (12.0,)}, asked=Asked("a1")).quantity == "gap to a0"
    assert told("light(a.spot) >= 5 PAR", {"light": (12.0,)}).quantity == "light"


def test_only_what_is_open_asks_for_readings() -> None:
    found = told("gap(a, b) >= reach(a)", {"gap": NO_GAP, "reach": GONE})
    assert found.verdict is Verdict.UNDECIDED
    assert {need.measure for need in found.needs} == {"gap", "reach"}
    assert all(need.ask for need in found.needs)
    assert told("gap(a, b) >= 5 cm", {"gap": (12.0,)}).needs == ()
    too_close = told("gap(a, b) >= 12 cm", {"gap": (11.0, 12.5, 14.0, 0.0)})
    assert (too_close.cause, too_close.lean, too_close.needs) == ("too close", "yes", ())


def test_a_question_is_asked_once_however_often_its_reading_is_used() -> None:
    found = told(
        "gap(a, b) >= 30 cm", {"gap": NO_GAP}, when="gap(b, a) <= 400 cm", unless="gap(a, b) > 90 cm"
    )
    assert [need.measure for need in found.needs] == ["gap"]


def test_ids_and_subjects_follow_the_rules_own_order() -> None:
    found = told("gap(a, b) >= 5 cm", {"gap": (12.0,)})
    assert (found.id, found.subjects) == ("tested(a0,a1)", ("a0", "a1"))
    assert (found.level, found.stage, found.grade, found.source) == ("warning", "always", "guess", "a test")


def test_steps_are_kept_only_if_they_are_going_to_be_read() -> None:
    assert told("gap(a, b) >= 5 cm", {"gap": (12.0,)}).step is not None
    assert told("gap(a, b) >= 5 cm", {"gap": (12.0,)}, asked=Asked(level=NUMBERS)).step is None


DEEP = Asked(level=CELLS)
FENCED = "gap(a, b) >= reach(a) or group(a) is clam"


def test_a_reason_rests_on_what_cannot_be_forgotten() -> None:
    known = {"gap": (12.0,), "reach": (18.0,), "potency": (4.0,)}
    found = told(
        FENCED, known, when="potency(a) > 3 and size(b) > 0.6 cm", words={"group": "stony"}, asked=DEEP
    )
    assert found.verdict is Verdict.FAILS
    assert found.step is None
    assert {step.id.partition("/")[2] for step in found.decides} == {
        "expect/1/1", "expect/1/2", "expect/2/1", "when/1/1", "when/2/1",
    }  # fmt: skip
    assert all(step.decides for step in found.decides)


def test_of_two_grounds_to_hold_the_one_near_its_limit_is_told() -> None:
    known = {"gap": (30.0,), "reach": (1.0,), "potency": (4.0,)}
    found = told("gap(a, b) >= 29 cm or potency(a) >= 1", known, asked=Asked(level=CELLS))
    assert [step.id for step in found.decides] == ["tested(a0,a1)/expect/1/1"]
    assert found.quantity == "gap to a1"
    assert found.wanted_low is not None
    assert found.wanted_low.best == 29


def test_how_deep_a_reason_is_read_decides_what_it_carries() -> None:
    known = {"gap": (30.0,), "reach": (18.0,), "potency": (4.0,)}
    by_level = [
        told("gap(a, b) >= reach(a) or potency(a) > 5", known, asked=Asked(level=level)) for level in range(5)
    ]
    assert [bool(reason.decides) for reason in by_level] == [False, False, True, True, True]
    assert [reason.step is not None for reason in by_level] == [False, False, False, True, True]
    path, whole = by_level[PATHS].step, by_level[-1].step
    assert path is not None
    assert whole is not None
    assert '"tested(a0,a1)/expect/2"' not in path.model_dump_json()
    assert '"tested(a0,a1)/expect/2"' in whole.model_dump_json()
    assert {reason.sentence for reason in by_level} == {by_level[WORDS_ONLY].sentence}
    assert len({reason.weakest for reason in by_level[NUMBERS:]}) == 1


def test_an_open_reason_leads_to_what_would_settle_it() -> None:
    found = told("gap(a, b) >= reach(a)", {"gap": NO_GAP, "reach": (9.0,)}, asked=Asked(level=PATHS))
    assert found.step is not None
    assert "tested(a0,a1)/expect/1" in found.step.model_dump_json()
    assert [need.measure for need in found.needs] == ["gap"]


def test_an_animal_only_thought_to_stand_somewhere_has_its_place_in_the_id() -> None:
    library, compiled = compiled_of("gap(a, b) >= 5 cm", binders=PAIR)
    grid = random_grid(library, 5, animals=3, worlds=2, own=2)
    own = int(np.flatnonzero(grid.animal_world >= 0)[0])
    binding = animal_binding({"a": own, "b": 0})
    found = reasons_for(compiled, grid, population_of(grid), binding, np.zeros(1), [Asked()])[0]
    place = grid.label(Kind.PLACE, int(grid.animal_place[own]))
    assert found.id == f"tested(a{own}@{place},a0)"
    assert found.subjects == (f"a{own}", "a0")


def test_what_only_cards_say_cannot_be_changed_by_a_keeper() -> None:
    assert told("gap(a, b) >= 5 cm", {"gap": (12.0,)}).controllable
    assert not told("potency(a) <= 3", {"potency": (4.0,)}).controllable


def test_a_house_change_is_named_where_it_touches_and_nowhere_else() -> None:
    number = 'house\n  change near from 4 cm to 5 cm because "lost one"\n'
    level = "  level tested from advice to warning\n"
    used = told("gap(a, b) >= near", {"gap": (12.0,)}, more=number + level)
    assert any("near from 4 cm to 5 cm" in text and "lost one" in text for text in used.house)
    assert any("from advice to warning" in text for text in used.house)
    assert told("gap(a, b) >= 3 cm", {"gap": (12.0,)}, more=number).house == ()


def test_a_danger_is_explained_without_assumptions() -> None:
    grids = {"origin": (0.0, np.nan, 2500.0, 1.0)}
    found = told("origin(a) <= 200 PAR", grids, level="danger")
    assert found.verdict is Verdict.UNDECIDED
    assert found.here is not None
    assert (found.here.low, found.here.high) == (0, 2500)


def test_many_bindings_at_once_are_explained_as_each_alone() -> None:
    library, compiled = compiled_of("gap(a, b) >= reach(a)", binders=PAIR, level="danger")
    grid = random_grid(library, 5, animals=4, worlds=0)
    population = population_of(grid)
    pairs = [(0, 1), (2, 3), (3, 0)]
    both = animal_binding({"a": 0, "b": 1})
    together = reasons_for(
        compiled, grid, population,
        type(both)(np.zeros(3, np.int64), {"a": np.array([0, 2, 3]), "b": np.array([1, 3, 0])}),
        np.zeros(3), [Asked(), Asked(), Asked()],
    )  # fmt: skip
    alone = [
        reasons_for(compiled, grid, population, animal_binding({"a": a, "b": b}), np.zeros(1), [Asked()])[0]
        for a, b in pairs
    ]
    assert together == alone
