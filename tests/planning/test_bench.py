"""Rules before a set of tables: what a world answers for, and when something to come begins."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from advisor.language.nodes import Stage
from advisor.model.results import Verdict, Word
from advisor.planning.bench import (
    GROWTH_DOUBT,
    Sitting,
    bench_of,
    comes_later,
    concerns,
    reaches,
    sitting_of,
    worsened,
)
from advisor.planning.dates import months_on
from advisor.reasoning.judge import FAILS, HOLDS
from tests.planning.tanks import STANDING, coral, opened, spot
from tests.planning.test_where import at
from tests.properties.demo import bench as shipped
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import library_of, rule_text

ON = date(2026, 11, 2)
PAIR = "animal a, neighbour b of a"
GAP = rule_text("gap(a, b) >= 5 cm", binders=PAIR, horizon=True)


def growing(gap: float, *, error: float = 0.0, closing: float = 0.5, doubt: str = "") -> Sitting:
    """Return two animals a gap apart that close it by so many centimetres a month."""
    library = library_of((f"let {GROWTH_DOUBT} = {doubt}\n" if doubt else "") + GAP)
    grid = random_grid(library, 0, animals=2, worlds=0)
    for table in (grid.number, grid.plain):
        shape = (2, 2)
        table["gap"] = [np.full(shape, gap - error), np.full(shape, gap), np.full(shape, gap + error),
                        np.zeros(shape)]  # fmt: skip
    grid.closing = closing
    return sitting_of(bench_of(library), grid, ON, 12)


def test_what_holds_now_and_fails_at_the_horizon_is_dated_by_its_first_month() -> None:
    """8 cm, half a centimetre a month: 5 cm are left after six months, less than that after seven."""
    whole = growing(8.0)
    (plane,) = whole.judge(whole.bench.rules)
    assert comes_later(plane).all()
    (reason, _) = whole.reasons(plane, [0, 1])
    assert reason.until is not None
    assert reason.until.expected == months_on(ON, 7)
    assert reason.months_ahead == 7
    assert reason.verdict is Verdict.FAILS
    assert reason.here is not None
    assert reason.here.best == pytest.approx(4.5)


def test_growth_twice_as_fast_comes_earlier_and_half_as_fast_later_or_not_at_all() -> None:
    whole = growing(8.0, doubt="2 times")
    (plane,) = whole.judge(whole.bench.rules)
    reason = whole.reasons(plane, [0])[0]
    assert reason.until is not None
    assert reason.until.earliest == months_on(ON, 4)  # after three and a bit months
    assert reason.until.expected == months_on(ON, 7)
    assert reason.until.latest is None  # 13 months: beyond the horizon


def test_what_fails_now_is_not_dated_and_what_never_fails_neither() -> None:
    for gap, verdict in ((3.0, Verdict.FAILS), (20.0, Verdict.HOLDS)):
        whole = growing(gap)
        (plane,) = whole.judge(whole.bench.rules)
        assert not comes_later(plane).any()
        if verdict is Verdict.FAILS:
            reason = whole.reasons(plane, [0])[0]
            assert (reason.until, reason.months_ahead, reason.verdict) == (None, 0, verdict)


def test_the_horizon_itself_is_reckoned_with_and_not_what_lies_beyond() -> None:
    for gap, later in ((10.9, True), (11.0, False), (11.1, False)):  # 12 months take 6 cm
        whole = growing(gap)
        (plane,) = whole.judge(whole.bench.rules)
        assert comes_later(plane).tolist() == [later] * len(plane.now.bindings)


def test_without_a_look_ahead_nothing_is_to_come() -> None:
    whole = growing(8.0)
    (plane,) = whole.judge(whole.bench.rules, ahead=False)
    assert plane.later is None
    assert not comes_later(plane).any()


def test_months_are_found_alike_for_one_and_for_many() -> None:
    whole = growing(8.0, error=0.2)
    (plane,) = whole.judge(whole.bench.rules)
    together = whole.reasons(plane, [0, 1, 0])
    assert [whole.reasons(plane, [row])[0] for row in (0, 1, 0)] == together


# --- what a world answers for -------------------------------------------------------

CROWD = rule_text("count of neighbour n of a where (gap(a, n) < 6 cm) <= 1")


def crowded(gaps: list[list[float]], world: list[int], removed: list[list[bool]]) -> Sitting:
    """Return animals whose gaps are known, in some worlds."""
    library = library_of(CROWD)
    grid: Grid = random_grid(library, 0, animals=len(removed[0]), worlds=len(removed) - 1,
                             own=(len(world) - len(removed[0])) // max(1, len(removed) - 1))  # fmt: skip
    grid.animal_world = np.array(world, np.int64)
    grid.removed = np.array(removed)
    table = np.array(gaps)
    for tables in (grid.number, grid.plain):
        tables["gap"] = [table, table, table, np.zeros_like(table)]
    return sitting_of(bench_of(library), grid, ON, 12)


NEAR, FAR = 3.0, 50.0


def test_a_world_answers_for_its_own_animals_and_for_whom_it_makes_worse() -> None:
    """Animals 0 and 1 stand close; the newcomer (row 2, world 1) comes close to 0 only."""
    gaps = [[0, NEAR, NEAR, FAR], [NEAR, 0, FAR, FAR], [NEAR, FAR, 0, FAR], [FAR, FAR, FAR, 0]]
    whole = crowded(gaps, [-1, -1, 1, 2], [[False, False]] * 3)
    (plane,) = whole.judge(whole.bench.rules)
    rows, worlds = plane.now.bindings.rows["a"], plane.now.bindings.worlds
    mine = concerns(plane, whole)
    answered = set(zip(worlds[mine].tolist(), rows[mine].tolist(), strict=True))
    assert answered == {(1, 2), (1, 0), (2, 3)}
    worse = worsened(plane, 0)
    assert {(int(worlds[at]), int(rows[at])) for at in np.flatnonzero(worse)} == {(1, 0)}
    assert plane.now.verdict[(worlds == 1) & (rows == 0)].tolist() == [FAILS]


def test_what_gets_better_is_nobodys_fault() -> None:
    """In world 1 animal 2 has gone; 0 was crowded and no longer is."""
    gaps = [[0, NEAR, NEAR], [NEAR, 0, FAR], [NEAR, FAR, 0]]
    whole = crowded(gaps, [-1, -1, -1], [[False] * 3, [False, False, True]])
    (plane,) = whole.judge(whole.bench.rules)
    assert plane.now.verdict.tolist() == [FAILS, HOLDS, HOLDS, HOLDS, HOLDS]
    assert not concerns(plane, whole).any()


def test_a_rule_that_counts_nobody_is_nobody_elses_business() -> None:
    whole = growing(3.0)
    (plane,) = whole.judge(whole.bench.rules)
    assert not worsened(plane, 0).any()


HOUSE = """
let crowd-room = 8 cm because "a test" source "a test" kind guess
rule not-hemmed-in
  for      animal a
  expect   count of neighbour n of a where (gap(a, n) < crowd-room) <= 1
  level    danger
  because  "{a} is hemmed in"
  matters  "a test"
  remedy   "move one"
  source   "a test" kind guess
"""


def test_a_placed_coral_answers_for_what_would_hold_without_it(tmp_path: Path) -> None:
    """It hems a neighbour in where it stands; moving it to the other side does the same, and is told."""
    mid = "candy-1"
    gaps = f"gaps: {{{mid}: 6 cm}}"
    spots = (spot("left", gaps) + spot("right", gaps) + spot("far", f"gaps: {{{mid}: 90 cm}}")
             + spot("middle") + spot("back", gaps))  # fmt: skip
    corals = "".join(
        coral(name, "candy cane", f"spot: {place}, {STANDING}")
        for name, place in (("candy-1", "middle"), ("candy-2", "left"), ("candy-3", "back"))
    )
    session = opened(tmp_path, spots=spots, corals=corals, house=HOUSE)
    answer = session.where("candy-2", level=2)
    hemmed = {r.subjects: r.verdict for r in at(answer, "right").reasons if r.rule == "not-hemmed-in"}
    assert hemmed[("candy-1",)] is Verdict.FAILS
    assert at(answer, "right").word is Word.NO
    assert at(answer, "right").changes
    assert all(r.rule != "not-hemmed-in" or r.verdict is not Verdict.FAILS for r in at(answer, "far").reasons)


# --- the shipped rules ------------------------------------------------------------------


def test_rules_are_compiled_in_the_order_of_their_names() -> None:
    names = [item.rule.name for item in shipped().rules]
    assert names == sorted(names)
    assert {item.rule.stage for item in shipped().at((Stage.GATE,))} == {Stage.GATE}
    assert len(shipped().at(tuple(Stage))) == len(names)


def test_every_shipped_rule_says_what_it_must_see() -> None:
    found = dict(reaches(shipped().library))
    assert set(found) == {item.rule.name for item in shipped().rules}
    kinds = ("within ", "all pairs", "each ", "once per tank")
    assert all(text.startswith(kinds) for text in found.values())
    assert found["keep-clear-of-stingers"].startswith("within ")


def test_a_reason_tells_how_far_apart_its_two_animals_are() -> None:
    whole = growing(3.0, error=1.0)
    (plane,) = whole.judge(whole.bench.rules)
    assert [each.apart_cm for each in whole.reasons(plane, [0, 1])] == [3.0, 3.0]


def test_a_distance_nobody_knows_is_not_told() -> None:
    whole = growing(3.0)
    grid = whole.tables
    assert isinstance(grid, Grid)
    for table in (grid.number, grid.plain):
        table["gap"] = [np.zeros((2, 2)), np.full((2, 2), np.nan), np.full((2, 2), 500.0), np.zeros((2, 2))]
    (plane,) = whole.judge(whole.bench.rules)
    assert [each.apart_cm for each in whole.reasons(plane, [0])] == [None]


def test_a_rule_about_one_animal_has_no_distance() -> None:
    library = library_of(rule_text("size(a) >= 5 cm", binders="animal a"))
    whole = sitting_of(bench_of(library), random_grid(library, 0, animals=2, worlds=0), ON, 12)
    (plane,) = whole.judge(whole.bench.rules)
    assert [each.apart_cm for each in whole.reasons(plane, [0])] == [None]
