"""The neighbour graph of a surveyed tank against scipy's KD-tree and networkx's own algorithms.

Source: scipy.spatial.cKDTree and scipy.sparse.csgraph.connected_components (scipy >= 1.12),
networkx.connected_components (networkx >= 3.2). Animals are round and at exact points here, so
a gap is the distance of two middles less both radii. Tolerance 1e-6 cm: double precision.
"""

from __future__ import annotations

import networkx
import numpy as np
import pytest
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from advisor.model.changes import CardChoice
from advisor.model.tank import Glass, Tank
from advisor.reasoning.survey import make_survey
from tests.reasoning.survey_samples import TODAY, animal, library, point

WIDTH_CM = 6.0
GROWS_OUT_CM_A_YEAR = 12 * 3.0 / 10.0  # the invented card of the samples: 3 mm a month, each edge
LONGEST_REACH_CM = 60.0  # physical end of reach-most in rules/measures.rules


def scattered(seed: int, count: int = 40) -> np.ndarray:
    """Return random positions in a long shallow lagoon, so that some animals are far apart. [cm]"""
    return np.random.default_rng(seed).uniform((0.0, 0.0, 5.0), (900.0, 60.0, 40.0), (count, 3))


def graph_of(positions: np.ndarray) -> networkx.DiGraph[str]:
    """Return the graph our survey makes of stinger corals at these positions."""
    animals = tuple(
        animal(f"a-{index:02}", at="", size_cm=WIDTH_CM, box=point(*map(float, place)))
        for index, place in enumerate(positions)
    )
    tank = Tank(
        id="t", name="t", glass=Glass(length_cm=900.0, width_cm=60.0, height_cm=60.0), animals=animals
    )
    cards = {each.id: CardChoice(("stinger",)) for each in animals}
    return make_survey(tank, library(), TODAY, cards=cards).graph()


def name(index: int) -> str:
    """Return the id of the animal at one row of the positions."""
    return f"a-{index:02}"


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_every_close_pair_is_an_edge_and_no_far_pair_is(seed: int) -> None:
    positions = scattered(seed)
    graph = graph_of(positions)
    grown = LONGEST_REACH_CM + WIDTH_CM + 2 * GROWS_OUT_CM_A_YEAR
    near = {frozenset(map(name, pair)) for pair in cKDTree(positions).query_pairs(grown)}
    assert {frozenset(edge) for edge in graph.edges} == near
    assert all(graph.has_edge(b, a) for a, b in graph.edges)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_gap_of_an_edge_is_the_distance_less_both_radii(seed: int) -> None:
    positions = scattered(seed)
    graph = graph_of(positions)
    apart = cKDTree(positions).sparse_distance_matrix(cKDTree(positions), 200.0)
    rows = {name(index): index for index in range(len(positions))}
    for a, b, edge in graph.edges(data=True):
        now = max(apart[rows[a], rows[b]] - WIDTH_CM, 0.0)
        assert (edge["gap_low_cm"], edge["gap_high_cm"]) == pytest.approx((now, now), abs=1e-6)
        later = max(now - 2 * GROWS_OUT_CM_A_YEAR, 0.0)
        assert (edge["later_low_cm"], edge["later_high_cm"]) == pytest.approx((later, later), abs=1e-6)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_groups_that_could_meet_are_the_connected_components(seed: int) -> None:
    positions = scattered(seed)
    graph = graph_of(positions)
    grown = LONGEST_REACH_CM + WIDTH_CM + 2 * GROWS_OUT_CM_A_YEAR
    pairs = cKDTree(positions).query_pairs(grown, output_type="ndarray")
    size = len(positions)
    count, labels = connected_components(
        coo_matrix((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), (size, size)), directed=False
    )
    theirs = {
        frozenset(name(int(index)) for index in np.flatnonzero(labels == group)) for group in range(count)
    }
    assert {frozenset(group) for group in networkx.connected_components(graph.to_undirected())} == theirs
