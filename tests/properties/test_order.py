"""Same input, same output, whatever the order of rules, cards, animals, spots and facts."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import TypeVar

import pytest

from advisor.language.library import Library
from advisor.model.tank import Tank
from advisor.model.vocabulary import Vocabulary
from advisor.planning.audit import audit
from advisor.planning.bench import bench_of
from advisor.planning.desk import Desk
from advisor.planning.where import where
from advisor.planning.why import why
from tests.properties.demo import FOLDER, desk

Item = TypeVar("Item")
SEEDS = (1, 2)


def mixed(items: Sequence[Item], dice: random.Random) -> list[Item]:
    """Return the items in another order."""
    out = list(items)
    dice.shuffle(out)
    return out


def mixed_names(items: dict[str, Item], dice: random.Random) -> dict[str, Item]:
    """Return a mapping in another order."""
    return dict(mixed(list(items.items()), dice))


def other_library(library: Library, dice: random.Random) -> Library:
    """Return the same rule files, read in another order."""
    vocabulary = Vocabulary(
        mixed_names(library.vocabulary.measures, dice), mixed_names(library.vocabulary.relations, dice)
    )
    return replace(
        library,
        vocabulary=vocabulary,
        lets=mixed_names(library.lets, dice),
        defines=mixed_names(library.defines, dice),
        rules=mixed_names(library.rules, dice),
        prefers=mixed_names(library.prefers, dice),
        cards=mixed_names(library.cards, dice),
        words=tuple(mixed(library.words, dice)),
    )


def other_tank(tank: Tank, dice: random.Random) -> Tank:
    """Return the same tank, written in another order."""
    return tank.model_copy(
        update={
            "animals": tuple(mixed(tank.animals, dice)),
            "spots": tuple(mixed(tank.spots, dice)),
            "rocks": tuple(mixed(tank.rocks, dice)),
            "fish": tuple(mixed(tank.fish, dice)),
            "lamps": tuple(mixed(tank.lamps, dice)),
            "pumps": tuple(mixed(tank.pumps, dice)),
        }
    )


@cache
def other_desk(seed: int, what: str) -> Desk:
    """Return the demonstration tank with rules or tank shuffled."""
    own, dice = desk(), random.Random(seed)
    bench = bench_of(other_library(own.library, dice)) if what == "rules" else own.bench
    tank = other_tank(own.tank, dice) if what == "tank" else own.tank
    cards = mixed_names(dict(own.cards), dice)
    return replace(own, bench=bench, tank=tank, cards=cards)


@cache
def plain_audit() -> str:
    """Return the audit of the demonstration tank."""
    return audit(desk(), level=2).model_dump_json(indent=1)


@cache
def plain_where(coral: str) -> str:
    """Return where a coral of the demonstration tank should go."""
    return where(desk(), coral, level=2).model_dump_json(indent=1)


@pytest.mark.parametrize("what", ["rules", "tank"])
@pytest.mark.parametrize("seed", SEEDS)
def test_an_audit_does_not_depend_on_the_order_of_anything(seed: int, what: str) -> None:
    assert audit(other_desk(seed, what), level=2).model_dump_json(indent=1) == plain_audit()


@pytest.mark.parametrize("what", ["rules", "tank"])
@pytest.mark.parametrize("coral", ["torch-2", "galaxy-1", "branching hammer"])
def test_a_ranking_does_not_depend_on_the_order_of_anything(coral: str, what: str) -> None:
    assert where(other_desk(1, what), coral, level=2).model_dump_json(indent=1) == plain_where(coral)


@pytest.mark.parametrize("what", ["rules", "tank"])
def test_a_why_does_not_depend_on_the_order_of_anything(what: str) -> None:
    """Down to every step of it, under the same id."""
    asked = ("galaxy-1", "left-corner")
    found = why(other_desk(2, what), *asked, level=4).model_dump_json(indent=1)
    assert found == why(desk(), *asked, level=4).model_dump_json(indent=1)


def test_asking_twice_gives_the_same_answer() -> None:
    assert audit(desk(), level=2).model_dump_json(indent=1) == plain_audit()


ASK = """
from tests.properties.demo import desk
from advisor.planning.audit import audit
print(audit(desk(), level=2).model_dump_json())
"""


def test_the_answer_does_not_depend_on_how_python_orders_its_sets() -> None:
    """Two processes with different hash seeds say the same, letter for letter."""
    root = FOLDER.parents[1]
    told = [
        subprocess.run(
            [sys.executable, "-c", ASK],
            cwd=root,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert told[0] == told[1]
    assert len(told[0]) > 1000
