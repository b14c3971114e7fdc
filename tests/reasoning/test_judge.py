"""Verdicts: the table of the rule language, leans, causes, and what an assumption may do."""

from __future__ import annotations

from functools import cache
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.language.library import Library
from advisor.model.results import Verdict
from advisor.reasoning import truths
from advisor.reasoning.bindings import Bindings, bindings_of, population_of
from advisor.reasoning.columns import ASSUMED, MISSING, STALE, Truths
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.judge import (
    BY_EYE,
    EXCUSED,
    FAILS,
    HOLDS,
    NOT_COVERED,
    UNDECIDED,
    VERDICTS,
    Plane,
    judge,
    judge_bindings,
    verdicts,
)
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import compiled_of, library_of, missing

H, F, U, E, N = (
    Verdict.HOLDS,
    Verdict.FAILS,
    Verdict.UNDECIDED,
    Verdict.EXCUSED,
    Verdict.NOT_COVERED,
)
# The table of verdicts written out: when, unless, expect; t true, f false, u unknown.
TABLE: dict[str, Verdict] = {
    **{f"f{unless}{expect}": N for unless in "tfu" for expect in "tfu"},
    **{f"{when}{unless}t": H for when in "tu" for unless in "tfu"},
    "ttf": E, "ttu": E,
    "utf": E,
    "utu": N,
    "tff": F,
    "tfu": U, "tuf": U, "tuu": U, "uff": U, "ufu": U, "uuf": U, "uuu": U,
}  # fmt: skip


def column(values: str) -> Truths:
    """Return a column with one truth a letter."""
    yes = np.array([value == "t" for value in values])
    no = np.array([value == "f" for value in values])
    return truths.of_bools(yes, no, missing(len(values)))


def test_all_twenty_seven_combinations() -> None:
    rows = ["".join(row) for row in product("tfu", repeat=3)]
    assert sorted(rows) == sorted(TABLE)
    when, unless, expect = (column("".join(row[place] for row in rows)) for place in range(3))
    found = [VERDICTS[code] for code in verdicts(when, unless, expect)]
    assert dict(zip(rows, found, strict=True)) == TABLE


def one_animal(
    number: dict[str, tuple[float, float, float, int]],
    *,
    truth: dict[str, str] | None = None,
    assumed: tuple[float, float] | None = None,
) -> Grid:
    """Return a grid of one animal with quantities (low, best, high, flags) and fenced as t, f or u."""
    grid = random_grid(library_of(), 0, animals=1, worlds=0)
    for name, values in number.items():
        for part, value in enumerate(values):
            grid.number[name][part] = np.full_like(grid.number[name][part], value)
            grid.plain[name][part] = np.full_like(grid.plain[name][part], value)
    if assumed is not None:
        for part, value in enumerate((assumed[0], np.nan, assumed[1], ASSUMED)):
            grid.number["origin"][part] = np.full(1, float(value))
    for name, letter in (truth or {}).items():
        grid.truth[name] = (np.array([letter == "t"]), np.array([letter == "f"]))
    return grid


def plane_for(grid: Grid, expect: str, *, when: str = "", unless: str = "", level: str = "warning") -> Plane:
    """Return the verdict of one rule about the one animal."""
    _, compiled = compiled_of(expect, when=when, unless=unless, level=level)
    population = population_of(grid)
    return judge(compiled, grid, population)


KNOWN = (9.0, 10.0, 11.0, 0)


@pytest.mark.parametrize(("limit", "verdict", "lean", "cause"), [
    (8, HOLDS, 1, ""), (12, FAILS, -1, ""),
    (10, UNDECIDED, 1, "too close"), (10.5, UNDECIDED, -1, "too close"),
])  # fmt: skip
def test_a_reading_holds_fails_or_is_too_close_and_leans(
    limit: float, verdict: int, lean: int, cause: str
) -> None:
    plane = plane_for(one_animal({"reach": KNOWN}), f"reach(a) >= {limit} cm")
    assert (int(plane.verdict[0]), int(plane.lean[0]), plane.causes()) == (verdict, lean, [cause])


@pytest.mark.parametrize(("flags", "cause"), [
    (0, "too close"), (STALE, "stale"), (MISSING, "missing"), (MISSING | STALE, "missing"),
    (ASSUMED, "missing"), (ASSUMED | STALE, "missing"),
])  # fmt: skip
def test_an_open_verdict_says_why(flags: int, cause: str) -> None:
    plane = plane_for(one_animal({"reach": (0.0, np.nan, 60.0, flags)}), "reach(a) >= 8 cm")
    assert plane.causes() == [cause]


def test_a_stale_reading_leans_the_way_it_last_stood() -> None:
    stale = (0.0, 10.0, 60.0, STALE)
    assert plane_for(one_animal({"reach": stale}), "reach(a) >= 8 cm").lean.tolist() == [1]
    assert plane_for(one_animal({"reach": stale}), "reach(a) >= 12 cm").lean.tolist() == [-1]


def test_a_missing_reading_that_cannot_matter_is_no_cause() -> None:
    grid = one_animal({"reach": KNOWN, "potency": (0.0, np.nan, 5.0, MISSING)})
    plane = plane_for(grid, "reach(a) >= 10 cm or potency(a) >= 9")
    assert plane.causes() == ["too close"]
    assert plane_for(grid, "reach(a) >= 5 cm or potency(a) >= 3").verdict.tolist() == [HOLDS]


@pytest.mark.parametrize(("when", "unless", "expect", "lean"), [
    ("u", "f", "f", 0), ("t", "u", "f", 0), ("u", "u", "f", 0),
])  # fmt: skip
def test_words_that_are_open_lean_nowhere(when: str, unless: str, expect: str, lean: int) -> None:
    grid = one_animal({"reach": KNOWN}, truth={"fenced": unless})
    grid.truth["above"] = (np.array([[when == "t"]]), np.array([[when == "f"]]))
    plane = plane_for(
        grid, f"reach(a) >= {5 if expect == 't' else 20} cm", when="above(a, a)", unless="fenced(a)"
    )
    assert plane.verdict.tolist() == [UNDECIDED]
    assert plane.lean.tolist() == [lean]


@pytest.mark.parametrize(("when_limit", "lean"), [(10.4, 1), (9.6, -1)])
def test_a_condition_that_leans_off_leans_well_for_what_would_fail(when_limit: float, lean: int) -> None:
    """Probably not covered is probably no harm; probably covered and failing is probably harm."""
    plane = plane_for(one_animal({"reach": KNOWN}), "reach(a) >= 40 cm", when=f"reach(a) >= {when_limit} cm")
    assert plane.verdict.tolist() == [UNDECIDED]
    assert plane.lean.tolist() == [lean]


def test_a_danger_neither_holds_nor_fails_by_an_assumption_but_leans_by_it() -> None:
    unknown = (0.0, np.nan, 2500.0, MISSING)
    for limit, lean in ((200, 1), (30, -1), (80, 1), (75, 0)):
        grid = one_animal({"origin": unknown}, assumed=(40.0, 110.0))
        plane = plane_for(grid, f"origin(a) <= {limit} PAR", level="danger")
        assert plane.verdict.tolist() == [UNDECIDED]
        assert plane.lean.tolist() == [lean]
        assert plane.causes() == ["missing"]


def test_a_warning_is_judged_with_what_is_assumed() -> None:
    unknown = (0.0, np.nan, 2500.0, MISSING)
    for limit, verdict in ((200, HOLDS), (30, FAILS), (80, UNDECIDED)):
        grid = one_animal({"origin": unknown}, assumed=(40.0, 110.0))
        assert plane_for(grid, f"origin(a) <= {limit} PAR").verdict.tolist() == [verdict]


DANGERS = (
    ("origin(a) <= 70 PAR", "", ""),
    ("origin(a) between 30 PAR and 90 PAR or reach(a) >= 5 cm", "origin(a) >= 20 PAR", "fenced(a)"),
    ("reach(a) >= 6 cm", "origin(a) <= 60 PAR", ""),
    ("reach(a) >= 6 cm", "", "origin(a) >= 50 PAR"),
    ("not (origin(a) >= 50 PAR and potency(a) >= 2)", "", ""),
    ("light(a.spot) <= origin(a) * 1.5", "origin(a) <= 100 PAR", ""),
)


@pytest.mark.parametrize(("expect", "when", "unless"), DANGERS)
def test_no_danger_is_decided_by_an_assumption(expect: str, when: str, unless: str) -> None:
    """Whatever is assumed, the verdict is that of knowing nothing."""
    library, compiled = compiled_of(expect, when=when, unless=unless, level="danger")
    for seed in range(30):
        grid = random_grid(library, seed, animals=5, worlds=0)
        population = population_of(grid)
        with_guess = judge(compiled, grid, population)
        grid.number = grid.plain
        without = judge(compiled, grid, population)
        assert with_guess.verdict.tolist() == without.verdict.tolist()
        assert with_guess.low.tolist() == without.low.tolist()
        assert (with_guess.lean[without.lean != 0] == without.lean[without.lean != 0]).all()


@cache
def made(expect: str, when: str, unless: str, level: str = "warning") -> tuple[Library, CompiledRule]:
    """Return a rule about two neighbours, compiled once."""
    return compiled_of(expect, when=when, unless=unless, binders="animal a, neighbour b of a", level=level)


FORMULAS = (
    ("gap(a, b) >= reach(a)", "potency(a) >= 2", "divider(a, b)"),
    ("gap(a, b) >= reach(a) or not group(a) is group(b)", "genus(a) is genus(b) or potency(a) > 1", ""),
    ("every neighbour n of a where gap(a, n) >= 4 cm", "weapons(a) has mucus", "above(a, b)"),
    ("count of neighbour n of a where gap(a, n) < 6 cm <= 2", "", "group(b) is one of soft, clam"),
    ("light(a.spot) between 20 PAR and 45 PAR", "ground(a.spot) is rock", "not above(b, a)"),
    ("larger of reach(a), reach(b) <= smaller of gap(a, b), 9 cm", "warmth(tank) >= 3 °C", "fenced(b)"),
)


@settings(max_examples=30)
@pytest.mark.parametrize(("expect", "when", "unless"), FORMULAS)
@given(seed=st.integers(0, 10_000))
def test_margin_lean_and_verdict_tell_one_story(expect: str, when: str, unless: str, seed: int) -> None:
    library, compiled = made(expect, when, unless)
    grid = random_grid(library, seed, animals=4, worlds=0)
    plane = judge(compiled, grid, population_of(grid))
    assert len(plane.bindings)
    holds, fails = plane.verdict == HOLDS, plane.verdict == FAILS
    assert (plane.low[holds] >= 0).all()
    assert (plane.high[fails] <= 0).all()
    assert (plane.lean[holds] == 1).all()
    assert (plane.lean[fails] == -1).all()
    assert not plane.flags[plane.verdict != UNDECIDED].any()
    known = ~np.isnan(plane.best)
    assert ((plane.low <= plane.best) & (plane.best <= plane.high))[known].all()


def test_a_rule_for_the_eye_is_covered_or_not_and_never_judged() -> None:
    grid = one_animal({"reach": KNOWN})
    library = library_of(
        'rule tested\n  for animal a\n  when reach(a) >= 8 cm\n  expect-by-eye "polyps are open by noon"\n'
        '  level advice\n  because "look"\n  matters "it shows"\n  remedy "wait"\n  source "us" kind guess\n'
    )
    compiled = compile_rule(library.rules["tested"], library)
    assert judge(compiled, grid, population_of(grid)).verdict.tolist() == [BY_EYE]
    grid.number["reach"][2][:] = 7.0
    assert judge(compiled, grid, population_of(grid)).verdict.tolist() == [NOT_COVERED]


def test_each_binding_is_judged_at_its_own_month() -> None:
    library, compiled = compiled_of("gap(a, b) >= 5 cm", binders="animal a, neighbour b of a")
    grid = random_grid(library, 0, animals=2, worlds=0)
    for part in range(3):
        grid.number["gap"][part][:] = 10.0
    grid.number["gap"][3][:] = 0
    grid.closing = 0.5
    population = population_of(grid)
    one = bindings_of(grid, population, compiled.binders, everywhere=False).take(np.array([0, 0, 0]))
    plane = judge_bindings(compiled, grid, population, one, np.array([0.0, 10.0, 11.0]))
    assert plane.verdict.tolist() == [HOLDS, HOLDS, FAILS]
    assert plane.best.tolist() == [5.0, 0.0, -0.5]


def test_nothing_bound_gives_an_empty_plane() -> None:
    library, compiled = compiled_of("reach(a) >= 5 cm", level="danger")
    grid = random_grid(library, 0, animals=0, worlds=0)
    plane = judge(compiled, grid, population_of(grid))
    assert len(plane.bindings) == 0
    assert plane.causes() == []


def test_an_excuse_is_told_apart_from_not_being_covered() -> None:
    grid = one_animal({"reach": KNOWN}, truth={"fenced": "t"})
    assert plane_for(grid, "reach(a) >= 40 cm", unless="fenced(a)").verdict.tolist() == [EXCUSED]
    assert plane_for(grid, "reach(a) >= 40 cm", when="potency(a) >= 9").verdict.tolist() == [NOT_COVERED]


def test_a_rule_with_an_aggregate_is_judged_in_every_world() -> None:
    library, compiled = compiled_of("count of neighbour n of a where gap(a, n) < 6 cm <= 2")
    grid = random_grid(library, 1, animals=3, worlds=2, own=1)
    plane = judge(compiled, grid, population_of(grid))
    every = bindings_of(grid, population_of(grid), compiled.binders, everywhere=True)
    assert isinstance(plane.bindings, Bindings)
    assert plane.bindings.worlds.tolist() == every.worlds.tolist()
