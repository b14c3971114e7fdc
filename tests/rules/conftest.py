"""The shipped rules, read once for all tests of this folder."""

from __future__ import annotations

from collections import defaultdict

import pytest

from advisor.errors import Problem
from advisor.knowledge.load import load_library
from advisor.language.library import Library
from advisor.reasoning.examples import Outcomes, run_examples


@pytest.fixture(scope="session")
def loaded() -> tuple[Library, tuple[Problem, ...]]:
    return load_library(None)


@pytest.fixture(scope="session")
def library(loaded: tuple[Library, tuple[Problem, ...]]) -> Library:
    return loaded[0]


@pytest.fixture(scope="session")
def outcomes(library: Library) -> dict[str, list[Outcomes]]:
    """What every example came out as, by the name of its rule or preference."""
    found: dict[str, list[Outcomes]] = defaultdict(list)
    for outcome in run_examples(library):
        found[outcome.example.rule].append(outcome)
    return dict(found)
