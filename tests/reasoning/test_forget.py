"""What a verdict rests on; that it is enough and not too much is tested as a property."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.language.library import Library
from advisor.reasoning import forget
from advisor.reasoning.bindings import Bindings, bindings_of, population_of
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.forget import kept_cells
from advisor.reasoning.frame import Frame
from advisor.reasoning.judge import FAILS, HOLDS, NOT_COVERED, UNDECIDED, Plane, judge_frame, plane_of
from advisor.reasoning.leaves import Seen
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import compiled_of
from tests.reasoning.test_record import GONE, NO_GAP, PAIR, Known, point


def judged(
    expect: str,
    known: dict[str, Known],
    *,
    when: str = "",
    level: str = "warning",
    size: int = 3,
) -> tuple[list[list[str]], Plane, Frame]:
    """Return what every binding of a rule about two animals rests on, by name, first what says most."""
    _, compiled, grid = made(expect, known, when=when, level=level, size=size)
    population = population_of(grid)
    every = bindings_of(grid, population, compiled.binders, everywhere=True)
    frame = Frame(grid, population, every.worlds, every.rows, np.zeros(len(every)), assume=level != "danger")
    plane = judge_frame(compiled, frame, every)
    kept = kept_cells(compiled, frame, plane)
    return [[seen.key[0] for seen in each] for each in kept], plane, frame


def made(
    expect: str, known: dict[str, Known], *, when: str, level: str, size: int
) -> tuple[Library, CompiledRule, Grid]:
    """Return a library, a compiled rule and a grid in which some quantities are known."""
    library, compiled = compiled_of(expect, when=when, level=level, binders=PAIR)
    grid = random_grid(library, 0, animals=size, worlds=0, known=1.0)
    for name, values in known.items():
        point(grid, name, *values)
    return library, compiled, grid


def test_routine_is_forgotten_before_what_stands_in_the_tank() -> None:
    kept, plane, _ = judged("gap(a, b) >= 5 cm or potency(a) <= 4", {"gap": (12.0,), "potency": (3.0,)})
    assert (plane.verdict == HOLDS).all()
    assert kept == [["gap"]] * len(kept)


def test_of_two_readings_the_one_far_from_its_limit_is_forgotten() -> None:
    known: dict[str, Known] = {"gap": (12.0,), "size": (9.0,)}
    assert judged("gap(a, b) >= 11 cm or size(a) >= 1 cm", known)[0][0] == ["gap"]
    assert judged("gap(a, b) >= 1 cm or size(a) >= 8.5 cm", known)[0][0] == ["size"]


def test_everything_a_failure_needs_is_kept() -> None:
    kept, plane, _ = judged(
        "gap(a, b) >= reach(a)", {"gap": (5.0,), "reach": (9.0,), "potency": (4.0,)}, when="potency(a) >= 2"
    )
    assert (plane.verdict == FAILS).all()
    assert kept[0] == ["gap", "potency", "reach"]


def test_a_rule_that_is_not_covered_rests_on_its_condition() -> None:
    kept, plane, _ = judged("gap(a, b) >= 9 cm", {"gap": (5.0,), "potency": (1.0,)}, when="potency(a) >= 2")
    assert (plane.verdict == NOT_COVERED).all()
    assert kept[0] == ["potency"]


def test_an_open_verdict_rests_on_what_makes_it_lean() -> None:
    close: Known = (8.0, 11.0, 14.0, 0.0)
    kept, plane, _ = judged("gap(a, b) >= reach(a)", {"gap": close, "reach": (10.0,)})
    assert (plane.verdict == UNDECIDED).all()
    assert kept[0] == ["gap", "reach"]
    unknown, plane, _ = judged("gap(a, b) >= reach(a)", {"gap": NO_GAP, "reach": (10.0,)})
    assert plane.causes()[0] == "missing"
    assert unknown[0] == []


def test_an_assumption_that_a_danger_leans_on_is_kept() -> None:
    _, compiled, grid = made("origin(a) <= 200 PAR", {}, when="", level="danger", size=2)
    grid.plain["origin"] = [np.full(2, part) for part in (0.0, np.nan, 2500.0, 1.0)]
    grid.number["origin"] = [np.full(2, part) for part in (40.0, np.nan, 110.0, 4.0)]
    kept, plane = run(compiled, grid)
    assert (plane.verdict == UNDECIDED).all()
    assert (plane.lean == 1).all()
    assert [seen.key[0] for seen in kept[0]] == ["origin"]
    assert kept[0][0].row.frame.assume


def run(compiled: CompiledRule, grid: Grid) -> tuple[list[tuple[Seen, ...]], Plane]:
    """Return what every binding of a danger rests on, and the verdicts."""
    population = population_of(grid)
    every = bindings_of(grid, population, compiled.binders, everywhere=True)
    frame = Frame(grid, population, every.worlds, every.rows, np.zeros(len(every)), assume=False)
    plane = judge_frame(compiled, frame, every)
    return kept_cells(compiled, frame, plane), plane


def test_the_members_that_count_are_kept() -> None:
    kept, plane, _ = judged(
        "count of neighbour n of a where (gap(a, n) < 9 cm) <= 1", {"gap": (4.0,)}, size=3
    )
    assert (plane.verdict == FAILS).all()
    assert kept[0] == ["gap", "gap"]


def test_nothing_bound_rests_on_nothing() -> None:
    assert judged("gap(a, b) >= 5 cm", {}, size=0)[0] == []


def test_runs_do_not_grow_with_the_number_of_bindings(monkeypatch: pytest.MonkeyPatch) -> None:
    runs: list[int] = []

    def counted(compiled: CompiledRule, frame: Frame, bindings: Bindings) -> Plane:
        runs.append(frame.size)
        return plane_of(compiled, frame, bindings)

    monkeypatch.setattr(forget, "plane_of", counted)
    known: dict[str, Known] = {"gap": (5.0,), "reach": (9.0,), "potency": (4.0,)}
    counts = []
    for size in (2, 12):
        runs.clear()
        kept, _, _ = judged(
            "gap(a, b) >= reach(a) or potency(b) > 5", known, when="size(a) > 0.1 cm", size=size
        )
        counts.append((len(runs), len(kept)))
    assert counts[0][1] < counts[1][1]
    assert counts[0][0] == counts[1][0]


def test_where_the_search_ends_early_more_is_kept_and_never_less(monkeypatch: pytest.MonkeyPatch) -> None:
    expect = "(count of neighbour n of a where gap(a, n) < 9 cm and potency(n) >= 1) <= 3"
    known: dict[str, Known] = {"gap": (30.0,), "potency": (4.0,), "reach": GONE}
    whole, _, _ = judged(expect, known, size=6)
    monkeypatch.setattr(forget, "MOST_ROWS", 0)
    early, _, _ = judged(expect, known, size=6)
    assert all(
        set(few) <= set(many) and len(few) <= len(many) for few, many in zip(whole, early, strict=True)
    )
    assert len(whole[0]) < len(early[0])
