"""Chains of a relation against every completion of the open links, worked out by networkx."""

from __future__ import annotations

from itertools import product

import networkx as nx
import numpy as np
import pytest

from advisor.reasoning import step_ops
from advisor.reasoning.bindings import Bindings, bindings_of, population_of
from advisor.reasoning.columns import MISSING, Truths
from advisor.reasoning.compile import CompiledRule
from advisor.reasoning.frame import Frame
from advisor.reasoning.logic_ops import operations_run
from advisor.reasoning.ops import truth
from advisor.reasoning.record import Row, describe
from advisor.reasoning.step_ops import StepsAway
from tests.reasoning.compiled import PAIR, below
from tests.reasoning.grids import Grid, random_grid
from tests.reasoning.small import compiled_of, frame_over, letters


def chain_rule(steps: int, over: str = "above", more: str = "") -> tuple[CompiledRule, Grid]:
    """A rule about a chain, and a grid of one world with six animals."""
    library, compiled = compiled_of(f"b is within {steps} steps of a over {over}", more=more, binders=PAIR)
    grid = random_grid(library, 7, animals=6, worlds=0)
    return compiled, grid


def every_pair(compiled: CompiledRule, grid: Grid) -> tuple[Frame, Bindings, StepsAway]:
    """The frame of all pairs, and the chain's operation."""
    population = population_of(grid)
    found = bindings_of(grid, population, compiled.binders, everywhere=True)
    assert compiled.expect is not None
    (chain,) = [op for op in below(compiled.expect) if isinstance(op, StepsAway)]
    return frame_over(grid, population, found), found, chain


def completions(yes: np.ndarray, no: np.ndarray) -> list[nx.DiGraph[int]]:
    """Every graph the open links allow; `above(next, before)` is a link from before to next."""
    n = len(yes)
    open_links = [(u, v) for u in range(n) for v in range(n) if u != v and not (yes[v, u] or no[v, u])]
    sure = [(u, v) for u in range(n) for v in range(n) if u != v and yes[v, u]]
    out = []
    for chosen in product((False, True), repeat=len(open_links)):
        graph: nx.DiGraph[int] = nx.DiGraph()
        graph.add_nodes_from(range(n))
        graph.add_edges_from(sure)
        graph.add_edges_from(link for link, there in zip(open_links, chosen, strict=True) if there)
        out.append(graph)
    return out


def expected(graphs: list[nx.DiGraph[int]], a: int, b: int, steps: int) -> str:
    """What holds in every completion."""
    near = {
        a != b and nx.has_path(graph, a, b) and nx.shortest_path_length(graph, a, b) <= steps
        for graph in graphs
    }
    return "u" if len(near) == 2 else "t" if near == {True} else "f"


def some_links(grid: Grid, seed: int, open_share: float) -> tuple[np.ndarray, np.ndarray]:
    """Fill a relation at random, with at most eight open links."""
    draw = np.random.default_rng(seed)
    n = len(grid.animal_world)
    yes = draw.random((n, n)) < 0.25
    open_ = draw.random((n, n)) < open_share
    np.fill_diagonal(open_, False)
    places = np.argwhere(open_)
    for u, v in places[8:]:
        open_[u, v] = False
    yes &= ~open_
    no = ~yes & ~open_
    grid.truth["above"] = (yes, no)
    return yes, no


@pytest.mark.parametrize("steps", [1, 2, 3, 5])
@pytest.mark.parametrize("seed", range(12))
def test_it_says_what_every_completion_says(steps: int, seed: int) -> None:
    compiled, grid = chain_rule(steps)
    yes, no = some_links(grid, seed, 0.2)
    frame, found, chain = every_pair(compiled, grid)
    graphs = completions(yes, no)
    wanted = "".join(
        expected(graphs, int(a), int(b), steps) for a, b in zip(found.rows["a"], found.rows["b"], strict=True)
    )
    assert letters(truth(frame, chain)) == wanted


@pytest.mark.parametrize("seed", range(6))
def test_links_shared_by_a_world_give_the_same(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    compiled, grid = chain_rule(3)
    some_links(grid, seed, 0.3)
    alone = every_pair(compiled, grid)
    own = truth(alone[0], alone[2])
    monkeypatch.setattr(step_ops, "MOST_LINKS", 0)
    shared = every_pair(compiled, grid)
    assert_same(truth(shared[0], shared[2]), own)
    for at in range(shared[0].size):
        assert links(shared[0], shared[2], at) == links(alone[0], alone[2], at)


def assert_same(found: Truths, wanted: Truths) -> None:
    """Two columns that say the same."""
    for name in ("yes", "no", "lean", "flags"):
        assert (getattr(found, name) == getattr(wanted, name)).all(), name


def links(frame: Frame, chain: StepsAway, at: int) -> list[tuple[int, int]]:
    """The links that decide one binding, as pairs of animals."""
    inner, rows = chain.links(frame, at)
    return [(int(inner.rows[chain.before][row]), int(inner.rows[chain.binder.name][row])) for row in rows]


@pytest.mark.parametrize("steps", [1, 2, 3])
@pytest.mark.parametrize("seed", range(8))
def test_the_links_that_decide_are_enough(steps: int, seed: int) -> None:
    """With every other link unknown the answer stands; of an open one only open links are told."""
    compiled, grid = chain_rule(steps)
    yes, no = some_links(grid, seed, 0.25)
    frame, _, chain = every_pair(compiled, grid)
    column = truth(frame, chain)
    for at in range(frame.size):
        told = links(frame, chain, at)
        if not (column.yes[at] or column.no[at]):
            assert told
            assert all(not (yes[v, u] or no[v, u]) for u, v in told)
            continue
        kept = np.zeros_like(yes)
        for u, v in told:
            kept[v, u] = True
        grid.truth["above"] = (yes & kept, no & kept)
        again, _, same = every_pair(compiled, grid)
        assert letters(truth(again, same))[at] == letters(column)[at]
        grid.truth["above"] = (yes, no)


def test_a_chain_that_is_there_is_told_link_by_link() -> None:
    compiled, grid = chain_rule(3)
    yes = np.zeros((6, 6), np.bool_)
    yes[1, 0] = yes[2, 1] = yes[3, 2] = True
    grid.truth["above"] = (yes, ~yes)
    frame, found, chain = every_pair(compiled, grid)
    at = int(np.flatnonzero((found.rows["a"] == 0) & (found.rows["b"] == 3))[0])
    assert links(frame, chain, at) == [(0, 1), (1, 2), (2, 3)]
    assert describe(chain, Row(frame, at)) == "a3 is within 3 steps of a0 over above"


def test_nothing_is_a_step_away_from_itself() -> None:
    library, compiled = compiled_of("not any animal b within 2 steps of a over above")
    grid = random_grid(library, 3, animals=2, worlds=0)
    both = np.array([[False, True], [True, False]])
    grid.truth["above"] = (both, ~both)
    population = population_of(grid)
    found = bindings_of(grid, population, compiled.binders, everywhere=True)
    assert compiled.expect is not None
    assert letters(truth(frame_over(grid, population, found), compiled.expect)) == "ff"
    alone = np.zeros((2, 2), np.bool_)
    grid.truth["above"] = (alone, ~alone)
    assert letters(truth(frame_over(grid, population, found), compiled.expect)) == "tt"


def test_every_asks_only_those_in_the_chain_and_count_counts_them() -> None:
    more = "define linked(animal a, animal b) as above(a, b) or above(b, a)\n"
    for text, wanted in (
        ("every animal b within 2 steps of a over linked where size(b) >= 1000 cm", "fffttt"),
        ("every animal b within 2 steps of a over linked where size(b) >= 0 cm", "tttttt"),
        ("count of animal b within 2 steps of a over linked >= 2", "tttfff"),
        ("count of animal b within 1 step of a over linked >= 2", "ftffff"),
        ("any neighbour b of a within 1 step of a over linked", "tttfff"),
    ):
        library, compiled = compiled_of(text, more=more)
        grid = random_grid(library, 5, animals=6, worlds=0)
        yes = np.zeros((6, 6), np.bool_)
        yes[0, 1] = yes[1, 2] = True
        grid.truth["above"] = (yes, ~yes)
        population = population_of(grid)
        found = bindings_of(grid, population, compiled.binders, everywhere=True)
        assert compiled.expect is not None
        assert letters(truth(frame_over(grid, population, found), compiled.expect)) == wanted, text


def test_a_chain_in_the_binders_of_a_rule_covers_only_who_stands_in_it() -> None:
    library, compiled = compiled_of(
        "size(b) >= 1000 cm", binders="animal a, animal b within 2 steps of a over above"
    )
    grid = random_grid(library, 5, animals=3, worlds=0)
    yes = np.zeros((3, 3), np.bool_)
    yes[1, 0] = True
    grid.truth["above"] = (yes, ~yes)
    population = population_of(grid)
    found = bindings_of(grid, population, compiled.binders, everywhere=True)
    assert compiled.when is not None
    holds = truth(frame_over(grid, population, found), compiled.when).yes
    assert [(int(found.rows["a"][at]), int(found.rows["b"][at])) for at in np.flatnonzero(holds)] == [(0, 1)]
    assert compiled.aggregates


def test_an_open_chain_says_what_keeps_it_open() -> None:
    compiled, grid = chain_rule(2)
    yes, no = np.zeros((6, 6), np.bool_), np.ones((6, 6), np.bool_)
    no[1, 0] = no[2, 1] = False
    grid.truth["above"] = (yes, no)
    frame, found, chain = every_pair(compiled, grid)
    column = truth(frame, chain)
    flagged = {(int(found.rows["a"][at]), int(found.rows["b"][at])) for at in np.flatnonzero(column.flags)}
    assert flagged == {(0, 1), (1, 2), (0, 2)}
    assert set(column.flags.tolist()) == {0, MISSING}


def test_the_number_of_operations_does_not_grow_with_the_bindings() -> None:
    compiled, grid = chain_rule(3)
    some_links(grid, 1, 0.2)
    frame, found, chain = every_pair(compiled, grid)
    truth(frame, chain)
    few = frame_over(grid, frame.population, found.take(np.arange(2)))
    truth(few, chain)
    assert operations_run(few) == operations_run(frame)


def test_worlds_have_chains_of_their_own() -> None:
    library, compiled = compiled_of("b is within 2 steps of a over above", binders=PAIR)
    grid = random_grid(library, 11, animals=5, worlds=3, own=1)
    frame, found, chain = every_pair(compiled, grid)
    together = truth(frame, chain)
    for world in range(3):
        keep = np.flatnonzero(found.worlds == world)
        part = truth(frame_over(grid, frame.population, found.take(keep)), chain)
        assert (part.yes == together.yes[keep]).all()
        assert (part.no == together.no[keep]).all()


@pytest.mark.parametrize(
    "link",
    [
        "above(a, b)",
        "gap(a, b) <= 6 cm and size(a) >= 3 cm",
        "above(a, b) and warmth(tank) >= 3 °C",
        "above(a, b) or any neighbour n of a where gap(a, n) <= 2 cm",
    ],
)
@pytest.mark.parametrize("seed", range(3))
def test_links_asked_once_for_all_worlds_are_those_of_each_world(
    link: str, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    more = f"define linked(animal a, animal b) as {link}\n"
    library, compiled = compiled_of("b is within 2 steps of a over linked", more=more, binders=PAIR)
    grid = random_grid(library, seed, animals=5, worlds=3, own=1)
    alone = every_pair(compiled, grid)
    own = truth(alone[0], alone[2])
    monkeypatch.setattr(step_ops, "MOST_LINKS", 0)
    shared = every_pair(compiled, grid)
    assert_same(truth(shared[0], shared[2]), own)
